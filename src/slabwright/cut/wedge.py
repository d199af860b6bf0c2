"""A round slab cut from the middle to the rim."""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import replace
from math import asin, floor, inf, pi, sin, sqrt, tan

from slabwright.cut.between import Wish
from slabwright.cut.cutting import SMALLEST_PIECE_MM, Cutting, mm, too_small
from slabwright.cut.piece import Piece
from slabwright.cut.region import slices
from slabwright.cut.request import MOST_PIECES, CutRequest
from slabwright.cut.shares import FAR, no_such_mass
from slabwright.cut.side import NEAR
from slabwright.cut.spread import spread
from slabwright.cut.wedges_laid import wedge_pieces, wedge_strokes
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin

_FEW = 12
"""So many counts of wedges are looked at for a range of masses."""


def wedge_area_mm2(radius_mm: float, wedges: int, knife_mm: float) -> float:
    """Area of one of so many equal wedges, less what the knife takes [mm²].

    The knife takes half its width h from each straight side, so a half wedge is what
    lies farther than h from the radius and within the half angle α = π / n of it:
    ∫ ½ (R² - (h / sin φ)²) dφ from asin(h / R) to α. Twice that is exactly
    R² (α - asin(h / R)) - h √(R² - h²) + h² / tan α: to first order the sector less
    knife × R, one radius of kerf a wedge.

    Args:
        radius_mm: of the slab [mm].
        wedges: how many; one is the whole slab.
        knife_mm: width that the knife takes [mm], below 2 R sin(π / n).
    """
    if wedges == 1:
        return pi * radius_mm**2
    half_mm, half_angle = knife_mm / 2, pi / wedges
    angle = half_angle - asin(half_mm / radius_mm)
    sides_mm2 = half_mm * sqrt(radius_mm**2 - half_mm**2)
    return radius_mm**2 * angle - sides_mm2 + half_mm**2 / tan(half_angle)


def cut_wedges(
    request: CutRequest, tin: Tin, height_mm: float, wish: Wish | None
) -> Cutting:
    """A round slab in wedges: so many, or as many as bring them nearest to a mass.

    In a range of masses, as many as leave most wedges within it.

    Args:
        request: how it is to be cut.
        tin: the round tin that it stands in.
        height_mm: height of the slab [mm].
        wish: which share of the slab's mass a piece should have, where that was asked.

    Raises:
        GeometryError: for wedges too thin to cut, or too many of them.
    """
    radius_mm = tin.length_mm / 2 - request.trim_mm
    wedges = request.wedges or request.pieces
    if wedges is not None or wish is None:
        return _cutting(request, tin, height_mm, wedges or 1, radius_mm)
    if wish.low == wish.high:
        best = _of_mass(request, tin, height_mm, radius_mm, wish)
        return _cutting(request, tin, height_mm, best, radius_mm)
    found = wedge_options(request, tin, height_mm, wish)
    made, in_range = found[0]
    others = f", the most of {len(found)} counts" if len(found) > 1 else ""
    note = f"{made.note}; {in_range:.0%} of them in the range of masses{others}"
    return replace(made, note=note)


def wedge_options(
    request: CutRequest, tin: Tin, height_mm: float, wish: Wish
) -> tuple[tuple[Cutting, float], ...]:
    """Every count of wedges in a range of masses, most of them within it first.

    Returns:
        How it is cut, and how many of all wedges lie in the range.

    Raises:
        GeometryError: if no count of wedges comes to such a mass.
    """
    radius_mm = tin.length_mm / 2 - request.trim_mm
    share = _share_of(request, tin, height_mm, radius_mm)
    counts = range(1, _most(radius_mm, request.knife_mm) + 1)
    first = bisect_left(counts, -wish.high * (1 + NEAR), key=lambda n: -share(n))
    found: list[tuple[Cutting, float]] = []
    for count in counts[first:]:
        narrowest_mm = _narrowest_mm(radius_mm, count, request.knife_mm)
        if share(count) < wish.low * (1 - NEAR) or len(found) == _FEW:
            break
        if narrowest_mm >= wish.least_mm:
            made = _cutting(request, tin, height_mm, count, radius_mm)
            likely = spread(made, tin, height_mm, wish.evenness)
            found.append((made, likely.below(wish.high) - likely.below(wish.low)))
    if not found:
        best = _of_mass(request, tin, height_mm, radius_mm, wish)
        raise GeometryError(
            Mistake(
                "No number of wedges comes to that mass and width.",
                f"The nearest by mass are {best}: widen the range.",
            )
        )
    return tuple(sorted(found, key=lambda one: -round(one[1], 2)))


def _narrowest_mm(radius_mm: float, wedges: int, knife_mm: float) -> float:
    """Width of a wedge at the rim, from side to side [mm]."""
    if wedges == 1:
        return inf
    return 2 * radius_mm * sin(pi / wedges) - knife_mm


def _volumes_mm3(
    request: CutRequest, tin: Tin, height_mm: float, wedges: int, radius_mm: float
) -> tuple[float, float, float]:
    """Volume of the whole slab, of all wedges, and of all wedges before the knife."""
    whole = kept = trimmed = 0.0
    for outline, thickness_mm in slices(tin, height_mm):
        r_mm = radius_mm if request.trim_mm else outline.length_mm / 2
        one_mm2 = wedge_area_mm2(r_mm, wedges, request.knife_mm)
        whole += outline.area_mm2 * thickness_mm
        kept += wedges * one_mm2 * thickness_mm
        trimmed += pi * r_mm**2 * thickness_mm
    return whole, kept, trimmed


def _share_of(
    request: CutRequest, tin: Tin, height_mm: float, radius_mm: float
) -> Callable[[int], float]:
    """What share of the slab a wedge has, by their number."""

    def share(wedges: int) -> float:
        whole, kept, _ = _volumes_mm3(request, tin, height_mm, wedges, radius_mm)
        return kept / whole / wedges

    return share


def _of_mass(
    request: CutRequest, tin: Tin, height_mm: float, radius_mm: float, wish: Wish
) -> int:
    """How many wedges bring each nearest to a wished share of the slab's mass."""
    share = _share_of(request, tin, height_mm, radius_mm)
    middle = (wish.low + wish.high) / 2
    counts = range(1, _most(radius_mm, request.knife_mm) + 1)
    lighter = bisect_left(counts, -middle, key=lambda count: -share(count))
    near = counts[max(lighter - 1, 0) : lighter + 1]
    best = min(near, key=lambda count: abs(share(count) - middle))
    narrowest_mm = _narrowest_mm(radius_mm, best, request.knife_mm)
    is_single = wish.low == wish.high
    if middle > 1 or share(best) > FAR * middle:
        raise no_such_mass()
    if is_single and narrowest_mm < wish.least_mm:
        raise GeometryError(
            Mistake(
                f"Wedges of that mass are {mm(narrowest_mm)} mm wide at the rim.",
                "Allow narrower ones, or heavier ones.",
            )
        )
    return best


def _most(radius_mm: float, knife_mm: float) -> int:
    """How many wedges can be cut at most."""
    chord = (SMALLEST_PIECE_MM + knife_mm) / (2 * radius_mm)
    return min(floor(pi / asin(chord)), MOST_PIECES) if chord < 1 else 1


def _cutting(
    request: CutRequest,
    tin: Tin,
    height_mm: float,
    wedges: int,
    radius_mm: float,
) -> Cutting:
    narrowest_mm = _narrowest_mm(radius_mm, wedges, request.knife_mm)
    if narrowest_mm < SMALLEST_PIECE_MM:
        raise too_small(narrowest_mm)
    whole, kept, trimmed = _volumes_mm3(request, tin, height_mm, wedges, radius_mm)
    knife_share = (trimmed - kept) / whole if request.knife_mm else 0.0
    trim_share = 1 - trimmed / whole if request.trim_mm else 0.0
    kept_share = 1 - trim_share - knife_share
    made, lines = wedge_strokes(wedges, radius_mm, tin.length_mm / 2)
    kept_share = 1 - trim_share - knife_share
    corners = wedge_pieces(wedges, radius_mm, tin.length_mm / 2, request.knife_mm)
    words = f"wedges of {round(360 / wedges, 1):g}°"
    if wedges == 1:
        words, note = "round and uncut", "1 piece, round and uncut"
    else:
        note = f"{wedges} {words}, {mm(radius_mm)} mm from point to rim"
    return Cutting(
        shape="wedges",
        pieces=wedges,
        along=None,
        across=None,
        piece_length_mm=None,
        piece_width_mm=None,
        piece_angle_deg=360 / wedges,
        piece_area_mm2=wedge_area_mm2(radius_mm, wedges, request.knife_mm),
        kept_share=kept_share,
        trim_share=trim_share,
        knife_share=knife_share,
        left_over_share=0.0,
        cuts_along_mm=(),
        cuts_across_mm=(),
        spread_low=1.0,
        spread_high=1.0,
        words=words,
        note=note,
        strokes=made,
        each=tuple(
            Piece(outline, tuple(lines[s] for s in sides), kept_share / wedges, True)
            for outline, sides in corners
        ),
    )
