"""Triangles, diamonds, strips: whole, apart, nothing lost, sides on their strokes."""

from itertools import pairwise
from math import asin, hypot, pi, radians, sin, sqrt, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from slabwright.cut.cut import cut
from slabwright.cut.cutting import Cutting
from slabwright.cut.request import CutRequest
from slabwright.errors import GeometryError
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

DEVELOPMENT = Tin.rectangular(300, 200, 50)
SHOP_FRAME = Tin.rectangular(570, 370, 45)
TALL = Tin.rectangular(200, 300, 50)
SLOPING = Tin.rectangular(320, 220, 40, rim=Outline(340, 240))
BOTH = Tin.rectangular(320, 220, 40, corner_radius_mm=20, rim=Outline(350, 250, 45))
ROUND = Tin.round(230, 70)
PIE = Tin.round(200, 50, rim_diameter_mm=230)

Point = tuple[float, float]


def shoelace(corners: tuple[Point, ...]) -> float:
    xs, ys = np.array(corners).T
    return float((xs * np.roll(ys, -1) - np.roll(xs, -1) * ys).sum() / 2)


def sides(corners: tuple[Point, ...]) -> list[tuple[Point, Point]]:
    return list(pairwise((*corners, corners[0])))


def triangles_of(square_mm: float, each: int, **more: Any) -> CutRequest:
    return CutRequest(
        piece_length_mm=square_mm, piece_width_mm=square_mm, triangles=each, **more
    )


straight: st.SearchStrategy[dict[str, Any]] = st.one_of(
    st.builds(dict, along=st.integers(1, 9), across=st.integers(1, 7)),
    st.builds(
        lambda a, n: {"piece_length_mm": a, "piece_width_mm": a, "triangles": n},
        st.floats(25, 90),
        st.sampled_from([2, 4]),
    ),
    st.builds(dict, diamond_mm=st.floats(20, 60), angle_deg=st.floats(30, 85)),
    st.builds(dict, strip_mm=st.floats(20, 90)),
    st.builds(dict, strips=st.integers(1, 8)),
)
round_ways: st.SearchStrategy[dict[str, Any]] = st.one_of(
    st.builds(dict, strip_mm=st.floats(15, 90)),
    st.builds(dict, strips=st.integers(1, 9)),
    st.builds(dict, wedges=st.integers(1, 24)),
)
knives = st.one_of(st.just(0.0), st.floats(0.2, 3))
trims = st.sampled_from([0.0, 5.0, 12.5])


@st.composite
def cuttings(draw: st.DrawFn) -> tuple[CutRequest, Tin, Cutting]:
    tin = draw(st.sampled_from([DEVELOPMENT, TALL, SLOPING, BOTH, ROUND, PIE]))
    way = draw(round_ways if tin.shape == "round" else straight)
    request = CutRequest(**way, trim_mm=draw(trims), knife_mm=draw(knives))
    return request, tin, cut(request, tin, 30)


@given(cuttings())
def test_nothing_of_the_slab_is_lost_or_counted_twice(
    made_: tuple[CutRequest, Tin, Cutting],
) -> None:
    request, _, made = made_

    parts = (made.kept_share, made.trim_share, made.knife_share)
    assert sum(parts) == pytest.approx(1, abs=1e-9)
    assert min(parts) >= 0
    assert sum(one.share for one in made.each) == pytest.approx(
        made.kept_share, abs=1e-9
    )
    assert 0 <= made.left_over_share <= made.trim_share + 1e-9
    assert len(made.each) == made.pieces
    assert made.spread_low <= 1 + 1e-9 <= made.spread_high + 2e-9
    if request.knife_mm > 0.2 and len(made.strokes) > 4:
        assert made.knife_share > 0


@given(cuttings())
def test_every_side_lies_beside_the_stroke_that_made_it(
    made_: tuple[CutRequest, Tin, Cutting],
) -> None:
    request, _, made = made_
    strokes = {one.number: one for one in made.strokes}

    for piece in made.each:
        assert shoelace(piece.corners) > 0
        for number, ends in zip(piece.sides, sides(piece.corners), strict=True):
            if not number:
                continue
            (x0, y0), (x1, y1) = strokes[number].start_mm, strokes[number].end_mm
            long = hypot(x1 - x0, y1 - y0)
            off = [
                abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / long for x, y in ends
            ]
            # half the knife, a trim or a narrow strip's stroke less than that
            assert max(off) <= request.knife_mm / 2 + 1e-6
            if strokes[number].what == "cut":
                assert min(off) == pytest.approx(request.knife_mm / 2, abs=1e-6)


@given(cuttings())
def test_no_stroke_runs_through_a_piece(
    made_: tuple[CutRequest, Tin, Cutting],
) -> None:
    _, _, made = made_

    for piece in made.each:
        for one in made.strokes:
            (x0, y0), (x1, y1) = one.start_mm, one.end_mm
            long = hypot(x1 - x0, y1 - y0)
            # how far along the stroke, and how far to its left, each corner lies
            along = [((x1 - x0) * (x - x0) + (y1 - y0) * (y - y0)) / long
                     for x, y in piece.corners]  # fmt: skip
            left = [((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / long
                    for x, y in piece.corners]  # fmt: skip
            is_beside = min(left) >= -1e-6 or max(left) <= 1e-6
            is_beyond = max(along) <= 1e-6 or min(along) >= long - 1e-6
            assert is_beside or is_beyond


@given(cuttings())
def test_edge_pieces_are_those_with_a_side_on_the_trimmed_slab(
    made_: tuple[CutRequest, Tin, Cutting],
) -> None:
    request, tin, made = made_
    t = request.trim_mm

    def on_edge(p: Point, q: Point) -> bool:
        if tin.shape == "round":
            r = tin.length_mm / 2
            return all(abs(hypot(x - r, y - r) - (r - t)) < 1e-6 for x, y in (p, q))
        return any(
            abs(p[axis] - place) < 1e-6 and abs(q[axis] - place) < 1e-6
            for axis, size in enumerate((tin.length_mm, tin.width_mm))
            for place in (t, size - t)
        )

    touching = [any(on_edge(*side) for side in sides(p.corners)) for p in made.each]
    if made.shape == "wedges" and made.pieces == 1:
        touching = [True]
    assert made.edge_pieces == sum(touching)


@settings(max_examples=25)
@given(straight, st.sampled_from([DEVELOPMENT, TALL]), trims, knives)
@example({"diamond_mm": 40.0, "angle_deg": 60.0}, DEVELOPMENT, 5.0, 1.5)
def test_area_by_throwing_darts(
    way: dict[str, Any], tin: Tin, trim_mm: float, knife_mm: float
) -> None:
    # Seeded points over the slab: one is kept if it lies in a piece, lost to the knife
    # if a stroke that is no trim passes within half of it. One standard error is 0.1 %.
    made = cut(CutRequest(**way, trim_mm=trim_mm, knife_mm=knife_mm), tin, 30)
    throw = np.random.default_rng(20261125)
    x = throw.uniform(0, tin.length_mm, 200_000)
    y = throw.uniform(0, tin.width_mm, 200_000)
    count = np.zeros_like(x, dtype=int)
    for piece in made.each:
        inside = np.ones_like(x, dtype=bool)
        for (ax, ay), (bx, by) in sides(piece.corners):
            inside &= (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0
        count += inside
    t = trim_mm
    room = (x > t) & (x < tin.length_mm - t) & (y > t) & (y < tin.width_mm - t)
    knife = np.zeros_like(room)
    for one in made.strokes:
        (x0, y0), (x1, y1) = one.start_mm, one.end_mm
        if one.what == "trim":
            continue
        long = hypot(x1 - x0, y1 - y0)
        off = abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / long
        along = ((x1 - x0) * (x - x0) + (y1 - y0) * (y - y0)) / long
        # slanted strokes are cut to a point at the edges of the room
        near = (along > -knife_mm) & (along < long + knife_mm)
        knife |= (off < knife_mm / 2) & near & room & (count == 0)

    assert count.max() <= 1
    size = x.size
    assert made.kept_share == pytest.approx((count > 0).sum() / size, abs=5e-3)
    if knife_mm:
        assert made.knife_share == pytest.approx(knife.sum() / size, abs=5e-3)


@pytest.mark.parametrize("trim_mm", [0.0, 4.0])
@pytest.mark.parametrize(
    "way",
    [
        {"piece_length_mm": 60, "piece_width_mm": 60, "triangles": 2},
        {"piece_length_mm": 60, "piece_width_mm": 60, "triangles": 4},
        {"diamond_mm": 40},
        {"diamond_mm": 45, "angle_deg": 40},
    ],
)
def test_sloping_walls_and_round_corners_by_throwing_darts(
    way: dict[str, Any], trim_mm: float
) -> None:
    # Source: a seeded Monte Carlo count over the tin, which shares nothing with the
    # formulas. Without trim the pieces at the edge reach out to the slope.
    made = cut(CutRequest(**way, trim_mm=trim_mm), BOTH, 35)
    throw = np.random.default_rng(20261125)
    box = ((-175.0, 175.0), (-125.0, 125.0), (0.0, 35.0))
    x, y, z = (throw.uniform(low, high, 300_000) for low, high in box)
    s = z / 40
    length, width, radius = 320 + 30 * s, 220 + 30 * s, 20 + 25 * s
    from_x = np.maximum(abs(x) - (length / 2 - radius), 0)
    from_y = np.maximum(abs(y) - (width / 2 - radius), 0)
    inside = (abs(x) < length / 2) & (abs(y) < width / 2)
    inside &= from_x**2 + from_y**2 < radius**2
    x, y = x[inside] + 160, y[inside] + 110

    kept = 0
    for piece in made.each:
        within = np.ones_like(x, dtype=bool)
        for number, ends in zip(piece.sides, sides(piece.corners), strict=True):
            (ax, ay), (bx, by) = ends
            if number:
                within &= (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0
        within &= _in_cell(piece.corners, made, x, y)
        kept += int(within.sum())
    assert made.kept_share == pytest.approx(kept / x.size, abs=4e-3)


def _in_cell(
    corners: tuple[Point, ...], made: Cutting, x: np.ndarray, y: np.ndarray
) -> np.ndarray:
    """Whether darts lie in the rows and columns that upright and level strokes make."""
    inside = np.ones_like(x, dtype=bool)
    for one in made.strokes:
        if one.edge not in {"left", "near"} or one.at_mm is None:
            continue
        axis = 0 if one.edge == "left" else 1
        places = [corner[axis] for corner in corners]
        darts = x if axis == 0 else y
        if min(places) >= one.at_mm - 1e-9:
            inside &= darts > one.at_mm
        elif max(places) <= one.at_mm + 1e-9:
            inside &= darts < one.at_mm
    return inside


@pytest.mark.parametrize("tin", [BOTH, SLOPING, DEVELOPMENT])
@pytest.mark.parametrize("each", [2, 4])
@pytest.mark.parametrize("trim_mm", [0.0, 5.0])
def test_triangles_hold_what_their_squares_hold(
    tin: Tin, each: int, trim_mm: float
) -> None:
    # 320 = 8 × 40 and 220 = 5 × 44: corner squares reach into the rounding
    squares = CutRequest(piece_length_mm=40, piece_width_mm=40, trim_mm=trim_mm)
    whole = cut(squares, tin, 35)
    parts = cut(triangles_of(40, each, trim_mm=trim_mm), tin, 35)

    assert parts.kept_share == pytest.approx(whole.kept_share, abs=1e-9)
    assert parts.left_over_share == pytest.approx(whole.left_over_share, abs=1e-9)
    for n, square in enumerate(whole.each):
        some = parts.each[n * each : (n + 1) * each]
        assert sum(one.share for one in some) == pytest.approx(square.share, abs=1e-9)


# --- worked by hand --------------------


def test_two_triangles_of_a_square() -> None:
    made = cut(triangles_of(60, 2, trim_mm=5), DEVELOPMENT, 31)

    # 290 = 4 × 60 + 50 and 190 = 3 × 60 + 10: twelve squares, halved corner to corner
    assert made.pieces == 24
    assert made.kept_share == pytest.approx(12 * 60**2 / 60_000, rel=1e-9)
    # what the trim leaves, less twelve squares
    assert made.left_over_share == pytest.approx((290 * 190 - 12 * 3600) / 60_000)
    assert made.piece_area_mm2 == 1800
    # at the edge: three on the left, four along the near one; strips lie at the others
    assert made.edge_pieces == 7
    # four trims, two strips, 2 + 3 lines between, and 4 + 3 - 1 diagonals
    assert len(made.strokes) == 4 + 2 + 5 + 6


def test_the_knife_takes_its_width_from_triangles() -> None:
    # half the knife off the long side moves it in by k / 2, each short side by k / √2
    two = cut(triangles_of(60, 2, knife_mm=2), DEVELOPMENT, 31)
    assert two.piece_area_mm2 == pytest.approx((60 - sqrt(2)) ** 2 / 2)
    # of four, two sides move: the long one is 2 × k / √2 shorter, half as high as long
    four = cut(triangles_of(60, 4, knife_mm=2), DEVELOPMENT, 31)
    assert four.piece_area_mm2 == pytest.approx((60 - 2 * sqrt(2)) ** 2 / 4)
    for made in (two, four):
        areas = {round(shoelace(one.corners), 6) for one in made.each}
        assert areas == {round(made.piece_area_mm2, 6)}


def test_diamonds_have_four_equal_sides_and_their_angle() -> None:
    made = cut(CutRequest(diamond_mm=40, angle_deg=50, trim_mm=5), DEVELOPMENT, 31)

    side = 40 / sin(radians(50))
    for piece in made.each:
        assert [hypot(q[0] - p[0], q[1] - p[1]) for p, q in sides(piece.corners)] == (
            pytest.approx([side] * 4)
        )
        assert shoelace(piece.corners) == pytest.approx(40 * side)
    assert made.piece_angle_deg == pytest.approx(50)


def most_diamonds(length: float, width: float, w: float, angle: float) -> int:
    """By trying: rows along the length, strokes moved in steps of a hundredth."""
    pitch, lean = w / sin(angle), w / tan(angle)
    rows = int(width / w + 1e-9)
    best = 0
    for step in range(400):
        phase, count = pitch * step / 400, 0
        for row in range(rows):
            first = (phase + row * w / tan(angle)) % pitch
            if length - pitch - lean - first >= -1e-6:
                count += int((length - pitch - lean - first) / pitch + 1e-6) + 1
        best = max(best, count)
    return best


@given(st.floats(20, 70), st.floats(30, 85), st.floats(150, 500), st.floats(150, 500))
def test_no_other_place_of_the_strokes_leaves_more_diamonds(
    w: float, degrees: float, length: float, width: float
) -> None:
    tin = Tin.rectangular(length, width)
    tried = max(
        most_diamonds(*size, w, radians(degrees))
        for size in ((length, width), (width, length))
    )
    request = CutRequest(diamond_mm=w, angle_deg=degrees)
    if not tried:
        return
    assert cut(request, tin, 31).pieces >= tried


def test_strips_of_a_round_slab_stand_in_its_middle() -> None:
    made = cut(CutRequest(strip_mm=30), ROUND, 30)

    # 230 = 7 × 30 + 20: ten left at both ends
    assert made.pieces == 7
    assert made.cuts_along_mm == pytest.approx((10, 40, 70, 100, 130, 160, 190, 220))
    # a segment 10 mm high of a disc of 115: R² acos(d / R) - d √(R² - d²), twice
    segment = 115**2 * (pi / 2 - asin(105 / 115)) - 105 * sqrt(115**2 - 105**2)
    assert made.left_over_share == pytest.approx(2 * segment / (pi * 115**2))
    assert made.kept_share == pytest.approx(1 - made.left_over_share)
    middle = 2 * (15 * sqrt(115**2 - 15**2) + 115**2 * asin(15 / 115))
    assert made.each[3].share == pytest.approx(middle / (pi * 115**2))


@given(st.integers(1, 9), st.floats(0, 3), trims)
def test_so_many_strips_use_the_whole_round_slab(
    count: int, knife_mm: float, trim_mm: float
) -> None:
    request = CutRequest(strips=count, knife_mm=knife_mm, trim_mm=trim_mm)
    made = cut(request, PIE, 30)

    assert made.pieces == count
    assert made.left_over_share == 0


@pytest.mark.parametrize("strips", [1, 2, 5])
def test_strips_of_a_slab_with_corners_run_from_edge_to_edge(strips: int) -> None:
    made = cut(CutRequest(strips=strips, trim_mm=5), DEVELOPMENT, 31)

    assert (made.along, made.across) == (strips, 1)
    assert made.piece_width_mm == 190


def test_strips_are_cut_the_way_that_leaves_less() -> None:
    # 300 = 4 × 70 + 20, 200 = 2 × 70 + 60: across the length; of 95 it is 15 and 10
    assert cut(CutRequest(strip_mm=70), DEVELOPMENT, 31).along == 4
    made = cut(CutRequest(strip_mm=95), DEVELOPMENT, 31)
    assert (made.along, made.across) == (3, 1)  # 15 / 300 is less than 10 / 200
    # 10 / 200 and 15 / 300 are the same share: across the length then


def test_fingers_are_longer_than_two_widths() -> None:
    made = cut(CutRequest(pieces=24, fingers=True), DEVELOPMENT, 31)

    # 4 × 6 are 75 × 33.3 (2.25 widths), 8 × 3 are 37.5 × 66.7 (1.78): no fingers
    assert (made.along, made.across) == (4, 6)
    with pytest.raises(GeometryError, match=r"No grid of 1 has fingers"):
        cut(CutRequest(pieces=1, fingers=True), Tin.rectangular(60, 60), 20)


# --- what cannot be --------------------


@pytest.mark.parametrize(
    ("way", "tin", "message"),
    [
        ({"diamond_mm": 400}, DEVELOPMENT, r"No whole diamonds 400 mm .* smaller"),
        ({"diamond_mm": 3}, DEVELOPMENT, r"would be 3 mm wide"),
        ({"diamond_mm": 40}, ROUND, r"wedges or strips, or trimmed"),
        (
            {"diamond_mm": 6, "angle_deg": 60},
            Tin.square(3000),
            r"are? .*Cut larger|fit",
        ),
        ({"strip_mm": 240}, ROUND, r"No strip of 240 mm fits on the slab's 230 mm"),
        ({"strip_mm": 2}, ROUND, r"would be 2 mm wide"),
        ({"strips": 90}, ROUND, r"would be 2.6 mm wide"),
        ({"strip_mm": 301}, DEVELOPMENT, r"No strip of 301 mm fits"),
        ({"strip_mm": 30, "trim_mm": 115}, ROUND, r"leaves nothing of a round"),
        (
            {"piece_length_mm": 8, "piece_width_mm": 8, "triangles": 4},
            DEVELOPMENT,
            r"would be 4 mm wide",
        ),
        (
            {"piece_length_mm": 20, "piece_width_mm": 20, "triangles": 2},
            Tin.square(3000),
            r"45,000 triangles are too many|22500 pieces",
        ),
        ({"diamond_mm": 40, "knife_mm": 41}, SHOP_FRAME, r"knife takes 41 mm .* more"),
        ({"strip_mm": 30, "knife_mm": 30}, ROUND, r"knife takes 30 mm .* blade leaves"),
        (
            {"piece_length_mm": 45, "piece_width_mm": 45, "knife_mm": 45},
            DEVELOPMENT,
            r"knife takes 45 mm",
        ),
    ],
)
def test_shapes_that_cannot_be_cut(way: dict[str, Any], tin: Tin, message: str) -> None:
    with pytest.raises(GeometryError, match=message):
        cut(CutRequest(**way), tin, 30)


def test_ten_thousand_pieces_are_cut() -> None:
    made = cut(CutRequest(along=100, across=100), Tin.rectangular(2000, 1500), 30)

    assert (made.pieces, made.edge_pieces) == (10_000, 396)
    assert made.kept_share == 1.0


def test_wedge_angles_and_a_ring_at_true_places() -> None:
    made = cut(CutRequest(wedges=4, trim_mm=15), ROUND, 30)

    assert [one.start_mm for one in made.strokes] == [
        pytest.approx((115, 15)), pytest.approx((215, 115)),
    ]  # fmt: skip
    # along the rim of 115 mm a quarter is 180.6 mm
    assert [m.at_mm for m in made.strokes[1].meets] == pytest.approx(
        [pi * 115 / 2, 3 * pi * 115 / 2]
    )
