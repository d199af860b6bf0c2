"""Layers side by side over one axis: a strip for each, as they lie on one another."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite
from typing import Final

from slabwright.publish.drawing.chart import (
    WIDE,
    Field,
    bands_drawn,
    curves_drawn,
    sentence,
    standalone_css,
    x_axis,
)
from slabwright.publish.drawing.chart_axes import scale
from slabwright.publish.drawing.chart_labels import LINE
from slabwright.publish.drawing.lettering import cleaned, shortened, width, wrapped
from slabwright.publish.drawing.palette import Theme
from slabwright.publish.drawing.picture import Box, Picture, document
from slabwright.publish.drawing.style import SMALL_SIZE
from slabwright.publish.drawing.svg import Point, element, line, number, text
from slabwright.spec.nature.aspect import Chart, Curve

_LONG: Final = 1.6 * WIDE
_HIGH: Final = 44.0
"""Of a strip between its axes [units]."""
_ROW: Final = _HIGH + LINE + 12
_MARGIN: Final = 4.0
_MOST_X: Final = 10
_HALF_TICK: Final = 22.0


@dataclass(frozen=True, slots=True)
class Strip:
    """One layer's chart, to stand over those below it."""

    name: str
    chart: Chart


@dataclass(frozen=True, slots=True)
class Guide:
    """A place on the common axis at which every strip says its value: `room`, 20."""

    label: str
    x: float


def strips_svg(
    strips: Sequence[Strip],
    *,
    prefix: str,
    title: str,
    guides: Sequence[Guide] = (),
    theme: Theme = "page",
) -> str:
    """Charts of one kind as strips over a common axis, all to one scale.

    Args:
        strips: top first, as the slab stands; at least one.
        prefix: its id and the beginning of every id in it.
        title: what they show.
        guides: where a line goes through all of them; those outside are left out.
        theme: whose colours; `page` leaves them to the page that it stands in.
    """
    curves = [curve for one in strips for curve in one.chart.curves]
    xs = [x for curve in curves for x in curve.x]
    ys = [
        y for curve in curves for part in (curve.y, curve.low, curve.high)
        for y in part
    ]  # fmt: skip
    x = scale(xs, _LONG, most=_MOST_X, upright=False)
    y = scale([0.0, *ys], _HIGH, most=2, upright=True)
    room = Field(x, y)
    shown = tuple(one for one in guides if x.low <= one.x <= x.high)
    out: list[str] = []
    for i, strip in enumerate(strips):
        up = -(len(strips) - 1 - i) * _ROW
        inner = "".join(_strip(strip, room, shown))
        out.append(element("g", inner, transform=f"translate(0 {number(up)})"))
    top = -(len(strips) - 1) * _ROW - _HIGH - LINE
    said = cleaned(strips[0].chart.y_label)
    heads = wrapped(said, _LONG, 2, SMALL_SIZE) if said else ()
    above = top - 12 - (LINE if shown else 0)
    for k, words in enumerate(reversed(heads)):
        out.append(text((0, above - k * LINE), words, "tick"))
    out.extend(_heads(shown, room, top - 10))
    out.extend(x_axis(x))
    below = cleaned(strips[0].chart.x_label)
    feet = wrapped(below, _LONG, 2, SMALL_SIZE) if below else ()
    for k, words in enumerate(feet):
        out.append(text((_LONG, 38 + k * LINE), words, "tick", "end"))
    widest = max(width(y.said(tick), SMALL_SIZE) for tick in (y.low, y.high))
    seen = Box(
        -max(widest + 8, _HALF_TICK) - _MARGIN,
        above - len(heads) * LINE - _MARGIN,
        _LONG + _HALF_TICK,
        24 + len(feet) * LINE + _MARGIN,
    )
    wide, high = (number(size) for size in seen.size)
    told = " ".join(f"{cleaned(s.name)}: {sentence(s.chart)}" for s in strips)
    style = "" if theme == "page" else standalone_css(theme, f"#{prefix}")
    return document(
        Picture(prefix, cleaned(title), told, style, seen, (wide, high), "".join(out))
    )


def _strip(strip: Strip, room: Field, guides: Sequence[Guide]) -> Iterator[str]:
    y = room.y
    for tick in (y.low, y.high):
        at = -y.at(tick)
        yield element("path", d=line([(0, at), (_LONG, at)]), class_="grid")
        yield text((-8, at + 4.5), y.said(tick), "tick", "end")
    yield text((0, -_HIGH - 6), shortened(cleaned(strip.name), _LONG, SMALL_SIZE),
               "said")  # fmt: skip
    if strip.chart.curves:
        yield from _under(strip.chart.curves[0], room)
    yield from bands_drawn(strip.chart.curves, room)
    yield from curves_drawn(strip.chart.curves, room)
    for guide in guides:
        at = room.x.at(guide.x)
        yield element("path", d=line([(at, -_HIGH), (at, 0)]), class_="guide")
    yield from _values(strip.chart, room, guides)


def _under(curve: Curve, room: Field) -> Iterator[str]:
    """What lies under a curve, filled: as much as there is."""
    points = [
        room.at(a, b)
        for a, b in zip(curve.x, curve.y, strict=False)
        if isfinite(a) and isfinite(b)
    ]
    if len(points) > 1:
        zero = -room.y.at(max(0.0, room.y.low))
        ends: list[Point] = [(points[-1][0], zero), (points[0][0], zero)]
        yield element("path", d=line([*points, *ends]) + "z", class_="under")


def _values(chart: Chart, room: Field, guides: Sequence[Guide]) -> Iterator[str]:
    """What the first curve says at each guide, beside where it passes."""
    if not chart.curves:
        return
    reach = -1e9
    for guide in sorted(guides, key=lambda one: one.x):
        value = value_at(chart.curves[0], guide.x)
        if value is None:
            continue
        x, y = room.at(guide.x, value)
        said = f"{value:.2g}".replace("-", "−")
        wide = width(said, SMALL_SIZE)
        left = x + 6 if x + 6 + wide <= _LONG else x - 6 - wide
        if left < reach:
            continue
        reach = left + wide + 6
        yield element("circle", cx=x, cy=y, r=2.6, class_="dot")
        at = y - 4 if y - 4 - 10 > -_HIGH else min(y + 15, -3.0)
        yield text((left, at), said, "said")


def value_at(curve: Curve, x: float) -> float | None:
    """The height of a curve at a place, between its points; None outside of them.

    >>> value_at(Curve("", (0.0, 10.0), (1.0, 0.0)), 4.0)
    0.6
    """
    for (a, ya), (b, yb) in pairwise(zip(curve.x, curve.y, strict=False)):
        if min(a, b) <= x <= max(a, b) and isfinite(ya) and isfinite(yb):
            return ya if a == b else ya + (yb - ya) * (x - a) / (b - a)
    return None


def _heads(guides: Sequence[Guide], room: Field, up: float) -> Iterator[str]:
    """What each guide is called, over the uppermost strip."""
    reach = -1e9
    for guide in sorted(guides, key=lambda one: one.x):
        said = cleaned(guide.label)
        half = width(said, SMALL_SIZE) / 2
        middle = min(max(room.x.at(guide.x), half), _LONG - half)
        if middle - half >= reach:
            reach = middle + half + 8
            yield text((middle, up), said, "tick", "middle")
