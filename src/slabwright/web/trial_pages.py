"""A slab's revisions and trials: seen, held against each other, taken up again."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Form, Query, Request, Response
from markupsafe import Markup
from starlette.responses import RedirectResponse

from slabwright.figure import Figure
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.cut_face import SAMPLE_MM, cut_face_svg
from slabwright.spec.compare import Comparison, compare
from slabwright.spec.specification import LayerFigures, Specification
from slabwright.store import drafts, revisions
from slabwright.store.revisions import Revision
from slabwright.web.desk_pages import (
    draft_key,
    revision_at,
    slab_at,
    worked_revision,
)
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId, Note, RevisionNumber
from slabwright.web.house import acting, looking, render
from slabwright.web.shown import drawing

router = APIRouter(include_in_schema=False)

PAGE: Final = 30
_PX_PER_MM: Final = 2.0
_MOST_BESIDE: Final = 6
_SHARES: Final = ("share_of_mass", "water_share", "fat_share", "sugars_share")
Beside = Annotated[list[int], Query(default_factory=list, max_length=_MOST_BESIDE)]
Number = Annotated[int, Form(ge=1, le=MOST_NUMBER)]


@dataclass(frozen=True)
class Told:
    """A revision as the list tells of it."""

    revision: Revision
    spec: Specification
    against: Comparison | None
    """What it changed; None for the first."""

    @property
    def face(self) -> Markup:
        """A piece of it, small, all at one scale."""
        slab = drawn(self.spec)
        wide_mm = min(slab.piece_mm or SAMPLE_MM, SAMPLE_MM)
        px = wide_mm * _PX_PER_MM + 3
        prefix = f"face-v{self.revision.number}"
        return drawing(cut_face_svg(slab, width_px=px, theme="page", prefix=prefix))

    @property
    def changes(self) -> tuple[str, ...]:
        """What was changed, in a few words each."""
        made = self.against
        if made is None:
            return ()
        lines = [
            f"{one.name}, {_grams(one.before_g)} to {_grams(one.after_g)}"
            for one in made.lines
        ]
        said = [
            f"{one.where}, {one.what}: {one.before or 'none'} to {one.after or 'none'}"
            for one in made.said
        ]
        return tuple(lines + said)


def _grams(value: float | None) -> str:
    return "none" if value is None else f"{value:g} g"


@router.get("/slabs/{card_id}/trials")
def trials_page(
    request: Request,
    card_id: CardId,
    beside: Beside,
    start: Annotated[int, Query(ge=0, le=MOST_NUMBER)] = 0,
) -> Response:
    """Every revision, the newest first; those that were chosen stand side by side."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        place = (visit.connection, visit.kitchen_id, card_id)
        found = revisions.listed(*place, start=start, limit=PAGE + 1)
        draft = drafts.one(
            visit.connection, visit.kitchen_id, draft_key(card_id), visit.author
        )
        told = []
        for one in found[:PAGE]:
            spec = worked_revision(visit, one).spec
            origin = revisions.one(*place, one.from_number) if one.from_number else None
            before = worked_revision(visit, origin).spec if origin else None
            told.append(Told(one, spec, compare(before, spec) if before else None))
        columns = [
            (one, worked_revision(visit, one).spec)
            for one in (revisions.one(*place, number) for number in sorted(set(beside)))
            if one is not None
        ]
        current = revision_at(visit, card_id, card.current)
        return render(
            request, "trials.html", visit=visit, title=card.name, here="Slabs",
            stop="Trials", card=card, revision=current, draft=draft, told=told,
            beside=columns, rows=list(side_by_side([spec for _, spec in columns])),
            start=start, page=PAGE, has_more=len(found) > PAGE,
            view=DeskView(visit.desk.worked(current.text)),
        )  # fmt: skip


@router.get("/slabs/{card_id}/trials/{number}")
def revision_page(
    request: Request, card_id: CardId, number: RevisionNumber
) -> Response:
    """One revision as it was kept, and what it changed."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, number)
        before = None
        if revision.from_number:
            origin = revision_at(visit, card_id, revision.from_number)
            before = worked_revision(visit, origin).spec
        view = DeskView(worked_revision(visit, revision), before)
        return render(
            request, "revision.html", visit=visit, here="Slabs", stop="Trials",
            title=f"{card.name} v{number}", card=card, revision=revision, view=view,
            draft=None,
        )  # fmt: skip


@router.post("/slabs/{card_id}/take-up")
def take_up(
    request: Request, card_id: CardId, number: Number, note: Note = ""
) -> Response:
    """Make a trial or an older revision the slab's card, as a new revision."""
    with acting(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, number)
        if number != card.current:
            act = revisions.take_up if revision.is_trial else revisions.restore
            why = note.strip() or f"v{number} taken up again"
            name = worked_revision(visit, revision).spec.name or card.name
            act(
                visit.connection, visit.kitchen_id, card_id, number, visit.who(why),
                name=name,
            )  # fmt: skip
    return RedirectResponse(f"/slabs/{card_id}", status_code=303)


# --- side by side --------------------


@dataclass(frozen=True, slots=True)
class BesideRow:
    """A figure as each of several revisions has it."""

    head: str
    """Opens a group where it is not empty."""
    name: str
    cells: tuple[Figure | None, ...]

    @property
    def differs(self) -> bool:
        """Whether they are not all the same."""
        return len({one.value if one else None for one in self.cells}) > 1


def side_by_side(specs: Sequence[Specification]) -> Iterator[BesideRow]:
    """The slab's figures, then each layer's, then each line's, of several revisions."""
    if len(specs) < 2:
        return
    yield BesideRow("", "height", tuple(s.height_mm for s in specs))
    yield BesideRow("", "mass", tuple(s.mass_g for s in specs))
    pieces = tuple(s.cut.piece_mass_g if s.cut else None for s in specs)
    yield BesideRow("", "a piece", pieces)
    costs = tuple(s.cost.ingredients if s.cost else None for s in specs)
    yield BesideRow("", "ingredients", costs)
    for name in dict.fromkeys(layer.name for s in specs for layer in s.layers):
        own = [next((x for x in s.layers if x.name == name), None) for s in specs]
        yield BesideRow(name, "depth", tuple(x.depth_mm if x else None for x in own))
        for part in _SHARES:
            cells = tuple(getattr(x, part) if x else None for x in own)
            yield BesideRow("", part.replace("_", " "), cells)
        yield from _lines_beside(own)


def _lines_beside(own: Sequence[LayerFigures | None]) -> Iterator[BesideRow]:
    """Lines of one layer: the first of a name with the first, and so on."""
    named: dict[tuple[str, int], dict[int, Figure]] = {}
    for column, layer in enumerate(own):
        seen: Counter[str] = Counter()
        for line in layer.lines if layer else ():
            seen[line.name] += 1
            cells = named.setdefault((line.name, seen[line.name]), {})
            cells[column] = line.mass_g
    for (name, _), cells in named.items():
        yield BesideRow("", name, tuple(cells.get(i) for i in range(len(own))))
