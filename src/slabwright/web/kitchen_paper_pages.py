"""The kitchen's papers as their own text: mistakes by line, history, two hands."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from typing import Annotated, Final

from fastapi import APIRouter, Form, Query, Request, Response
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.errors import FileError, Mistake
from slabwright.files.card.lines import LINE_END
from slabwright.files.raw import MOST_BYTES, Text
from slabwright.files.two_texts import both_changes
from slabwright.store import drafts, papers
from slabwright.store.drafts import Draft
from slabwright.store.papers import Paper
from slabwright.web.fields import Base, Note, RevisionNumber
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.papers import (
    Checked,
    OvertakenError,
    checked,
    keep,
    paper_at,
    paper_of,
)
from slabwright.web.typed import as_typed, shown

router = APIRouter(include_in_schema=False)

PaperText = Annotated[str, Form(max_length=MOST_BYTES)]

PAGE: Final = 20
_HERE: Final = {
    "kitchen.yaml": ("Kitchen", "/kitchen"),
    "larder.yaml": ("Larder", "/larder"),
    "prices.yaml": ("Buying", "/buying"),
}


@dataclass(frozen=True)
class PaperView:
    """A paper's text, and what is wrong in it."""

    text: str
    checked: Checked

    @property
    def rows(self) -> Iterator[tuple[tuple[str, str], ...]]:
        """Each line in stretches; what is wrong is marked."""
        marks: dict[int, list[Mistake]] = {}
        for one in self.checked.every:
            if one.where.span is not None:
                marks.setdefault(one.where.span.line, []).append(one)
        for number, line in enumerate(LINE_END.split(self.text), start=1):
            yield tuple(_stretches(line, marks.get(number, ())))

    @property
    def mistakes(self) -> tuple[Mistake, ...]:
        """What is wrong, without the name of the file."""
        return tuple(
            replace(one, where=replace(one.where, file=""))
            for one in self.checked.every
        )

    @property
    def sentence(self) -> str:
        """How it stands, for those who hear the page."""
        count = len(self.checked.every)
        return "It reads." if not count else f"{count} to put right."


def _stretches(line: str, wrong: Sequence[Mistake]) -> Iterator[tuple[str, str]]:
    if not wrong:
        yield line, ""
        return
    starts = [one.where.span.column - 1 for one in wrong if one.where.span]
    start = min(*starts, len(line))
    yield line[:start], ""
    yield line[start:] or " ", "bad"


def name_of(name: str) -> str:
    """A paper's name, if it is one.

    Raises:
        HTTPException: 404 if it is none.
    """
    if name not in papers.NAMES:
        raise HTTPException(404, "The kitchen has no such paper.")
    return name


def draft_key(name: str) -> str:
    """Under which a paper's draft is kept."""
    return f"paper-{name}"


def _draft(visit: Visit, name: str) -> Draft | None:
    key = draft_key(name)
    return drafts.one(visit.connection, visit.kitchen_id, key, visit.author)


def _view(visit: Visit, name: str, text: str) -> PaperView:
    """A text as the page shows it; places are those of plain line ends."""
    plain = shown(text)
    return PaperView(plain, checked(visit, Text(plain, name)))


@router.get("/kitchen/papers/{name}")
def paper_page(
    request: Request, name: str, start: Annotated[int, Query(ge=0, le=100_000)] = 0
) -> Response:
    """The text of a paper, with the draft of whoever sits here."""
    name = name_of(name)
    with looking(request) as visit:
        draft = _draft(visit, name)
        paper = (
            paper_at(visit, name, draft.based_on) if draft else paper_of(visit, name)
        )
        text = draft.text if draft else paper.text
        return _page(request, visit, paper, text, start=start)


def _page(
    request: Request,
    visit: Visit,
    paper: Paper,
    text: str,
    *,
    start: int = 0,
    refused: str | None = None,
) -> Response:
    """The page; `refused` is the note of a text that was not kept."""
    here, back = _HERE[paper.name]
    place = (visit.connection, visit.kitchen_id, paper.name)
    history = papers.history(*place, start=start, limit=PAGE + 1)
    return render(
        request, "kitchen_paper.html", visit=visit, title=paper.name, here=here,
        back=back, paper=paper, view=_view(visit, paper.name, text),
        draft=_draft(visit, paper.name),
        history=history[:PAGE], has_more=len(history) > PAGE, start=start, page=PAGE,
        note=refused or "", status=200 if refused is None else 422,
    )  # fmt: skip


@router.post("/kitchen/papers/{name}/follow")
def follow(request: Request, name: str, text: PaperText = "") -> Response:
    """What is wrong in the text as typed now."""
    name = name_of(name)
    with looking(request) as visit:
        view = _view(visit, name, text)
        return render(request, "kitchen_paper_follow.html", visit=visit, view=view)


@router.post("/kitchen/papers/{name}")
def keep_text(
    request: Request, name: str, text: PaperText = "", base: Base = 0, note: Note = ""
) -> Response:
    """Keep the text; where nothing of it could be used it stays a draft."""
    name = name_of(name)
    _, back = _HERE[name]
    try:
        with acting(request) as visit:
            paper = paper_at(visit, name, base)
            typed = as_typed(text, paper.text)
            keep(visit, paper, typed, note)
            _drop(visit, name)
    except OvertakenError as error:
        return overtaken(request, error, back)
    except FileError:
        with acting(request) as visit:
            drafts.keep(
                visit.connection, visit.kitchen_id, draft_key(name), visit.author,
                typed, visit.house.now(), based_on=base,
            )  # fmt: skip
        with looking(request) as visit:
            return _page(request, visit, paper, typed, refused=note)
    return RedirectResponse(back, status_code=303)


@router.post("/kitchen/papers/{name}/drop")
def drop(request: Request, name: str) -> Response:
    """Let go of what was typed and not kept."""
    name = name_of(name)
    with acting(request) as visit:
        _drop(visit, name)
    return RedirectResponse(f"/kitchen/papers/{name}", status_code=303)


def _drop(visit: Visit, name: str) -> None:
    drafts.drop(visit.connection, visit.kitchen_id, draft_key(name), visit.author)


@router.get("/kitchen/papers/{name}/{number}")
def older_page(request: Request, name: str, number: RevisionNumber) -> Response:
    """A paper as it was saved once."""
    name = name_of(name)
    here, back = _HERE[name]
    with looking(request) as visit:
        paper = paper_at(visit, name, number)
        now = paper_of(visit, name)
        before = paper_at(visit, name, number - 1)
        return render(
            request, "kitchen_paper_older.html", visit=visit, here=here, back=back,
            title=f"{name}, {number}", paper=paper, now=now,
            rows=changed_lines(before.text, paper.text),
        )  # fmt: skip


# --- two hands --------------------


@dataclass(frozen=True, slots=True)
class ChangedLine:
    """A line that two texts do not share: what stands in the one and in the other."""

    before: str
    after: str


def changed_lines(before: str, after: str) -> tuple[ChangedLine, ...]:
    """Lines that differ between two texts, side by side."""
    a, b = before.splitlines(), after.splitlines()
    rows: list[ChangedLine] = []
    for tag, i, j, k, m in SequenceMatcher(None, a, b, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        for n in range(max(j - i, m - k)):
            left = a[i + n] if i + n < j else ""
            right = b[k + n] if k + n < m else ""
            rows.append(ChangedLine(left, right))
    return tuple(rows)


def overtaken(request: Request, error: OvertakenError, back: str) -> Response:
    """Both changes side by side; nothing is lost and nothing overwritten."""
    name, theirs = error.paper.name, error.theirs
    with acting(request) as visit:
        drafts.keep(
            visit.connection, visit.kitchen_id, draft_key(name), visit.author,
            error.text, visit.house.now(), based_on=error.paper.number,
        )  # fmt: skip
    with looking(request) as visit:
        both = both_changes(error.paper.text, theirs.text, error.text)
        if both is not None and checked(visit, Text(both, name)).errors:
            both = None
        return render(
            request, "kitchen_two_hands.html", visit=visit, status=409, back=back,
            title=f"Two hands on {name}", here=_HERE[name][0], paper=error.paper,
            theirs=theirs, mine=error.text, both=both, note=error.note,
            rows=changed_lines(theirs.text, error.text),
        )  # fmt: skip
