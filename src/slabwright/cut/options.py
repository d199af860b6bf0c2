"""What else would do for pieces in a range of masses, best first."""

from dataclasses import dataclass

from slabwright.cut.between import Wish, choices
from slabwright.cut.cutting import mm
from slabwright.cut.request import CutRequest
from slabwright.cut.rooms import rooms, stays_round
from slabwright.cut.spread import Evenness, spread
from slabwright.cut.wedge import wedge_options
from slabwright.slab.tin import Tin


@dataclass(frozen=True, slots=True)
class Option:
    """One way to cut that gives pieces in the range."""

    said: str
    """As a card says it: `6 x 4`, `24 wedges`."""
    pieces: int
    words: str
    """What the pieces are: `48.3 × 47.5 mm`."""
    share: float
    """Mean share of a piece of one slab's mass."""
    in_range: float
    """How many of all pieces lie in the range."""
    reached: float
    """The share that 99 of 100 pieces reach."""


def options(
    request: CutRequest,
    tin: Tin,
    slab_height_mm: float,
    slab_mass_g: float,
    evenness: Evenness,
) -> tuple[Option, ...]:
    """Every cut worth a look for a range of masses; the first is the one chosen.

    Args:
        request: pieces in a range of masses; any other gives nothing.
        tin: one tin.
        slab_height_mm: height of the slab [mm].
        slab_mass_g: mass of the slab in that tin [g].
        evenness: how level it is, how true the knife is placed.

    Raises:
        GeometryError: if nothing will do.
    """
    if request.between_g is None or tin.divided:
        return ()
    low, high = request.between_g
    least_mm = request.least_mm or 0.0
    wish = Wish(low / slab_mass_g, high / slab_mass_g, least_mm, evenness)
    if stays_round(request, tin):
        found = wedge_options(request, tin, slab_height_mm, wish)
        return tuple(
            Option(
                f"{made.pieces} wedges",
                made.pieces,
                made.words,
                made.kept_share / made.pieces,
                in_range,
                spread(made, tin, slab_height_mm, evenness).reached_by(),
            )
            for made, in_range in found
        )
    grids = choices(*rooms(request, tin), tin, slab_height_mm, wish)
    return tuple(
        Option(
            f"{one.grid.along.pieces} x {one.grid.across.pieces}",
            one.grid.pieces,
            f"{mm(one.grid.along.piece_mm)} × {mm(one.grid.across.piece_mm)} mm",
            one.share,
            one.in_range,
            one.spread.reached_by(),
        )
        for one in grids
    )
