"""Scale and cut: another tin, so many pieces, a depth; and where the knife goes.

The form is a GET, so that every answer has an address; typing replaces the answer.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Form, Query, Request, Response
from starlette.responses import RedirectResponse

from slabwright.desk.cutting import own_cut, worked_as, written
from slabwright.desk.scaling import chosen, scaled_as, text_of_card
from slabwright.desk.worked import Worked
from slabwright.errors import FileError, Mistake, SlabwrightError
from slabwright.files.raw import Text
from slabwright.publish.draw_cut import drawn_plan
from slabwright.publish.drawing.ruler_strip import ruler_pages
from slabwright.publish.paper import pages_pdf
from slabwright.slab.presets import preset_names
from slabwright.spec.cut_sheet import CutSheet, cut_sheet
from slabwright.store import drafts, revisions
from slabwright.store.cards import CardRow
from slabwright.store.drafts import Draft
from slabwright.store.revisions import Revision
from slabwright.web.cut_view import CutView
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
from slabwright.web.scale_asked import KeepAsk, ScaleAsk, Wrong, wrong
from slabwright.web.scale_view import ScaleView
from slabwright.web.work_view import work_view

router = APIRouter(include_in_schema=False)

Asked = Annotated[ScaleAsk, Query()]
Posted = Annotated[ScaleAsk, Form()]
_LEAST_TINS: Final = 2


@dataclass(frozen=True)
class AtScale:
    """A slab, and the revision of it that is scaled and cut."""

    card: CardRow
    revision: Revision
    draft: Draft | None
    """What somebody changes at the desk: it is not scaled, and that is said."""
    worked: Worked


def at_scale(visit: Visit, card_id: int, ask: ScaleAsk) -> AtScale:
    """The slab's card as it is kept, or the revision that was asked for.

    Raises:
        HTTPException: 404 if there is none.
    """
    card = slab_at(visit, card_id)
    revision = revision_at(visit, card_id, ask.v or card.current)
    draft = at_desk(visit, card_id).draft
    return AtScale(card, revision, draft, worked_revision(visit, revision))


def scaled_view(visit: Visit, at: AtScale, ask: ScaleAsk) -> ScaleView:
    """The slab scaled as asked.

    Raises:
        SlabwrightError: for what can't be read or had.
    """
    spec, desk = at.worked.spec, visit.desk
    made = scaled_as(spec, desk.folder, desk.order(), ask.asked(spec))
    return ScaleView(*made, ask.choice or "A")


def asked_sheet(visit: Visit, at: AtScale, ask: ScaleAsk) -> CutSheet:
    """The slab cut as asked.

    Raises:
        SlabwrightError: for what is no cut, and what can't be cut so.
    """
    worked, desk = _to_cut(visit, at, ask), visit.desk
    read = worked.read
    asked = ask.cut_asked(read)
    spec = worked_as(worked.spec, read, desk.folder, desk.order(), asked)
    wrong_cut = [one for one in spec.errors if one not in worked.spec.errors]
    if asked.cut.is_asked and wrong_cut:
        raise FileError(*wrong_cut)
    return cut_sheet(spec, asked.tin_name)


def _to_cut(visit: Visit, at: AtScale, ask: ScaleAsk) -> Worked:
    """The slab that is cut: scaled, where it is scaled to one kind of tin."""
    if len(ask.tins) != 1 or ask.within.strip():
        return at.worked
    try:
        made = scaled_view(visit, at, ask)
        slab = chosen(made.scaled.making, made.found, made.choice)
    except SlabwrightError:
        return at.worked  # what is wrong stands beside the other half
    return visit.desk.worked(text_of_card(slab))


@dataclass(frozen=True)
class Answer:
    """What the form comes to; either half may be wrong by itself."""

    scaled: ScaleView | None
    scale_wrong: tuple[Wrong, ...]
    cut: CutView | None
    cut_wrong: tuple[Wrong, ...]

    @property
    def sentence(self) -> str:
        """What a screen reader is told after a rest."""
        said = [f"{one.what} {one.do}" for one in (*self.scale_wrong, *self.cut_wrong)]
        if self.scaled is not None:
            said.append(self.scaled.sentence)
        return " ".join(said)


def answer(visit: Visit, at: AtScale, ask: ScaleAsk) -> Answer:
    """Both halves, each with its own mistakes."""
    scaled = cut = None
    scale_wrong: Sequence[Wrong] = ()
    cut_wrong: Sequence[Wrong] = ()
    try:
        scaled = scaled_view(visit, at, ask)
    except SlabwrightError as error:
        scale_wrong = wrong(error.mistakes)
    try:
        cut = CutView(asked_sheet(visit, at, ask), is_own=not ask.is_cut_asked)
    except SlabwrightError as error:
        cut_wrong = wrong(error.mistakes)
    return Answer(scaled, tuple(scale_wrong), cut, tuple(cut_wrong))


@router.get("/slabs/{card_id}/scale")
def scale_page(request: Request, card_id: CardId, ask: Asked) -> Response:
    """The form with its answer."""
    with looking(request) as visit:
        at = at_scale(visit, card_id, ask)
        kitchen = visit.desk.folder.kitchen
        names = (*(name for name, _ in kitchen.tins), *preset_names())
        return render(
            request, "scale.html", visit=visit, title=f"{at.card.name}: scale and cut",
            here="Slabs", stop="Scale and cut", card=at.card, revision=at.revision,
            draft=at.draft, view=DeskView(at.worked), ask=ask, answer=answer(
                visit, at, ask), tin_names=tuple(dict.fromkeys(names)),
            tin_fields=filled(ask.tin, _LEAST_TINS), trim=own_cut(at.worked.read),
            work=work_view(visit, ask.work),
        )  # fmt: skip


@router.get("/slabs/{card_id}/scale/answer")
def scale_answer(request: Request, card_id: CardId, ask: Asked) -> Response:
    """Every part of the page that hangs on the form, as typed now."""
    with looking(request) as visit:
        at = at_scale(visit, card_id, ask)
        return render(
            request, "scale_answer.html", visit=visit, card=at.card, ask=ask,
            answer=answer(visit, at, ask), revision=at.revision,
        )  # fmt: skip


@router.post("/slabs/{card_id}/scale/keep")
def keep_scaled(
    request: Request, card_id: CardId, ask: Annotated[KeepAsk, Form()]
) -> Response:
    """Keep the chosen amounts as a trial beside the card."""
    with acting(request) as visit:
        at = at_scale(visit, card_id, ask)
        view = scaled_view(visit, at, ask)
        slab = chosen(view.scaled.making, view.found, view.letter)
        which = view.letter if view.letter == "exact" else f"choice {view.letter}"
        note = ask.note.strip() or f"{view.made_for}, {which}"
        saved = revisions.save(
            visit.connection, visit.kitchen_id, card_id, text_of_card(slab),
            visit.who(note), based_on=at.revision.number, as_trial=True,
            name=at.card.name,
        )  # fmt: skip
    there = f"/slabs/{card_id}/trials#v{saved.number}"
    return RedirectResponse(there, status_code=303)


@router.post("/slabs/{card_id}/scale/cut")
def write_cut(
    request: Request,
    card_id: CardId,
    words: Annotated[str, Form(max_length=300, pattern=r"^[^\x00\r\n#]*$")],
) -> Response:
    """Write a cut on the card: at the desk, where it can be looked at and kept."""
    with acting(request) as visit:
        at = at_desk(visit, card_id)
        folder = visit.desk.folder
        text = Text(at.text)
        changed = written(text, folder.read(text), folder, words)
        place = (visit.connection, visit.kitchen_id, draft_key(card_id), visit.author)
        if changed == at.revision.text:
            drafts.drop(*place)
        elif changed != at.text:
            drafts.keep(
                *place, changed, visit.house.now(), card_id=card_id,
                based_on=at.revision.number,
            )  # fmt: skip
    return RedirectResponse(f"/slabs/{card_id}", status_code=303)


@router.get("/slabs/{card_id}/ruler.pdf")
def ruler_strips(request: Request, card_id: CardId, ask: Asked) -> Response:
    """Ruler strips of the cut at true size, to be printed and laid on the slab."""
    with looking(request) as visit:
        at = at_scale(visit, card_id, ask)
        sheet = asked_sheet(visit, at, ask)
    pages = ruler_pages(drawn_plan(sheet.spec, sheet.cut))
    if not pages:
        what = "Nothing of this cut is marked along a ruler."
        raise FileError(Mistake(what, "Cut it in rows, or by the knife's order."))
    count = len(pages)
    alts = [f"Ruler strips, page {n} of {count}" for n in range(1, count + 1)]
    data = pages_pdf(f"Ruler strips for {sheet.spec.name}", pages, alts)
    return paper(data, f"{at.card.stem}-ruler.pdf", "attachment")


def paper(data: bytes, name: str, how: str) -> Response:
    """A PDF to look at (`inline`) or to keep (`attachment`), under a plain name."""
    policy = "default-src 'none'; object-src 'self'; frame-ancestors 'none'"
    headers = {
        "Content-Disposition": f'{how}; filename="{name}"',
        "Content-Security-Policy": policy,  # a browser's own viewer is an object
    }
    return Response(data, media_type="application/pdf", headers=headers)


def filled(typed: Sequence[str], least: int) -> tuple[str, ...]:
    """What was typed, and at least one empty field after it."""
    kept = [text for text in typed if text.strip()]
    return (*kept, *[""] * max(least - len(kept), 1))
