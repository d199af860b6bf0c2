"""What the law says of the form of a date, and of how cold chilled food is held."""

import csv
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files

from slabwright.source import Source, sources


@dataclass(frozen=True, slots=True)
class Form:
    """The shortest form of a date that the law takes."""

    id: str
    kind: str
    """`best before` or `use by`."""
    up_to_months: int | None
    """For what keeps no longer than this; None without an end."""
    ends_of: str
    """`day`, or the `month` or `year` at whose end it stands."""
    from_day: date
    article: str
    source: Source
    found: str


@dataclass(frozen=True, slots=True)
class Chill:
    """How cold chilled food is held; since when, our sources don't say."""

    id: str
    nations: tuple[str, ...]
    most_C: float | None
    """None where the law names no number, or each country its own."""
    words: str
    article: str
    source: Source
    found: str


@cache
def forms() -> tuple[Form, ...]:
    """Every form of a date, the shortest time first."""
    return tuple(
        Form(
            row["id"],
            row["kind"],
            int(row["up_to_months"]) if row["up_to_months"] else None,
            row["ends_of"],
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["found"],
        )
        for row in _rows("dates.csv")
    )


@cache
def chills() -> tuple[Chill, ...]:
    """Every row on chilled food."""
    return tuple(
        Chill(
            row["id"],
            tuple(row["nation"].split(";")),
            float(row["most_C"]) if row["most_C"] else None,
            row["words"],
            row["article"],
            sources()[row["source"]],
            row["found"],
        )
        for row in _rows("chill.csv")
    )


def chill_of(nation: str) -> tuple[Chill, ...]:
    """What holds in this nation; in the United Kingdom, what holds in its parts."""
    found = tuple(one for one in chills() if nation in one.nations)
    return found or tuple(one for one in chills() if "EU" not in one.nations)


def _rows(name: str) -> list[dict[str, str]]:
    text = files("slabwright.label").joinpath("data", name).read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))
