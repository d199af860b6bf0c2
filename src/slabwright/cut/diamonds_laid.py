"""Diamonds as they lie on the slab, the strokes that part them, and the off-cuts."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import inf, sin, tan

from slabwright.cut.diamonds import Lattice
from slabwright.cut.piece import Piece
from slabwright.cut.polygon import FAR_MM, Polygon, clipped
from slabwright.cut.region import Interval
from slabwright.cut.shares import Shares, parted
from slabwright.cut.side import Side
from slabwright.cut.stroke import Point
from slabwright.cut.strokes import Frame, Strokes, grid_strokes
from slabwright.cut.volume import Volumes
from slabwright.slab.tin import Tin


@dataclass(frozen=True, slots=True)
class _Plan:
    """From rows and what runs along them to the slab's own sides."""

    lattice: Lattice

    def point(self, u: float, v: float) -> Point:
        x, y = self.lattice.along.trim_mm + u, self.lattice.rows.room.trim_mm + v
        return (y, x) if self.lattice.turned else (x, y)

    def shape(self, corners: Polygon) -> Polygon:
        """Its corners on the slab, anticlockwise again if rows are turned."""
        moved = tuple(self.point(u, v) for u, v in corners)
        return (moved[0], *moved[:0:-1]) if self.lattice.turned else moved


def diamond_pieces(
    lattice: Lattice, tin: Tin, height_mm: float, frame: Frame | None
) -> tuple[Strokes, list[Piece], Shares]:
    """Strokes in order, whole diamonds row by row, and where the volume goes.

    Args:
        lattice: the diamonds.
        tin: the tin that the slab stands in.
        height_mm: height of the slab [mm].
        frame: whose edges slanted strokes are marked on; the slab's own if None.
    """
    plan, volumes = _Plan(lattice), Volumes(tin, height_mm)
    whole = Side(lattice.along, 1, lattice.along.left_mm)
    sides = (whole, lattice.rows)
    made = grid_strokes(*(sides[::-1] if lattice.turned else sides))
    slants = _slants(lattice, plan, made, frame)
    pieces: list[Piece] = []
    left_over = 0.0
    for row, band in enumerate(_bands(lattice.rows)):
        if row == lattice.rows.pieces:
            left_over += volumes.share(plan.shape(_box(whole.whole, lattice, band)))
            continue
        pieces += _row(lattice, plan, volumes, made, slants, row, band)
        for cell in _off_cuts(lattice, row, band, sorted(slants), whole.whole):
            left_over += volumes.share(plan.shape(cell))
    every = (whole.whole, lattice.rows.whole)
    inside = volumes.share(plan.shape(_box(every[0], lattice, _ends(lattice.rows))))
    shares = parted(
        [one.share for one in pieces],
        inside=inside,
        left_over=left_over,
        has_knife=lattice.along.knife_mm > 0,
    )
    return made, pieces, shares


def _ends(side: Side) -> Interval:
    """The trimmed side, from its near end, drawn out where it has no trim."""
    low, high = side.whole
    return -FAR_MM if low == -inf else 0.0, (
        FAR_MM if high == inf else side.room.left_mm
    )


def _bands(rows: Side) -> Iterator[Interval]:
    """From where to where each row goes, then the strip if there is one."""
    half_mm = rows.room.left_mm / 2
    for low, high in rows.cells:
        yield (
            -FAR_MM if low == -inf else low + half_mm,
            FAR_MM if high == inf else high + half_mm,
        )


def _box(along: Interval, lattice: Lattice, band: Interval) -> Polygon:
    low = -FAR_MM if along[0] == -inf else 0.0
    high = FAR_MM if along[1] == inf else lattice.along.left_mm
    return (low, band[0]), (high, band[0]), (high, band[1]), (low, band[1])


def _slants(
    lattice: Lattice, plan: _Plan, made: Strokes, frame: Frame | None
) -> dict[int, int]:
    """Every slanted stroke that bounds a whole diamond; its number, by its place."""
    rows = range(lattice.rows.pieces)
    wanted = {i for row in rows for i in lattice.whole_in(row)}
    step_mm = lattice.rows.piece_mm + lattice.along.knife_mm
    high_mm = lattice.rows.pieces * step_mm - lattice.along.knife_mm
    slope = tan(lattice.angle)
    numbers = {}
    for i in sorted(wanted | {i + 1 for i in wanted}):
        at_mm = lattice.phase_mm + i * lattice.pitch_mm
        at_mm -= lattice.along.knife_mm / (2 * sin(lattice.angle))
        low_v = max(0.0, -at_mm * slope)
        high_v = min(high_mm, (lattice.along.left_mm - at_mm) * slope)
        ends = [plan.point(at_mm + v / slope, v) for v in (low_v, high_v)]
        numbers[i] = made.slanted(ends[0], ends[1], frame)
    return numbers


def _row(
    lattice: Lattice,
    plan: _Plan,
    volumes: Volumes,
    made: Strokes,
    slants: dict[int, int],
    row: int,
    band: Interval,
) -> Iterator[Piece]:
    """The whole diamonds of a row."""
    w, s, lean = lattice.rows.piece_mm, lattice.side_mm, lattice.lean_mm
    v = lattice.rows.starts_mm[row] - lattice.rows.room.trim_mm
    lines = made.x_lines if lattice.turned else made.y_lines
    near, far = lines.get(row, 0), lines.get(row + 1, 0)
    at_edge = row == 0 or (row == lattice.rows.pieces - 1 and not lattice.rows.rest_mm)
    hangs = band != (v, v + w) and at_edge
    for i in lattice.whole_in(row):
        u = lattice.phase_mm + lattice.shift_mm(row) + i * lattice.pitch_mm
        corners = ((u, v), (u + s, v), (u + s + lean, v + w), (u + lean, v + w))
        sides = (near, slants[i + 1], far, slants[i])
        cell = _between(lattice, band, i, i + 1) if hangs else corners
        yield Piece(
            plan.shape(corners),
            sides[::-1] if lattice.turned else sides,
            volumes.share(plan.shape(cell)),
            at_edge,
        )


def _between(
    lattice: Lattice, band: Interval, first: int | None, last: int | None
) -> Polygon:
    """What of a row lies between two slanted strokes; without one, all beyond."""
    lean = 1 / tan(lattice.angle)
    reach = FAR_MM * (1 + lean)
    cell: Polygon = (
        (-reach, band[0]),
        (reach, band[0]),
        (reach, band[1]),
        (-reach, band[1]),
    )
    if first is not None:
        least = lattice.phase_mm + first * lattice.pitch_mm
        cell = clipped(cell, -1, lean, -least)
    if last is not None:
        most = lattice.phase_mm + last * lattice.pitch_mm
        most -= lattice.along.knife_mm / sin(lattice.angle)
        cell = clipped(cell, 1, -lean, most)
    return cell


def _off_cuts(
    lattice: Lattice, row: int, band: Interval, slants: list[int], along: Interval
) -> Iterator[Polygon]:
    """What of a row lies in no whole diamond."""
    whole = lattice.whole_in(row)
    ends: list[tuple[int | None, int | None]] = [(None, slants[0])]
    ends += [(a, b) for a, b in pairwise(slants) if a not in whole]
    ends.append((slants[-1], None))
    low = -FAR_MM if along[0] == -inf else 0.0
    high = FAR_MM if along[1] == inf else lattice.along.left_mm
    for first, last in ends:
        cell = clipped(_between(lattice, band, first, last), -1, 0, -low)
        cell = clipped(cell, 1, 0, high)
        if cell:
            yield cell
