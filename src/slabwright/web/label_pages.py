"""The label of a slab: how it is sold first, what must be shown, what is there."""

from typing import Annotated

from fastapi import APIRouter, Form, Query, Request, Response
from starlette.responses import RedirectResponse

from slabwright.desk.label import Labels, exceptions, labels_of, number_for
from slabwright.errors import FileError, Mistake, SlabwrightError
from slabwright.files.card.edit_selling import SELLING
from slabwright.files.card.edits import Asked as AskedEdit
from slabwright.files.card.edits import edited
from slabwright.files.raw import Text
from slabwright.label.codes import Number
from slabwright.label.ways import Selling
from slabwright.spec.card import Sold
from slabwright.spec.label import Label
from slabwright.spec.specification import Specification
from slabwright.store import drafts
from slabwright.store.cards import CardRow
from slabwright.web.desk_pages import (
    at_desk,
    draft_key,
    revision_at,
    slab_at,
    worked_revision,
)
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import CardId
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.label_asked import LabelAsk
from slabwright.web.label_kept_pages import kept_prints
from slabwright.web.label_view import LabelView
from slabwright.web.label_words import mistakes_for_page
from slabwright.web.papers import without_file

router = APIRouter(include_in_schema=False)


@router.get("/slabs/{card_id}/label")
def label_page(
    request: Request, card_id: CardId, ask: Annotated[LabelAsk, Query()]
) -> Response:
    """How it is sold, and what that asks to be shown."""
    with looking(request) as visit:
        return _page(request, visit, card_id, ask)


@router.post("/slabs/{card_id}/label")
def write(
    request: Request,
    card_id: CardId,
    word: Annotated[str, Form(max_length=20)] = "",
    value: Annotated[str, Form(max_length=500)] = "",
) -> Response:
    """Write on the card how it is sold, called or dated: at the desk, to be kept."""
    try:
        with acting(request) as visit:
            write_on_card(visit, card_id, word, value)
    except FileError as error:
        with looking(request) as visit:
            return _page(request, visit, card_id, LabelAsk(), error.mistakes, value)
    return RedirectResponse(f"/slabs/{card_id}", status_code=303)


def write_on_card(visit: Visit, card_id: int, word: str, value: str) -> None:
    """Write a line into the head of the card that stands at the desk.

    Raises:
        FileError: for a word that is none of these, or a value that says nothing.
    """
    if word not in SELLING:
        what = f"'{word:.40}' is no word that a label leans on, or a price."
        raise FileError(Mistake(what, f"One of {', '.join(SELLING)}."))
    at = at_desk(visit, card_id)
    folder = visit.desk.folder
    text = Text(at.text)
    asked = AskedEdit(word, value)
    change = edited(at.text, asked, folder.read(text), folder.names, folder.tins)
    changed = change.applied(at.text)
    place = (visit.connection, visit.kitchen_id, draft_key(card_id), visit.author)
    if changed == at.revision.text:
        drafts.drop(*place)
    elif changed != at.text:
        drafts.keep(
            *place, changed, visit.house.now(), card_id=card_id,
            based_on=at.revision.number,
        )  # fmt: skip


def _page(
    request: Request,
    visit: Visit,
    card_id: int,
    ask: LabelAsk,
    mistakes: tuple[Mistake, ...] = (),
    typed: str = "",
) -> Response:
    card = slab_at(visit, card_id)
    revision = revision_at(visit, card_id, ask.v or card.current)
    worked = worked_revision(visit, revision)
    made: Labels | None = None
    views: list[LabelView] = []
    try:
        made = labels_of(worked.spec, visit.desk.folder, ask.asked(visit.desk.day))
        views = [LabelView(one, number_of(visit, ask, one)) for one in made.labels]
    except SlabwrightError as error:
        mistakes = (*mistakes, *error.mistakes)
    said = worked.spec.card
    sold = _written(revision.text, said.sold)
    return render(
        request, "slab_label.html", visit=visit, card=card, revision=revision,
        status=422 if mistakes else 200, title=f"{card.name}: label", here="Slabs",
        stop="Label", part="What it shows", ask=ask, made=made, views=views,
        draft=at_desk(visit, card_id).draft, view=DeskView(worked), said=said,
        sold=sold, ways=list(Selling), typed=typed,
        mistakes=mistakes_for_page(without_file(mistakes)),
        exceptions=exceptions(), day=visit.desk.day,
        prints=kept_prints(visit, card, _current(visit, card)),
    )  # fmt: skip


def _current(visit: Visit, card: CardRow) -> Specification:
    return worked_revision(visit, revision_at(visit, card.id, card.current)).spec


def _written(text: str, sold: Sold | None) -> str:
    """How the card says that it is sold, as it stands there."""
    if sold is None:
        return ""
    line = Text(text).text.splitlines()[sold.span.line - 1]
    said = line[sold.span.column - 1 : sold.span.end - 1].strip()
    return said.removeprefix("sold").strip(" :")


def number_of(visit: Visit, ask: LabelAsk, label: Label) -> Number | None:
    """The number under the bars, if one is asked.

    Raises:
        FileError: for a number that can't be.
    """
    way, folder = label.order.way, visit.desk.folder
    return number_for(way, folder, item=ask.item, code=ask.code)
