"""How a slab is to be cut, as a card says it, and how it is cut."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Literal

from slabwright.errors import GeometryError, Mistake

MOST_PIECES = 10_000
"""More pieces than this are not cut from one slab. Our own limit."""
SMALLEST_PIECE_MM = 5.0
"""No piece is narrower than this. Our own limit: nothing holds it together."""
_WAYS = "cut 5 x 4, cut 20 pieces, cut 58 x 47.5 mm, cut 75 g pieces or cut 12 wedges"


@dataclass(frozen=True, slots=True)
class CutRequest:
    """How a slab is to be cut, as written on the card: in exactly one of the ways."""

    along: int | None = None
    """Pieces along the tin's length, as written; always with `across`."""
    across: int | None = None
    pieces: int | None = None
    piece_length_mm: float | None = None
    piece_width_mm: float | None = None
    piece_g: float | None = None
    wedges: int | None = None
    trim_mm: float = 0.0
    """Taken off every side, measured at the base [mm]."""
    trim_to_mm: tuple[float, float] | None = None
    """What is left after trimming, length and width [mm]."""
    knife_mm: float = 0.0
    """Width that the knife takes from each inside cut [mm]."""

    def __post_init__(self) -> None:
        mistakes = (*_not_one_way(self), *_bad_counts(self), *_bad_sizes(self))
        if mistakes:
            raise GeometryError(*mistakes)

    @property
    def grid(self) -> tuple[int, int] | None:
        """Pieces along and across, if the card says them."""
        if self.along is None or self.across is None:
            return None
        return self.along, self.across

    @property
    def piece_mm(self) -> tuple[float, float] | None:
        """Size of a piece as written [mm], if the card says it."""
        if self.piece_length_mm is None or self.piece_width_mm is None:
            return None
        return self.piece_length_mm, self.piece_width_mm


@dataclass(frozen=True, slots=True)
class Cutting:
    """A slab cut up. The three shares of its volume come to 1."""

    shape: Literal["grid", "wedges"]
    pieces: int
    along: int | None
    """Pieces along the tin's length; None for wedges, like all that is a grid's."""
    across: int | None
    piece_length_mm: float | None
    piece_width_mm: float | None
    piece_angle_deg: float | None
    """Of a wedge, before the knife takes its part; None for a grid."""
    piece_area_mm2: float
    """Of a whole piece at the base, away from rounded corners [mm²]."""
    kept_share: float
    """What lies in pieces."""
    trim_share: float
    """Trimmed edges and left-over strips."""
    knife_share: float
    """What the inside cuts turn to crumbs; 0 for a knife without width."""
    cuts_along_mm: tuple[float, ...]
    """Where the knife goes, its middle, from the left edge of the base; trim too."""
    cuts_across_mm: tuple[float, ...]
    """The same from the near edge."""
    spread_low: float
    """Lightest piece relative to the mean, through rounded corners and slopes."""
    spread_high: float
    """Heaviest piece relative to the mean."""
    note: str
    """What was chosen, in words."""


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


def _not_one_way(request: CutRequest) -> Iterator[Mistake]:
    grid = (request.along, request.across)
    piece = (request.piece_length_mm, request.piece_width_mm)
    if any((first is None) != (second is None) for first, second in (grid, piece)):
        yield Mistake("A cut gives only one of its two numbers.", f"Write {_WAYS}.")
    ways = (grid, piece, (request.pieces,), (request.piece_g,), (request.wedges,))
    said = sum(any(part is not None for part in way) for way in ways)
    if said != 1:
        what = "A cut is asked for in several ways." if said else "A cut says no size."
        yield Mistake(what, f"Write one of: {_WAYS}.")
    if request.trim_mm and request.trim_to_mm:
        yield Mistake(
            "A cut says both trim and trim to.", "Keep one: trim 5 mm, or trim to."
        )


def _bad_counts(request: CutRequest) -> Iterator[Mistake]:
    counts = {
        "pieces along": request.along,
        "pieces across": request.across,
        "pieces": request.pieces,
        "wedges": request.wedges,
    }
    for name, count in counts.items():
        if count is not None and not (1 <= count <= MOST_PIECES and count % 1 == 0):
            yield Mistake(
                f"The number of {name} is {count:g}.",
                f"Give a whole number from 1 to {MOST_PIECES:,}.",
            )
    if request.grid and request.grid[0] * request.grid[1] > MOST_PIECES:
        yield Mistake(
            f"A grid of {request.along} × {request.across} has too many pieces.",
            f"Cut {MOST_PIECES:,} at most.",
        )


def _bad_sizes(request: CutRequest) -> Iterator[Mistake]:
    sizes = {
        "piece's length": (request.piece_length_mm, "mm"),
        "piece's width": (request.piece_width_mm, "mm"),
        "piece's mass": (request.piece_g, "g"),
    }
    for name, size_mm in zip(
        ("length", "width"), request.trim_to_mm or (), strict=False
    ):
        sizes[f"{name} to trim to"] = (size_mm, "mm")
    for name, (size, unit) in sizes.items():
        if size is not None and not 0 < size < inf:  # false for nan too
            yield Mistake(
                f"The {name} is {size:g} {unit}.", f"Give what it is, above 0 {unit}."
            )
    for name, size in (("trim", request.trim_mm), ("knife", request.knife_mm)):
        if not 0 <= size < inf:
            yield Mistake(f"The {name} is {size:g} mm.", "Give 0 mm or more.")
