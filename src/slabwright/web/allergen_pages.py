"""Allergens: of the whole counter, of one slab, and what a pack answers."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Final
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request, Response, UploadFile
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import RedirectResponse

from slabwright.counter.allergen_matrix import AllergenMatrix
from slabwright.desk.allergens import allergens_of_counter
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.day import read_day
from slabwright.files.pack_answer import PackAnswer, answered
from slabwright.files.photo import MOST_BYTES, CleanPhoto, cleaned
from slabwright.files.raw import Text
from slabwright.larder.ingredient import ALLERGENS
from slabwright.publish.allergen_matrix import matrix_csv
from slabwright.publish.allergens import FOOT
from slabwright.store import photos
from slabwright.web.allergen_view import MatrixView, SlabAllergensView
from slabwright.web.counter_view import OnCounter, counter_of
from slabwright.web.desk_pages import at_desk, revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import MOST_NAME, Visit, acting, looking, render
from slabwright.web.kitchen_paper_pages import overtaken
from slabwright.web.papers import LARDER, OvertakenError, change, paper_of, without_file

router = APIRouter(include_in_schema=False)

_ALL: Final = len(ALLERGENS)
_LONGEST_NOTE: Final = 2000


class AnswerForm(BaseModel):
    """What was read on a pack."""

    model_config = ConfigDict(frozen=True)
    about: Annotated[str, Field(max_length=120)] = ""
    larder_id: Annotated[str, Field(max_length=200)] = ""
    contains: list[str] = Field(default_factory=list, max_length=_ALL)
    may_contain: list[str] = Field(default_factory=list, max_length=_ALL)
    read: Annotated[str, Field(max_length=400)] = ""
    who: Annotated[str, Field(max_length=MOST_NAME)] = ""
    on: Annotated[str, Field(max_length=20)] = ""
    whole: Annotated[str, Field(max_length=10)] = ""
    """Whether the whole pack was read: what it does not name it does not hold."""
    photo: UploadFile | None = None
    base: Annotated[int, Field(ge=0, le=MOST_NUMBER)] = 0


@router.get("/allergens")
def counter_page(request: Request) -> Response:
    """The counter against the 14, dated."""
    with looking(request) as visit:
        counter = counter_of(visit)
        matrix = _matrix(visit, counter.slabs)
        return render(
            request, "allergens.html", visit=visit, title="Allergens",
            here="Allergens", day=matrix.on, foot=FOOT, counter=counter,
            view=MatrixView(matrix, [f"{one.address}/allergens"
                                     for one in counter.slabs]),
        )  # fmt: skip


@router.get("/allergens.csv")
def counter_csv(request: Request) -> Response:
    """The same, for a spreadsheet."""
    with looking(request) as visit:
        matrix = _matrix(visit, counter_of(visit).slabs)
    name = f"allergens-{matrix.on.isoformat()}.csv"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(matrix_csv(matrix), media_type="text/csv", headers=headers)


@router.get("/slabs/{card_id}/allergens")
def slab_page(
    request: Request,
    card_id: CardId,
    kept: Annotated[str, Query(max_length=120)] = "",
) -> Response:
    """What one slab contains, the way of each, and what must still be asked."""
    with looking(request) as visit:
        form = AnswerForm(who=visit.author, on=visit.desk.day.isoformat())
        return _slab(request, visit, card_id, form, kept=kept)


@router.post("/slabs/{card_id}/allergens")
def answer(
    request: Request,
    card_id: CardId,
    form: Annotated[AnswerForm, Form(media_type="multipart/form-data")],
) -> Response:
    """Keep what a pack says: in the larder, with name, day and picture."""
    try:
        clean = _clean(form.photo)
        with acting(request) as visit:
            said = _answer(visit, card_id, form, clean)
            note = f"allergens of {said.about}: {said.source}"[:_LONGEST_NOTE]
            change(visit, LARDER, form.base, lambda t: _with(visit, t, form, said),
                   note)  # fmt: skip
    except OvertakenError as error:
        return overtaken(request, error, f"/slabs/{card_id}/allergens")
    except FileError as error:
        with looking(request) as visit:
            return _slab(request, visit, card_id, form, error.mistakes)
    there = f"/slabs/{card_id}/allergens?kept={quote(said.about)}"
    return RedirectResponse(there, status_code=303)


def _clean(photo: UploadFile | None) -> CleanPhoto | None:
    """The picture of the pack, drawn anew; None without one."""
    data = photo.file.read(MOST_BYTES + 1) if photo is not None else b""
    name = photo.filename if photo is not None and photo.filename else "the photograph"
    return cleaned(data, name) if data else None


def _answer(
    visit: Visit, card_id: int, form: AnswerForm, clean: CleanPhoto | None
) -> PackAnswer:
    card = slab_at(visit, card_id)
    if not form.whole:
        what = "It is not said that the whole pack was read."
        do = "Tick that it names no other of the 14, once you have looked."
        raise FileError(Mistake(what, do, Where(field="whole")))
    said = PackAnswer(
        " ".join(form.about.split()), tuple(form.contains), tuple(form.may_contain),
        " ".join(form.read.split()), " ".join(form.who.split()),
        read_day(form.on) or visit.desk.day,
    )  # fmt: skip
    if clean is None:
        return said
    kept = photos.add(
        visit.connection, visit.kitchen_id, card.id, clean.data,
        replace(visit.who(), author=said.who), media_type=clean.media_type,
        width=clean.width, height=clean.height, caption=f"Pack of {said.about}",
    )  # fmt: skip
    return replace(said, photo=kept.file)


def _with(visit: Visit, text: Text, form: AnswerForm, said: PackAnswer) -> str:
    """The larder's file with the answer in it."""
    folder = visit.desk.folder
    ingredient = folder.larder.by_id(form.larder_id)
    if ingredient is None:
        what = f"The larder does not know '{said.about:.60}'."
        raise FileError(Mistake(what, "Add it to the larder with its specification."))
    return answered(text, ingredient, said, folder.larder, folder.kitchen.country)


def _slab(
    request: Request,
    visit: Visit,
    card_id: int,
    form: AnswerForm,
    mistakes: tuple[Mistake, ...] = (),
    kept: str = "",
) -> Response:
    card = slab_at(visit, card_id)
    revision = revision_at(visit, card_id, card.current)
    worked = worked_revision(visit, revision)
    others = [one for one in counter_of(visit).slabs if one.card.id != card_id]
    folder, on = visit.desk.folder, visit.desk.day
    matrix = allergens_of_counter(
        [worked.spec], folder, on, [one.spec for one in others]
    )
    return render(
        request, "slab_allergens.html", visit=visit, card=card, revision=revision,
        status=422 if mistakes else 200, title=f"{card.name}: allergens",
        here="Slabs", stop="Label", part="Allergens", day=on, foot=FOOT, form=form,
        draft=at_desk(visit, card_id).draft, view=DeskView(worked),
        found=SlabAllergensView(matrix.rows[0]), mistakes=without_file(mistakes),
        base=form.base if mistakes else paper_of(visit, LARDER).number, kept=kept,
    )  # fmt: skip


def _matrix(visit: Visit, slabs: Sequence[OnCounter]) -> AllergenMatrix:
    desk = visit.desk
    return allergens_of_counter([one.spec for one in slabs], desk.folder, desk.day)
