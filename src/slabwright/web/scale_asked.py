"""The form of "Scale and cut": what was typed, kept as typed, and read."""

from dataclasses import dataclass
from typing import Annotated, Any, Final
from urllib.parse import urlencode

from fastapi import Path
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from slabwright.desk.cutting import CutAsked, own_cut, with_clauses
from slabwright.desk.scaling import AskedFor
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.asked_cut import AskedCut
from slabwright.files.card.reader import CardRead
from slabwright.files.wanted import Asked
from slabwright.spec.specification import Specification
from slabwright.web.fields import MOST_NUMBER

MOST_TYPED: Final = 200
"""Characters of one field."""
MOST_TINS: Final = 12
MOST_LAYERS: Final = 60
_NO_NUL: Final = r"^[^\x00]*$"
"""What a database takes as text."""
Typed = Annotated[str, Field(max_length=MOST_TYPED, pattern=_NO_NUL)]
Flag = Annotated[str, Field(max_length=10)]
Key = Annotated[str, Field(pattern=r"^([0-9a-f]{64})?$")]
WorkKey = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]
RevisionAsked = Annotated[
    int,
    BeforeValidator(lambda typed: typed or 0),  # an empty field is the slab's card
    Field(ge=0, le=MOST_NUMBER),
]
ALLOW: Final = "6%"
CARE: Final = "5"
DEPTH_COUNTS: Final = "1"
_USUAL: Final = {"allow": ALLOW, "care": CARE, "depth_counts": DEPTH_COUNTS}
FIELDS: Final = {
    "tin": "Tins", "trays": "Trays", "pieces": "Pieces", "by": "Times as much",
    "mass": "Mass", "height": "Height", "layer": "A layer's depth",
    "head-room": "Head room", "allow": "Change of depth", "packs": "Whole packs",
    "care": "Care for salt and what sets", "depth-counts": "Care for depth",
    "as": "The cut", "between": "A piece between", "least": "Not narrower than",
    "level": "Out of level", "knife-off": "Knife off its line", "choice": "Weigh",
}  # fmt: skip
"""What the form calls the fields that mistakes name."""


class ScaleAsk(BaseModel):
    """Every field of the form, as text: what can't be read is shown beside it."""

    model_config = ConfigDict(extra="ignore")
    tin: list[Typed] = Field(default=[], max_length=MOST_TINS)
    trays: Typed = ""
    pieces: Typed = ""
    by: Typed = ""
    mass: Typed = ""
    height: Typed = ""
    deep: list[Typed] = Field(default=[], max_length=MOST_LAYERS)
    """Depth of each layer, the top one first, as they stand; empty where it stays."""
    rim: Flag = ""
    head_room: Typed = ""
    whole_batch: Flag = ""
    allow: Typed = ALLOW
    care: Typed = CARE
    depth_counts: Typed = DEPTH_COUNTS
    packs: Annotated[str, Field(max_length=500)] = ""
    """Names between semicolons."""
    choice: Annotated[str, Field(max_length=10)] = ""
    """A letter, or `exact`; empty for the best."""
    v: RevisionAsked = 0
    """Of which revision; 0 for the slab's card as it is now."""
    cut: Typed = ""
    """As on a card."""
    count: Typed = ""
    size: Typed = ""
    low: Typed = ""
    high: Typed = ""
    least: Typed = ""
    within: Typed = ""
    """In which other tin of the card."""
    level: Typed = ""
    knife_off: Typed = ""
    work: Key = ""
    """Long work that was begun from here."""

    @property
    def tins(self) -> tuple[str, ...]:
        """Tins that were named."""
        return tuple(text.strip() for text in self.tin if text.strip())

    def pairs(self, **changes: Any) -> list[tuple[str, str]]:
        """The fields that say something, for an address or a form's hidden ones."""
        found: list[tuple[str, str]] = []
        for name, value in (self.model_dump() | changes).items():
            if name == "deep":
                found += [(name, one) for one in _ended(value)]
                continue
            each = value if isinstance(value, list) else [value]
            found += [
                (name, str(one)) for one in each if one and str(one) != _USUAL.get(name)
            ]
        return found

    def query(self, **changes: Any) -> str:
        """The same as it stands behind an address's question mark."""
        said = urlencode(self.pairs(**changes))
        return f"?{said}" if said else ""

    def asked(self, spec: Specification) -> AskedFor:
        """What to scale to.

        Raises:
            FileError: for what is no number, and layers that there are not.
        """
        reader = _Reader()
        scale = Asked(
            tins=self.tins,
            trays=reader.count(self.trays, "trays"),
            pieces=reader.count(self.pieces, "pieces"),
            by=self.by.strip(),
            mass=self.mass.strip(),
            height=self.height.strip(),
            layers=tuple(reader.layers(self.deep, spec)),
            rim=bool(self.rim),
            head_room=self.head_room.strip(),
            whole_batch=bool(self.whole_batch),
        )
        care = reader.number(self.care or CARE, "care")
        depth = reader.number(self.depth_counts or DEPTH_COUNTS, "depth-counts")
        reader.insist()
        packs = [one.strip() for one in self.packs.split(";") if one.strip()]
        return AskedFor(scale, packs, self.allow.strip() or ALLOW, care, depth)

    @property
    def is_cut_asked(self) -> bool:
        """Whether another cut than the card's own is asked for."""
        return bool(self.cut_ways or self.least.strip())

    @property
    def cut_ways(self) -> tuple[str, ...]:
        """The ways to ask for a cut that were used."""
        between = "between" if self.low.strip() or self.high.strip() else ""
        ways = ("cut" if self.cut.strip() else "", "size" if self.size.strip() else "")
        count = "count" if self.count.strip() else ""
        return tuple(way for way in (*ways, count, between) if way)

    def cut_asked(self, read: CardRead) -> CutAsked:
        """What to cut.

        Raises:
            FileError: for what is no number, and for several cuts at once.
        """
        if len(self.cut_ways) > 1:
            what = "The cut is asked for in several ways at once."
            do = "Keep one: in words, by number, by size or by mass."
            raise FileError(Mistake(what, do, Where(field="as")))
        own, words = own_cut(read, self.within), self.cut.strip()
        if self.count.strip():
            reader = _Reader()
            count = reader.count(self.count, "as")
            reader.insist()
            words = with_clauses(f"{count} pieces", own)
        elif self.size.strip():
            words = with_clauses(_with_unit(self.size.strip(), "mm"), own)
        low, high = (_with_unit(one.strip(), "g") for one in (self.low, self.high))
        between = " to ".join(one for one in (low, high) if one)
        least = _with_unit(self.least.strip(), "mm")
        return CutAsked(
            AskedCut(words, between.replace(" g to ", " to "), least),
            self.within.strip(),
            _with_unit(self.level.strip(), "mm"),
            _with_unit(self.knife_off.strip(), "mm"),
        )


class KeepAsk(ScaleAsk):
    """The form, and why its answer is kept."""

    note: Annotated[str, Field(max_length=2000, pattern=_NO_NUL)] = ""


@dataclass(frozen=True, slots=True)
class Wrong:
    """A mistake as it stands beside the form."""

    what: str
    do: str
    field: str


def wrong(mistakes: tuple[Mistake, ...]) -> tuple[Wrong, ...]:
    """Mistakes, with the form's names for their fields."""
    return tuple(
        Wrong(one.what, one.do, FIELDS.get(one.where.field, "")) for one in mistakes
    )


def _ended(values: list[str]) -> list[str]:
    """The same without what is empty at its end: the others keep their places."""
    kept = list(values)
    while kept and not kept[-1].strip():
        kept.pop()
    return kept


def _with_unit(text: str, unit: str) -> str:
    """A bare number with the unit that the field says."""
    return f"{text} {unit}" if text and text[-1].isdecimal() else text


class _Reader:
    """Reads numbers and keeps every mistake."""

    def __init__(self) -> None:
        self._mistakes: list[Mistake] = []

    def count(self, text: str, field: str) -> int | None:
        plain = text.strip()
        if not plain:
            return None
        if plain.isdecimal() and plain.isascii():
            return int(plain)
        self._wrong(f"'{plain}' is no whole number.", "Write it so: 20.", field)
        return None

    def number(self, text: str, field: str) -> float:
        try:
            return float(text.strip().replace(",", "."))
        except ValueError:
            self._wrong(f"'{text}' is no number.", "Write it so: 1.5.", field)
            return 0.0

    def layers(self, deep: list[str], spec: Specification) -> list[str]:
        asked = [(n, text.strip()) for n, text in enumerate(deep) if text.strip()]
        if asked and asked[-1][0] >= len(spec.layers):
            what = f"The card has {len(spec.layers)} layers only."
            self._wrong(what, "Open the form anew.", "layer")
            return []
        standing = spec.layers[::-1]
        return [f"{standing[number].name} = {text}" for number, text in asked]

    def _wrong(self, what: str, do: str, field: str) -> None:
        self._mistakes.append(Mistake(what, do, Where(field=field)))

    def insist(self) -> None:
        """Raise what was found wrong."""
        if self._mistakes:
            raise FileError(*self._mistakes)
