"""What a tin holds, against arithmetic, tables of the trade and another integral."""

import csv
from math import inf, nan, pi, sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from slabwright.errors import GeometryError
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

TABLE = Path(__file__).parents[1] / "reference/trade/tins_and_pieces.csv"
IN = 25.4
US_CUP_ML = 236.588

SLOPING = Tin.rectangular(320, 220, 40, rim=Outline(340, 240))
ROUNDED = Tin.rectangular(320, 220, 40, corner_radius_mm=20, rim=Outline(340, 240, 35))
PIE = Tin.round(200, 50, rim_diameter_mm=230)


def known(row_id: str) -> dict[str, str]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        (row,) = (r for r in csv.DictReader(file) if r["id"] == row_id)
    return row


def value(row_id: str) -> float:
    row = known(row_id)
    return (float(row["value_low"]) + float(row["value_high"])) / 2


@st.composite
def tins(draw: st.DrawFn) -> Tin:
    """Straight and sloping tins, round, square and long, as a kitchen has them."""
    length_mm, width_mm = draw(st.floats(80, 700)), draw(st.floats(80, 700))
    depth_mm, flare_mm = draw(st.floats(10, 120)), draw(st.just(0) | st.floats(0, 60))
    if draw(st.booleans()):
        return Tin.round(length_mm, depth_mm, rim_diameter_mm=length_mm + flare_mm)
    rim = Outline(length_mm + flare_mm, width_mm + flare_mm / 2, draw(st.floats(0, 40)))
    return Tin.rectangular(
        length_mm, width_mm, depth_mm, corner_radius_mm=draw(st.floats(0, 40)), rim=rim
    )


@pytest.mark.parametrize(
    ("row_id", "tin"),
    [
        ("CP001", Tin.square(200)),
        ("CP002", Tin.square(230)),
        ("CP004", Tin.rectangular(330, 230)),
        ("CP005", Tin.round(200)),
        ("CP016", Tin.rectangular(600 - 2 * 15, 400 - 2 * 15)),
    ],
)
def test_areas_of_usual_tins(row_id: str, tin: Tin) -> None:
    # Source: arithmetic by hand, rows CP001 to CP016, rounded to 0.1 cm²
    assert tin.area_mm2() / 100 == pytest.approx(value(row_id), abs=0.05)


@pytest.mark.parametrize(
    ("row_id", "there", "here"),
    [
        ("CP007", Tin.rectangular(13 * IN, 9 * IN), Tin.square(8 * IN)),
        ("CP008", Tin.square(8 * IN), Tin.square(9 * IN)),
        ("CP017", Tin.rectangular(570, 370), Tin.rectangular(300, 200)),
    ],
)
def test_multipliers_between_tins_of_one_depth(
    row_id: str, there: Tin, here: Tin
) -> None:
    # Source: the pages named in rows CP007 and CP008; CP017 by hand
    assert there.area_mm2() / here.area_mm2() == pytest.approx(value(row_id), abs=5e-4)


def test_a_square_tin_holds_more_than_the_round_one_across_it() -> None:
    more = Tin.square(8 * IN).area_mm2() / Tin.round(8 * IN).area_mm2() - 1

    row = known("CP013")  # by hand: 64 against 50.3 square inches
    assert float(row["value_low"]) <= 100 * more <= float(row["value_high"])


def test_a_9_inch_square_holds_two_cups_more_than_an_8_inch_square() -> None:
    nine, eight = (Tin.square(side * IN, 2 * IN).brim_volume_ml for side in (9, 8))

    # Source: the page of row CP014, in whole cups
    assert nine is not None
    assert eight is not None
    assert round((nine - eight) / US_CUP_ML) == value("CP014")


def test_brim_volume_of_the_13_by_9_inch_tin() -> None:
    brim_ml = Tin.rectangular(13 * IN, 9 * IN, 2 * IN).brim_volume_ml

    # Source: the page of row CP011 gives 15 cups. Its tin has rounded corners and
    # sloping walls, so sharp straight ones hold up to a tenth more.
    assert brim_ml is not None
    assert 1.0 <= brim_ml / US_CUP_ML / value("CP011") <= 1.1


def test_a_curd_of_the_demonstration_slab() -> None:
    # 969 g ÷ 1.09 g/ml ÷ 600 cm² = 14.8 mm; the sum is done by hand
    assert Tin.rectangular(300, 200).depth_mm_of(969 / 1.09e-3) == pytest.approx(
        14.817, abs=5e-4
    )


def area_by_strips(tin: Tin, height_mm: float) -> float:
    """The section's area from its width at every place along it, in its own way.

    Its length, width and corner radius at this height are read off straight lines
    from base to rim here, not asked of the tin.
    """
    assert tin.depth_mm is not None
    s = min(height_mm / tin.depth_mm, 1)
    length, width, radius = (
        (1 - s) * low + s * high
        for low, high in (
            (tin.base.length_mm, tin.rim.length_mm),
            (tin.base.width_mm, tin.rim.width_mm),
            (tin.base.corner_radius_mm, tin.rim.corner_radius_mm),
        )
    )

    def width_at(x: float) -> float:
        into_corner = max(x - (length / 2 - radius), 0)
        return width - 2 * radius + 2 * sqrt(max(radius**2 - into_corner**2, 0))

    straight: float = quad(width_at, 0, length / 2 - radius)[0]
    corner: float = quad(width_at, length / 2 - radius, length / 2)[0]
    return 2 * (straight + corner)


@pytest.mark.parametrize("tin", [SLOPING, ROUNDED, PIE, Tin.round(230, 70)])
@pytest.mark.parametrize("height_mm", [0.0, 7.5, 25.0, 39.9, 80.0])
def test_area_and_volume_against_another_integral(tin: Tin, height_mm: float) -> None:
    # Source: scipy.integrate.quad over a section that is written out afresh above
    assert tin.depth_mm is not None
    volume_mm3, _ = quad(
        lambda z: area_by_strips(tin, z), 0, height_mm, points=[tin.depth_mm]
    )

    expected_mm2 = area_by_strips(tin, height_mm)
    assert tin.area_mm2(height_mm) == pytest.approx(expected_mm2, rel=1e-8)
    assert tin.volume_mm3(height_mm) == pytest.approx(volume_mm3, rel=1e-8, abs=1e-6)


def test_a_cone_frustum_by_its_formula() -> None:
    # π h (R² + R r + r²) / 3, the school formula
    expected_mm3 = pi * 50 * (115**2 + 115 * 100 + 100**2) / 3

    assert PIE.volume_mm3(50) == pytest.approx(expected_mm3, rel=1e-12)
    assert PIE.brim_volume_ml == pytest.approx(expected_mm3 / 1000, rel=1e-12)


@given(tins(), st.floats(0, 150), st.floats(1, 3e7))
def test_the_volume_up_to_the_depth_is_the_volume_that_was_poured(
    tin: Tin, start_mm: float, volume_mm3: float
) -> None:
    depth_mm = tin.depth_mm_of(volume_mm3, start_mm)

    held_mm3 = tin.volume_mm3(start_mm + depth_mm) - tin.volume_mm3(start_mm)
    near_mm3 = 1e-9 * tin.area_mm2(start_mm + depth_mm)  # 1e-9 mm of depth
    assert held_mm3 == pytest.approx(volume_mm3, rel=1e-9, abs=near_mm3)


@given(tins(), st.lists(st.floats(0, 3e6), min_size=1, max_size=8))
def test_layers_on_layers_stand_as_deep_as_all_at_once(
    tin: Tin, volumes_mm3: list[float]
) -> None:
    height_mm = 0.0
    for volume_mm3 in volumes_mm3:
        height_mm += tin.depth_mm_of(volume_mm3, height_mm)

    assert height_mm == pytest.approx(tin.depth_mm_of(sum(volumes_mm3)), rel=1e-9)


def test_a_layer_higher_up_a_sloping_tin_is_thinner() -> None:
    low_mm, high_mm = (SLOPING.depth_mm_of(500_000, z) for z in (0, 25))

    assert high_mm < low_mm


def test_above_the_rim_a_layer_goes_straight_up() -> None:
    # 10 mm at 340 × 240 on a full tin, and the half of it that is still inside
    full_mm3 = 10 * 340 * 240

    assert SLOPING.depth_mm_of(full_mm3, 40) == pytest.approx(10)
    assert SLOPING.depth_mm_of(full_mm3, 60) == pytest.approx(10)
    assert SLOPING.depth_mm_of(SLOPING.volume_mm3(40) + full_mm3) == pytest.approx(50)


def test_nothing_poured_has_no_depth() -> None:
    assert SLOPING.depth_mm_of(0.0) == 0.0
    assert SLOPING.depth_mm_of(0.0, 12.0) == 0.0


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_a_layer_needs_a_volume_and_a_height(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"layer's volume is .* Give 0 or more"):
        SLOPING.depth_mm_of(bad)
    with pytest.raises(GeometryError, match=r"layer's height is .* Give 0 or more"):
        SLOPING.depth_mm_of(1.0, bad)


def test_length_is_the_size_that_was_written_first() -> None:
    tin = Tin.rectangular(200, 300)

    assert (tin.length_mm, tin.width_mm) == (200, 300)


@pytest.mark.parametrize(
    ("tin", "words"),
    [
        (Tin.rectangular(300, 200, 50), "30 × 20 × 5 cm"),
        (Tin.rectangular(300, 200), "30 × 20 cm"),
        (Tin.round(230, 70), "round 23 cm, 7 cm deep"),
        (Tin.round(230), "round 23 cm"),
        (SLOPING, "32 × 22 cm at the base, 34 × 24 cm at the rim, 4 cm deep"),
        (PIE, "round 20 cm at the base, 23 cm at the rim, 5 cm deep"),
        (Tin.square(8 * IN), "20.32 × 20.32 cm"),
        (Tin.square(200, corner_radius_mm=15), "20 × 20 cm, corner radius 1.5 cm"),
        (
            ROUNDED,
            "32 × 22 cm at the base, 34 × 24 cm at the rim, 4 cm deep, "
            "corner radius 2 cm at the base, 3.5 cm at the rim",
        ),
    ],
)
def test_a_tin_in_words(tin: Tin, words: str) -> None:
    assert tin.describe() == words


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf, 3000.1, 4.9])
def test_a_tin_needs_sizes_that_a_tin_can_have(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"length at the base is .* Give its inner"):
        Tin.rectangular(bad, 200)
    with pytest.raises(GeometryError, match=r"width at the base is .* Give its inner"):
        Tin.rectangular(200, bad)
    with pytest.raises(GeometryError, match=r"diameter at the base is .* Give its"):
        Tin.round(bad)
    with pytest.raises(GeometryError, match=r"width at the rim is .* Give its inner"):
        Tin.rectangular(200, 200, 40, rim=Outline(200, bad))


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf, 500.1])
def test_a_tin_needs_a_depth_that_a_tin_can_have(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"depth is .* Give its inner depth"):
        Tin.square(200, bad)


@pytest.mark.parametrize("bad", [-1.0, nan, 100.1])
def test_corners_are_rounded_to_half_the_short_side_at_most(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"corner radius .* Give 0 to 100 mm"):
        Tin.rectangular(300, 200, corner_radius_mm=bad)


def test_the_largest_tin_and_the_roundest_corners_are_allowed() -> None:
    assert Tin.rectangular(3000, 5, 500).length_mm == 3000
    assert Tin.square(200, corner_radius_mm=100).area_mm2() == pytest.approx(
        Tin.round(200).area_mm2()
    )


def test_a_slope_needs_a_depth() -> None:
    with pytest.raises(GeometryError, match=r"depth is not said. Add its inner depth"):
        Tin.round(200, rim_diameter_mm=230)


def test_base_and_rim_that_were_swapped_are_told() -> None:
    with pytest.raises(GeometryError, match=r"narrower at the rim .* the base first"):
        Tin.rectangular(340, 240, 40, rim=Outline(320, 260))
    with pytest.raises(GeometryError, match=r"narrower at the rim .* the base first"):
        Tin.rectangular(340, 240, 40, rim=Outline(360, 220))


def test_a_round_tin_is_round() -> None:
    oval = Outline(200, 180, 90)

    with pytest.raises(GeometryError, match=r"not round. Give its diameter"):
        Tin("round", oval, oval)


def test_all_mistakes_of_a_tin_are_told_at_once() -> None:
    with pytest.raises(GeometryError) as caught:
        Tin.rectangular(nan, -2, 0)

    assert len(caught.value.mistakes) == 4  # corner radius of a nan tin too
