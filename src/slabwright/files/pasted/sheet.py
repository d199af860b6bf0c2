"""A pasted text as lines to be sorted, whatever it came as: text, a page, a table."""

import re
from dataclasses import dataclass
from html import unescape
from typing import Final, Literal

from slabwright.files.card.lines import CardLine

Hint = Literal["", "title", "heading", "ingredient", "step", "scrap", "yield"]
"""What the source itself says that a line is."""

_SPACES: Final = {
    ord(c): " " for c in "\t\u00a0\u2009\u202f\u2007\u200a\u2002\u2003\u3000"
}
_SAME: Final = {
    **{ord(c): str(i) for i, c in enumerate("⁰¹²³⁴⁵⁶⁷⁸⁹")},
    **{ord(c): str(i) for i, c in enumerate("₀₁₂₃₄₅₆₇₈₉")},
    ord("’"): "'", ord("‘"): "'", ord("‐"): "-", ord("‑"): "-", ord("＋"): "+",
    ord("*"): " ", ord("|"): " ",
}  # fmt: skip
_EMPHASIS: Final = re.compile(r"_(?!_*\s?(?:g|kg|ml|oz|lb)\b)")
"""Underlining, but for a digit that could not be read: `17_ g`."""
_INVISIBLE: Final = re.compile("[\u200b\u200c\u200d\u2060\ufeff\u00ad]")
_MARK: Final = re.compile(
    r"\s*(?:(?:[^\w\s½¼¾⅓⅔⅛⅜⅝⅞([\"'&<£€$?~.,]\ufe0f?\s*)+(?=[^\W_]|[½¼¾⅓⅔⅛([])"
    r"|\[[ xX✓]?\]|\(?(?:\d{1,2}|[a-z])[.)](?=\s+\S)"
    r"|(?:step|STEP|Step)\s+\d{1,2}\s*[:.)-]?(?=\s|$)"
    r"|(?i:optional|extra|plus|and|then)\s*:?\s+(?=[\d½¼¾⅓⅔⅛]))\s*"
)
_CELLS: Final = re.compile(
    r"\s*(?:\"?(?P<name>[^;\"\d]+?)\"?\s*[;,]\s*(?P<n>\d[\d.,]*)\s*[;,]\s*"
    r"(?P<unit>g|kg|ml|l|oz|lb))\s*;?\s*"
)
"""A row of a sheet that stands alone: `plain flour;190;g`."""
_NUMBERED: Final = re.compile(r"\s*(?:\(?\d{1,2}[.)]\s+\S|step\s+\d)", re.IGNORECASE)

_HTML: Final = re.compile(
    r"<!doctype html|<html[\s>]|<(?:body|head|div|ul|ol|li|p|br|table|h[1-6])[\s/>]",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class PastedLine:
    """A line of a pasted text."""

    line: CardLine
    hint: Hint = ""
    is_numbered: bool = False
    """Whether a number in front says that it is a step of a method."""
    is_marked: bool = False
    """Whether a bullet or a tick stood before it."""
    hashes: int = 0
    """How many # stood before it: a heading."""


def pasted_line(number: int, raw: str, hint: Hint = "") -> PastedLine:
    """A line with its list mark taken off and odd characters made plain."""
    plain = _INVISIBLE.sub("", raw).translate(_SPACES)
    if "&" in plain:
        plain = unescape(plain).translate(_SPACES)
    hashes = (
        len(plain) - len(plain.lstrip(" #")) if plain.lstrip().startswith("#") else 0
    )
    plain = _EMPHASIS.sub(" ", plain.translate(_SAME))
    is_numbered = _NUMBERED.match(plain) is not None
    start = hashes
    mark = None if hashes else _MARK.match(plain)
    while mark and plain[mark.end() :].strip() and len(plain) > mark.end() > start:
        start = mark.end()
        mark = _MARK.match(plain, start)
    if cells := _CELLS.fullmatch(plain):
        name, amount, unit = cells["name"], cells["n"], cells["unit"]
        plain, start = f"{amount} {unit} {name}", 0
    body = plain[start:].rstrip(" !")
    text = body.strip()
    column = start + len(body) - len(body.lstrip()) + 1
    line = CardLine(number, raw, text, column, is_patient=True)
    return PastedLine(line, hint, is_numbered, start > 0, hashes)


def part_of(line: PastedLine, start: int, end: int, hint: Hint = "") -> PastedLine:
    """A stretch of a line as a line of its own."""
    text = line.line.text[start:end]
    skip = len(text) - len(text.lstrip())
    column = line.line.column + start + skip
    inner = CardLine(
        line.line.number, line.line.raw, text.strip(" ,;"), column, is_patient=True
    )
    return PastedLine(inner, hint)


def is_page(text: str) -> bool:
    """Whether this text is HTML."""
    return len(_HTML.findall(text[:20_000])) > 1 or bool(_HTML.match(text.lstrip()))
