"""A round slab cut from the middle to the rim."""

from bisect import bisect_left
from math import asin, floor, inf, pi, sin, sqrt, tan

from slabwright.cut.cutting import (
    MOST_PIECES,
    SMALLEST_PIECE_MM,
    CutRequest,
    Cutting,
    mm,
    too_small,
)
from slabwright.cut.region import slices
from slabwright.cut.shares import FAR, no_such_mass
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin


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
    request: CutRequest, tin: Tin, height_mm: float, wish: float | None
) -> Cutting:
    """A round slab in wedges: so many, or as many as bring them nearest to a mass.

    Args:
        request: how it is to be cut.
        tin: the round tin that it stands in.
        height_mm: height of the slab [mm].
        wish: share of the slab's mass that a piece should have, where that was asked.

    Raises:
        GeometryError: for a grid without a rectangle to lay it on, a trim of more
            than there is, or wedges too thin to cut.
    """
    if request.grid or request.piece_mm:
        raise GeometryError(
            Mistake(
                "A round slab is cut in wedges, or trimmed to a rectangle first.",
                "Write cut 12 wedges, or add trim to with its two sizes.",
            )
        )
    radius_mm = tin.length_mm / 2 - request.trim_mm
    if radius_mm <= 0:
        raise GeometryError(
            Mistake(
                f"A trim of {mm(request.trim_mm)} mm leaves nothing of a round slab "
                f"of {mm(tin.length_mm)} mm.",
                "Trim less.",
            )
        )
    wedges = request.wedges or request.pieces
    if wedges is None:
        wedges = _of_mass(request, tin, height_mm, radius_mm, wish or 0.0)
    return _cutting(request, tin, height_mm, wedges, radius_mm)


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


def _of_mass(
    request: CutRequest, tin: Tin, height_mm: float, radius_mm: float, wish: float
) -> int:
    """How many wedges bring each nearest to a wished share of the slab's mass."""

    def share(wedges: int) -> float:
        whole, kept, _ = _volumes_mm3(request, tin, height_mm, wedges, radius_mm)
        return kept / whole / wedges

    counts = range(1, _most(radius_mm, request.knife_mm) + 1)
    lighter = bisect_left(counts, -wish, key=lambda count: -share(count))
    near = counts[max(lighter - 1, 0) : lighter + 1]
    best = min(near, key=lambda count: abs(share(count) - wish))
    if wish > 1 or share(best) > FAR * wish:
        raise no_such_mass()
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
    return Cutting(
        shape="wedges",
        pieces=wedges,
        along=None,
        across=None,
        piece_length_mm=None,
        piece_width_mm=None,
        piece_angle_deg=360 / wedges,
        piece_area_mm2=wedge_area_mm2(radius_mm, wedges, request.knife_mm),
        kept_share=1 - trim_share - knife_share,
        trim_share=trim_share,
        knife_share=knife_share,
        cuts_along_mm=(),
        cuts_across_mm=(),
        spread_low=1.0,
        spread_high=1.0,
        note="1 piece, round and uncut"
        if wedges == 1
        else f"{wedges} wedges of {round(360 / wedges, 1):g}°, "
        f"{mm(radius_mm)} mm from point to rim",
    )
