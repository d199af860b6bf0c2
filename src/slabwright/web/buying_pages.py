"""Buying: prices with their history; a price added, changed, taken out."""

from datetime import date
from typing import Annotated, Any, Final

from fastapi import APIRouter, Form, Path, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.errors import FileError, Mistake
from slabwright.files.raw import Text
from slabwright.files.yaml_edit import number_as_typed, with_row, without_row
from slabwright.web.buying_view import entries_of, missing_of, priced_of, raw_row
from slabwright.web.counter_view import counter_of
from slabwright.web.fields import MOST_NUMBER, Base, Find
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.kitchen_paper_pages import overtaken
from slabwright.web.own_adding import names_in_larder
from slabwright.web.papers import (
    PRICES,
    OvertakenError,
    change,
    checked,
    paper_of,
    text_of,
    without_file,
)

router = APIRouter(include_in_schema=False)

RowNumber = Annotated[int, Path(ge=0, le=MOST_NUMBER)]
_Words = Annotated[str, Field(max_length=120)]
_FIELDS: Final = (
    "ingredient", "pack", "price", "from", "until", "supplier", "stock_g", "costing",
)  # fmt: skip


class PriceForm(BaseModel):
    """What was typed of a price."""

    model_config = ConfigDict(frozen=True)
    ingredient: _Words = ""
    pack: _Words = ""
    price: _Words = ""
    since: _Words = ""
    until: _Words = ""
    supplier: _Words = ""
    stock_g: _Words = ""
    costing: Annotated[str, Field(max_length=10)] = ""
    base: Annotated[int, Field(ge=0, le=MOST_NUMBER)] = 0

    @property
    def row(self) -> dict[str, object]:
        """The row of the file that it makes."""
        return {
            "ingredient": " ".join(self.ingredient.split()) or None,
            "pack": " ".join(self.pack.split()) or None,
            "price": number_as_typed(self.price.strip().lstrip("£€$")),
            "from": _day(self.since),
            "until": _day(self.until),
            "supplier": self.supplier.strip(),
            "stock_g": number_as_typed(self.stock_g),
            "costing": True if self.costing else None,
        }


def _day(typed: str) -> object:
    """A day as the file has it; what is none goes there as text, to be refused."""
    said = typed.strip()
    try:
        return date.fromisoformat(said) if said else None
    except ValueError:
        return said


def form_of(row: dict[str, Any], base: int) -> PriceForm:
    """The form of a row as it stands in the file."""
    said = {key: "" if row.get(key) is None else str(row[key]) for key in _FIELDS}
    return PriceForm.model_construct(
        ingredient=said["ingredient"], pack=said["pack"], price=said["price"],
        since=said["from"], until=said["until"], supplier=said["supplier"],
        stock_g=said["stock_g"], costing="1" if row.get("costing") is True else "",
        base=base,
    )  # fmt: skip


@router.get("/buying")
def prices_page(
    request: Request,
    find: Find = "",
    ingredient: Annotated[str, Query(max_length=120)] = "",
) -> Response:
    """The price list: what is missing first, then every price with its history."""
    with looking(request) as visit:
        today = visit.desk.day.isoformat()
        form = PriceForm(ingredient=ingredient, since=today)
        return _page(request, visit, form, find=find)


def _page(
    request: Request,
    visit: Visit,
    form: PriceForm,
    *,
    find: str = "",
    mistakes: tuple[Mistake, ...] = (),
) -> Response:
    folder, on = visit.desk.folder, visit.desk.day
    paper = paper_of(visit, PRICES)
    text = text_of(paper)
    wrong = checked(visit, text) if paper.number else None
    entries = () if wrong and wrong.errors else entries_of(text)
    counter = counter_of(visit)
    every = priced_of(entries, folder, counter, on)
    asked = find.strip().casefold()
    base = form.base if mistakes else paper.number
    return render(
        request, "buying.html", visit=visit, status=422 if mistakes else 200,
        title="Buying", here="Buying", stop="Prices", find=find, on=on,
        form=form, base=base, mistakes=without_file(mistakes),
        wrong=without_file(wrong.every) if wrong else (),
        is_broken=bool(wrong and wrong.errors), paper=paper,
        missing=list(missing_of(folder, counter, on)),
        priced=[one for one in every if asked in one.name.casefold()
                or any(asked in row.entry.ingredient.casefold() for row in one.rows)],
        count=len(every), currency=folder.kitchen.currency,
        larder=names_in_larder(visit), suppliers=_suppliers(entries),
    )  # fmt: skip


def _suppliers(entries: Any) -> list[str]:
    return sorted({one.supplier for one in entries if one.supplier})


@router.post("/buying/prices")
def add(request: Request, form: Annotated[PriceForm, Form()]) -> Response:
    """Add a price; the older ones of its pack stay as history."""
    try:
        with acting(request) as visit:
            note = f"price of {form.ingredient.strip()}"
            change(
                visit, PRICES, form.base, lambda t: _row_in(visit, t, None, form), note
            )
    except OvertakenError as error:
        return overtaken(request, error, "/buying")
    except FileError as error:
        with looking(request) as visit:
            return _page(request, visit, form, mistakes=error.mistakes)
    return RedirectResponse("/buying#prices", status_code=303)


def _row_in(visit: Visit, text: Text, number: int | None, form: PriceForm) -> str:
    """The file with this row; a row that would not be used is refused.

    Raises:
        FileError: if its ingredient or its pack is not understood, or a field is wrong.
    """
    changed = with_row(text, number, form.row)
    at = len(entries_of(Text(changed, text.file))) - 1 if number is None else number
    wrong = checked(visit, Text(changed, text.file))
    own = [one for one in wrong.every if one.where.field.split(".")[0] == str(at)]
    if own:
        raise FileError(*own)
    return changed


@router.get("/buying/prices/{number}")
def edit_page(request: Request, number: RowNumber) -> Response:
    """The form of one row of the price list."""
    with looking(request) as visit:
        paper = paper_of(visit, PRICES)
        row = raw_row(text_of(paper), number)
        if row is None:
            raise HTTPException(404, "The price list has no such row.")
        return _row_page(request, visit, number, form_of(row, paper.number))


def _row_page(
    request: Request,
    visit: Visit,
    number: int,
    form: PriceForm,
    mistakes: tuple[Mistake, ...] = (),
) -> Response:
    paper = paper_of(visit, PRICES)
    wrong = checked(visit, text_of(paper))
    entries = () if wrong.errors else entries_of(text_of(paper))
    return render(
        request, "buying_price.html", visit=visit, status=422 if mistakes else 200,
        title=f"Price of {form.ingredient}", here="Buying", number=number, form=form,
        base=form.base, mistakes=without_file(mistakes), today=visit.desk.day,
        larder=names_in_larder(visit), suppliers=_suppliers(entries),
        currency=visit.desk.folder.kitchen.currency,
    )  # fmt: skip


@router.post("/buying/prices/{number}")
def edit(
    request: Request, number: RowNumber, form: Annotated[PriceForm, Form()]
) -> Response:
    """Keep a row as it was typed."""
    try:
        with acting(request) as visit:
            note = f"price of {form.ingredient.strip()} changed"
            change(
                visit,
                PRICES,
                form.base,
                lambda t: _row_in(visit, t, number, form),
                note,
            )
    except OvertakenError as error:
        return overtaken(request, error, "/buying")
    except FileError as error:
        with looking(request) as visit:
            return _row_page(request, visit, number, form, error.mistakes)
    return RedirectResponse("/buying#prices", status_code=303)


@router.post("/buying/prices/{number}/remove")
def remove(request: Request, number: RowNumber, base: Base = 0) -> Response:
    """Take a row out; the history of the list keeps it."""
    try:
        with acting(request) as visit:
            change(visit, PRICES, base, lambda t: without_row(t, number),
                   "a price taken out")  # fmt: skip
    except OvertakenError as error:
        return overtaken(request, error, "/buying")
    return RedirectResponse("/buying#prices", status_code=303)
