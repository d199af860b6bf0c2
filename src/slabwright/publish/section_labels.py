"""Depths and names beside a section: they move apart, never overlap.

A chain of dimensions climbs from the tin's floor to its rim. Each of its links has a
label: figure, unit, the name of the layer, its likely range.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from slabwright.publish.drawn import Standing, mm
from slabwright.publish.lettering import Face, cleaned, width, wrapped
from slabwright.publish.marks import assumed_mark
from slabwright.publish.section_frame import Frame
from slabwright.publish.style import FIGURE_SIZE, NAME_SIZE, SMALL_SIZE
from slabwright.publish.svg import Point, element, line, text

NAME_ROOM = 190.0
"""Width of the names' column [units]."""
_LINE = 19.0
_SMALL_LINE = 16.0
_BETWEEN = 5.0
_NAME_LINES = 2
_UNIT = "mm"
_MARK = 11.0


@dataclass(frozen=True, slots=True)
class Label:
    """What stands beside one link of the chain."""

    low_mm: float
    high_mm: float
    figure: str
    unit: str
    names: tuple[str, ...]
    small: str = ""
    assumed: bool = False
    plain: bool = False
    """Not a layer: head room, in lighter type."""

    @property
    def height(self) -> float:
        """Room that it takes [units]."""
        return _LINE * max(1, len(self.names)) + (_SMALL_LINE if self.small else 0)


def labels(frame: Frame) -> tuple[Label, ...]:
    """The labels of all layers, and of the head room, top first."""
    return tuple(_labels(frame))


def spread(
    wanted: Sequence[float], heights: Sequence[float], lowest: float
) -> list[float]:
    """Middles of boxes, as near as can be to where they would be, none overlapping.

    Boxes that touch share their shift, so that the sum of the squares is least; then
    whatever lies too low is pushed up.

    Args:
        wanted: middle of each, from above down.
        heights: of each, with the room between two.
        lowest: nothing reaches below this.
    """
    runs: list[tuple[float, list[int]]] = []
    for i, (y, height) in enumerate(zip(wanted, heights, strict=True)):
        run, start = [i], y - height / 2
        while runs and runs[-1][0] + sum(heights[j] for j in runs[-1][1]) > start:
            run = [*runs.pop()[1], *run]
            start = _mean_start(run, wanted, heights)
        runs.append((start, run))
    middles = [0.0] * len(wanted)
    for start, run in runs:
        y = start
        for i in run:
            middles[i] = y + heights[i] / 2
            y += heights[i]
    for i in range(len(middles) - 1, -1, -1):
        middles[i] = min(middles[i], lowest - heights[i] / 2)
        lowest = middles[i] - heights[i] / 2
    return middles


@dataclass(frozen=True, slots=True)
class Column:
    """All labels, placed."""

    labels: tuple[Label, ...]
    middles: tuple[float, ...]
    chain: float
    """Where the chain of dimensions runs."""
    start: float
    """Left edge of the figures."""
    figures: float
    """Their right edge."""
    names: float
    """Left edge of the names."""
    right: float
    """Right edge of the widest label."""
    sum_y: float
    """Baseline of the sum beneath them."""

    @property
    def top(self) -> float:
        """Upper edge of the highest label [units]."""
        if not self.labels:
            return 0.0
        return self.middles[0] - self.labels[0].height / 2


def column(frame: Frame) -> Column:
    """The labels placed beside the slab."""
    all_ = labels(frame)
    wanted = [-(label.low_mm + label.high_mm) / 2 * frame.k for label in all_]
    heights = [label.height + _BETWEEN for label in all_]
    middles = spread(wanted, heights, lowest=14.0)
    moved = max((abs(y - w) for y, w in zip(middles, wanted, strict=True)), default=0.0)
    chain = frame.right + 16
    start = chain + min(84.0, 26 + moved * 0.3)
    figure = max((_figure_width(label) for label in all_), default=0.0)
    unit = width(_UNIT, SMALL_SIZE) + 3
    assumed = _MARK + 8 if any(label.assumed for label in all_) else 0
    names = start + figure + unit + 12 + assumed
    end = max((_name_width(label) for label in all_), default=0.0)
    bottom = max((y + h / 2 for y, h in zip(middles, heights, strict=True)), default=0)
    return Column(
        labels=all_,
        middles=tuple(middles),
        chain=chain,
        start=start,
        figures=start + figure,
        names=names,
        right=names + max(end, width("in all", NAME_SIZE, "name")),
        sum_y=max(bottom, 6.0) + 22,
    )


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
        first, at = _first_line(label, middle), (low + high) / 2
        if abs(first - at) > max(4.0, (low - high) / 2 - 8):
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
        _label(label, _first_line(label, middle) + 5.5, placed)
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
        + text((placed.figures + 3, y), _UNIT, "unit")
        + text((placed.names, y), "in all", "name")
    )


def boxes(placed: Column) -> tuple[tuple[float, float, float, float], ...]:
    """Left, top, right and bottom of every label, as measured with the fonts."""
    return tuple(
        (
            placed.start,
            middle - label.height / 2,
            placed.names + _name_width(label),
            middle + label.height / 2,
        )
        for label, middle in zip(placed.labels, placed.middles, strict=True)
    )


def _labels(frame: Frame) -> Iterator[Label]:
    depth_mm, top_mm = frame.slab.tin_depth_mm, frame.slab.height_mm
    if frame.layers and depth_mm and top_mm is not None and depth_mm - top_mm > 0.05:
        room = mm(depth_mm - top_mm)
        yield Label(top_mm, depth_mm, room, _UNIT, ("head room",), plain=True)
    for it in reversed(frame.layers):
        yield _of_layer(it)


def _of_layer(it: Standing) -> Label:
    names = wrapped(cleaned(it.layer.name), NAME_ROOM, _NAME_LINES, NAME_SIZE, "name")
    depth_mm, likely = it.layer.depth_mm, it.layer.range_mm
    if depth_mm is None:
        return Label(it.floor_mm, it.top_mm, "not known", "", names)
    return Label(
        it.floor_mm,
        it.top_mm,
        mm(depth_mm),
        _UNIT,
        names,
        small=f"likely {mm(likely[0])} to {mm(likely[1])} {_UNIT}" if likely else "",
        assumed=it.layer.assumed,
    )


def _mean_start(
    run: Sequence[int], wanted: Sequence[float], heights: Sequence[float]
) -> float:
    """Where a run of touching boxes starts, so that their shifts add up to nothing."""
    above, total = 0.0, 0.0
    for i in run:
        total += wanted[i] - above - heights[i] / 2
        above += heights[i]
    return total / len(run)


def _figure_width(label: Label) -> float:
    if not label.unit:
        known = width(_UNIT, SMALL_SIZE) + 3
        return max(0.0, width(label.figure, SMALL_SIZE) - known)
    return width(label.figure, FIGURE_SIZE, "text" if label.plain else "bold")


def _name_width(label: Label) -> float:
    face: Face = "text" if label.plain else "name"
    size = SMALL_SIZE if label.plain else NAME_SIZE
    lines = [width(name, size, face) for name in label.names]
    return max([*lines, width(label.small, SMALL_SIZE)])


def _first_line(label: Label, middle: float) -> float:
    return middle - label.height / 2 + _LINE / 2


def _label(label: Label, baseline: float, placed: Column) -> str:
    at: Point = (placed.figures, baseline)
    if label.unit:
        out = text(at, label.figure, "room" if label.plain else "figure", "end")
        out += text((placed.figures + 3, baseline), label.unit, "unit")
    else:
        right = placed.figures + 3 + width(_UNIT, SMALL_SIZE)
        out = text((right, baseline), label.figure, "small", "end")
    if label.assumed:
        out += assumed_mark((placed.names - _MARK - 7, baseline - _MARK + 0.5), _MARK)
    for i, name in enumerate(label.names):
        class_ = "small" if label.plain else "name"
        out += text((placed.names, baseline + i * _LINE), name, class_)
    if label.small:
        y = baseline + (len(label.names) - 1) * _LINE + _SMALL_LINE
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
        left = x - 3 - lane * 8
        tall = max(low - high, 1.5)
        path = f"M{left:g} {high:.2f}h6v{tall:.2f}h-6z"
        out += element("path", d=path, class_="guess" if it.layer.assumed else "likely")
    return out
