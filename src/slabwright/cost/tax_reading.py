"""How bakes have been treated for tax: to read before deciding, never applied."""

import csv
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.source import Source, sources

HEAD: Final = (
    "To read before you decide, and never applied: what a bake counts as is contested. "
    "Take local advice."
)
_COUNTRIES: Final = {"GB": "United Kingdom"}


@dataclass(frozen=True, slots=True)
class Treated:
    """How one kind of bake has been treated."""

    id: str
    nation: str
    from_day: date
    """Of the Act, from memory; not of the practice."""
    product: str
    treated: str
    why: str
    article: str
    source: Source
    found: str
    """How the row is known: stored official, stored secondary, from memory."""


@cache
def _table() -> tuple[Treated, ...]:
    data = files("slabwright.cost").joinpath("data", "uk_vat_reading.csv")
    return tuple(
        Treated(
            row["id"], row["nation"], date.fromisoformat(row["from"]), row["product"],
            row["treated"], row["why"], row["article"], sources()[row["source"]],
            row["found"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )  # fmt: skip


def tax_reading(country: str) -> tuple[Treated, ...]:
    """What there is to read for this country; empty where there is nothing."""
    nation = _COUNTRIES.get(country, "")
    return tuple(row for row in _table() if row.nation == nation)
