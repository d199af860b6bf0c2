"""How a slab is cut: pieces, strokes of the knife, and where its volume goes."""

from dataclasses import dataclass, field
from typing import Literal

from slabwright.cut.piece import Piece
from slabwright.cut.stroke import Stroke
from slabwright.errors import GeometryError, Mistake

SMALLEST_PIECE_MM = 5.0
"""No piece is narrower than this. Our own limit: nothing holds it together."""
Shape = Literal["grid", "wedges", "strips", "triangles", "diamonds", "cells"]


@dataclass(frozen=True, slots=True)
class Cutting:
    """A slab cut up. The three shares of its volume come to 1."""

    shape: Shape
    pieces: int
    """In all tins together."""
    along: int | None
    """Pieces along the tin's length; None for all that is no grid, as below."""
    across: int | None
    piece_length_mm: float | None
    piece_width_mm: float | None
    piece_angle_deg: float | None
    """Of a wedge, before the knife takes its part, or of a diamond's sharp corner."""
    piece_area_mm2: float
    """Of a whole piece at the base, away from rounded corners [mm²]; of strips of a
    round slab, and of cells, the mean."""
    kept_share: float
    """What lies in pieces."""
    trim_share: float
    """Trimmed edges, left-over strips and off-cuts."""
    knife_share: float
    """What the inside cuts turn to crumbs; 0 for a knife without width."""
    left_over_share: float
    """The part of the trim that is left-over strips and off-cuts."""
    cuts_along_mm: tuple[float, ...]
    """Where the knife goes, its middle, from the left edge of the base; trim too."""
    cuts_across_mm: tuple[float, ...]
    """The same from the near edge."""
    spread_low: float
    """Lightest piece relative to the mean, through rounded corners and slopes."""
    spread_high: float
    """Heaviest piece relative to the mean."""
    words: str
    """What the pieces are, in words: 58 × 47.5 mm."""
    note: str
    """What was chosen, in words."""
    strokes: tuple[Stroke, ...] = field(repr=False)
    """In the knife's order."""
    each: tuple[Piece, ...] = field(repr=False)
    """The pieces of one tin, the one at the left and near corner first."""
    tins: int = 1
    """So many alike tins, all cut in this way."""

    @property
    def summary(self) -> str:
        """The pieces in a few words: `20 of 58 × 47.5 mm`, `12 wedges of 30°`."""
        joint = "of " if self.shape in {"grid", "cells"} else ""
        return f"{self.pieces} {joint}{self.words}"

    @property
    def more(self) -> str:
        """What the note says beyond the number and size of the pieces."""
        if self.tins > 1:
            return self.note
        at = "mm" if self.shape in {"grid", "cells"} else self.words
        _, found, rest = self.note.partition(at)
        return rest.lstrip(" ;,.:") if found else self.note

    @property
    def edge_pieces(self) -> int:
        """Pieces with a side on the slab's edge, trimmed or not."""
        return self.tins * sum(piece.at_edge for piece in self.each)


def mm(size_mm: float) -> str:
    """A size as it is read off a ruler: to a tenth of a millimetre.

    >>> mm(46.6667), mm(60.0)
    ('46.7', '60')
    """
    return f"{round(size_mm, 1):g}"


def too_small(piece_mm: float) -> GeometryError:
    """The error for pieces that nobody can cut."""
    return GeometryError(
        Mistake(
            f"The pieces would be {mm(max(piece_mm, 0))} mm wide.",
            f"Cut fewer or larger ones: {SMALLEST_PIECE_MM:g} mm is the narrowest.",
        )
    )
