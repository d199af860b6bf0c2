"""What water does not dissolve still holds it: isotherms of starch, protein and fibre.

An isotherm tells how much water a dry solid holds beside air, or beside another layer,
of a given water activity. Solids that lie together hold what each of them would hold
alone. Sugar crystals and fat hold none; dissolved things are no part of this.
"""

import csv
from functools import cache
from importlib.resources import files
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.composition import INDEX, Masses
from slabwright.physics.roots import crossing
from slabwright.physics.species import Array
from slabwright.source import Source, relation, sources

End = Literal["value", "low", "high"]
"""The likely value, or the end where the solids hold least or most water."""

SOLIDS: Final = ("starch", "protein", "fibre", "rest")
"""What holds water without dissolving."""

MEASURED_C: Final = 25.0
"""The temperature of the isotherms. A layer 10 °C colder shows an activity lower by
some hundredths at the same water: not worked out here."""

_TOP: Final = 0.999
"""Activities are sought up to here; beyond, the solids are afloat."""


class Isotherm(NamedTuple):
    """What a table says of one solid."""

    solid: str
    monolayer_g_g: float
    c: float
    k: float
    low_share: float
    """How much of that water it holds at the low end."""
    high_share: float
    monolayer_source: Source
    shape_source: Source


@relation(sources()["gab"], activity=(0.10, 0.90))
def gab(activity: ArrayLike, monolayer: ArrayLike, c: ArrayLike, k: ArrayLike) -> Array:
    """Water that a dry solid holds [g/g], by Guggenheim, Anderson and de Boer.

    Args:
        activity: water activity, 0 to under 1/k.
        monolayer: water of the first layer [g/g].
        c: how much more tightly the first layer is held than the next.
        k: how the next layers are held, against free water.

    Source: the equation as reprinted in many papers on food.
    """
    ka = np.asarray(k, float) * np.asarray(activity, float)
    first, tighter = np.asarray(monolayer, float), np.asarray(c, float)
    held: Array = first * tighter * ka / ((1 - ka) * (1 - ka + tighter * ka))
    return held


@relation(sources()["gab"], held=(0.0, 0.35))
def gab_activity(
    held: ArrayLike, monolayer: ArrayLike, c: ArrayLike, k: ArrayLike
) -> Array:
    """Water activity at which a dry solid holds so much water: `gab` turned round.

    Args:
        held: water [g per g of dry solid], 0 or more.
        monolayer: water of the first layer [g/g], over 0.
        c: as in `gab`, over 1.
        k: as in `gab`.

    Source: the positive root of the equation, a quadratic in the activity.
    """
    x = np.asarray(held, float) / np.asarray(monolayer, float)
    tighter = np.asarray(c, float)
    # x (1 - ka) (1 + (c - 1) ka) = c ka
    a, b = x * (tighter - 1), x * (2 - tighter) + tighter
    ka = 2 * x / (b + np.sqrt(b * b + 4 * a * x))
    activity: Array = ka / np.asarray(k, float)
    return activity


def held_water(masses: Masses, activity: ArrayLike, end: End = "value") -> Array:
    """Water that the undissolved solids of a mix hold [in the unit of the masses].

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        activity: water activity, shape (...) or one number; the isotherms were
            measured from 0.1 to 0.85 or 0.9.
        end: the likely value, or the end where they hold least or most.

    Source: `gab` with the table of isotherms, at 25 °C.
    """
    dry = masses[..., [INDEX[one] for one in SOLIDS]] * solid_shares(end)
    monolayer, c, k = _constants()
    a = np.asarray(activity, float)[..., None]
    held: Array = (dry * gab(a, monolayer, c, k)).sum(axis=-1)
    return held


def activity_of_solids(masses: Masses, water: ArrayLike, end: End = "value") -> Array:
    """Water activity at which the undissolved solids alone hold so much water.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        water: what they hold, in the unit of the masses, shape (...).
        end: as in `held_water`.

    Returns:
        Activity from 0 to 0.999; that where they would be afloat, or hold no water.
    """
    shape = np.broadcast_shapes(masses.shape[:-1], np.shape(water))
    wanted = np.broadcast_to(np.asarray(water, float), shape).ravel()
    rows = np.broadcast_to(masses, (*shape, masses.shape[-1]))
    rows = rows.reshape(-1, masses.shape[-1])
    found = crossing(
        lambda activity: held_water(rows, activity, end) - wanted,
        np.zeros(wanted.size),
        np.full(wanted.size, _TOP),
    )
    return found.reshape(shape)


@cache
def solid_shares(end: End) -> Array:
    """How much of its likely water each of `SOLIDS` holds at an end."""
    shares = {
        "value": [1.0 for _ in isotherms()],
        "low": [one.low_share for one in isotherms()],
        "high": [one.high_share for one in isotherms()],
    }
    return np.array(shares[end])


@cache
def isotherms() -> tuple[Isotherm, ...]:
    """The isotherm of each of `SOLIDS`, in their order."""
    found = files("slabwright.physics").joinpath("data", "isotherms.csv")
    lines = found.read_text("utf-8").splitlines()
    rows = {row["solid"]: row for row in csv.DictReader(lines)}
    return tuple(_isotherm(rows[name]) for name in SOLIDS)


def _isotherm(row: dict[str, str]) -> Isotherm:
    return Isotherm(
        row["solid"],
        float(row["monolayer_g_g"]),
        float(row["c"]),
        float(row["k"]),
        float(row["low_share"]),
        float(row["high_share"]),
        sources()[row["monolayer_source"]],
        sources()[row["shape_source"]],
    )


@cache
def _constants() -> tuple[Array, Array, Array]:
    return (
        np.array([one.monolayer_g_g for one in isotherms()]),
        np.array([one.c for one in isotherms()]),
        np.array([one.k for one in isotherms()]),
    )
