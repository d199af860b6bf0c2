"""Stages of cooked sugar: what cooks call a syrup by the temperature it boils at.

Books do not agree where a stage begins: every row keeps its book. The temperatures are
those of plain sugar at the sea. Higher up all of them boil lower by what water does;
with syrups or milk in the pan the name still goes by the temperature, the water left
does not.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.physics.water import air_pressure, boiling_point
from slabwright.source import Source, sources

_SEA_KPA: Final = 101.325
NO_BOIL_C: Final = 165.0
"""Above this plain sugar has no water to boil off: altitude counts no more. The
textbook of the table says so."""


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage as one book has it, at the sea."""

    name: str
    low_C: float
    high_C: float
    source: Source
    test: str
    """What a hand sees of it, if the table says."""


@cache
def stages() -> tuple[Stage, ...]:
    """Every stage of every book, in the order of cooking.

    Raises:
        ValueError: if a row ends before it begins.
    """
    text = files("slabwright.physics").joinpath("data/sugar_stages.csv")
    rows = csv.DictReader(text.read_text("utf-8").splitlines())
    found = tuple(
        Stage(
            row["stage"],
            float(row["low_C"]),
            float(row["high_C"]),
            sources()[row["source"]],
            row["test"],
        )
        for row in rows
    )
    for one in found:
        if one.high_C < one.low_C:
            message = f"sugar_stages.csv: {one.name} ends before it begins"
            raise ValueError(message)
    return found


def stage_names() -> tuple[str, ...]:
    """Each name once, in the order of cooking."""
    return tuple(dict.fromkeys(one.name for one in stages()))


def spans(name: str) -> tuple[float, float]:
    """From the lowest to the highest that any book gives for a stage [°C].

    Raises:
        KeyError: for a name that no book has.
    """
    own = [one for one in stages() if one.name == name]
    if not own:
        raise KeyError(name)
    return min(one.low_C for one in own), max(one.high_C for one in own)


def at_sea(temperature_C: float, pressure_kPa: float = _SEA_KPA) -> float:
    """What a pan that boils at this temperature here would show at the sea [°C].

    Above 165 °C nothing boils and nothing is corrected; between, it is corrected.
    """
    if temperature_C >= NO_BOIL_C:
        return temperature_C
    lower = float(boiling_point(_SEA_KPA)) - float(boiling_point(pressure_kPa))
    return temperature_C + lower


def here(temperature_C: float, altitude_m: float) -> float:
    """What a probe shows at this altitude for a stage's temperature at the sea [°C]."""
    if temperature_C >= NO_BOIL_C:
        return temperature_C
    low = float(boiling_point(float(air_pressure(altitude_m))))
    return temperature_C - (float(boiling_point(_SEA_KPA)) - low)


def stages_at(temperature_C: float, slack_C: float = 0.0) -> tuple[Stage, ...]:
    """Every row that this temperature, as at the sea, falls into.

    Args:
        temperature_C: as at the sea.
        slack_C: how far beyond the ends of a row it may lie; books that name one
            degree need about 1.
    """
    return tuple(
        one
        for one in stages()
        if one.low_C - slack_C <= temperature_C <= one.high_C + slack_C
    )


def stage_named(temperature_C: float) -> str:
    """The stage of a temperature as at the sea, in words.

    >>> stage_named(115), stage_named(119), stage_named(126), stage_named(60)
    ('soft ball', 'firm ball', 'hard ball', 'syrup, not a stage yet')
    >>> stage_named(121)
    'firm ball to hard ball'
    >>> stage_named(146)
    'between soft crack and hard crack'
    """
    names = tuple(dict.fromkeys(one.name for one in stages_at(temperature_C)))
    ranged = tuple(name for name in names if not name.endswith(" thread"))
    if ranged:
        return " to ".join(dict.fromkeys((ranged[0], ranged[-1])))
    below = [one for one in stages() if one.high_C < temperature_C]
    above = [one for one in stages() if one.low_C > temperature_C]
    if not below:
        return "syrup, not a stage yet"
    if not above:
        return "beyond dark caramel"
    last = max(below, key=lambda one: one.high_C).name
    following = min(above, key=lambda one: one.low_C).name
    return f"between {last} and {following}" if last != following else last
