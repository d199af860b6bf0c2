"""How high the letters and figures of a label stand, and what stands together."""

import csv
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from math import inf
from typing import Final

from slabwright.source import Source, sources

NO_NUTRITION_CM2: Final = 25
"""Below so large a surface no nutrition is asked; PRE-05: Annex V 18, from memory."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One rule on how a label looks."""

    id: str
    rule: str
    """`letters`, `figures`, `together` or `few`."""
    above: float
    up_to: float
    """For a largest surface [cm²], or for a net weight [g]."""
    least_mm: float | None
    words: str
    from_day: date
    article: str
    source: Source
    found: str


@cache
def rules() -> tuple[Shown, ...]:
    """Every rule of the table."""
    data = files("slabwright.label").joinpath("data", "presentation.csv")
    return tuple(
        Shown(
            row["id"],
            row["rule"],
            float(row["from_value"] or 0),
            float(row["to_value"] or inf),
            float(row["value"]) if row["unit"] == "mm" else None,
            row["words"],
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["found"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def letters(largest_surface_cm2: float | None = None) -> Shown:
    """How high a small letter x must stand; the larger one if the surface isn't known.

    Args:
        largest_surface_cm2: of the pack; below 80 cm² smaller letters do.
    """
    surface = inf if largest_surface_cm2 is None else largest_surface_cm2
    return next(
        one
        for one in rules()
        if one.rule == "letters"
        and (surface < one.up_to or one.up_to == inf)
        and one.above <= surface
    )


def figures(net_g: float) -> Shown:
    """How high the figures of a net weight must stand."""
    return next(one for one in rules() if one.rule == "figures" and net_g <= one.up_to)


def together() -> Shown:
    """What must be seen at one glance."""
    return next(one for one in rules() if one.rule == "together")


def few(largest_surface_cm2: float) -> Shown | None:
    """What is enough on the smallest packs; None on all others."""
    one = next(one for one in rules() if one.rule == "few")
    return one if largest_surface_cm2 < one.up_to else None
