"""One slab at the desk: its card, followed while it is typed, kept as revisions."""

from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import count
from typing import Final

from fastapi import APIRouter, Request, Response
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, RedirectResponse

from slabwright.desk.allergens import allergens_at
from slabwright.desk.worked import Worked
from slabwright.spec.specification import Specification
from slabwright.store import cards, drafts, revisions
from slabwright.store.cards import CardRow
from slabwright.store.drafts import Draft
from slabwright.store.errors import EditedMeanwhileError
from slabwright.store.revisions import Revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import (
    Base,
    CardId,
    CardText,
    DraftField,
    DraftKey,
    Flag,
    Note,
)
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.typed import as_typed

router = APIRouter(include_in_schema=False)

NO_SLAB: Final = "There is no such slab in this kitchen."


@dataclass(frozen=True, slots=True)
class AtDesk:
    """A slab, its revision that is being changed, and what was drafted from it."""

    card: CardRow
    revision: Revision
    draft: Draft | None
    others: tuple[Draft, ...] = ()
    """What else its author typed, in another window or another browser."""

    @property
    def text(self) -> str:
        """What stands in the editor."""
        return self.draft.text if self.draft else self.revision.text


def slab_at(visit: Visit, card_id: int) -> CardRow:
    """The slab of this number in the visit's kitchen.

    Raises:
        HTTPException: 404 if there is none.
    """
    row = cards.one(visit.connection, visit.kitchen_id, card_id)
    if row is None:
        raise HTTPException(404, NO_SLAB)
    return row


def revision_at(visit: Visit, card_id: int, number: int) -> Revision:
    """A revision of a slab.

    Raises:
        HTTPException: 404 if there is none.
    """
    found = revisions.one(visit.connection, visit.kitchen_id, card_id, number)
    if found is None:
        raise HTTPException(404, f"This slab has no v{number}.")
    return found


def worked_revision(visit: Visit, revision: Revision) -> Worked:
    """A revision, worked out with the kitchen as it stands now."""
    return visit.desk.worked(revision.text)


def followed(
    visit: Visit,
    worked: Worked,
    before: Specification | None = None,
    *,
    is_new: bool = False,
) -> DeskView:
    """What the desk shows of a card while it is typed."""
    found = allergens_at(visit.desk, worked.spec)
    return DeskView(worked, before, is_new, found)


def draft_key(card_id: int) -> str:
    """Under which a slab's draft is kept."""
    return f"card-{card_id}"


def drafts_of(visit: Visit, card_id: int) -> tuple[Draft, ...]:
    """What whoever sits there typed of a slab, the newest first."""
    every = drafts.listed(visit.connection, visit.kitchen_id, visit.author)
    return tuple(one for one in every if one.card_id == card_id)


def at_desk(visit: Visit, card_id: int, key: str = "") -> AtDesk:
    """A slab as its editor opens it: with the draft of whoever sits there.

    Args:
        visit: the visit.
        card_id: the slab.
        key: which draft, where there are several; the newest if there is no such.
    """
    card = slab_at(visit, card_id)
    every = drafts_of(visit, card_id)
    draft = next((one for one in every if one.key == key), every[0] if every else None)
    number = draft.based_on if draft else card.current
    revision = revision_at(visit, card_id, number)
    others = tuple(one for one in every if one is not draft)
    if draft is not None and draft.text == revision.text:
        draft = None
    return AtDesk(card, revision, draft, others)


@router.get("/slabs/{card_id}")
def slab_page(request: Request, card_id: CardId, draft: DraftKey = "") -> Response:
    """The desk of one slab."""
    with looking(request) as visit:
        at = at_desk(visit, card_id, draft)
        before = worked_revision(visit, at.revision).spec
        view = followed(visit, visit.desk.worked(at.text), before)
        return render(
            request, "slab.html", visit=visit, title=at.card.name, here="Slabs",
            stop="Desk", card=at.card, revision=at.revision, draft=at.draft,
            others=at.others, view=view, text=at.text, base=at.revision.number,
            address=f"/slabs/{card_id}", is_new=False,
        )  # fmt: skip


@router.post("/slabs/{card_id}/follow")
def follow(request: Request, card_id: CardId, card: CardText = "", base: Base = 0
           ) -> Response:  # fmt: skip
    """Every part of the desk that hangs on the text, as typed now."""
    with looking(request) as visit:
        slab_at(visit, card_id)
        revision = revision_at(visit, card_id, base)
        before = worked_revision(visit, revision).spec
        worked = visit.desk.worked(as_typed(card, revision.text))
        view = followed(visit, worked, before)
        return render(request, "_follow.html", visit=visit, view=view)


@router.post("/slabs/{card_id}/draft")
def keep_draft(
    request: Request,
    card_id: CardId,
    card: CardText = "",
    base: Base = 0,
    draft: DraftField = "",
    seen: DraftField = "",
) -> Response:
    """Keep what is typed, beside the revision that it began with.

    A draft that this window has not seen is another window's, and stays: this one
    gets a key of its own.
    """
    with acting(request) as visit:
        slab_at(visit, card_id)
        revision = revision_at(visit, card_id, base)
        text = as_typed(card, revision.text)
        key = own_key(visit, card_id, draft, seen, text)
        if text == revision.text:
            drafts.drop(visit.connection, visit.kitchen_id, key, visit.author)
            return JSONResponse({"key": key, "at": ""})
        kept = drafts.keep(
            visit.connection, visit.kitchen_id, key, visit.author, text,
            visit.house.now(), card_id=card_id, based_on=base,
        )  # fmt: skip
    return JSONResponse({"key": key, "at": kept.at.isoformat()})


def own_key(visit: Visit, card_id: int, key: str, seen: str, text: str) -> str:
    """The key under which a window's text is kept without hurting another's.

    Args:
        visit: the visit.
        card_id: the slab.
        key: the key that the window has; empty if none.
        seen: when the draft of that key was kept, as the window knows it.
        text: what it is about to keep.
    """
    usual = draft_key(card_id)
    own = key if key.startswith(f"{usual}~") else usual
    there = {one.key: one for one in drafts_of(visit, card_id)}
    if own not in there or there[own].text == text:
        return own
    if there[own].at.isoformat() == seen:
        return own
    return next(f"{usual}~{n}" for n in count(2) if f"{usual}~{n}" not in there)


@router.post("/slabs/{card_id}/drop")
def drop_draft(request: Request, card_id: CardId, draft: DraftField = "") -> Response:
    """Let go of what was typed; the revision stands as it was."""
    with acting(request) as visit:
        slab_at(visit, card_id)
        key = draft or draft_key(card_id)
        drafts.drop(visit.connection, visit.kitchen_id, key, visit.author)
    return RedirectResponse(f"/slabs/{card_id}", status_code=303)


@router.post("/slabs/{card_id}/keep")
def keep(
    request: Request,
    card_id: CardId,
    card: CardText = "",
    base: Base = 0,
    note: Note = "",
    as_trial: Flag = "",
    draft: DraftField = "",
) -> Response:
    """Keep what is typed as the slab's next revision, or as a trial beside it."""
    try:
        with acting(request) as visit:
            row = slab_at(visit, card_id)
            revision = revision_at(visit, card_id, base)
            text = as_typed(card, revision.text)
            if text == revision.text:
                return RedirectResponse(f"/slabs/{card_id}", status_code=303)
            worked = visit.desk.worked(text)
            saved = revisions.save(
                visit.connection, visit.kitchen_id, card_id, text, visit.who(note),
                based_on=base, as_trial=bool(as_trial),
                is_proved=worked.read.card.proved is not None,
                name=worked.spec.name or row.name, has_bom=row.has_bom,
            )  # fmt: skip
            _let_go(visit, card_id, draft, text)
    except EditedMeanwhileError as error:
        return _two_hands(request, card_id, (text, base, note, draft), error)
    there = f"/trials#v{saved.number}" if saved.is_trial else ""
    return RedirectResponse(f"/slabs/{card_id}{there}", status_code=303)


def _let_go(visit: Visit, card_id: int, key: str, text: str) -> None:
    """Forget the drafts that are kept as a revision now."""
    own = key or draft_key(card_id)
    for one in drafts_of(visit, card_id):
        if one.text == text or one.key == own:
            drafts.drop(visit.connection, visit.kitchen_id, one.key, visit.author)


def _two_hands(
    request: Request,
    card_id: int,
    mine: tuple[str, int, str, str],
    error: EditedMeanwhileError,
) -> Response:
    """Both versions side by side; nothing is lost and nothing overwritten."""
    text, base, note, draft = mine
    with acting(request) as visit:
        drafts.keep(
            visit.connection, visit.kitchen_id, draft or draft_key(card_id),
            visit.author,
            text, visit.house.now(), card_id=card_id, based_on=base,
        )  # fmt: skip
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        theirs = visit.desk.worked(error.theirs.text)
        return render(
            request, "two_hands.html", visit=visit, status=409, title=card.name,
            here="Slabs", card=card, theirs=error.theirs, mine=text, note=note,
            draft=draft, base=base, view=DeskView(visit.desk.worked(text), theirs.spec),
            rows=_side_by_side(error.theirs.text, text),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class BothLines:
    """A line as each of two hands has it."""

    theirs: str
    mine: str
    differs: bool


def _side_by_side(theirs: str, mine: str) -> tuple[BothLines, ...]:
    """Lines of two texts against each other."""
    a, b = theirs.splitlines(), mine.splitlines()
    rows: list[BothLines] = []
    for tag, i, j, k, m in SequenceMatcher(None, a, b, False).get_opcodes():
        for n in range(max(j - i, m - k)):
            left = a[i + n] if i + n < j else ""
            right = b[k + n] if k + n < m else ""
            rows.append(BothLines(left, right, tag != "equal"))
    return tuple(rows)
