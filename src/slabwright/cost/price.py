"""From a cost to a price and back: margin, mark-up, the maker's line, price points.

All exact. The cost is that of what is sold, before tax; the net price is what stays of
the price without tax. Arithmetic of the trade, no source.
"""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from typing import Final

from slabwright.kitchen import MakersLine

PENNY: Final = Fraction(1, 100)


def margin(net: Fraction, cost: Fraction) -> Fraction | None:
    """Which share of the net price is left; None at a price of nothing.

    >>> margin(Fraction(4), Fraction(1))
    Fraction(3, 4)
    """
    return (net - cost) / net if net else None


def mark_up(net: Fraction, cost: Fraction) -> Fraction | None:
    """Which share of the cost is put on top; None where it costs nothing.

    >>> mark_up(Fraction(4), Fraction(1))
    Fraction(3, 1)
    """
    return (net - cost) / cost if cost else None


def margin_of(mark_up: Fraction) -> Fraction:
    """The margin that is the same as this mark-up (above -1)."""
    return mark_up / (1 + mark_up)


def mark_up_of(margin: Fraction) -> Fraction:
    """The mark-up that is the same as this margin (under 1)."""
    return margin / (1 - margin)


def net_for(line: MakersLine, cost: Fraction) -> Fraction:
    """The least net price that keeps this line."""
    if line.kind == "margin":
        return cost / (1 - line.value)
    if line.kind == "mark-up":
        return cost * (1 + line.value)
    return cost + line.value


def cost_allowed(line: MakersLine, net: Fraction) -> Fraction:
    """The most that it may cost at this net price; below 0 if nothing would do."""
    if line.kind == "margin":
        return net * (1 - line.value)
    if line.kind == "mark-up":
        return net / (1 + line.value)
    return net - line.value


def keeps(line: MakersLine, net: Fraction, cost: Fraction) -> bool:
    """Whether a net price keeps the line at this cost."""
    return cost <= cost_allowed(line, net)


def next_price(least: Fraction, ends: Sequence[Decimal] = ()) -> Fraction:
    """The lowest price on the shop's points that is not under this one.

    Args:
        least: money, from 0.
        ends: how prices end: 0.20, 0.50, 0.95; 9 or 50 where they end in whole coins.
            Without any, every penny is a price.

    >>> next_price(Fraction("3.21"), [Decimal("0.20"), Decimal("0.50")])
    Fraction(7, 2)
    """
    if not ends:
        return ceil(least / PENNY) * PENNY
    exact = sorted(Fraction(end) for end in ends)
    round_: Fraction = Fraction(1)
    while round_ <= exact[-1]:
        round_ *= 10
    base = floor(least / round_) * round_
    every = [base + lift + end for lift in (0, round_) for end in exact]
    return min(price for price in every if price >= least)


def floor_price(direct: Fraction, waste: Fraction) -> Fraction:
    """The least net price that brings back what a piece took, those never sold too.

    Args:
        direct: ingredients, hands, energy and packaging of what is sold.
        waste: share of what is made that is never sold, 0 to under 1.
    """
    return direct / (1 - waste)
