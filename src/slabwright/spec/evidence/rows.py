"""Rows of the published check tables, each one number with where it was printed.

The tables ship with the program, so that everybody can look. `published` names the
source in words, apart from `sources.csv`: these are what figures are held against, not
what they are worked out from. `grade` says how well a row is known: A, read in a paper,
a standard or its abstract; B, a reprint that names its source, or remembered and
checked; C, a page without a source, or remembered and not checked.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from math import nan
from typing import Final, Literal

Kind = Literal["point", "range", "computed", "coefficient", "rule"]

TOPICS: Final[Mapping[str, str]] = {
    "boiling_point": "Boiling",
    "water_activity_solutions": "Water activity of solutions",
    "freezing_points": "Freezing",
    "water_activity_products": "Water activity of what is sold",
    "sugar_solubility": "How much sugar dissolves",
    "sugar_density": "Density of syrups",
    "glass_transition": "Glass transition",
    "fats": "Fats",
    "thermal_components": "Density, heat and conductivity",
    "sorption_crispness_migration": "Isotherms and crispness",
    "cooked_caramel": "Cooked caramel, from the trade",
    "kinetics_setting": "Browning, setting, starch",
    "microbiology": "What may grow",
}
"""Tables by their file's name, in the order in which they are shown."""


@dataclass(frozen=True, slots=True)
class Row:
    """One published number."""

    topic: str
    id: str
    quantity: str
    material: str
    temperature_C: float | None
    percent: float | None
    """Grams of what is dissolved, or named, in 100 g."""
    activity: float | None
    """Water activity at which it holds."""
    conditions: str
    printed: str
    """The value as it was printed; a rule may have words."""
    value: float
    """NaN for words."""
    value_hi: float | None
    """The upper end of a range."""
    unit: str
    kind: Kind
    tolerance: float | None
    """How far a figure may lie from it, in its unit."""
    grade: str
    published: str
    found: str
    note: str
    condition: Mapping[str, str] = field(default_factory=dict)
    """The conditions by name, as far as they have one."""

    @property
    def source(self) -> str:
        """Where it was printed, the same for every row of one table."""
        return self.published.partition(" [")[0]

    @property
    def digits(self) -> int:
        """Decimals that were printed."""
        return len(self.printed.partition(".")[2].partition("e")[0])

    @property
    def at(self) -> str:
        """For what it holds, in words."""
        said = []
        if self.percent is not None:
            said.append(f"{self.percent:g} %")
        if self.temperature_C is not None:
            said.append(f"{self.temperature_C:g} °C".replace("-", "−"))
        if self.activity is not None:
            said.append(f"water activity {self.activity:g}")
        if self.conditions:
            said.append(self.conditions.replace(";", "; "))
        return ", ".join(said)

    def stated(self, name: str) -> float:
        """A condition that is a number.

        Raises:
            KeyError: if it is not stated.
        """
        return float(self.condition[name])


@cache
def every_row() -> tuple[Row, ...]:
    """Every row of every table, topic by topic."""
    home = files("slabwright.physics").joinpath("data", "evidence")
    found = []
    for topic in TOPICS:
        text = home.joinpath(f"{topic}.csv").read_text("utf-8")
        for row in csv.DictReader(text.splitlines()):
            found.append(_row(topic, row))
    return tuple(found)


def _row(topic: str, row: Mapping[str, str]) -> Row:
    kinds: Mapping[str, Kind] = {
        "point": "point", "range": "range", "computed": "computed",
        "coefficient": "coefficient", "rule": "rule",
    }  # fmt: skip
    value = _number(row["value"])
    pairs = (one.partition("=") for one in row["condition"].split(";"))
    return Row(
        topic, row["id"], row["quantity"], row["material"], _number(row["T_C"]),
        _number(row["percent_w_w"]), _number(row["aw"]), row["condition"],
        row["value"], nan if value is None else value, _number(row["value_hi"]),
        row["unit"], kinds[row["kind"]],
        _number(row["tol"]), row["grade"], row["published"], row["found"], row["note"],
        {key.strip(): value for key, equals, value in pairs if equals},
    )  # fmt: skip


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None
