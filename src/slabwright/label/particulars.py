"""What must be shown for a way of selling: what is there, what is missing, and why."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.label.ways import Selling
from slabwright.source import Source, sources

UNITED_KINGDOM: Final = "United Kingdom"
"""A nation that isn't said: what holds in all four."""
_FOUR: Final = ("England", "Wales", "Scotland", "Northern Ireland")
NATIONS: Final = (*_FOUR, "EU", UNITED_KINGDOM)
"""Where there is a table of particulars for."""
NAMES: Final[Mapping[str, str]] = {
    "name": "name of the food",
    "defrosted": "“defrosted” beside the name",
    "ingredients": "list of ingredients",
    "allergens": "allergens",
    "allergen_sign": "sign that says whom to ask about allergens",
    "allergens_before": "allergens, told before it is bought",
    "allergens_on_arrival": "allergens, told again with what arrives",
    "quid": "shares of what is stressed",
    "net_quantity": "net weight",
    "date": "date",
    "storage": "how to store it",
    "business": "name and address of the business",
    "origin": "origin of the main ingredient",
    "instructions": "instructions for use",
    "nutrition": "nutrition",
    "lot": "lot",
    "letters": "height of the letters",
}
"""Every particular, in the order in which it is told."""
UNLESS: Final[Mapping[str, str]] = {
    "allergens_written": "unless they stand in writing beside the food",
    "packed_to_order": "unless you pack it only once it is ordered",
    "nothing_stressed": "unless neither name nor pack stresses an ingredient",
    "by_number": "unless it is sold by number, seen or said",
    "eaten_within_24_h": "unless it is normally eaten within 24 hours of being made",
    "keeps_anywhere": "unless it keeps without any condition",
    "no_origin_said": "unless the pack says no origin",
    "eaten_as_it_is": "unless it is eaten as it is",
    "small_and_direct": "unless small quantities go straight to who eats it or to a "
    "local shop",
    "surface_under_25_cm2": "unless its largest surface is under 25 cm²",
    "surface_under_10_cm2": "unless its largest surface is under 10 cm²",
    "date_to_the_day": "unless a date to the day stands on it",
    "never_frozen": "unless it was never frozen",
    "unharmed_by_thawing": "unless thawing does no harm, to it or to who eats it",
}
"""What lifts a need, in words."""


_SMALLEST: Final = "surface_under_10_cm2"
"""Told once, with the height of letters, and where it holds."""
ACTS: Final = frozenset(
    ["allergen_sign", "allergens_before", "allergens_on_arrival", "origin",
     "instructions", "letters"]
)  # fmt: skip
"""What no card can hold: acts of the shop, and its own judgement."""


_OR_NOTHING: Final = frozenset(["nutrition"])
"""What is given whole or not at all, where the law doesn't ask for it."""


class Need(StrEnum):
    """How the law asks for it."""

    MUST = "must"
    UNLESS = "must unless"
    MAY = "may"


class Standing(StrEnum):
    """How a particular stands on this label."""

    THERE = "there"
    MISSING = "missing"
    HELD = "held"
    """It is there as a draft; a question is open."""
    YOURS = "yours to do"
    """An act or a judgement that no card can hold."""
    NOT_ASKED = "not asked"
    """The law asks nothing, and nothing is given."""


@dataclass(frozen=True, slots=True)
class Row:
    """One particular of one way, as the law has it."""

    id: str
    way: Selling
    nations: tuple[str, ...]
    particular: str
    need: Need
    unless: tuple[str, ...]
    from_day: date
    article: str
    source: Source
    found: str
    rule: str
    why: str

    def holds_in(self, nation: str) -> bool:
        """Whether it is of this nation; for the United Kingdom, of all its four."""
        asked = _FOUR if nation == UNITED_KINGDOM else (nation,)
        return set(asked) <= set(self.nations)


@dataclass(frozen=True, slots=True)
class Stated:
    """What is there of a particular, or what it waits for."""

    words: str
    held: str = ""
    """Why it is a draft; empty if nothing is open."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of one slab, sold in one way."""

    there: Mapping[str, Stated] = field(default_factory=dict)
    """By particular; what is not in it is not there."""
    lifted: Mapping[str, bool] = field(default_factory=dict)
    """What is known of what lifts a need; a need stands where it isn't known."""
    do: Mapping[str, str] = field(default_factory=dict)
    """What to do about a particular that is missing."""


@dataclass(frozen=True, slots=True)
class Particular:
    """One thing that a label must or may show, and how it stands."""

    name: str
    need: Need
    standing: Standing
    what: str
    """What is there; empty if nothing is."""
    why: str
    do: str
    row: Row

    @property
    def title(self) -> str:
        """What it is called on screen."""
        return NAMES[self.name]

    @property
    def law(self) -> str:
        """Article, source, and how it is known."""
        return f"{self.row.article} ({self.row.found})"


@cache
def table() -> tuple[Row, ...]:
    """Every row of the table.

    Raises:
        ValueError: if it names a particular, nation or exception that has no words.
    """
    data = files("slabwright.label").joinpath("data", "particulars.csv")
    found = tuple(
        Row(
            row["id"],
            Selling(row["way"]),
            tuple(row["nation"].split(";")),
            row["particular"],
            Need(row["need"]),
            tuple(filter(None, row["unless"].split(";"))),
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["found"],
            row["rule"],
            row["why"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )
    known = {*NAMES, *NATIONS, *UNLESS}
    said = {word for r in found for word in (r.particular, *r.nations, *r.unless)}
    if said - known:
        message = f"particulars.csv says {sorted(said - known)}"
        raise ValueError(message)
    return found


def begins(way: Selling, nation: str) -> date:
    """The first day of the table of this way; what held before is not in it."""
    days = [
        row.from_day
        for row in table()
        if row.way is way and row.particular == "allergens" and row.holds_in(nation)
    ]
    return min(days)


def rows_of(way: Selling, nation: str, on: date) -> tuple[Row, ...]:
    """What the law asks of this way, in this nation, on this day."""
    order = list(NAMES)
    rows = [
        row
        for row in table()
        if row.way is way and row.holds_in(nation) and row.from_day <= on
    ]
    return tuple(sorted(rows, key=lambda row: order.index(row.particular)))


def particulars(
    way: Selling, nation: str, on: date, facts: Facts
) -> tuple[Particular, ...]:
    """Everything to be shown for this way, and how it stands.

    Args:
        way: how it is sold.
        nation: one of `NATIONS`.
        on: the day whose rules hold.
        facts: what is known of the slab.
    """
    return tuple(_particular(row, facts) for row in rows_of(way, nation, on))


def _particular(row: Row, facts: Facts) -> Particular:
    there = facts.there.get(row.particular)
    lifts = [one for one in row.unless if facts.lifted.get(one)]
    standing, words = Standing.MISSING, ""
    is_free = row.need is Need.MAY or bool(lifts)
    if there is not None and there.held and is_free and row.particular in _OR_NOTHING:
        standing = Standing.NOT_ASKED  # half a declaration is none
    elif there is not None:
        words = there.words
        standing = Standing.HELD if there.held else Standing.THERE
        if row.particular in ACTS:
            standing = Standing.YOURS
    elif is_free:
        standing = Standing.NOT_ASKED
    elif row.particular in ACTS:
        standing = Standing.YOURS
    why = _why(row, lifts)
    if there is not None and there.held:
        given = "held" if standing is Standing.HELD else "not given"
        why = f"{why}; {given}: {there.held}"
    is_open = standing in {Standing.MISSING, Standing.YOURS}
    do = facts.do.get(row.particular, "") if is_open else ""
    return Particular(row.particular, row.need, standing, words, why, do, row)


def _why(row: Row, lifts: list[str]) -> str:
    if lifts:
        return f"{row.why}; here: {UNLESS[lifts[0]].removeprefix('unless ')}"
    open_ones = [
        UNLESS[one].removeprefix("unless ") for one in row.unless if one != _SMALLEST
    ]
    return f"{row.why}, unless {', or '.join(open_ones)}" if open_ones else row.why
