"""The findings' numbers on a section, each on its layer and none on another."""

from collections.abc import Sequence

from slabwright.publish.drawing.drawn import Mark
from slabwright.publish.drawing.marks import RADIUS, finding_mark
from slabwright.publish.drawing.section_frame import Frame
from slabwright.publish.drawing.svg import Point

_APART = 3.0
"""From middle to middle of two marks, in radii."""
_RADII = (RADIUS, 8.0, 6.0)
"""Sizes that are tried, the largest first."""


def finding_marks(frame: Frame) -> str:
    """All marks: in the first piece from its right, in the whole slab if need be."""
    marks = frame.slab.marks
    start, end = _first_piece(frame)
    everywhere = (4.0, frame.shown_mm * frame.k - 8)
    for left, right in ((start, end), everywhere):
        for radius in _RADII:
            places = _placed(frame, marks, left, right, radius)
            if places is not None:
                return _drawn(marks, places, radius)
    step = (everywhere[1] - everywhere[0]) / (len(marks) + 1)
    crowded = [
        (everywhere[0] + step * (i + 1), _middle(frame, mark))
        for i, mark in enumerate(marks)
    ]
    return _drawn(marks, crowded, min(_RADII[-1], step * 0.4))


def _first_piece(frame: Frame) -> tuple[float, float]:
    slab, end = frame.slab, frame.shown_mm * frame.k - 8
    if slab.piece_mm is None:
        return 4.0, end
    start = slab.trim_mm * frame.k
    return start, min(end, start + slab.piece_mm * frame.k)


def _placed(
    frame: Frame, marks: Sequence[Mark], left: float, right: float, radius: float
) -> list[Point] | None:
    """A place for each, as far to the right as is free; None if there is no room."""
    step = _APART * radius
    places: list[Point] = []
    for mark in reversed(marks):  # so that numbers rise to the right
        y, x = _middle(frame, mark), right - 0.7 * step
        while any(abs(x - a) < step - 0.01 and abs(y - b) < step for a, b in places):
            x -= step
        if x - radius < left:
            return None
        places.append((x, y))
    return places[::-1]


def _middle(frame: Frame, mark: Mark) -> float:
    return frame.y(frame.layers[mark.layer].middle_mm)


def _drawn(marks: Sequence[Mark], places: Sequence[Point], radius: float) -> str:
    return "".join(
        finding_mark(place, mark.severity, mark.number, radius)
        for mark, place in zip(marks, places, strict=True)
    )
