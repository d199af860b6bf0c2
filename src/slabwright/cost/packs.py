"""Whole packs: the cheapest combination of sizes that covers a need, exactly."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from heapq import heappop, heappush
from math import lcm
from typing import Final, NamedTuple

from slabwright.cost.prices import Price, exact

_PER_GRAM: Final = 1000
"""Packs and needs are counted in milligrams: finer than any kitchen's scale."""

State = dict[int, tuple[int, int, tuple[int, ...]]]
"""Milligrams bought: the money for it, how many packs, and how many of each."""


@dataclass(frozen=True, slots=True)
class Packs:
    """So many of one pack."""

    price: Price
    count: int

    @property
    def grams(self) -> Fraction:
        """What is in them [g]."""
        return exact(self.price.pack_g) * self.count

    @property
    def cost(self) -> Fraction:
        """What they cost."""
        return Fraction(self.price.price) * self.count


def cheapest(need_g: Fraction, offers: Sequence[Price]) -> tuple[Packs, ...]:
    """Whole packs that hold at least this much for the least money.

    Of equal sums of money the one that leaves least over, then the fewest packs. It is
    exact: whatever else is bought, the rest is filled up with the pack that is cheapest
    by the gram; of two ways to the same remainder of its mass only the better can be
    part of the best, so that few ways are left to try however much is needed.

    Args:
        need_g: what is needed [g]; to a milligram.
        offers: packs on sale, each above 0 g.
    """
    need = round(need_g * _PER_GRAM)
    if need <= 0 or not offers:
        return ()
    packs = _distinct(offers)
    weights = [round(exact(pack.pack_g) * _PER_GRAM) for pack in packs]
    unit = lcm(*(Fraction(pack.price).denominator for pack in packs))
    prices = [int(Fraction(pack.price) * unit) for pack in packs]
    order = sorted(
        range(len(packs)), key=lambda i: (Fraction(prices[i], weights[i]), -weights[i])
    )
    counts = _solve(need, [weights[i] for i in order], [prices[i] for i in order])
    found = (Packs(packs[i], n) for i, n in zip(order, counts, strict=True) if n)
    return tuple(sorted(found, key=lambda one: -one.price.pack_g))


def _distinct(offers: Sequence[Price]) -> list[Price]:
    """The cheapest of each size; a size of no milligram is none."""
    best: dict[int, Price] = {}
    for offer in offers:
        size = round(exact(offer.pack_g) * _PER_GRAM)
        if size > 0 and (size not in best or offer.price < best[size].price):
            best[size] = offer
    return list(best.values())


def _solve(need: int, weights: list[int], prices: list[int]) -> tuple[int, ...]:
    """How many of each, the cheapest by the gram first among them.

    Args:
        need: [mg].
        weights: of each pack [mg].
        prices: of each pack, whole.
    """
    if not weights:
        return ()
    best_g, best_price = weights[0], prices[0]
    states: State = {0: (0, 0, ())}
    limit = -(-need // best_g) * best_price
    for weight, price in zip(weights[1:], prices[1:], strict=True):
        states = _with_more(
            states, weight, price, _Goal(need, best_g, best_price, limit)
        )
        limit = min(limit, min(_filled(states, need, best_g, best_price))[0])
    return min(_filled(states, need, best_g, best_price))[-1]


class _Goal(NamedTuple):
    """What is to be covered, the cheapest pack by the gram, and the most to pay."""

    need: int
    best_g: int
    best_price: int
    limit: int


def _with_more(states: State, weight: int, price: int, goal: _Goal) -> State:
    """Each way with none, one or more of another pack, lightest first.

    A way is dropped if even at the cheapest price by the gram it would come out too
    dear, or if a lighter one of the same remainder is as good once the cheapest packs
    make up the difference.
    """
    grown: State = {g: (cost, n, (*counts, 0)) for g, (cost, n, counts)
                    in states.items()}  # fmt: skip
    heap = sorted(grown)
    least: dict[int, tuple[int, int]] = {}
    kept: State = {}
    while heap:
        bought = heappop(heap)
        cost, packs, counts = grown[bought]
        swapped, remainder = divmod(bought, goal.best_g)
        excess = (cost - swapped * goal.best_price, packs - swapped)
        if remainder in least and least[remainder] <= excess:
            continue
        least[remainder] = excess
        kept[bought] = grown[bought]
        more, dearer = bought + weight, cost + price
        rest = max(0, goal.need - more)
        too_dear = dearer * goal.best_g + rest * goal.best_price
        if bought >= goal.need or too_dear > goal.limit * goal.best_g:
            continue
        new = (dearer, packs + 1, (*counts[:-1], counts[-1] + 1))
        if more not in grown:
            heappush(heap, more)
        if more not in grown or new[:2] < grown[more][:2]:
            grown[more] = new
    return kept


def _filled(
    states: State, need: int, best_g: int, best_price: int
) -> Iterator[tuple[int, int, int, tuple[int, ...]]]:
    """Each way filled up with the cheapest pack: money, left over, packs, counts."""
    for bought, (cost, packs, counts) in states.items():
        n = max(0, -(-(need - bought) // best_g))
        left = bought + n * best_g - need
        yield cost + n * best_price, left, packs + n, (n, *counts)
