"""A tile that a texture is drawn on, to be laid side by side in both directions.

Every stroke is drawn once and may stick out over an edge: there it fills the gap in
the neighbour from which the same stroke is missing. One unit is an eighth of a
millimetre of slab at the desk's scale.
"""

from collections.abc import Iterable, Sequence
from math import cos, floor, pi, sin, sqrt
from typing import Literal

from slabwright.publish.drawing.svg import Point, bends, curve, line, number

Pen = Literal["line", "thin", "ring", "dot"]
Stroke = tuple[Pen, str]
"""The pen that draws it, and its path."""

_MISSES = 500
"""So many points in a row that find no room end a scatter."""
_PLACES = 1
"""Decimals of a coordinate: a tenth of a unit is finer than any pen."""


class Chance:
    """Evenly spread numbers from a seed, the same on every machine for ever.

    Source:
        SplitMix64, Steele, Lea and Flood (2014), from memory.
    """

    def __init__(self, seed: int) -> None:
        self._state = seed

    def word(self) -> int:
        """The next 64 bits."""
        self._state = (self._state + 0x9E3779B97F4A7C15) % 2**64
        z = self._state
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9 % 2**64
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB % 2**64
        return z ^ (z >> 31)

    def share(self) -> float:
        """From 0 up to 1."""
        return (self.word() >> 11) / 2**53

    def between(self, low: float, high: float) -> float:
        """Any number from low to high alike."""
        return low + (high - low) * self.share()

    def about(self, spread: float) -> float:
        """Mostly near 0, about bell-shaped, of this standard deviation."""
        return (sum(self.share() for _ in range(4)) - 2) * sqrt(3) * spread


class Tile:
    """A piece of texture that repeats in both directions."""

    def __init__(self, width: float, height: float, seed: int) -> None:
        self.width = width
        self.height = height
        self.chance = Chance(seed)
        self.strokes: list[Stroke] = []
        self.reach = 0.0
        """How far strokes stick out over an edge, at most."""

    def scatter(self, gap: float, squash: float = 1.0) -> list[Point]:
        """Loose points, evenly far from each other over the edges too.

        Args:
            gap: least distance.
            squash: how many times nearer they may lie above one another.
        """
        points: list[Point] = []
        misses = 0
        while misses < _MISSES:
            x = self.chance.between(0, self.width)
            y = self.chance.between(0, self.height)
            if self.near((x, y), points, gap, squash):
                misses += 1
            else:
                points.append((x, y))
                misses = 0
        return points

    def near(
        self, at: Point, others: Iterable[Point], gap: float, squash: float = 1.0
    ) -> bool:
        """Whether another point, or a repeat of it, lies nearer than a gap."""
        x, y = at
        w, h = self.width, self.height
        for other_x, other_y in others:
            dx, dy = abs(other_x - x), abs(other_y - y)
            dx = w - dx if dx > w - dx else dx
            dy = squash * (h - dy if dy > h - dy else dy)
            if dx * dx + dy * dy < gap * gap:
                return True
        return False

    def stroke(
        self,
        points: Sequence[Point],
        pen: Pen = "line",
        *,
        closed: bool = False,
        straight: bool = False,
    ) -> None:
        """A line through points, moved by whole tiles to lie mostly on this one."""
        xs, ys = zip(*points, strict=True)
        dx = -floor((min(xs) + max(xs)) / 2 / self.width) * self.width
        dy = -floor((min(ys) + max(ys)) / 2 / self.height) * self.height
        self._reach_for(min(xs) + dx, min(ys) + dy)
        self._reach_for(max(xs) + dx, max(ys) + dy)
        moved = [(x + dx, y + dy) for x, y in points]
        path = (
            line(moved, _PLACES)
            if straight
            else curve(moved, closed=closed, places=_PLACES)
        )
        self.strokes.append((pen, path))

    def round(self, size: Point, rough: float = 0.12, corners: int = 8) -> list[Point]:
        """An uneven round about the origin, of these half sizes."""
        ring = []
        for i in range(corners):
            angle = 2 * pi * i / corners
            k = 1 + self.chance.between(-rough, rough)
            ring.append((size[0] * k * cos(angle), size[1] * k * sin(angle)))
        return ring

    def ring(self, at: Point, radius: float, pen: Pen = "ring") -> None:
        """A true circle."""
        x, y = at
        self._reach_for(x - radius, y - radius)
        self._reach_for(x + radius, y + radius)
        r = number(radius, _PLACES)
        start = line([(x - radius, y)], _PLACES)
        self.strokes.append((pen, f"{start}a{r} {r} 0 1 1 0 .1z"))

    def dot(self, at: Point, length: float, pen: Pen = "dot") -> None:
        """A grain: a stroke about as long as its pen is wide."""
        x, y = at
        end = (x + length * 0.8, y + length * 0.3)
        self.stroke((at, end), pen, straight=True)

    def wave(self, y: float, swing: float, pen: Pen, step: float) -> None:
        """A level, unsteady line right across, which meets itself at the edges."""
        count = max(4, int(self.width / step))
        heights = [y + self.chance.between(-swing, swing) for _ in range(count)]
        points = [
            (self.width * i / count, heights[i % count]) for i in range(-1, count + 2)
        ]
        path = line([points[1]], _PLACES) + bends(points, _PLACES)
        self._reach_for(0, min(heights))
        self._reach_for(0, max(heights))
        self.strokes.append((pen, path))

    def dash(
        self, start: Point, length: float, swing: float, pen: Pen, step: float
    ) -> None:
        """A level, unsteady stroke of some length."""
        x, y = start
        count = max(2, int(length / step))
        self.stroke(
            [
                (x + length * i / count, y + self.chance.between(-swing, swing))
                for i in range(count + 1)
            ],
            pen,
        )

    def _reach_for(self, x: float, y: float) -> None:
        """Note how far a point sticks out, and half a pen with it."""
        out = max(-x, x - self.width, -y, y - self.height) + 1
        self.reach = max(self.reach, out)


def turned(points: Sequence[Point], at: Point, angle: float) -> list[Point]:
    """Points about the origin, turned by an angle [rad] and moved to a place."""
    c, s = cos(angle), sin(angle)
    return [(at[0] + u * c - v * s, at[1] + u * s + v * c) for u, v in points]
