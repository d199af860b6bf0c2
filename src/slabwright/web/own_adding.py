"""An ingredient of the kitchen's own, from its supplier's specification."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Form, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import RedirectResponse

from slabwright.composition import FATS, SUGARS
from slabwright.errors import FileError, Mistake
from slabwright.files.larder_add import (
    Addition,
    Wanted,
    addition,
    appended,
    refuse_double,
)
from slabwright.files.raw import Text
from slabwright.files.supplier import Specification, read_specification
from slabwright.files.supplier_allergens import unwritten_allergens
from slabwright.files.supplier_doubts import doubts
from slabwright.files.yaml_file import plain_of
from slabwright.formula.book import slug
from slabwright.larder.ingredient import ALLERGENS, Ingredient
from slabwright.larder.lookup import Larder
from slabwright.web.fields import MOST_NUMBER
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.kitchen_paper_pages import overtaken
from slabwright.web.larder_view import IngredientView, allergen_words
from slabwright.web.papers import (
    LARDER,
    OvertakenError,
    change,
    paper_of,
    text_of,
    without_file,
)

router = APIRouter(include_in_schema=False)

_MOST_LIKE: Final = 3
_GROUPS: Final[Mapping[str, tuple[str, ...]]] = {
    "water": ("water",),
    "fat": FATS,
    "carbohydrate": (*SUGARS, "higher_saccharides", "starch", "polyols"),
    "sugars": SUGARS,
    "protein": ("protein",),
    "fibre": ("fibre",),
    "salt": ("salt",),
}
"""What a specification gives, in the larder's constituents."""


class AddForm(BaseModel):
    """What was typed of a new ingredient."""

    model_config = ConfigDict(frozen=True)
    name: Annotated[str, Field(max_length=120)] = ""
    like: Annotated[str, Field(max_length=120)] = ""
    pick: Annotated[str, Field(max_length=120)] = ""
    """What it is like, where one of those offered was pressed."""
    specification: Annotated[str, Field(max_length=20_000)] = ""
    contains: list[str] = Field(default_factory=list, max_length=len(ALLERGENS))
    may_contain: list[str] = Field(default_factory=list, max_length=len(ALLERGENS))
    source: Annotated[str, Field(max_length=500)] = ""
    base: Annotated[int, Field(ge=0, le=MOST_NUMBER)] = 0
    act: Annotated[str, Field(max_length=10)] = ""

    @property
    def called(self) -> str:
        """Its name, spaces evened."""
        return " ".join(self.name.split())

    @property
    def is_like(self) -> str:
        """What it is like."""
        return (self.pick or self.like).strip()


@dataclass(frozen=True, slots=True)
class AddRead:
    """What a specification was read as."""

    said: Specification
    made: Addition | None
    """None where it can't stand in the larder so."""
    looks: tuple[Mistake, ...]
    """What is doubtful in it."""
    like: Ingredient | None
    alike: tuple[Ingredient, ...]
    """What it may be like, the nearest first."""

    @property
    def rows(self) -> Iterable[tuple[str, float | None, str, float | None]]:
        """Constituent, what was read, how it was stated, and what its like holds."""
        for name in dict.fromkeys((*self.said.per_100g, *_GROUPS)):
            theirs = _holds(self.like, name) if self.like else None
            mine = self.said.per_100g.get(name)
            if mine is not None or theirs is not None:
                yield name, mine, self.said.stated.get(name, ""), theirs


def _holds(one: Ingredient, name: str) -> float | None:
    parts = _GROUPS.get(name, (name,))
    if not any(part in one.values for part in parts):
        return None
    return sum(one.values[part].value for part in parts if part in one.values)


@router.get("/larder/own/add")
def add_page(
    request: Request, name: Annotated[str, Query(max_length=120)] = ""
) -> Response:
    """An empty form."""
    with looking(request) as visit:
        form = AddForm(name=name, base=paper_of(visit, LARDER).number)
        return _add_form(request, visit, form)


@router.post("/larder/own/add")
def add(request: Request, form: Annotated[AddForm, Form()]) -> Response:
    """Read what was pasted and show what it was taken for; or keep it."""
    if form.act != "keep":
        with looking(request) as visit:
            return _add_form(request, visit, form, is_read=True)
    try:
        with acting(request) as visit:
            change(visit, LARDER, form.base, lambda t: _with(visit, t, form),
                   f"{form.called} added")  # fmt: skip
    except OvertakenError as error:
        return overtaken(request, error, "/larder")
    except FileError as error:
        with looking(request) as visit:
            return _add_form(request, visit, form, error.mistakes, is_read=True)
    return RedirectResponse(f"/larder/{slug(form.called)}", status_code=303)


def _with(visit: Visit, text: Text, form: AddForm) -> str:
    """The larder's file with the new ingredient at its end."""
    folder = visit.desk.folder
    country = folder.kitchen.country
    refuse_double(text, form.called)
    said = read_specification(form.specification)
    made = addition(_wanted(form), said, folder.larder, country)
    if plain_of(text) == []:  # a list written as [] has no room for a row
        text = Text("", text.file, text.has_bom)
    return text.text + appended(text, made.entry, country)


def _wanted(form: AddForm) -> Wanted:
    return Wanted(
        form.called, form.is_like, tuple(form.contains), tuple(form.may_contain),
        form.source.strip(),
    )  # fmt: skip


def _add_form(
    request: Request,
    visit: Visit,
    form: AddForm,
    mistakes: tuple[Mistake, ...] = (),
    *,
    is_read: bool = False,
) -> Response:
    read: AddRead | None = None
    if is_read:
        read, wrong = _read(visit, form)
        mistakes = tuple(dict.fromkeys((*mistakes, *wrong)))
    return render(
        request, "larder_add.html", visit=visit, status=422 if mistakes else 200,
        title="Add an ingredient", here="Larder", form=form, read=read,
        mistakes=without_file(mistakes), allergens=ALLERGENS,
        allergen_words=allergen_words, larder=names_in_larder(visit),
        view=IngredientView(read.made.ingredient) if read and read.made else None,
    )  # fmt: skip


def names_in_larder(visit: Visit) -> list[str]:
    """Names that a field offers."""
    return sorted({one.name for one in visit.desk.folder.larder.ingredients})


def _read(visit: Visit, form: AddForm) -> tuple[AddRead | None, tuple[Mistake, ...]]:
    """What was pasted, read; and what is wrong in it."""
    folder = visit.desk.folder
    larder, country = folder.larder, folder.kitchen.country
    wrong: list[Mistake] = []
    try:
        said = read_specification(form.specification)
    except FileError as error:
        return None, error.mistakes
    match = larder.find(form.is_like, country) if form.is_like else None
    like = match.ingredient if match else None
    made: Addition | None = None
    if not form.called:
        wrong.append(Mistake("It has no name.", "Write what you call it."))
    else:
        try:
            refuse_double(text_of(paper_of(visit, LARDER)), form.called)
            made = addition(_wanted(form), said, larder, country)
        except FileError as error:
            wrong += error.mistakes
    ticked = _wanted(form)
    looks = (
        *said.notes,
        *doubts(said, is_like=like is not None),
        *unwritten_allergens(form.specification, ticked.contains, ticked.may_contain),
    )
    alike = _alike(form.called, said.per_100g, larder, country)
    return AddRead(said, made, without_file(looks), like, alike), tuple(wrong)


def _alike(
    name: str, said: Mapping[str, float], larder: Larder, country: str
) -> tuple[Ingredient, ...]:
    """What it may be like: by its name, then by its figures."""
    found: dict[str, Ingredient] = {}
    for near in larder.nearest(name, country, _MOST_LIKE):
        match = larder.find(near, country)
        if match:
            found[match.ingredient.id] = match.ingredient
    told = {key: value for key, value in said.items() if key in _GROUPS}
    if len(told) > 1:
        apart = sorted(
            (one for one in larder.ingredients if one.values),
            key=lambda one: sum(
                abs(value - (_holds(one, key) or 0.0)) for key, value in told.items()
            ),
        )
        found.update({one.id: one for one in apart[:_MOST_LIKE]})
    return tuple(found.values())
