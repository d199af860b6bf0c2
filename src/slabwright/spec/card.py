"""What a card says, as a value: the slab as its maker wrote it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from slabwright.cut.request import CutRequest
from slabwright.errors import Span
from slabwright.finding import Ask
from slabwright.formula.component import Component
from slabwright.kitchen import Told
from slabwright.label.ways import Selling
from slabwright.slab.tin import Tin

DateKind = Literal["best before", "use by", "none"]
"""Which date the shop puts on it: always its own decision."""


@dataclass(frozen=True, slots=True)
class Take:
    """How much of a component a layer takes: all of a batch unless one is said."""

    span: Span | None = None
    grams: float | None = None
    depth_mm: float | None = None
    batches: float | None = None


@dataclass(frozen=True, slots=True)
class CardLayer:
    """A layer: its own formula, or so much of a component that stands elsewhere."""

    component: Component
    take: Take
    from_name: str = ""
    """The component that it is made from; empty if the formula stands here."""
    from_span: Span | None = None

    @property
    def name(self) -> str:
        """The layer's name."""
        return self.component.name


@dataclass(frozen=True, slots=True)
class SaidTin:
    """The tin as written, and what it is."""

    text: str
    tin: Tin
    span: Span


@dataclass(frozen=True, slots=True)
class SaidCut:
    """A cut as written; `tin_name` names another tin than the slab's own."""

    text: str
    request: CutRequest
    span: Span
    tin_name: str = ""
    says_knife: bool = False
    tin: Tin | None = None
    """That other tin."""


@dataclass(frozen=True, slots=True)
class Keep:
    """Where the slab is kept, and for how long."""

    text: str
    place: str
    days: float | None
    span: Span


@dataclass(frozen=True, slots=True)
class Sold:
    """One way in which the slab is sold, and its price."""

    how: str
    """In the maker's words, without the price and the day."""
    price: Decimal | None
    span: Span
    way: Selling | None = None
    """Which of the five ways the words say; None if they say none of them."""
    pieces: int | None = None
    """Pieces in a pack."""
    is_whole_tray: bool = False
    from_day: date | None = None
    """The first day of this price; older lines stay for what it was."""
    net_g: float | None = None
    """Net weight as the label is to say it [g]."""

    @property
    def offer(self) -> tuple[object, ...]:
        """What is sold, apart from its price: lines of one offer follow each other."""
        way = self.way or self.how.casefold()
        return way, self.pieces, self.is_whole_tray


@dataclass(frozen=True, slots=True)
class Pictured:
    """What words or pictures on the pack stress."""

    what: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Dated:
    """Which date the shop puts on it, and how its days are counted."""

    kind: DateKind
    span: Span
    text: str = ""
    days: int = 0
    months: int = 0
    """Calendar months in place of days."""
    counts_bake_day: bool | None = None
    """Whether the bake day is the first of them; None if the card doesn't say."""


@dataclass(frozen=True, slots=True)
class UnreadLine:
    """A line with a mistake in it, as it stands: what it says is in no figure."""

    text: str
    """Without its comment."""
    span: Span


@dataclass(frozen=True, slots=True)
class Card:
    """A slab, or a component alone, as its maker wrote it. Bottom layer first."""

    name: str
    is_component: bool = False
    tin: SaidTin | None = None
    cuts: tuple[SaidCut, ...] = ()
    keeps: tuple[Keep, ...] = ()
    sales: tuple[Sold, ...] = ()
    """Every way in which it is sold, and every price, in written order."""
    proved: date | None = None
    notes: tuple[str, ...] = ()
    layers: tuple[CardLayer, ...] = ()
    components: tuple[Component, ...] = ()
    finish: Component | None = None
    head: tuple[Component, ...] = ()
    """Steps that stand above the first layer, if any do."""
    is_pasted: bool = False
    """Whether it was a recipe as people have them, and no card."""
    asks: tuple[Ask, ...] = ()
    """What the reader of a pasted text could not settle."""
    unread: tuple[UnreadLine, ...] = ()
    """Lines that could not be read."""
    called: str = ""
    """The name of the food, where the slab's own name doesn't say what it is."""
    pictured_words: Pictured | None = None
    dated: Dated | None = None
    costs: tuple[Told, ...] = ()
    """What a making bears beside its ingredients, in written order."""

    @property
    def pictured(self) -> tuple[str, ...]:
        """What words or pictures on the pack stress."""
        return self.pictured_words.what if self.pictured_words else ()

    @property
    def sold(self) -> Sold | None:
        """The first way in which it is sold, whatever the day."""
        return self.sales[0] if self.sales else None

    def sales_on(self, day: date) -> tuple[Sold, ...]:
        """What is on sale on this day: of each offer the latest price that holds."""
        found: dict[tuple[object, ...], Sold] = {}
        for one in self.sales:
            if one.from_day is not None and one.from_day > day:
                continue
            held = found.get(one.offer)
            if held is None or (one.from_day or date.min) >= (
                held.from_day or date.min
            ):
                found[one.offer] = one
        return tuple(found.values())

    def sold_on(self, day: date) -> Sold | None:
        """The first of what is on sale on this day."""
        return next(iter(self.sales_on(day)), None)
