"""The calculator of stages: what a syrup is called at a temperature, and its water."""

from typing import Final

import numpy as np

from slabwright.figure import Figure, withheld
from slabwright.physics.activity import sources_of
from slabwright.physics.boiling import water_left, water_left_range
from slabwright.physics.species import AT, SPECIES, Parts, parts
from slabwright.physics.stages import at_sea, here, spans, stage_named, stages
from slabwright.physics.water import air_pressure
from slabwright.source import sources
from slabwright.spec.calc.air import HEIGHTS, WARMTHS
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Input, Shown
from slabwright.spec.calc.water_left import HOLDS

_SHOWN: Final = (
    "thread", "soft ball", "firm ball", "hard ball", "soft crack", "hard crack",
    "caramel",
)  # fmt: skip
_KEYS: Final = ("stages-textbook", "stages-page", "stages-dictionary")
_HOLDS: Final = "plain sugar, as three books have it"
_BURNS: Final = (
    "Hot sugar burns: long sleeves, cold water beside the pan, nobody behind you."
)


def _answer(asked: Asked) -> Answer:
    warm, high = asked.number("temperature_C"), asked.number("altitude_m")
    pressure = float(air_pressure(high))
    sea = at_sea(warm, pressure)
    told = tuple(sources()[key] for key in _KEYS)
    said = f"{warm:g} °C at {high:g} m is {sea:.1f} °C at the sea: {stage_named(sea)}"
    first = Shown(
        "at_sea_C", "as at the sea",
        Figure(sea, "°C", said, sources=told, holds=_HOLDS),
    )  # fmt: skip
    also = [Shown("water_share", "water left", _water(asked, warm, pressure))]
    also += [_stage(name, high) for name in _SHOWN]
    notes = [f"It is called: {stage_named(sea)}.", *_books(sea)]
    if asked.parts is None or not asked.parts.sum() > 0:
        notes.append("No make-up was given: its water is that of plain sugar.")
    else:
        notes.append(
            "The names are those of plain sugar: with syrup or milk the same "
            "temperature leaves another hardness. The water told is that of yours."
        )
    notes.append(_BURNS)
    return Answer(first, tuple(also), tuple(notes))


def _books(sea: float) -> list[str]:
    """Where the books disagree about this temperature."""
    near = [one for one in stages() if one.low_C - 1 <= sea <= one.high_C + 1]
    names = dict.fromkeys(one.name for one in near)
    if len(names) < 2:
        return []
    told = "; ".join(
        f"{one.name} {one.low_C:g}-{one.high_C:g} °C"
        if one.low_C < one.high_C
        else f"{one.name} {one.low_C:g} °C"
        for one in near
    )
    return [f"Books differ here: {told}."]


def _stage(name: str, high: float) -> Shown:
    low_C, high_C = spans(name)
    low, top = here(low_C, high), here(high_C, high)
    said = (
        f"{low_C:g} to {high_C:g} °C at the sea by the books, {low:.0f} to {top:.0f} "
        f"°C at {high:g} m"
    )
    figure = Figure(
        (low + top) / 2, "°C", said, low=low, high=top,
        sources=tuple(sources()[key] for key in _KEYS), holds=_HOLDS,
    )  # fmt: skip
    return Shown(f"{name.replace(' ', '_')}_C", name, figure)


def _water(asked: Asked, warm: float, pressure: float) -> Figure:
    made = asked.parts if asked.parts is not None else np.zeros(len(SPECIES))
    rest = made.sum() - made[AT["water"]] - made[AT["alcohol"]]
    dry: Parts = made if rest > 0 else parts(sucrose=100)
    left = float(water_left(dry, warm, pressure))
    solids = float(dry.sum() - dry[AT["water"]] - dry[AT["alcohol"]])
    if not np.isfinite(left):
        return withheld("share", f"it does not boil at {warm:g} °C here")
    value = left / (left + solids)
    said = (
        f"{left:.3g} g of water stay with {solids:.4g} g of what is dry when it boils "
        f"at {warm:g} °C: {100 * value:.2g} %"
    )
    low, high = (float(one) for one in water_left_range(dry, warm, pressure))
    return Figure(
        value, "share", said, low=low / (low + solids), high=high / (high + solids),
        sources=sources_of(dry), holds=HOLDS,
    )  # fmt: skip


SUGAR_STAGES: Final = Calculator(
    name="sugar-stages",
    title="Stages of cooked sugar",
    what="What a boiling syrup is called at this temperature, here, and its water.",
    answer=_answer,
    inputs=(
        Input("temperature_C", "°C", "what a true probe shows", default=116.0, low=60.0,
              high=230.0, also=(*WARMTHS, "boils_at_C", "boil_to_C")),
        Input("altitude_m", "m", "height above the sea", default=0.0, low=-500.0,
              high=6000.0, of_kitchen="altitude_m", also=HEIGHTS),
    ),
    takes_parts=True,
    parts_are_optional=True,
    example="calc sugar-stages temperature_C=118 altitude_m=0",
    sources=tuple(sources()[key] for key in _KEYS),
    python="slabwright.physics.stages.stages_at",
)  # fmt: skip
