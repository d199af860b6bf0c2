"""Which grid a slab is cut in: counts, sizes, and where the knife goes."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.cut.cut import cut
from slabwright.cut.cutting import Cutting
from slabwright.cut.request import CutRequest
from slabwright.errors import GeometryError
from slabwright.slab.tin import Tin

TABLE = Path(__file__).parents[1] / "reference/trade/tins_and_pieces.csv"
IN = 25.4

DEVELOPMENT = Tin.rectangular(300, 200, 50)
SHOP_FRAME = Tin.rectangular(570, 370, 45)


def value(row_id: str) -> float:
    with TABLE.open(encoding="utf-8", newline="") as file:
        (row,) = (r for r in csv.DictReader(file) if r["id"] == row_id)
    assert row["value_low"] == row["value_high"]
    return float(row["value_low"])


def size(made: Cutting) -> tuple[float, float]:
    assert made.piece_length_mm is not None
    assert made.piece_width_mm is not None
    return made.piece_length_mm, made.piece_width_mm


@pytest.mark.parametrize(
    ("row_id", "sheet_in"), [("CP019", (11, 15)), ("CP020", (12, 18))]
)
def test_pieces_of_two_inches_from_a_sheet(
    row_id: str, sheet_in: tuple[int, int]
) -> None:
    # Source: the page of rows CP019 and CP020
    tin = Tin.rectangular(*(side * IN for side in sheet_in))
    made = cut(CutRequest(piece_length_mm=2 * IN, piece_width_mm=2 * IN), tin, 50)

    assert made.pieces == value(row_id)


@pytest.mark.parametrize(
    ("row_id", "tin"), [("CP022", DEVELOPMENT), ("CP023", SHOP_FRAME)]
)
def test_trim_of_5_mm_from_every_side(row_id: str, tin: Tin) -> None:
    # Source: arithmetic by hand, 1 - 29 × 19 / 600 and 1 - 56 × 36 / 2109
    made = cut(CutRequest(along=5, across=4, trim_mm=5), tin, 30)

    assert 100 * made.trim_share == pytest.approx(value(row_id), abs=5e-3)


def test_edge_pieces_of_a_5_by_4_grid() -> None:
    made = cut(CutRequest(along=5, across=4), DEVELOPMENT, 30)

    # Source: row CP025, by hand: all that touch the side, the inner 3 × 2 do not
    assert made.edge_pieces == value("CP025")
    trimmed = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, 30)
    assert trimmed.edge_pieces == value("CP025")


def test_48_pieces_of_a_33_by_23_tin() -> None:
    made = cut(CutRequest(pieces=48), Tin.rectangular(330, 230), 25)

    # Source: the page of row CP026: 48 pieces, 15.8 cm² each
    assert made.pieces == value("CP026")
    assert made.piece_area_mm2 / 100 == pytest.approx(15.8, abs=0.05)
    assert (made.along, made.across) == (8, 6)  # 41 × 38 mm


@pytest.mark.parametrize(
    ("grid", "tin", "expected_mm"),
    [
        ((5, 4), DEVELOPMENT, (58.0, 47.5)),
        ((6, 4), DEVELOPMENT, (48.333, 47.5)),
        ((12, 6), SHOP_FRAME, (46.667, 60.0)),
        ((14, 6), SHOP_FRAME, (40.0, 60.0)),
    ],
)
def test_pieces_of_the_demonstration_slabs(
    grid: tuple[int, int], tin: Tin, expected_mm: tuple[float, float]
) -> None:
    # by hand: (300 - 2 × 5) ÷ 5 = 58, (200 - 2 × 5) ÷ 4 = 47.5, and so on
    made = cut(CutRequest(along=grid[0], across=grid[1], trim_mm=5), tin, 30)

    assert size(made) == pytest.approx(expected_mm, abs=5e-4)
    assert made.pieces == grid[0] * grid[1]
    assert (made.spread_low, made.spread_high) == (1.0, 1.0)


def test_first_number_goes_along_the_length_as_written() -> None:
    tall = Tin.rectangular(200, 300)

    assert size(cut(CutRequest(along=5, across=4), tall, 30)) == (40.0, 75.0)


@pytest.mark.parametrize(
    ("pieces", "tin", "grid"),
    [
        (20, DEVELOPMENT, (5, 4)),
        (24, DEVELOPMENT, (6, 4)),
        (12, Tin.square(200), (4, 3)),  # as near as 3 × 4: more of them along
        (6, Tin.rectangular(200, 300), (2, 3)),
        (7, DEVELOPMENT, (7, 1)),
        (1, DEVELOPMENT, (1, 1)),
    ],
)
def test_the_grid_of_so_many_pieces_is_the_squarest(
    pieces: int, tin: Tin, grid: tuple[int, int]
) -> None:
    made = cut(CutRequest(pieces=pieces), tin, 30)

    assert (made.along, made.across) == grid
    assert made.pieces == pieces


@given(st.integers(1, 60), st.floats(100, 600), st.floats(100, 600))
def test_no_other_grid_of_as_many_pieces_is_squarer(
    pieces: int, length_mm: float, width_mm: float
) -> None:
    def aspect(a: int) -> float:
        one, other = length_mm / a, width_mm / (pieces // a)
        return max(one, other) / min(one, other)

    fits = [
        aspect(a)
        for a in range(1, pieces + 1)
        if pieces % a == 0 and min(length_mm / a, width_mm * a / pieces) >= 5
    ]
    request = CutRequest(pieces=pieces)
    if not fits:
        with pytest.raises(GeometryError, match=r"No grid of"):
            cut(request, Tin.rectangular(length_mm, width_mm), 30)
        return
    made = cut(request, Tin.rectangular(length_mm, width_mm), 30)

    assert made.pieces == pieces
    assert max(size(made)) / min(size(made)) == pytest.approx(min(fits), rel=1e-8)


def test_fingers_are_said_with_a_squarer_count() -> None:
    made = cut(CutRequest(pieces=23, trim_mm=5), DEVELOPMENT, 30)

    assert (made.along, made.across) == (23, 1)
    assert made.note.endswith("or 6 × 4 pieces of 48.3 × 47.5 mm")


def test_a_squarer_count_is_no_finger_itself() -> None:
    # of 23 there is only 23 × 1; 21 is 7 × 3, of 41 × 63 mm
    made = cut(CutRequest(pieces=22, trim_mm=5), DEVELOPMENT, 30)

    assert (made.along, made.across) == (11, 2)
    assert "or 7 × 3 pieces of 41.4 × 63.3 mm" in made.note


def test_a_prime_that_cannot_be_cut_names_a_count_that_can() -> None:
    with pytest.raises(GeometryError, match=r"No grid of 101 .* Cut 102: 17 × 6"):
        cut(CutRequest(pieces=101), DEVELOPMENT, 30)


def test_pieces_that_fit_exactly_all_fit() -> None:
    # in floats 150.6 / 25.1 falls just short of six
    request = CutRequest(piece_length_mm=25.1, piece_width_mm=25.1)
    made = cut(request, Tin.square(150.6), 30)

    assert made.pieces == 36
    assert made.trim_share == 0.0
    assert "strip" not in made.note


@given(st.integers(1, 12), st.floats(20, 80), st.floats(0, 3), st.floats(0, 12))
def test_a_slab_made_for_so_many_pieces_holds_them(
    count: int, piece_mm: float, knife_mm: float, trim_mm: float
) -> None:
    side_mm = count * piece_mm + (count - 1) * knife_mm + 2 * trim_mm
    request = CutRequest(
        piece_length_mm=piece_mm,
        piece_width_mm=piece_mm,
        knife_mm=knife_mm,
        trim_mm=trim_mm,
    )

    assert cut(request, Tin.square(side_mm), 30).pieces == count**2


def test_strips_left_over_are_trim() -> None:
    # 300 = 6 × 48 + 12 and 200 = 4 × 48 + 8
    request = CutRequest(piece_length_mm=48, piece_width_mm=48)
    made = cut(request, DEVELOPMENT, 30)

    assert (made.along, made.across) == (6, 4)
    assert made.kept_share == pytest.approx(24 * 48**2 / 60_000)
    assert made.trim_share == pytest.approx(1 - 24 * 48**2 / 60_000)
    assert list(made.cuts_along_mm) == [48, 96, 144, 192, 240, 288]
    assert "12 mm strip left at the right-hand end" in made.note
    assert "8 mm strip left along the far edge" in made.note


def test_pieces_are_turned_if_more_of_them_fit() -> None:
    # as written 2 × 3 of 120 × 60 (rest 60 and 20), turned 5 × 1: as written is best;
    # 60 × 90: as written 5 × 2 = 10, turned 3 × 3 = 9; 90 × 60 is turned to that
    request = CutRequest(piece_length_mm=90, piece_width_mm=60)
    made = cut(request, DEVELOPMENT, 30)

    assert (made.along, made.across, size(made)) == (5, 2, (60, 90))
    assert "turned" in made.note


def test_pieces_stay_as_written_if_as_many_fit() -> None:
    request = CutRequest(piece_length_mm=60, piece_width_mm=40)
    made = cut(request, Tin.square(240), 30)

    assert size(made) == (60, 40)
    assert made.pieces == 24


def test_the_knife_takes_its_width_from_every_inside_cut() -> None:
    made = cut(CutRequest(along=3, across=2, knife_mm=3), DEVELOPMENT, 30)

    # (300 - 2 × 3) ÷ 3 = 98 and (200 - 3) ÷ 2 = 98.5; the knife: 2 cuts of 200 mm and
    # one of 300, less where they cross
    assert size(made) == (98.0, 98.5)
    lost_mm2 = 3 * (2 * 200 + 300) - 2 * 3 * 3
    assert made.knife_share == pytest.approx(lost_mm2 / 60_000)
    assert made.trim_share == 0.0
    assert made.cuts_along_mm == pytest.approx((99.5, 200.5))
    assert made.cuts_across_mm == pytest.approx((100,))


def test_the_knife_parts_the_last_piece_from_a_strip() -> None:
    request = CutRequest(piece_length_mm=58, piece_width_mm=47.5, knife_mm=1.5)
    made = cut(request, DEVELOPMENT, 30)

    # 300 = 5 × 58 + 5 × 1.5 + 2.5 and 200 = 4 × 47.5 + 4 × 1.5 + 4
    assert "2.5 mm strip left at the right-hand end; 4 mm strip left" in made.note
    assert made.cuts_along_mm == pytest.approx((58.75, 118.25, 177.75, 237.25, 296.75))
    assert made.cuts_across_mm == pytest.approx((48.25, 97.25, 146.25, 195.25))
    lost_mm2 = 1.5 * (5 * 200 + 4 * 300) - 5 * 4 * 1.5**2
    assert made.knife_share == pytest.approx(lost_mm2 / 60_000)


def test_where_the_knife_goes_with_trim() -> None:
    made = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, 30)

    assert list(made.cuts_along_mm) == [5, 63, 121, 179, 237, 295]
    assert list(made.cuts_across_mm) == [5, 52.5, 100, 147.5, 195]


def test_trim_to_a_size_is_trim_from_both_ends() -> None:
    request = CutRequest(along=5, across=4, trim_to_mm=(290, 190))

    same = CutRequest(along=5, across=4, trim_mm=5)
    assert cut(request, DEVELOPMENT, 30) == cut(same, DEVELOPMENT, 30)


@pytest.mark.parametrize("length_mm", [300, 299.9999999])
def test_trim_to_the_whole_size_cuts_nothing_off(length_mm: float) -> None:
    request = CutRequest(along=5, across=4, trim_to_mm=(length_mm, 190))
    made = cut(request, DEVELOPMENT, 30)

    assert made.cuts_along_mm == pytest.approx((60, 120, 180, 240))
    assert list(made.cuts_across_mm) == [5, 52.5, 100, 147.5, 195]
