"""The JSON form of a card, for other programs: what the reader understood of it."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field

from slabwright.files.card.form_events import (
    ONLY,
    EventForm,
    Name,
    Positive,
    form_of_event,
)
from slabwright.files.card.reader import CardRead
from slabwright.formula.component import Component
from slabwright.label.ways import Selling
from slabwright.spec.card import Card, Dated, SaidCut, Sold


class _Form(BaseModel):
    model_config = ONLY


class BlockForm(_Form):
    """A component, or what a layer does of its own."""

    name: Name
    kind: str = ""
    events: list[EventForm] = []


class LayerForm(BlockForm):
    """A layer: its own formula, or so much of a component."""

    made_from: str = ""
    take_g: Positive | None = None
    take_depth_mm: Positive | None = None
    take_batches: Positive | None = None


class TinForm(_Form):
    """The tin as written, and its inner sizes."""

    text: str
    shape: Literal["rectangular", "round"]
    length_mm: Positive
    width_mm: Positive
    depth_mm: Positive | None = None
    rim_length_mm: Positive
    rim_width_mm: Positive


class CutForm(_Form):
    """A cut as written, and what it asks for."""

    text: str
    along: int | None = None
    across: int | None = None
    pieces: int | None = None
    piece_length_mm: Positive | None = None
    piece_width_mm: Positive | None = None
    piece_g: Positive | None = None
    piece_to_g: Positive | None = None
    wedges: int | None = None
    strips: int | None = None
    strip_mm: Positive | None = None
    diamond_mm: Positive | None = None
    angle_deg: Positive | None = None
    triangles: Literal[2, 4] | None = None
    least_mm: Positive | None = None
    fingers: bool = False
    trim_mm: Annotated[float, Field(ge=0)] = 0.0
    trim_to_mm: tuple[float, float] | None = None
    knife_mm: Annotated[float, Field(ge=0)] = 0.0
    in_tin: str = ""


class KeepForm(_Form):
    """Where and how long."""

    text: str
    place: str
    days: float | None = None


class SoldForm(_Form):
    """How it is sold, and for how much."""

    how: str
    price: str | None = None
    way: Selling | None = None
    pieces: int | None = None
    whole_tray: bool = False
    from_day: date | None = None
    net_g: Positive | None = None


class DatedForm(_Form):
    """Which date, and how its days are counted; the text counts."""

    text: str
    kind: Literal["best before", "use by", "none"]
    days: int = 0
    months: int = 0
    counts_bake_day: bool | None = None


class CostForm(_Form):
    """What a making bears beside its ingredients; the text counts."""

    text: str
    kind: Literal["hands", "oven", "energy", "money"]
    low: Annotated[Decimal, Field(ge=0)]
    high: Annotated[Decimal, Field(ge=0)]
    per: Literal["batch", "tray", "piece", "box"]
    what: str = ""


class CardForm(_Form):
    """A whole card. Layers stand bottom first."""

    slab: Name
    is_component: bool = False
    tin: TinForm | None = None
    cuts: list[CutForm] = []
    keeps: list[KeepForm] = []
    sold: SoldForm | None = None
    also_sold: list[SoldForm] = []
    called: str = ""
    pictured: list[str] = []
    dated: DatedForm | None = None
    costs: list[CostForm] = []
    proved: date | None = None
    notes: list[str] = []
    head: list[BlockForm] = []
    layers: list[LayerForm] = []
    components: list[BlockForm] = []
    finish: BlockForm | None = None


def form_of(card: Card) -> CardForm:
    """A card in its JSON form: places in the text are left out."""
    tin = card.tin
    return CardForm(
        slab=card.name or "unnamed",
        is_component=card.is_component,
        tin=TinForm(
            text=tin.text,
            shape=tin.tin.shape,
            length_mm=tin.tin.length_mm,
            width_mm=tin.tin.width_mm,
            depth_mm=tin.tin.depth_mm,
            rim_length_mm=tin.tin.rim.length_mm,
            rim_width_mm=tin.tin.rim.width_mm,
        )
        if tin
        else None,
        cuts=[_cut(cut) for cut in card.cuts],
        keeps=[KeepForm(text=k.text, place=k.place, days=k.days) for k in card.keeps],
        sold=_sold(card.sold) if card.sold else None,
        also_sold=[_sold(one) for one in card.sales[1:]],
        called=card.called,
        pictured=list(card.pictured),
        dated=_dated(card.dated) if card.dated else None,
        costs=[CostForm.model_validate(told.facts) for told in card.costs],
        proved=card.proved,
        notes=list(card.notes),
        head=[_block(block) for block in card.head],
        layers=[
            LayerForm(
                **_block(layer.component).model_dump(),
                made_from=layer.from_name,
                take_g=layer.take.grams,
                take_depth_mm=layer.take.depth_mm,
                take_batches=layer.take.batches,
            )
            for layer in card.layers
        ],
        components=[_block(block) for block in card.components],
        finish=_block(card.finish) if card.finish else None,
    )


def _sold(sold: Sold) -> SoldForm:
    return SoldForm(
        how=sold.how, price=None if sold.price is None else str(sold.price),
        way=sold.way, pieces=sold.pieces, whole_tray=sold.is_whole_tray,
        from_day=sold.from_day, net_g=sold.net_g,
    )  # fmt: skip


def _dated(dated: Dated) -> DatedForm:
    return DatedForm(
        text=dated.text, kind=dated.kind, days=dated.days, months=dated.months,
        counts_bake_day=dated.counts_bake_day,
    )  # fmt: skip


def card_form(read: CardRead) -> dict[str, Any]:
    """The JSON form of a card that was read, with how each line was taken."""
    return {
        "card": form_of(read.card).model_dump(mode="json"),
        "lines": [
            {"line": one.line.number, "text": one.line.raw, "reads_as": one.reads_as,
             "word": one.word or None}
            for one in read.lines
        ],
        "errors": [
            {
                "line": mistake.where.span.line if mistake.where.span else None,
                "column": mistake.where.span.column if mistake.where.span else None,
                "what": mistake.what,
                "do": mistake.do,
                "nearest": list(mistake.nearest),
            }
            for mistake in read.mistakes
        ],
    }  # fmt: skip


def _block(block: Component) -> BlockForm:
    return BlockForm(
        name=block.name,
        kind=block.kind,
        events=[form_of_event(event) for event in block.events],
    )


def _cut(said: SaidCut) -> CutForm:
    asked = {name: getattr(said.request, name) for name in _OF_CUT}
    return CutForm(text=said.text, in_tin=said.tin_name, **asked)


_OF_CUT = tuple(name for name in CutForm.model_fields if name not in {"text", "in_tin"})
"""Fields that are the request's own."""
