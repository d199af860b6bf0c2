"""All slabs as cut faces at one scale; those set aside below."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from fastapi import APIRouter, Request, Response
from markupsafe import Markup
from starlette.responses import RedirectResponse

from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.cut_face import SAMPLE_MM, cut_face_svg
from slabwright.publish.drawing.drawn import DrawnSlab
from slabwright.spec.specification import Specification
from slabwright.store import cards
from slabwright.store.cards import CardRow
from slabwright.web.desk_pages import slab_at
from slabwright.web.fields import CardId, Find, Flag, Start
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.shown import drawing

router = APIRouter(include_in_schema=False)

PAGE: Final = 24
"""Slabs on one page."""
_FACES: Final = 256
"""So many are kept as they were drawn: half the time of a page goes into them."""
_PX_PER_MM: Final = 4.0
_WIDEST_MM: Final = 64.0


@dataclass(frozen=True)
class OnShelf:
    """A slab as the shelf shows it."""

    card: CardRow
    spec: Specification

    @property
    def face(self) -> Markup:
        """A piece of it, at the scale of all others."""
        return _face(drawn(self.spec), f"face-{self.card.id}")

    @property
    def watch_words(self) -> str:
        """How much there is to watch."""
        return words.to_watch([one.finding for one in self.spec.told])

    @property
    def keeps(self) -> str:
        """How its maker keeps it."""
        said = (
            keep.place if keep.days is None else f"{keep.days:g} days, {keep.place}"
            for keep in self.spec.card.keeps
        )
        return "; ".join(said)

    @property
    def sold(self) -> str:
        """How and for how much it is sold."""
        sold = self.spec.card.sold
        if sold is None:
            return ""
        if sold.price is None:
            return sold.how
        return f"{words.money(sold.price, self.spec.kitchen.currency)}, {sold.how}"

    @property
    def size_words(self) -> str:
        """Number and size of its pieces."""
        cut = self.spec.cut
        return cut.cutting.summary if cut else ""


@lru_cache(_FACES)
def _face(slab: DrawnSlab, prefix: str) -> Markup:
    wide_mm = min(slab.piece_mm or SAMPLE_MM, _WIDEST_MM)
    px = wide_mm * _PX_PER_MM + 3
    return drawing(cut_face_svg(slab, width_px=px, theme="page", prefix=prefix))


def on_shelf(visit: Visit, row: CardRow) -> OnShelf:
    """A slab of the shelf, worked out."""
    return OnShelf(row, visit.desk.worked(row.text).spec)


@router.get("/slabs")
def shelf(request: Request, find: Find = "", start: Start = 0) -> Response:
    """Every slab of the kitchen, or those in which these words stand."""
    with looking(request) as visit:
        c, kitchen = visit.connection, visit.kitchen_id
        found = cards.listed(
            c, kitchen, "slab", is_aside=False, find=find, start=start, limit=PAGE
        )
        aside = cards.listed(c, kitchen, "slab", is_aside=True, find=find, limit=PAGE)
        count = cards.counted(c, kitchen, "slab", is_aside=False, find=find)
        if not (found or aside or find):
            return RedirectResponse("/start", status_code=303)
        return render(
            request, "shelf.html", visit=visit, title="Slabs", here="Slabs",
            slabs=[on_shelf(visit, row) for row in found],
            aside=[on_shelf(visit, row) for row in aside],
            find=find, count=count, start=start, page=PAGE,
            aside_count=cards.counted(c, kitchen, "slab", is_aside=True, find=find),
        )  # fmt: skip


@router.post("/slabs/{card_id}/aside")
def set_aside(request: Request, card_id: CardId, aside: Flag = "") -> Response:
    """Put a slab into the drawer, or back on the counter."""
    with acting(request) as visit:
        slab_at(visit, card_id)
        cards.set_aside(visit.connection, visit.kitchen_id, card_id, bool(aside))
    return RedirectResponse("/slabs", status_code=303)
