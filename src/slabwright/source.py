"""Where a figure comes from, how we know it, and where its relation holds."""

import csv
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, update_wrapper
from importlib.resources import files
from typing import Generic, ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")


class Seen(StrEnum):
    """How we came to know what a source says."""

    FULL = "read in the source itself"
    REPRINT = "read as reprinted elsewhere"
    MEMORY = "from memory"
    TRADE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Source:
    """A publication, and how we came to know what it says."""

    key: str
    text: str
    seen: Seen


@dataclass(frozen=True, slots=True)
class OutOfRange:
    """An argument beyond the range for which its relation was published."""

    argument: str
    value: float
    low: float
    high: float
    source: Source


@cache
def sources() -> Mapping[str, Source]:
    """Every source that a table of ours leans on, by key.

    Raises:
        ValueError: if `sources.csv` holds a key twice or an unknown way of knowing.
    """
    text = files("slabwright").joinpath("sources.csv").read_text("utf-8")
    found: dict[str, Source] = {}
    for row in csv.DictReader(text.splitlines()):
        if row["key"] in found:
            message = f"sources.csv holds '{row['key']}' twice"
            raise ValueError(message)
        found[row["key"]] = Source(row["key"], row["text"], Seen[row["seen"].upper()])
    return found


class Relation(Generic[P, R]):
    """A published relation: call it like the function that it wraps."""

    def __init__(
        self,
        function: Callable[P, R],
        source: Source,
        valid: Mapping[str, tuple[float, float]],
    ) -> None:
        self._function = function
        self._signature = inspect.signature(function)
        self.source = source
        self.valid = dict(valid)
        update_wrapper(self, function)

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """What the wrapped function gives."""
        return self._function(*args, **kwargs)

    def outside(self, *args: P.args, **kwargs: P.kwargs) -> tuple[OutOfRange, ...]:
        """Which of these arguments lie beyond the published range."""
        given = self._signature.bind(*args, **kwargs)
        given.apply_defaults()
        return tuple(
            OutOfRange(name, given.arguments[name], low, high, self.source)
            for name, (low, high) in self.valid.items()
            if not low <= given.arguments[name] <= high
        )


def relation(
    source: Source, **valid: tuple[float, float]
) -> Callable[[Callable[P, R]], Relation[P, R]]:
    """Tie a function to the source that it comes from and the range where it holds."""

    def tie(function: Callable[P, R]) -> Relation[P, R]:
        return Relation(function, source, valid)

    return tie
