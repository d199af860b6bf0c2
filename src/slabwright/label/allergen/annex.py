"""The 14 of the law, what it exempts, and the words by which a declaration shows them.

Regulation (EU) No 1169/2011, Annex II, which holds in Great Britain and Northern
Ireland as well; each row of its table is dated and names its article and source.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.larder.ingredient import ALLERGENS
from slabwright.source import Source, sources

SULPHITES: Final = "sulphites"
SULPHITES_ABOVE_MG_KG: Final = 10.0
"""Total SO2 in the food ready to eat above which it is declared; Annex II 12."""
GROUPS: Final = tuple(dict.fromkeys(name.partition(":")[0] for name in ALLERGENS))
"""The 14, in the order of the law."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One allergen of the list."""

    id: str
    number: int
    """In the list, 1 to 14; cereals and nuts share theirs."""
    name: str
    """As the larder has it: `gluten:wheat`."""
    family: str
    """What the law calls its group: `cereals containing gluten`."""
    in_law: str
    words: tuple[str, ...]
    """What a declaration emphasises; the first is its plain name."""
    from_day: date
    article: str
    source: Source
    note: str

    @property
    def group(self) -> str:
        """Which of the 14: `gluten`, `nuts`, `milk`."""
        return self.name.partition(":")[0]


@dataclass(frozen=True, slots=True)
class Exemption:
    """What is made of one of the 14 and need not be declared."""

    id: str
    number: int
    in_law: str
    phrases: tuple[str, ...]
    """What it is called, apart from what it is made of."""
    of: tuple[str, ...]
    """Words for what it is made of."""
    from_day: date
    article: str
    source: Source
    note: str


@cache
def listed() -> dict[str, Listed]:
    """The list, by the larder's names.

    Raises:
        ValueError: if the table and the larder do not know the same allergens.
    """
    found = {
        row["allergen"]: Listed(
            row["id"],
            int(row["number"]),
            row["allergen"],
            row["group"],
            row["in_law"],
            tuple(row["words"].split(";")),
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["note"],
        )
        for row in _rows("allergen")
    }
    if tuple(found) != ALLERGENS:
        message = "allergens.csv and the larder do not know the same allergens"
        raise ValueError(message)
    return found


@cache
def families() -> dict[str, str]:
    """What the law calls each of the 14, by its group."""
    return {one.group: one.family for one in listed().values()}


@cache
def exemptions() -> tuple[Exemption, ...]:
    """What the law exempts, in its order."""
    return tuple(
        Exemption(
            row["id"],
            int(row["number"]),
            row["in_law"],
            tuple(row["words"].split(";")),
            tuple(row["of"].split()),
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["note"],
        )
        for row in _rows("exemption")
    )


def plain_name(allergen: str) -> str:
    """What a declaration calls it: the very cereal or nut.

    >>> plain_name("gluten:wheat"), plain_name("nuts:brazil"), plain_name("egg")
    ('wheat', 'Brazil nuts', 'egg')
    """
    return listed()[allergen].words[0]


def number_of(allergen: str) -> int:
    """Which of the 14 it belongs to."""
    return listed()[allergen].number


def _rows(kind: str) -> Iterator[dict[str, str]]:
    data = files("slabwright.label").joinpath("data", "allergens.csv")
    rows = csv.DictReader(data.read_text("utf-8").splitlines())
    return (row for row in rows if row["kind"] == kind)
