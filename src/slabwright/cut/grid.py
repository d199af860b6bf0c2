"""Which grid a slab is cut in: counts, whole pieces of a size, nearest to square."""

from collections.abc import Iterator
from dataclasses import dataclass

from slabwright.cut.cutting import SMALLEST_PIECE_MM, mm, too_small
from slabwright.cut.request import MOST_PIECES
from slabwright.cut.side import Room, Side
from slabwright.errors import GeometryError, Mistake

LONGEST = 2.0
"""A piece longer than so many of its widths is a finger."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Pieces along and across a slab."""

    along: Side
    across: Side

    @property
    def pieces(self) -> int:
        """How many."""
        return self.along.pieces * self.across.pieces

    @property
    def aspect(self) -> float:
        """Long side of a piece over its short side."""
        sizes = self.along.piece_mm, self.across.piece_mm
        return max(sizes) / min(sizes)

    @property
    def words(self) -> str:
        """The grid in words."""
        size = f"{mm(self.along.piece_mm)} × {mm(self.across.piece_mm)} mm"
        if self.pieces == 1:
            return f"1 piece of {size}"
        return f"{self.along.pieces} × {self.across.pieces} pieces of {size}"


def exact(along: Room, across: Room, counts: tuple[int, int]) -> Grid:
    """The grid of so many pieces that uses up the whole trimmed slab.

    Raises:
        GeometryError: if its pieces would be narrower than any that can be cut.
    """
    sizes = along.piece_mm(counts[0]), across.piece_mm(counts[1])
    if min(sizes) < SMALLEST_PIECE_MM:
        raise too_small(min(sizes))
    return filling(along, across, counts)


def squarest(along: Room, across: Room, pieces: int) -> Grid:
    """The grid of exactly so many pieces that are nearest to square.

    Of two as near, the one with more pieces along the length.

    Raises:
        GeometryError: if no such grid has pieces that can be cut.
    """
    grids = list(_factor_grids(along, across, pieces))
    if not grids:
        near = near_counts(along, across, pieces)
        raise GeometryError(
            Mistake(
                f"No grid of {pieces} has pieces that can be cut: they would be "
                f"narrower than {SMALLEST_PIECE_MM:g} mm.",
                f"Cut {near.pieces}: {near.words}." if near else "Cut fewer.",
            )
        )
    return min(grids, key=lambda g: (round(g.aspect, 9), -g.along.pieces))


def fingers(along: Room, across: Room, pieces: int) -> Grid:
    """The grid of exactly so many fingers that are no longer than they must be.

    Raises:
        GeometryError: if no such grid has fingers that can be cut.
    """
    long = [g for g in _factor_grids(along, across, pieces) if g.aspect > LONGEST]
    if not long:
        what = f"No grid of {pieces} has fingers, longer than {LONGEST:g} widths."
        raise GeometryError(Mistake(what, "Write their size: cut fingers 100 x 25 mm."))
    return min(long, key=lambda g: (round(g.aspect, 9), -g.along.pieces))


def near_counts(along: Room, across: Room, pieces: int) -> Grid | None:
    """The grid of nearly so many pieces that are no fingers, for a count that has none.

    None if the next counts, two down to two up, have none either.
    """
    for count in (pieces + 1, pieces - 1, pieces + 2, pieces - 2):
        if 1 <= count <= MOST_PIECES:
            fit = [
                g for g in _factor_grids(along, across, count) if g.aspect <= LONGEST
            ]
            if fit:
                return min(fit, key=lambda g: g.aspect)
    return None


def of_size(along: Room, across: Room, piece_mm: tuple[float, float]) -> Grid:
    """The most whole pieces of this size, either way round; as written if both do.

    Raises:
        GeometryError: if not one of them fits, or if it is too small to cut.
    """
    one, other = piece_mm
    if min(one, other) < SMALLEST_PIECE_MM:
        raise too_small(min(one, other))
    grids = [
        Grid(Side(along, along.most(a), a), Side(across, across.most(b), b))
        for a, b in ((float(one), float(other)), (float(other), float(one)))
    ]
    best = max(grids, key=lambda grid: grid.pieces)  # the first of two as good
    pieces = best.pieces
    if not 1 <= pieces <= MOST_PIECES:
        size = f"{mm(one)} × {mm(other)} mm"
        room = f"{mm(along.left_mm)} × {mm(across.left_mm)} mm"
        what = f"{pieces or 'No'} pieces of {size} fit on the slab's {room}."
        do = "Cut larger pieces." if pieces else "Cut smaller pieces or trim less."
        raise GeometryError(Mistake(what, do))
    return best


def strips_of(along: Room, across: Room, width_mm: float) -> Grid:
    """Strips of a slab that is not round, cut the way that leaves less over.

    If both ways leave as much, they run across its length.

    Raises:
        GeometryError: if not one of them fits, or if they are too small to cut.
    """
    if width_mm < SMALLEST_PIECE_MM:
        raise too_small(width_mm)
    ways = [
        Grid(Side(along, along.most(width_mm), width_mm), _whole(across)),
        Grid(_whole(along), Side(across, across.most(width_mm), width_mm)),
    ]
    fit = [grid for grid in ways if 1 <= grid.pieces <= MOST_PIECES]
    if not fit:
        raise none_fit(width_mm, f"{mm(along.left_mm)} × {mm(across.left_mm)} mm")
    return min(fit, key=_left_over)


def _whole(room: Room) -> Side:
    return Side(room, 1, room.left_mm)


def _left_over(grid: Grid) -> float:
    return round(1 - grid.pieces * grid.along.piece_mm * grid.across.piece_mm
                 / (grid.along.room.left_mm * grid.across.room.left_mm), 9)  # fmt: skip


def none_fit(width_mm: float, room: str) -> GeometryError:
    """The error for strips wider than the slab."""
    what = f"No strip of {mm(width_mm)} mm fits on the slab's {room}."
    return GeometryError(Mistake(what, "Cut narrower ones or trim less."))


def filling(along: Room, across: Room, counts: tuple[int, int]) -> Grid:
    """The grid of so many pieces that use up all room, however small they come out."""
    a, b = counts
    return Grid(Side(along, a, along.piece_mm(a)), Side(across, b, across.piece_mm(b)))


def _factor_grids(along: Room, across: Room, pieces: int) -> Iterator[Grid]:
    for a in range(1, pieces + 1):
        if pieces % a == 0:
            grid = filling(along, across, (a, pieces // a))
            if min(grid.along.piece_mm, grid.across.piece_mm) >= SMALLEST_PIECE_MM:
                yield grid
