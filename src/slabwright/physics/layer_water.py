"""Water activity of a whole layer: its syrup and its crumb share the water.

What is dissolved and what is not lie side by side, so both have the same water
activity; the water that each holds there adds up to the water there is. Sugar beyond
what the water can dissolve lies as crystals, which hold none, or as a glass, which
holds what it would in solution.
"""

from collections.abc import Iterator, Sequence
from functools import cache, lru_cache, reduce
from itertools import pairwise
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from slabwright.composition import INDEX, Masses, zeros
from slabwright.physics.activity import dissolved_water, water_activity
from slabwright.physics.solubility import (
    left_beside,
    others_per_water,
    salt_solubility,
    solubility,
)
from slabwright.physics.solute import solutes
from slabwright.physics.sorption import SOLIDS, End, held_water, solid_shares
from slabwright.physics.species import AT, SPECIES, Array, Parts, parts_of

HOLDS: Final = "0.1 to 1, at 25 °C"
"""Where the isotherms of crumb, and of most solutions, were measured."""
SUGARS: Final = ("sucrose", "lactose")
"""Sugars that lie as crystals where the water can't dissolve them. Glucose does so
slowly, fructose hardly ever."""
SALTS: Final = ("salt", "minerals")
"""What crystallises as well: in a dry crumb they hold no water."""
_MINERALS: Final = 0.57
"""Grams of minerals that a gram of water dissolves, by the part of them that counts as
potassium chloride. From memory."""

_CRYSTALLINE: Final = (*SUGARS, *SALTS)
_ORDER: Final = (0, 1, 2, 3, 0, 1)
"""Which crystallises first is not known: sugars are looked at once more after all."""
_OTHERS: Final = 10.0
"""Grams of other sugars per gram of water beyond which nothing changes any more."""
_ENDS: Final[tuple[tuple[int, End], ...]] = ((1, "value"), (2, "high"), (0, "low"))
"""Which of low, likely and high goes with each end: most water held is driest."""
_ROWS: Final = 1024
"""Rows at a time."""
_FEW: Final = 64
"""Up to so many rows the whole grid at once is quickest."""
_STEPS: Final = (28, 7)
"""Points of the grid stepped over when many rows are looked for, far and then near."""


class WaterActivity(NamedTuple):
    """A water activity with its likely range, each of the shape of the rows."""

    value: Array
    low: Array
    high: Array


def layer_water_activity(
    masses: Masses,
    temperature_C: float = 25.0,
    dissolved: tuple[ArrayLike, ArrayLike, ArrayLike] = (0.0, 0.0, 0.0),
    crumb: tuple[float, float, float] = (1.0, 1.0, 1.0),
) -> WaterActivity:
    """Water activity of a layer as it lies [1].

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        temperature_C: of the layer; isotherms and most solutions were measured at
            25 °C.
        dissolved: of the sugar that the water can't dissolve, the share that lies in
            it all the same, as a glass or a thick syrup: low, likely and high, shape
            (...) or one number each. 1 for caramel, 0 for fudge and chocolate.
        crumb: how much of the water of raw solids those of this layer hold: low,
            likely and high; less than 1 where they were baked or roasted.

    Returns:
        Likely value, low and high end: by what each solute is doubted, by the ends of
        the isotherms and by the ends of `dissolved`. 1 where water is all there is, 0
        where there is none, NaN where there is nothing to tell it by.
    """
    parts = parts_of(masses)
    value, least, most = _activity(
        parts, temperature_C, tuple(dissolved[at] for at, _ in _ENDS),
        tuple((end, crumb[at]) for at, end in _ENDS),
    )  # fmt: skip
    return _ordered(value, least, most)


def syrup_of(
    masses: Masses,
    activity: ArrayLike,
    temperature_C: float = 25.0,
    dissolved: ArrayLike = 0.0,
    crumb: float = 1.0,
) -> Parts:
    """The water of a layer that no crumb holds, and what is dissolved in it.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        activity: the layer's water activity, as `layer_water_activity` has it, (...).
        temperature_C: of the layer.
        dissolved: as in `layer_water_activity`, the likely one.
        crumb: likewise.

    Returns:
        Masses of species, shape (..., len(SPECIES)): no fat, no crumb, no crystals.
    """
    parts = parts_of(masses)
    syrup = parts * _is_dissolved()
    beside = crumb * held_water(
        masses, np.clip(np.nan_to_num(np.asarray(activity, float)), 0.0, 0.999)
    )
    water = parts[..., AT["water"]]
    syrup[..., AT["water"]] = np.clip(water - beside, 0.0, water)
    rooms = _rooms(parts, temperature_C)
    for name, room in zip(_CRYSTALLINE, rooms, strict=True):
        mass = parts[..., AT[name]]
        fits = np.minimum(mass, room * syrup[..., AT["water"]])
        lying = np.asarray(dissolved, float) * (name in SUGARS)
        syrup[..., AT[name]] = fits + lying * (mass - fits)
    return syrup


def activity_at_rest(
    layers: Sequence[Masses],
    dissolved: Sequence[tuple[float, float, float]],
    crumb: Sequence[tuple[float, float, float]],
    temperature_C: float = 25.0,
) -> WaterActivity:
    """Water activity at which layers end that share their water and nothing else [1].

    Args:
        layers: masses of constituents of each, shape (len(ROW),), all in one unit.
        dissolved: of each, as in `layer_water_activity`.
        crumb: likewise.
        temperature_C: of all of them.

    Returns:
        One activity for all: what each holds there adds up to the water there is.
    """
    rows = parts_of(np.stack(list(layers)))
    weighed = np.concatenate([
        row[None] * _weights(end, one[at])
        for at, end in _ENDS
        for row, one in zip(rows, crumb, strict=True)
    ])  # fmt: skip
    share = np.array([one[at] for at, _ in _ENDS for one in dissolved])
    room = np.tile(_rooms(rows, temperature_C), len(_ENDS))
    held = _held(weighed, share, room, _tables(temperature_C))
    together = held.reshape(len(_ENDS), len(rows), -1).sum(axis=1)
    water = np.full(len(_ENDS), rows[:, AT["water"]].sum())
    log_u = _tables(temperature_C).log_u
    value, low, high = np.exp(-_meeting(together, water, log_u))
    return _ordered(value, low, high)


def _ordered(value: Array, low: Array, high: Array) -> WaterActivity:
    """Ends around their value: at a cliff of crystals cells of the grid may cross."""
    return WaterActivity(value, np.fmin(low, value), np.fmax(high, value))


def _activity(
    parts: Parts,
    temperature_C: float,
    dissolved: tuple[ArrayLike, ...],
    ends: tuple[tuple[End, float], ...],
) -> Array:
    """Water activity for each of several ends, on a first axis."""
    shape = parts.shape[:-1]
    rows = parts.reshape(-1, len(SPECIES))
    weighed = np.concatenate([rows * _weights(*end) for end in ends])
    share = np.concatenate([
        np.broadcast_to(np.asarray(one, float), shape).ravel() for one in dissolved
    ])  # fmt: skip
    water = np.tile(rows[:, AT["water"]], len(ends))
    room = np.tile(_rooms(rows, temperature_C), len(ends))
    found = _solved(weighed, share, room, water, _tables(temperature_C))
    return np.exp(-found).reshape(len(ends), *shape)


def _solved(
    rows: Parts, share: Array, room: Array, water: Array, tables: "_Tables"
) -> Array:
    """U of each row; many rows are looked for coarsely first, then cell by cell."""
    if len(rows) <= _FEW:
        return _meeting(_held(rows, share, room, tables), water, tables.log_u)
    first = np.zeros(len(rows), dtype=np.intp)
    last = len(tables.log_u) - 1
    for width, step in pairwise((last, *_STEPS)):
        for at, here in _alike(first):
            end = min(at + width, last)
            some = _part(tables, [*range(at, end, step), end])
            held = _held(rows[here], share[here], room[:, here], some)
            more = (held > water[here, None]).sum(axis=1)
            first[here] += step * np.clip(more - 1, 0, len(some.log_u) - 2)
    found = np.empty(len(rows))
    for at, here in _alike(first):
        some = _part(tables, range(at, min(at + _STEPS[-1], last) + 1))
        held = _held(rows[here], share[here], room[:, here], some)
        found[here] = _meeting(held, water[here], some.log_u)
    return found


def _alike(first: NDArray[np.intp]) -> Iterator[tuple[int, NDArray[np.intp]]]:
    """Rows that are looked for from the same point of the grid on, some at a time."""
    for at in np.unique(first):
        same = np.flatnonzero(first == at)
        for piece in range(0, len(same), _ROWS):
            yield int(at), same[piece : piece + _ROWS]


def _held(rows: Parts, share: Array, rooms: Array, tables: "_Tables") -> Array:
    """Water that rows hold along the grid, shape (rows, points).

    Of a sugar that crystallises, d is dissolved where the water around it is that of
    the others and its own, h for each gram: d = room (others + d h).
    """
    others, solids = rows @ tables.others, rows @ tables.solids
    whole = [rows[:, AT[name]][:, None] for name in _CRYSTALLINE]
    own = tables.crystalline
    there = [i for i, mass in enumerate(whole) if mass.any()]
    kept = {i: whole[i] * own[i] for i in there}
    is_glass = share.min(initial=1.0) == 1
    for i in _ORDER:  # each beside what the others leave in the water
        is_sugar = _CRYSTALLINE[i] in SUGARS
        if i not in kept or (is_sugar and is_glass):
            continue
        room = rooms[i][:, None]
        free = np.maximum(1 - room * own[i], 0.0)
        beside = [kept[j] for j in there if j != i]
        fits = others + reduce(np.add, beside) if beside else others.copy()
        fits *= room
        with np.errstate(divide="ignore", invalid="ignore"):
            fits /= free  # nothing is free where all of it fits
        np.fmin(fits, whole[i], out=fits)
        if is_sugar:
            fits += share[:, None] * (whole[i] - fits)
        fits *= own[i]
        kept[i] = fits
    held: Array = others + solids
    if kept:
        held += reduce(np.add, kept.values())
    return held


def _meeting(held: Array, water: Array, log_u: Array) -> Array:
    """U where the water held, falling along the grid, is the water there is."""
    more = (held > water[:, None]).sum(axis=1)
    rows, cell = np.arange(len(water)), np.clip(more - 1, 0, len(log_u) - 2)
    with np.errstate(divide="ignore", invalid="ignore"):
        above, below = (np.log(held[rows, cell + n]) for n in (0, 1))
        step = (above - np.log(water)) / (above - below)
        # where crystals begin, the water held falls off a cliff
        step = np.where(np.isfinite(below), step, 0.5)
        width = log_u[cell + 1] - log_u[cell]
        between = np.exp(log_u[cell] + np.clip(step, 0.0, 1.0) * width)
        thin = np.exp(log_u[0]) * held[:, 0] / water  # nearly pure: held goes by 1/u
    found = np.where(more == 0, thin, between)
    found = np.where((more == len(log_u)) | (water <= 0), np.inf, found)
    return np.where((held[:, 0] > 0) | (water > 0), found, np.nan)


def _rooms(parts: Parts, temperature_C: float) -> Array:
    """Grams of each of what crystallises that a gram of water holds beside the others.

    Returns:
        Shape (len(_CRYSTALLINE), ...).
    """
    others = np.stack([others_per_water(parts, name) for name in SUGARS])
    left: Array = left_beside(np.minimum(others, _OTHERS))[0]
    alone = _alone(temperature_C)
    sugars = [beside * most / 100 for beside, most in zip(left, alone, strict=True)]
    salts = [
        np.full(parts.shape[:-1], _room_of_salt(name, temperature_C)) for name in SALTS
    ]
    return np.stack([*sugars, *salts])


@lru_cache(maxsize=16)
def _alone(temperature_C: float) -> tuple[Array, ...]:
    """Grams of each sugar that 100 g of water holds alone."""
    return tuple(solubility(name, temperature_C) for name in SUGARS)


@lru_cache(maxsize=16)
def _room_of_salt(species: str, temperature_C: float) -> float:
    if species == "salt":
        return float(salt_solubility(temperature_C)) / 100
    return _MINERALS


class _Tables(NamedTuple):
    """Water that a gram of each species holds along the grid."""

    others: Array
    """Shape (len(SPECIES), points); 0 for solids and for what crystallises."""
    solids: Array
    """Likewise, of solids only."""
    crystalline: tuple[Array, ...]
    """Of each of what crystallises, shape (points,)."""
    log_u: Array
    """Logarithm of u along the grid, shape (points,)."""


def _part(tables: _Tables, points: Sequence[int]) -> _Tables:
    return _Tables(
        tables.others[:, points],
        tables.solids[:, points],
        tuple(one[points] for one in tables.crystalline),
        tables.log_u[points],
    )


@lru_cache(maxsize=16)
def _tables(temperature_C: float) -> _Tables:
    grid = _grid(temperature_C)
    activity = np.exp(-grid)
    shape = (len(SPECIES), len(activity))
    others, solids = np.zeros(shape), np.zeros(shape)
    gram = np.eye(len(SPECIES))
    for one in solutes():
        at = AT[one.species]
        others[at] = dissolved_water(gram[at], activity[:, None], temperature_C)[:, 0]
    crystalline = tuple(others[AT[name]].copy() for name in _CRYSTALLINE)
    others[[AT[name] for name in _CRYSTALLINE]] = 0.0
    for name in SOLIDS:
        made = zeros()
        made[INDEX[name]] = 1.0
        solids[AT[name]] = held_water(made, activity)
    return _Tables(others, solids, crystalline, np.log(grid))


_AROUND: Final = (-3e-3, -1e-3, -1e-4, 0.0, 1e-4, 1e-3, 3e-3)
"""Where the grid stands around the cliff of salt, as shares of its u."""


def _grid(temperature_C: float) -> Array:
    """Values of u = -ln(activity): dense from 0.98 to 0.05, where layers lie.

    Over brine that holds all the salt it can, the water held falls off a cliff: there
    it is denser, so that brine with crystals comes out at its own activity.
    """
    brine = np.zeros(len(SPECIES))
    brine[[AT["salt"], AT["water"]]] = _room_of_salt("salt", temperature_C), 1.0
    cliff = -np.log(water_activity(brine, temperature_C))
    value: Array = np.concatenate([
        np.geomspace(1e-4, 0.02, 24, endpoint=False),
        np.geomspace(0.02, 3.0, 160, endpoint=False),
        np.geomspace(3.0, 8.0, 13),
        cliff * (1 + np.array(_AROUND)),
    ])  # fmt: skip
    return np.sort(value)


@cache
def _weights(end: End, crumb: float) -> Array:
    """How much of its likely water each species holds at an end."""
    weights = np.ones(len(SPECIES))
    sign = {"value": 0.0, "high": 1.0, "low": -1.0}[end]
    for one in solutes():
        weights[AT[one.species]] += sign * one.doubt
    weights[[AT[name] for name in SOLIDS]] = crumb * solid_shares(end)
    return weights


@cache
def _is_dissolved() -> Array:
    found = np.zeros(len(SPECIES))
    found[[AT[one.species] for one in solutes()]] = 1.0
    return found
