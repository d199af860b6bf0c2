"""The calculator of solubility: how much sugar water holds, and if yours is over."""

from typing import Final

import numpy as np

from slabwright.figure import Figure
from slabwright.physics.solubility import (
    OTHERS_HIGHEST,
    left_beside,
    others_per_water,
    sucrose_solubility,
)
from slabwright.physics.species import AT, SPECIES
from slabwright.source import Source, sources
from slabwright.spec.calc.air import WARMTHS
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Input, Shown

_HOLDS: Final = "sucrose in water, -13 to 140 °C"
_MIXED: Final = "beside invert sugar, up to 2.2 g for each gram of water, 0 to 30 °C"
_POINTS: Final = 0.15
"""How far the polynomial and the best table lie apart, in per cent of the solution."""


def _answer(asked: Asked) -> Answer:
    warm = asked.number("temperature_C")
    parts = asked.parts if asked.parts is not None else np.zeros(len(SPECIES))
    water, sucrose = float(parts[AT["water"]]), float(parts[AT["sucrose"]])
    alone = float(sucrose_solubility(warm))
    q = float(others_per_water(parts, "sucrose"))
    notes = _notes(warm, q, water)
    mixed = 0 < q < np.inf
    grams = _mixed(alone, q) if mixed else _alone(alone, warm)
    share = _percent(grams, q if mixed else 0.0)
    first = Shown(
        "solubility_g_per_100g_water", "sucrose that 100 g of water holds", grams
    )
    also = [Shown("solubility_percent", "as a share of the solution", share)]
    if mixed:
        also.append(
            Shown("alone_g_per_100g_water", "in water alone", _alone(alone, warm))
        )
    if water > 0 and sucrose > 0:
        over = _over(sucrose, water, grams)
        also.append(Shown("supersaturation", "yours, in times of that", over))
        notes.append(_told(over))
    return Answer(first, tuple(also), tuple(notes))


def _alone(alone: float, warm: float) -> Figure:
    percent = 100 * alone / (100 + alone)
    low, high = (100 * p / (100 - p) for p in (percent - _POINTS, percent + _POINTS))
    said = f"{percent:.2f} % at {warm:g} °C: {percent:.2f} ÷ {100 - percent:.2f} x 100"
    keys = ["vavrinecz-1962"] if warm <= 90 else ["sucrose-table-ru"]
    return Figure(
        alone, "g per 100 g water", f"{said} = {alone:.1f} g", low=low, high=high,
        sources=tuple(sources()[key] for key in keys), holds=_HOLDS,
    )  # fmt: skip


def _mixed(alone: float, q: float) -> Figure:
    left = left_beside(q)
    likely, low, high = (float(one) * alone for one in left)
    said = (
        f"{alone:.1f} g alone; {q:.3g} g of other sugars for each gram of water leave "
        f"{100 * float(left[0]):.0f} % of it: {likely:.0f} g"
    )
    return Figure(
        likely, "g per 100 g water", said, low=low, high=high, sources=_sources(),
        holds=_MIXED,
    )  # fmt: skip


def _percent(grams: Figure, q: float) -> Figure:
    def share(value: float) -> float:
        return 100 * value / (100 + 100 * q + value)

    value = share(grams.number)
    whole = 100 + 100 * q + grams.number
    said = f"{grams.number:.1f} g ÷ {whole:.1f} g = {value:.2f} %"
    low, high = (None if end is None else share(end) for end in (grams.low, grams.high))
    return Figure(
        value, "%", said, low=low, high=high, sources=grams.sources, holds=grams.holds
    )


def _over(sucrose: float, water: float, grams: Figure) -> Figure:
    own = 100 * sucrose / water
    value = own / grams.number
    said = f"{own:.1f} g in 100 g of water ÷ {grams.number:.1f} g = {value:.2f}"
    low = own / grams.high if grams.high else None
    high = own / grams.low if grams.low else None
    return Figure(
        value, "x", said, low=low, high=high, sources=grams.sources, holds=grams.holds
    )


def _told(over: Figure) -> str:
    if over.high is not None and over.high < 1:
        return "Yours is under that: it dissolves and stays clear."
    if over.low is not None and over.low > 1:
        return "Yours is over that: cold it may grain, sooner if stirred or seeded."
    return "Yours lies within the range of that: too near to tell."


def _notes(warm: float, q: float, water: float) -> list[str]:
    notes = [
        f"{warm:g} °C lies outside the range of the table: read on by its last slope."
        for _ in sucrose_solubility.outside(warm)
    ]
    if q == np.inf and water <= 0:
        notes.append("There is no water among the parts: told for water alone.")
    elif q > OTHERS_HIGHEST:
        notes.append(
            f"{q:.3g} g of other sugars for each gram of water is more than anything "
            "measured: a guess between its ends."
        )
    elif q > 0:
        notes.append(
            "Measured for invert sugar; other sugars and syrups are taken by their "
            "weight alike."
        )
    return notes


def _sources() -> tuple[Source, ...]:
    keys = ("vavrinecz-1962", "sucrose-table-ru", "jackson-silsbee-1924")
    return tuple(sources()[key] for key in keys)


SUCROSE_SOLUBILITY: Final = Calculator(
    name="sucrose-solubility",
    title="How much sugar dissolves",
    what="Sucrose that water holds at a temperature, alone or beside other sugars.",
    answer=_answer,
    inputs=(
        Input("temperature_C", "°C", "how warm it lies", default=20.0, low=-20.0,
              high=160.0, also=WARMTHS),
    ),
    takes_parts=True,
    parts_are_optional=True,
    example="calc sucrose-solubility temperature_C=20",
    sources=_sources(),
    python="slabwright.physics.solubility.sucrose_solubility",
)  # fmt: skip
