"""A round slab in strips from edge to edge."""

from math import asin, inf, pi, sqrt
from typing import Literal

from slabwright.cut.cutting import SMALLEST_PIECE_MM, Cutting, mm, too_small
from slabwright.cut.grid import none_fit
from slabwright.cut.piece import Piece
from slabwright.cut.polygon import Polygon, arc
from slabwright.cut.region import slices
from slabwright.cut.request import CutRequest
from slabwright.cut.shares import parted
from slabwright.cut.side import Room, Side
from slabwright.cut.stroke import Meeting, Point
from slabwright.cut.strokes import Strokes, halves_first
from slabwright.slab.tin import Tin


def cut_strips(request: CutRequest, tin: Tin, height_mm: float) -> Cutting:
    """A round slab in strips side by side, as much left over at both ends.

    Args:
        request: how it is to be cut.
        tin: the round tin that it stands in.
        height_mm: height of the slab [mm].

    Raises:
        GeometryError: if not one fits, or if they are too small to cut.
    """
    room = Room(tin.length_mm, request.trim_mm, request.knife_mm)
    side = _side(room, request)
    step_mm = side.piece_mm + room.knife_mm
    used_mm = side.pieces * step_mm - room.knife_mm
    rest_mm = (room.left_mm - used_mm) / 2
    lows = [rest_mm - room.left_mm / 2 + i * step_mm for i in range(side.pieces)]
    is_over = rest_mm > 1e-6  # else it is the rounding of a sum
    over_mm = max(rest_mm - room.knife_mm, 0.0) if is_over else 0.0
    kerf_mm = rest_mm - over_mm if is_over else 0.0
    radius_mm, middle_mm = room.left_mm / 2, tin.length_mm / 2
    made, lines = _strokes(lows, side.piece_mm, kerf_mm, (radius_mm, middle_mm), room)
    each, over = _volumes(request, tin, height_mm, lows, side.piece_mm, over_mm,
                          is_over=is_over)  # fmt: skip
    inside = _inside(request, tin, height_mm)
    shares = parted(each, inside=inside, left_over=over, has_knife=room.knife_mm > 0)
    pieces = tuple(
        Piece(
            *_outline(low, low + side.piece_mm, radius_mm, middle_mm, lines[i : i + 2]),
            share=share,
            at_edge=True,
        )
        for i, (low, share) in enumerate(zip(lows, each, strict=True))
    )
    words = f"strips {mm(side.piece_mm)} mm wide"
    note = f"{side.pieces} {words}"
    if over_mm:
        note += f"; {mm(over_mm)} mm left at both ends"
    if shares.low < 0.95:
        note += f"; lightest piece {shares.low:.0%} of the mean"
    return Cutting(
        shape="strips",
        pieces=side.pieces,
        along=None,
        across=None,
        piece_length_mm=None,
        piece_width_mm=side.piece_mm,
        piece_angle_deg=None,
        piece_area_mm2=sum(
            _to(low + side.piece_mm, radius_mm) - _to(low, radius_mm) for low in lows
        )
        / side.pieces,
        kept_share=shares.kept,
        trim_share=shares.trim,
        knife_share=shares.knife,
        left_over_share=shares.left_over,
        cuts_along_mm=tuple(
            sorted(one.at_mm for one in made.made if one.at_mm is not None)
        ),
        cuts_across_mm=(),
        spread_low=shares.low,
        spread_high=shares.high,
        words=words,
        note=note,
        strokes=tuple(made.made),
        each=pieces,
    )


def _side(room: Room, request: CutRequest) -> Side:
    if request.strips is not None:
        side = Side(room, request.strips, room.piece_mm(request.strips))
    else:
        width_mm = request.strip_mm or 0.0
        side = Side(room, room.most(width_mm), width_mm)
        if not side.pieces:
            raise none_fit(width_mm, f"{mm(room.left_mm)} mm across")
    if side.piece_mm < SMALLEST_PIECE_MM:
        raise too_small(side.piece_mm)
    return side


def _to(x: float, radius_mm: float) -> float:
    """Area of a disc left of an upright line through x, from its middle line on."""
    x = min(max(x, -radius_mm), radius_mm)
    return radius_mm**2 * asin(x / radius_mm) + x * sqrt(radius_mm**2 - x**2)


def _radii(
    request: CutRequest, tin: Tin, height_mm: float
) -> list[tuple[float, float, float]]:
    """Radius of the slab, radius within the trim, thickness, slice by slice."""
    trimmed = tin.length_mm / 2 - request.trim_mm
    return [
        (o.length_mm / 2, trimmed if request.trim_mm else o.length_mm / 2, thick)
        for o, thick in slices(tin, height_mm)
    ]


def _inside(request: CutRequest, tin: Tin, height_mm: float) -> float:
    radii = _radii(request, tin, height_mm)
    whole = sum(r * r * thick for r, _, thick in radii)
    return sum(r * r * thick for _, r, thick in radii) / whole


def _volumes(
    request: CutRequest,
    tin: Tin,
    height_mm: float,
    lows: list[float],
    width_mm: float,
    over_mm: float,
    *,
    is_over: bool,
) -> tuple[list[float], float]:
    """Share of each strip, and of what is left over at both ends."""
    radii = _radii(request, tin, height_mm)
    whole = sum(pi * r * r * thick for r, _, thick in radii)
    ends = [[low, low + width_mm] for low in lows]
    if not is_over:  # a sloping rim stays on the outer strips
        ends[0][0], ends[-1][1] = -inf, inf
    shares = [
        sum((_to(b, r) - _to(a, r)) * thick for _, r, thick in radii) / whole
        for a, b in ends
    ]
    edge_mm = tin.length_mm / 2 - request.trim_mm - over_mm
    over = 0.0
    if over_mm:
        beyond = sum((_to(inf, r) - _to(edge_mm, r)) * thick for _, r, thick in radii)
        over = 2 * beyond / whole
    return shares, over


def _strokes(
    lows: list[float],
    width_mm: float,
    kerf_mm: float,
    circle: tuple[float, float],
    room: Room,
) -> tuple[Strokes, list[int]]:
    """Strokes in order, and their numbers from left to right; 0 where there is none."""
    radius_mm, middle_mm = circle
    made = Strokes(2 * middle_mm, 2 * middle_mm)
    numbers = [0] * (len(lows) + 1)

    def stroke(i: int, x: float) -> None:
        half = sqrt(max(radius_mm**2 - x**2, 0.0))
        rim = sqrt(max(middle_mm**2 - x**2, 0.0))
        ends: tuple[Point, Point] = (
            (middle_mm + x, middle_mm - half), (middle_mm + x, middle_mm + half),
        )  # fmt: skip
        turn = asin(min(max(x / middle_mm, -1.0), 1.0))
        at = [middle_mm * (turn % (2 * pi)), middle_mm * (pi - turn)]
        meets = tuple(Meeting("rim", one) for one in at) if rim else ()
        what: Literal["strip", "cut"] = "strip" if i in {0, len(lows)} else "cut"
        numbers[i] = made.round(what, ends, meets, middle_mm + x)

    if kerf_mm or lows[0] > -radius_mm + 1e-6:
        stroke(0, lows[0] - kerf_mm / 2)
        stroke(len(lows), lows[-1] + width_mm + kerf_mm / 2)
    for i in halves_first(len(lows) - 1):
        stroke(i + 1, lows[i + 1] - room.knife_mm / 2)
    return made, numbers


def _outline(
    low: float, high: float, radius_mm: float, middle_mm: float, lines: list[int]
) -> tuple[Polygon, tuple[int, ...]]:
    """A strip between two chords: right side, far arc, left side, near arc."""
    a, b = (asin(min(max(x / radius_mm, -1.0), 1.0)) for x in (low, high))
    middle = (middle_mm, middle_mm)
    near = arc(middle, radius_mm, a - pi / 2, b - pi / 2)
    far = arc(middle, radius_mm, pi / 2 - b, pi / 2 - a)
    corners: list[Point] = []
    sides: list[int] = []
    for points, number in ((near, lines[1]), (far, lines[0])):
        is_tip = not number  # the strip ends in the rim itself, in a single point
        corners += points[:-1] if is_tip else points
        sides += [0] * (len(points) - 1) + ([] if is_tip else [number])
    return tuple(corners), tuple(sides)
