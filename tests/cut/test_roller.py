"""A roller with five wheels, 40 to 60 mm apart: set by hand and by the program."""

from typing import Any

import pytest

from slabwright.cut.cut import cut
from slabwright.cut.request import CutRequest
from slabwright.cut.roller import Setting, settings
from slabwright.kitchen import Cutter
from slabwright.slab.tin import Tin

DEVELOPMENT = Tin.rectangular(300, 200, 50)
SHOP_FRAME = Tin.rectangular(570, 370, 45)
FIVE = Cutter("roller cutter", 5, 40, 60)


def set_for(way: dict[str, Any], tin: Tin = DEVELOPMENT) -> tuple[Setting, ...]:
    request = CutRequest(**way)
    return settings(cut(request, tin, 31), FIVE, request.knife_mm)


def test_wheels_stand_as_far_apart_as_pieces_are_wide() -> None:
    long, wide = set_for({"along": 5, "across": 4, "trim_mm": 5})

    # along: lines at 5, 63 … 295, six of them; five wheels, so twice
    assert (long.apart_mm, long.first_mm) == (58, (5, 295))
    # across: lines at 5, 52.5, 100, 147.5, 195: once
    assert (wide.apart_mm, wide.first_mm) == (47.5, (5,))
    assert "spare wheels run off the far side" in long.why
    assert "spare" not in wide.why


def test_a_frame_takes_three_passes() -> None:
    long, wide = set_for({"along": 12, "across": 6, "trim_mm": 5}, SHOP_FRAME)

    assert long.apart_mm == pytest.approx(560 / 12)
    assert long.first_mm == pytest.approx((5, 5 + 5 * 560 / 12, 5 + 10 * 560 / 12))
    assert wide.apart_mm == pytest.approx(60)
    assert wide.passes == 2


def test_the_knife_widens_the_distance_of_the_wheels() -> None:
    long, _ = set_for({"along": 5, "across": 4, "trim_mm": 5, "knife_mm": 2})

    # (290 - 4 × 2) ÷ 5 = 56.4, and 2 for the knife; trims go half the knife outside
    assert long.apart_mm == pytest.approx(58.4)
    assert long.first_mm[0] == pytest.approx(5 - 1)


def test_narrow_pieces_take_every_second_cut_first() -> None:
    long, _ = set_for({"piece_length_mm": 25, "piece_width_mm": 50})

    assert long.apart_mm == 50
    # cuts at 25, 50 … 275: six odd ones, then five between
    assert list(long.first_mm) == [25, 275, 50]
    assert "soft" in long.why


@pytest.mark.parametrize(
    ("way", "why"),
    [
        ({"along": 3, "across": 3}, "100 mm apart are farther than its widest"),
        ({"along": 30, "across": 5}, "10 mm apart are closer than its closest"),
        ({"piece_length_mm": 35, "piece_width_mm": 35}, "two or three times as wide"),
    ],
)
def test_it_says_why_not(way: dict[str, Any], why: str) -> None:
    first = set_for(way)[0]

    assert first.apart_mm is None
    assert first.passes == 0
    assert why in first.why


def test_a_strip_is_parted_by_hand() -> None:
    long, _ = set_for({"piece_length_mm": 48, "piece_width_mm": 48, "trim_mm": 2})

    # 2, 50 … 290: the strip's line stands as far; the trim at 298 does not
    assert list(long.first_mm) == [2, 242]
    assert "1 more by hand" in long.why


def test_diamonds_are_rolled_both_ways() -> None:
    rows, slant = set_for({"diamond_mm": 40})[-2:]

    assert (rows.run.way, slant.run.way) == ("along the length", "at a slant")
    assert [rows.apart_mm, slant.apart_mm] == pytest.approx([40, 40])
    assert slant.run.start.startswith("stroke ")


def test_no_roller_for_wedges_or_a_single_cut() -> None:
    assert set_for({"wedges": 12}, Tin.round(230)) == ()
    assert set_for({"along": 2, "across": 1}) == ()
    assert set_for({"along": 1, "across": 1}) == ()
