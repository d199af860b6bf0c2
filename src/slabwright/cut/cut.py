"""A slab and how it is asked to be cut, to the grid or the wedges that it gives."""

from dataclasses import replace
from math import hypot, inf

from slabwright.cut.cutting import CutRequest, Cutting, mm
from slabwright.cut.grid import LONGEST, Grid, exact, near_counts, of_size, squarest
from slabwright.cut.shares import of_mass, shares
from slabwright.cut.side import NEAR, Room
from slabwright.cut.wedge import cut_wedges
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin

_UNEVEN = 0.95
"""A lightest piece below this share of the mean is worth a word. Our own limit."""


def cut(
    request: CutRequest,
    tin: Tin,
    slab_height_mm: float,
    slab_mass_g: float | None = None,
) -> Cutting:
    """How the slab that stands in this tin is cut.

    Grid and trim are measured at the base. Without trim a sloping edge stays on the
    edge pieces; with trim all that lies outside the trimmed rectangle (or circle) goes.

    Args:
        request: how it is to be cut, as the card says.
        tin: the tin that it stands in.
        slab_height_mm: height of the whole slab [mm].
        slab_mass_g: mass of the whole slab [g]; needed for pieces of a mass.

    Raises:
        GeometryError: for a cut or trim that is larger than the slab, pieces that are
            too small to cut, wedges of a slab that is not round, or a mass that is
            asked for and not known.

    >>> request = CutRequest(along=5, across=4, trim_mm=5)
    >>> made = cut(request, Tin.rectangular(300, 200), slab_height_mm=31)
    >>> made.pieces, made.piece_length_mm, made.piece_width_mm
    (20, 58.0, 47.5)
    """
    if not 0 < slab_height_mm < inf:  # false for nan too
        raise GeometryError(
            Mistake(
                f"The slab's height is {slab_height_mm:g} mm.",
                "Give its layers weights, so that it has a height above 0 mm.",
            )
        )
    wish = _wish(request, slab_mass_g)
    if tin.shape == "round" and request.trim_to_mm is None:
        made = cut_wedges(request, tin, slab_height_mm, wish)
        return made if wish is None else _weighed(made, request, slab_mass_g)
    if request.wedges is not None:
        raise GeometryError(
            Mistake(
                "Wedges are cut from a round slab that keeps its round edge.",
                f"Write cut {request.wedges} pieces, or cut 5 x 4.",
            )
        )
    rooms = _rooms(request, tin)
    grid, note = _chosen(request, rooms, tin, slab_height_mm, wish)
    made = _cutting(grid, tin, slab_height_mm, note)
    return made if wish is None else _weighed(made, request, slab_mass_g)


def _wish(request: CutRequest, slab_mass_g: float | None) -> float | None:
    """The share of the slab's mass that a piece should have, where that was asked."""
    if request.piece_g is None:
        return None
    if slab_mass_g is None or not 0 < slab_mass_g < inf:
        raise GeometryError(
            Mistake(
                f"Pieces of {request.piece_g:g} g need the slab's mass, "
                "which is not known.",
                "Weigh every line, or write how many pieces: cut 20 pieces.",
            )
        )
    return request.piece_g / slab_mass_g


def _rooms(request: CutRequest, tin: Tin) -> tuple[Room, Room]:
    """What the trim leaves of both sides for a grid."""
    trims_mm = (request.trim_mm, request.trim_mm)
    slab = f"the slab's {mm(tin.length_mm)} × {mm(tin.width_mm)} mm"
    if request.trim_to_mm:
        to = request.trim_to_mm
        to_words = f"{mm(to[0])} × {mm(to[1])} mm"
        diagonal_mm = hypot(*to)
        if tin.shape == "round" and diagonal_mm > tin.length_mm * (1 + NEAR):
            raise GeometryError(
                Mistake(
                    f"A rectangle of {to_words} is {mm(diagonal_mm)} mm from corner to "
                    f"corner: more than the round slab's {mm(tin.length_mm)} mm.",
                    "Trim to a smaller rectangle, or write cut 12 wedges.",
                )
            )
        trims_mm = ((tin.length_mm - to[0]) / 2, (tin.width_mm - to[1]) / 2)
        if min(trims_mm) < -NEAR * tin.length_mm:
            raise GeometryError(
                Mistake(
                    f"To trim to {to_words} is more than {slab}.",
                    "Give no more than the slab has, its length first.",
                )
            )
    sides = zip((tin.length_mm, tin.width_mm), trims_mm, strict=True)
    rooms = [
        Room(float(size), float(trim) if trim > NEAR * size else 0.0, request.knife_mm)
        for size, trim in sides
    ]
    if min(room.left_mm for room in rooms) <= 0:
        raise GeometryError(
            Mistake(
                f"A trim of {mm(request.trim_mm)} mm from every side leaves nothing of "
                f"{slab}.",
                "Trim less.",
            )
        )
    return rooms[0], rooms[1]


def _chosen(
    request: CutRequest,
    rooms: tuple[Room, Room],
    tin: Tin,
    height_mm: float,
    wish: float | None,
) -> tuple[Grid, str]:
    """The grid that the request leads to, and why, in words."""
    if wish is not None:
        grid = of_mass(*rooms, tin, height_mm, wish)
        return grid, grid.words
    if request.grid is not None:
        grid = exact(*rooms, request.grid)
        return grid, grid.words
    if request.piece_mm is not None:
        grid = of_size(*rooms, request.piece_mm)
        turned = grid.along.piece_mm != request.piece_mm[0]
        way = "; turned, for more of them" if turned else ""
        return grid, grid.words.replace("piece", "whole piece") + way
    pieces = request.pieces or 1
    grid = squarest(*rooms, pieces)
    words = f"{grid.words}, nearest to square"
    near = near_counts(*rooms, pieces) if grid.aspect > LONGEST else None
    return grid, f"{words}; or {near.words}" if near else words


def _cutting(grid: Grid, tin: Tin, height_mm: float, note: str) -> Cutting:
    share = shares(grid, tin, height_mm)
    notes = [note]
    if grid.along.strip_mm:
        notes.append(f"{mm(grid.along.strip_mm)} mm strip left at the right-hand end")
    if grid.across.strip_mm:
        notes.append(f"{mm(grid.across.strip_mm)} mm strip left along the far edge")
    if share.low < _UNEVEN:
        notes.append(f"lightest piece {share.low:.0%} of the mean")
    return Cutting(
        shape="grid",
        pieces=grid.pieces,
        along=grid.along.pieces,
        across=grid.across.pieces,
        piece_length_mm=grid.along.piece_mm,
        piece_width_mm=grid.across.piece_mm,
        piece_angle_deg=None,
        piece_area_mm2=grid.along.piece_mm * grid.across.piece_mm,
        kept_share=share.kept,
        trim_share=share.trim,
        knife_share=share.knife,
        cuts_along_mm=grid.along.cuts_mm,
        cuts_across_mm=grid.across.cuts_mm,
        spread_low=share.low,
        spread_high=share.high,
        note="; ".join(notes),
    )


def _weighed(made: Cutting, request: CutRequest, slab_mass_g: float | None) -> Cutting:
    """The same, with what a piece weighs in its note."""
    each_g = (slab_mass_g or 0.0) * made.kept_share / made.pieces
    words = f"{each_g:.1f} g each on average, nearest to {request.piece_g:g} g"
    return replace(made, note=f"{made.note}; {words}")
