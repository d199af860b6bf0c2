"""The card word cut: how a slab is cut, in the trade's words."""

import re
from dataclasses import dataclass, field
from difflib import get_close_matches
from math import radians, sin
from typing import Any, Final

from slabwright.cut.diamonds import USUAL_DEG
from slabwright.cut.request import CutRequest
from slabwright.errors import GeometryError, Mistake, Where
from slabwright.files.card.head import Tins, read_head_tin
from slabwright.files.card.lines import CardLine
from slabwright.files.card.sizes import lengths, number_of
from slabwright.spec.card import SaidCut

_N: Final = r"[-−]?\d+(?:[.,]\d+)?|nan|inf"
_I: Final = re.IGNORECASE
_GRID: Final = re.compile(rf"(?P<a>{_N})\s*(?:x|×|by)\s*(?P<b>{_N})\s*$", _I)
_MANY: Final = r"pieces?|fingers?|squares?|bars?|slices?|portions?|wedges?|strips?|each"
_COUNT: Final = re.compile(
    rf"(?:in(?:to)?\s+)?(?P<n>{_N})\s*(?P<what>{_MANY})?\s*$", _I
)
_G: Final = r"kg|g|oz"
_WEIGHT: Final = re.compile(
    rf"(?:(?:pieces?|{_MANY})\s+)?(?:of\s+|between\s+)?(?P<n>{_N})\s*(?P<u0>{_G})?"
    rf"(?:\s*(?:-|–|—|to|and)\s*(?P<to>{_N}))?\s*(?P<u>{_G})\s*(?:{_MANY})?\s*$",
    _I,
)
_GRAMS: Final = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125}
_CLAUSE_BEGINS: Final = re.compile(
    rf"(?<!\beach)(?<!\bcut)(?<!\bat),?\s+(?=(?:trim|knife)\b|at\s+least\b|each\s+(?:cut\s+)?in(?:to)?\b"
    rf"|(?:cut\s+)?in(?:to)?\s+(?:\w+\s+)?triangles?\b|halved\b|quartered\b"
    rf"|(?:at\s+)?(?:{_N})\s*(?:°|º|deg))",
    _I,
)
_IN_TIN: Final = re.compile(r",?\s+in\s+(?P<tin>[^\W\d][^,]*)$", _I)
_ANGLE: Final = re.compile(rf"(?:at\s+)?(?P<n>{_N})\s*(?:°|º|deg(?:rees?)?)$", _I)
_TRIANGLES: Final = re.compile(
    r"(?:each\s+)?(?:cut\s+)?in(?:to)?\s+(?P<n>\w+)\s+triangles?$", _I
)
_CORNERS: Final = re.compile(
    r"(?P<how>halved|quartered)(?:,?\s+(?:from\s+)?corner\s+to\s+corner"
    r"|\s+in(?:to)?\s+triangles)$",
    _I,
)
_COUNTS: Final = {"2": 2, "two": 2, "halved": 2, "4": 4, "four": 4, "quartered": 4}
_SHAPES: Final = {
    "square": "square", "squares": "square", "diamond": "diamond",
    "diamonds": "diamond", "lozenge": "diamond", "lozenges": "diamond",
    "strip": "strip", "strips": "strip", "finger": "finger", "fingers": "finger",
    "triangle": "triangle", "triangles": "triangle",
}  # fmt: skip
_BESIDE: Final = frozenset(
    "of a in into with wide long across piece pieces bar bars slice slices portion "
    "portions each side sides to".split()
)
"""Words that may stand beside a size and say nothing more."""
_WORDS: Final = (*_SHAPES, "wedges", "pieces", "bars", "slices", "portions")
WAYS: Final = (
    "5 x 4, 20 pieces, 58 x 47.5 mm, squares 45 mm, fingers 100 x 25 mm, strips 30 mm, "
    "diamonds 40 mm, 75 g pieces, 60-75 g pieces or 12 wedges"
)


def read_cut(line: CardLine, value: str, tins: Tins) -> SaidCut | Mistake:
    """The cut that a `cut` line asks for."""
    begins = len(line.text) - len(value)
    where = Where(span=line.span(begins), field="cut")
    commas = _CLAUSE_BEGINS.sub(", ", value)
    named = _IN_TIN.search(commas)
    if named and tins.find(named["tin"]):
        commas = f"{commas[: named.start()]}, in {named['tin']}"
    first, *clauses = [part.strip() for part in re.split(r",(?!\d)", commas)]
    clauses = [clause for clause in clauses if clause]
    try:
        way = _way(first)
        for clause in clauses if way is not None else ():
            if way is not None and not _clause(clause, way):
                return _no_clause(clause, _at(line, value, clause, where))
        if way is None:
            return _no_cut(first, where)
        request = way.request()
    except GeometryError as error:
        one = error.mistakes[0]
        return Mistake(one.what, one.do, where, one.nearest)
    except (ValueError, OverflowError):
        return _no_cut(first, where)
    span, other = where.span or line.span(), None
    if way.tin_name:
        said = read_head_tin(line, way.tin_name, tins)
        if isinstance(said, Mistake):
            return said
        other = said.tin
    return SaidCut(value, request, span, way.tin_name, way.knife_mm is not None, other)


def _at(line: CardLine, value: str, clause: str, where: Where) -> Where:
    """Where a clause stands in its line, if it stands there word for word."""
    at = value.find(clause)
    if at < 0:
        return where
    begins = len(line.text) - len(value) + at
    return Where(span=line.span(begins, begins + len(clause)), field="cut")


@dataclass
class _Way:
    """The pieces of a cut as they are read."""

    said: dict[str, float] = field(default_factory=dict)
    """Fields of the request."""
    shape: str = ""
    """A shape that was called by its name."""
    side_mm: float | None = None
    """Of a diamond, where its side is said in place of its width."""
    trim_to_mm: tuple[float, float] | None = None
    knife_mm: float | None = None
    tin_name: str = ""

    def request(self) -> CutRequest:
        """What was asked, checked.

        Raises:
            GeometryError: for what cannot be asked.
        """
        said = dict(self.said)
        if self.side_mm is not None:
            angle = radians(said.get("angle_deg", USUAL_DEG))
            said["diamond_mm"] = self.side_mm * sin(angle)
        fields: dict[str, Any] = {
            name: _whole(value) if name in _WHOLE else value
            for name, value in said.items()
        }
        return CutRequest(
            **fields,
            fingers=self.shape == "finger" and "pieces" in said,
            trim_to_mm=self.trim_to_mm,
            knife_mm=self.knife_mm or 0.0,
        )


_WHOLE: Final = {"along", "across", "pieces", "wedges", "strips", "triangles"}


def _way(text: str) -> _Way | None:
    if weight := _WEIGHT.match(text):
        return _of_mass(weight)
    shape = _shape_in(text)
    sizes, words = lengths(text)
    if sizes:
        return _of_size(text, shape, sizes, words)
    if grid := _GRID.match(text):
        along, across = number_of(grid["a"]), number_of(grid["b"])
        return _Way({"along": along, "across": across})
    if count := _COUNT.match(text):
        what, many = (count["what"] or "").lower(), number_of(count["n"])
        if what.startswith(("wedge", "strip")):
            return _Way({"wedges" if what[0] == "w" else "strips": many})
        return _Way({"pieces": many}, "finger" if what.startswith("fin") else shape)
    return None


def _of_mass(weight: re.Match[str]) -> _Way:
    unit = _GRAMS[weight["u"].lower()]
    first = _GRAMS[(weight["u0"] or weight["u"]).lower()]
    said = {"piece_g": number_of(weight["n"]) * first}
    if weight["to"]:
        said["piece_to_g"] = number_of(weight["to"]) * unit
    return _Way(said)


def _shape_in(text: str) -> str:
    """The shape that a text names; empty if it names none."""
    found = (_SHAPES.get(word) for word in re.findall(r"[a-z]+", text.casefold()))
    return next((shape for shape in found if shape), "")


def _of_size(
    text: str, shape: str, sizes: tuple[float, ...], words: str
) -> _Way | None:
    odd = [
        word
        for word in re.findall(r"[^\W\d]+", words)
        if word not in _BESIDE and word not in _SHAPES
    ]
    if odd or len(sizes) > len("xy"):
        return None
    if shape == "triangle":
        raise GeometryError(
            Mistake(
                f"'{text}' does not say of which squares.",
                "Triangles are cut from squares: squares 60 mm, each into 2 triangles.",
            )
        )
    pair = len(sizes) == len("xy")
    if shape in {"strip", "diamond"} and not pair:
        name = "strip_mm" if shape == "strip" else "diamond_mm"
        if shape == "diamond" and re.search(r"\bsides?\b", words):
            return _Way({}, shape, side_mm=sizes[0])
        return _Way({name: sizes[0]}, shape)
    if shape == "square" and (not pair or sizes[0] == sizes[1]):
        return _sized(sizes[0], sizes[0], shape)
    if pair and shape in {"", "finger"}:
        return _sized(sizes[0], sizes[1], shape)
    many = "one size" if shape in {"strip", "diamond", "square"} else "two sizes"
    raise GeometryError(
        Mistake(
            f"'{text}' gives {len(sizes)} of the sizes of a {shape or 'piece'}.",
            f"Give {many}: {_LIKE.get(shape, '58 x 47.5 mm')}.",
        )
    )


_LIKE: Final = {
    "strip": "strips 30 mm", "diamond": "diamonds 40 mm, 60 degrees",
    "square": "squares 45 mm", "finger": "fingers 100 x 25 mm",
}  # fmt: skip


def _sized(length_mm: float, width_mm: float, shape: str) -> _Way:
    return _Way({"piece_length_mm": length_mm, "piece_width_mm": width_mm}, shape)


def _clause(text: str, way: _Way) -> bool:
    """Take what a clause says; False if it says nothing about a cut."""
    word, _, rest = text.partition(" ")
    glued = re.match(r"(?i)(trim|knife)(?=\d)", text)
    if glued:
        word, rest = glued.group(), text[glued.end() :]
    word = word.lower()
    sizes, left = lengths(rest)
    if word == "trim" and rest.lower().startswith("to "):
        if len(sizes) == len("xy"):
            way.trim_to_mm = (sizes[0], sizes[1])
        return len(sizes) == len("xy")
    if word in {"trim", "knife"} and len(sizes) == 1:
        if word == "trim":
            way.said["trim_mm"] = sizes[0]
        else:
            way.knife_mm = sizes[0]
        return True
    if word == "in" and rest.strip() and not _TRIANGLES.match(text):
        way.tin_name = rest.strip()
        return True
    if word == "at" and left.startswith("least") and len(sizes) == 1:
        way.said["least_mm"] = sizes[0]
        return not set(left.split()) - {"least", "wide", "across"}
    return _shape_clause(text, way) or text.lower() == "no trim"


def _shape_clause(text: str, way: _Way) -> bool:
    """An angle of diamonds, or triangles of each square."""
    if angle := _ANGLE.match(text):
        way.said["angle_deg"] = number_of(angle["n"])
        return True
    if corners := _CORNERS.match(text):
        way.said["triangles"] = _COUNTS[corners["how"].lower()]
        return True
    if triangles := _TRIANGLES.match(text):
        said = triangles["n"].lower()
        way.said["triangles"] = _COUNTS.get(said) or _whole(number_of(said))
        return True
    return False


def _whole(value: float) -> int:
    if value != int(value):
        raise ValueError(value)
    return int(value)


def _no_clause(clause: str, where: Where) -> Mistake:
    what = f"'{clause}' says nothing about a cut."
    do = "Write trim 5 mm, trim to 31 x 21 cm, knife 1 mm, at least 40 mm or in TIN."
    if re.fullmatch(r"(?i)(trim|knife|at least)\s*[\d.,]+", clause):
        what = f"'{clause}' lacks its unit."
    return Mistake(what, do, where)


def _no_cut(text: str, where: Where) -> Mistake:
    what = f"'{text}' is no way to cut."
    near = _nearest(text)
    do = f"Write {near}?" if near else f"Write {WAYS}."
    return Mistake(what, do.replace("?", "."), where, (near,) if near else ())


def _nearest(text: str) -> str:
    """The same with misspelt words put right; empty if that does not help."""
    mended = re.sub(
        r"[^\W\d]{4,}",
        lambda m: next(iter(get_close_matches(m[0].casefold(), _WORDS, 1, 0.7)), m[0]),
        text,
    )
    if mended.casefold() == text.casefold():
        return ""
    try:
        way = _way(mended)
        if way is not None:
            way.request()
            return mended
    except (GeometryError, ValueError, OverflowError):
        return ""
    return ""
