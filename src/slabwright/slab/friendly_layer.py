"""The best amounts of one layer: every scale that can win, each rounded at its best.

A layer's distortion is smallest at a scale at which some line, or some group, comes out
exactly: elsewhere it could be moved at no cost. There are some hundreds of such scales.
At one of them the lines no longer depend on each other but for the layer's depth. Each
is rounded to its nearest step, and what it costs to round it the other way is known, so
the cheapest way to move the sum by so many steps is to turn the cheapest lines, one
after the other. Scales are taken in the order of a lower bound (the depth priced at
every rate that it can be worth) until none is left that could do better. So what is
found is the best, and proved to be.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor, inf
from typing import Final

import numpy as np
from numpy.typing import NDArray

from slabwright.slab.distortion import Score, Term, Want, Weights, score_of, terms

Array = NDArray[np.float64]

_SAME: Final = 1e-9
"""Closer than this share of a step or a layer is the same."""
_RATES: Final = 17
"""At so many rates the depth is priced for the lower bound."""
WINDOWS: Final = (0, 3, 2, 2, 1)
"""So far a count may be from its layer's scale, by how many lines are counted."""


@dataclass(frozen=True, slots=True)
class Found:
    """Amounts of one layer and what they cost."""

    amounts_g: tuple[float, ...]
    score: Score


@dataclass(frozen=True, slots=True)
class _Layer:
    """A layer's lines as arrays, those that are weighed apart from the rest."""

    wants: tuple[Want, ...]
    weights: Weights
    given: Mapping[int, float]
    """Lines whose grams are settled [g]."""
    counted: tuple[int, ...]
    free: tuple[int, ...]

    @property
    def whole_g(self) -> float:
        return sum(want.grams for want in self.wants)

    def of(self, numbers: Sequence[int], what: str) -> Array:
        """One property of these lines."""
        return np.array([getattr(self.wants[i], what) for i in numbers], float)


def best_of_layer(
    wants: Sequence[Want],
    weights: Weights,
    how_many: int = 1,
    given: Mapping[int, float] | None = None,
    scales: tuple[float, float] = (0.0, inf),
) -> tuple[Found, ...]:
    """The best amounts of one layer, one for each way to count what is counted.

    A weighed line is never more than a step from its layer's scale, and never 0; a
    count never more than `WINDOWS` pieces.

    Args:
        wants: its lines.
        weights: what counts how much.
        how_many: so many ways to count, at most.
        given: grams of lines that are settled, by their number [g].
        scales: least and greatest scale of the layer, within what the weights allow.

    Returns:
        The best first; none if nothing keeps the limit.
    """
    settled = dict(given or {})
    numbers = range(len(wants))
    counted = tuple(i for i in numbers if i not in settled and wants[i].counted)
    free = tuple(i for i in numbers if i not in settled and i not in counted)
    layer = _Layer(tuple(wants), weights, settled, counted, free)
    low = max(1.0 - weights.limit, scales[0])
    high = min(1.0 + weights.limit, scales[1])
    if low > high:
        return ()
    return _search(_Trial.at(layer, _candidates(layer, low, high)), how_many)


# --- scales and counts --------------------


def _candidates(layer: _Layer, low: float, high: float) -> Array:
    """Scales at which a line or a group comes out exactly, and the ends."""
    exact = [np.array([low, high, min(max(1.0, low), high)])]
    for number in (*layer.free, *layer.counted):
        want = layer.wants[number]
        step_g = want.each_g if want.counted and want.each_g else want.step_g
        first, last = (edge * want.grams / step_g for edge in (low, high))
        steps = np.arange(max(1, ceil(first - _SAME)), floor(last + _SAME) + 1)
        exact.append(steps * step_g / want.grams)
    exact.append(np.array([g / layer.wants[i].grams for i, g in layer.given.items()]))
    scales = _within(np.concatenate(exact), low, high)
    for term in terms(layer.wants, layer.weights):
        if term.group and layer.counted:
            pieces_g, known = _pieces(layer, scales)
            places = [layer.counted.index(member) for member in term.members]
            asked_g = sum(layer.wants[i].grams for i in term.members)
            sums = pieces_g[:, :, places].sum(axis=2)[known] / asked_g
            scales = _within(np.concatenate([scales, sums]), low, high)
    return scales


def _within(scales: Array, low: float, high: float) -> Array:
    inside = scales[(scales >= low - _SAME) & (scales <= high + _SAME)]
    return np.unique(np.clip(inside, low, high).round(12))


def _pieces(layer: _Layer, scales: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Grams of what is counted, in every way to count it near each scale.

    Returns:
        Shape (scales, ways, lines counted) [g], and which ways there are.
    """
    count = len(layer.counted)
    window = WINDOWS[min(count, len(WINDOWS) - 1)]
    around = list(product(range(-window, window + 1), repeat=count))
    ways = np.array(around, float).reshape(len(around), count)
    each_g = layer.of(layer.counted, "each_g")
    exact = scales[:, None] * layer.of(layer.counted, "grams") / each_g
    counts = np.rint(exact)[:, None, :] + ways
    near = np.abs(counts - exact[:, None, :]) <= window + _SAME
    known = (near & (counts >= 1)).all(axis=2)
    return counts * each_g, known


# --- every scale at once --------------------


@dataclass(frozen=True, slots=True)
class _Trial:
    """A layer at every scale that may be its best."""

    layer: _Layer
    scales: Array
    pieces_g: Array
    """Shape (scales, ways, lines counted) [g]."""
    known: NDArray[np.bool_]
    """Which ways there are at which scale."""
    steps: Array
    """Each weighed line's nearest whole steps, shape (scales, lines weighed)."""
    more: Array
    """What one step more of it costs, the same shape [g]; infinite if not allowed."""
    less: Array
    nearest: Array
    """Cost of every weighed line at its nearest, shape (scales,) [g]."""
    settled: Array
    """Cost of what is counted or given, shape (scales, ways) [g]."""
    over_g: Array
    """What all of that is over the layer's mass, shape (scales, ways) [g]."""

    @classmethod
    def at(cls, layer: _Layer, scales: Array) -> "_Trial":
        pieces_g, known = _pieces(layer, scales)
        step_g, care = layer.of(layer.free, "step_g"), layer.of(layer.free, "care")
        exact = scales[:, None] * layer.of(layer.free, "grams") / step_g
        steps = np.maximum(1.0, np.rint(exact))
        off, unit = np.abs(steps - exact), care * step_g
        more = np.where(steps <= exact + _SAME, 1.0 - 2.0 * off, inf)
        less = np.where((steps >= exact - _SAME) & (steps > 1.5), 1.0 - 2.0 * off, inf)
        for other in (more, less):  # what comes out exactly may be turned either way
            other[np.isfinite(other) & (off <= _SAME)] = 1.0
        rest_g = (steps * step_g).sum(axis=1) + sum(layer.given.values())
        return cls(
            layer, scales, pieces_g, known, steps, more * unit, less * unit,
            (off * unit).sum(axis=1),
            _settled(layer, scales, pieces_g),
            pieces_g.sum(axis=2) + (rest_g - layer.whole_g)[:, None],
        )  # fmt: skip

    def least(self) -> Array:
        """What each scale and way costs at the least, shape (scales, ways) [g]."""
        depth = self.layer.weights.depth
        step_g = self.layer.of(self.layer.free, "step_g")
        least = np.full(self.over_g.shape, -inf)
        for rate in np.linspace(-depth, depth, _RATES):
            turned = np.minimum(self.more + rate * step_g, self.less - rate * step_g)
            gained = np.minimum(turned, 0.0).sum(axis=1)
            np.maximum(least, gained[:, None] + rate * self.over_g, out=least)
        bound = least + self.nearest[:, None] + self.settled
        return np.where(self.known & self._within_reach(step_g), bound, inf)

    def _within_reach(self, step_g: Array) -> NDArray[np.bool_]:
        """Whether turning lines can bring the layer within its limit at all."""
        up_g = (np.isfinite(self.more) * step_g).sum(axis=1)[:, None]
        down_g = (np.isfinite(self.less) * step_g).sum(axis=1)[:, None]
        limit_g = _limit_g(self.layer)
        reach: Array = np.maximum(self.over_g - down_g, -self.over_g - up_g)
        return reach <= limit_g

    def plainly(self) -> Array:
        """What each costs with every line at its nearest step; infinite if too far."""
        depth, limit_g = self.layer.weights.depth, _limit_g(self.layer)
        cost = self.nearest[:, None] + self.settled + depth * np.abs(self.over_g)
        return np.where(self.known & (np.abs(self.over_g) <= limit_g), cost, inf)


def _limit_g(layer: _Layer) -> float:
    return (layer.weights.limit + _SAME) * layer.whole_g


def _settled(layer: _Layer, scales: Array, pieces_g: Array) -> Array:
    cost = np.zeros(pieces_g.shape[:2])
    for term in terms(layer.wants, layer.weights):
        if any(member in layer.free for member in term.members):
            continue
        cost += term.weight * np.abs(_off_g(layer, term, scales, pieces_g))
    return cost


def _off_g(layer: _Layer, term: Term, scales: Array, pieces_g: Array) -> Array:
    asked_g = sum(layer.wants[i].grams for i in term.members)
    off = np.zeros(pieces_g.shape[:2]) - (scales * asked_g)[:, None]
    for member in term.members:
        if member in layer.given:
            off += layer.given[member]
        else:
            off += pieces_g[:, :, layer.counted.index(member)]
    return off


# --- one scale after the other --------------------


def _search(trial: _Trial, how_many: int) -> tuple[Found, ...]:
    """The best of each way to count, until no other can be among the first."""
    least = trial.least()
    bar = _nth_best(trial, how_many)
    costs: dict[tuple[float, ...], float] = {}
    amounts: dict[tuple[float, ...], tuple[float, ...]] = {}
    slack = _SAME * trial.layer.whole_g
    for flat in np.argsort(least, axis=None, kind="stable"):
        at, way = divmod(int(flat), least.shape[1])
        if not least[at, way] <= bar + slack:
            break
        key = tuple(trial.pieces_g[at, way].tolist())
        worst = min(costs.get(key, inf), bar + slack)
        if least[at, way] >= worst:
            continue
        found = _best_at(trial, at, way, worst)
        if found is None:
            continue
        costs[key], amounts[key] = found
        if len(costs) >= how_many:
            bar = min(bar, sorted(costs.values())[how_many - 1])
    wants, weights = trial.layer.wants, trial.layer.weights
    best = sorted(costs, key=lambda key: (costs[key], key))[:how_many]
    return tuple(
        Found(amounts[key], score_of(wants, amounts[key], weights)) for key in best
    )


def _nth_best(trial: _Trial, how_many: int) -> float:
    """A cost that so many ways to count surely keep; infinite if not so many do."""
    plainly = trial.plainly()
    possible = np.isfinite(plainly)
    ways = trial.pieces_g[possible]
    if not len(ways):
        return inf
    _, group = np.unique(ways, axis=0, return_inverse=True)
    best = np.full(int(group.max()) + 1, inf)
    np.minimum.at(best, group.reshape(-1), plainly[possible])
    return float(np.sort(best)[how_many - 1]) if len(best) >= how_many else inf


def _best_at(
    trial: _Trial, at: int, way: int, below: float
) -> tuple[float, tuple[float, ...]] | None:
    """The cheapest amounts at one scale and count that cost less than `below` [g]."""
    layer = trial.layer
    over_g, start = trial.over_g[at, way], trial.nearest[at] + trial.settled[at, way]
    curves = list(_curves(trial, at, below - start))
    cost, moved_g = np.zeros(1), np.zeros(1)
    for curve in curves:
        cost = np.add.outer(cost, curve.cost).reshape(-1)
        moved_g = np.add.outer(moved_g, curve.moved_g).reshape(-1)
    off_g = np.abs(over_g + moved_g)
    total = np.where(off_g <= _limit_g(layer), cost + layer.weights.depth * off_g, inf)
    best = int(np.argmin(total))
    if not start + total[best] < below:
        return None
    steps = trial.steps[at].copy()
    shape = tuple(len(curve.cost) for curve in curves)
    for curve, place in zip(curves, np.unravel_index(best, shape), strict=True):
        turns = int(place) - len(curve.down)
        steps[curve.up[: max(turns, 0)]] += 1
        steps[curve.down[: max(-turns, 0)]] -= 1
    return float(start + total[best]), _amounts(layer, steps, trial.pieces_g[at, way])


@dataclass(frozen=True, slots=True)
class _Curve:
    """Lines of one step: what it costs to turn so many of them up or down."""

    up: NDArray[np.intp]
    """Places of the lines among those weighed, cheapest first."""
    down: NDArray[np.intp]
    cost: Array
    """From all down to all up [g]."""
    moved_g: Array


def _curves(trial: _Trial, at: int, below: float) -> Iterator[_Curve]:
    """A curve for each size of step, without turns that cost more than `below`."""
    step_g = trial.layer.of(trial.layer.free, "step_g")
    for size in np.unique(step_g):
        places = np.flatnonzero(step_g == size)
        up, dear = _cheapest(places, trial.more[at], below)
        down, dear_down = _cheapest(places, trial.less[at], below)
        cost = np.concatenate([dear_down[::-1], [0.0], dear])
        yield _Curve(up, down, cost, size * np.arange(-len(down), len(up) + 1))


def _cheapest(
    places: NDArray[np.intp], costs: Array, below: float
) -> tuple[NDArray[np.intp], Array]:
    order = places[np.argsort(costs[places], kind="stable")]
    sums = np.cumsum(costs[order])
    keep = int(np.searchsorted(sums, below)) if below < inf else len(sums)
    keep = min(keep, int(np.isfinite(sums).sum()))
    return order[:keep], sums[:keep]


def _amounts(layer: _Layer, steps: Array, pieces_g: Array) -> tuple[float, ...]:
    amounts = dict(layer.given)
    for place, number in enumerate(layer.counted):
        amounts[number] = float(pieces_g[place])
    for place, number in enumerate(layer.free):
        amounts[number] = float(round(steps[place] * layer.wants[number].step_g, 6))
    return tuple(amounts[number] for number in range(len(layer.wants)))
