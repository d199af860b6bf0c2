"""Depths and names beside a section: they move apart, never overlap.

A chain of dimensions climbs from the tin's floor to its rim. Each of its links has a
label: figure, unit, the name of the layer, its likely range.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from slabwright.publish.drawing.drawn import Standing, mm
from slabwright.publish.drawing.lettering import Face, cleaned, width, wrapped
from slabwright.publish.drawing.section_frame import Frame
from slabwright.publish.drawing.style import FIGURE_SIZE, NAME_SIZE, SMALL_SIZE

NAME_ROOM = 190.0
"""Width of the names' column [units]."""
LINE = 19.0
SMALL_LINE = 16.0
_BETWEEN = 8.0
_NAME_LINES = 2
_LEAST_RIGHT = 220.0
"""Beside a very short slab, too, there is room for words above it."""
UNIT = "mm"
MARK = 11.0


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
        return LINE * max(1, len(self.names)) + (SMALL_LINE if self.small else 0)


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
    chain = max(frame.right, _LEAST_RIGHT) + 16
    start = chain + min(84.0, 26 + moved * 0.3)
    figure = max((_figure_width(label) for label in all_), default=0.0)
    unit = width(UNIT, SMALL_SIZE) + 3
    assumed = MARK + 8 if any(label.assumed for label in all_) else 0
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
        yield Label(top_mm, depth_mm, room, UNIT, ("head room",), plain=True)
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
        UNIT,
        names,
        small=f"likely {mm(likely[0])} to {mm(likely[1])} {UNIT}" if likely else "",
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
        known = width(UNIT, SMALL_SIZE) + 3
        return max(0.0, width(label.figure, SMALL_SIZE) - known)
    return width(label.figure, FIGURE_SIZE, "text" if label.plain else "bold")


def _name_width(label: Label) -> float:
    face: Face = "text" if label.plain else "name"
    size = SMALL_SIZE if label.plain else NAME_SIZE
    lines = [width(name, size, face) for name in label.names]
    return max([*lines, width(label.small, SMALL_SIZE)])


def first_line(label: Label, middle: float) -> float:
    """Middle of its first line [units]."""
    return middle - label.height / 2 + LINE / 2
