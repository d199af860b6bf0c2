"""The knife's order: trims first, then the long cuts, halves first, then the rest.

The order is common practice, no source: a slab that is trimmed true and halved first
does not shift under the knife, and no thin slice topples while its neighbour is cut.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import sqrt
from typing import Literal

from slabwright.cut.side import Mark, Side
from slabwright.cut.stroke import Edge, Meeting, Point, Stroke

_TOUCHES_MM = 1e-6


def halves_first(count: int) -> Iterator[int]:
    """So many places in the order that halves what is left, nearest part first.

    >>> list(halves_first(7))
    [3, 1, 5, 0, 2, 4, 6]
    """
    parts = [(0, count)]
    while parts:
        later = []
        for low, end in parts:
            if low < end:
                middle = (low + end) // 2
                yield middle
                later += [(low, middle), (middle + 1, end)]
        parts = later


@dataclass
class Strokes:
    """The strokes so far, and what still lies on the board: each trim makes it less."""

    length_mm: float
    width_mm: float
    made: list[Stroke] = field(default_factory=list)
    low: list[float] = field(default_factory=lambda: [0.0, 0.0])
    high: list[float] = field(default_factory=list)
    x_lines: dict[int, int] = field(default_factory=dict)
    """Number of the stroke before a column; after the last, under their count."""
    y_lines: dict[int, int] = field(default_factory=dict)
    rising: dict[int, int] = field(default_factory=dict)
    """Of the diagonal that rises to the right, by row less column of its squares."""
    falling: dict[int, int] = field(default_factory=dict)
    """Of the diagonal that falls to the right, by row and column added."""

    def __post_init__(self) -> None:
        self.high = [self.length_mm, self.width_mm]

    def upright(self, mark: Mark) -> None:
        """Cut from the near to the far edge, at a distance from the left one."""
        number = self._add(
            mark.what,
            (mark.at_mm, self.low[1]),
            (mark.at_mm, self.high[1]),
            "left",
            mark.at_mm,
        )
        self._after(mark, 0, number, self.x_lines)

    def level(self, mark: Mark) -> None:
        """Cut from the left to the right edge, at a distance from the near one."""
        number = self._add(
            mark.what,
            (self.low[0], mark.at_mm),
            (self.high[0], mark.at_mm),
            "near",
            mark.at_mm,
        )
        self._after(mark, 1, number, self.y_lines)

    def slanted(self, start: Point, end: Point, frame: "Frame | None" = None) -> int:
        """Cut from one point to another; its number.

        Args:
            start: where the knife begins.
            end: where it ends.
            frame: whose edges are marked; the untrimmed slab's if None.
        """
        edges = frame or Frame((0.0, 0.0), (self.length_mm, self.width_mm))
        return self._add("cut", start, end, "", None, edges.meetings(start, end))

    def round(
        self,
        what: Literal["strip", "cut"],
        ends: tuple[Point, Point],
        meets: tuple[Meeting, ...],
        at_mm: float | None,
    ) -> int:
        """Cut a round slab: a radius or diameter (no place), or a chord; its number."""
        edge: Edge = "rim" if at_mm is None else "left"
        place = meets[0].at_mm if at_mm is None else at_mm
        return self._add(what, *ends, edge, place, meets)

    def end_at_rim(self) -> None:
        """Let trims of a round slab run from rim to rim, and no farther."""
        r = self.length_mm / 2
        for i, one in enumerate(self.made):
            if one.what != "trim":
                continue
            axis = 0 if one.edge == "near" else 1
            reach = sqrt(max(r**2 - (one.start_mm[1 - axis] - r) ** 2, 0.0))
            ends = [list(one.start_mm), list(one.end_mm)]
            ends[0][axis] = max(ends[0][axis], r - reach)
            ends[1][axis] = min(ends[1][axis], r + reach)
            start, end = ((x, y) for x, y in ends)
            self.made[i] = replace(one, start_mm=start, end_mm=end)

    def _add(
        self,
        what: Literal["trim", "strip", "cut"],
        start: Point,
        end: Point,
        edge: Edge,
        at_mm: float | None,
        meets: tuple[Meeting, ...] = (),
    ) -> int:
        number = len(self.made) + 1
        self.made.append(Stroke(number, what, start, end, edge, at_mm, meets))
        return number

    def _after(self, mark: Mark, axis: int, number: int, lines: dict[int, int]) -> None:
        if mark.line is not None:
            lines[mark.line] = number
        if mark.what != "cut":
            is_near = mark.what == "trim" and mark.line == 0
            (self.low if is_near else self.high)[axis] = mark.at_mm


def grid_strokes(along: Side, across: Side) -> Strokes:
    """Every stroke of a grid, in order; slanted ones may follow."""
    made = Strokes(along.room.slab_mm, across.room.slab_mm)
    is_long = along.room.left_mm >= across.room.left_mm
    sides = [(across.marks, made.level), (along.marks, made.upright)]
    (long, cut_long), (short, cut_short) = sides if is_long else sides[::-1]
    for marks, cut in ((long, cut_long), (short, cut_short)):
        for mark in marks:
            if mark.what == "trim":
                cut(mark)
    for marks, cut in ((long, cut_long), (short, cut_short)):
        for mark in marks:
            if mark.what == "strip":
                cut(mark)
    inside = [mark for mark in long if mark.what == "cut"]
    for i in halves_first(len(inside)):
        cut_long(inside[i])
    for mark in short:
        if mark.what == "cut":
            cut_short(mark)
    return made


@dataclass(frozen=True, slots=True)
class Frame:
    """An upright rectangle whose edges are marked."""

    low: Point
    high: Point

    def meetings(self, start: Point, end: Point) -> tuple[Meeting, ...]:
        """Where the line through two points meets its edges, both places in order."""
        found: list[tuple[float, Meeting]] = []
        for axis, names in ((1, ("near", "far")), (0, ("left", "right"))):
            run = end[axis] - start[axis]
            for name, edge in zip(
                names, (self.low[axis], self.high[axis]), strict=True
            ):
                if run:
                    part = (edge - start[axis]) / run
                    other = 1 - axis
                    at = start[other] + part * (end[other] - start[other])
                    if (
                        self.low[other] - _TOUCHES_MM
                        <= at
                        <= self.high[other] + _TOUCHES_MM
                    ):
                        found.append((part, _meeting(name, at)))
        found.sort(key=lambda one: one[0])
        return (found[0][1], found[-1][1]) if found else ()


def _meeting(name: str, at_mm: float) -> Meeting:
    edges: dict[str, Literal["near", "far", "left", "right"]] = {
        "near": "near", "far": "far", "left": "left", "right": "right",
    }  # fmt: skip
    return Meeting(edges[name], at_mm if abs(at_mm) > _TOUCHES_MM else 0.0)
