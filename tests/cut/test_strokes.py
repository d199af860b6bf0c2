"""The order of the knife, and the distances that are read off a ruler."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.cut.cells import cells
from slabwright.cut.cut import cut
from slabwright.cut.request import CutRequest
from slabwright.cut.strokes import halves_first
from slabwright.errors import GeometryError
from slabwright.slab.tin import Tin

DEVELOPMENT = Tin.rectangular(300, 200, 50)
TALL = Tin.rectangular(200, 300, 50)


def test_trims_come_first_then_the_long_cuts_halves_first() -> None:
    made = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, 31)

    said = [(one.number, one.what, one.edge, one.at_mm) for one in made.strokes]
    assert said == [
        (1, "trim", "near", 5), (2, "trim", "near", 195),
        (3, "trim", "left", 5), (4, "trim", "left", 295),
        (5, "cut", "near", 100), (6, "cut", "near", 52.5), (7, "cut", "near", 147.5),
        (8, "cut", "left", 63), (9, "cut", "left", 121),
        (10, "cut", "left", 179), (11, "cut", "left", 237),
    ]  # fmt: skip
    # the first two go right across, the others from trimmed edge to trimmed edge
    assert (made.strokes[0].start_mm, made.strokes[0].end_mm) == ((0, 5), (300, 5))
    assert (made.strokes[2].start_mm, made.strokes[2].end_mm) == ((5, 5), (5, 195))
    assert (made.strokes[7].start_mm, made.strokes[7].end_mm) == ((63, 5), (63, 195))


def test_the_long_cuts_run_along_the_longer_side() -> None:
    made = cut(CutRequest(along=4, across=5), TALL, 31)

    assert [one.edge for one in made.strokes] == ["left"] * 3 + ["near"] * 4


def test_a_left_over_strip_is_parted_off_before_the_pieces() -> None:
    request = CutRequest(piece_length_mm=48, piece_width_mm=48, trim_mm=2)
    made = cut(request, DEVELOPMENT, 31)

    # 296 = 6 × 48 + 8 and 196 = 4 × 48 + 4
    assert [(o.what, o.at_mm) for o in made.strokes[4:6]] == [
        ("strip", 194), ("strip", 290),
    ]  # fmt: skip
    # what comes after runs no farther than the strips
    assert made.strokes[6].end_mm == (290, 98)


@given(st.integers(0, 300))
def test_halves_first_takes_every_place_once(count: int) -> None:
    order = list(halves_first(count))

    assert sorted(order) == list(range(count))
    if count:
        assert order[0] == count // 2


def test_seven_cuts_halve_what_is_left() -> None:
    assert list(halves_first(7)) == [3, 1, 5, 0, 2, 4, 6]


ways: list[dict[str, Any]] = [
    {"piece_length_mm": 60, "piece_width_mm": 60, "triangles": 2},
    {"piece_length_mm": 60, "piece_width_mm": 60, "triangles": 4},
    {"diamond_mm": 40},
    {"diamond_mm": 30, "angle_deg": 45, "trim_mm": 5, "knife_mm": 2},
]


@pytest.mark.parametrize("way", ways)
def test_slanted_strokes_say_where_they_meet_both_edges(way: dict[str, Any]) -> None:
    made = cut(CutRequest(**way), DEVELOPMENT, 31)

    slanted = [one for one in made.strokes if not one.edge]
    assert slanted
    for one in slanted:
        points = []
        for there in one.meets:
            at = there.at_mm
            points.append(
                {"near": (at, 0.0), "far": (at, 200.0), "left": (0.0, at),
                 "right": (300.0, at)}[there.edge]
            )  # fmt: skip
        (x0, y0), (x1, y1) = points
        assert 0 <= min(x0, x1) <= max(x0, x1) <= 300
        assert 0 <= min(y0, y1) <= max(y0, y1) <= 200
        for x, y in (one.start_mm, one.end_mm):  # it lies on the line between both
            assert (x1 - x0) * (y - y0) == pytest.approx((y1 - y0) * (x - x0), abs=1e-6)
        assert one.at_mm is None


def test_a_diagonal_through_all_squares_by_hand() -> None:
    # 300 × 200 in squares of 50, halved: the long diagonals start at the left edge
    request = CutRequest(piece_length_mm=50, piece_width_mm=50, triangles=2)
    made = cut(request, DEVELOPMENT, 31)

    slanted = [one for one in made.strokes if not one.edge]
    assert len(slanted) == 6 + 4 - 1
    first = slanted[0]  # the far left corner's
    assert [(m.edge, m.at_mm) for m in first.meets] == [("left", 150), ("far", 50)]


def test_slanted_strokes_of_a_round_slab_are_marked_on_its_rectangle() -> None:
    request = CutRequest(diamond_mm=30, trim_to_mm=(160, 120))
    made = cut(request, Tin.round(230, 70), 31)

    for one in made.strokes:
        for there in one.meets:
            low, high = (35, 195) if there.edge in {"near", "far"} else (55, 175)
            assert low - 1e-6 <= there.at_mm <= high + 1e-6


def test_trims_of_a_round_slab_run_from_rim_to_rim() -> None:
    request = CutRequest(along=4, across=3, trim_to_mm=(160, 120))
    made = cut(request, Tin.round(230, 70), 31)

    # 60 mm from the middle the half chord is √(115² - 60²) = 98.1 mm
    near = made.strokes[0]
    assert near.start_mm == pytest.approx((115 - 98.107, 55), abs=1e-3)
    assert near.end_mm == pytest.approx((115 + 98.107, 55), abs=1e-3)
    # the others end where the first two have cut
    left = made.strokes[2]
    assert [left.start_mm, left.end_mm] == [(35, 55), (35, 175)]


def test_odd_wedges_are_cut_from_the_rim_to_the_middle() -> None:
    made = cut(CutRequest(wedges=5), Tin.round(230), 30)

    assert len(made.strokes) == 5
    assert {one.end_mm for one in made.strokes} == {(115, 115)}
    assert all(len(one.meets) == 1 for one in made.strokes)


def test_even_wedges_are_cut_right_across() -> None:
    made = cut(CutRequest(wedges=8), Tin.round(230), 30)

    assert len(made.strokes) == 4
    degrees = [
        round(one.meets[0].at_mm / (3.14159265 * 230) * 360) for one in made.strokes
    ]
    assert degrees == [0, 90, 45, 135]


# --- divided and several tins --------------------


def test_the_cells_of_a_divided_tin_are_its_pieces() -> None:
    tin = DEVELOPMENT.parted(4, 3, 2)
    made = cells(tin)

    assert (made.pieces, made.edge_pieces, made.strokes) == (12, 10, ())
    assert made.piece_length_mm == (300 - 3 * 2) / 4
    assert sum(one.share for one in made.each) == pytest.approx(1)
    assert made.piece_area_mm2 * 12 == pytest.approx(tin.area_mm2())
    assert cut(CutRequest(along=4, across=3), tin, 30) == made
    assert cut(CutRequest(piece_g=75), tin, 30, 1000).pieces == 12
    with pytest.raises(GeometryError, match=r"its 4 × 3 cells are the pieces"):
        cut(CutRequest(along=5, across=4), tin, 30)


def test_alike_tins_are_all_cut_in_one_way() -> None:
    one = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, 31)
    two = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT.times(2), 31)

    assert (two.pieces, two.edge_pieces, two.tins) == (40, 28, 2)
    assert two.kept_share == one.kept_share
    assert two.strokes == one.strokes
    # 3732 g in two tins: 24 pieces of each, as of 1866 g in one
    both = cut(CutRequest(piece_g=75, trim_mm=5), DEVELOPMENT.times(2), 31, 3732)
    assert both.pieces == 48
