"""How unlike pieces come out: closed form, simulation, and what is known besides."""

from collections.abc import Callable
from math import inf, nan, sqrt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from slabwright.cut.cut import cut
from slabwright.cut.grid import exact
from slabwright.cut.request import CutRequest
from slabwright.cut.rooms import rooms
from slabwright.cut.shares import shares
from slabwright.cut.simulate import Trial, simulate
from slabwright.cut.spread import (
    Evenness,
    below_uniform_and_normal,
    grid_spread,
    spread,
)
from slabwright.errors import GeometryError
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

DEVELOPMENT = Tin.rectangular(300, 200, 50)
SHOP_FRAME = Tin.rectangular(570, 370, 45)
BOTH = Tin.rectangular(320, 220, 40, corner_radius_mm=20, rim=Outline(350, 250, 45))
ROUND = Tin.round(230, 70)
HEIGHT = 31.0


@given(st.floats(-0.3, 0.3), st.floats(1e-4, 0.2), st.floats(1e-3, 0.1))
def test_the_sum_of_a_uniform_and_a_normal(x: float, w: float, s: float) -> None:
    # Source: the mean of SciPy's normal distribution over the uniform, by quadrature
    expected = quad(lambda u: norm.cdf(x - u, scale=s), -w, w, points=[0])[0] / (2 * w)

    assert below_uniform_and_normal(x, w, s) == pytest.approx(expected, abs=1e-7)


def test_either_part_alone() -> None:
    assert below_uniform_and_normal(0.01, 0.02, 0) == pytest.approx(0.75)
    assert below_uniform_and_normal(0.1, 0.02, 0) == 1
    assert below_uniform_and_normal(-0.1, 0.02, 0) == 0
    # one deviation above the mean: 84.13 %, any table of the normal distribution
    assert below_uniform_and_normal(0.02, 0, 0.02) == pytest.approx(0.8413, abs=5e-5)
    assert below_uniform_and_normal(0.02, 1e-9, 0.02) == pytest.approx(0.8413, abs=5e-5)


def test_a_grid_worked_out_by_hand() -> None:
    made = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, HEIGHT)
    found = spread(made, DEVELOPMENT, HEIGHT, Evenness(1, 1))

    # four sides cut: 1 mm on each of two of 58 mm and two of 47.5 mm
    (kind,) = found.kinds
    assert kind.count == 20
    assert kind.knife == pytest.approx(sqrt(2 / 58**2 + 2 / 47.5**2))
    # five in a row of 290 mm of 300: 1/31 × √3 × 58/300 × √((25 - 1) / 12)
    assert found.slope == pytest.approx(1 / 31 * sqrt(3) * 58 / 300 * sqrt(2))
    assert found.mean == pytest.approx(29 * 19 / 600 / 20)


def test_pieces_at_an_untrimmed_edge_lean_on_fewer_cuts() -> None:
    made = cut(CutRequest(along=5, across=4), DEVELOPMENT, HEIGHT)
    found = spread(made, DEVELOPMENT, HEIGHT, Evenness(1, 1))

    # 60 × 50 mm; corner: one cut each way; edge: one and two; 3 × 2 inside
    by_hand = {
        4: 1 / 60**2 + 1 / 50**2,
        6: 2 / 60**2 + 1 / 50**2,  # along near and far edge, inside as many
    }
    deviations = sorted((kind.count, kind.knife**2) for kind in found.kinds)
    assert [count for count, _ in deviations] == [4, 4, 6, 6]
    assert deviations[2][1] == pytest.approx(by_hand[6])
    assert min(square for _, square in deviations) == pytest.approx(by_hand[4])


WAYS: list[tuple[dict[str, Any], Tin, float]] = [
    # the last: how far both may lie apart, of the mean mass of a piece
    ({"along": 5, "across": 4, "trim_mm": 5}, DEVELOPMENT, 0.005),
    ({"along": 5, "across": 4}, DEVELOPMENT, 0.012),
    ({"along": 12, "across": 6, "trim_mm": 5, "knife_mm": 1}, SHOP_FRAME, 0.005),
    ({"piece_length_mm": 48, "piece_width_mm": 48}, DEVELOPMENT, 0.012),
    ({"along": 4, "across": 3}, BOTH, 0.01),
    (
        {"piece_length_mm": 60, "piece_width_mm": 60, "triangles": 2, "trim_mm": 5},
        DEVELOPMENT,
        0.015,
    ),
    (
        {"piece_length_mm": 60, "piece_width_mm": 60, "triangles": 4, "knife_mm": 1},
        DEVELOPMENT,
        0.025,
    ),
    ({"diamond_mm": 40, "trim_mm": 5, "knife_mm": 1}, DEVELOPMENT, 0.01),
    ({"wedges": 12}, ROUND, 0.01),
    ({"wedges": 7, "trim_mm": 5, "knife_mm": 1}, ROUND, 0.01),
    ({"wedges": 2}, ROUND, 0.01),
    ({"strip_mm": 30}, ROUND, 0.01),
]


@pytest.mark.parametrize(("way", "tin", "apart"), WAYS)
def test_closed_form_and_simulation_agree(
    way: dict[str, Any], tin: Tin, apart: float
) -> None:
    # The simulation moves every stroke and measures every piece with the shoelace sum:
    # it has products of two moves, which the closed form leaves out.
    made = cut(CutRequest(**way), tin, HEIGHT)
    closed = spread(made, tin, HEIGHT, Evenness())
    tried = simulate(made, tin, HEIGHT, Evenness(), Trial(most_sides=2_000_000))

    assert tried.mean == pytest.approx(closed.mean, rel=3e-3)
    assert tried.deviation == pytest.approx(closed.deviation, rel=0.03)
    assert tried.reached_by() == pytest.approx(
        closed.reached_by(), abs=apart * closed.mean
    )
    assert tried.below(closed.reached_by()) == pytest.approx(0.01, abs=5e-3)
    assert tried.below(closed.mean) == pytest.approx(
        closed.below(closed.mean), abs=0.02
    )


@settings(max_examples=12)
@given(
    st.integers(2, 8), st.integers(2, 6), st.floats(0, 2), st.floats(0.3, 1.2),
    st.sampled_from([0.0, 5.0]),
)  # fmt: skip
def test_they_agree_on_any_grid(
    along: int, across: int, level_mm: float, off_mm: float, trim_mm: float
) -> None:
    even = Evenness(level_mm, off_mm)
    request = CutRequest(along=along, across=across, trim_mm=trim_mm)
    made = cut(request, DEVELOPMENT, HEIGHT)
    closed = spread(made, DEVELOPMENT, HEIGHT, even)
    tried = simulate(made, DEVELOPMENT, HEIGHT, even, Trial(draws=200_000))

    assert tried.deviation == pytest.approx(closed.deviation, rel=0.05, abs=1e-6)
    assert tried.reached_by() == pytest.approx(
        closed.reached_by(), abs=0.02 * closed.mean
    )


@given(st.integers(1, 9), st.integers(1, 7), st.sampled_from([0.0, 5.0]),
       st.sampled_from([DEVELOPMENT, BOTH]))  # fmt: skip
def test_the_quick_way_for_grids_is_the_same(
    along: int, across: int, trim_mm: float, tin: Tin
) -> None:
    request = CutRequest(along=along, across=across, trim_mm=trim_mm)
    made = cut(request, tin, HEIGHT)
    grid = exact(*rooms(request, tin), (along, across))
    each = shares(grid, tin, HEIGHT).each
    quick = grid_spread(grid, each, HEIGHT, Evenness())
    slow = spread(made, tin, HEIGHT, Evenness())

    assert quick.slope == pytest.approx(slow.slope)
    assert quick.mean == pytest.approx(slow.mean)
    assert quick.deviation == pytest.approx(slow.deviation, rel=1e-6, abs=1e-12)
    assert quick.reached_by() == pytest.approx(slow.reached_by(), rel=1e-6)


def test_a_true_knife_and_a_level_slab_give_what_was_planned() -> None:
    made = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, HEIGHT)
    closed = spread(made, DEVELOPMENT, HEIGHT, Evenness(0, 0))
    tried = simulate(made, DEVELOPMENT, HEIGHT, Evenness(0, 0), Trial(draws=100))

    assert closed.reached_by() == pytest.approx(closed.mean, rel=1e-9)
    assert tried.shares == pytest.approx([closed.mean] * len(tried.shares), rel=1e-9)


@given(st.floats(0, 3), st.floats(0, 3), st.floats(0.5, 1.5))
def test_worse_evenness_promises_less(
    level_mm: float, off_mm: float, more: float
) -> None:
    made = cut(CutRequest(along=5, across=4, trim_mm=5), DEVELOPMENT, HEIGHT)

    def reached(level: float, off: float) -> float:
        return spread(made, DEVELOPMENT, HEIGHT, Evenness(level, off)).reached_by()

    least = reached(level_mm, off_mm)
    assert reached(level_mm + more, off_mm) <= least + 1e-12
    assert reached(level_mm, off_mm + more) <= least + 1e-12


def test_a_knife_so_wild_promises_nothing() -> None:
    made = cut(CutRequest(along=50, across=30), DEVELOPMENT, HEIGHT)

    assert spread(made, DEVELOPMENT, HEIGHT, Evenness(1, 20)).reached_by() == 0


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_evenness_is_not_below_zero(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"out of level by .* 1 mm is usual"):
        Evenness(level_mm=bad)
    with pytest.raises(GeometryError, match=r"off its line by .* 1 mm is usual"):
        Evenness(knife_off_mm=bad)


@pytest.mark.parametrize("way", [spread, simulate])
def test_no_slab_is_more_out_of_level_than_it_is_high(
    way: Callable[..., object],
) -> None:
    made = cut(CutRequest(along=5, across=4), DEVELOPMENT, 10)

    with pytest.raises(GeometryError, match=r"10 mm can't be out of level by 11 mm"):
        way(made, DEVELOPMENT, 10.0, Evenness(level_mm=11))


# --- long work --------------------


def test_it_reports_how_far_it_is_and_ends_when_told() -> None:
    made = cut(CutRequest(along=20, across=10, trim_mm=5), SHOP_FRAME, HEIGHT)
    shares_done: list[float] = []
    whole = simulate(
        made, SHOP_FRAME, HEIGHT, Evenness(), Trial(draws=2_000_000), shares_done.append
    )

    assert shares_done == sorted(shares_done)
    assert shares_done[-1] == 1
    assert len(shares_done) > 3
    early = simulate(
        made, SHOP_FRAME, HEIGHT, Evenness(), Trial(draws=2_000_000), stop=lambda: True
    )
    assert 0 < early.slabs < whole.slabs


def test_the_same_seed_gives_the_same_slabs() -> None:
    made = cut(CutRequest(along=5, across=4), DEVELOPMENT, HEIGHT)

    def tried(seed: int) -> list[float]:
        trial = Trial(draws=1000, seed=seed)
        found = simulate(made, DEVELOPMENT, HEIGHT, Evenness(), trial)
        return [float(share) for share in found.shares]

    assert tried(1) == tried(1)
    assert tried(1) != tried(2)
