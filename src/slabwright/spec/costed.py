"""What one thing sold costs: a piece, a pack, a tray, with what is never sold."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from slabwright.cost.mends import Bears
from slabwright.cost.prices import exact, money
from slabwright.figure import Figure, Standing, withheld
from slabwright.kitchen import Kitchen
from slabwright.label.ways import Selling
from slabwright.spec.bearing import DIRECT, NOTHING, Bearing, Key, Lacking, Likely
from slabwright.spec.card import Sold
from slabwright.spec.specification import CutFigures

PART_NAMES: Final[dict[Key, str]] = {
    "ingredients": "ingredients", "left over": "mixed and left over",
    "hands": "hands", "energy": "energy", "packaging": "packaging",
    "overheads": "overheads",
}  # fmt: skip
UNSOLD: Final = "made and never sold"
_BOXED: Final = (Selling.PACKED_HERE, Selling.FOR_A_SHOP, Selling.POSTED)
NO_CUT: Final = (
    "the card has no cut that can be made, so what share of a tray is sold is not known"
)

NOTHING_TOLD: Final = (
    "nothing that it costs is told: no price, no minutes, no packaging"
)


@dataclass(frozen=True, slots=True)
class Costed:
    """What one thing sold costs."""

    unit: str
    bears: Bears
    likely: Likely
    parts: tuple[tuple[str, Figure], ...]
    """What it takes, the unsold's share last; they come to the cost."""
    cost: Figure
    """With overheads, and with its share of what is never sold."""
    floor: Figure
    """Without overheads: what a wholesale price must bring back before tax."""
    lacking: tuple[Lacking, ...]
    """What stands in no sum, so that it costs at least this."""


@dataclass(frozen=True, slots=True)
class _Sale:
    """How much of a tray is sold at once."""

    pieces: int
    in_sale: int
    is_boxed: bool
    is_cut: bool
    """Whether how many pieces there are is known at all."""

    def of(self, per: str, likely: Likely) -> Likely:
        """What is borne by the tray, the piece or the box, for one sale."""
        if per == "tray":
            return likely.times(Fraction(self.in_sale, self.pieces))
        if per == "piece":
            return likely.times(Fraction(self.in_sale)) if self.is_cut else NOTHING
        return likely if self.is_boxed else NOTHING

    def sum(self, bearing: Bearing, keys: Sequence[Key] | None = None) -> Likely:
        """All of it, or of these kinds alone."""
        found = NOTHING
        for per in ("tray", "piece", "box"):
            found += self.of(per, bearing.per(per, keys))
        return found


def costed(
    bearing: Bearing, cut: CutFigures | None, kitchen: Kitchen, sold: Sold | None
) -> Costed:
    """What is sold in this way costs; by the piece where nothing is said.

    Args:
        bearing: what the tray and its pieces take.
        cut: how it is cut; without one only a whole tray can be costed.
        kitchen: currency and share of what is never sold.
        sold: how it is sold; None for a piece, or a tray that has no cut.
    """
    currency, waste = kitchen.currency, exact(kitchen.waste_share)
    sale = _sale(cut, sold)
    is_tray = cut is None or (sold is not None and sold.is_whole_tray)
    unit = "a piece" if sale.in_sale == 1 else f"a pack of {sale.in_sale}"
    unit = "a tray" if is_tray else unit
    before, direct = sale.sum(bearing), sale.sum(bearing, DIRECT)
    likely, floor = (one.times(1 / (1 - waste)) for one in (before, direct))
    lacking = (*bearing.lacking, *_lacking_wrap(bearing, sale))
    bears = Bears(
        bearing.per("tray").value,
        bearing.per("piece").value if sale.is_cut else Fraction(0),
        sale.of("box", bearing.per("box")).value,
        sale.pieces,
        sale.in_sale,
        waste,
    )
    parts = tuple(_parts(bearing, sale, currency))
    if not parts:
        none = withheld(currency, NOTHING_TOLD)
        return Costed(unit, bears, likely, (), none, none, lacking)
    if waste:
        parts += ((UNSOLD, _unsold(before.value, likely.value, waste, currency)),)
    if cut is None and sold is not None and not sold.is_whole_tray:
        none = withheld(currency, NO_CUT)
        return Costed("what is sold", bears, likely, (), none, none, lacking)
    least = without(lacking)
    sums = " + ".join(f"{figure.number:.4f}" for _, figure in parts) or "nothing"
    cost_said = f"{sums} = {_m(likely.value)} {currency}{least}"
    floor_said = (
        f"{_m(direct.value)} ÷ (1 - {float(waste):g}) = {_m(floor.value)} {currency}; "
        f"overheads are not in it{least}"
    )
    return Costed(
        unit,
        bears,
        likely,
        parts,
        money_figure(likely, currency, cost_said),
        money_figure(floor, currency, floor_said),
        lacking,
    )


def without(lacking: Sequence[Lacking]) -> str:
    """What stands in no sum, in words."""
    keys = ", ".join(dict.fromkeys(one.key for one in lacking))
    return f"; at least so much: not all is told of {keys}" if lacking else ""


def money_figure(likely: Likely, currency: str, said: str) -> Figure:
    """A sum of money as a figure; a range only where there is one."""
    is_wide = likely.low != likely.high
    return Figure(
        money(likely.value),
        currency,
        said,
        Standing.ASSUMED if is_wide else Standing.WORKED_OUT,
        float(likely.low) if is_wide else None,
        float(likely.high) if is_wide else None,
    )


def _sale(cut: CutFigures | None, sold: Sold | None) -> _Sale:
    pieces = cut.cutting.pieces if cut else 1
    if sold is None:
        return _Sale(pieces, 1, is_boxed=False, is_cut=cut is not None)
    is_boxed = sold.pieces is not None or sold.is_whole_tray or sold.way in _BOXED
    in_sale = pieces if sold.is_whole_tray else sold.pieces or 1
    return _Sale(pieces, in_sale, is_boxed, cut is not None)


def _lacking_wrap(bearing: Bearing, sale: _Sale) -> Iterator[Lacking]:
    """Where packaging is told, but not for what is sold like this."""
    pers = {part.per for part in bearing.parts if part.key == "packaging"}
    if pers == {"box"} and not sale.is_boxed:
        do = "Write costs 0.11 a piece."
        yield Lacking("packaging", "what a loose piece is wrapped in is not told", do)
    if "piece" in pers and not sale.is_cut:
        what = "how many pieces are wrapped is not known"
        yield Lacking("packaging", what, "Write how it is cut: cut 5 x 4.")


def _parts(
    bearing: Bearing, sale: _Sale, currency: str
) -> Iterator[tuple[str, Figure]]:
    """Each kind of part for one sale, as if all were sold."""
    share = f"× {sale.in_sale} of {sale.pieces} pieces"
    for key, name in PART_NAMES.items():
        mine = [part for part in bearing.parts if part.key == key]
        mine = [part for part in mine if part.per != "box" or sale.is_boxed]
        mine = [part for part in mine if part.per != "piece" or sale.is_cut]
        if not mine:
            continue
        likely = NOTHING
        for part in mine:
            likely += sale.of(part.per, part.money)
        how = {"tray": share, "piece": f"× {sale.in_sale}", "box": "× 1"}
        said = "; ".join(f"{part.sum}, {how[part.per]}" for part in mine)
        said = f"{said} = {_m(likely.value)} {currency}"
        yield name, money_figure(likely, currency, said)


def _unsold(
    before: Fraction, after: Fraction, waste: Fraction, currency: str
) -> Figure:
    value = after - before
    said = (
        f"{float(waste) * 100:g}% of what is made is never sold: {_m(before)} ÷ "
        f"{float(1 - waste):g} - {_m(before)} = {_m(value)} {currency}"
    )
    return Figure(money(value), currency, said)


def _m(value: Fraction) -> str:
    """Money in a sum, to a hundredth of a penny."""
    return f"{money(value):.4f}"
