"""Card words that stand above the first layer: tin, keep, proved."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from typing import Final

from slabwright.errors import GeometryError, Mistake, Where
from slabwright.files.card.lines import CardLine
from slabwright.files.card.sizes import (
    NOT_INSIDE,
    count_of,
    number_of,
    read_tin,
)
from slabwright.slab.presets import preset, preset_names
from slabwright.slab.tin import Tin
from slabwright.spec.card import Keep, SaidTin

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


def read_proved(line: CardLine, value: str) -> date | Mistake:
    """The day on which this revision was baked and tasted."""
    try:
        return date.fromisoformat(value.strip())
    except ValueError:
        where = Where(span=line.span(len(line.text) - len(value)), field="proved")
        what = f"'{value}' is no date."
        return Mistake(what, "Write year, month and day: 2026-03-14.", where)
