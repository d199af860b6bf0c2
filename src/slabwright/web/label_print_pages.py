"""A label, a ticket or an allergen card of a slab as PDF, to look at and to print."""

from typing import Annotated, Final

from fastapi import APIRouter, Query, Request, Response
from pydantic import Field

from slabwright.desk.label_paper import PaperAsked, done
from slabwright.desk.label_print import Extras, Numbered, larder_revision, paper_of
from slabwright.errors import FileError, Mistake, Where
from slabwright.label.paper.face import Kind
from slabwright.web.desk_pages import revision_at, slab_at, worked_revision
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import Visit, looking
from slabwright.web.label_asked import LabelAsk
from slabwright.web.label_words import mistakes_for_page
from slabwright.web.papers import LARDER
from slabwright.web.papers import paper_of as kitchen_paper
from slabwright.web.scale_pages import paper as pdf_response

router = APIRouter(include_in_schema=False)

KINDS: Final[tuple[Kind, ...]] = ("label", "ticket", "allergen card")
_Short = Annotated[str, Field(max_length=40)]


class PrintAsk(LabelAsk):
    """What is asked of a print, as its address has it."""

    kind: _Short = "label"
    size: _Short = ""
    sheet: _Short = ""
    paper: _Short = ""
    margins: _Short = ""
    gaps: _Short = ""
    start: _Short = ""
    copies: _Short = ""
    nutrition: _Short = ""

    def what(self) -> Kind:
        """What is printed.

        Raises:
            FileError: if it is none of the three.
        """
        for kind in KINDS:
            if self.kind == kind:
                return kind
        what = f"'{self.kind:.40}' is nothing that is printed."
        raise FileError(Mistake(what, f"One of {', '.join(KINDS)}."))

    def paper_asked(self) -> PaperAsked:
        """The paper, its numbers read.

        Raises:
            FileError: for a number that is none.
        """
        start = _whole(self.start, "start")
        return PaperAsked(
            self.size.strip(), self.sheet.strip(),
            self.paper.strip() if self.sheet.strip() else "",
            self.margins.strip(), self.gaps.strip(), 1 if start is None else start,
            _whole(self.copies, "copies"),
        )  # fmt: skip


@router.get("/slabs/{card_id}/label.pdf")
def label_pdf(
    request: Request, card_id: CardId, ask: Annotated[PrintAsk, Query()]
) -> Response:
    """What is asked for as PDF; a draft if it waits for anything."""
    try:
        return _pdf(request, card_id, ask)
    except FileError as error:
        raise FileError(*mistakes_for_page(error.mistakes)) from error


def _pdf(request: Request, card_id: int, ask: PrintAsk) -> Response:
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or card.current)
        worked = worked_revision(visit, revision)
        asked = ask.asked(visit.desk.day)
        extras = Extras(Numbered(ask.item, ask.code), bool(ask.nutrition))
        paper = paper_of(
            worked.spec, visit.desk.folder, asked, ask.what(),
            revisions_of(visit, revision.number), extras,
        )  # fmt: skip
    found = done(paper, ask.paper_asked(), asked.on)
    kind = "draft" if found.is_draft else paper.face.kind.replace(" ", "-")
    name = f"{card.stem}-v{revision.number}-{kind}.pdf"
    return pdf_response(found.pdf, name, "inline")


def revisions_of(visit: Visit, number: int) -> tuple[str, ...]:
    """Of a slab's card, and of the larder as it is now."""
    own = kitchen_paper(visit, LARDER).text.encode()
    return f"card v{number}", larder_revision(own)


def _whole(typed: str, field: str) -> int | None:
    bare = typed.strip()
    if not bare:
        return None
    if not (bare.isascii() and bare.isdigit()) or int(bare) > MOST_NUMBER:
        what = f"'{typed:.40}' is no number of labels."
        raise FileError(Mistake(what, "Write a whole number.", Where(field=field)))
    return int(bare)
