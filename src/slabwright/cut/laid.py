"""Pieces of a grid, and triangles from its squares, as they lie on the slab."""

from collections.abc import Iterator, Sequence
from math import inf, sqrt

from slabwright.cut.cutting import SMALLEST_PIECE_MM, mm, too_small
from slabwright.cut.grid import Grid
from slabwright.cut.piece import Piece
from slabwright.cut.polygon import FAR_MM, Polygon, clipped
from slabwright.cut.region import Interval
from slabwright.cut.request import MOST_PIECES
from slabwright.cut.shares import Shares, parted
from slabwright.cut.stroke import Point
from slabwright.cut.strokes import Frame, Strokes
from slabwright.cut.volume import Volumes
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin


def grid_pieces(grid: Grid, made: Strokes, shares: Sequence[float]) -> list[Piece]:
    """Every piece of a grid: column by column from the left, from the near edge on."""
    rows = list(zip(grid.across.starts_mm, range(grid.across.pieces), strict=True))
    size_x, size_y = grid.along.piece_mm, grid.across.piece_mm
    found = []
    each = iter(shares)
    for i, x in enumerate(grid.along.starts_mm):
        left, right = made.x_lines.get(i, 0), made.x_lines.get(i + 1, 0)
        for y, j in rows:
            near, far = made.y_lines.get(j, 0), made.y_lines.get(j + 1, 0)
            corners = (
                (x, y), (x + size_x, y), (x + size_x, y + size_y), (x, y + size_y),
            )  # fmt: skip
            at_edge = any(_at_edges(grid, i, j))
            found.append(Piece(corners, (near, right, far, left), next(each), at_edge))
    return found


def _at_edges(grid: Grid, i: int, j: int) -> tuple[bool, bool, bool, bool]:
    """Whether the near, right, far and left side of a cell is the slab's edge."""
    along, across = grid.along, grid.across
    return (
        j == 0,
        i == along.pieces - 1 and not along.rest_mm,
        j == across.pieces - 1 and not across.rest_mm,
        i == 0,
    )


# --- triangles --------------------


def diagonals(grid: Grid, made: Strokes, frame: Frame | None, each: int) -> None:
    """Cut every square from corner to corner, once or twice.

    The squares stand in line, so one stroke runs through all that touch by a corner.
    """
    n, m = grid.along.pieces, grid.across.pieces
    xs, ys = grid.along.starts_mm, grid.across.starts_mm
    size = grid.along.piece_mm
    for c in range(m - 1, -n, -1):  # from the far left corner to the near right one
        first = max(0, -c)
        last = min(n - 1, m - 1 - c)
        start = (xs[first], ys[first + c])
        end = (xs[last] + size, ys[last + c] + size)
        made.rising[c] = made.slanted(start, end, frame)
    for c in range(n + m - 1) if each > 2 else ():
        first = max(0, c - (m - 1))
        last = min(n - 1, c)
        start = (xs[first], ys[c - first] + size)
        end = (xs[last] + size, ys[c - last])
        made.falling[c] = made.slanted(start, end, frame)


def triangle_size_mm(square_mm: float, each: int, knife_mm: float) -> float:
    """Short sides of a triangle, or its long one for four of a square [mm].

    Raises:
        GeometryError: for triangles too small to cut.
    """
    off_mm = knife_mm / sqrt(2)
    size_mm = square_mm - (1 if each == 2 else 2) * off_mm
    height_mm = size_mm / sqrt(2) if each == 2 else size_mm / 2
    if height_mm < SMALLEST_PIECE_MM:
        raise too_small(height_mm)
    return size_mm


def triangles(
    grid: Grid, tin: Tin, height_mm: float, made: Strokes, each: int, of_grid: Shares
) -> tuple[list[Piece], Shares]:
    """The triangles of a grid of squares, and where the volume goes."""
    if grid.pieces * each > MOST_PIECES:
        what = f"{grid.pieces * each:,} triangles are too many to cut."
        raise GeometryError(Mistake(what, "Cut larger squares."))
    volumes = Volumes(tin, height_mm)
    found: list[Piece] = []
    for i, across in enumerate(grid.along.starts_mm):
        for j, up in enumerate(grid.across.starts_mm):
            for part in _parts(grid, made, (i, j), (across, up), each):
                corners, sides, edges, cell = part
                share = volumes.share(cell if edges else corners)
                found.append(Piece(corners, sides, share, edges))
    inside = of_grid.kept + of_grid.left_over + of_grid.knife
    return found, parted(
        [one.share for one in found],
        inside=inside,
        left_over=of_grid.left_over,
        has_knife=grid.along.room.knife_mm > 0,
    )


_Part = tuple[Polygon, tuple[int, ...], bool, Polygon]
"""A triangle, the strokes that made its sides, whether it lies at the slab's edge,
and it with all that hangs on its outer sides."""


def _parts(
    grid: Grid, made: Strokes, cell: tuple[int, int], corner: Point, each: int
) -> Iterator[_Part]:
    (i, j), (x, y) = cell, corner
    a, off = grid.along.piece_mm, grid.along.room.knife_mm / sqrt(2)
    near, far = made.y_lines.get(j, 0), made.y_lines.get(j + 1, 0)
    left, right = made.x_lines.get(i, 0), made.x_lines.get(i + 1, 0)
    is_near, is_right, is_far, is_left = _at_edges(grid, i, j)
    up = made.rising[j - i]
    wide = _reaching(grid.along.cells[i], x, x + a)
    high = _reaching(grid.across.cells[j], y, y + a)
    whole = ((wide[0], high[0]), (wide[1], high[0]), (wide[1], high[1]),
             (wide[0], high[1]))  # fmt: skip
    above = clipped(whole, 1, -1, x - y - off)  # beyond the rising diagonal
    below = clipped(whole, -1, 1, y - x - off)
    if each == 2:
        yield (
            ((x + off, y), (x + a, y), (x + a, y + a - off)),
            (near, right, up), is_near or is_right, below,
        )  # fmt: skip
        yield (
            ((x, y + off), (x + a - off, y + a), (x, y + a)),
            (up, far, left), is_far or is_left, above,
        )  # fmt: skip
        return
    down = made.falling[i + j]
    h = a / 2
    before, after = x + y + a - off, -(x + y + a) - off  # the falling diagonal
    yield (
        ((x + off, y), (x + a - off, y), (x + h, y + h - off)),
        (near, down, up), is_near, clipped(below, 1, 1, before),
    )  # fmt: skip
    yield (
        ((x + a, y + off), (x + a, y + a - off), (x + h + off, y + h)),
        (right, up, down), is_right, clipped(below, -1, -1, after),
    )  # fmt: skip
    yield (
        ((x + a - off, y + a), (x + off, y + a), (x + h, y + h + off)),
        (far, down, up), is_far, clipped(above, -1, -1, after),
    )  # fmt: skip
    yield (
        ((x, y + a - off), (x, y + off), (x + h - off, y + h)),
        (left, up, down), is_left, clipped(above, 1, 1, before),
    )  # fmt: skip


def _reaching(cell: Interval, low: float, high: float) -> Interval:
    """Both ends of a cell, from the left or near edge; far away where it has none."""
    return (
        -FAR_MM if cell[0] == -inf else low,
        FAR_MM if cell[1] == inf else high,
    )


def square_words(square_mm: float, each: int) -> str:
    """Triangles in words."""
    return f"{mm(square_mm)} mm squares, each in {each} triangles"
