"""The smallest changes that bring a sold thing back over the maker's line."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from typing import Final, Literal

from slabwright.cost.mends import (
    Bears,
    fall_that_keeps,
    pieces_that_keep,
    price_that_keeps,
)
from slabwright.cost.prices import money
from slabwright.figure import Figure, withheld
from slabwright.kitchen import Kitchen, MakersLine
from slabwright.spec.bearing import Bearing
from slabwright.spec.specification import CutFigures, Specification

LEAST_SIDE_MM: Final = 20.0
"""No piece narrower than this is proposed. Common practice, no source."""
_MOST_TIMES: Final = 2
"""Pieces are proposed up to so many times as many as now: half the piece."""


@dataclass(frozen=True, slots=True)
class Mend:
    """One change that is enough alone, the smallest of its kind."""

    kind: Literal["price", "pieces", "ingredient"]
    says: str
    """In words, with its numbers."""
    figure: Figure
    """The new price, the new count, the share by which a cost falls; or why none."""


@dataclass(frozen=True, slots=True)
class Short:
    """What falls under the line."""

    bears: Bears
    line: MakersLine
    rate: Fraction
    price: Fraction
    net: Fraction


def mends_of(
    short: Short, spec: Specification, bearing: Bearing, kitchen: Kitchen
) -> Iterator[Mend]:
    """A price, a count of pieces and a cheaper ingredient, each enough alone."""
    yield _by_price(short, kitchen)
    if spec.cut is not None:
        yield _by_pieces(short, spec.cut)
    if bearing.lines:
        yield _by_ingredient(short, bearing)


def _by_price(short: Short, kitchen: Kitchen) -> Mend:
    ends = kitchen.shop.ends
    price = price_that_keeps(short.bears, short.line, short.rate, ends)
    more = price - short.price
    said = f"ask {_p(price)}, {_p(more)} more"
    points = "the next of the shop's points" if ends else "to the penny"
    figure = Figure(money(price), kitchen.currency, f"{said}, {points}")
    return Mend("price", f"{said} ({points})", figure)


def _by_pieces(short: Short, cut: CutFigures) -> Mend:
    bears = short.bears
    if bears.in_sale == bears.pieces and bears.pieces > 1:
        why = "a tray is sold whole: its pieces change nothing"
        return Mend("pieces", why, withheld("pieces", why))
    grids = _grids(cut)
    counts = grids or range(bears.pieces + 1, _MOST_TIMES * bears.pieces + 1)
    count = pieces_that_keep(bears, short.line, short.net, counts)
    if count is None:
        why = "no cut down to half the piece is enough at this price"
        return Mend("pieces", why, withheld("pieces", why))
    size = f", {grids[count]}" if count in grids else ""
    said = f"cut {count} pieces for {bears.pieces}{size}"
    if cut.piece_mass_g.known:
        lighter = cut.piece_mass_g.number * bears.pieces / count
        said += f", about {lighter:.0f} g each for {cut.piece_mass_g.number:.0f} g"
    return Mend("pieces", said, Figure(count, "pieces", said))


def _grids(cut: CutFigures) -> dict[int, str]:
    """Finer grids on the same slab, each count with the squarest of its layouts."""
    sides = (cut.along, cut.across, cut.piece_length_mm, cut.piece_width_mm)
    known = [side.number for side in sides if side is not None and side.known]
    if len(known) < len(sides):
        return {}
    along, across, length, width = known
    pieces = round(along) * round(across)
    far = along * length + (along - 1) * cut.knife_mm
    wide = across * width + (across - 1) * cut.knife_mm
    best: dict[int, tuple[float, str]] = {}
    for a in range(round(along), _MOST_TIMES * round(along) + 1):
        long = (far - (a - 1) * cut.knife_mm) / a
        for b in range(round(across), _MOST_TIMES * pieces // a + 1):
            broad = (wide - (b - 1) * cut.knife_mm) / b
            if min(long, broad) < LEAST_SIDE_MM:
                break
            odd = max(long, broad) / min(long, broad)
            size = f"{a} x {b} of {long:.1f} × {broad:.1f} mm"
            if a * b not in best or odd < best[a * b][0]:
                best[a * b] = (odd, size)
    return {count: size for count, (_, size) in best.items()}


def _by_ingredient(short: Short, bearing: Bearing) -> Mend:
    name, cost = bearing.lines[0]
    fall = fall_that_keeps(short.bears, short.line, short.net, cost)
    if fall is None:
        why = f"{name} is the dearest, and without any it would still fall short"
        return Mend("ingredient", why, withheld("share", why))
    tenths = (Decimal(fall.numerator) / fall.denominator * 1000).quantize(
        Decimal(1), ROUND_CEILING
    )
    share = min(tenths / 10, Decimal(100))
    said = f"{name}, the dearest at {_p(cost)} a tray: {share}% less of it or its price"
    return Mend("ingredient", said, Figure(float(share / 100), "share", said))


def _p(value: Fraction) -> str:
    """Money in a sentence."""
    return f"{money(value):.2f}"
