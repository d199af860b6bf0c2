"""The first ten minutes: paste a recipe, see it stand, keep it."""

from typing import Final
from urllib.parse import urlencode

from fastapi import APIRouter, Request, Response
from starlette.responses import RedirectResponse

from slabwright.files.pasted.adopt import adopted
from slabwright.store import cards, drafts
from slabwright.web.desk_pages import followed
from slabwright.web.fields import Base, CardText, Name, Note
from slabwright.web.house import acting, looking, render
from slabwright.web.typed import as_typed

router = APIRouter(include_in_schema=False)

_KEY: Final = "new"
_UNNAMED: Final = "Slab without a name"


@router.get("/start")
def start_page(request: Request) -> Response:
    """An empty card, or what was pasted here before."""
    with looking(request) as visit:
        draft = drafts.one(visit.connection, visit.kitchen_id, _KEY, visit.author)
        text = draft.text if draft else ""
        count = cards.counted(visit.connection, visit.kitchen_id, "slab")
        return render(
            request, "start.html", visit=visit, title="Paste a recipe", here="Slabs",
            view=followed(visit, visit.desk.worked(text), is_new=True), text=text,
            base=0,
            address="/start", is_new=True, draft=None, others=(), is_first=not count,
        )  # fmt: skip


@router.post("/start/follow")
def follow(request: Request, card: CardText = "") -> Response:
    """Every part of the page that hangs on the text, as pasted now."""
    with looking(request) as visit:
        view = followed(visit, visit.desk.worked(as_typed(card)), is_new=True)
        return render(request, "_follow.html", visit=visit, view=view)


@router.post("/start/draft")
def keep_draft(request: Request, card: CardText = "", base: Base = 0) -> Response:
    """Keep what was pasted, until it is kept as a slab."""
    del base  # the desk's form sends it; a new slab has none
    with acting(request) as visit:
        text, place = as_typed(card), (visit.connection, visit.kitchen_id, _KEY)
        if text.strip():
            drafts.keep(*place, visit.author, text, visit.house.now())
        else:
            drafts.drop(*place, visit.author)
    return Response(status_code=204)


@router.post("/start/keep")
def keep(
    request: Request, card: CardText = "", note: Note = "", then: Name = ""
) -> Response:
    """Keep what was pasted as a slab of the kitchen; what is no card becomes one.

    `then` is where to go: `sheet`, or the tin to scale it to.
    """
    text = as_typed(card)
    if not text.strip():
        return RedirectResponse("/start", status_code=303)
    with acting(request) as visit:
        worked = visit.desk.worked(text)
        if worked.read.is_pasted:
            folder = visit.desk.folder
            text = adopted(worked.read, folder.names, folder.tins)
            worked = visit.desk.worked(text)
        made = worked.read.card
        row = cards.add(
            visit.connection,
            visit.kitchen_id,
            "component" if made.is_component else "slab",
            worked.spec.name or _UNNAMED,
            text,
            visit.who(note),
            is_proved=made.proved is not None,
        )
        drafts.drop(visit.connection, visit.kitchen_id, _KEY, visit.author)
    if row.kind == "component":
        return RedirectResponse("/slabs", status_code=303)
    there = f"/slabs/{row.id}"
    if then == "sheet":
        there += "/sheet"
    elif then:
        there += f"/scale?{urlencode({'tin': then})}"
    return RedirectResponse(there, status_code=303)
