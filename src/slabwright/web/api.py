"""The API: what the screens do, as JSON."""

from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse

from slabwright.desk.scaling import AskedFor, scaled_as
from slabwright.errors import FileError, Mistake
from slabwright.files.wanted import Asked
from slabwright.publish.compare_json import comparison_json
from slabwright.publish.cutting_json import cutting_json
from slabwright.publish.ingredient import ingredient_json
from slabwright.publish.json_form import spec_json
from slabwright.publish.scaling_json import scaling_json
from slabwright.spec.compare import compare
from slabwright.store import cards, papers, revisions
from slabwright.store.cards import CardRow
from slabwright.store.errors import EditedMeanwhileError
from slabwright.store.revisions import Revision
from slabwright.web.desk_pages import revision_at, slab_at, worked_revision
from slabwright.web.fields import MOST_NUMBER, CardId, Find, RevisionNumber, Start
from slabwright.web.house import acting, looking
from slabwright.web.scale_asked import ScaleAsk
from slabwright.web.scale_pages import asked_sheet, at_scale

router = APIRouter(prefix="/api")

Json = dict[str, Any]
CardField = Annotated[str, Field(max_length=1024 * 1024)]
NoteField = Annotated[str, Field(max_length=2000)]
_STRICT: Final = ConfigDict(extra="forbid", allow_inf_nan=False)
Short = Annotated[str, Query(max_length=200)]
Words = Annotated[str, Field(max_length=200)]
Count = Annotated[int | None, Field(ge=1, le=100_000)]


class CardText(BaseModel):
    """A card, or a pasted recipe."""

    model_config = _STRICT
    text: CardField


class NewSlab(CardText):
    """A card to keep as a slab of the kitchen."""

    note: NoteField = ""


class NewRevision(NewSlab):
    """A card to keep after, or beside, a revision."""

    based_on: int = Field(ge=0, le=MOST_NUMBER)
    as_trial: bool = False


class Number(BaseModel):
    """The number of a revision."""

    model_config = _STRICT
    number: int = Field(ge=1, le=MOST_NUMBER)


class ScaleTo(BaseModel):
    """What a slab is to be scaled to."""

    model_config = _STRICT
    tin: list[Words] = Field(default=[], max_length=20)
    trays: Count = None
    pieces: Count = None
    by: Words = ""
    mass: Words = ""
    height: Words = ""
    layer: list[Words] = Field(default=[], max_length=20)
    to_rim: bool = False
    head_room: Words = ""
    whole_batch: bool = False
    packs: list[Words] = Field(default=[], max_length=20)
    allow: Words = "6%"
    care: float = Field(default=5.0, ge=0, le=1000)
    depth_counts: float = Field(default=1.0, ge=0, le=1000)

    def wanted(self) -> AskedFor:
        """The same, as the desk takes it."""
        asked = Asked(
            tuple(self.tin), self.trays, self.pieces, self.by, self.mass, self.height,
            tuple(self.layer), self.to_rim, self.head_room, self.whole_batch,
        )  # fmt: skip
        return AskedFor(asked, self.packs, self.allow, self.care, self.depth_counts)


class CutTo(BaseModel):
    """How a slab is to be cut; the card's own way, if nothing is said."""

    model_config = _STRICT
    cut: Words = Field(default="", description="As on a card: 5 x 4, trim 5 mm.")
    count: Words = Field(default="", description="So many pieces.")
    size: Words = Field(default="", description="Of a size: 58 x 47.5 mm.")
    low: Words = Field(default="", description="A piece weighs at least so much.")
    high: Words = Field(default="", description="And at most so much.")
    least: Words = Field(default="", description="Not narrower than so much.")
    within: Words = Field(default="", description="In which other tin of the card.")


def _slab(row: CardRow) -> Json:
    return {
        "id": row.id,
        "name": row.name,
        "current": row.current,
        "latest": row.latest,
        "is_proved": row.is_proved,
        "is_aside": row.is_aside,
        "author": row.author,
        "at": row.at.isoformat(),
    }


def _revision(one: Revision) -> Json:
    return {
        "number": one.number,
        "from": one.from_number or None,
        "text": one.text,
        "author": one.author,
        "at": one.at.isoformat(),
        "note": one.note,
        "is_trial": one.is_trial,
        "is_proved": one.is_proved,
    }


@router.post("/spec", tags=["cards"])
def spec_of_text(request: Request, card: CardText) -> Json:
    """Work a card out, without keeping it."""
    with looking(request) as visit:
        return spec_json(visit.desk.worked(card.text).spec)


@router.get("/slabs", tags=["slabs"])
def slabs(
    request: Request,
    find: Find = "",
    start: Start = 0,
    limit: Annotated[int, Query(ge=1, le=200)] = 24,
    aside: bool | None = None,
) -> Json:
    """Slabs of the kitchen, the newest change first."""
    with looking(request) as visit:
        c, kitchen = visit.connection, visit.kitchen_id
        rows = cards.listed(
            c, kitchen, "slab", is_aside=aside, find=find, start=start, limit=limit
        )
        count = cards.counted(c, kitchen, "slab", is_aside=aside, find=find)
    return {"count": count, "slabs": [_slab(row) for row in rows]}


@router.post("/slabs", status_code=201, tags=["slabs"])
def add_slab(request: Request, new: NewSlab) -> Json:
    """Keep a card as a slab of the kitchen."""
    if not new.text.strip():
        what = "There is nothing on this card."
        raise FileError(Mistake(what, "Begin it with: slab and a name."))
    with acting(request) as visit:
        worked = visit.desk.worked(new.text)
        made = worked.read.card
        row = cards.add(
            visit.connection, visit.kitchen_id,
            "component" if made.is_component else "slab",
            worked.spec.name or "Slab without a name", new.text, visit.who(new.note),
            is_proved=made.proved is not None,
        )  # fmt: skip
    return _slab(row)


@router.get("/slabs/{card_id}", tags=["slabs"])
def slab(request: Request, card_id: CardId) -> Json:
    """A slab with the card that it has now."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        return {**_slab(row), "text": row.text}


@router.get("/slabs/{card_id}/spec", tags=["slabs"])
def spec_of_slab(
    request: Request,
    card_id: CardId,
    revision: Annotated[int | None, Query(ge=1, le=MOST_NUMBER)] = None,
) -> Json:
    """A slab worked out; one of its revisions, if that is asked."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        one = revision_at(visit, card_id, revision or row.current)
        return spec_json(worked_revision(visit, one).spec)


@router.get("/slabs/{card_id}/revisions", tags=["revisions"])
def revisions_of(
    request: Request,
    card_id: CardId,
    start: Start = 0,
    limit: Annotated[int, Query(ge=1, le=200)] = 50,
) -> Json:
    """Every revision and trial, the newest first."""
    with looking(request) as visit:
        slab_at(visit, card_id)
        found = revisions.listed(
            visit.connection, visit.kitchen_id, card_id, start=start, limit=limit
        )
    return {"revisions": [_revision(one) for one in found]}


@router.get("/slabs/{card_id}/revisions/{number}", tags=["revisions"])
def revision(request: Request, card_id: CardId, number: RevisionNumber) -> Json:
    """One revision, as it was kept."""
    with looking(request) as visit:
        slab_at(visit, card_id)
        return _revision(revision_at(visit, card_id, number))


@router.post("/slabs/{card_id}/revisions", status_code=201, tags=["revisions"])
def add_revision(request: Request, card_id: CardId, new: NewRevision) -> Response:
    """Keep a card as the next revision, or as a trial beside it.

    409 with `theirs` if another one was kept meanwhile; nothing is overwritten.
    """
    try:
        with acting(request) as visit:
            row = slab_at(visit, card_id)
            revision_at(visit, card_id, new.based_on)
            worked = visit.desk.worked(new.text)
            saved = revisions.save(
                visit.connection, visit.kitchen_id, card_id, new.text,
                visit.who(new.note), based_on=new.based_on, as_trial=new.as_trial,
                is_proved=worked.read.card.proved is not None,
                name=worked.spec.name or row.name, has_bom=row.has_bom,
            )  # fmt: skip
    except EditedMeanwhileError as error:
        with looking(request) as visit:
            theirs = revision_at(visit, card_id, error.theirs.number)
        errors = [{"what": one.what, "do": one.do} for one in error.mistakes]
        said = {"errors": errors, "theirs": _revision(theirs)}
        return JSONResponse(said, status_code=409)
    return JSONResponse(_revision(saved), status_code=201)


@router.post("/slabs/{card_id}/take-up", status_code=201, tags=["revisions"])
def take_up(request: Request, card_id: CardId, which: Number) -> Json:
    """Make a trial or an older revision the slab's card, as a new revision."""
    with acting(request) as visit:
        slab_at(visit, card_id)
        one = revision_at(visit, card_id, which.number)
        act = revisions.take_up if one.is_trial else revisions.restore
        why = visit.who(f"v{which.number} taken up again")
        name = worked_revision(visit, one).spec.name or None
        saved = act(
            visit.connection, visit.kitchen_id, card_id, which.number, why, name=name
        )
    return _revision(saved)


@router.get("/slabs/{card_id}/compare", tags=["revisions"])
def compare_revisions(
    request: Request,
    card_id: CardId,
    before: Annotated[int, Query(ge=1, le=MOST_NUMBER)],
    after: Annotated[int, Query(ge=1, le=MOST_NUMBER)],
) -> Json:
    """What was changed between two revisions, and what that moved."""
    with looking(request) as visit:
        slab_at(visit, card_id)
        first, second = (
            worked_revision(visit, revision_at(visit, card_id, number)).spec
            for number in (before, after)
        )
    return comparison_json(compare(first, second))


@router.get("/slabs/{card_id}/scale", tags=["making"])
def scale(
    request: Request, card_id: CardId, asked: Annotated[ScaleTo, Query()]
) -> Json:
    """A slab scaled, with the amounts to choose from; the words are the terminal's."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        desk = visit.desk
        spec = desk.worked(row.text).spec
        return scaling_json(*scaled_as(spec, desk.folder, desk.order(), asked.wanted()))


@router.get("/slabs/{card_id}/cut", tags=["making"])
def cut(request: Request, card_id: CardId, asked: Annotated[CutTo, Query()]) -> Json:
    """The slab's cut in full, or another: strokes in order, weights, the promise."""
    with looking(request) as visit:
        ask = ScaleAsk(**asked.model_dump())
        return cutting_json(asked_sheet(visit, at_scale(visit, card_id, ask), ask))


@router.get("/larder", tags=["larder"])
def larder(
    request: Request, find: Find = "", limit: Annotated[int, Query(ge=1, le=500)] = 50
) -> Json:
    """Ingredients by name; those that a misspelt name may have meant."""
    with looking(request) as visit:
        folder = visit.desk.folder
    words = find.casefold().split()
    found = [
        one
        for one in folder.larder.ingredients
        if all(
            any(word in name.text.casefold() for name in one.names) for word in words
        )
    ]
    nearest = () if found or not find else folder.larder.nearest(find)
    return {
        "count": len(found),
        "ingredients": [
            {"id": one.id, "name": one.name, "group": one.group}
            for one in found[:limit]
        ],
        "nearest": list(nearest),
    }


@router.get("/larder/{ingredient_id}", tags=["larder"])
def ingredient(request: Request, ingredient_id: str) -> Json:
    """All that is known of one ingredient, each value with its source."""
    with looking(request) as visit:
        found = visit.desk.folder.larder.by_id(ingredient_id[:200])
    if found is None:
        raise HTTPException(404, "The larder has no such ingredient.")
    return ingredient_json(found)


@router.get("/papers", tags=["kitchen"])
def papers_of(request: Request) -> Json:
    """The kitchen's own files as they stand: kitchen, larder, prices."""
    with looking(request) as visit:
        found = papers.listed(visit.connection, visit.kitchen_id)
    return {
        "papers": [
            {"name": one.name, "number": one.number, "text": one.text} for one in found
        ]
    }
