"""What is said of published boiling points, water activities and cooked caramel."""

from collections.abc import Mapping
from typing import Final

import numpy as np

from slabwright.physics.activity import (
    dissolved_water,
    likely_range,
    water_activity,
)
from slabwright.physics.boiling import (
    SEA_KPA,
    boiling_point_of,
    boiling_range,
    water_left,
)
from slabwright.physics.freezing import freezing_point
from slabwright.physics.solubility import solubility
from slabwright.physics.species import AT, Array, Parts, parts
from slabwright.physics.water import air_pressure, boiling_point, saturation_pressure
from slabwright.spec.evidence.predicted import Predicted, Predictor
from slabwright.spec.evidence.rows import Row

_KELVIN: Final = 273.15
_MOST_PERCENT: Final = 97.0
"""Beyond it nobody measured where sugar boils."""
_SOLUTES: Final = {
    "sucrose_water": "sucrose", "NaCl_water": "salt", "glycerol_water": "glycerol",
}  # fmt: skip
_CRYSTALS: Final = {
    "sucrose": "sucrose", "sucrose_saturated": "sucrose",
    "glucose_monohydrate": "glucose", "xylitol": "xylitol",
}  # fmt: skip
_SYRUP: Final = {"glucose": 0.19, "maltose": 0.14, "higher_saccharides": 0.67}
"""Solids of corn syrup of 42 DE, from memory."""
_CARAMEL: Final = {
    "sucrose": 34.0, "lactose": 4.5, "protein": 2.8, "minerals": 0.65, "salt": 0.25,
    **{name: 38.0 * share for name, share in _SYRUP.items()},
}  # fmt: skip
_MILK: Final = {
    "lactose": 4.7, "minerals": 0.73, "protein": 3.3, "fat_milk": 3.8,
    "citric_acid": 0.2, "water": 87.27,
}  # fmt: skip
"""Of cow's milk, from memory."""
_FATS: Final = (6.0, 10.0, 16.0)
"""Fat of a dairy caramel, least, likely and most [%]."""


def _boils(row: Row) -> Predicted | str:
    if row.percent is None:
        return "a name for a temperature: looked up, not worked out"
    if row.percent > _MOST_PERCENT:
        return f"over {_MOST_PERCENT:g} % nobody measured where sugar boils"
    kPa = float(row.condition.get("pressure_kPa", SEA_KPA))
    made, by = _sugar(row.percent), "physics.boiling.boiling_point_of"
    value = float(boiling_point_of(made, kPa))
    if row.kind == "range":
        return Predicted(value, by=by)
    low, high = boiling_range(made, kPa)
    return Predicted(value, float(low), float(high), by)


def _rise(row: Row) -> Predicted | str:
    """Over water: the syrup as sucrose; a jelly's with a seventh of it split."""
    if row.percent is None:
        return "no strength is told"
    split = row.percent / 7 if row.material == "fruit jelly" else 0.0
    made = parts(
        sucrose=row.percent - split, glucose=split / 2, fructose=split / 2,
        water=100 - row.percent,
    )  # fmt: skip
    low, value, high = (
        float(one) - float(boiling_point(SEA_KPA))
        for one in (
            boiling_range(made)[0], boiling_point_of(made), boiling_range(made)[1]
        )
    )  # fmt: skip
    by = "physics.boiling.boiling_point_of"
    return Predicted(value, low, high, by, row.note)


def _freezes(row: Row) -> Predicted | str:
    if row.percent is not None:
        made = parts(**{row.material: row.percent, "water": 100 - row.percent})
    elif row.material == "milk":
        made = parts(**_MILK)
    else:
        return "nothing here works out this solution"
    by = "physics.freezing.freezing_point"
    return Predicted(-float(freezing_point(made)), by=by)


def _sugar_at(row: Row) -> Predicted | str:
    if row.temperature_C is None:
        return "no temperature is told"
    water = float(water_left(parts(sucrose=100), row.temperature_C))
    return Predicted(100 * 100 / (100 + water), by="physics.boiling.water_left")


def _water_boils(row: Row) -> Predicted | str:
    kPa = air_pressure(row.stated("altitude_m"))
    return Predicted(float(boiling_point(kPa)), by="physics.water.boiling_point")


def _saturated_at(row: Row) -> Predicted | str:
    kPa = 1000 * row.stated("pressure_MPa")
    kelvin = float(boiling_point(kPa)) + _KELVIN
    return Predicted(kelvin, by="physics.water.boiling_point")


def _saturated(row: Row) -> Predicted | str:
    celsius = row.stated("T_K") - _KELVIN
    value = float(saturation_pressure(celsius)) / 1000
    return Predicted(value, by="physics.water.saturation_pressure")


def _activity(row: Row) -> Predicted | str:
    warm = 25.0 if row.temperature_C is None else row.temperature_C
    by = "physics.activity.water_activity"
    if row.material in _CRYSTALS:
        return Predicted(_saturated_activity(_CRYSTALS[row.material], warm), by=by)
    solute = _SOLUTES.get(row.material)
    if solute is None or row.percent is None:
        return "nothing here works out this solution"
    made = parts(**{solute: row.percent, "water": 100 - row.percent})
    low, high = likely_range(made, warm)
    return Predicted(float(water_activity(made, warm)), float(low), float(high), by)


def _saturated_activity(species: str, warm: float) -> float:
    made = parts(**{species: float(solubility(species, warm)), "water": 100.0})
    return float(water_activity(made, warm))


def _deliquesces(row: Row) -> Predicted | str:
    species = _CRYSTALS.get(row.material)
    if species is None or row.temperature_C is None:
        return "how much of it water dissolves is not known here"
    try:
        value = 100 * _saturated_activity(species, row.temperature_C)
    except KeyError:
        return "how much of it water dissolves is not known here"
    return Predicted(value, by="physics.activity.water_activity")


def _salt(row: Row) -> Predicted | str:
    return "saturated salts are a standard of hygrometers, in no cake"


def _humectant(row: Row) -> Predicted | str:
    """Water that an amorphous solid takes up, as if it lay in solution."""
    name, _, state = row.material.rpartition(" ")
    if state != "amorphous":
        return "water on crystals: nothing here works it out"
    name = name.removesuffix(" (adsorption)")
    made = {name: 1.0}
    assumed = ""
    if name == "corn syrup":
        made, assumed = _SYRUP, "of 42 DE"
    if row.activity is None or row.temperature_C is None:
        return "no water activity is told"
    water = float(dissolved_water(parts(**made), row.activity, row.temperature_C))
    return Predicted(
        100 * water, by="physics.activity.dissolved_water", assumed=assumed
    )


def _caramel(row: Row) -> Predicted | str:
    if row.temperature_C is None:
        return "no temperature is told"
    made = np.stack([_of_fat(fat) for fat in _FATS])
    water: Array = water_left(made, row.temperature_C)
    high, value, low = (float(one) for one in 100 * water / (100 + water))
    return Predicted(
        value, low, high, "physics.boiling.water_left",
        "sugar and solids of corn syrup near 1 to 1, 6 to 16 % of fat",
    )  # fmt: skip


def _of_fat(percent: float) -> Parts:
    """100 g of dry caramel with so much fat."""
    factor = (100 - percent) / sum(_CARAMEL.values())
    made = parts(**{name: mass * factor for name, mass in _CARAMEL.items()})
    made[AT["fat_milk"]] = percent
    return made


def _sugar(percent: float) -> Parts:
    return parts(sucrose=percent, water=100 - percent)


PREDICTORS: Final[Mapping[tuple[str, str], Predictor]] = {
    ("boiling_point", "boiling_point"): _boils,
    ("boiling_point", "candy_stage_temperature"): _boils,
    ("boiling_point", "sugar_content_at_boiling_temperature"): _sugar_at,
    ("boiling_point", "boiling_point_water"): _water_boils,
    ("boiling_point", "rise_over_water"): _rise,
    ("freezing_points", "freezing_point_depression"): _freezes,
    ("boiling_point", "saturation_temperature"): _saturated_at,
    ("boiling_point", "saturation_pressure"): _saturated,
    ("water_activity_solutions", "water_activity"): _activity,
    ("water_activity_solutions", "deliquescence_RH"): _deliquesces,
    ("water_activity_solutions", "saturated_salt_RH"): _salt,
    ("water_activity_solutions", "equilibrium_moisture"): _humectant,
    ("cooked_caramel", "water_left"): _caramel,
}
