"""Textures of poured, whipped and set layers: a mass that moves or shines."""

from math import cos, radians, sin

from slabwright.publish.drawing.texture_tiles import Pen, Tile, turned


def plain(tile: Tile) -> None:
    """A few dots: a layer of no known kind."""
    for at in tile.scatter(22):
        tile.dot(at, 0.4)


def caramel(tile: Tile) -> None:
    """Slow waves, few bubbles: soft caramel, butterscotch."""
    for i in range(6):
        y = tile.height * (i + 0.5) / 6
        tile.wave(y, 1.5, "thin" if i % 2 else "line", step=24)
    for at in tile.scatter(30):
        tile.ring(at, tile.chance.between(1.0, 2.2))


def ganache(tile: Tile) -> None:
    """Fine broken strokes: ganache, truffle."""
    between = tile.chance.between
    for i in range(13):
        y = tile.height * (i + 0.5) / 13
        x = between(0, tile.width)
        for _ in range(2):
            long = tile.width * between(0.30, 0.46)
            pen: Pen = "thin" if tile.chance.share() < 0.35 else "line"
            tile.dash((x, y + between(-0.4, 0.4)), long, 0.45, pen, step=18)
            x += long + between(4, 10)


def curd(tile: Tile) -> None:
    """Small arcs: curd, custard."""
    for at in tile.scatter(17, squash=1.25):
        half, lean = tile.chance.between(4, 6.4), tile.chance.about(0.35)
        arc = [(-half, 1.0), (-half * 0.4, -1.5), (half * 0.45, -1.4), (half, 0.9)]
        tile.stroke(turned(arc, at, lean))
    for at in tile.scatter(17):
        tile.dot(at, 0.3, "thin")


def jelly(tile: Tile) -> None:
    """Slanting glints and bubbles: fruit jelly."""
    for at in tile.scatter(25, squash=0.85):
        long = tile.chance.between(10, 20)
        angle = radians(62 + tile.chance.between(-3, 3))
        way = (cos(angle), -sin(angle))
        tile.stroke([at, (at[0] + long * way[0], at[1] + long * way[1])], straight=True)
        if tile.chance.share() < 0.6:
            x, y = at[0] + 4, at[1] - 1
            end = (x + long / 2 * way[0], y + long / 2 * way[1])
            tile.stroke([(x, y), end], "thin", straight=True)
    for at in tile.scatter(27):
        tile.ring(at, tile.chance.between(1.2, 2.1))


def cream(tile: Tile) -> None:
    """Soft peaks, each bending over: whipped cream, buttercream, mousse."""
    peak = ((-11, 4), (-5, 2.6), (-0.6, -1.6), (3.4, -3.4), (6.6, -1.8), (6, 0.9))
    rows, columns = 5, 4
    for i in range(rows * columns):
        row, column = divmod(i, columns)
        x = tile.width * (column + row % 2 / 2) / columns
        at = (x + tile.chance.between(-1.6, 1.6), tile.height * (row + 0.6) / rows)
        k = tile.chance.between(0.85, 1.1)
        pen: Pen = "line" if tile.chance.share() < 0.6 else "thin"
        bent = [(u * k, v * k) for u, v in (*peak, (3.6, 0.6))]
        tile.stroke(turned(bent, at, 0), pen)


def glaze(tile: Tile) -> None:
    """Close upright hatching, an engraver's dark: glaze, tempered chocolate."""
    count, lean = 16, 3.4
    for i in range(count):
        x = tile.width * (i + 0.5) / count + tile.chance.between(-0.4, 0.4)
        y = tile.chance.between(0, tile.height)
        bow = x + lean / 2 + tile.chance.between(-0.3, 0.3)
        long = tile.height
        tile.stroke([(x + lean, y), (bow, y + long * 0.45), (x, y + long * 0.93)])


def foam(tile: Tile) -> None:
    """Bubbles side by side: marshmallow, meringue, nougat."""
    for at in tile.scatter(12.4):
        radius = tile.chance.between(5.2, 6.6)
        bubble = tile.round((radius, radius * 0.95), rough=0.05)
        tile.stroke(turned(bubble, at, 0), "thin", closed=True)
    for at in tile.scatter(10):
        tile.ring(at, 1.0, "thin")
