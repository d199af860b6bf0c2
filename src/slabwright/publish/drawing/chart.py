"""A chart: curves with their bands, marks that say where you are, axes with units.

It is told by ink alone: curves by their dashes and by words at their ends, bands by a
tone with an edge, so that it prints in black and hides nothing from anybody.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import isfinite
from typing import Final

from slabwright.publish.drawing.chart_axes import Scale, drawable, scale
from slabwright.publish.drawing.chart_labels import (
    LINE,
    around_marks,
    beside_each_other,
)
from slabwright.publish.drawing.lettering import cleaned, width, wrapped
from slabwright.publish.drawing.palette import TOKENS, Theme
from slabwright.publish.drawing.picture import Box, Picture, document
from slabwright.publish.drawing.style import SMALL_SIZE, drawing_css
from slabwright.publish.drawing.svg import Point, element, line, number, text
from slabwright.spec.nature.aspect import Chart, Curve, Mark

WIDE: Final = 330.0
HIGH: Final = 190.0
"""Of the field between the axes [units]; it grows if its curves' words need it."""
_AT_END: Final = 120.0
"""Room for the words at the ends of curves."""
_GAP: Final = 18.0
_MARGIN: Final = 4.0
_MOST_X, _MOST_Y = 8, 6
DASHES: Final = ("", "8 4", "2 3.5", "11 3 2 3", "5 2 1 2 1 2", "16 5")
"""Of the first curve, the second, and so on; from the last on anew, thinner."""


def chart_css(theme: Theme, scope: str) -> str:
    """Rules for the classes that only charts have.

    Args:
        theme: whose colours.
        scope: selector that every rule begins with.
    """
    t = TOKENS[theme]
    halo = f"paint-order:stroke;stroke:{t.paper};stroke-width:3px"
    rules = {
        ".grid": f"fill:none;stroke:{t.ink_3};stroke-width:.6;stroke-dasharray:1 5;"
        "stroke-linecap:round",
        ".axis": f"fill:none;stroke:{t.ink};stroke-width:1.3",
        ".band": f"fill:{t.ink_3};fill-opacity:.16;stroke:{t.ink_3};stroke-width:.8",
        ".under": f"fill:{t.ink_3};fill-opacity:.2",
        ".guide": f"fill:none;stroke:{t.ink_2};stroke-width:1;stroke-dasharray:3 3",
        ".curve": f"fill:none;stroke:{t.ink};stroke-width:1.8;stroke-linejoin:round",
        ".dot": f"fill:{t.ink_2}",
        ".here": f"fill:{t.ink};stroke:{t.paper};stroke-width:2",
        ".here-at": f"font-weight:600;fill:{t.ink};{halo}",
        ".said": f"fill:{t.ink};{halo}",
    }
    for i, dashes in enumerate(DASHES):
        if dashes:
            rules[f".d{i}"] = f"stroke-dasharray:{dashes}"
    return "".join(f"{scope} {name}{{{rule}}}" for name, rule in rules.items())


@dataclass(frozen=True, slots=True)
class Field:
    """The room between the axes of a chart; up is less, as SVG has it."""

    x: Scale
    y: Scale
    ends: tuple[tuple[str, ...], ...] = field(default=())
    """Words at the end of each curve, in lines."""

    def at(self, x: float, y: float) -> Point:
        """Where a point lies [units]."""
        return self.x.at(x), -self.y.at(y)


def chart_svg(chart: Chart, *, prefix: str, theme: Theme = "page") -> str:
    """A chart as a whole SVG document.

    Args:
        chart: its curves and marks; points that are no finite number are left out, and
            a mark without words is a small dot, so that hundreds may stand together.
        prefix: its id and the beginning of every id in it.
        theme: whose colours; `page` leaves them to the page that it stands in.
    """
    room = _field(chart)
    axes, left, below = _axes(chart, room)
    marks, hanging = _marks(chart, room, below)
    ends, right = _ends(chart, room)
    above = LINE * len(_y_lines(chart)) + 10
    drawing = (
        axes
        + "".join(bands_drawn(chart.curves, room))
        + "".join(curves_drawn(chart.curves, room))
        + ends
        + marks
    )
    seen = Box(
        -left, -room.y.length - above, room.x.length + right, below + hanging + _MARGIN
    )
    wide, high = (number(size) for size in seen.size)
    style = "" if theme == "page" else standalone_css(theme, f"#{prefix}")
    return document(
        Picture(
            prefix, cleaned(chart.title), sentence(chart), style, seen, (wide, high),
            drawing,
        )
    )  # fmt: skip


def standalone_css(theme: Theme, scope: str) -> str:
    """Every rule that a chart needs where no page has them."""
    return drawing_css(theme, scope, ()) + chart_css(theme, scope)


def sentence(chart: Chart) -> str:
    """The chart in words, for who can't see it: its own, or what can be read off it."""
    if chart.words.strip():
        return cleaned(chart.words)
    parts = [f"{cleaned(chart.y_label)} over {cleaned(chart.x_label)}"]
    for curve in chart.curves:
        points = [p for run in _runs(curve.x, curve.y) for p in run]
        if points:
            (x, y), (x2, y2) = points[0], points[-1]
            name = f"{cleaned(curve.label)}: " if curve.label else ""
            parts.append(f"{name}from {y:.4g} at {x:.4g} to {y2:.4g} at {x2:.4g}")
    parts += [
        f"{cleaned(one.label)}: {one.y:.4g} at {one.x:.4g}"
        for one in chart.marks
        if one.label and isfinite(one.x) and isfinite(one.y)
    ]
    return "; ".join(parts) + "."


def _field(chart: Chart) -> Field:
    is_alone = len(chart.curves) == 1
    ends = tuple(() if is_alone else _end_lines(one) for one in chart.curves)
    need = sum(len(lines) * LINE + 4 for lines in ends)
    xs = [x for curve in chart.curves for x in curve.x] + [m.x for m in chart.marks]
    ys = [
        y for curve in chart.curves for part in (curve.y, curve.low, curve.high)
        for y in part
    ]  # fmt: skip
    ys += [mark.y for mark in chart.marks]
    return Field(
        scale(xs, WIDE, most=_MOST_X, upright=False),
        scale(ys, max(HIGH, need), most=_MOST_Y, upright=True),
        ends,
    )


def _end_lines(curve: Curve) -> tuple[str, ...]:
    said = cleaned(curve.label)
    has_points = any(True for _ in _runs(curve.x, curve.y))
    return wrapped(said, _AT_END, 3, SMALL_SIZE) if said and has_points else ()


def _y_lines(chart: Chart) -> tuple[str, ...]:
    """What stands over the upright axis; a curve alone is named there too."""
    said = cleaned(chart.y_label)
    own = cleaned(chart.curves[0].label) if len(chart.curves) == 1 else ""
    if own and own.casefold() not in said.casefold():
        said = f"{said}: {own}" if said else own
    return wrapped(said, WIDE, 2, SMALL_SIZE) if said else ()


def _axes(chart: Chart, room: Field) -> tuple[str, float, float]:
    """Both axes with their words; their room at the left, and where they end below."""
    wide, high = room.x.length, room.y.length
    out: list[str] = []
    widest = 0.0
    for tick in room.y.ticks:
        y = -room.y.at(tick)
        said = room.y.said(tick)
        widest = max(widest, width(said, SMALL_SIZE))
        out.append(element("path", d=line([(0, y), (wide, y)]), class_="grid"))
        out.append(text((-8, y + 4.5), said, "tick", "end"))
    out.extend(x_axis(room.x))
    for i, words in enumerate(_y_lines(chart)):
        up = -high - 10 - (len(_y_lines(chart)) - 1 - i) * LINE
        out.append(text((-min(widest + 8, 30), up), words, "tick"))
    out.append(element("path", d=line([(0, -high), (0, 0)]), class_="axis"))
    said = cleaned(chart.x_label)
    lines = wrapped(said, wide, 2, SMALL_SIZE) if said else ()
    for i, words in enumerate(lines):
        out.append(text((wide, 38 + i * LINE), words, "tick", "end"))
    left = max(widest + 8, _half(room.x, 0)) + _MARGIN
    return "".join(out), left, 24 + len(lines) * LINE


def x_axis(x: Scale) -> Iterator[str]:
    """The lower axis with its ticks and their words."""
    yield element("path", d=line([(0, 0), (x.length, 0)]), class_="axis")
    for tick in x.ticks:
        at = x.at(tick)
        yield element("path", d=line([(at, 0), (at, 5)]), class_="axis")
        yield text((at, 19), x.said(tick), "tick", "middle")


def _half(x: Scale, which: int) -> float:
    """How far the words of an end's tick reach over the end of the axis."""
    if not x.ticks:
        return 0.0
    tick = x.ticks[which]
    half = width(x.said(tick), SMALL_SIZE) / 2
    over = x.at(tick) if which == 0 else x.length - x.at(tick)
    return max(0.0, half - over)


def _runs(
    x: Sequence[float], y: Sequence[float]
) -> Iterator[list[tuple[float, float]]]:
    """Stretches of points that can be drawn, broken where one can't."""
    run: list[tuple[float, float]] = []
    for a, b in zip(x, y, strict=False):
        if len(drawable((a, b))) == 2:
            run.append((a, b))
        elif run:
            yield run
            run = []
    if run:
        yield run


def bands_drawn(curves: Sequence[Curve], room: Field) -> Iterator[str]:
    """The likely range of each curve that has one."""
    for curve in curves:
        if not curve.low or not curve.high:
            continue
        both = [
            (x, low, high)
            for x, low, high in zip(curve.x, curve.low, curve.high, strict=False)
            if len(drawable((x, low, high))) == 3
        ]
        if len(both) > 1:
            around = [room.at(x, low) for x, low, _ in both]
            around += [room.at(x, high) for x, _, high in reversed(both)]
            yield element("path", d=line(around) + "z", class_="band")


def curves_drawn(curves: Sequence[Curve], room: Field) -> Iterator[str]:
    """The curves, each with its own dashes."""
    for i, curve in enumerate(curves):
        for run in _runs(curve.x, curve.y):
            points = [room.at(x, y) for x, y in run]
            if len(points) == 1:
                x, y = points[0]
                yield element("circle", cx=x, cy=y, r=2.4, class_="dot")
            else:
                dash = f"curve d{i % len(DASHES)}"
                yield element("path", d=line(points), class_=dash)


def _ends(chart: Chart, room: Field) -> tuple[str, float]:
    """Words at the ends of curves, and the room that they take at the right."""
    said = [i for i, lines in enumerate(room.ends) if lines]
    if not said:
        return "", max(_half(room.x, -1), 6.0) + _MARGIN
    lasts = []
    for i in said:
        *_, run = _runs(chart.curves[i].x, chart.curves[i].y)
        lasts.append(room.at(*run[-1]))
    heights = [len(room.ends[i]) * LINE + 4 for i in said]
    middles = beside_each_other([y for _, y in lasts], heights, -room.y.length, 0.0)
    out: list[str] = []
    left = room.x.length + _GAP
    for i, (x, y), middle in zip(said, lasts, middles, strict=True):
        leads = [(x + 3, y), (room.x.length + 4, y), (left - 3, middle)]
        out.append(element("path", d=line(leads), class_="thin"))
        lines = room.ends[i]
        first = middle + 4.5 - (len(lines) - 1) * LINE / 2
        out += [
            text((left, first + k * LINE), words, "said")
            for k, words in enumerate(lines)
        ]
    widest = max(width(w, SMALL_SIZE) for i in said for w in room.ends[i])
    return "".join(out), _GAP + max(widest, _half(room.x, -1)) + _MARGIN


def _marks(chart: Chart, room: Field, below: float) -> tuple[str, float]:
    """Where one is, with words beside it; under the chart where there is no room."""
    shown = [one for one in chart.marks if len(drawable((one.x, one.y))) == 2]
    placed = [(room.at(one.x, one.y), cleaned(one.label)) for one in shown]
    crowd = [
        point
        for curve in chart.curves
        for run in _runs(curve.x, curve.y)
        for point in _along([room.at(*one) for one in run])
    ]
    field_ = Box(2, -room.y.length, room.x.length, -3)
    named = [one for one in placed if one[1]]
    labels = around_marks(named, field_, crowd)
    out = [
        element("circle", cx=x, cy=y, r=2.2, class_="dot")
        for (x, y), said in placed
        if not said
    ]
    hanging: list[tuple[str, Mark]] = []
    those = [one for one in shown if cleaned(one.label)]
    for ((x, y), said), label, mark in zip(named, labels, those, strict=True):
        out.append(element("circle", cx=x, cy=y, r=5.5, class_="here"))
        if label is None:
            hanging.append((said, mark))
        else:
            out += [text(at, words, "here-at") for at, words in label.places()]
    down = 0.0
    for said, mark in hanging:
        at = f" ({mark.x:.4g}; {mark.y:.4g})"
        for words in wrapped(said + at, room.x.length, 2, SMALL_SIZE, "bold"):
            down += LINE
            out.append(text((0, below + down), words, "here-at"))
    return "".join(out), down


def _along(run: Sequence[Point]) -> Iterator[Point]:
    """Points of a curve, and as many between as keep them within a letter's width."""
    yield from run
    for (a, b), (c, d) in pairwise(run):
        count = int(max(abs(c - a), abs(d - b)) / SMALL_SIZE * 2)
        for k in range(1, count + 1):
            yield a + (c - a) * k / (count + 1), b + (d - b) * k / (count + 1)
