"""The paper's edges as true rulers in millimetres, with the knife's marks on them."""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Final

from slabwright.cut.cutting import mm
from slabwright.publish.drawing.svg import element, line, number, text

REACH_MM: Final = 270.0
"""So far a ruler reaches on one page; the next page goes on from there."""
WIDE_MM: Final = 23.5
TOP_MM: Final = 12.0
"""From the upper edge of the paper to the ruler's 0."""
_AIR: Final = 3.0
_FACE: Final = "'Atkinson Hyperlegible Next','DejaVu Sans',sans-serif"
_TICKS: Final = {10: 11.0, 5: 8.0}
_TICK: Final = 6.3
"""Ticks begin at the very edge: printers leave out up to 5 mm of it."""


def pages(length_mm: float) -> int:
    """How many pages the ruler of a side goes on over."""
    return max(1, ceil(length_mm / REACH_MM))


def ruler(
    marks_mm: Sequence[float], length_mm: float, page: int, *, at_right: bool
) -> str:
    """One edge of a page as SVG, its user unit a millimetre; empty past the slab.

    Args:
        marks_mm: where the knife goes, from the edge of the slab.
        length_mm: how long the slab is on this side.
        page: which page, from 0: its ruler goes on where the page before ended.
        at_right: whether it stands on the right edge of the paper.
    """
    start = page * REACH_MM
    reach = REACH_MM
    if page:  # the first goes all the way: a ruler is of use
        reach = min(REACH_MM, 10 * ceil((length_mm - start) / 10))
        if reach <= 0:
            return ""
    here = [at for at in marks_mm if start <= at <= start + REACH_MM]
    drawing = _scale(start, reach, at_right=at_right)
    drawing += "".join(_knife(at, start, at_right=at_right) for at in here)
    drawing += "".join(_numbers(start, reach, here, at_right=at_right))
    high = REACH_MM + 2 * _AIR
    style = (
        f".ruler text{{font-family:{_FACE};font-size:3px}}"
        ".ruler path{fill:none;stroke:#000;stroke-width:.13}"
        ".ruler .k{stroke-width:.45}.ruler .p{fill:#000;stroke:none}"
        ".ruler .b{font-weight:700;font-size:3.1px}"
    )
    return element(
        "svg",
        element("style", style) + drawing,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 {number(-_AIR)} {number(WIDE_MM)} {number(high)}",
        width=f"{number(WIDE_MM)}mm",
        height=f"{number(high)}mm",
        class_="ruler",
        aria_hidden="true",
    )


def _x(from_edge: float, *, at_right: bool) -> float:
    return WIDE_MM - from_edge if at_right else from_edge


def _scale(start: float, reach: float, *, at_right: bool) -> str:
    strokes = []
    for at in range(int(reach) + 1):
        shown = int(start) + at
        ends_at = next((r for n, r in _TICKS.items() if shown % n == 0), _TICK)
        ends = [(_x(x, at_right=at_right), float(at)) for x in (0.0, ends_at)]
        strokes.append(line(ends))
    return element("path", d="".join(strokes))


def _knife(at: float, start: float, *, at_right: bool) -> str:
    """A stroke across, an arrow that points at the edge."""
    y = at - start
    stroke = line([(_x(x, at_right=at_right), y) for x in (0.0, 13.0)])
    tip, back = (_x(x, at_right=at_right) for x in (11.0, 13.6))
    arrow = line([(tip, y), (back, y - 1.4), (back, y + 1.4)]) + "z"
    return element("path", d=stroke, class_="k") + element("path", d=arrow, class_="p")


def _numbers(
    start: float, reach: float, here: Sequence[float], *, at_right: bool
) -> Iterator[str]:
    anchor = "end" if at_right else "start"
    for at in range(0, int(reach) + 1, 10):
        shown = int(start) + at
        if all(abs(shown - one) > 3.4 for one in here):
            yield text(
                (_x(12.6, at_right=at_right), at + 1.05), str(shown), "n", anchor
            )
    last = -9.0
    for one in here:
        if one - last >= 3.2:  # nearer ones keep their strokes and share a number
            yield text(
                (_x(13.9, at_right=at_right), one - start + 1.15), mm(one), "b", anchor
            )
            last = one
