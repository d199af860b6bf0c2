"""Sizes of labels, sheets and paper as they are typed: `60x40`, `3 x 8`, `A5`."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.label.paper.sheet import A4, Sheet, Size, checked, filling

PAPERS: Final[Mapping[str, Size]] = {
    "A3": Size(297.0, 420.0),
    "A4": A4,
    "A5": Size(148.0, 210.0),
    "A6": Size(105.0, 148.0),
    "LETTER": Size(215.9, 279.4),
}
"""ISO 216 and the North American letter, upright; from memory."""
_MOST: Final = 100
_NUMBER: Final = r"(\d{1,5}(?:[.,]\d{1,3})?)"
_PAIR: Final = re.compile(
    rf"{_NUMBER}\s*(mm|cm)?\s*(?:x|×|\*|by)\s*{_NUMBER}\s*(mm|cm)?", re.IGNORECASE
)
_PAPER: Final = re.compile(
    r"(?P<name>a[3-6]|letter)(?:[\s,]+(?P<turned>landscape|portrait|upright))?",
    re.IGNORECASE,
)
_ONE: Final = re.compile(rf"{_NUMBER}\s*(mm|cm)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class AskedSheet:
    """A sheet as it was typed; empty where nothing was."""

    sheet: str = ""
    paper: str = ""
    margins: str = ""
    gaps: str = ""

    @property
    def is_asked(self) -> bool:
        """Whether anything of it was."""
        return bool(self.sheet or self.margins or self.gaps)


def read_size(said: str, field: str = "size") -> Size:
    """A width and a height, or a paper's name.

    >>> read_size("60 x 40,5 mm"), read_size("a5 landscape").words
    (Size(width_mm=60.0, height_mm=40.5), '210 × 148 mm')

    Raises:
        FileError: for anything else.
    """
    bare = said.strip()
    if named := _PAPER.fullmatch(bare):
        size = PAPERS[named["name"].upper()]
        if (named["turned"] or "").casefold() == "landscape":
            return Size(size.height_mm, size.width_mm)
        return size
    found = _PAIR.fullmatch(bare)
    if found is None:
        raise _refused(said, "size", "Write width x height in mm: 60x40.", field)
    unit = (found[4] or found[2] or "mm").casefold()
    first = (found[2] or unit).casefold()
    return checked(Size(_mm(found[1], first), _mm(found[3], unit)), field)


def read_sheet(asked: AskedSheet, size: Size | None) -> tuple[Size, Sheet]:
    """How large each label is, and the sheet that it stands on.

    Args:
        asked: labels across x down, paper, margins left x top, gaps across x down.
        size: of one label; without it, labels fill the sheet between its margins.

    Raises:
        FileError: for what is no sheet.
    """
    if not asked.sheet:
        what = "Margins and gaps are of a sheet, and none is asked for."
        do = "Say how many labels stand across and down: --sheet 3x7."
        raise FileError(Mistake(what, do, Where(field="sheet")))
    found = re.fullmatch(
        r"\s*(\d{1,4})\s*(?:x|×|\*|by)\s*(\d{1,4})\s*", asked.sheet, re.IGNORECASE
    )
    counts = (int(found[1]), int(found[2])) if found else (0, 0)
    if not all(1 <= one <= _MOST for one in counts):
        do = f"Write how many stand across x down, 1 to {_MOST}: 3x7."
        raise _refused(asked.sheet, "sheet", do, "sheet")
    paper = read_size(asked.paper, "paper") if asked.paper else A4
    left, top = _two(asked.margins, "margins") if asked.margins else (None, None)
    across, down = _two(asked.gaps, "gaps") if asked.gaps else (0.0, 0.0)
    sheet = Sheet(paper, counts[0], counts[1], left, top, across, down)
    return size or filling(sheet), sheet


def _two(said: str, field: str) -> tuple[float, float]:
    """One number for both, or two."""
    bare = said.strip()
    if one := _ONE.fullmatch(bare):
        value = _mm(one[1], (one[2] or "mm").casefold())
        return value, value
    if two := _PAIR.fullmatch(bare):
        unit = (two[4] or two[2] or "mm").casefold()
        return _mm(two[1], (two[2] or unit).casefold()), _mm(two[3], unit)
    what = "margin" if field == "margins" else "gap"
    raise _refused(said, what, "Write mm, across x down: 7x15, or 5 for both.", field)


def _mm(number: str, unit: str) -> float:
    value = float(number.replace(",", "."))
    return round(value * 10 if unit == "cm" else value, 3)


def _refused(said: str, what: str, do: str, field: str) -> FileError:
    return FileError(Mistake(f"'{said:.40}' is no {what}.", do, Where(field=field)))
