"""Convex shapes in plan: their area and centre, clipping, what an outline holds."""

from collections.abc import Iterator, Sequence
from math import atan2, ceil, cos, hypot, pi, sin, sqrt

from slabwright.cut.stroke import Point
from slabwright.slab.outline import Outline

Polygon = tuple[Point, ...]
"""Corners, anticlockwise."""
FAR_MM = 1e4
"""Beyond every slab."""
_NEAR = 1e-9
_CHORD = pi / 90
"""An arc is drawn in chords over this angle at most: 0.02 % of its sector is lost."""


def around(polygon: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Each side, from its corner to the next."""
    return zip(polygon, (*polygon[1:], *polygon[:1]), strict=True)


def area_mm2(polygon: Sequence[Point]) -> float:
    """Area inside, by the shoelace sum [mm²]; 0 for fewer than three corners."""
    if len(polygon) < len("xyz"):
        return 0.0
    x0, y0 = polygon[0]  # from a corner: no digits are lost far from the origin
    return sum(
        (x - x0) * (v - y0) - (u - x0) * (y - y0) for (x, y), (u, v) in around(polygon)
    ) / 2  # fmt: skip


def centre_mm(polygon: Sequence[Point]) -> Point:
    """Centre of the area."""
    x0, y0 = polygon[0]
    sum_x = sum_y = twice = 0.0
    for (x, y), (u, v) in around(polygon):
        cross = (x - x0) * (v - y0) - (u - x0) * (y - y0)
        twice += cross
        sum_x += cross * (x + u - 2 * x0)
        sum_y += cross * (y + v - 2 * y0)
    return x0 + sum_x / (3 * twice), y0 + sum_y / (3 * twice)


def clipped(polygon: Sequence[Point], a: float, b: float, c: float) -> Polygon:
    """What of a convex shape lies where a·x + b·y <= c; nothing has no corners."""
    corners = tuple(polygon)
    far = [a * x + b * y - c for x, y in corners]
    if max(far, default=0.0) <= _NEAR * hypot(a, b):
        return corners
    kept: list[Point] = []
    for i, ((x, y), d) in enumerate(zip(corners, far, strict=True)):
        (x0, y0), e = corners[i - 1], far[i - 1]
        if d * e < 0:
            t = e / (e - d)
            kept.append((x0 + t * (x - x0), y0 + t * (y - y0)))
        if d <= 0:
            kept.append((x, y))
    return tuple(kept) if len(kept) >= len("xyz") else ()


def boxed(polygon: Sequence[Point], low: Point, high: Point) -> Polygon:
    """What of a convex shape lies in an upright rectangle."""
    left = clipped(clipped(polygon, -1, 0, -low[0]), 1, 0, high[0])
    return clipped(clipped(left, 0, -1, -low[1]), 0, 1, high[1])


def arc(middle: Point, radius_mm: float, low: float, high: float) -> list[Point]:
    """Points on a circle from one angle to a larger one, both ends too [radians]."""
    count = max(1, ceil((high - low) / _CHORD))
    angles = [low + (high - low) * i / count for i in range(count + 1)]
    x, y = middle
    return [(x + radius_mm * cos(a), y + radius_mm * sin(a)) for a in angles]


def outlined(outline: Outline) -> Polygon:
    """An outline with its near left corner at the origin, arcs in chords."""
    length, width, r = outline.length_mm, outline.width_mm, outline.corner_radius_mm
    if not r:
        return (0.0, 0.0), (length, 0.0), (length, width), (0.0, width)
    middles = ((r, r), (length - r, r), (length - r, width - r), (r, width - r))
    points: list[Point] = []
    for quarter, middle in enumerate(middles):
        start = pi + quarter * pi / 2
        points += arc(middle, r, start, start + pi / 2)
    return tuple(points)


def area_within_mm2(polygon: Sequence[Point], outline: Outline) -> float:
    """Area that a convex shape shares with an outline around the origin [mm²].

    It is what lies in the outline's rectangle, less what lies in a corner and beyond
    its round; exact.
    """
    x, y, r = outline.length_mm / 2, outline.width_mm / 2, outline.corner_radius_mm
    inside = boxed(polygon, (-x, -y), (x, y))
    area = area_mm2(inside)
    if not r or not inside:
        return area
    for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        u, v = sx * (x - r), sy * (y - r)
        far = (max(sx * px for px, _ in inside), max(sy * py for _, py in inside))
        if far[0] <= x - r or far[1] <= y - r:
            continue
        corner = clipped(clipped(inside, -sx, 0, -sx * u), 0, -sy, -sy * v)
        around_u_v = [(px - u, py - v) for px, py in corner]
        area -= area_mm2(corner) - disc_mm2(around_u_v, r)
    return area


def disc_mm2(polygon: Sequence[Point], radius_mm: float) -> float:
    """Area that a shape shares with a disc around the origin [mm²].

    The sum over its sides of what the disc shares with the triangle from the origin to
    that side, with its sign.
    """
    return sum(_triangle_mm2(p, q, radius_mm) for p, q in around(polygon))


def _triangle_mm2(p: Point, q: Point, r: float) -> float:
    dx, dy = q[0] - p[0], q[1] - p[1]
    a = dx * dx + dy * dy
    b, c = p[0] * dx + p[1] * dy, p[0] ** 2 + p[1] ** 2 - r * r
    root = b * b - a * c
    if root <= 0 or a == 0:
        return _sector_mm2(p, q, r)
    low, high = (-b - sqrt(root)) / a, (-b + sqrt(root)) / a
    if low >= 1 or high <= 0:
        return _sector_mm2(p, q, r)
    # an end inside the disc is taken as it is: beside the origin, rounding turns it far
    enters = (p[0] + low * dx, p[1] + low * dy) if low > 0 else p
    leaves = (p[0] + high * dx, p[1] + high * dy) if high < 1 else q
    area = (enters[0] * leaves[1] - enters[1] * leaves[0]) / 2
    if low > 0:
        area += _sector_mm2(p, enters, r)
    return area + _sector_mm2(leaves, q, r) if high < 1 else area


def _sector_mm2(p: Point, q: Point, r: float) -> float:
    cross, dot = p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]
    if cross == 0:  # on one ray from the origin: signed zeros would give half a turn
        return 0.0
    return r * r * atan2(cross, dot) / 2
