"""A label, ticket or allergen card put on its paper: pages laid out, PDF made."""

from dataclasses import dataclass
from datetime import date
from typing import Final

from slabwright.desk.label import Asked
from slabwright.desk.label_print import Numbered, Paper
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.paper_size import AskedSheet, read_sheet, read_size
from slabwright.label.paper.face import Kind
from slabwright.label.paper.printed import FORMAT, Printed
from slabwright.label.paper.sheet import Laid, Size, laid
from slabwright.publish.print.allergen_card import allergen_card_pdf
from slabwright.publish.print.draft import Draft, draft_pdf
from slabwright.publish.print.fit import Fitted, Refused, fitted
from slabwright.publish.print.pdf import labels_pdf

TICKET_SIZE: Final = "90x60"
"""Where no size is said; our own choice."""


@dataclass(frozen=True, slots=True)
class PaperAsked:
    """The paper as it was typed; empty where nothing was."""

    size: str = ""
    sheet: str = ""
    paper: str = ""
    margins: str = ""
    gaps: str = ""
    start: int = 1
    copies: int | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """What came of it."""

    pdf: bytes
    size: Size
    pages: Laid
    made: Fitted | None
    """The letters; None of an allergen card, and of what does not fit."""
    is_draft: bool
    refused: str = ""
    """Why a draft would not fit as it is."""


def done(paper: Paper, asked: PaperAsked, on: date) -> Done:
    """Put it on paper; a draft if it waits for anything.

    Args:
        paper: what it says, what it waits for.
        asked: the paper.
        on: the day on which it is printed.

    Raises:
        FileError: for paper that can't be, and where it doesn't fit with what would.
    """
    if paper.face.kind == "allergen card":
        return _card(paper, asked, on)
    size, pages = laid_for(paper.face.kind, asked)
    _insist_on_surface(paper, size)
    made = fitted(paper.face, size)
    if not paper.waits:
        if isinstance(made, Refused):
            raise FileError(made.mistake)
        return Done(labels_pdf(made, pages), size, pages, made, is_draft=False)
    refused, so_far = "", None
    if isinstance(made, Refused):
        refused = f"{made.mistake.what} {made.mistake.do}"
    else:
        so_far = made
    pdf = draft_pdf(
        Draft(
            paper.label, paper.face, paper.waited, paper.mistakes, paper.asks, so_far,
            refused,
        )
    )  # fmt: skip
    return Done(pdf, size, pages, so_far, is_draft=True, refused=refused)


def record_of(paper: Paper, asked: Asked, numbered: Numbered, found: Done) -> Printed:
    """What is kept of a print, to be compared later.

    Args:
        paper: what it said.
        asked: for which way and which days.
        numbered: what stood under the bars, as it was typed.
        found: what came of it; no draft.
    """
    return Printed(
        FORMAT, asked.on, paper.face, paper.label.order.nation, asked.made,
        asked.frozen, asked.thawed, asked.unless, asked.surface_cm2, numbered.item,
        numbered.code, numbered.value, bool(paper.face.nutrition),
        found.size.width_mm, found.size.height_mm, found.pages.count,
        found.made.x_mm if found.made else None,
    )  # fmt: skip


def laid_for(kind: Kind, asked: PaperAsked) -> tuple[Size, Laid]:
    """How large one is, and where all of them stand.

    Raises:
        FileError: for sizes, sheets and numbers that can't be.
    """
    size = read_size(asked.size) if asked.size else None
    if size is None and kind == "ticket" and not asked.sheet:
        size = read_size(TICKET_SIZE)
    typed = AskedSheet(asked.sheet, asked.paper, asked.margins, asked.gaps)
    if typed.is_asked:
        size, sheet = read_sheet(typed, size)
        full = max(sheet.count - asked.start + 1, 1)
        copies = full if asked.copies is None else asked.copies
        return size, laid(size, copies, sheet, asked.start)
    if asked.paper:
        what = "A paper is of a sheet, and no sheet is asked for."
        raise FileError(Mistake(what, "Add --sheet 3x7.", Where(field="paper")))
    if size is None:
        what = "Nothing says how large the label is."
        do = "Measure it: --size 60x40, or a sheet of them: --sheet 3x7."
        raise FileError(Mistake(what, do, Where(field="size")))
    copies = 1 if asked.copies is None else asked.copies
    return size, laid(size, copies, None, asked.start)


def _insist_on_surface(paper: Paper, size: Size) -> None:
    """No label is larger than the side that it stands on.

    Raises:
        FileError: if it is; smaller letters would then lean on a wrong surface.
    """
    surface_cm2 = paper.label.order.surface_cm2
    area_cm2 = size.width_mm * size.height_mm / 100
    if paper.face.kind == "label" and surface_cm2 and area_cm2 > surface_cm2:
        what = (
            f"A label of {size.words} takes {area_cm2:.4g} cm², and the largest side "
            f"of the pack is said to have {surface_cm2:g} cm²."
        )
        do = "Measure both again; how high letters must stand leans on it."
        raise FileError(Mistake(what, do, Where(field="surface")))


def _card(paper: Paper, asked: PaperAsked, on: date) -> Done:
    size = read_size(asked.size or asked.paper or "A4")
    face = paper.face
    pdf = allergen_card_pdf(paper.label.allergens, on, face.revisions, face.name, size)
    return Done(pdf, size, laid(size, 1), None, is_draft=False)
