"""A figure that can be opened: its sum, its sources, its likely range, its standing."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final, Literal

from slabwright.source import Source

Leans = Literal["given", "assumed", "worked out", "measured"]
"""What a figure may lean on: a weight or size as given, or another standing."""


class Standing(StrEnum):
    """How a figure is known."""

    ASSUMED = "assumed"
    WORKED_OUT = "worked out"
    MEASURED = "measured"


_WEAKEST_FIRST: Final = (Standing.ASSUMED, Standing.WORKED_OUT, Standing.MEASURED)


def weakest(standings: Iterable[Leans | Standing]) -> Standing:
    """The standing of a figure that leans on these; what is given is worked with.

    >>> weakest(["given", "measured", "assumed"])
    <Standing.ASSUMED: 'assumed'>
    >>> weakest(["given", "measured"]), weakest(["measured"])
    (<Standing.WORKED_OUT: 'worked out'>, <Standing.MEASURED: 'measured'>)
    """
    leans = set(standings)
    if "given" in leans and Standing.ASSUMED not in leans:
        return Standing.WORKED_OUT
    for standing in _WEAKEST_FIRST:
        if standing in leans:  # a string enumeration equals its value
            return standing
    return Standing.WORKED_OUT


@dataclass(frozen=True, slots=True)
class Figure:
    """A number as a person sees it.

    `value` is None where the figure is withheld; `sum` then says why.
    """

    value: float | Decimal | None
    unit: str
    sum: str
    """How it was worked out, in one line with its own numbers."""
    standing: Standing = Standing.WORKED_OUT
    low: float | None = None
    high: float | None = None
    sources: tuple[Source, ...] = ()
    holds: str = ""
    """The range in which its relation holds, in words, where it has one."""

    @property
    def known(self) -> bool:
        """Whether there is a value at all."""
        return self.value is not None

    @property
    def number(self) -> float:
        """The value as a plain number.

        Raises:
            ValueError: if the figure is withheld.
        """
        if self.value is None:
            message = f"withheld: {self.sum}"
            raise ValueError(message)
        return float(self.value)


def withheld(unit: str, why: str) -> Figure:
    """A figure that can't be worked out, with the reason in place of a sum."""
    return Figure(None, unit, why, Standing.ASSUMED)


@dataclass(frozen=True, slots=True)
class Ranged:
    """A number inside the core, with its likely range and what it leans on."""

    value: float
    low: float
    high: float
    leans: Leans
    sum: str
    assumed: str = ""
    """What was assumed, in words; empty if nothing."""
    sources: tuple[Source, ...] = ()

    def figure(self, unit: str, *, standing: Standing | None = None) -> Figure:
        """The same as a person sees it; a range only where there is one."""
        wide = self.high - self.low > 1e-9 * max(abs(self.value), 1e-9)
        return Figure(
            self.value,
            unit,
            self.sum,
            standing or weakest([self.leans]),
            self.low if wide else None,
            self.high if wide else None,
            self.sources,
        )


def leans_of(leans: Iterable[Leans]) -> Leans:
    """What a number leans on that was worked out from these: given only if all are.

    >>> leans_of(["given", "given"]), leans_of(["given", "measured"])
    ('given', 'worked out')
    """
    found = list(leans)
    if all(lean == "given" for lean in found):
        return "given"
    standings: dict[Standing, Leans] = {
        Standing.ASSUMED: "assumed",
        Standing.WORKED_OUT: "worked out",
        Standing.MEASURED: "measured",
    }
    return standings[weakest(found)]
