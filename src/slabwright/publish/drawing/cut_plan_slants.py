"""Marks of strokes that no ruler along an edge shows: slanted ones, and radii."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import Final

from slabwright.publish.drawing.drawn import mark_mm
from slabwright.publish.drawing.lettering import width
from slabwright.publish.drawing.plan import DrawnPlan, DrawnStroke, Point
from slabwright.publish.drawing.svg import element, line, text

RADIUS: Final = 10.0
"""Of a ring with the turn of a stroke in it [units]."""
AT: Final = 13.0
"""Size of the ruler's millimetres [units]."""
RIM: Final = 48.0
"""Room of the marks around a round slab [units]."""
_AIR: Final = 2.0
_LABEL_OUT: Final = 16.0
_LEAST_GAP: Final = 2 * RADIUS + 3


def ring(x: float, y: float, words: str) -> str:
    """The turn of a stroke, ringed."""
    drawn = element("circle", cx=x, cy=y, r=RADIUS, class_="turn")
    return drawn + text((x, y + 4.2), words, "turn-word", "middle")


def on_strokes(plan: DrawnPlan, k: float) -> str:
    """Rings on slanted strokes, each in the first stretch that no other crosses.

    One that would touch another ring is left to the list beside the drawing.

    Args:
        plan: the slab from above.
        k: units a millimetre.
    """
    placed: list[Point] = []
    out = ""
    for stroke in (one for one in plan.strokes if one.edge in {"", "rim"}):
        for x, y in _spots(stroke, plan.strokes, k):
            if all(hypot(x - a, y - b) >= 2 * RADIUS + _AIR for a, b in placed):
                placed.append((x, y))
                out += ring(x, y, str(stroke.number))
                break
    return out


def _spots(
    stroke: DrawnStroke, others: Sequence[DrawnStroke], k: float
) -> Iterator[Point]:
    if stroke.edge:  # radii crowd in the middle: near the rim, else farther in
        (x0, y0), (x1, y1) = stroke.start_mm, stroke.end_mm
        part = 0.5 if len(stroke.meets) > 1 else 1.0  # of a diameter or a radius
        for t in (0.25 * part, 0.45 * part):
            yield (x0 + t * (x1 - x0)) * k, -(y0 + t * (y1 - y0)) * k
    else:
        yield from _stretches(stroke, others, k)


def _stretches(
    stroke: DrawnStroke, others: Sequence[DrawnStroke], k: float
) -> Iterator[Point]:
    """Middles of the free stretches of a stroke that a ring has room on, in order."""
    (x0, y0), (x1, y1) = stroke.start_mm, stroke.end_mm
    long = hypot(x1 - x0, y1 - y0) * k
    crossed = sorted(
        {0.0, 1.0, *(t for one in others if (t := _crossing(stroke, one)) is not None)}
    )
    for low, high in pairwise(crossed):
        if (high - low) * long >= _LEAST_GAP:
            t = (low + high) / 2
            yield (x0 + t * (x1 - x0)) * k, -(y0 + t * (y1 - y0)) * k


def _crossing(stroke: DrawnStroke, other: DrawnStroke) -> float | None:
    """Where along a stroke another crosses it, from 0 to 1."""
    (x0, y0), (x1, y1) = stroke.start_mm, stroke.end_mm
    (u0, v0), (u1, v1) = other.start_mm, other.end_mm
    dx, dy, du, dv = x1 - x0, y1 - y0, u1 - u0, v1 - v0
    turn = dx * dv - dy * du
    if abs(turn) < 1e-9:
        return None
    t = ((u0 - x0) * dv - (v0 - y0) * du) / turn
    s = ((u0 - x0) * dy - (v0 - y0) * dx) / turn
    is_within = 0 < t < 1 and -1e-9 <= s <= 1 + 1e-9
    return round(t, 9) if is_within else None


def around_rim(plan: DrawnPlan, k: float) -> str:
    """Millimetres along the rim of a round slab, around it.

    Args:
        plan: the slab from above.
        k: units a millimetre.
    """
    radius_mm = plan.length_mm / 2
    middle = (radius_mm * k, -radius_mm * k)
    marks = sorted(
        at for one in plan.strokes for edge, at in one.meets if edge == "rim"
    )
    out, last = "", -1e9
    around = 2 * pi * (radius_mm * k + _LABEL_OUT)
    first = min(marks, default=0.0)
    for at in marks:
        place = at / (2 * pi * radius_mm) * around
        room = width(mark_mm(at), AT, "bold") + _AIR
        until = around + first / (2 * pi * radius_mm) * around
        if place - last >= room and until - place >= room:
            out += _label(middle, at / radius_mm, radius_mm * k + _LABEL_OUT, at)
            last = place
    return out


def _label(middle: Point, turn: float, reach: float, at_mm: float) -> str:
    """Millimetres beside the rim; `turn` from its nearest point, anticlockwise."""
    x, y = middle[0] + reach * sin(turn), middle[1] + reach * cos(turn)
    side = "middle" if abs(sin(turn)) < 0.35 else ("start" if sin(turn) > 0 else "end")
    shift = 0.0 if side == "middle" else (-6.0 if side == "start" else 6.0)
    return text((x + shift, y + 4.5), mark_mm(at_mm), "at", side)


def guides(plan: DrawnPlan, k: float) -> str:
    """Thin lines from the ends of upright and level strokes to their marks outside."""
    far = {"left": plan.width_mm, "near": plan.length_mm}
    out = []
    for one in plan.strokes:
        if one.edge not in far:
            continue
        for x, y in (one.start_mm, one.end_mm):
            end = (x, 0.0 if y < far["left"] / 2 else far["left"])
            if one.edge == "near":
                end = (0.0 if x < far["near"] / 2 else far["near"], y)
            if hypot(end[0] - x, end[1] - y) * k > 0.5:
                out.append(line([(x * k, -y * k), (end[0] * k, -end[1] * k)]))
    return element("path", d="".join(out), class_="thin") if out else ""
