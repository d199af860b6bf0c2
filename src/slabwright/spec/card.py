"""What a card says, as a value: the slab as its maker wrote it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from slabwright.cut.request import CutRequest
from slabwright.errors import Span
from slabwright.finding import Ask
from slabwright.formula.component import Component
from slabwright.slab.tin import Tin


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
    """How the slab is sold, and its price."""

    how: str
    price: Decimal | None
    span: Span


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
    sold: Sold | None = None
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
