"""The kitchen: what it has, who works in it, how its probe reads."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from fastapi import APIRouter, Request, Response
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.errors import FileError, Mistake
from slabwright.files.raw import Text
from slabwright.files.yaml_edit import with_fields, with_rows
from slabwright.files.yaml_file import plain_of
from slabwright.store import papers
from slabwright.web.fields import MOST_NUMBER, Name
from slabwright.web.house import (
    WHO_COOKIE,
    Visit,
    acting,
    author_cookie,
    looking,
    render,
)
from slabwright.web.kitchen_fields import (
    ORDER,
    PARTS,
    Part,
    is_blank,
    row_of,
    rows_in,
    typed_of,
    value_words,
)
from slabwright.web.kitchen_paper_pages import overtaken
from slabwright.web.papers import (
    KITCHEN,
    Checked,
    OvertakenError,
    change,
    checked,
    paper_of,
    text_of,
    without_file,
)
from slabwright.web.posted import Posted, whole
from slabwright.web.probe_check import ProbeCheck

router = APIRouter(include_in_schema=False)

_YEAR: Final = 365 * 24 * 3600
_SPARE: Final = 2
"""Empty rows below a list."""


@dataclass(frozen=True, slots=True)
class ShownRow:
    """A row of a form: its name in the form, and what stands in its fields."""

    key: str
    typed: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Shown:
    """A part of the kitchen as its page shows it."""

    part: Part
    rows: tuple[ShownRow, ...]


def part_of(key: str) -> Part:
    """The part of this name.

    Raises:
        HTTPException: 404 if there is none.
    """
    if key not in PARTS:
        raise HTTPException(404, "The kitchen has no such part.")
    return PARTS[key]


def _told(text: Text) -> Mapping[str, Any]:
    """The fields of the kitchen's file, checked or not; none if it can't be read."""
    try:
        found = plain_of(text)
    except FileError:
        return {}
    return found if isinstance(found, dict) else {}


def _rows(part: Part, told: Mapping[str, Any], spare: int = 0) -> tuple[ShownRow, ...]:
    if not part.is_list:
        return (ShownRow("", typed_of(part, told)),)
    kept = told.get(part.key)
    kept = kept if isinstance(kept, list) else []
    rows = [
        ShownRow(str(i), typed_of(part, row if isinstance(row, dict) else {}))
        for i, row in enumerate(kept)
    ]
    empty = typed_of(part, {})
    return (*rows, *(ShownRow(f"n{i}", empty) for i in range(spare)))


@router.get("/kitchen")
def kitchen_page(request: Request) -> Response:
    """All of the kitchen, and who is here."""
    with looking(request) as visit:
        paper = paper_of(visit, KITCHEN)
        text = text_of(paper)
        told = _told(text)
        kitchen = visit.desk.folder.kitchen
        return render(
            request, "kitchen.html", visit=visit, title="Kitchen", here="Kitchen",
            parts=[Shown(part, _rows(part, told)) for part in PARTS.values()],
            paper=paper, checked=checked(visit, text) if paper.number else Checked(),
            people=[person.name for person in kitchen.people],
            probe=ProbeCheck(kitchen), papers=papers.NAMES, money=kitchen.currency,
            others=_others(visit), value_words=value_words,
        )  # fmt: skip


def _others(visit: Visit) -> tuple[Mistake, ...]:
    """What is wrong in the kitchen's other papers."""
    found = visit.desk.folder.mistakes
    return tuple(one for one in found if one.where.file != KITCHEN)


@router.get("/kitchen/edit/{key}")
def edit_page(request: Request, key: str) -> Response:
    """The form of one part."""
    part = part_of(key)
    with looking(request) as visit:
        paper = paper_of(visit, KITCHEN)
        told = plain_of(text_of(paper)) or {}
        rows = _rows(part, told if isinstance(told, dict) else {}, _SPARE)
        return _form(request, visit, part, rows, paper.number)


def _form(
    request: Request,
    visit: Visit,
    part: Part,
    rows: Sequence[ShownRow],
    base: int,
    mistakes: tuple[Mistake, ...] = (),
    note: str = "",
) -> Response:
    return render(
        request, "kitchen_edit.html", visit=visit, status=422 if mistakes else 200,
        title=part.title, here="Kitchen", part=part, rows=rows, base=base,
        mistakes=without_file(mistakes), note=note,
        money=visit.desk.folder.kitchen.currency,
    )  # fmt: skip


@router.post("/kitchen/edit/{key}")
def edit(request: Request, key: str, posted: Posted) -> Response:
    """Keep what was typed into the form of one part."""
    part = part_of(key)
    base = whole(posted, "base", MOST_NUMBER)
    note = posted.get("note", "")[:2000] or f"{part.title} changed"
    try:
        with acting(request) as visit:
            change(
                visit, KITCHEN, base, lambda text: _changed(part, text, posted), note
            )
    except OvertakenError as error:
        return overtaken(request, error, "/kitchen")
    except FileError as error:
        with looking(request) as visit:
            rows = _as_posted(part, posted)
            return _form(request, visit, part, rows, base, error.mistakes, note)
    return RedirectResponse(f"/kitchen#{part.key}", status_code=303)


def _changed(part: Part, text: Text, posted: Mapping[str, str]) -> str:
    """The kitchen's file with one part as it was posted."""
    if not part.is_list:
        return with_fields(text, row_of(part, posted), ORDER)
    told = plain_of(text)
    kept = told.get(part.key) if isinstance(told, dict) else None
    rows = kept if isinstance(kept, list) else []
    emptied: set[int] = set()
    wanted: dict[int, dict[str, object]] = {}
    new: list[tuple[int | None, dict[str, object]]] = []
    for number, typed in rows_in(part, posted):
        if number is None:
            new += [] if is_blank(typed) else [(None, row_of(part, typed))]
        elif not is_blank(typed):
            wanted[number] = row_of(part, typed)
        elif number < len(rows) and isinstance(rows[number], dict):
            emptied.add(number)
    stay = {i: wanted.pop(i, {}) for i in range(len(rows)) if i not in emptied}
    return with_rows(text, part.key, [*stay.items(), *wanted.items(), *new], ORDER)


def _as_posted(part: Part, posted: Mapping[str, str]) -> list[ShownRow]:
    blank = dict.fromkeys(part.names, "")
    if not part.is_list:
        return [ShownRow("", {**blank, **posted})]
    found = rows_in(part, posted)
    new = iter(range(len(found)))
    return [
        ShownRow(f"n{next(new)}" if n is None else str(n), {**blank, **typed})
        for n, typed in found
    ]


@router.post("/kitchen/who")
def say_who(request: Request, who: Name = "") -> Response:
    """Remember at this browser who sits there: names stand beside what they keep."""
    del request  # the cookie belongs to the browser, whoever asks
    name = " ".join(who.split())
    response = RedirectResponse("/kitchen#who", status_code=303)
    if name:
        response.set_cookie(
            WHO_COOKIE, author_cookie(name), max_age=_YEAR, path="/",
            httponly=True, samesite="strict",
        )  # fmt: skip
    else:
        response.delete_cookie(WHO_COOKIE, path="/", httponly=True, samesite="strict")
    return response
