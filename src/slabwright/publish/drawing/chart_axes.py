"""Scales of a chart: round ticks, and where a value lies between them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, isfinite, log10
from typing import Final

from slabwright.publish.drawing.lettering import width
from slabwright.publish.drawing.style import SMALL_SIZE

_APART: Final = 10.0
"""Least room between the words of two ticks [units]."""
_FROM_ZERO: Final = 0.5
"""A scale whose lowest value is under this share of its highest begins at 0."""
_LARGEST: Final = 1e12
"""Beyond it nothing is drawn: no figure of the kitchen comes near."""


@dataclass(frozen=True, slots=True)
class Scale:
    """A stretch of numbers laid along so many units of a drawing."""

    low: float
    high: float
    length: float
    step: float

    def at(self, value: float) -> float:
        """How far along a value lies [units]."""
        return (value - self.low) / (self.high - self.low) * self.length

    @property
    def ticks(self) -> tuple[float, ...]:
        """Where the ticks stand, rising, both ends of the scale at most."""
        first = ceil(self.low / self.step - 1e-9)
        last = floor(self.high / self.step + 1e-9)
        return tuple(i * self.step for i in range(first, last + 1))

    def said(self, value: float) -> str:
        """A tick in words, with as many decimals as its step needs.

        >>> Scale(0, 1, 100, 0.05).said(0.5), Scale(-40, 0, 100, 20).said(-20)
        ('0.50', '−20')
        """
        places = max(0, -floor(log10(self.step) + 1e-9))
        return f"{value:,.{places}f}".replace("-", "−")


def drawable(values: Iterable[float]) -> list[float]:
    """Those that can be drawn: finite, and of a size that a scale can hold."""
    return [one for one in values if isfinite(one) and abs(one) <= _LARGEST]


def scale(values: Sequence[float], length: float, *, most: int, upright: bool) -> Scale:
    """A scale with round ends that holds these values.

    Args:
        values: what it must hold; those that can't be drawn are left out.
        length: its length [units].
        most: ticks that it has at most.
        upright: whether it stands upright, so that its words lie under one another;
            along the other way they must have room beside one another.
    """
    found = drawable(values)
    low, high = (min(found), max(found)) if found else (0.0, 1.0)
    if 0 < low < _FROM_ZERO * high and upright:
        low = 0.0
    if high - low < 1e-9 * max(abs(low), abs(high), 1e-3):  # one value has no stretch
        half = max(abs(low) * 0.1, 0.5)
        low, high = low - half, high + half
    made = _scale(low, high, length, 1, whole_ticks=upright)
    for count in range(2, most + 1):
        finer = _scale(low, high, length, count, whole_ticks=upright)
        if len(finer.ticks) > most or not (upright or _has_room(finer)):
            break
        made = finer
    return made


def _scale(
    low: float, high: float, length: float, count: int, *, whole_ticks: bool
) -> Scale:
    step = round_step((high - low) / count)
    if whole_ticks:
        low = floor(low / step + 1e-9) * step
        high = ceil(high / step - 1e-9) * step
    return Scale(low, high, length, step)


def _has_room(made: Scale) -> bool:
    """Whether the words of neighbouring ticks stand apart."""
    ticks = made.ticks
    wide = [width(made.said(tick), SMALL_SIZE) for tick in ticks]
    return all(
        made.at(b) - made.at(a) >= (wide[i] + wide[i + 1]) / 2 + _APART
        for i, (a, b) in enumerate(pairwise(ticks))
    )


def round_step(least: float) -> float:
    """The next round step.

    >>> round_step(0.3), round_step(1.2), round_step(6)
    (0.5, 2.0, 10.0)
    """
    if not (isfinite(least) and least > 0):
        return 1.0
    ten = 10.0 ** floor(log10(least))
    return next(step for n in (1, 2, 5, 10) if (step := n * ten) >= least * (1 - 1e-9))
