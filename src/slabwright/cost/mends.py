"""What a sold thing costs, and the smallest change that brings it over a line."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from slabwright.cost.price import cost_allowed, net_for, next_price
from slabwright.cost.tax import with_tax
from slabwright.kitchen import MakersLine


@dataclass(frozen=True, slots=True)
class Bears:
    """What a tray and its pieces take, before what is never sold."""

    a_tray: Fraction
    """Ingredients, hands, energy and overheads of a tray."""
    a_piece: Fraction
    """What each piece takes of its own: its wrap."""
    a_sale: Fraction
    """What each thing sold takes of its own: a box."""
    pieces: int
    """Pieces of a tray, from 1."""
    in_sale: int
    """Pieces in what is sold."""
    waste: Fraction
    """Share of what is made that is never sold, 0 to under 1."""

    @property
    def before_waste(self) -> Fraction:
        """What one thing sold takes, as if all were sold."""
        each = self.a_tray / self.pieces + self.a_piece
        return each * self.in_sale + self.a_sale

    @property
    def cost(self) -> Fraction:
        """What one thing sold must bring back, with its share of what is not sold."""
        return self.before_waste / (1 - self.waste)

    @property
    def sales(self) -> Fraction:
        """How many are sold of a tray."""
        return Fraction(self.pieces, self.in_sale) * (1 - self.waste)


def price_that_keeps(
    bears: Bears, line: MakersLine, rate: Fraction, ends: Sequence[Decimal]
) -> Fraction:
    """The lowest price on the shop's points, tax in it, that keeps the line."""
    return next_price(with_tax(net_for(line, bears.cost), rate), ends)


def pieces_that_keep(
    bears: Bears, line: MakersLine, net: Fraction, counts: Iterable[int]
) -> int | None:
    """The fewest pieces out of a tray, of these counts, that keep the line.

    Args:
        bears: as it is cut now.
        line: the maker's.
        net: price without tax of what is sold, which stays.
        counts: pieces into which the tray could be cut.
    """
    of_each = bears.in_sale * bears.a_piece + bears.a_sale
    room = cost_allowed(line, net) * (1 - bears.waste) - of_each
    if room < 0 or (room == 0 and bears.a_tray):
        return None
    least = bears.in_sale * bears.a_tray / room if room else Fraction(0)
    return min((n for n in counts if n > bears.pieces and n >= least), default=None)


def fall_that_keeps(
    bears: Bears, line: MakersLine, net: Fraction, line_cost: Fraction
) -> Fraction | None:
    """By which share an ingredient's cost must fall; None if all of it isn't enough.

    Args:
        bears: what it takes now.
        line: the maker's.
        net: price without tax of what is sold.
        line_cost: what the ingredient costs in a tray.
    """
    allowed = cost_allowed(line, net)
    excess = (bears.cost - allowed) * (1 - bears.waste)
    a_tray = excess * bears.pieces / bears.in_sale
    if a_tray <= 0:
        return Fraction(0)
    return a_tray / line_cost if a_tray <= line_cost else None
