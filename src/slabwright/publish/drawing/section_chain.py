"""The chain of dimensions beside a section, and its labels as they are drawn."""

from collections.abc import Sequence
from math import ceil

from slabwright.publish.drawing.drawn import Standing, mm
from slabwright.publish.drawing.lettering import width
from slabwright.publish.drawing.marks import assumed_mark
from slabwright.publish.drawing.section_frame import Frame
from slabwright.publish.drawing.section_labels import (
    LINE,
    MARK,
    SMALL_LINE,
    UNIT,
    Column,
    Label,
    first_line,
)
from slabwright.publish.drawing.style import SMALL_SIZE
from slabwright.publish.drawing.svg import Point, box, element, line, text

_BAR = 7.0
"""Width of the bar of a likely range."""


def chain(frame: Frame, placed: Column) -> str:
    """The dimensions, the likely ranges and the leaders to labels that moved."""
    if not placed.labels:
        return ""
    x, k = placed.chain, frame.k
    path = line([(x - 8, 0), (x + 8, 0)])
    leaders = ""
    for label, middle in zip(placed.labels, placed.middles, strict=True):
        low, high = -label.low_mm * k, -label.high_mm * k
        s = min(4.0, (low - high) * 0.35)
        path += line([(x - 8, high), (x + 8, high)]) + line([(x, low), (x, high)])
        for y in (low, high):
            path += line([(x - s, y + s), (x + s, y - s)])
        first, at = first_line(label, middle), (low + high) / 2
        if not high + 2 < first < low - 2:
            leaders += line([(x + 6, at), (x + 12, at), (placed.start - 12, first)])
            leaders += line([(placed.start - 12, first), (placed.start - 6, first)])
    ranges = _ranges(frame.layers, x, k)
    lines = element("path", d=path, class_="dim")
    if leaders:
        lines += element("path", d=leaders, class_="thin")
    return lines + ranges


def words(placed: Column) -> str:
    """Figures, names and likely ranges, in their places."""
    return "".join(
        _label(label, first_line(label, middle) + 5.5, placed)
        for label, middle in zip(placed.labels, placed.middles, strict=True)
    )


def sum_line(frame: Frame, placed: Column) -> str:
    """The height of the slab beneath its layers' depths, as a sum."""
    if not frame.layers:
        return ""
    y = placed.sum_y
    height_mm = frame.slab.height_mm
    rule = line([(placed.start, y - 20), (placed.right, y - 20)])
    out = element("path", d=rule, class_="edge")
    if height_mm is None:
        return out + text((placed.start, y), "height not known", "small")
    return (
        out
        + text((placed.figures, y), mm(height_mm), "figure", "end")
        + text((placed.figures + 3, y), UNIT, "unit")
        + text((placed.names, y), "in all", "name")
    )


def range_top(frame: Frame) -> float:
    """Upper end of the highest bar of a likely range [units]."""
    return min(
        (
            frame.y(it.floor_mm + it.layer.range_mm[1])
            for it in frame.layers
            if it.layer.range_mm
        ),
        default=0.0,
    )


def _label(label: Label, baseline: float, placed: Column) -> str:
    at: Point = (placed.figures, baseline)
    if label.unit:
        out = text(at, label.figure, "room" if label.plain else "figure", "end")
        out += text((placed.figures + 3, baseline), label.unit, "unit")
    else:
        right = placed.figures + 3 + width(UNIT, SMALL_SIZE)
        out = text((right, baseline), label.figure, "small", "end")
    if label.assumed:
        out += assumed_mark((placed.names - MARK - 7, baseline - MARK + 0.5), MARK)
    for i, name in enumerate(label.names):
        class_ = "small" if label.plain else "name"
        out += text((placed.names, baseline + i * LINE), name, class_)
    if label.small:
        y = baseline + (len(label.names) - 1) * LINE + SMALL_LINE
        out += text((placed.names, y), label.small, "small")
    return out


def _ranges(layers: Sequence[Standing], x: float, k: float) -> str:
    """A bar with width for every likely range, where the layer's upper face may be.

    Bars that would cover one another stand side by side.
    """
    ends: list[float] = []
    out = ""
    for it in layers:
        if it.layer.range_mm is None:
            continue
        low, high = (-(it.floor_mm + depth) * k for depth in it.layer.range_mm)
        lane = next((i for i, end in enumerate(ends) if low < end - 2), len(ends))
        ends[lane : lane + 1] = [high]
        left, tall = x - _BAR / 2 - lane * (_BAR + 2), max(low - high, 1.5)
        class_ = "guess" if it.layer.assumed else "likely"
        out += element("path", d=box(left, high, _BAR, tall), class_=class_)
        if not it.layer.assumed:
            rungs = (high + 3 * i for i in range(1, ceil(tall / 3)))
            path = "".join(line([(left, y), (left + _BAR, y)]) for y in rungs)
            out += element("path", d=path, class_="dim") if path else ""
    return out
