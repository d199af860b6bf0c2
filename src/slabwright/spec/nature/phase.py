"""How the sugar of a kind of layer lies, and what carries the layer."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal

from slabwright.source import Source, sources


@dataclass(frozen=True, slots=True)
class Phase:
    """What a kind's sugar does, by common practice where no paper says it."""

    kind: str
    dissolved: tuple[float, float, float]
    """Of the sugar that its water can't dissolve, the share that lies in it all the
    same, as a glass or thick syrup and not as crystals: low, likely, high."""
    crumb: tuple[float, float, float]
    """How much of the water of raw starch, protein and fibre theirs holds, baked or
    roasted as they are: low, likely, high."""
    is_syrup: bool
    """Whether one unbroken syrup carries it, so that its glass transition tells."""
    held_by: str
    """What holds a soft syrup up: `its gel`; empty if nothing does."""
    hardest: str
    """The hardest word that is meant where it is eaten; empty if it is no syrup."""
    crisp: Literal["yes", "partly", "no"]
    """Whether it is meant to be crisp; a crumb base only partly."""
    is_fatty: bool
    """Whether fat lies around everything else, so that water hardly passes."""
    why_no_syrup: str
    source: Source
    crumb_source: Source


_CRISP: Final[Mapping[str, Literal["yes", "partly", "no"]]] = {
    "yes": "yes",
    "partly": "partly",
    "no": "no",
}


@cache
def phases() -> Mapping[str, Phase]:
    """The phase of every kind of layer, by its name."""
    found = files("slabwright.spec.nature").joinpath("phases.csv")
    return {
        row["kind"]: Phase(
            row["kind"],
            _three(row, "dissolved"),
            _three(row, "crumb"),
            row["syrup"] == "yes",
            row["held_by"],
            row["hardest"],
            _CRISP[row["crisp"]],
            row["fatty"] == "yes",
            row["why_no_syrup"],
            sources()[row["source"]],
            sources()[row["crumb_source"]],
        )
        for row in csv.DictReader(found.read_text("utf-8").splitlines())
    }


def _three(row: Mapping[str, str], name: str) -> tuple[float, float, float]:
    return float(row[f"{name}_low"]), float(row[name]), float(row[f"{name}_high"])
