"""Marks around a cutting plan: the ruler's millimetres and the knife's order.

Each mark stands in the first row in which it touches no other; a row farther out has
a leader. What finds no room in the last row is left out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal

from slabwright.publish.drawing.cut_plan_slants import (
    AT,
    RADIUS,
    RIM,
    around_rim,
    guides,
    on_strokes,
    ring,
)
from slabwright.publish.drawing.drawn import mark_mm
from slabwright.publish.drawing.lettering import width
from slabwright.publish.drawing.plan import DrawnPlan, DrawnStroke
from slabwright.publish.drawing.svg import element, line, text

_ROWS = 3
_STEP = 22.0
"""From one row of marks to the next [units]."""
_GAP = 13.0
"""From the slab to the first row."""
_APART = 4.0
Side = Literal["left", "below", "above", "right"]


@dataclass(frozen=True, slots=True)
class Room:
    """What the marks take on every side [units]."""

    left: float
    right: float
    top: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Marks:
    """All marks, drawn, and their room."""

    drawing: str
    room: Room


@dataclass(frozen=True, slots=True)
class _Mark:
    place: float
    """Along its side [units]."""
    half: float
    """Half of its room along that side."""
    words: str
    is_turn: bool


def room_for(plan: DrawnPlan) -> Room:
    """Room that marks can take at most, before their places are known."""
    if any(one.edge == "rim" for one in plan.strokes):
        return Room(RIM, RIM, RIM, RIM)
    most = _GAP + _ROWS * _STEP
    longest = max((_said(one) for one in plan.strokes), key=len, default="")
    left = _GAP + _ROWS * (width(longest, AT, "bold") + _APART)
    return Room(left, most, most, most)


def marks(plan: DrawnPlan, k: float) -> Marks:
    """Every mark that finds room.

    Args:
        plan: the slab from above.
        k: units a millimetre.
    """
    if any(one.edge == "rim" for one in plan.strokes):
        return Marks(
            around_rim(plan, k) + on_strokes(plan, k), Room(RIM, RIM, RIM, RIM)
        )
    upright = [one for one in plan.strokes if one.edge == "left"]
    level = [one for one in plan.strokes if one.edge == "near"]
    sides: dict[Side, list[_Mark]] = {
        "below": [_at(one, k) for one in upright],
        "above": [_turn(one, k, 0) for one in upright],
        "left": [_at(one, k) for one in level],
        "right": [_turn(one, k, 1) for one in level],
    }
    out = guides(plan, k) + on_strokes(plan, k)
    rooms = dict.fromkeys(sides, 0.0)
    for side, found in sides.items():
        step = _step(side, found)
        placed = list(_rows(found))
        out += "".join(
            _drawn(plan, k, side, m, _GAP + r * step, r > 0) for m, r in placed
        )
        if placed:
            rows = 1 + max(row for _, row in placed)
            rooms[side] = max(rooms[side], _GAP + rows * step)
    room = Room(rooms["left"], rooms["right"], rooms["above"], rooms["below"])
    return Marks(out, room)


def _said(stroke: DrawnStroke) -> str:
    return mark_mm(stroke.at_mm) if stroke.at_mm is not None else ""


def _at(stroke: DrawnStroke, k: float) -> _Mark:
    words = _said(stroke)
    half = width(words, AT, "bold") / 2 if stroke.edge == "left" else AT * 0.55
    place = (stroke.at_mm or 0.0) * k
    return _Mark(place, half, words, is_turn=False)


def _turn(stroke: DrawnStroke, k: float, axis: int) -> _Mark:
    return _Mark(stroke.start_mm[axis] * k, RADIUS, str(stroke.number), is_turn=True)


def _step(side: Side, found: Sequence[_Mark]) -> float:
    """From one row of this side to the next [units]."""
    if side != "left":
        return _STEP
    return max((width(m.words, AT, "bold") for m in found), default=0.0) + _APART


def _rows(found: Sequence[_Mark]) -> Iterator[tuple[_Mark, int]]:
    """Each mark and the nearest row where neither it nor its leader touches another."""
    ends = [-inf] * _ROWS
    """Where the last mark of each row ends."""
    leaders = [-inf] * _ROWS
    """Where the last leader runs through each row."""
    for mark in sorted(found, key=lambda one: one.place):
        low = mark.place - mark.half
        for row in range(_ROWS):
            free = low >= ends[row] and low >= leaders[row] + 1
            if free and all(mark.place >= ends[near] - _APART for near in range(row)):
                ends[row] = mark.place + mark.half + _APART
                leaders[:row] = [mark.place] * row
                yield mark, row
                break


def _drawn(
    plan: DrawnPlan, k: float, side: Side, mark: _Mark, out: float, leads: bool
) -> str:
    length, high = plan.length_mm * k, plan.width_mm * k
    place = mark.place
    spots = {
        "below": ((place, out + 8), (place, 0), (place, out - 3)),
        "above": ((place, -high - out), (place, -high), (place, -high - out)),
        "left": ((-out + 4, -place), (0, -place), (-out + 6, -place)),
        "right": ((length + out, -place), (length, -place), (length + out, -place)),
    }
    (x, y), start, end = spots[side]
    leader = element("path", d=line([start, end]), class_="thin") if leads else ""
    if mark.is_turn:
        return leader + ring(x, y, mark.words)
    anchor = "end" if side == "left" else "middle"
    return leader + text(
        (x, y + (4.5 if side == "left" else 0)), mark.words, "at", anchor
    )
