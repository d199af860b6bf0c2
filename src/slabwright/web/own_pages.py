"""The kitchen's own ingredients: changed field by field, and taken out."""

import re
from typing import Annotated, Any, Final
from urllib.parse import quote

from fastapi import APIRouter, Form, Request, Response
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.errors import FileError, Mistake
from slabwright.files.larder_file import PER_100G
from slabwright.files.raw import Text
from slabwright.files.yaml_edit import number_as_typed, with_row, without_row
from slabwright.files.yaml_file import plain_of
from slabwright.formula.book import slug
from slabwright.larder.ingredient import ALLERGENS
from slabwright.web.fields import MOST_NUMBER, Base
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.kitchen_paper_pages import overtaken
from slabwright.web.larder_pages import IngredientId, ingredient_at
from slabwright.web.larder_view import allergen_words
from slabwright.web.own_adding import names_in_larder
from slabwright.web.papers import (
    LARDER,
    OvertakenError,
    change,
    paper_at,
    paper_of,
    text_of,
    without_file,
)

router = APIRouter(include_in_schema=False)

_FIGURE: Final = re.compile(r"(?P<name>[^:=]+?)[ :=]+(?P<figure>[\d.,+-]+) ?g?")
_Words = Annotated[str, Field(max_length=500)]
_Lines = Annotated[str, Field(max_length=5000)]


def own_number(text: Text, id: str) -> int:
    """Which row of the larder's file an own ingredient stands in, from 0.

    Raises:
        HTTPException: 404 if it is in none.
    """
    rows = plain_of(text)
    for number, row in enumerate(rows if isinstance(rows, list) else []):
        if isinstance(row, dict) and slug(str(row.get("name", ""))) == id:
            return number
    raise HTTPException(404, "The larder's own part has no such ingredient.")


class OwnForm(BaseModel):
    """What stands in the fields of an own ingredient."""

    model_config = ConfigDict(frozen=True)
    name: Annotated[str, Field(max_length=120)] = ""
    also: _Lines = ""
    like: Annotated[str, Field(max_length=120)] = ""
    per_100g: _Lines = ""
    measures: _Lines = ""
    made_of: _Lines = ""
    edible_share: Annotated[str, Field(max_length=40)] = ""
    source: _Words = ""
    contains: list[str] = Field(default_factory=list, max_length=len(ALLERGENS))
    may_contain: list[str] = Field(default_factory=list, max_length=len(ALLERGENS))
    base: Annotated[int, Field(ge=0, le=MOST_NUMBER)] = 0
    note: Annotated[str, Field(max_length=2000)] = ""

    @property
    def called(self) -> str:
        """Its name, spaces evened."""
        return " ".join(self.name.split())


@router.get("/larder/{id}/edit")
def edit_page(request: Request, id: IngredientId) -> Response:
    """The form of an own ingredient."""
    with looking(request) as visit:
        ingredient_at(visit, id)
        paper = paper_of(visit, LARDER)
        rows = plain_of(text_of(paper))
        row = rows[own_number(text_of(paper), id)]
        form = _form_of(row, paper.number)
        return _own_form(request, visit, id, form)


def _form_of(row: dict[str, Any], base: int) -> OwnForm:
    """The form of a row of the larder's file, as it stands there."""
    return OwnForm.model_construct(
        name=str(row.get("name", "")),
        also=_listed(row.get("also")),
        like=str(row.get("like", "")),
        per_100g=_figures(row.get("per_100g")),
        measures=_figures(row.get("measures")),
        made_of=_listed(row.get("made_of")),
        edible_share=str(row.get("edible_share", "")),
        source=str(row.get("source", "")),
        contains=_ticked(row.get("contains")),
        may_contain=_ticked(row.get("may_contain")),
        base=base,
        note="",
    )


def _listed(value: object) -> str:
    return "\n".join(map(str, value)) if isinstance(value, list) else ""


def _figures(value: object) -> str:
    if not isinstance(value, dict):
        return ""
    return "\n".join(f"{name} {number}" for name, number in value.items())


def _ticked(value: object) -> list[str]:
    """Allergens as the form has them, of what the file calls them."""
    named = value if isinstance(value, list) else []
    said = {str(one).casefold().strip() for one in named}
    found: list[str] = []
    for one in ALLERGENS:
        kind = one.split(":")[-1]
        if said & {one, kind, f"{kind}s"}:
            found.append(one)
    return found


def _own_form(
    request: Request,
    visit: Visit,
    id: str,
    form: OwnForm,
    mistakes: tuple[Mistake, ...] = (),
) -> Response:
    return render(
        request, "larder_own.html", visit=visit, status=422 if mistakes else 200,
        title=f"Change {form.name or id}", here="Larder", id=id, form=form,
        mistakes=without_file(mistakes), allergens=ALLERGENS, constituents=PER_100G,
        allergen_words=allergen_words, larder=names_in_larder(visit),
    )  # fmt: skip


@router.post("/larder/{id}/edit")
def edit(
    request: Request, id: IngredientId, form: Annotated[OwnForm, Form()]
) -> Response:
    """Keep an own ingredient as it was typed."""
    try:
        with acting(request) as visit:
            said = form.note or f"{form.called} changed"
            change(visit, LARDER, form.base, lambda t: _changed(t, id, form), said)
    except OvertakenError as error:
        return overtaken(request, error, "/larder")
    except FileError as error:
        with looking(request) as visit:
            return _own_form(request, visit, id, form, error.mistakes)
    return RedirectResponse(f"/larder/{slug(form.called)}", status_code=303)


def _changed(text: Text, id: str, form: OwnForm) -> str:
    number = own_number(text, id)
    rows = plain_of(text)
    others = [r for i, r in enumerate(rows) if i != number and isinstance(r, dict)]
    if any(slug(str(row.get("name", ""))) == slug(form.called) for row in others):
        what = f"Another of your own is called '{form.called}' already."
        raise FileError(Mistake(what, "Take another name."))
    row: dict[str, object] = {
        "name": form.called or None,
        "also": _lines(form.also),
        "like": form.like.strip(),
        "per_100g": _numbers(form.per_100g),
        "measures": _numbers(form.measures),
        "made_of": _lines(form.made_of),
        "edible_share": number_as_typed(form.edible_share),
        "source": form.source.strip(),
    }
    held = rows[number]
    for key in ("contains", "may_contain"):  # the file's own words stay where they do
        ticked = getattr(form, key)
        if set(ticked) != set(_ticked(held.get(key))):
            row[key] = ticked
    return with_row(text, number, row)


def _lines(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def _numbers(text: str) -> dict[str, object]:
    """`fat 1.9` on lines, as the file has it.

    Raises:
        FileError: for a line without a figure.
    """
    found: dict[str, object] = {}
    for line in _lines(text):
        said = _FIGURE.fullmatch(line)
        number = number_as_typed(said["figure"]) if said else ""
        if said is None or isinstance(number, str):
            do = "Write it so: fat 1.9."
            raise FileError(Mistake(f"'{line:.60}' is no name with a figure.", do))
        found[said["name"].strip().replace(" ", "_")] = number
    return found


@router.post("/larder/{id}/remove")
def remove(request: Request, id: IngredientId, base: Base = 0) -> Response:
    """Take an own ingredient out; the larder's history keeps it."""
    try:
        with acting(request) as visit:
            paper = paper_at(visit, LARDER, base)
            number = own_number(text_of(paper), id)
            change(
                visit, LARDER, base, lambda t: without_row(t, number), f"{id} taken out"
            )
    except OvertakenError as error:
        return overtaken(request, error, "/larder")
    return RedirectResponse(f"/larder?gone={quote(id[:60])}", status_code=303)
