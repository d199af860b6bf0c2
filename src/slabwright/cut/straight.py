"""A slab with straight edges, cut in a grid, in triangles or in diamonds."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import degrees

from slabwright.cut.between import Wish, choices
from slabwright.cut.cutting import Cutting, Shape, mm
from slabwright.cut.diamonds import lattice
from slabwright.cut.diamonds_laid import diamond_pieces
from slabwright.cut.grid import (
    LONGEST,
    Grid,
    exact,
    fingers,
    near_counts,
    of_size,
    squarest,
    strips_of,
)
from slabwright.cut.laid import diagonals, grid_pieces, triangle_size_mm, triangles
from slabwright.cut.piece import Piece
from slabwright.cut.request import CutRequest
from slabwright.cut.rooms import rooms
from slabwright.cut.shares import Shares, of_mass, shares
from slabwright.cut.side import Room
from slabwright.cut.strokes import Frame, Strokes, grid_strokes
from slabwright.slab.tin import Tin

_UNEVEN = 0.95
"""A lightest piece below this share of the mean is worth a word. Our own limit."""


def cut_straight(
    request: CutRequest, tin: Tin, height_mm: float, wish: Wish | None
) -> Cutting:
    """How a slab is cut that has straight edges, or is trimmed to them.

    Args:
        request: how it is to be cut.
        tin: the tin that it stands in.
        height_mm: height of the slab [mm].
        wish: which share of the slab's mass a piece should have, where that was asked.

    Raises:
        GeometryError: for pieces that do not fit, or are too small to cut.
    """
    room = rooms(request, tin)
    frame = None
    if tin.shape == "round":  # slanted strokes are marked on the rectangle that is left
        low = (room[0].trim_mm, room[1].trim_mm)
        frame = Frame(low, (tin.length_mm - low[0], tin.width_mm - low[1]))
    if request.diamond_mm is not None:
        return _diamonds(request, room, tin, height_mm, frame)
    grid, note = _chosen(request, room, tin, height_mm, wish)
    share = shares(grid, tin, height_mm)
    if request.triangles:
        return _triangles(grid, request.triangles, tin, height_mm, frame, share)
    made = grid_strokes(grid.along, grid.across)
    pieces = grid_pieces(grid, made, share.each)
    length_mm, width_mm = grid.along.piece_mm, grid.across.piece_mm
    cutting = _cutting("grid", made, pieces, share, note, is_round=frame is not None)
    return replace(
        cutting,
        along=grid.along.pieces,
        across=grid.across.pieces,
        piece_length_mm=length_mm,
        piece_width_mm=width_mm,
        piece_area_mm2=length_mm * width_mm,
        cuts_along_mm=grid.along.cuts_mm,
        cuts_across_mm=grid.across.cuts_mm,
        words=f"{mm(length_mm)} × {mm(width_mm)} mm",
        note="; ".join((note, *_left_over(grid), *_uneven(share))),
    )


def _triangles(
    grid: Grid,
    each: int,
    tin: Tin,
    height_mm: float,
    frame: Frame | None,
    share: Shares,
) -> Cutting:
    square_mm, knife_mm = grid.along.piece_mm, grid.along.room.knife_mm
    size_mm = triangle_size_mm(square_mm, each, knife_mm)
    made = grid_strokes(grid.along, grid.across)
    diagonals(grid, made, frame, each)
    pieces, share = triangles(grid, tin, height_mm, made, each, share)
    side = "short" if each == 2 else "long"
    words = f"triangles, {side} side {mm(size_mm)} mm"
    squares = (
        f"{grid.along.pieces} × {grid.across.pieces} squares of {mm(square_mm)} mm"
    )
    note = f"{squares}, each in {each} triangles"
    return replace(
        _cutting("triangles", made, pieces, share, note, is_round=frame is not None),
        piece_area_mm2=size_mm**2 / each,
        cuts_along_mm=grid.along.cuts_mm,
        cuts_across_mm=grid.across.cuts_mm,
        words=words,
        note="; ".join((note, *_left_over(grid), *_uneven(share))),
    )


def _diamonds(
    request: CutRequest,
    room: tuple[Room, Room],
    tin: Tin,
    height_mm: float,
    frame: Frame | None,
) -> Cutting:
    found = lattice(room, request.diamond_mm or 0.0, request.angle_deg)
    made, pieces, share = diamond_pieces(found, tin, height_mm, frame)
    way = "across the width" if found.turned else "along the length"
    note = f"{found.pieces} whole {found.words}, in rows {way}"
    rows = found.rows
    if rows.strip_mm:
        edge = "at the right-hand end" if found.turned else "along the far edge"
        note += f"; {mm(rows.strip_mm)} mm strip left {edge}"
    cutting = _cutting(
        "diamonds", made, pieces, share, note, is_round=frame is not None
    )
    places = {
        edge: tuple(sorted(o.at_mm for o in made.made if o.edge == edge and o.at_mm))
        for edge in ("left", "near")
    }
    return replace(
        cutting,
        piece_angle_deg=degrees(found.angle),
        piece_area_mm2=found.side_mm * rows.piece_mm,
        cuts_along_mm=places["left"],
        cuts_across_mm=places["near"],
        words=found.words,
        note="; ".join((note, *_uneven(share))),
    )


def _chosen(
    request: CutRequest,
    room: tuple[Room, Room],
    tin: Tin,
    height_mm: float,
    wish: Wish | None,
) -> tuple[Grid, str]:
    """The grid that the request leads to, and why, in words."""
    if wish is not None and request.between_g:
        found = choices(*room, tin, height_mm, wish)
        grid = found[0].grid
        low, high = request.between_g
        others = f", the most of {len(found)} grids" if len(found) > 1 else ""
        return grid, (
            f"{grid.words}; {found[0].in_range:.0%} of the pieces between {low:g} and "
            f"{high:g} g{others}"
        )
    if wish is not None:
        grid = of_mass(*room, tin, height_mm, wish.low, wish.least_mm)
        return grid, grid.words
    if request.grid is not None:
        grid = exact(*room, request.grid)
        return grid, grid.words
    if request.strips is not None:
        grid = exact(*room, (request.strips, 1))
        return grid, f"{grid.words}, strips"
    if request.strip_mm is not None:
        grid = strips_of(*room, request.strip_mm)
        return grid, f"{grid.words.replace('piece', 'whole piece')}, strips"
    if request.piece_mm is not None:
        grid = of_size(*room, request.piece_mm)
        turned = grid.along.piece_mm != request.piece_mm[0]
        way = "; turned, for more of them" if turned else ""
        return grid, grid.words.replace("piece", "whole piece") + way
    pieces = request.pieces or 1
    if request.fingers:
        grid = fingers(*room, pieces)
        return grid, f"{grid.words}, the shortest fingers of that number"
    grid = squarest(*room, pieces)
    words = f"{grid.words}, nearest to square"
    near = near_counts(*room, pieces) if grid.aspect > LONGEST else None
    return grid, f"{words}; or {near.words}" if near else words


def _cutting(
    shape: Shape,
    made: Strokes,
    pieces: Sequence[Piece],
    share: Shares,
    words: str,
    *,
    is_round: bool,
) -> Cutting:
    """What is the same of every shape."""
    if is_round:
        made.end_at_rim()
    return Cutting(
        shape=shape,
        pieces=len(pieces),
        along=None,
        across=None,
        piece_length_mm=None,
        piece_width_mm=None,
        piece_angle_deg=None,
        piece_area_mm2=0.0,
        kept_share=share.kept,
        trim_share=share.trim,
        knife_share=share.knife,
        left_over_share=share.left_over,
        cuts_along_mm=(),
        cuts_across_mm=(),
        spread_low=share.low,
        spread_high=share.high,
        words=words,
        note=words,
        strokes=tuple(made.made),
        each=tuple(pieces),
    )


def _left_over(grid: Grid) -> Iterator[str]:
    if grid.along.strip_mm:
        yield f"{mm(grid.along.strip_mm)} mm strip left at the right-hand end"
    if grid.across.strip_mm:
        yield f"{mm(grid.across.strip_mm)} mm strip left along the far edge"


def _uneven(share: Shares) -> Iterator[str]:
    if share.low < _UNEVEN:
        yield f"lightest piece {share.low:.0%} of the mean"
