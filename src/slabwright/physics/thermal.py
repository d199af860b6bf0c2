"""Heat properties of a mix from what it is made of: density, specific heat, conduction.

Every constituent of a composition counts as one of the components that Choi and Okos
measured: sugars, starch, higher saccharides, polyols, organic acids and what no table
splits as carbohydrate; salt and minerals as ash; the rest under their own names.
Ethanol is none of theirs and has its own rows. A mix that holds something unknown, or
nothing at all, has no properties: NaN.
"""

import csv
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from slabwright.composition import FATS, INDEX, ROW, UNKNOWN, Masses
from slabwright.physics.species import Array
from slabwright.source import relation, sources

COMPONENTS: Final = (
    "water", "ice", "protein", "fat", "carbohydrate", "fibre", "ash", "alcohol",
)  # fmt: skip
"""What a mix is made of, as heat sees it."""

DENSE_ERROR: Final = 0.10
"""How far the conductivity of a mix without air or ice may lie off: Carson (2006)."""
POROUS_ERROR: Final = 0.20
"""The same with air or ice in it: Carson et al. (2016), on average."""

_COUNTS_AS: Final = {
    "water": "water",
    "fibre": "fibre",
    "protein": "protein",
    "alcohol": "alcohol",
    "salt": "ash",
    "minerals": "ash",
    **dict.fromkeys(FATS, "fat"),
}
"""What is not here counts as carbohydrate."""
_WATER, _ICE = COMPONENTS.index("water"), COMPONENTS.index("ice")
_RANGE_C: Final = (-40.0, 150.0)


@relation(sources()["choi-okos-1986"], temperature_C=_RANGE_C)
def density(
    masses: Masses, temperature_C: ArrayLike, ice_share: ArrayLike = 0.0
) -> Array:
    """Density of a mix without any air [kg/m³]: volumes add up.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        temperature_C: shape (...) or one number [°C].
        ice_share: share of its water that is frozen, 0 to 1.

    Source: Choi and Okos (1986).
    """
    rows = _components(masses, ice_share)
    value: Array = _whole(rows) / _volumes(rows, temperature_C).sum(axis=-1)
    return value


@relation(sources()["choi-okos-1986"], temperature_C=_RANGE_C)
def specific_heat(
    masses: Masses, temperature_C: ArrayLike, ice_share: ArrayLike = 0.0
) -> Array:
    """Specific heat of a mix [kJ/(kg K)]; what melts or freezes meanwhile is left out.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        temperature_C: shape (...) or one number [°C].
        ice_share: share of its water that is frozen, 0 to 1.

    Source: Choi and Okos (1986). For water the first coefficient is 4176.2, not the
    4128.9 of the ASHRAE handbook: that lies 1 to 2 % under steam tables, this within
    1.1 %.
    """
    rows = _components(masses, ice_share)
    t = np.asarray(temperature_C, float)[..., None]
    each = _polynomial(_heat_coefficients(t), t)
    share: Array = (rows * each).sum(axis=-1) / _whole(rows) / 1000
    return share


@relation(sources()["choi-okos-1986"], from_C=_RANGE_C, to_C=_RANGE_C)
def warming(masses: Masses, from_C: ArrayLike, to_C: ArrayLike) -> Array:
    """Heat that takes a mix from one temperature to another [kJ]; under 0 if it cools.

    Args:
        masses: masses of constituents, shape (..., len(ROW)) [kg].
        from_C: shape (...) or one number [°C].
        to_C: likewise.

    Source: Choi and Okos (1986), integrated; nothing melts, boils or freezes.
    """
    rows = _components(masses, 0.0)
    heat: Array = (rows * (_heat_up_to(to_C) - _heat_up_to(from_C))).sum(axis=-1)
    return heat / 1000


@relation(sources()["carson-2016"], temperature_C=_RANGE_C, air_share=(0.0, 1.0))
def conductivity(
    masses: Masses,
    temperature_C: ArrayLike,
    air_share: ArrayLike = 0.0,
    ice_share: ArrayLike = 0.0,
) -> Array:
    """Thermal conductivity of a mix [W/(m K)].

    Components side by side, then ice by Levy's equation, then air by effective medium
    theory: the sequence that did best on foods of every kind. Off by 10 % where there
    is neither air nor ice, by 20 % with them.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        temperature_C: shape (...) or one number [°C].
        air_share: share of the volume that is air, 0 to 1.
        ice_share: share of its water that is frozen, 0 to 1.

    Source: Carson, Wang, North and Cleland (2016) for the sequence; Choi and Okos
    (1986) for the components; Levy (1981) as handbooks print it.
    """
    rows = _components(masses, ice_share)
    t = np.asarray(temperature_C, float)[..., None]
    each = _polynomial(_coefficients("conductivity"), t)
    volumes = _volumes(rows, temperature_C)
    ice = volumes[..., _ICE]
    whole = _whole(volumes)
    wet = whole - ice
    unfrozen = (volumes * each).sum(axis=-1) - ice * each[..., _ICE]
    is_ice = ~(wet > 0)
    continuous = np.where(
        is_ice, each[..., _ICE], unfrozen / np.where(is_ice, 1.0, wet)
    )
    dense = levy(each[..., _ICE], continuous, ice / whole)
    air_a0, air_a1, _ = _row("conductivity", "air")
    air = air_a0 + air_a1 * np.asarray(temperature_C, float)
    return effective_medium(air, dense, air_share)


@relation(sources()["choi-okos-1986"], temperature_C=_RANGE_C)
def diffusivity(
    masses: Masses, temperature_C: ArrayLike, air_share: ArrayLike = 0.0
) -> Array:
    """Thermal diffusivity of a mix [m²/s]: conductivity over density and specific heat.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        temperature_C: shape (...) or one number [°C].
        air_share: share of the volume that is air, 0 to 1.

    Source: Choi and Okos (1986), through the other three.
    """
    bulk = density(masses, temperature_C) * (1 - np.asarray(air_share, float))
    heat = bulk * specific_heat(masses, temperature_C) * 1000
    value: Array = conductivity(masses, temperature_C, air_share) / heat
    return value


def air_share(bulk_kg_m3: ArrayLike, without_air_kg_m3: ArrayLike) -> Array:
    """Share of the volume that is air, from a measured density.

    Under 0 if the measure says that the layer is heavier than its mix can be.
    """
    ratio = np.asarray(bulk_kg_m3, float) / np.asarray(without_air_kg_m3, float)
    return np.asarray(1 - ratio)


def levy(dispersed: ArrayLike, continuous: ArrayLike, volume_share: ArrayLike) -> Array:
    """Conductivity of two phases where neither is plainly the inner one [W/(m K)].

    Source: Levy (1981), a change to the Maxwell-Eucken equation; from memory of the
    ASHRAE handbook. Held by its limits: pure phases, and equal ones.
    """
    k1, k2 = np.asarray(dispersed, float), np.asarray(continuous, float)
    r = np.asarray(volume_share, float)
    ratio = k1 / k2
    s = (ratio - 1) ** 2 / ((ratio + 1) ** 2 + ratio / 2)
    b = 2 - s + 2 * r * s
    # the printed quotient, multiplied out so that equal phases divide nothing by 0
    f = 4 * r / (b + np.sqrt(np.maximum(b * b - 8 * r * s, 0.0)))
    above, below = (2 + ratio) + 2 * (ratio - 1) * f, (2 + ratio) - (ratio - 1) * f
    value: Array = k2 * above / below
    return value


def effective_medium(
    one: ArrayLike, other: ArrayLike, share_of_one: ArrayLike
) -> Array:
    """Conductivity of two phases strewn at random [W/(m K)].

    Source: effective medium theory (Landauer 1952), as food engineers use it for air.
    """
    a, b = np.asarray(one, float), np.asarray(other, float)
    share = np.asarray(share_of_one, float)
    half = (3 * share - 1) * a + (2 - 3 * share) * b
    value: Array = (half + np.sqrt(half * half + 8 * a * b)) / 4
    return value


def _components(masses: Masses, ice_share: ArrayLike) -> Array:
    """Mass of each of `COMPONENTS`, shape (..., 8); NaN where something is unknown."""
    rows: Array = np.asarray(masses, float)[..., : len(ROW) - 1] @ _mapping()
    lost = np.asarray(masses)[..., INDEX[UNKNOWN]] > 0
    rows = np.where(lost[..., None], np.nan, rows)
    frozen = np.asarray(ice_share, float) * rows[..., _WATER]
    if frozen.ndim > rows.ndim - 1:
        rows = np.broadcast_to(rows, (*frozen.shape, len(COMPONENTS))).copy()
    rows[..., _ICE] = frozen
    rows[..., _WATER] -= frozen
    return rows


def _whole(rows: Array) -> Array:
    """Mass of everything; NaN where there is nothing."""
    whole = rows.sum(axis=-1)
    return np.where(whole > 0, whole, np.nan)


@cache
def _mapping() -> Array:
    """Which component each constituent counts as, shape (len(ROW) - 1, 8)."""
    table = np.zeros((len(ROW) - 1, len(COMPONENTS)))
    for name, at in INDEX.items():
        if at < len(ROW) - 1 and name != UNKNOWN:
            counts = _COUNTS_AS.get(name, "carbohydrate")
            table[at, COMPONENTS.index(counts)] = 1.0
    return table


@cache
def _rows() -> dict[tuple[str, str, bool], tuple[float, float, float]]:
    """Coefficients by property, component, and whether they are for under 0 °C."""
    found = files("slabwright.physics").joinpath("data", "thermal_components.csv")
    return {
        (row["property"], row["component"], float(row["to_C"]) <= 0): (
            float(row["a0"]), float(row["a1"]), float(row["a2"]),
        )
        for row in csv.DictReader(found.read_text("utf-8").splitlines())
    }  # fmt: skip


def _row(kind: str, component: str) -> tuple[float, float, float]:
    return _rows()[kind, component, component == "ice"]


@cache
def _coefficients(kind: str) -> Array:
    """Coefficients of one property, shape (8, 3)."""
    return np.array([_row(kind, component) for component in COMPONENTS])


@cache
def _cold_heat() -> Array:
    """Coefficients of specific heat under 0 °C, where water has its own."""
    cold = _coefficients("specific_heat").copy()
    cold[_WATER] = _rows()["specific_heat", "water", True]
    return cold


def _heat_coefficients(t: Array) -> Array:
    """Coefficients of specific heat for temperatures of shape (..., 1)."""
    return np.where((t < 0)[..., None], _cold_heat(), _coefficients("specific_heat"))


def _polynomial(coefficients: Array, t: Array) -> Array:
    a0, a1, a2 = coefficients[..., 0], coefficients[..., 1], coefficients[..., 2]
    value: Array = a0 + t * (a1 + t * a2)
    return value


def _heat_up_to(temperature_C: ArrayLike) -> Array:
    """Heat of each component, counted from 0 °C [J/kg], shape (..., 8)."""
    t = np.asarray(temperature_C, float)[..., None]
    k = _heat_coefficients(t)
    value: Array = t * (k[..., 0] + t * (k[..., 1] / 2 + t * k[..., 2] / 3))
    return value


def _volumes(rows: Array, temperature_C: ArrayLike) -> Array:
    """Volume of each component, in units of mass over kg/m³."""
    t = np.asarray(temperature_C, float)[..., None]
    return rows / _polynomial(_coefficients("density"), t)
