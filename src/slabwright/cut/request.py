"""How a slab is asked to be cut, as a card says it: in exactly one of the ways."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from slabwright.errors import GeometryError, Mistake

MOST_PIECES = 10_000
"""More pieces than this are not cut from one slab. Our own limit."""
SHARPEST_DEG, BLUNTEST_DEG = 15.0, 85.0
"""Corners that a diamond may have. Our own limits: a sharper one breaks off, a blunter
one is a square."""
WAYS = "cut 5 x 4, cut 20 pieces, cut 58 x 47.5 mm, cut 75 g pieces or cut 12 wedges"
TRIANGLES = (2, 4)
"""So many triangles of each square: cut corner to corner once, or twice."""


@dataclass(frozen=True, slots=True)
class CutRequest:
    """How a slab is to be cut, as written on the card."""

    along: int | None = None
    """Pieces along the tin's length, as written; always with `across`."""
    across: int | None = None
    pieces: int | None = None
    piece_length_mm: float | None = None
    piece_width_mm: float | None = None
    piece_g: float | None = None
    piece_to_g: float | None = None
    """The upper end of a range of masses that begins at `piece_g` [g]."""
    wedges: int | None = None
    strips: int | None = None
    strip_mm: float | None = None
    """Width of strips, each from edge to edge [mm]."""
    diamond_mm: float | None = None
    """Width of diamonds, from side to side [mm]."""
    angle_deg: float | None = None
    """Their sharp corner; only with `diamond_mm`."""
    triangles: int | None = None
    """So many of each square; only with square pieces."""
    least_mm: float | None = None
    """No piece is narrower [mm]; only with a mass."""
    fingers: bool = False
    """Whether so many pieces are to be longer than two of their widths."""
    trim_mm: float = 0.0
    """Taken off every side, measured at the base [mm]."""
    trim_to_mm: tuple[float, float] | None = None
    """What is left after trimming, length and width [mm]."""
    knife_mm: float = 0.0
    """Width that the knife takes from each inside cut [mm]."""

    def __post_init__(self) -> None:
        mistakes = (
            *_not_one_way(self),
            *_bad_counts(self),
            *_bad_sizes(self),
            *_bad_company(self),
        )
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

    @property
    def between_g(self) -> tuple[float, float] | None:
        """The range that a piece's mass is to lie in [g], if the card says one."""
        if self.piece_g is None or self.piece_to_g is None:
            return None
        return self.piece_g, self.piece_to_g


def _not_one_way(request: CutRequest) -> Iterator[Mistake]:
    grid = (request.along, request.across)
    piece = (request.piece_length_mm, request.piece_width_mm)
    if any((first is None) != (second is None) for first, second in (grid, piece)):
        yield Mistake("A cut gives only one of its two numbers.", f"Write {WAYS}.")
    single = (
        request.pieces, request.piece_g, request.wedges, request.strips,
        request.strip_mm, request.diamond_mm,
    )  # fmt: skip
    ways = (grid, piece, *((one,) for one in single))
    said = sum(any(part is not None for part in way) for way in ways)
    if said != 1:
        what = "A cut is asked for in several ways." if said else "A cut says no size."
        yield Mistake(what, f"Write one of: {WAYS}.")
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
        "strips": request.strips,
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
    if request.triangles is not None and request.triangles not in TRIANGLES:
        yield Mistake(
            f"A square is to be cut into {request.triangles:g} triangles.",
            "Cut it into 2 or 4: corner to corner once, or twice.",
        )


def _bad_sizes(request: CutRequest) -> Iterator[Mistake]:
    sizes = {
        "piece's length": (request.piece_length_mm, "mm"),
        "piece's width": (request.piece_width_mm, "mm"),
        "piece's mass": (request.piece_g, "g"),
        "upper end of a piece's mass": (request.piece_to_g, "g"),
        "strips' width": (request.strip_mm, "mm"),
        "diamonds' width": (request.diamond_mm, "mm"),
        "least width": (request.least_mm, "mm"),
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
    angle = request.angle_deg
    if angle is not None and not SHARPEST_DEG <= angle <= BLUNTEST_DEG:
        yield Mistake(
            f"The diamonds' corner is {angle:g}°.",
            f"Give the sharp one, {SHARPEST_DEG:g} to {BLUNTEST_DEG:g}°: 60° is usual.",
        )


def _bad_company(request: CutRequest) -> Iterator[Mistake]:
    """What is said beside a way of cutting that it has no use for."""
    piece = request.piece_mm
    if request.triangles is not None and (piece is None or piece[0] != piece[1]):
        yield Mistake(
            "Triangles are cut from squares, and the cut says no square.",
            "Write cut squares 60 mm, each into 2 triangles.",
        )
    if request.angle_deg is not None and request.diamond_mm is None:
        yield Mistake(
            "Only diamonds have an angle.", "Write cut diamonds 40 mm, 60 degrees."
        )
    if request.least_mm is not None and request.piece_g is None:
        yield Mistake(
            "A least width needs a mass beside it.",
            "Write cut 60-75 g pieces, at least 40 mm.",
        )
    low, high = request.piece_g, request.piece_to_g
    if high is not None and (low is None or low > high):
        yield Mistake(
            f"A mass from {low or 0:g} to {high:g} g is no range.",
            "Write the lighter end first: 60-75 g.",
        )
