"""The calculators of syrups: how strong, how heavy, where it boils."""

from typing import Final

import numpy as np

from slabwright.figure import Figure, withheld
from slabwright.physics.activity import sources_of
from slabwright.physics.boiling import boiling_point_of, boiling_range
from slabwright.physics.solubility import DISSOLVED
from slabwright.physics.species import AT, SPECIES, Parts
from slabwright.physics.syrup import (
    baume,
    brix,
    density_of,
    refractive_index,
    syrup_density,
)
from slabwright.physics.water import air_pressure
from slabwright.source import Source, sources
from slabwright.spec.calc.air import HEIGHTS, WARMTHS
from slabwright.spec.calc.boiling_point import HOLDS as BOIL_HOLDS
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)

_OTHER_SUGARS: Final = 0.005
"""How far another sugar's volume may move the density, as a share of it. From memory
of handbook tables of glucose, fructose, lactose and maltose."""
_WITHIN: Final = 0.3
"""How far the model and handbook tables lie apart to 50 % [kg/m³]."""
_INDEX_WITHIN: Final = 3e-4
"""The same of the refractive index."""
_HOLDS: Final = "sucrose, 15 to 55 °C, to 85 %"
_MOST_BRIX: Final = 85.0
_SUGARS: Final = [AT[name] for name in DISSOLVED]
_DISSOLVES: Final = {*DISSOLVED, "water", "alcohol", "salt", "minerals",
                     "organic_acids"}  # fmt: skip
_WARM: Final = Input(
    "temperature_C",
    "°C",
    "how warm it is",
    default=20.0,
    low=-10.0,
    high=150.0,
    also=WARMTHS,
)


def _parts(asked: Asked) -> Parts:
    parts = asked.parts if asked.parts is not None else np.zeros(len(SPECIES))
    if not parts[AT["water"]] + parts[_SUGARS].sum() > 0:
        raise wrong(
            "It has neither sugar nor water.",
            "Give a make-up in parts by mass: sucrose=50 water=50.",
        )
    return parts


def _sources() -> tuple[Source, ...]:
    keys = ("laliberte-2009", "nbs-c440", "kell-1975")
    return tuple(sources()[key] for key in keys)


def _density(parts: Parts, warm: float, unit: str) -> Figure:
    """The density with its sum; a range where it is not sucrose alone."""
    scale = 1.0 if unit == "kg/m³" else 1000.0
    value = float(density_of(parts, warm)) / scale
    sugar = float(parts[_SUGARS].sum())
    strong = float(brix(parts))
    others = 1 - float(parts[AT["sucrose"]]) / sugar if sugar > 0 else 0.0
    off = value * _OTHER_SUGARS * others + _beyond(strong, warm) / scale
    said = (
        f"{sugar:.4g} g of sugars in {sugar + parts[AT['water']]:.4g} g of syrup "
        f"({strong:.4g} %) at {warm:g} °C: {value:.5g} {unit}"
    )
    return Figure(
        value, unit, said, low=value - off, high=value + off, sources=_sources(),
        holds=_HOLDS,
    )  # fmt: skip


def _beyond(percent: float, warm: float) -> float:
    """What it may be off [kg/m³]; beyond the ranges of its sources our own."""
    hot = max(warm - 55.0, 15.0 - warm, 0.0)
    strong = max(percent - 50.0, 0.0)
    return _WITHIN + 0.05 * hot + 0.02 * strong + max(percent - 85.0, 0.0)


def _notes(parts: Parts, warm: float) -> list[str]:
    notes = []
    out = [
        one.argument.replace("_", " ").replace(" C", "")
        for one in syrup_density.outside(float(brix(parts)), warm)
    ]
    if out:
        notes.append(f"Beyond the range of its relation ({_HOLDS}): {', '.join(out)}.")
    beside = [
        name.replace("_", " ")
        for name in SPECIES
        if parts[AT[name]] > 0 and name not in _DISSOLVES
    ]
    if beside:
        notes.append(f"Not dissolved, counted by volume alone: {', '.join(beside)}.")
    if parts[_SUGARS].sum() - parts[AT["sucrose"]] > 0:
        notes.append("Every sugar is given the volume of sucrose: true to 0.5 %.")
    notes.append("Without air: a syrup that was whipped or boils weighs less.")
    return notes


def _answer_density(asked: Asked) -> Answer:
    parts, warm = _parts(asked), asked.number("temperature_C")
    first = Shown("density_kg_m3", "density", _density(parts, warm, "kg/m³"))
    also = (
        Shown("density_g_ml", "a millilitre weighs", _density(parts, warm, "g/ml")),
        Shown("brix", "strength", _brix(parts)),
    )
    return Answer(first, also, tuple(_notes(parts, warm)))


def _brix(parts: Parts) -> Figure:
    sugar, value = float(parts[_SUGARS].sum()), float(brix(parts))
    both = sugar + float(parts[AT["water"]])
    said = f"{sugar:.4g} g ÷ {both:.4g} g = {value:.4g} %"
    return Figure(value, "°Bx", said)


def _answer_syrup(asked: Asked) -> Answer:
    parts, warm = _parts(asked), asked.number("temperature_C")
    strong = float(brix(parts))
    at_20 = float(density_of(parts, 20.0))
    degrees = round(float(baume(at_20)), 6)  # of water alone 0, and no last bits
    spindle = Figure(
        degrees, "°Bé", f"145 − 145 ÷ ({at_20:.5g} ÷ 998.2) = {degrees:.4g}",
        sources=(sources()["baume-145"], *_sources()), holds="at 20 °C",
    )  # fmt: skip
    also = (
        Shown("baume", "a spindle shows at 20 °C", spindle),
        Shown("density_g_ml", f"a millilitre weighs at {warm:g} °C",
              _density(parts, warm, "g/ml")),
        Shown("refractive_index", "refractive index at 20 °C", _index(strong)),
        Shown("boiling_point_C", "boils at", _boils(parts, asked)),
    )  # fmt: skip
    notes = _notes(parts, warm)
    if parts[_SUGARS].sum() - parts[AT["sucrose"]] > 0:
        notes.append(
            "A refractometer takes every sugar for sucrose: in a mixed syrup it may "
            "show a degree or two other than this."
        )
    notes.append(
        "A refractometer without correction shows about 0.07 °Bx less for each K "
        "above 20 °C, and as much more below."
    )
    return Answer(Shown("brix", "strength", _brix(parts)), also, tuple(notes))


def _index(strong: float) -> Figure:
    if strong > _MOST_BRIX:
        return withheld("", f"{strong:.3g} °Bx lies beyond its table, 0 to 85")
    value = float(refractive_index(strong))
    said = f"sucrose at {strong:.4g} °Bx: {value:.4f}"
    return Figure(
        value, "", said, low=value - _INDEX_WITHIN, high=value + _INDEX_WITHIN,
        sources=(sources()["icumsa-index"],), holds="0 to 85 °Bx",
    )  # fmt: skip


def _boils(parts: Parts, asked: Asked) -> Figure:
    high = asked.number("altitude_m")
    pressure = float(air_pressure(high))
    value = float(boiling_point_of(parts, pressure))
    if np.isnan(value):
        return withheld("°C", "there is no water in it that could boil")
    said = f"at {high:g} m the air presses with {pressure:.1f} kPa: {value:.1f} °C"
    low, high_C = (float(one) for one in boiling_range(parts, pressure))
    told = (*sources_of(parts), air_pressure.source)
    return Figure(
        value, "°C", said, low=low, high=high_C, sources=told, holds=BOIL_HOLDS
    )


SYRUP_DENSITY: Final = Calculator(
    name="syrup-density",
    title="How heavy a syrup is",
    what="Density of a sugar syrup at its temperature, without air.",
    answer=_answer_density,
    inputs=(_WARM,),
    takes_parts=True,
    example="calc syrup-density sucrose=50 water=50 temperature_C=20",
    sources=_sources(),
    python="slabwright.physics.syrup.density_of",
)

SYRUP: Final = Calculator(
    name="syrup",
    title="Syrup and Brix",
    what="Strength of a syrup in Brix and Baumé, its weight, and where it boils.",
    answer=_answer_syrup,
    inputs=(
        _WARM,
        Input("altitude_m", "m", "height above the sea", default=0.0, low=-500.0,
              high=6000.0, of_kitchen="altitude_m", also=HEIGHTS),
    ),
    takes_parts=True,
    example="calc syrup sucrose=65 water=35",
    sources=(
        *_sources(), sources()["baume-145"], sources()["icumsa-index"],
        sources()["oiv-refractometry"],
    ),
    python="slabwright.physics.syrup.brix",
)  # fmt: skip
