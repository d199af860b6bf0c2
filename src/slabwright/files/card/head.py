"""Card words that stand above the first layer: tin, cut, keep, sold, proved."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches
from typing import Final

from slabwright.cut.cutting import CutRequest
from slabwright.errors import GeometryError, Mistake, Where
from slabwright.files.card.lines import CardLine
from slabwright.files.card.sizes import (
    NOT_INSIDE,
    count_of,
    lengths,
    number_of,
    read_tin,
)
from slabwright.slab.presets import preset, preset_names
from slabwright.slab.tin import Tin
from slabwright.spec.card import Keep, SaidCut, SaidTin, Sold

_PLACES: Final = (
    ("frozen", re.compile(r"\bfrozen|\bfreezer|\bfreeze", re.IGNORECASE)),
    ("chilled", re.compile(r"\bchilled|\bfridge|\brefrigerat|\bchill", re.IGNORECASE)),
)
_DAYS: Final = {"d": 1.0, "w": 7.0, "m": 30.0, "h": 1 / 24}
_LASTS: Final = re.compile(
    rf"{NOT_INSIDE}(?P<n>\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*\d+(?:[.,]\d+)?)?\s*"
    r"(?P<u>days?|d|weeks?|months?|hours?|h)\b",
    re.IGNORECASE,
)
_N: Final = r"[-−]?\d+(?:[.,]\d+)?|nan|inf"
_GRID: Final = re.compile(rf"(?P<a>{_N})\s*(?:x|×|by)\s*(?P<b>{_N})\s*$", re.IGNORECASE)
_COUNT: Final = re.compile(
    rf"(?:in(?:to)?\s+)?(?P<n>{_N})\s*(?P<what>pieces?|fingers?|squares?|bars?|slices?"
    r"|portions?|wedges?)?\s*$",
    re.IGNORECASE,
)
_WEIGHT: Final = re.compile(
    rf"(?:pieces?\s+of\s+)?(?P<n>{_N})\s*(?P<u>kg|g|oz)\s*(?:pieces?|fingers?|squares?"
    r"|bars?|slices?|each)?\s*$",
    re.IGNORECASE,
)
_CLAUSE_BEGINS: Final = re.compile(r",?\s+(?=(?:trim|knife)\b)", re.IGNORECASE)
_IN_TIN: Final = re.compile(r",?\s+in\s+(?P<tin>[^\W\d][^,]*)$", re.IGNORECASE)
_GRAMS: Final = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125}
_MONEY: Final = re.compile(
    r"(?:[£€$]|[A-Z]{3}\s?)?\s*(\d+(?:[.,]\d{1,2})?)\s*(?:[A-Z]{3})?$"
)


@dataclass(frozen=True, slots=True)
class Tins:
    """Tins by name: the kitchen's own, then the usual ones."""

    own: Callable[[str], Tin | None]
    own_names: tuple[str, ...] = ()

    def find(self, name: str) -> Tin | None:
        """The tin of this name."""
        return self.own(name) or preset(name)

    def find_many(self, name: str) -> Tin | None:
        """The tin of this name, or so many of it: `2 of shop frame`.

        Raises:
            GeometryError: for more of it than a kitchen fills at once.
        """
        count, rest = count_of(name)
        found = self.find(name) or (self.find(rest) if rest != name else None)
        return found.times(count) if found is not None and rest != name else found

    def nearest(self, name: str) -> tuple[str, ...]:
        """Tins that are called nearly so, the kitchen's own first."""
        return tuple(get_close_matches(name, (*self.own_names, *preset_names()), n=3))


def read_head_tin(line: CardLine, value: str, tins: Tins) -> SaidTin | Mistake:
    """The tin that a `tin` line names or sizes."""
    where = Where(span=line.span(len(line.text) - len(value)), field="tin")
    try:
        found = tins.find_many(value) or read_tin(value)
    except GeometryError as error:
        first = error.mistakes[0]
        return Mistake(first.what, first.do, where)
    except ValueError:
        found = None
    if found is not None and where.span is not None:
        return SaidTin(value, found, where.span)
    if re.search(r"\d", value):
        what = f"'{value}' is not the size of a tin."
        do = "Write inner sizes with their unit: 30 x 20 x 5 cm."
        return Mistake(what, do, where)
    near = tins.nearest(value)
    what = f"No tin here is called '{value}'."
    do = (
        f"Write {' or '.join(near)}, or its inner sizes: 30 x 20 x 5 cm."
        if near
        else ("Write its inner sizes (30 x 20 x 5 cm), or name it in kitchen.yaml.")
    )
    return Mistake(what, do, where, near)


def read_cut(line: CardLine, value: str, tins: Tins) -> SaidCut | Mistake:
    """The cut that a `cut` line asks for."""
    where = Where(span=line.span(len(line.text) - len(value)), field="cut")
    commas = _CLAUSE_BEGINS.sub(", ", value)
    named = _IN_TIN.search(commas)
    if named and tins.find(named["tin"]):
        commas = f"{commas[: named.start()]}, in {named['tin']}"
    first, *clauses = [part.strip() for part in re.split(r",(?!\d)", commas)]
    clauses = [clause for clause in clauses if clause]
    try:
        way = _way(first)
        if way is None:
            return _no_cut(first, where)
        for clause in clauses:
            if not _clause(clause, way):
                what = f"'{clause}' says nothing about a cut."
                do = "Write trim 5 mm, trim to 31 x 21 cm, knife 1 mm or in TIN."
                if re.fullmatch(r"(?i)(trim|knife)\s*[\d.,]+", clause):
                    what = f"'{clause}' lacks its unit."
                return Mistake(what, do, where)
        request = way.request()
    except GeometryError as error:
        return Mistake(error.mistakes[0].what, error.mistakes[0].do, where)
    except (ValueError, OverflowError):
        return _no_cut(first, where)
    span, other = where.span or line.span(), None
    if way.tin_name:
        said = read_head_tin(line, way.tin_name, tins)
        if isinstance(said, Mistake):
            return said
        other = said.tin
    return SaidCut(value, request, span, way.tin_name, way.knife_mm is not None, other)


@dataclass
class _Way:
    """The pieces of a cut as they are read."""

    along: int | None = None
    across: int | None = None
    pieces: int | None = None
    length_mm: float | None = None
    width_mm: float | None = None
    piece_g: float | None = None
    wedges: int | None = None
    trim_mm: float = 0.0
    trim_to_mm: tuple[float, float] | None = None
    knife_mm: float | None = None
    tin_name: str = ""

    def request(self) -> CutRequest:
        return CutRequest(
            along=self.along,
            across=self.across,
            pieces=self.pieces,
            piece_length_mm=self.length_mm,
            piece_width_mm=self.width_mm,
            piece_g=self.piece_g,
            wedges=self.wedges,
            trim_mm=self.trim_mm,
            trim_to_mm=self.trim_to_mm,
            knife_mm=self.knife_mm or 0.0,
        )


def _way(text: str) -> _Way | None:
    if weight := _WEIGHT.match(text):
        return _Way(piece_g=number_of(weight["n"]) * _GRAMS[weight["u"].lower()])
    sizes, words = lengths(text)
    if len(sizes) == len("xy"):
        return _Way(length_mm=sizes[0], width_mm=sizes[1])
    if len(sizes) == 1 and "square" in words:
        return _Way(length_mm=sizes[0], width_mm=sizes[0])
    if grid := _GRID.match(text):
        return _Way(along=_whole(grid["a"]), across=_whole(grid["b"]))
    if count := _COUNT.match(text):
        what = (count["what"] or "").lower()
        if what.startswith("wedge"):
            return _Way(wedges=_whole(count["n"]))
        return _Way(pieces=_whole(count["n"]))
    return None


def _clause(text: str, way: _Way) -> bool:
    word, _, rest = text.partition(" ")
    glued = re.match(r"(?i)(trim|knife)(?=\d)", text)
    if glued:
        word, rest = glued.group(), text[glued.end() :]
    sizes, _ = lengths(rest)
    if word.lower() == "trim" and rest.lower().startswith("to "):
        if len(sizes) != len("xy"):
            return False
        way.trim_to_mm = (sizes[0], sizes[1])
        return True
    if word.lower() == "trim" and len(sizes) == 1:
        way.trim_mm = sizes[0]
        return True
    if word.lower() == "knife" and len(sizes) == 1:
        way.knife_mm = sizes[0]
        return True
    if word.lower() == "in" and rest.strip():
        way.tin_name = rest.strip()
        return True
    return text.lower() == "no trim"


def _whole(text: str) -> int:
    value = number_of(text)
    if value != int(value):
        raise ValueError(text)
    return int(value)


def _no_cut(text: str, where: Where) -> Mistake:
    what = f"'{text}' is no way to cut."
    do = "Write 5 x 4, 20 pieces, 58 x 47.5 mm, 75 g pieces or 12 wedges."
    return Mistake(what, do, where)


def read_keep(line: CardLine, value: str) -> Keep:
    """Where and how long; what has no number of days stays the maker's words."""
    lasts = _LASTS.search(value)
    words = f"{value[: lasts.start()]} {value[lasts.end() :]}" if lasts else value
    place = re.sub(r"^(?:on|in|at)\s+(?:the\s+)?", "", words.strip(" ,"))
    for name, pattern in _PLACES:
        if pattern.search(words):
            place = name
            break
    days = None
    if lasts:
        days = number_of(lasts["n"]) * _DAYS[lasts["u"][0].lower()]
    return Keep(value, place, days, line.span())


def read_sold(line: CardLine, value: str) -> Sold | Mistake:
    """How it is sold and for how much."""
    *how, last = re.split(r",(?!\d)", value)
    money = _MONEY.fullmatch(last.strip())
    if money is None:
        if re.search(r"\d", last):
            where = Where(span=line.span(), field="sold")
            what = f"'{last.strip()}' is no price."
            return Mistake(what, "Write it last, after a comma: 3.20.", where)
        return Sold(value, None, line.span())
    try:
        price = Decimal(money.group(1).replace(",", "."))
    except InvalidOperation:
        price = None
    return Sold(", ".join(part.strip() for part in how), price, line.span())


def read_proved(line: CardLine, value: str) -> date | Mistake:
    """The day on which this revision was baked and tasted."""
    try:
        return date.fromisoformat(value.strip())
    except ValueError:
        where = Where(span=line.span(len(line.text) - len(value)), field="proved")
        what = f"'{value}' is no date."
        return Mistake(what, "Write year, month and day: 2026-03-14.", where)
