"""Diamonds: strips along one side, cut across at a slant; whole ones only.

That is how they are cut by hand, common practice, no source: strips first, then
strokes at one angle as far apart as the strips are wide, so that all four sides of a
piece are equal.
"""

from dataclasses import dataclass
from math import degrees, floor, radians, sin, tan

import numpy as np
from numpy.typing import NDArray

from slabwright.cut.cutting import SMALLEST_PIECE_MM, mm, too_small
from slabwright.cut.request import MOST_PIECES
from slabwright.cut.side import NEAR, Room, Side
from slabwright.errors import GeometryError, Mistake

USUAL_DEG = 60.0
"""Of the sharp corner where none is said. Common practice, no source."""
_PHASES = 400
"""So many rows are tried as the one that begins at the edge."""


@dataclass(frozen=True, slots=True)
class Lattice:
    """Diamonds in rows along one side of the slab; v counts rows, u runs along them."""

    along: Room
    rows: Side
    """The side across which the rows lie."""
    angle: float
    """Of the sharp corner [radians]."""
    phase_mm: float
    """Where the side of a diamond of the first row would meet the row's near edge."""
    turned: bool
    """Whether rows run across the slab's width."""

    @property
    def side_mm(self) -> float:
        """Of a diamond [mm]."""
        return self.rows.piece_mm / sin(self.angle)

    @property
    def lean_mm(self) -> float:
        """How far a slanted side runs along its row [mm]."""
        return self.rows.piece_mm / tan(self.angle)

    @property
    def pitch_mm(self) -> float:
        """From one slanted stroke to the next, along a row [mm]."""
        return (self.rows.piece_mm + self.along.knife_mm) / sin(self.angle)

    def shift_mm(self, row: int) -> float:
        """How far the strokes have leant until this row [mm]."""
        step_mm = self.rows.piece_mm + self.along.knife_mm
        return row * step_mm / tan(self.angle)

    def whole_in(self, row: int) -> range:
        """Numbers of the whole diamonds of a row."""
        free_mm = self.along.left_mm - self.side_mm - self.lean_mm
        begins_mm = self.phase_mm + self.shift_mm(row)
        tiny = NEAR * self.along.left_mm
        first = -floor((begins_mm + tiny) / self.pitch_mm)
        last = floor((free_mm - begins_mm + tiny) / self.pitch_mm)
        return range(first, last + 1)

    @property
    def pieces(self) -> int:
        """How many are whole."""
        return sum(len(self.whole_in(row)) for row in range(self.rows.pieces))

    @property
    def words(self) -> str:
        """One of them in words."""
        corner = round(degrees(self.angle), 1)
        return f"diamonds {mm(self.rows.piece_mm)} mm wide, {corner:g}°"


def lattice(
    rooms: tuple[Room, Room], width_mm: float, angle_deg: float | None
) -> Lattice:
    """The most whole diamonds; rows along the length if they are as good.

    Args:
        rooms: what the trim leaves of length and width.
        width_mm: of a diamond, from side to side [mm].
        angle_deg: its sharp corner [°]; the usual one if None.

    Raises:
        GeometryError: if none fits, or if they are too small or too many to cut.
    """
    if width_mm < SMALLEST_PIECE_MM:
        raise too_small(width_mm)
    angle = radians(angle_deg or USUAL_DEG)
    along, across = rooms
    found = [
        _most(one, other, width_mm, angle, turned=turned)
        for one, other, turned in ((along, across, False), (across, along, True))
    ]
    best = max(found, key=lambda one: one.pieces)  # the first of two as good
    pieces = best.pieces
    if not 1 <= pieces <= MOST_PIECES:
        room = f"{mm(along.left_mm)} × {mm(across.left_mm)} mm"
        what = f"{pieces or 'No'} whole {best.words} fit on the slab's {room}."
        do = "Cut larger ones." if pieces else "Cut smaller ones or trim less."
        raise GeometryError(Mistake(what, do))
    return best


def _most(
    along: Room, across: Room, width_mm: float, angle: float, *, turned: bool
) -> Lattice:
    """The lattice whose phase leaves the most whole.

    Some row begins or ends at an edge: else all strokes could be moved until one does.
    """
    rows = Side(across, across.most(width_mm), width_mm)
    flat = Lattice(along, rows, angle, 0.0, turned)
    pitch, tiny = flat.pitch_mm, NEAR * along.left_mm
    free_mm = along.left_mm - flat.side_mm - flat.lean_mm
    if free_mm < -tiny or not rows.pieces:
        return Lattice(along, Side(across, 0, width_mm), angle, 0.0, turned)
    shifts = np.array([flat.shift_mm(row) for row in range(rows.pieces)])
    some = shifts[:_PHASES]
    phases = np.concatenate((-some, free_mm - some)) % pitch
    phases = phases[np.unique(phases.round(6), return_index=True)[1]]
    best = int(np.argmax(_counts(phases, shifts, free_mm, pitch, tiny)))
    return Lattice(along, rows, angle, float(phases[best]), turned)


def _counts(
    phases: NDArray[np.float64],
    shifts: NDArray[np.float64],
    free_mm: float,
    pitch: float,
    tiny: float,
) -> NDArray[np.float64]:
    begins = phases[:, None] + shifts
    first = -np.floor((begins + tiny) / pitch)
    last = np.floor((free_mm - begins + tiny) / pitch)
    counts: NDArray[np.float64] = np.maximum(last - first + 1, 0).sum(axis=1)
    return counts
