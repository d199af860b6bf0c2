"""How far mixes rise in their vessels, by kind of mix."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from slabwright.source import Source, sources


@dataclass(frozen=True, slots=True)
class Fill:
    """How many times its volume a mix may come to, and what that leans on."""

    times: float
    low: float
    high: float
    """Its range; both as `times` for what is the most that it may come to."""
    why: str
    source: Source


@cache
def fills() -> Mapping[str, Fill]:
    """Every kind of mix by its name, from `fills.csv`."""
    text = files("slabwright.spec").joinpath("fills.csv").read_text("utf-8")
    return {
        row["mix"]: Fill(
            float(row["times"]),
            float(row["low"]),
            float(row["high"]),
            row["why"],
            sources()[row["source"]],
        )
        for row in csv.DictReader(text.splitlines())
    }
