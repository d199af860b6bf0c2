"""Usual tins by the names that the trade gives them."""

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from slabwright.slab.tin import Tin
from slabwright.source import Seen


@dataclass(frozen=True, slots=True)
class Preset:
    """A usual tin and how we know its inner sizes."""

    names: tuple[str, ...]
    """What it is called, its usual name first."""
    tin: Tin
    source: str
    seen: Seen
    note: str
    """What to doubt about it, in words; empty where nothing is."""


def preset(name: str) -> Tin | None:
    """The usual tin of this name, or None if there is none.

    Case, spaces, `×` and the many ways to write inches do not matter.

    >>> preset("9x13 inch").describe()
    '22.86 × 33.02 × 5.08 cm'
    """
    row = preset_row(name)
    return row.tin if row else None


def preset_row(name: str) -> Preset | None:
    """The usual tin of this name with its source and doubts, or None."""
    return _presets().get(_key(name))


def preset_names() -> tuple[str, ...]:
    """The usual name of every tin that we know, in the table's order."""
    rows = dict.fromkeys(preset.names[0] for preset in _presets().values())
    return tuple(rows)


@cache
def _presets() -> Mapping[str, Preset]:
    text = files("slabwright.slab").joinpath("presets.csv").read_text("utf-8")
    found: dict[str, Preset] = {}
    for row in csv.DictReader(text.splitlines()):
        made = _made(row)
        for name in made.names:
            if _key(name) in found:
                message = f"presets.csv holds '{name}' twice"
                raise ValueError(message)
            found[_key(name)] = made
    return found


def _made(row: Mapping[str, str]) -> Preset:
    depth_mm = float(row["depth_mm"]) if row["depth_mm"] else None
    if row["shape"] == "round":
        tin = Tin.round(float(row["length_mm"]), depth_mm)
    else:
        sizes = float(row["length_mm"]), float(row["width_mm"])
        tin = Tin.rectangular(*sizes, depth_mm)
    names = tuple(row["names"].split("|"))
    return Preset(names, tin, row["source"], Seen[row["seen"].upper()], row["note"])


_INCH = re.compile(r"(?<=\d)[\s-]*(?:inches|inch|ins|in\b\.?|[\"″”])")
_UNIT_BEFORE_X = re.compile(r"(in|cm)(?=x)")


def _key(name: str) -> str:
    """A name without what may be written in several ways."""
    plain = name.lower().replace("×", "x").replace("½", ".5").strip()
    plain = _INCH.sub("in", plain)
    plain = re.sub(r"\b(?:baking )?(?:tin|pan|tray)$", "", plain)
    return _UNIT_BEFORE_X.sub("", re.sub(r"[\s-]+", "", plain))
