"""One side of a slab: the room that the trim leaves, and the pieces along it."""

from dataclasses import dataclass
from math import floor
from typing import Literal

from slabwright.cut.region import EVERYWHERE, Interval

NEAR = 1e-9
"""Sums of sizes in floats agree to this: pieces that fit exactly all fit."""
_STRIP_MM = 1e-6
"""A strip thinner than this is the rounding of a sum."""


@dataclass(frozen=True, slots=True)
class Room:
    """What a grid may use of one side of the slab, and the knife that cuts it."""

    slab_mm: float
    """Size of the slab at the base [mm]."""
    trim_mm: float
    """Taken off at each end [mm]."""
    knife_mm: float

    @property
    def left_mm(self) -> float:
        """What the trim leaves [mm]."""
        return self.slab_mm - 2 * self.trim_mm

    def piece_mm(self, count: int) -> float:
        """Size of each of so many pieces that use it all up [mm]."""
        return (self.left_mm - (count - 1) * self.knife_mm) / count

    def most(self, piece_mm: float) -> int:
        """How many whole pieces of this size there are room for."""
        fits = (self.left_mm + self.knife_mm) / (piece_mm + self.knife_mm)
        return floor(fits * (1 + NEAR))


@dataclass(frozen=True, slots=True)
class Mark:
    """A place for the knife along one side."""

    what: Literal["trim", "strip", "cut"]
    at_mm: float
    """From this side's near end, the middle of the knife; of a trim, its inner face."""
    line: int | None
    """It lies before the piece of this number; after the last it is their count. None
    for a trim beyond a left-over strip: no piece touches it."""


@dataclass(frozen=True, slots=True)
class Side:
    """The pieces along one side of the slab, and a strip if one is left over."""

    room: Room
    pieces: int
    piece_mm: float

    @property
    def rest_mm(self) -> float:
        """Left beyond the last piece, before the knife takes its part [mm]."""
        step_mm = self.piece_mm + self.room.knife_mm
        rest_mm = self.room.left_mm - self.pieces * step_mm + self.room.knife_mm
        return rest_mm if rest_mm > _STRIP_MM else 0.0

    @property
    def strip_mm(self) -> float:
        """The left-over strip [mm]; 0 where the pieces use up the whole side."""
        return max(self.rest_mm - self.room.knife_mm, 0.0)

    @property
    def whole(self) -> Interval:
        """The trimmed side; without trim a sloping edge belongs to it."""
        if not self.room.trim_mm:
            return EVERYWHERE
        return -self.room.left_mm / 2, self.room.left_mm / 2

    @property
    def cells(self) -> list[Interval]:
        """From where to where each piece goes, then the strip if there is one."""
        start_mm, step_mm = -self.room.left_mm / 2, self.piece_mm + self.room.knife_mm
        lows = [start_mm + i * step_mm for i in range(self.pieces)]
        cells = [(low, low + self.piece_mm) for low in lows]
        cells[0] = (self.whole[0], cells[0][1])
        if not self.rest_mm:
            cells[-1] = (cells[-1][0], self.whole[1])
            return cells
        end_mm = self.room.left_mm / 2
        return [*cells, (end_mm - self.strip_mm, max(end_mm, self.whole[1]))]

    @property
    def starts_mm(self) -> list[float]:
        """Where each piece begins, from this side's near end [mm]."""
        step_mm = self.piece_mm + self.room.knife_mm
        return [self.room.trim_mm + i * step_mm for i in range(self.pieces)]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Where the middle of the knife goes, from this side's near end."""
        room = self.room
        step_mm = self.piece_mm + room.knife_mm
        end_mm = room.slab_mm - room.trim_mm
        found = [
            Mark("cut", room.trim_mm + i * step_mm - room.knife_mm / 2, i)
            for i in range(1, self.pieces)
        ]
        if self.rest_mm:
            kerf_mm = self.rest_mm - self.strip_mm
            at_mm = end_mm - self.strip_mm - kerf_mm / 2
            found.append(Mark("strip", at_mm, self.pieces))
        if not room.trim_mm:
            return tuple(found)
        last = None if self.rest_mm else self.pieces
        return (Mark("trim", room.trim_mm, 0), *found, Mark("trim", end_mm, last))

    @property
    def cuts_mm(self) -> tuple[float, ...]:
        """The places of all marks [mm]."""
        return tuple(mark.at_mm for mark in self.marks)
