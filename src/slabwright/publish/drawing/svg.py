"""Small pure helpers that write SVG as text."""

import re
from collections.abc import Iterable, Sequence
from html import escape

Point = tuple[float, float]
"""Across and down, in drawing units."""

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def number(value: float, places: int = 2) -> str:
    """A coordinate, to a hundredth of a unit if not told, as short as can be.

    >>> number(12.50), number(-0.001), number(3)
    ('12.5', '0', '3')
    """
    said = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if said == "-0" else said


def escaped(text: str) -> str:
    """Text for an element or an attribute; what XML cannot hold becomes a space.

    >>> escaped('a<b & "c"')
    'a&lt;b &amp; &quot;c&quot;'
    """
    return escape(_NOT_XML.sub(" ", text))


def element(name: str, content: str = "", /, **attributes: float | str) -> str:
    """One element; its content is markup already.

    An underscore in an attribute's name stands for a hyphen, one at the end for
    nothing: `class_`, `text_anchor`.

    >>> element("path", d="M0 0H9", class_="edge")
    '<path d="M0 0H9" class="edge"/>'
    """
    said = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
    )
    return f"<{name}{said}>{content}</{name}>" if content else f"<{name}{said}/>"


def text(at: Point, words: str, class_: str, anchor: str = "") -> str:
    """Words from this point on their baseline; anchor them by `middle` or `end`."""
    more = {"text_anchor": anchor} if anchor else {}
    return element("text", escaped(words), x=at[0], y=at[1], class_=class_, **more)


def line(points: Iterable[Point], places: int = 2) -> str:
    """Straight strokes through the points."""
    return "M" + "L".join(f"{number(x, places)} {number(y, places)}" for x, y in points)


def bends(around: Sequence[Point], places: int = 2) -> str:
    """Curves from the second point through all others to the last but one.

    The first and the last only say from where and to where the line comes and goes.

    Source:
        Cubic Bézier form of a uniform Catmull-Rom spline; common practice, no source.
    """
    form = "C" + " ".join([f"%.{places}f"] * 6)
    return "".join(
        form
        % (
            bx + (cx - ax) / 6,
            by + (cy - ay) / 6,
            cx - (dx - bx) / 6,
            cy - (dy - by) / 6,
            cx,
            cy,
        )
        for (ax, ay), (bx, by), (cx, cy), (dx, dy) in zip(
            around, around[1:], around[2:], around[3:], strict=False
        )
    )


def onwards(points: Sequence[Point]) -> str:
    """A smooth line through the points, from the first, where the pen is already."""
    return bends([points[0], *points, points[-1]])


def curve(points: Sequence[Point], *, closed: bool = False, places: int = 2) -> str:
    """A smooth line through the points."""
    first, last = points[0], points[-1]
    around = [last, *points, first, points[1]] if closed else [first, *points, last]
    return line([first], places) + bends(around, places) + ("z" if closed else "")


def box(x: float, y: float, width: float, height: float) -> str:
    """An upright rectangle as a path."""
    w, h = number(width), number(height)
    return f"M{number(x)} {number(y)}h{w}v{h}h-{w}z"


def _value(value: float | str) -> str:
    return escaped(value) if isinstance(value, str) else number(value)
