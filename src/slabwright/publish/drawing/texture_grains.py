"""Textures of baked, pressed and seeded layers: things that lie in a mass."""

from itertools import combinations
from math import atan2, cos, hypot, pi, sin

from slabwright.publish.drawing.svg import Point
from slabwright.publish.drawing.texture_tiles import Tile, turned


def crumb(tile: Tile) -> None:
    """Flecks and open corners: shortbread, biscuit base, crumble."""
    between = tile.chance.between
    for at in tile.scatter(9):
        kind, angle = tile.chance.share(), between(0, pi)
        if kind < 0.5:
            tile.dot(at, between(0.3, 1.0))
        elif kind < 0.82:
            long = between(2.4, 4.2)
            corner = [(-long * cos(angle), -long * sin(angle)), (0.0, 0.0)]
            corner += [(long * 0.8 * cos(angle + 1.9), long * 0.8 * sin(angle + 1.9))]
            tile.stroke(turned(corner, at, 0))
        else:
            size = (between(2, 3.2), between(1.6, 2.4))
            open_crumb = tile.round(size, rough=0.25, corners=6)
            tile.stroke(turned(open_crumb, at, angle), closed=True)


def oats(tile: Tile) -> None:
    """Flat flakes, each with its crease: flapjack, oat base."""
    for at in tile.scatter(17.6, squash=1.85):
        lean = tile.chance.about(0.10)
        long, thick = tile.chance.between(7.2, 8.8), tile.chance.between(3.3, 4.3)
        flake = tile.round((long, thick), rough=0.09)
        tile.stroke(turned(flake, at, lean), closed=True)
        crease = [(-long * 0.6, 0.0), (0.0, 0.7), (long * 0.5, 0.0)]
        tile.stroke(turned(crease, at, lean), "thin")


def crisp(tile: Tile) -> None:
    """Packed puffs with a fold in each: crisped cereal."""
    between = tile.chance.between
    for at in tile.scatter(13.2, squash=1.12):
        size = (between(5.6, 6.4), between(4.8, 5.5))
        puff = tile.round(size, rough=0.10)
        tile.stroke(turned(puff, at, between(0, 3)), closed=True)
        fold = [(2 * cos(angle), 2 * sin(angle)) for angle in (0.0, 0.8, 1.6)]
        tile.stroke(turned(fold, at, between(0, 6)), "thin")


def nut(tile: Tile) -> None:
    """Cut halves and bits in their own dust: pressed nut."""
    for at in tile.scatter(21, squash=1.15):
        whole, angle = tile.chance.share() < 0.6, tile.chance.between(0, pi)
        size = tile.chance.between(6.2, 8.6)
        if whole:
            back = [(cos(i * pi / 6), 0.92 * sin(i * pi / 6)) for i in range(7)]
            half = [(size * u, size * v) for u, v in back]
            tile.stroke(turned([*half, half[0]], at, angle), closed=True)
            heart = [(-size * 0.5, size * 0.33), (0.0, size * 0.45)]
            heart += [(size * 0.5, size * 0.3)]
            tile.stroke(turned(heart, at, angle), "thin")
        else:
            bit = tile.round((size * 0.62, size * 0.45), rough=0.25, corners=5)
            tile.stroke(turned(bit, at, angle), closed=True)
    for at in tile.scatter(8):
        tile.dot(at, 0.3, "thin")


def seed(tile: Tile) -> None:
    """Pointed seeds in a paste: tahini, poppy, sunflower."""
    for at in tile.scatter(14, squash=1.1):
        angle, long = tile.chance.between(0, pi), tile.chance.between(3.1, 4.0)
        shape = ((-1, 0), (-0.1, -0.5), (0.75, -0.42), (1, 0), (0.75, 0.42))
        drop = [(long * u, long * v) for u, v in (*shape, (-0.1, 0.5))]
        tile.stroke(turned(drop, at, angle), closed=True)
    for i in range(4):
        start = (tile.chance.between(0, tile.width), tile.height * (i + 0.5) / 4)
        tile.dash(start, tile.width * 0.4, 1, "thin", step=14)


def brittle(tile: Tile) -> None:
    """Cracks from knot to knot, glints on the faces: brittle, hard caramel."""
    knots = tile.scatter(27, squash=1.2)
    pairs = {
        (min(i, j), max(i, j)) for i in range(len(knots)) for j in _next(tile, knots, i)
    }
    for i, j in sorted(pairs):
        x, y = knots[i]
        dx, dy = _way(tile, knots[i], knots[j])
        bend = tile.chance.between(-0.066, 0.066)
        middle = (x + dx / 2 - dy * bend, y + dy / 2 + dx * bend)
        tile.stroke([knots[i], middle, (x + dx, y + dy)], straight=True)
    for at in tile.scatter(24):
        angle = tile.chance.between(0.6, 1.1)
        for beside in (0.0, 3.0):
            glint = [(beside, 0.0), (beside + 5 * cos(angle), -5 * sin(angle))]
            tile.stroke(turned(glint, at, 0), "thin", straight=True)


def sponge(tile: Tile) -> None:
    """Pores of three sizes: sponge, blondie, cake."""
    pores: list[tuple[Point, float]] = []
    for gap, least, most in ((21.0, 3.6, 5.4), (13.0, 1.6, 2.6), (8.5, 0.6, 1.1)):
        for at in tile.scatter(gap, squash=1.2):
            if any(
                tile.near(at, [other], radius + most + 1.2) for other, radius in pores
            ):
                continue
            radius = tile.chance.between(least, most)
            pores.append((at, radius))
            pore = turned(
                tile.round((radius, radius * 0.78), corners=7 if radius > 1.4 else 5),
                at,
                tile.chance.about(0.3),
            )
            tile.stroke(pore, "line" if radius > 1.4 else "thin", closed=True)


def fudge(tile: Tile) -> None:
    """Rows of grain: fudge, fondant, marzipan."""
    rows, columns = 10, 16
    for i in range(rows * columns):
        row, column = divmod(i, columns)
        x = tile.width * (column + row % 2 / 2) / columns
        y = tile.height * (row + 0.5) / rows
        loose = tile.chance.between
        at = (x + loose(-1.1, 1.1), y + loose(-1.0, 1.0))
        tile.dot(at, 0.35, "dot" if tile.chance.share() < 0.6 else "thin")


def _way(tile: Tile, start: Point, end: Point) -> Point:
    """The shorter way from one point to another, over an edge if need be."""
    w, h = tile.width, tile.height
    dx = (end[0] - start[0] + w / 2) % w - w / 2
    dy = (end[1] - start[1] + h / 2) % h - h / 2
    return dx, dy


def _next(tile: Tile, knots: list[Point], i: int) -> list[int]:
    """The three knots nearest to this one, no two of them in nearly the same line."""
    ways = {j: _way(tile, knots[i], knots[j]) for j in range(len(knots)) if j != i}
    near = sorted(ways, key=lambda j: hypot(*ways[j]))[:4]
    angles = {j: atan2(ways[j][1], ways[j][0]) for j in near}
    crowded = {
        max(a, b, key=lambda j: hypot(*ways[j]))
        for a, b in combinations(near, 2)
        if cos(angles[a] - angles[b]) > 0.94
    }
    return [j for j in near if j not in crowded][:3]
