"""A bar divided by shares: what an ingredient is made of, what the layers cost.

What is food has its colour; all else is told apart by strokes of ink.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.publish.drawing.picture import Box, Picture, document
from slabwright.publish.drawing.style import LINE_WIDTH
from slabwright.publish.drawing.svg import Point, box, element, line, number

WIDTH: Final = 640.0
"""Of the bar [px]."""
_HEIGHT: Final = 34.0
_TOP: Final = 2.0
_STEP: Final = 7.0
_SWATCH: Final = 26.0


@dataclass(frozen=True, slots=True)
class BarPart:
    """One part of the whole."""

    name: str
    share: float
    manner: str
    """How it is drawn: a key of `MANNERS`, or of the colours of food."""


def _clear(_: float, __: float) -> Iterator[list[Point]]:
    yield from ()


def _upright(left: float, right: float) -> Iterator[list[Point]]:
    for x in _between(left, right):
        yield [(x, _TOP), (x, _TOP + _HEIGHT)]


def _level(left: float, right: float) -> Iterator[list[Point]]:
    y = _TOP + _STEP
    while y < _TOP + _HEIGHT - 1:
        yield [(left, y), (right, y)]
        y += _STEP


def _rising(left: float, right: float) -> Iterator[list[Point]]:
    """Strokes at 45 degrees, each cut off at the part's own edges."""
    start = left - _HEIGHT + _STEP
    while start < right:
        a, b = max(start, left), min(start + _HEIGHT, right)
        if b > a:
            low = _TOP + _HEIGHT
            yield [(a, low - (a - start)), (b, low - (b - start))]
        start += _STEP


def _falling(left: float, right: float) -> Iterator[list[Point]]:
    for (ax, ay), (bx, by) in _rising(left, right):
        yield [(ax, 2 * _TOP + _HEIGHT - ay), (bx, 2 * _TOP + _HEIGHT - by)]


def _crossed(left: float, right: float) -> Iterator[list[Point]]:
    yield from _rising(left, right)
    yield from _falling(left, right)


def _between(left: float, right: float) -> Iterator[float]:
    x = left + _STEP
    while x < right - 1:
        yield x
        x += _STEP


_Strokes = Callable[[float, float], Iterator[list[Point]]]
MANNERS: Final[dict[str, _Strokes]] = {
    "clear": _clear,
    "solid": _clear,
    "rising": _rising,
    "falling": _falling,
    "upright": _upright,
    "level": _level,
    "crossed": _crossed,
    "unknown": _clear,
}
"""Ways to tell a part by ink alone."""


def share_bar_svg(
    parts: Sequence[BarPart], *, prefix: str, title: str, scale: float = 1.0
) -> str:
    """The bar; its sentence names every part, a key with swatches stands beside it.

    Args:
        parts: from the left; their shares come to 1 at most.
        prefix: of its ids, its own on its page.
        title: what is divided.
        scale: share of the whole width that it takes, to stand under others.
    """
    left = 0.0
    drawn: list[str] = []
    for part in parts:
        width = part.share * WIDTH * scale
        drawn.append(_part(part.manner, left, left + width))
        left += width
    seen = Box(-1.0, 0.0, WIDTH + 1, 2 * _TOP + _HEIGHT)
    across, down = seen.size
    said = ", ".join(f"{part.name} {part.share * 100:.1f}%" for part in parts)
    return document(
        Picture(
            prefix, title, f"From the left: {said}.", "", seen,
            (number(across), number(down)), "".join(drawn),
        )
    )  # fmt: skip


def swatch_svg(manner: str) -> str:
    """A small square drawn as a part of the bar is, for the key beside it."""
    return element(
        "svg",
        _part(manner, 1.0, 1.0 + _SWATCH),
        viewBox=f"0 1 {_SWATCH + 2:g} {_HEIGHT + 2:g}",
        width=_SWATCH + 2,
        height=_HEIGHT + 2,
        stroke_width=LINE_WIDTH,
        aria_hidden="true",
        class_="drawing swatch",
    )


def _part(manner: str, left: float, right: float) -> str:
    if right - left < 0.4:
        return ""
    outline = box(left, _TOP, right - left, _HEIGHT)
    if manner not in MANNERS:
        filled = element("path", d=outline, class_=f"f-{manner}")
        return filled + element("path", d=outline, class_="edge")
    if manner == "solid":
        return element("path", d=outline, class_="knife")
    strokes = "".join(line(one) for one in MANNERS[manner](left, right))
    ink = element("path", d=strokes, class_="dim") if strokes else ""
    edge = "unknown" if manner == "unknown" else "edge"
    return ink + element("path", d=outline, class_=edge)
