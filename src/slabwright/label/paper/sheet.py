"""Where labels stand on their paper: one by one, or on sheets that a maker measured."""

from dataclasses import dataclass
from math import isfinite
from typing import Final

from slabwright.errors import FileError, Mistake, Where

SMALLEST_MM: Final = 10.0
LARGEST_MM: Final = 1200.0
MOST_COPIES: Final = 10_000
_ROUNDING_MM: Final = 0.005


@dataclass(frozen=True, slots=True)
class Size:
    """Of a label or of paper, width first."""

    width_mm: float
    height_mm: float

    @property
    def words(self) -> str:
        """As it is typed.

        >>> Size(60, 40.5).words
        '60 × 40.5 mm'
        """
        return f"{self.width_mm:g} × {self.height_mm:g} mm"


A4: Final = Size(210.0, 297.0)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels as its maker measured it."""

    paper: Size
    across: int
    down: int
    left_mm: float | None = None
    """From the paper's edge to the first label; None to stand in the middle."""
    top_mm: float | None = None
    gap_across_mm: float = 0.0
    gap_down_mm: float = 0.0

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.across * self.down


@dataclass(frozen=True, slots=True)
class Laid:
    """Labels on pages: how large each page is, and where each label begins."""

    page: Size
    places: tuple[tuple[tuple[float, float], ...], ...]
    """For each page, left and top of each label [mm]."""

    @property
    def count(self) -> int:
        """All labels."""
        return sum(map(len, self.places))


def checked(size: Size, field: str) -> Size:
    """The same size, if paper can have it.

    Raises:
        FileError: if it can't.
    """
    for one in (size.width_mm, size.height_mm):
        if not (isfinite(one) and SMALLEST_MM <= one <= LARGEST_MM):
            what = f"{one:g} mm is no side of a label."
            do = (
                f"Give width x height from {SMALLEST_MM:g} to {LARGEST_MM:g} mm: 60x40."
            )
            raise FileError(Mistake(what, do, Where(field=field)))
    return size


def filling(sheet: Sheet) -> Size:
    """How large labels are that fill a sheet between its margins.

    Raises:
        FileError: if nothing is left for them.
    """
    room = (
        sheet.paper.width_mm - 2 * (sheet.left_mm or 0.0),
        sheet.paper.height_mm - 2 * (sheet.top_mm or 0.0),
    )
    width = (room[0] - (sheet.across - 1) * sheet.gap_across_mm) / sheet.across
    height = (room[1] - (sheet.down - 1) * sheet.gap_down_mm) / sheet.down
    return checked(Size(round(width, 3), round(height, 3)), "sheet")


def laid(size: Size, copies: int, sheet: Sheet | None = None, first: int = 1) -> Laid:
    """So many labels on their pages.

    Args:
        size: of one label.
        copies: how many.
        sheet: the sheet that they stand on; without one, each is its own page.
        first: the place on the first sheet where they begin, along its rows.

    Raises:
        FileError: if the labels don't fit the sheet, or a number can't be.
    """
    if not 1 <= copies <= MOST_COPIES:
        what = f"{copies} copies can't be printed."
        do = f"Give 1 to {MOST_COPIES}."
        raise FileError(Mistake(what, do, Where(field="copies")))
    if sheet is None:
        if first != 1:
            what = "There is no sheet on which to start further on."
            raise FileError(
                Mistake(what, "Give --sheet too, or no --start.", Where(field="start"))
            )
        return Laid(size, (((0.0, 0.0),),) * copies)
    every = _places(size, sheet)
    if not 1 <= first <= len(every):
        what = f"The sheet has {len(every)} labels, and none with number {first}."
        raise FileError(
            Mistake(what, f"Start at 1 to {len(every)}.", Where(field="start"))
        )
    taken = [every[n % len(every)] for n in range(first - 1, first - 1 + copies)]
    room = len(every) - first + 1
    pages = [taken[:room]]
    pages += [taken[at : at + len(every)] for at in range(room, copies, len(every))]
    return Laid(sheet.paper, tuple(map(tuple, pages)))


def _places(size: Size, sheet: Sheet) -> list[tuple[float, float]]:
    across = _along(
        size.width_mm, sheet.across, sheet.gap_across_mm, sheet.left_mm,
        sheet.paper.width_mm,
    )  # fmt: skip
    down = _along(
        size.height_mm, sheet.down, sheet.gap_down_mm, sheet.top_mm,
        sheet.paper.height_mm,
    )  # fmt: skip
    if across is None or down is None:
        turned = ""
        if _fits_turned(size, sheet):
            turned = f" {sheet.down} across and {sheet.across} down would fit."
        side = "across" if across is None else "down"
        raise FileError(Mistake(
            f"{sheet.across} labels across and {sheet.down} down of {size.words} don't "
            f"fit {side} the paper of {sheet.paper.words}.",
            f"Measure label, margins and gaps again.{turned}", Where(field="sheet"),
        ))  # fmt: skip
    return [(x, y) for y in down for x in across]


def _fits_turned(size: Size, sheet: Sheet) -> bool:
    """Whether they fit if across and down were taken for each other."""
    paper = sheet.paper
    return (
        _along(size.width_mm, sheet.down, 0.0, None, paper.width_mm) is not None
        and _along(size.height_mm, sheet.across, 0.0, None, paper.height_mm) is not None
    )


def _along(
    side_mm: float, count: int, gap_mm: float, margin_mm: float | None, paper_mm: float
) -> list[float] | None:
    """Where each begins along one side; None if they don't fit."""
    taken = count * side_mm + (count - 1) * gap_mm
    start = (paper_mm - taken) / 2 if margin_mm is None else margin_mm
    if start < -_ROUNDING_MM or start + taken > paper_mm + _ROUNDING_MM:
        return None
    start = max(start, 0.0)
    return [round(start + n * (side_mm + gap_mm), 3) for n in range(count)]
