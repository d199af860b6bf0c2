"""How the sugar of a kind of layer lies, and what carries the layer."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from slabwright.source import Source, sources


@dataclass(frozen=True, slots=True)
class Phase:
    """What a kind's sugar does, by common practice where no paper says it."""

    kind: str
    dissolved: tuple[float, float, float]
    """Of the sugar that its water can't dissolve, the share that lies in it all the
    same, as a glass or thick syrup and not as crystals: low, likely, high."""
    is_syrup: bool
    """Whether one unbroken syrup carries it, so that its glass transition tells."""
    held_by: str
    """What holds a soft syrup up: `its gel`; empty if nothing does."""
    hardest: str
    """The hardest word that is meant where it is eaten; empty if it is no syrup."""
    is_crisp: bool
    is_fatty: bool
    """Whether fat lies around everything else, so that water hardly passes."""
    why_no_syrup: str
    source: Source


@cache
def phases() -> Mapping[str, Phase]:
    """The phase of every kind of layer, by its name."""
    found = files("slabwright.spec.nature").joinpath("phases.csv")
    return {
        row["kind"]: Phase(
            row["kind"],
            (
                float(row["dissolved_low"]),
                float(row["dissolved"]),
                float(row["dissolved_high"]),
            ),
            row["syrup"] == "yes",
            row["held_by"],
            row["hardest"],
            row["crisp"] == "yes",
            row["fatty"] == "yes",
            row["why_no_syrup"],
            sources()[row["source"]],
        )
        for row in csv.DictReader(found.read_text("utf-8").splitlines())
    }
