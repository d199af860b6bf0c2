"""Minutes of a boil: heat that warms a mix and drives water off, over a ring's power.

Heat is a matter of where one begins and where one ends: what stays is warmed to the end
temperature, what leaves does so as steam. The path between does not count, nor does it
matter when in the boil the water went.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.composition import INDEX, ROW, Masses
from slabwright.physics.species import Array
from slabwright.physics.steam import steam_enthalpy
from slabwright.physics.thermal import warming
from slabwright.source import relation, sources

RINGS: Final = {
    "induction": (0.75, 0.90),
    "electric": (0.60, 0.80),
    "gas": (0.30, 0.50),
}
"""Share of a ring's power that reaches what is in the pan. The middles lie near 84, 74
and 40 %, as the United States Department of Energy measured them; how wide each band
is: our own, for small pans, uneven bases and age."""
RING_SOURCE: Final = sources()["doe-hobs"]
ANY_RING: Final = (0.40, 0.90)
"""Where nobody says what kind of ring it is; gas under its best is left out, for its
power is seldom told in kW."""
NO_LOSS: Final = (0.0, 0.0)
"""A pan that loses nothing but by its ring."""
_WATER: Final = INDEX["water"]
_WATER_ALONE: Final = np.eye(len(ROW))[_WATER]
"""A kilogram of it."""
_ROOM_C: Final = 20.0
_PLAIN_C: Final = 100.0
"""Where a mix begins to boil, near enough for its steam: that holds the same heat."""


class Minutes(NamedTuple):
    """How long, with its likely range [min]."""

    value: Array
    low: Array
    high: Array


def ring_kind(words: str) -> str:
    """Which of `RINGS` a kitchen's own words name; empty if none.

    >>> ring_kind("large ring, induction"), ring_kind("small ring")
    ('induction', '')
    """
    plain = words.casefold()
    return next((kind for kind in RINGS if kind in plain), "")


@relation(sources()["choi-okos-1986"], from_C=(0.0, 150.0), to_C=(0.0, 150.0))
def boil_heat(
    masses_before: Masses, water_off_g: ArrayLike, from_C: ArrayLike, to_C: ArrayLike
) -> Array:
    """Heat that takes a mix to the end of its boil [kJ].

    Args:
        masses_before: masses of constituents, shape (..., len(ROW)) [g].
        water_off_g: water that leaves, shape (...) [g].
        from_C: how warm the mix is at first [°C].
        to_C: how hot what stays is in the end [°C].

    Returns:
        Shape (...); NaN where more water leaves than there is. The heat of dissolving
        and of browning is left out: under 2 % in a sugar boil.

    Source: Choi and Okos (1986) for what stays, IAPWS SR1-86(1992) for the steam.
    """
    off = np.asarray(water_off_g, float)
    begin, end = np.asarray(from_C, float), np.asarray(to_C, float)
    masses = np.asarray(masses_before, float)
    shape = np.broadcast_shapes(masses.shape[:-1], off.shape)
    stays = np.broadcast_to(masses, (*shape, masses.shape[-1])) / 1000
    left = stays[..., _WATER] - off / 1000
    stays = np.concatenate(
        (np.where(left < -1e-12, np.nan, left)[..., None], stays[..., 1:]), axis=-1
    )
    # steam leaves between plain boiling and the end; its heat hardly changes there
    leaves_at = np.maximum(begin, (_PLAIN_C + end) / 2)
    leaves = steam_enthalpy(leaves_at) - warming(_WATER_ALONE, 0.0, begin)
    steam = off / 1000 * leaves
    heat: Array = warming(stays, begin, end) + steam
    return heat


def boil_minutes(
    masses_before: Masses,
    water_off_g: ArrayLike,
    from_C: ArrayLike,
    to_C: ArrayLike,
    power_kW: ArrayLike,
    efficiency: tuple[float, float] = ANY_RING,
    loss_W_K: tuple[float, float] = NO_LOSS,
) -> Minutes:
    """How long a boil takes at full power, by its balance of heat [min].

    A ring that is turned down, and a pan that is stirred off the heat, take longer: the
    low end is a floor.

    Args:
        masses_before: masses of constituents, shape (..., len(ROW)) [g].
        water_off_g: water that leaves, shape (...) [g].
        from_C: how warm the mix is at first [°C].
        to_C: how hot what stays is in the end [°C].
        power_kW: what the ring draws [kW].
        efficiency: least and greatest share of it that reaches the mix.
        loss_W_K: least and greatest loss of the pan to a room at 20 °C, beyond what
            the efficiency tells [W/K].

    Returns:
        The middle, the low and the high end, shape (...) each; infinite where the pan
        loses all that the ring gives.
    """
    heat = boil_heat(masses_before, water_off_g, from_C, to_C)
    begin, end = np.asarray(from_C, float), np.asarray(to_C, float)
    at = np.maximum(begin, np.minimum(_PLAIN_C, end))
    first = warming(np.asarray(masses_before, float) / 1000, begin, at)
    power = np.asarray(power_kW, float)
    cases = (
        (sum(efficiency) / 2, sum(loss_W_K) / 2),
        (efficiency[1], loss_W_K[0]),
        (efficiency[0], loss_W_K[1]),
    )
    found = [
        _over(first, power * share - loss / 1000 * ((begin + at) / 2 - _ROOM_C))
        + _over(heat - first, power * share - loss / 1000 * ((at + end) / 2 - _ROOM_C))
        for share, loss in cases
    ]
    return Minutes(*found)


def _over(heat_kJ: Array, useful_kW: ArrayLike) -> Array:
    useful = np.asarray(useful_kW, float)
    dry = ~(useful > 0)
    value: Array = np.where(dry, np.inf, heat_kJ / np.where(dry, 1.0, useful) / 60)
    return value
