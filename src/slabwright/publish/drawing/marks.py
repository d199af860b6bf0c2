"""Marks: the numbers of findings, and the mark of an assumed figure."""

from slabwright.finding import Severity
from slabwright.publish.drawing.svg import Point, box, element, line, number, text

RADIUS = 11.0
"""Half the size of a finding's mark [units]."""
_LOZENGE = 1.32
"""A lozenge must reach this much further to look as large."""


def finding_mark(at: Point, severity: Severity, finding: int, radius: float) -> str:
    """Stop is a filled square, look a filled lozenge, note an open ring.

    Args:
        at: its middle.
        severity: which shape.
        finding: its number.
        radius: half its size; `RADIUS` where there is room.
    """
    x, y = at
    if severity == Severity.STOP:
        square = box(x - radius, y - radius, 2 * radius, 2 * radius)
        shape = element("path", d=square, class_="m-stop")
    elif severity == Severity.LOOK:
        q = radius * _LOZENGE
        corners = [(x, y - q), (x + q, y), (x, y + q), (x - q, y)]
        shape = element("path", d=line(corners) + "z", class_="m-look")
    else:
        shape = element("circle", cx=x, cy=y, r=radius, class_="m-note")
    class_ = "mark-note" if severity == Severity.NOTE else "mark"
    size = 14 * radius / RADIUS * (1.0, 1.0, 0.85, 0.65)[min(len(str(finding)), 3)]
    words = text((0, size * 0.34), str(finding), class_, "middle")
    if size != 14:
        words = element("g", words, transform=f"scale({number(size / 14)})")
    return shape + element("g", words, transform=f"translate({number(x)} {number(y)})")


def assumed_mark(at: Point, size: float = 11.0) -> str:
    """A piece in broken outline, beside a figure that is assumed.

    Args:
        at: its upper left corner.
        size: its side.
    """
    return element("path", d=box(*at, size, size), class_="guess")
