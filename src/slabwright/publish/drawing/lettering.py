"""How much room words take, and words cut to the room that there is.

Widths are the fonts' own, read once from the files into `fonts/widths.csv`
(thousandths of an em, figures as in tables). Kerning is left out: it draws together
more often than apart.
"""

import csv
from functools import cache
from importlib.resources import files
from typing import Literal
from unicodedata import category, east_asian_width

Face = Literal["name", "text", "bold"]
"""Besley for names, Atkinson Hyperlegible Next for all else, plain or half bold."""

_UNKNOWN_EM = 0.8
"""Room for a letter of another script: about what a wide one takes elsewhere."""
_WIDE_EM = 1.0


def cleaned(text: str) -> str:
    r"""Text on one line: no control or direction marks, no doubled spaces.

    >>> cleaned(" lemon\n\tcurd\x07 ")
    'lemon curd'
    """
    kept = (c if category(c) not in _UNSEEN or c in _JOINERS else " " for c in text)
    return " ".join("".join(kept).split())


def width(text: str, size: float, face: Face = "text") -> float:
    """How wide a text stands at a size, in the size's own unit."""
    return sum(_em(c, face) for c in text) * size


def shortened(text: str, room: float, size: float, face: Face = "text") -> str:
    """The text, cut with an ellipsis where it is wider than its room."""
    if width(text, size, face) <= room:
        return text
    left = room - width("…", size, face)
    for end in range(len(text), 0, -1):
        head = text[:end].rstrip(" ,;:")
        if not _joins(text[end : end + 1]) and width(head, size, face) <= left:
            return head + "…"
    return "…"


def wrapped(
    text: str, room: float, lines: int, size: float, face: Face = "text"
) -> tuple[str, ...]:
    """The text in so many lines at most; the last is cut if there is more."""
    words = text.split(" ")
    out: list[str] = []
    while words and len(out) < lines - 1:
        count = len(words)
        while count > 1 and width(" ".join(words[:count]), size, face) > room:
            count -= 1
        out.append(shortened(" ".join(words[:count]), room, size, face))
        words = words[count:]
    if words:
        out.append(shortened(" ".join(words), room, size, face))
    return tuple(out)


_UNSEEN = {"Cc", "Cf", "Cs", "Zl", "Zp"}
_JOINERS = {"\u200c", "\u200d"}
"""These belong to the spelling of some scripts, and to joined emoji."""


def _joins(character: str) -> bool:
    """Whether a letter or sign may not be parted from the one before it."""
    return bool(character) and (
        category(character).startswith("M") or character in _JOINERS
    )


def _em(character: str, face: Face) -> float:
    known = _widths(face).get(character)
    if known is not None:
        return known
    if _joins(character):
        return 0.0
    wide = east_asian_width(character) in "WF"
    return _WIDE_EM if wide else _UNKNOWN_EM


@cache
def _widths(face: Face) -> dict[str, float]:
    table = files("slabwright.publish.drawing").joinpath("fonts/widths.csv")
    rows = csv.DictReader(table.read_text(encoding="utf-8").splitlines())
    return {
        chr(int(row["code"], 16)): int(row[face]) / 1000 for row in rows if row[face]
    }
