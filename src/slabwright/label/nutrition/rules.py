"""The tables of a nutrition declaration: factors, rounding, tolerances, intakes, order.

Each row is dated and names its nations, its article, its source and how it is known.
"""

import csv
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from math import inf
from typing import TypeVar

from slabwright.label.particulars import UNITED_KINGDOM
from slabwright.source import Source, sources


@dataclass(frozen=True, slots=True)
class Rule:
    """What every row of these tables says beside its numbers."""

    id: str
    nations: tuple[str, ...]
    from_day: date
    article: str
    source: Source
    found: str
    """How the row is known: `stored official`, `stored secondary`, `from memory`."""

    def holds(self, nation: str, on: date) -> bool:
        """Whether it holds there on that day; in the United Kingdom, in all four."""
        four = [one for one in self.nations if one != "EU"]
        is_there = len(four) == 4 if nation == UNITED_KINGDOM else nation in four
        return (is_there or nation in self.nations) and self.from_day <= on

    @property
    def law(self) -> str:
        """Article, and how it is known."""
        return f"{self.article} ({self.found})"


@dataclass(frozen=True, slots=True)
class Factor:
    """Energy of a gram of something."""

    component: str
    in_law: str
    kJ_per_g: float
    kcal_per_g: float
    larder: tuple[str, ...]
    """Ids of the larder for which it holds in place of the wider row."""
    note: str
    rule: Rule


@dataclass(frozen=True, slots=True)
class Rounding:
    """How a value from one bound to another is written."""

    nutrient: str
    unit: str
    lower: float
    upper: float
    step: float | None
    """None where a row gives words or significant figures in place of a step."""
    decimals: int
    alternatives: tuple[str, ...]
    """What may stand in place of a number: `0 g`, `<0.5 g`."""
    words: str
    rule: Rule


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far a measured value may lie from a declared one, per 100 g."""

    nutrient: str
    declared_from: float
    declared_to: float
    minus: float
    plus: float
    unit: str
    """`g`, or `%` of what is declared."""
    rule: Rule


@dataclass(frozen=True, slots=True)
class Intake:
    """The reference intake of an adult for a day."""

    nutrient: str
    unit: str
    amount: float
    note: str
    rule: Rule


@dataclass(frozen=True, slots=True)
class PanelLine:
    """A line of the declaration, in the law's order."""

    order: int
    nutrient: str
    line: str
    is_mandatory: bool
    unit: str
    of_which: str
    """The line that it is a part of; empty if none."""
    rule: Rule


@dataclass(frozen=True, slots=True)
class Threshold:
    """Up to where a nutrient counts as low, and as medium."""

    kind: str
    """`food` per 100 g, `drink` per 100 ml."""
    nutrient: str
    low_to: float
    medium_to: float
    high_in_portion: float
    """High too if one portion holds more [g] ..."""
    portion_above: float
    """... and a portion is larger than this [g or ml]."""
    rule: Rule


T = TypeVar("T")
_Row = dict[str, str]


def table_rows(name: str, made: Callable[[_Row, Rule], T]) -> tuple[T, ...]:
    """Every row of a table of this room, as it is made of its cells and its rule."""
    data = files("slabwright.label").joinpath("data", name)
    return tuple(
        made(row, _rule(row))
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def _rule(row: _Row) -> Rule:
    return Rule(
        row["id"],
        tuple(row["nation"].split(";")),
        date.fromisoformat(row["from"]),
        row["article"],
        sources()[row["source"]],
        row["found"],
    )


@cache
def factors() -> tuple[Factor, ...]:
    """Every factor of energy, in the law's order."""
    return table_rows(
        "energy_factors.csv",
        lambda row, rule: Factor(
            row["component"],
            row["in_law"],
            float(row["kj_per_g"]),
            float(row["kcal_per_g"]),
            tuple(row["larder"].split()),
            row["note"],
            rule,
        ),
    )


@cache
def roundings() -> tuple[Rounding, ...]:
    """Every row of rounding."""
    return table_rows(
        "nutrition_rounding.csv",
        lambda row, rule: Rounding(
            row["nutrient"],
            row["unit"],
            float(row["lower"] or 0),
            float(row["upper"] or inf),
            float(row["increment"]) if row["increment"] else None,
            int(row["decimals"] or 0),
            tuple(filter(None, row["alternatives"].split(" | "))),
            row["rule"],
            rule,
        ),
    )


@cache
def tolerances() -> tuple[Tolerance, ...]:
    """Every tolerance."""
    return table_rows(
        "nutrition_tolerances.csv",
        lambda row, rule: Tolerance(
            row["nutrient"],
            float(row["declared_from"]),
            float(row["declared_to"] or inf),
            float(row["minus"]),
            float(row["plus"]),
            row["unit"],
            rule,
        ),
    )


@cache
def intakes() -> tuple[Intake, ...]:
    """Every reference intake."""
    return table_rows(
        "reference_intakes.csv",
        lambda row, rule: Intake(
            row["nutrient"],
            row["unit"],
            float(row["reference_intake"]),
            row["note"],
            rule,
        ),
    )


@cache
def panel() -> tuple[PanelLine, ...]:
    """Every line of the declaration, in order."""
    return table_rows(
        "nutrition_panel.csv",
        lambda row, rule: PanelLine(
            int(row["order"]),
            row["nutrient"],
            row["line"],
            row["mandatory"] == "yes",
            row["unit"],
            row["of_which"],
            rule,
        ),
    )


@cache
def thresholds() -> tuple[Threshold, ...]:
    """Every threshold of the front of a pack."""
    return table_rows(
        "front_of_pack.csv",
        lambda row, rule: Threshold(
            row["kind"],
            row["nutrient"],
            float(row["low_to"]),
            float(row["medium_to"]),
            float(row["high_above_in_portion"]),
            float(row["portion_above"]),
            rule,
        ),
    )


def panel_of(nation: str, on: date) -> tuple[PanelLine, ...]:
    """The lines that hold in a nation on a day; none where there is no table."""
    return tuple(one for one in panel() if one.rule.holds(nation, on))


def tolerance_of(nutrient: str, declared: float) -> Tolerance | None:
    """The tolerance of a declared value [g per 100 g]; None where there is none."""
    rows = [one for one in tolerances() if one.nutrient == nutrient]
    return next(
        # 10 g and 40 g belong to the middle band, as does what begins a last one
        (one for one in rows if _is_in_band(one, declared)),
        None,
    )


def _is_in_band(row: Tolerance, declared: float) -> bool:
    from_middle = row.declared_from >= 40
    above = (
        declared > row.declared_from if from_middle else (declared >= row.declared_from)
    )
    below = (
        declared <= row.declared_to
        if row.declared_to >= 40
        else (declared < row.declared_to)
    )
    return above and below


def intake_of(nutrient: str, unit: str) -> Intake | None:
    """The reference intake of a nutrient in this unit."""
    return next(
        (one for one in intakes() if (one.nutrient, one.unit) == (nutrient, unit)), None
    )
