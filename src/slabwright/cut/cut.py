"""A slab and how it is asked to be cut, to the pieces that it gives."""

from dataclasses import replace
from math import inf

from slabwright.cut.between import Wish
from slabwright.cut.cells import cells
from slabwright.cut.cutting import Cutting, mm
from slabwright.cut.request import CutRequest
from slabwright.cut.rooms import stays_round
from slabwright.cut.spread import Evenness
from slabwright.cut.straight import cut_straight
from slabwright.cut.strips import cut_strips
from slabwright.cut.wedge import cut_wedges
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin


def cut(
    request: CutRequest,
    tin: Tin,
    slab_height_mm: float,
    slab_mass_g: float | None = None,
    evenness: Evenness | None = None,
) -> Cutting:
    """How the slab that stands in this tin is cut; several alike tins all in one way.

    Grid and trim are measured at the base. Without trim a sloping edge stays on the
    edge pieces; with trim all that lies outside the trimmed rectangle (or circle) goes.

    Args:
        request: how it is to be cut, as the card says.
        tin: the tin that it stands in, or so many alike.
        slab_height_mm: height of the whole slab [mm].
        slab_mass_g: mass of all that stands in the tin, or in them all [g]; needed for
            pieces of a mass.
        evenness: how level it is and how true the knife is placed, for pieces in a
            range of masses; the usual if None.

    Raises:
        GeometryError: for a cut or trim that is larger than the slab, pieces that are
            too small to cut or thinner than the knife, a shape that the slab's own
            does not allow, or a mass that is asked for and not known.

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
    one_g = None if slab_mass_g is None else slab_mass_g / tin.count
    wish = _wish(request, one_g, evenness or Evenness())
    one = tin.one
    if one.divided:
        made = _cells(request, one)
    elif stays_round(request, one):
        strips = request.strips or request.strip_mm
        made = (
            cut_strips(request, one, slab_height_mm)
            if strips
            else cut_wedges(request, one, slab_height_mm, wish)
        )
    else:
        made = cut_straight(request, one, slab_height_mm, wish)
    _insist_on_thin_knife(request, made)
    if wish is not None:
        made = _weighed(made, request, one_g or 0.0)
    if tin.count > 1:
        note = f"in each of {tin.count} tins: {made.note}"
        pieces = made.pieces * tin.count
        made = replace(made, pieces=pieces, tins=tin.count, note=note)
    return made


def _wish(request: CutRequest, slab_g: float | None, evenness: Evenness) -> Wish | None:
    """Which share of the slab's mass a piece should have, where that was asked."""
    if request.piece_g is None:
        return None
    if slab_g is None or not 0 < slab_g < inf:
        raise GeometryError(
            Mistake(
                f"Pieces of {request.piece_g:g} g need the slab's mass, "
                "which is not known.",
                "Weigh every line, or write how many pieces: cut 20 pieces.",
            )
        )
    low, high = request.between_g or (request.piece_g, request.piece_g)
    return Wish(low / slab_g, high / slab_g, request.least_mm or 0.0, evenness)


def _cells(request: CutRequest, tin: Tin) -> Cutting:
    made = cells(tin)
    if request.grid == tin.cells or request.piece_g or request.pieces == made.pieces:
        return made
    raise GeometryError(
        Mistake(
            f"The tin is divided: its {made.along} × {made.across} cells are the "
            "pieces.",
            f"Take the cut out, or write cut {made.along} x {made.across}.",
        )
    )


def _insist_on_thin_knife(request: CutRequest, made: Cutting) -> None:
    sizes = (made.piece_length_mm, made.piece_width_mm, request.diamond_mm)
    least_mm = min((size for size in sizes if size), default=inf)
    if request.knife_mm >= least_mm and made.strokes:
        raise GeometryError(
            Mistake(
                f"The knife takes {mm(request.knife_mm)} mm from every cut: more than "
                f"a piece of {mm(least_mm)} mm.",
                "Give the width of the cut that the blade leaves: knife 1 mm.",
            )
        )


def _weighed(made: Cutting, request: CutRequest, slab_g: float) -> Cutting:
    """The same, with what a piece weighs in its note."""
    each_g = slab_g * made.kept_share / made.pieces
    words = f"{each_g:.1f} g each on average"
    if request.between_g is None:
        words += f", nearest to {request.piece_g:g} g"
    return replace(made, note=f"{made.note}; {words}")
