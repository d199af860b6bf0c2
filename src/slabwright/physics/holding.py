"""How much water each solute holds at a water activity, and mixes of them.

Solutions of one water activity can be poured together without change: each solute
keeps the water that it would hold alone (Zdanovskii, Stokes and Robinson). So the water
of a mix is a sum over what is dissolved, and the activity is where that sum is the
water there is. With tables over a fixed grid the sum is a product of matrices, which
is why a hundred thousand mixes cost little more than one.

The grid runs over `u = -ln(water activity)`. What the tables hold is u times the water
that a gram holds, because that stays finite where the water is nearly pure.
"""

from collections.abc import Callable
from functools import cache, lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from slabwright.composition import INDEX, ROW
from slabwright.physics.solute import AT_C, WATER_KG_MOL, ZERO_K, lowerings, solutes
from slabwright.physics.sorption import SOLIDS, held_water
from slabwright.physics.species import AT, SPECIES, Array, Parts

TOP_U: Final = 8.0
"""The driest point of the grid: a water activity of 0.0003."""
STEP: Final = 0.0125
"""Between tables, in 298.15 K over the temperature: some 4 K."""
SOLID_THETA: Final = 2.0
"""Power of 298.15 K over the temperature that the water held by protein, starch and
fibre goes by. Assumed: isotherms of foods shrink by about a third up to 100 °C."""
_POINTS: Final = 80
_POWER: Final = 2.5
_WATER: Final = AT["water"]
_ROWS: Final = 8192
"""Rows at a time: what fits a processor's cache."""

_NEWTON: Final = 5
_MANY: Final = 64
"""From so many rows a product of matrices is the shorter way."""
_TINY: Final = 1e-300

Node = Callable[[int], Array]
"""Gives the table of a whole number of steps, shape (len(SPECIES), points)."""


@cache
def grid() -> Array:
    """Values of u, close together where the water is nearly pure, shape (points,)."""
    value: Array = TOP_U * (np.arange(_POINTS) / (_POINTS - 1)) ** _POWER
    return value


def kelvin_ratio(temperature_C: ArrayLike) -> Array:
    """298.15 K over a temperature; NaN at or under the absolute zero."""
    kelvin = np.asarray(temperature_C, float) + ZERO_K
    value: Array = (AT_C + ZERO_K) / np.where(kelvin > 0, kelvin, np.nan)
    return value


@lru_cache(maxsize=64)
def node_of_ratio(number: int) -> Array:
    """The table where 298.15 K over the temperature is a whole number of steps."""
    return build(np.full(_POINTS, number * STEP))


def build(ratio: Array) -> Array:
    """Tables: u times the water that a gram of each species holds, along the grid.

    Args:
        ratio: 298.15 K over the temperature at each point of the grid.

    Returns:
        Shape (len(SPECIES), points); 0 for what holds no water.
    """
    u = grid()
    table = np.zeros((len(SPECIES), _POINTS))
    low, high = np.full((len(solutes()), _POINTS), -25.0), np.full((1, _POINTS), 20.0)
    for _ in range(50):  # of the logarithm of the molality, to one part in 10^13
        middle = (low + high) / 2
        under = lowerings(np.exp(middle), ratio) < u
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    for one, found in zip(solutes(), (low + high) / 2, strict=True):
        grams = 1000 * one.share / one.molar_mass_g_mol
        table[AT[one.species]] = u * grams * np.exp(-found)
        table[AT[one.species], 0] = grams * one.ions * WATER_KG_MOL
    held = held_water(_grams_of_solids(), np.exp(-u)[None, :]) * ratio**SOLID_THETA
    for at, name in enumerate(SOLIDS):
        table[AT[name]] = u * held[at]
    return table


@cache
def _grams_of_solids() -> Array:
    """A gram of each undissolved solid, shape (len(SOLIDS), 1, len(ROW))."""
    eye = np.eye(len(ROW))
    return eye[[INDEX[name] for name in SOLIDS]][:, None, :]


def solve(parts: Parts, position: Array, node: Node) -> Array:
    """Where the water that the tables say is held is the water there is: u.

    Args:
        parts: masses of species, shape (rows, len(SPECIES)).
        position: where between the tables each row lies, in steps; shape (rows,) or ().
        node: the tables. Between two of them everything runs straight.

    Returns:
        u, shape (rows,): 0 where nothing is dissolved, infinite where there is no
        water, NaN where there is neither, or a mass is no number or under 0.
    """
    if parts.size and not (parts.min() >= 0 and parts.max() < np.inf):
        sound = ((parts >= 0) & (parts < np.inf)).all(axis=1)
        found = np.full(len(parts), np.nan)
        where = position if position.ndim == 0 else position[sound]
        found[sound] = solve(parts[sound], where, node)
        return found
    found = np.full(len(parts), np.nan)
    if position.ndim == 0:
        if np.isfinite(position):
            lower, weight = _between(float(position))
            table = node(lower)
            if weight:
                table = table + weight * (node(lower + 1) - table)
            for at in range(0, len(parts), _ROWS):
                some = parts[at : at + _ROWS]
                found[at : at + _ROWS] = _root(some @ table, some[:, _WATER])
        return found
    fits = np.flatnonzero(np.isfinite(position))
    lowers = np.floor(position[fits]).astype(int)
    for lower in np.unique(lowers):
        rows = fits[lowers == lower]
        for at in range(0, len(rows), _ROWS):
            here = rows[at : at + _ROWS]
            some, weight = parts[here], (position[here] - lower)[:, None]
            one, other = (some @ node(int(lower) + n) for n in (0, 1))
            found[here] = _root(one + weight * (other - one), some[:, _WATER])
    return found


def held_by(parts: Parts, u: ArrayLike, ratio: ArrayLike) -> Array:
    """Water that parts hold together: `held_each` summed up, shape (...).

    Many rows, each of its own u, go through a product of matrices instead.
    """
    us, ratios = np.broadcast_arrays(np.asarray(u, float), np.asarray(ratio, float))
    if us.size < _MANY:
        value: Array = held_each(parts, us, ratios).sum(axis=-1)
        return value
    shape = np.broadcast_shapes(parts.shape[:-1], us.shape)
    wide = np.broadcast_to(parts, (*shape, len(SPECIES))).reshape(-1, len(SPECIES))
    us, ratios = (np.broadcast_to(one, shape).ravel() for one in (us, ratios))
    found = np.full(us.size, np.nan)
    fits = np.flatnonzero((us > 0) & (us <= TOP_U) & np.isfinite(ratios))
    lowers = np.floor(ratios[fits] / STEP).astype(int)
    for lower in np.unique(lowers):
        rows = fits[lowers == lower]
        for at in range(0, len(rows), _ROWS):
            here = rows[at : at + _ROWS]
            first, four = _lagrange(us[here])
            weight = ratios[here] / STEP - lower
            for n, share in enumerate((1 - weight, weight)):
                held = wide[here] @ node_of_ratio(int(lower) + n)
                at_four = np.take_along_axis(
                    held, first[:, None] + np.arange(4), axis=1
                )
                more = share * (at_four * four).sum(axis=1) / us[here]
                found[here] = more if n == 0 else found[here] + more
    rest = np.flatnonzero(us == 0)
    found[rest] = held_each(wide[rest], us[rest], ratios[rest]).sum(axis=-1)
    return found.reshape(shape)


def held_each(parts: Parts, u: ArrayLike, ratio: ArrayLike) -> Array:
    """Water that each part holds where u and the temperature are known.

    Args:
        parts: masses of species, shape (..., len(SPECIES)); water is ignored.
        u: -ln(water activity), shape (...) or one number.
        ratio: 298.15 K over the temperature, likewise.

    Returns:
        In the unit of the parts, shape (..., len(SPECIES)): infinite where u is 0 and
        something is dissolved; NaN where u is under 0 or over `TOP_U`.
    """
    us, ratios = (np.asarray(one, float) for one in (u, ratio))
    us, ratios = np.broadcast_arrays(us, ratios)
    shape = us.shape
    us, ratios = us.ravel(), ratios.ravel()
    per_gram = np.full((us.size, len(SPECIES)), np.nan)
    fits = np.flatnonzero((us >= 0) & (us <= TOP_U) & np.isfinite(ratios))
    lowers = np.floor(ratios[fits] / STEP).astype(int)
    for lower in np.unique(lowers):
        here = fits[lowers == lower]
        weight = (ratios[here] / STEP - lower)[:, None]
        one, other = (_along(node_of_ratio(int(lower) + n), us[here]) for n in (0, 1))
        with np.errstate(divide="ignore", invalid="ignore"):
            at = one + weight * (other - one)
            per_gram[here] = np.where(at > 0, at / us[here][:, None], 0.0)
    with np.errstate(invalid="ignore"):
        water = parts * per_gram.reshape(*shape, len(SPECIES))
    # none of a species holds none, even where a gram of it would hold all
    return np.where(np.asarray(parts) == 0, 0.0, water)


def _between(position: float) -> tuple[int, float]:
    """The node under a position, and how far it lies towards the next, 0 to under 1."""
    lower = int(np.floor(position + 1e-9))
    weight = position - lower
    return lower, weight if weight > 1e-9 else 0.0


def _root(held: Array, water: Array) -> Array:
    """Each row's u, from u times the water held along the grid, shape (rows, points).

    A cubic through four points of the grid, then Newton's method within its cell.
    """
    u = grid()
    over = held > u * water[:, None]
    # the first point that holds too little, the dilute end aside; none: the last cell
    cell = np.where(over[:, -1], _POINTS - 2, over[:, 1:].argmin(axis=1))
    first = np.clip(cell - 1, 0, _POINTS - 4)
    four = np.take_along_axis(held, first[:, None] + np.arange(4), axis=1)
    p = _cubic(four)
    low = (cell - first).astype(float)
    s, step = low + 0.5, 1 / (_POINTS - 1)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for _ in range(_NEWTON):
            # a root of t = (held / water / top)^(1/power): mild where it is thin too
            here = np.maximum(p[0] + s * (p[1] + s * (p[2] + s * p[3])), _TINY)
            slope = p[1] + s * (2 * p[2] + s * 3 * p[3])
            t = (here / (TOP_U * water)) ** (1 / _POWER)
            away = (first + s) * step - t
            s = s - away / (step - t / _POWER * slope / here)
            s = np.clip(s, low, low + 1)
        value = TOP_U * ((first + s) * step) ** _POWER
        beyond = TOP_U + np.log(held[:, -1] / (TOP_U * water))
    value = np.where(over[:, -1], beyond, value)
    nothing = held[:, 1:3].max(axis=1) <= 0
    return np.where(nothing, np.where(water > 0, 0.0, np.nan), value)


def _cubic(four: Array) -> Array:
    """Coefficients of the cubic through four values at 0, 1, 2, 3; shape (4, rows)."""
    a, b, c, d = four.T
    third = (d - 3 * c + 3 * b - a) / 6
    second = (c - 2 * b + a) / 2 - 3 * third
    first = b - a - second - third
    return np.array([a, first, second, third])


def _lagrange(u: Array) -> tuple[NDArray[np.intp], Array]:
    """The first of four points around each u, and the weights of all four."""
    t = (_POINTS - 1) * (u / TOP_U) ** (1 / _POWER)
    first = np.clip(np.floor(t).astype(int) - 1, 0, _POINTS - 4)
    s = t - first
    weights = (
        (1 - s) * (2 - s) * (3 - s) / 6,
        s * (2 - s) * (3 - s) / 2,
        s * (s - 1) * (3 - s) / 2,
        s * (s - 1) * (s - 2) / 6,
    )
    return first, np.stack(weights, axis=1)


def _along(table: Array, u: Array) -> Array:
    """A table read at values of u by the same cubic, shape (rows, len(SPECIES))."""
    first, four = _lagrange(u)
    points = table.T[first[:, None] + np.arange(4)]
    value: Array = (points * four[:, :, None]).sum(axis=1)
    return value
