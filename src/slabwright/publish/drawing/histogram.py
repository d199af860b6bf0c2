"""How many of many things weigh how much, as bars over a ruler in grams."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, isfinite, log10
from typing import Final

from slabwright.publish.cutting import at_least
from slabwright.publish.drawing.picture import Box, Picture, document
from slabwright.publish.drawing.svg import box, element, line, number, text

_WIDE: Final = 520.0
_HIGH: Final = 150.0
_ROW: Final = 18.0
"""Height of a line of words over the bars."""
_ABOVE: Final = 2 * _ROW + 6
_BELOW: Final = 26.0
_SIDE: Final = 30.0
_MOST_TICKS: Final = 9


@dataclass(frozen=True, slots=True)
class Counted:
    """Pieces counted by their mass."""

    edges_g: Sequence[float]
    """Of the bars, rising: one more than there are bars."""
    counts: Sequence[int]
    mean_g: float
    promised_g: float
    """What the promised part of them reaches."""
    promised_share: float

    @property
    def sentence(self) -> str:
        """The same in words."""
        count = sum(self.counts)
        promised = floor(self.promised_g * 10) / 10  # never rounded up
        part = f"{self.promised_share * 100:.0f} of 100"
        return (
            f"{count:,} pieces from {self.edges_g[0]:.1f} to {self.edges_g[-1]:.1f} g, "
            f"{self.mean_g:.1f} g on average; {part} reach {promised:.1f} g."
        )


def histogram_svg(of: Counted, *, prefix: str, title: str) -> str:
    """The bars, for a page that has the drawings' style.

    Args:
        of: what was counted, in at least one bar that is not empty.
        prefix: its id and the beginning of every id in it.
        title: what is counted.
    """
    low, high = of.edges_g[0], of.edges_g[-1]
    k = _WIDE / (high - low)
    drawing = (
        "".join(_bars(of, low, k))
        + element("path", d=line([(-6, 0), (_WIDE + 6, 0)]), class_="edge")
        + "".join(_ticks(low, high, k))
        + "".join(_marks(of, low, k))
    )
    seen = Box(-_SIDE, -_HIGH - _ABOVE, _WIDE + _SIDE, _BELOW)
    wide, tall = (number(size) for size in seen.size)
    return document(
        Picture(prefix, title, of.sentence, "", seen, (wide, tall), drawing)
    )


def _bars(of: Counted, low: float, k: float) -> Iterator[str]:
    most = max(of.counts)
    for i, count in enumerate(of.counts):
        if count:
            left, right = ((of.edges_g[j] - low) * k for j in (i, i + 1))
            tall = count / most * _HIGH
            shape = box(left, -tall, right - left, tall)
            kind = "bar" if of.edges_g[i + 1] > of.promised_g else "bar-under"
            yield element("path", d=shape, class_=kind)


def _ticks(low: float, high: float, k: float) -> Iterator[str]:
    step = _step((high - low) / _MOST_TICKS)
    places = max(0, -floor(log10(step) + 1e-9))
    for i in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1):
        x = (i * step - low) * k
        yield element("path", d=line([(x, 0), (x, 6)]), class_="edge")
        yield text((x, 21), f"{i * step:,.{places}f}", "tick", "middle")
    yield text((_WIDE + 8, 5), "g", "tick")


def _step(least: float) -> float:
    """The next round step.

    >>> _step(0.3), _step(1.2), _step(6)
    (0.5, 2.0, 10.0)
    """
    if not (isfinite(least) and least > 0):
        return 1.0
    ten = 10.0 ** floor(log10(least))
    return next(step for n in (1, 2, 5, 10) if (step := n * ten) >= least)


def _marks(of: Counted, low: float, k: float) -> Iterator[str]:
    """Where the promise lies, and the mean; each has a row of its own for its words."""
    promised, mean = ((g - low) * k for g in (of.promised_g, of.mean_g))
    part = f"{of.promised_share * 100:.0f} of 100 reach"
    reach = f"{part} {at_least(of.promised_g)} g"
    anchor, off = ("start", 5.0) if promised < _WIDE * 0.6 else ("end", -5.0)
    for x, up, shift, said, how in (
        (promised, 2 * _ROW, off, reach, anchor),
        (mean, _ROW, 5.0, f"mean {of.mean_g:.1f} g", "start"),
    ):
        y = -_HIGH - up
        yield element("path", d=line([(x, 0), (x, y)]), class_="level-at")
        yield text((x + shift, y + 13), said, "figure-at", how)
