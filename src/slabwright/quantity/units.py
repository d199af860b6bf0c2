"""Kitchen units and what they come to in grams or millilitres.

The table `units.csv` gives the source of each. A spoon, a cup, a fluid ounce or a
pint goes by the kitchen's regime; a count (an egg, a tin) becomes grams through the
ingredient's own measure, never here.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal, cast, get_args

from slabwright.source import Source, sources

Kind = Literal["mass", "volume", "spoon", "portion", "count"]
"""What a unit counts: grams; millilitres; millilitres by regime; about so many grams
whatever it is; or things."""

Regime = Literal["metric", "US", "AU"]
"""Whose spoons and cups."""

PACK_WORDS = frozenset(
    "pack tin jar sachet tub carton bag box bar block bottle tube".split()
)
"""Units that are a shop's pack: their weight is on them or in the larder."""


@dataclass(frozen=True, slots=True)
class Size:
    """What one unit comes to [g for masses and portions, ml for the others]."""

    value: float
    low: float
    high: float
    source: Source
    note: str


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit by its one name; `sizes` by regime, empty for a count."""

    name: str
    kind: Kind
    sizes: Mapping[Regime, Size]

    def size(self, regime: Regime = "metric") -> Size | None:
        """What one comes to under this regime, None for a count."""
        return self.sizes.get(regime)

    @property
    def is_exact(self) -> bool:
        """Whether one of it is the same everywhere and for everything."""
        return self.kind in {"mass", "volume"} and all(
            size.low == size.high for size in self.sizes.values()
        )


@cache
def units() -> Mapping[str, Unit]:
    """Every unit, by its one name."""
    return {unit.name: unit for unit in _by_alias().values()}


def unit_named(word: str) -> Unit | None:
    """The unit that this word or pair of words stands for; None if none does."""
    plain = " ".join(word.casefold().replace(".", "").split())
    return _by_alias().get(plain)


@cache
def aliases() -> tuple[str, ...]:
    """Every word for a unit, longest first."""
    return tuple(sorted(_by_alias(), key=len, reverse=True))


@cache
def _by_alias() -> Mapping[str, Unit]:
    text = files("slabwright.quantity").joinpath("units.csv").read_text("utf-8")
    rows: dict[str, list[dict[str, str]]] = {}
    for row in csv.DictReader(text.splitlines()):
        rows.setdefault(row["unit"], []).append(row)
    return {
        alias.replace(".", ""): _unit(name, same)
        for name, same in rows.items()
        for alias in same[0]["aliases"].split("|")
    }


@cache
def _regimes() -> tuple[Regime, ...]:
    return cast("tuple[Regime, ...]", get_args(Regime))


def _unit(name: str, rows: list[dict[str, str]]) -> Unit:
    sizes: dict[Regime, Size] = {}
    for row in rows:
        if not row["value"]:
            continue
        value = float(row["value"])
        size = Size(
            value,
            float(row["low"] or value),
            float(row["high"] or value),
            sources()[row["source"]],
            row["note"],
        )
        own = [regime for regime in _regimes() if regime == row["regime"]]
        sizes.update(dict.fromkeys(own or _regimes(), size))
    kind: Kind = next(kind for kind in get_args(Kind) if kind == rows[0]["kind"])
    return Unit(name, kind, sizes)
