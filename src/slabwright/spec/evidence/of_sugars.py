"""What is said of published solubilities, densities of syrup and glass transitions."""

from collections.abc import Mapping
from math import isfinite
from typing import Final

from slabwright.physics.glass import (
    glass_transition,
    glass_transition_range,
    water_for_glass,
)
from slabwright.physics.solubility import solubility
from slabwright.physics.species import AT, Parts, parts
from slabwright.physics.syrup import baume, syrup_density, water_density
from slabwright.spec.evidence.predicted import Predicted, Predictor
from slabwright.spec.evidence.rows import Row

_DENSITY: Final = "physics.syrup.syrup_density"
_GLASS: Final = "physics.glass.glass_transition"
_ALSO: Final = {"dextrose": "glucose"}


def _dissolves(row: Row) -> Predicted | str:
    name = row.material.split(" ")[0]
    name = _ALSO.get(name, name)
    if row.temperature_C is None:
        return "no temperature is told"
    try:
        grams = float(solubility(name, row.temperature_C))
    except KeyError:
        return "how much of it dissolves is not known here"
    if row.unit != "g per 100 g water":
        grams = 100 * grams / (100 + grams)
    return Predicted(grams, by="physics.solubility.solubility")


def _heavy(row: Row) -> Predicted | str:
    if row.percent is None or row.temperature_C is None:
        return "no strength is told"
    value = float(syrup_density(row.percent, row.temperature_C))
    return Predicted(value, by=_DENSITY)


def _gravity(row: Row) -> Predicted | str:
    """Against water as warm: the older tables, at 17.5 °C."""
    if row.percent is None or row.temperature_C is None:
        return "no strength is told"
    against = float(water_density(row.temperature_C))
    value = float(syrup_density(row.percent, row.temperature_C)) / against
    return Predicted(value, by=_DENSITY)


def _gravity_20(row: Row) -> Predicted | str:
    """Against water at 4 °C, as its numbers show, though it does not say so."""
    if row.percent is None:
        return "no strength is told"
    value = float(syrup_density(row.percent, 20.0)) / float(water_density(4.0))
    return Predicted(value, by=_DENSITY, assumed="against water at 4 °C")


def _of_gravity(row: Row) -> Predicted | str:
    """A table headed by specific gravity at 17.5 °C, though it says kg/m³."""
    found = _gravity(row)
    if isinstance(found, str):
        return found
    return Predicted(1000 * found.value, by=_DENSITY, assumed="a specific gravity")


def _grams_a_litre(row: Row) -> Predicted | str:
    if row.percent is None or row.temperature_C is None:
        return "no strength is told"
    density = float(syrup_density(row.percent, row.temperature_C))
    return Predicted(row.percent / 100 * density, by=_DENSITY)


def _baume(row: Row) -> Predicted | str:
    if row.percent is None:
        return "no strength is told"
    density = float(syrup_density(row.percent, 20.0))
    return Predicted(float(baume(density)), by="physics.syrup.baume")


def _dry_glass(row: Row) -> Predicted | str:
    """A sugar without water: our table's choice among what is published."""
    name = row.material.split(" ")[0]
    if name == "fructose:glucose":
        return _glass(parts(fructose=1, glucose=1))
    if name not in AT or not _makes_glass(name):
        return "in no kitchen, or a mix that the row does not tell"
    return _glass(parts(**{name: 1.0}))


def _makes_glass(name: str) -> bool:
    """Whether a species alone has a glass transition here."""
    value = float(glass_transition(parts(**{name: 1.0})))
    return isfinite(value)


def _wet_glass(row: Row) -> Predicted | str:
    if row.percent is None:
        if row.material == "water":
            return "water alone: a constant that goes into the rule"
        return "its make-up is not told"
    return _glass(parts(sucrose=row.percent, water=100 - row.percent))


def _glass(made: Parts) -> Predicted:
    low, high = (float(end) for end in glass_transition_range(made))
    return Predicted(float(glass_transition(made)), low, high, _GLASS)


def _water_at_glass(row: Row) -> Predicted | str:
    if row.temperature_C is None:
        return "no temperature is told"
    water = float(water_for_glass(parts(lactose=100), row.temperature_C))
    return Predicted(water, by="physics.glass.water_for_glass")


def _maltodextrin(row: Row) -> Predicted | str:
    return "of which DE the maltodextrin is, the row does not tell"


PREDICTORS: Final[Mapping[tuple[str, str], Predictor]] = {
    ("sugar_solubility", "solubility"): _dissolves,
    ("sugar_density", "density"): _heavy,
    ("sugar_density", "specific_gravity_17.5C"): _gravity,
    ("sugar_density", "specific_gravity_20C"): _gravity_20,
    ("sugar_density", "density_of_saturated_composition"): _of_gravity,
    ("sugar_density", "mass_concentration"): _grams_a_litre,
    ("sugar_density", "baume"): _baume,
    ("glass_transition", "Tg_anhydrous"): _dry_glass,
    ("glass_transition", "Tg_onset_anhydrous"): _dry_glass,
    ("glass_transition", "Tg"): _wet_glass,
    ("glass_transition", "Tg_low_moisture"): _maltodextrin,
    ("glass_transition", "Tg_drop_with_moisture"): _maltodextrin,
    ("glass_transition", "moisture_at_Tg_room"): _water_at_glass,
}
