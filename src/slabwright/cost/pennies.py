"""Parts of a sum, to the penny, so that they add up to the sum as it is shown."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import floor
from typing import Final

_PENNY: Final = Fraction(1, 100)


def half_up(value: Fraction) -> int:
    """The nearest whole number; a half goes away from 0, as it does on a till."""
    whole = floor(abs(value) + Fraction(1, 2))
    return whole if value >= 0 else -whole


def to_penny(value: Fraction) -> Decimal:
    """A sum of money, rounded once to the penny."""
    return Decimal(half_up(value / _PENNY)).scaleb(-2)


def shared_out(parts: Sequence[Fraction]) -> tuple[Decimal, ...]:
    """Each part to the penny; together they come to the rounded sum, exactly.

    Each is rounded down first; the pennies that are left go to those that lost most.

    >>> [str(one) for one in shared_out([Fraction(1, 3)] * 3)]
    ['0.34', '0.33', '0.33']
    """
    whole = half_up(sum(parts, Fraction(0)) / _PENNY)
    down = [floor(part / _PENNY) for part in parts]
    lost = [part / _PENNY - n for part, n in zip(parts, down, strict=True)]
    first = sorted(range(len(parts)), key=lambda i: (-lost[i], i))
    for i in first[: whole - sum(down)]:
        down[i] += 1
    return tuple(Decimal(n).scaleb(-2) for n in down)
