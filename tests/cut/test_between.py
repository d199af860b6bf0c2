"""The best grid for pieces in a range of masses, against trying them all."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabwright.cut.cut import cut
from slabwright.cut.options import options
from slabwright.cut.request import CutRequest
from slabwright.cut.spread import Evenness, spread
from slabwright.errors import GeometryError
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

DEVELOPMENT = Tin.rectangular(300, 200, 50)
BOTH = Tin.rectangular(320, 220, 40, corner_radius_mm=20, rim=Outline(350, 250, 45))
ROUND = Tin.round(230, 70)


def between(
    low: float, high: float, least: float | None = None, trim_mm: float = 0.0
) -> CutRequest:
    return CutRequest(piece_g=low, piece_to_g=high, least_mm=least, trim_mm=trim_mm)


def test_between_60_and_75_g_not_narrower_than_40_mm() -> None:
    made = cut(between(60, 75, 40, trim_mm=5), DEVELOPMENT, 30.9, 1866)

    # 1713.6 g are kept: 23 to 28 pieces. By hand: 6 × 4 of 48.3 × 47.5 mm, 71.4 g, and
    # 7 × 4 of 41.4 × 47.5 mm, 61.2 g; 5 × 5 are 38 mm wide, 9 × 3 32 mm
    assert (made.along, made.across) == (6, 4)
    assert "88% of the pieces between 60 and 75 g, the most of 2 grids" in made.note
    found = options(between(60, 75, 40, trim_mm=5), DEVELOPMENT, 30.9, 1866, Evenness())
    assert [one.said for one in found] == ["6 x 4", "7 x 4"]
    assert [round(one.share * 1866, 1) for one in found] == [71.4, 61.2]


@settings(max_examples=20)
@given(
    st.floats(25, 120), st.floats(1.1, 1.6), st.sampled_from([None, 30.0, 45.0]),
    st.sampled_from([0.0, 5.0]), st.sampled_from([DEVELOPMENT, BOTH]),
)  # fmt: skip
def test_no_other_grid_has_more_pieces_in_the_range(
    low: float, wide: float, least: float | None, trim_mm: float, tin: Tin
) -> None:
    high, slab_g = low * wide, 1866.0
    request = between(low, high, least, trim_mm=trim_mm)

    def tried(longest: float) -> dict[tuple[int, int], float]:
        found = {}
        for a in range(1, 21):
            for b in range(1, 21):
                grid = CutRequest(along=a, across=b, trim_mm=trim_mm)
                try:
                    made = cut(grid, tin, 30)
                except GeometryError:
                    continue
                size = (made.piece_length_mm or 0, made.piece_width_mm or 0)
                mean = slab_g * made.kept_share / made.pieces
                fits = min(size) >= (least or 0) and low <= mean <= high
                if fits and max(size) / min(size) <= longest:
                    likely = spread(made, tin, 30, Evenness())
                    found[a, b] = likely.below(high / slab_g) - likely.below(
                        low / slab_g
                    )
        return found

    every = tried(2) or tried(1e9)
    if not every:
        with pytest.raises(GeometryError, match=r"No grid has pieces of that mass"):
            cut(request, tin, 30, slab_g)
        return
    made = cut(request, tin, 30, slab_g)
    assert made.along is not None
    assert made.across is not None
    assert every[made.along, made.across] >= max(every.values()) - 0.0101


def test_what_cannot_be_had_names_what_comes_nearest() -> None:
    with pytest.raises(GeometryError, match=r"at least 60 mm wide.* 7 × 4|6 × 4"):
        cut(between(60, 75, 60, trim_mm=5), DEVELOPMENT, 31, 1866)
    with pytest.raises(GeometryError, match=r"of that mass.*nearest are .*widen"):
        cut(between(63, 63.1), DEVELOPMENT, 31, 1866)
    with pytest.raises(GeometryError, match=r"No number of wedges .* widen the range"):
        cut(between(62, 62.1), ROUND, 31, 1866)
    with pytest.raises(GeometryError, match=r"pieces of that mass"):
        cut(between(2000, 3000), DEVELOPMENT, 31, 1866)


def test_wedges_between_two_masses() -> None:
    made = cut(between(70, 80), ROUND, 31, 1866)

    # by hand: 1866 ÷ 75 = 24.9: 24 to 26 wedges lie in the range on average
    assert made.pieces in {24, 25, 26}
    found = options(between(70, 80), ROUND, 31, 1866, Evenness())
    assert {one.pieces for one in found} == {24, 25, 26}
    wide = options(between(70, 200, 40), ROUND, 31, 1866, Evenness())
    # a chord of 40 mm at 115 mm: 2 asin(20 / 115) = 20.03°, so 17 wedges at most
    assert max(one.pieces for one in wide) == 17


def test_a_least_width_with_one_mass() -> None:
    made = cut(CutRequest(piece_g=60, least_mm=45, trim_mm=5), DEVELOPMENT, 31, 1866)

    assert min(made.piece_length_mm or 0, made.piece_width_mm or 0) >= 45
    with pytest.raises(GeometryError, match=r"mm wide at the rim"):
        cut(CutRequest(piece_g=40, least_mm=45), ROUND, 31, 1866)
