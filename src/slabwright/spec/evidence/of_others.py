"""What is said of published fats, heat properties, isotherms and of whole products."""

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np

from slabwright.composition import INDEX, Masses, total, zeros
from slabwright.larder.load import built_in
from slabwright.physics import thermal
from slabwright.physics.fat import fats_of, solid_fat
from slabwright.physics.freezing import chen_ice_share
from slabwright.physics.layer_water import layer_water_activity
from slabwright.physics.sorption import MEASURED_C, held_water
from slabwright.physics.species import Array
from slabwright.spec.evidence.predicted import Predicted, Predictor
from slabwright.spec.evidence.rows import Row

_FATS: Final = {
    "cocoa_butter": "fat_cocoa", "palm": "fat_other", "palm kernel": "fat_lauric",
    "coconut": "fat_lauric", "anhydrous milk fat": "fat_milk",
}  # fmt: skip
_PURE: Final = {
    "protein": "protein", "fat": "fat_milk", "carbohydrate": "sucrose",
    "fibre": "fibre", "ash": "minerals", "water": "water", "ice": "water",
    "water_real": "water",
}  # fmt: skip
"""A constituent that counts as each component of the heat tables."""
_BEEF_PROTEIN: Final = 0.1748
"""Of the beef whose ice is told: its protein stands with another row of the example."""
_SYRUP: Final = {"glucose": 19.0, "maltose": 14.0, "higher_saccharides": 67.0}
_PRODUCTS: Final[Mapping[str, tuple[Mapping[str, float], str]]] = {
    "hard candy": (
        {"sucrose": 150.0, **_SYRUP},
        "3 of sugar to 2 of solids of corn syrup of 42 DE",
    ),
    "caramel, fudge, toffee": (
        {"sucrose": 90.0, **_SYRUP, "lactose": 12.0, "protein": 7.0, "minerals": 1.7,
         "fat_milk": 23.0},
        "a dairy caramel with corn syrup of 42 DE",
    ),
    "marshmallow": (
        {"sucrose": 100.0, **_SYRUP, "protein": 5.0},
        "sugar and solids of corn syrup 1 to 1, 2.5 % of gelatine",
    ),
    "jams": (
        {"sucrose": 60.0, "glucose": 20.0, "fructose": 20.0, "fibre": 1.0,
         "organic_acids": 1.0},
        "sugar, two fifths of it inverted",
    ),
}  # fmt: skip
"""Dry make-ups of products whose rows tell their water alone; all of it dissolved."""
_CONDENSED: Final = {
    "water": 26.5, "sucrose": 44.5, "fat_milk": 8.5, "lactose": 11.2, "protein": 7.2,
    "minerals": 1.6,
}  # fmt: skip
"""Of sweetened condensed milk, as its row tells; its other solids as milk has them."""
_HEAT: Final[Mapping[str, tuple[Callable[..., Array], float]]] = {
    "density": (thermal.density, 1.0),
    "specific_heat": (thermal.specific_heat, 1000.0),
    "thermal_conductivity": (thermal.conductivity, 1.0),
}
"""Relations by quantity, and what brings each to J."""
_UNTOLD: Final = "its make-up is not told"


def _solid(row: Row) -> Predicted | str:
    name = row.material.removesuffix(" oil")
    name = "cocoa_butter" if name.startswith("cocoa_butter ") else name
    if name not in _FATS or row.temperature_C is None:
        return "a fat that no layer has"
    fats = fats_of(_mix({_FATS[name]: 1.0}))
    found = solid_fat(fats, row.temperature_C, tempered=name == "cocoa_butter")
    value, low, high = (100 * float(one) for one in found)
    return Predicted(value, low, high, "physics.fat.solid_fat")


def _fat_density(row: Row) -> Predicted | str:
    if row.material == "cocoa butter liquid 40C":
        value = float(thermal.density(_mix({"fat_cocoa": 1.0}), 40.0))
        return Predicted(value, by="physics.thermal.density")
    if row.material == "dark or milk chocolate solid":
        names = ("dark chocolate 60%", "milk chocolate")
        rows = [made for name in names if (made := _larder(name)) is not None]
        found = [float(one) for one in thermal.density(np.stack(rows), 20.0)]
        return Predicted(
            found[0], min(found), max(found), "physics.thermal.density",
            "dark of 60 % and milk chocolate of the larder, at 20 °C",
        )  # fmt: skip
    return "holds air, or its formula is not told: bulk density is asked for, not told"


def _melting(row: Row) -> Predicted | str:
    return "where melting begins and ends is a matter of definition; solid fat stands"


def _constant(row: Row) -> Predicted | str:
    return "a constant that is looked up"


def _heat(row: Row) -> Predicted | str:
    """Pure components, ice as frozen water; and lamb by its make-up."""
    if row.temperature_C is None:
        return "no temperature is told"
    relation, factor = _HEAT[row.quantity]
    if row.material in _PURE:
        made = _mix({_PURE[row.material]: 1.0})
        ice = 1.0 if row.material == "ice" else 0.0
        value = factor * float(relation(made, row.temperature_C, ice_share=ice))
        return Predicted(value, by=f"physics.thermal.{row.quantity}")
    if "x_fat" in row.condition:
        shares = {
            "water": row.stated("x_water"), "protein": row.stated("x_protein"),
            "fat_milk": row.stated("x_fat"), "minerals": row.stated("x_ash"),
        }  # fmt: skip
        value = factor * float(relation(_mix(shares), row.temperature_C))
        return Predicted(value, by=f"physics.thermal.{row.quantity}")
    return _UNTOLD


def _ice(row: Row) -> Predicted | str:
    if row.temperature_C is None:
        return "no temperature is told"
    value = chen_ice_share(
        row.stated("x_water"), _BEEF_PROTEIN, row.stated("t_freeze_C"),
        row.temperature_C,
    )  # fmt: skip
    return Predicted(float(value), by="physics.freezing.chen_ice_share")


def _held(row: Row) -> Predicted | str:
    if row.activity is None:
        return "no water activity is told"
    if row.temperature_C != MEASURED_C:
        return f"our isotherms are those at {MEASURED_C:g} °C alone"
    assumed = ""
    if row.material.startswith("rice_starch"):
        made = _mix({"starch": 1.0})
    elif (
        row.material == "durum_semolina_pasta"
        and (semolina := _larder("fine semolina")) is not None
    ):
        made, assumed = semolina, "fine semolina of the larder"
    else:
        return _UNTOLD
    dry = float(total(made)) - float(made[INDEX["water"]])
    value = float(held_water(made, row.activity)) / dry
    if row.material == "rice_starch desorption":
        return Predicted(value, by="physics.sorption.held_water")
    low, high = (
        float(held_water(made, row.activity, end)) / dry for end in ("low", "high")
    )
    return Predicted(value, low, high, "physics.sorption.held_water", assumed)


def _product(row: Row) -> Predicted | str:
    """A product by the water that its row tells, at both ends of it."""
    told = row.condition.get("moisture_percent")
    if row.material == "sweetened condensed milk":
        made = _mix(_CONDENSED)
        found = layer_water_activity(made, dissolved=(0.0, 0.5, 1.0))
        value, low, high = (float(one) for one in found)
        by = "physics.layer_water.layer_water_activity"
        return Predicted(value, low, high, by, row.note)
    if told is None:
        return _UNTOLD
    ends = [float(one) for one in told.split("..")]
    if row.material.startswith("honey") and (honey := _larder("honey")) is not None:
        dry, assumed = honey.copy(), "honey of the larder, dried or thinned"
        dry[INDEX["water"]] = 0.0
    elif row.material in _PRODUCTS:
        parts, assumed = _PRODUCTS[row.material]
        dry = _mix(parts)
    else:
        return _UNTOLD
    made = np.stack([_wetted(dry, percent) for percent in ends])
    found = layer_water_activity(made, dissolved=(1.0, 1.0, 1.0))
    by = "physics.layer_water.layer_water_activity"
    if len(ends) == 1:
        return Predicted(float(found.value[0]), by=by, assumed=assumed)
    low, high = float(found.value[0]), float(found.value[-1])
    return Predicted((low + high) / 2, low, high, by, assumed)


def _wetted(dry: Masses, percent: float) -> Masses:
    """A dry make-up with so much water in 100 g."""
    made = dry * ((100 - percent) / float(total(dry)))
    made[INDEX["water"]] = percent
    return made


def _larder(name: str) -> Masses | None:
    found = built_in().find(name)
    return None if found is None else found.ingredient.composition


def _mix(shares: Mapping[str, float]) -> Masses:
    row = zeros()
    for name, mass in shares.items():
        row[INDEX[name]] = mass
    return row


def _untold(row: Row) -> Predicted | str:
    return _UNTOLD


def _class(row: Row) -> Predicted | str:
    return "a class of goods, each of another make-up"


def _meat(row: Row) -> Predicted | str:
    return "meat: what is dissolved in it, and so its ice, is not told"


PREDICTORS: Final[Mapping[tuple[str, str], Predictor]] = {
    ("fats", "solid_fat_content"): _solid,
    ("fats", "density"): _fat_density,
    ("fats", "melting_range"): _melting,
    ("fats", "cocoa_butter_clear_melting_point"): _melting,
    ("fats", "DSC_peak"): _melting,
    ("fats", "dropping_point"): _melting,
    ("fats", "slip_melting_range"): _melting,
    ("fats", "clear_from"): _melting,
    ("fats", "wholly_melted_at"): _melting,
    ("fats", "hard_and_brittle_up_to"): _melting,
    ("fats", "working_temperature"): _constant,
    ("fats", "eutectic_share_coconut"): _constant,
    ("fats", "melting_point_polymorph"): _constant,
    ("fats", "melting_enthalpy"): _constant,
    ("thermal_components", "density"): _heat,
    ("thermal_components", "specific_heat"): _heat,
    ("thermal_components", "thermal_conductivity"): _heat,
    ("thermal_components", "ice_fraction"): _ice,
    ("thermal_components", "heat_removed"): _meat,
    ("sorption_crispness_migration", "equilibrium_moisture"): _held,
    ("sorption_crispness_migration", "moisture_wet_basis"): _untold,
    ("sorption_crispness_migration", "water_activity"): _untold,
    ("water_activity_products", "water_activity"): _product,
    ("water_activity_products", "water_activity_class"): _class,
}
