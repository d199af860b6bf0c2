"""Freezing: where ice begins, how much water is ice, and the heat that it takes.

Ice is in balance with what stays liquid when both have the same water activity. What
is dissolved grows stronger as ice parts from it, so that a sweet layer freezes little
by little, and never wholly in a freezer.
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from slabwright.composition import INDEX, Masses
from slabwright.physics.activity import dissolved_water, water_activity
from slabwright.physics.species import AT, Array, Parts, parts_of
from slabwright.physics.steam import MELTING_KJ_KG, activity_beside_ice
from slabwright.physics.thermal import warming
from slabwright.source import relation, sources

COLDEST_C = -40.0
"""Below this, what is not frozen has long turned to glass: no table of ours goes on."""
_BOUND_PER_PROTEIN = 0.4
"""Water that protein keeps from freezing [g/g]: Schwartzberg, by the ASHRAE handbook,
from memory."""


@relation(sources()["murphy-koop-2005"])
def freezing_point(parts: Parts) -> Array:
    """Temperature at which ice begins in a mix [°C].

    Args:
        parts: masses of species, shape (..., len(SPECIES)); what is not dissolved
            counts as not there.

    Returns:
        Shape (...), down to -40; NaN where there is no water, or where it begins lower.

    Source: balance of water activity with ice (Murphy and Koop 2005), at 0 °C.
    """
    activity = water_activity(parts, 0.0)
    warmth, beside = _ice()
    found = np.interp(activity, beside, warmth)
    value: Array = np.where((activity < beside[0]) | ~(activity > 0), np.nan, found)
    return value


@relation(sources()["murphy-koop-2005"], temperature_C=(COLDEST_C, 100.0))
def ice_share(parts: Parts, temperature_C: ArrayLike) -> Array:
    """Share of the water that is ice, in the end [1].

    Water that protein binds stays liquid. Cold so strong that the syrup turns to glass
    leaves more liquid than this says: below -30 °C or so nothing more freezes.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        temperature_C: shape (...) or one number [°C].

    Returns:
        Shape (...), 0 to 1; 0 over the freezing point; NaN without water.

    Source: as `freezing_point`.
    """
    rows = np.asarray(parts, float)
    cold = np.asarray(temperature_C, float)
    wet = rows[..., AT["water"]]
    if bool((cold >= 0).all()):
        shape = np.broadcast_shapes(wet.shape, cold.shape)
        return np.broadcast_to(np.where(wet > 0, 0.0, np.nan), shape)
    beside = activity_beside_ice(np.minimum(cold, 0.0))
    held = dissolved_water(rows, np.minimum(beside, 0.9999), 0.0)
    held = np.maximum(held, _BOUND_PER_PROTEIN * rows[..., AT["protein"]])
    with np.errstate(invalid="ignore", divide="ignore"):
        share = 1 - held / wet
    share = np.where(wet > 0, np.maximum(share, 0.0), np.nan)
    value: Array = np.where((cold >= 0) & (wet > 0), 0.0, share)
    return value


def chen_ice_share(
    water_share: ArrayLike,
    protein_share: ArrayLike,
    freezes_C: ArrayLike,
    temperature_C: ArrayLike,
) -> Array:
    """Share of the mass that is ice, by a rule for foods that hold little sugar [1].

    Args:
        water_share: water of the whole.
        protein_share: protein of the whole; each gram binds 0.4 g of water.
        freezes_C: where ice begins [°C], under 0.
        temperature_C: shape (...) or one number [°C].

    Source: Chen (1985), as the ASHRAE handbook prints it, from memory; it did best on
    foods of every kind (Fricke and Becker 2001, abstract).
    """
    free = np.asarray(water_share, float) - _BOUND_PER_PROTEIN * np.asarray(
        protein_share, float
    )
    begin, cold = np.asarray(freezes_C, float), np.asarray(temperature_C, float)
    value: Array = np.where(
        cold < begin, free * (1 - begin / np.where(cold < 0, cold, -1.0)), 0.0
    )
    return value


@relation(
    sources()["choi-okos-1986"], from_C=(COLDEST_C, 150.0), to_C=(COLDEST_C, 150.0)
)
def heat_between(masses: Masses, from_C: ArrayLike, to_C: ArrayLike) -> Array:
    """Heat that takes a mix from one temperature to another, ice counted [kJ].

    Under 0 if it cools. Fat that sets is left out: it gives off more.

    Args:
        masses: masses of constituents, shape (..., len(ROW)) [kg].
        from_C: shape (...) or one number [°C].
        to_C: likewise.

    Source: Choi and Okos (1986); ice by `ice_share`, at the heat of melting of 0 °C.
    """
    parts = parts_of(np.asarray(masses, float))
    wet = np.nan_to_num(np.asarray(masses, float)[..., INDEX["water"]])
    ice = [wet * np.nan_to_num(ice_share(parts, one)) for one in (from_C, to_C)]
    sensible = warming(masses, from_C, to_C)
    value: Array = sensible + MELTING_KJ_KG * (ice[0] - ice[1])
    return value


@cache
def _ice() -> tuple[Array, Array]:
    """Temperatures, and the water activity of what stands beside ice there, rising."""
    warmth = np.linspace(COLDEST_C, 0.0, 401)
    beside = np.asarray(activity_beside_ice(warmth), float)
    return warmth, beside / beside[-1]
