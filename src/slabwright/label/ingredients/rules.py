"""The rules of a list of ingredients: dated rows, each with article, source and doubt.

Rows `ING` are of the list, `GEN` are generic names, `QUID` are shares of what is
stressed, `ADD` are additives and `FLO` is what flour is given by law.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.larder.words import key_of
from slabwright.source import Source, sources

USES: Final = frozenset(
    ["applied", "permission", "judgement", "elsewhere", "can't arise", "history"]
)
"""How a row is used: worked by, lawful and not made use of, the maker's to judge,
shown by another page, nothing that a slab can be, or no longer law."""
_UNITED_KINGDOM: Final = "United Kingdom"
_FOUR: Final = frozenset(["England", "Wales", "Scotland", "Northern Ireland"])


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule, in own words."""

    id: str
    topic: str
    article: str
    rule: str
    nations: frozenset[str]
    from_day: date
    use: str
    source: Source
    found: str

    @property
    def law(self) -> str:
        """Its id, its article, and how it is known."""
        return f"{self.id}, {self.article} ({self.found})"


@dataclass(frozen=True, slots=True)
class Additive:
    """An additive that a bakery meets."""

    id: str
    e_number: str
    name: str
    categories: tuple[str, ...]
    """Its principal function first."""
    also: tuple[str, ...]
    article: str
    source: Source
    found: str


@dataclass(frozen=True, slots=True)
class Fortificant:
    """What wheat flour is given by law, and since when."""

    id: str
    substance: str
    nations: frozenset[str]
    from_day: date
    article: str
    source: Source
    found: str


@cache
def rules() -> dict[str, Rule]:
    """Every rule by its id, in the order of its table.

    Raises:
        ValueError: if a row is used in a way that has no words.
    """
    found = {
        row["id"]: Rule(
            row["id"],
            row["topic"],
            row["article"],
            row["rule"],
            frozenset(row["nation"].split(";")),
            date.fromisoformat(row["from"]),
            row["use"],
            sources()[row["source"]],
            row["found"],
        )
        for row in _rows("ingredient_rules.csv")
    }
    if unknown := {one.use for one in found.values()} - USES:
        message = f"ingredient_rules.csv uses a row as {sorted(unknown)}"
        raise ValueError(message)
    return found


@cache
def categories() -> frozenset[str]:
    """Names of what additives are for."""
    rows = _rows("additives.csv")
    return frozenset(row["name"] for row in rows if row["kind"] == "category")


@cache
def additives() -> tuple[Additive, ...]:
    """The additives, in the order of their table."""
    return tuple(
        Additive(
            row["id"],
            row["e_number"],
            row["name"],
            tuple(row["category"].split(";")),
            tuple(filter(None, row["also"].split(";"))),
            row["article"],
            sources()[row["source"]],
            row["found"],
        )
        for row in _rows("additives.csv")
        if row["kind"] == "additive"
    )


def additive(text: str) -> Additive | None:
    """The additive of this name or number; None if the table has none.

    >>> found = additive("sodium bicarbonate")
    >>> found and (found.e_number, found.categories)
    ('E500', ('raising agent',))
    """
    return _by_name().get(key_of(text))


def fortificants(nation: str, on: date) -> tuple[Fortificant, ...]:
    """What wheat flour that is not wholemeal is given in this nation, on this day.

    >>> [one.substance for one in fortificants("EU", date(2026, 11, 26))]
    []
    """
    asked = _FOUR if nation == _UNITED_KINGDOM else frozenset([nation])
    return tuple(
        one for one in _fortificants() if asked <= one.nations and one.from_day <= on
    )


@cache
def _fortificants() -> tuple[Fortificant, ...]:
    return tuple(
        Fortificant(
            row["id"],
            row["substance"],
            frozenset(row["nation"].split(";")),
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["found"],
        )
        for row in _rows("flour_added.csv")
    )


@cache
def _by_name() -> dict[str, Additive]:
    return {
        key_of(text): one
        for one in additives()
        for text in (one.e_number, one.name, *one.also)
    }


def _rows(name: str) -> Iterator[dict[str, str]]:
    data = files("slabwright.label").joinpath("data", name)
    yield from csv.DictReader(data.read_text("utf-8").splitlines())
