"""Wedges of a round slab."""

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.cut.cut import cut
from slabwright.cut.request import CutRequest
from slabwright.cut.wedge import wedge_area_mm2
from slabwright.errors import GeometryError
from slabwright.slab.tin import Tin

ROUND = Tin.round(230, 70)
PIE = Tin.round(200, 50, rim_diameter_mm=230)


def test_12_wedges_are_a_twelfth_each() -> None:
    made = cut(CutRequest(wedges=12), ROUND, 30)

    assert made.shape == "wedges"
    assert (made.pieces, made.piece_angle_deg) == (12, 30)
    assert made.piece_area_mm2 == pytest.approx(pi * 115**2 / 12)
    assert (made.kept_share, made.trim_share, made.knife_share) == (1, 0, 0)
    assert (made.along, made.piece_length_mm, made.cuts_along_mm) == (None, None, ())


def test_so_many_pieces_of_a_round_slab_are_wedges() -> None:
    assert cut(CutRequest(pieces=9), ROUND, 30) == cut(CutRequest(wedges=9), ROUND, 30)


def test_the_trim_of_a_round_slab_is_a_ring() -> None:
    made = cut(CutRequest(wedges=8, trim_mm=15), ROUND, 30)

    assert made.kept_share == pytest.approx(100**2 / 115**2)
    assert made.trim_share == pytest.approx(1 - 100**2 / 115**2)


@pytest.mark.parametrize("wedges", [2, 3, 4, 7, 12])
def test_area_of_a_wedge_by_throwing_darts(wedges: int) -> None:
    # Source: a seeded Monte Carlo count; a dart is lost to the knife if it lies within
    # half the knife of any radius. One standard error is about 0.1 %.
    knife_mm, radius_mm = 6.0, 100.0
    throw = np.random.default_rng(20261125)
    x, y = throw.uniform(-radius_mm, radius_mm, (2, 2_000_000))
    kept = x**2 + y**2 < radius_mm**2
    for i in range(wedges):
        angle = 2 * pi * i / wedges
        along = x * np.cos(angle) + y * np.sin(angle)
        off = abs(y * np.cos(angle) - x * np.sin(angle))
        kept &= ~((along > 0) & (off < knife_mm / 2))

    expected_mm2 = kept.mean() * (2 * radius_mm) ** 2 / wedges
    made_mm2 = wedge_area_mm2(radius_mm, wedges, knife_mm)
    assert made_mm2 == pytest.approx(expected_mm2, rel=3e-3)


def test_two_halves_lose_the_strip_along_a_diameter() -> None:
    # within h of a diameter lies 2 (h √(R² - h²) + R² asin(h / R)), school formula
    lost_mm2 = 2 * (3 * (100**2 - 3**2) ** 0.5 + 100**2 * np.arcsin(0.03))

    halves_mm2 = 2 * wedge_area_mm2(100, 2, 6)
    assert halves_mm2 == pytest.approx(pi * 100**2 - lost_mm2, rel=1e-12)


def test_a_thin_knife_takes_its_width_along_each_radius() -> None:
    lost_mm2 = pi * 115**2 - 12 * wedge_area_mm2(115, 12, 0.01)

    assert lost_mm2 == pytest.approx(12 * 0.01 * 115, rel=1e-3)


def test_one_wedge_is_the_uncut_slab() -> None:
    made = cut(CutRequest(wedges=1, knife_mm=2), ROUND, 30)

    assert (made.pieces, made.kept_share, made.knife_share) == (1, 1, 0)
    assert made.note == "1 piece, round and uncut"


@given(
    st.integers(1, 40),
    st.sampled_from([ROUND, PIE]),
    st.floats(0, 4),
    st.sampled_from([0.0, 5.0]),
    st.floats(5, 80),
)
def test_nothing_of_the_slab_is_lost_or_counted_twice(
    wedges: int, tin: Tin, knife_mm: float, trim_mm: float, height_mm: float
) -> None:
    request = CutRequest(wedges=wedges, knife_mm=knife_mm, trim_mm=trim_mm)
    made = cut(request, tin, height_mm)

    shares = (made.kept_share, made.trim_share, made.knife_share)
    assert sum(shares) == pytest.approx(1, abs=1e-12)
    assert min(shares) >= 0
    assert made.trim_share > 0 or not trim_mm
    assert made.knife_share > 0 or wedges == 1 or knife_mm < 1e-6


def test_a_sloping_edge_goes_with_a_trim() -> None:
    made = cut(CutRequest(wedges=8, trim_mm=10), PIE, 50)

    # a cylinder of 90 mm out of a cone frustum of 100 to 115 mm, school formula
    frustum = (115**2 + 115 * 100 + 100**2) / 3
    assert made.kept_share == pytest.approx(90**2 / frustum)
    assert cut(CutRequest(wedges=8), PIE, 50).kept_share == 1.0


@pytest.mark.parametrize(("wish_g", "wedges"), [(75, 25), (150, 12), (1866, 1)])
def test_wedges_of_a_mass(wish_g: float, wedges: int) -> None:
    # by hand: 1866 ÷ 25 = 74.6 (÷ 24 = 77.8); ÷ 12 = 155.5 (÷ 13 = 143.5)
    made = cut(CutRequest(piece_g=wish_g), ROUND, 30, 1866)

    assert made.pieces == wedges
    assert f"nearest to {wish_g} g" in made.note


@given(st.floats(40, 1200), st.floats(0, 3))
def test_no_other_count_of_wedges_comes_nearer(wish_g: float, knife_mm: float) -> None:
    def off_g(wedges: int) -> float:
        other = cut(CutRequest(wedges=wedges, knife_mm=knife_mm), PIE, 30)
        return abs(1866 * other.kept_share / wedges - wish_g)

    made = cut(CutRequest(piece_g=wish_g, knife_mm=knife_mm), PIE, 30, 1866)

    assert off_g(made.pieces) <= min(off_g(n) for n in range(1, 50)) + 1e-9


def test_a_slab_too_small_for_two_wedges_stays_whole() -> None:
    request = CutRequest(piece_g=20, knife_mm=4)

    assert cut(request, Tin.round(8), 30, 20).pieces == 1


def test_wedges_too_thin_to_cut() -> None:
    with pytest.raises(GeometryError, match=r"would be 3.6 mm wide. Cut fewer"):
        cut(CutRequest(wedges=200), ROUND, 30)
    with pytest.raises(GeometryError, match=r"would be 0 mm wide. Cut fewer"):
        cut(CutRequest(wedges=12, knife_mm=100), ROUND, 30)


def test_a_ring_wider_than_the_slab() -> None:
    with pytest.raises(GeometryError, match=r"trim of 115 mm leaves nothing .* less"):
        cut(CutRequest(wedges=12, trim_mm=115), ROUND, 30)
