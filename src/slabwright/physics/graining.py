"""Whether the sugar of a mix is over what its water holds, and what holds it back.

Supersaturation alone grains nothing: a caramel is far over saturation all its life. It
tells what could happen; the trade's ratio of doctor sugars tells what has been seen to
happen. Both are worked out here, side by side, and none is hidden by the other.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from slabwright.physics.solubility import solubility, solubility_in
from slabwright.physics.species import AT, Array, Parts
from slabwright.source import relation, sources

DOCTOR_RATIO: Final = 1.25
"""Solids of glucose syrup for each gram of sucrose, at least, so that it does not grain
in store. A trade body's rule for caramels."""
CLEAR: Final = 1.0
"""Up to here a crystal would dissolve."""
GROWS: Final = 1.3
"""Over this a plain sugar syrup makes crystals by itself; between, one that is there
grows. From memory of sugar boiling; other sugars put it off."""
LACTOSE_GROWS: Final = 2.1
"""The same for lactose, which is slow: up to 1.6 times a seed hardly grows, to 2.1 it
must be seeded. From memory of milk technology; a stored page has milk jam at 1.94
times in the zone between."""
GLUCOSE_STAYS: Final = 1.7
GLUCOSE_GRAINS: Final = 2.1
"""Glucose for each gram of water: under 1.7 honey stays liquid long, over 2.1 it
grains soon."""
_DOCTORS: Final = [
    AT[name]
    for name in (
        "glucose", "fructose", "galactose", "maltose", "higher_saccharides",
        "polyols", "trehalose", "isomaltulose", "maltotriose", "sorbitol", "glycerol",
        "xylitol", "mannitol", "maltitol", "erythritol", "isomalt",
    )
]  # fmt: skip
_STEPS: Final = 30


def doctor_solids(parts: Parts) -> Array:
    """Mass of what keeps sucrose from graining: sugars but sucrose and lactose.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
    """
    result: Array = parts[..., _DOCTORS].sum(axis=-1)
    return result


@relation(sources()["doctor-rule"])
def doctor_ratio(parts: Parts) -> Array:
    """Doctor solids for each gram of sucrose; inf without sucrose, nan without both.

    Source: a trade body's page on the keeping of caramel gives at least 1.25.
    """
    doctors, sucrose = doctor_solids(parts), parts[..., AT["sucrose"]]
    empty = np.where(doctors > 0, np.inf, np.nan)
    with np.errstate(over="ignore"):
        result: Array = np.divide(doctors, sucrose, out=empty, where=sucrose > 0)
    return result


def supersaturation(parts: Parts, species: str, temperature_C: ArrayLike) -> Array:
    """How many times what its water holds of a sugar is there; 1 is saturated.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        species: `sucrose`, `lactose` or another of known solubility.
        temperature_C: how warm it lies, broadcast against the first axes.

    Returns:
        Likely, low and high end on a first axis, shape (3, ...); inf where there is
        sugar and no water, 0 where there is no such sugar.

    Raises:
        KeyError: for a species whose solubility is not known.
    """
    water, mass = parts[..., AT["water"]], parts[..., AT[species]]
    likely, low, high = solubility_in(parts, species, temperature_C)
    held = np.stack([likely, high, low]) * water / 100
    empty = np.where(mass > 0, np.inf, 0.0) * np.ones_like(held)
    with np.errstate(over="ignore"):
        result: Array = np.divide(
            np.broadcast_to(mass, held.shape), held, out=empty, where=held > 0
        )
    return result


def glucose_per_water(parts: Parts) -> Array:
    """Glucose for each gram of water; inf without water, 0 without glucose."""
    glucose, water = parts[..., AT["glucose"]], parts[..., AT["water"]]
    empty = np.where(glucose > 0, np.inf, 0.0)
    with np.errstate(over="ignore"):
        result: Array = np.divide(glucose, water, out=empty, where=water > 0)
    return result


def grams_for_ratio(
    parts: Parts,
    syrup: Parts,
    ratio: float = DOCTOR_RATIO,
    sugar: Parts | None = None,
) -> Array:
    """Grams of a syrup to take in place of sugar so that the ratio is reached.

    The sugars stay as heavy as they were: for each gram of syrup, its sugars' weight of
    those of the sugar is taken out.

    Args:
        parts: masses of species, shape (..., len(SPECIES)) [g].
        syrup: one gram of the syrup by species.
        ratio: what is to be reached.
        sugar: one gram of the sugar that is taken out, by species; sucrose if None.

    Returns:
        Grams, 0 where it is reached already, nan where this syrup never reaches it.
    """
    doctors, sucrose = doctor_solids(parts), parts[..., AT["sucrose"]]
    out = _sugar_out(syrup, sugar)
    # of each gram: doctors gained, sucrose gained, which is under zero
    brings = float(doctor_solids(syrup) - doctor_solids(out))
    sweets = float(syrup[AT["sucrose"]] - out[AT["sucrose"]])
    missing = ratio * sucrose - doctors
    gains = brings - ratio * sweets
    grams = missing / (gains if gains > 0 else np.nan)
    most = sucrose / -sweets if sweets < 0 else sucrose * np.nan
    reached = np.where(grams <= most, np.maximum(grams, 0.0), np.nan)
    result: Array = np.where(missing <= 0, 0.0, reached)
    return result


def _sugar_out(syrup: Parts, sugar: Parts | None) -> Parts:
    """What comes out for each gram of syrup, its water apart, by species [g/g]."""
    plain = sugar
    if plain is None:
        plain = np.zeros(syrup.shape[-1])
        plain[AT["sucrose"]] = 1.0
    dry = np.where(np.arange(plain.shape[-1]) == AT["water"], 0.0, plain)
    held = doctor_solids(dry) + dry[..., AT["sucrose"]]
    brought = doctor_solids(syrup) + syrup[..., AT["sucrose"]]
    result: Array = dry * (brought / held)[..., None]
    return result


def grams_added_for_ratio(
    parts: Parts, syrup: Parts, ratio: float = DOCTOR_RATIO
) -> Array:
    """Grams of a syrup to add, nothing taken out, so that the ratio is reached.

    Args:
        parts: masses of species, shape (..., len(SPECIES)) [g].
        syrup: one gram of the syrup by species.
        ratio: what is to be reached.

    Returns:
        Grams, 0 where it is reached already, nan where this syrup never reaches it.
    """
    missing = ratio * parts[..., AT["sucrose"]] - doctor_solids(parts)
    gains = float(doctor_solids(syrup) - ratio * syrup[AT["sucrose"]])
    grams = missing / gains if gains > 0 else missing * np.nan
    result: Array = np.where(missing <= 0, 0.0, grams)
    return result


def swapped(
    parts: Parts, syrup: Parts, grams: ArrayLike, sugar: Parts | None = None
) -> Parts:
    """A mix with grams of a syrup in place of as much sugar, water unchanged.

    The syrup's water is boiled off or left out elsewhere: what the layer ends with is
    kept.

    Args:
        parts: masses of species, shape (..., len(SPECIES)) [g].
        syrup: one gram of the syrup by species, or several that broadcast.
        grams: of the syrup.
        sugar: one gram of the sugar that is taken out, by species; sucrose if None.
    """
    g = np.asarray(grams, dtype=np.float64)[..., None]
    water = np.arange(syrup.shape[-1]) == AT["water"]
    brought = np.where(water, 0.0, syrup) - _sugar_out(syrup, sugar)
    result: Array = np.maximum(parts + g * brought, 0.0)
    return result


def grams_to_hold(
    parts: Parts,
    syrup: Parts,
    temperature_C: ArrayLike,
    under: float = CLEAR,
    sugar: Parts | None = None,
) -> Array:
    """Grams of a syrup in place of sugar that bring supersaturation under a limit.

    Args:
        parts: masses of species, shape (..., len(SPECIES)) [g].
        syrup: one gram of the syrup by species, or several that broadcast.
        temperature_C: how warm it lies.
        under: times of saturation, by the likely solubility.
        sugar: one gram of the sugar that is taken out, by species; sucrose if None.

    Returns:
        Grams, 0 where it is under it already, nan where not even all would do.
    """
    sweets = _sugar_out(syrup, sugar)[..., AT["sucrose"]] - syrup[..., AT["sucrose"]]
    sucrose = parts[..., AT["sucrose"]]
    most = np.divide(
        sucrose, sweets, out=np.zeros(np.broadcast_shapes(sucrose.shape, sweets.shape)),
        where=sweets > 0,
    )  # fmt: skip

    def over(grams: Array) -> NDArray[np.bool_]:
        mixed = swapped(parts, syrup, grams, sugar)
        found: NDArray[np.bool_] = _over(mixed, temperature_C) > under
        return found

    low, high = np.zeros_like(most), most
    enough = ~over(most)
    already = np.broadcast_to(_over(parts, temperature_C) <= under, enough.shape)
    for _ in range(_STEPS):  # more syrup never leaves more sucrose over: halving ends
        middle = (low + high) / 2
        still = over(middle)
        low, high = np.where(still, middle, low), np.where(still, high, middle)
    least: Array = np.where(already, 0.0, np.where(enough, high, np.nan))
    return least


def _over(parts: Parts, temperature_C: ArrayLike) -> Array:
    result: Array = supersaturation(parts, "sucrose", temperature_C)[0]
    return result


def water_to_hold(
    parts: Parts, species: str, temperature_C: ArrayLike, under: float = CLEAR
) -> Array:
    """Grams of water more that would just bring a sugar under a limit [g].

    Others thin out too, so it is reached step by step; 0 where it is under it.

    Args:
        parts: masses of species, shape (..., len(SPECIES)) [g].
        species: as of `supersaturation`.
        temperature_C: how warm it lies.
        under: times of saturation, by the likely solubility; 1 dissolves it all.
    """
    low = parts[..., AT["water"]].astype(np.float64)
    alone = solubility(species, temperature_C)
    # with half of it taken away by others, the most that can be needed
    high = np.maximum(low, parts[..., AT[species]] / alone * 100 * 4)
    for _ in range(_STEPS):
        middle = (low + high) / 2
        mixed = parts.astype(np.float64).copy()
        mixed[..., AT["water"]] = middle
        over = supersaturation(mixed, species, temperature_C)[0] > under
        low, high = np.where(over, middle, low), np.where(over, high, middle)
    dissolved = supersaturation(parts, species, temperature_C)[0] <= under
    result: Array = np.where(dissolved, 0.0, high - parts[..., AT["water"]])
    return result
