"""Friendly amounts against brute force, a MILP solver and rounding line by line."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product
from math import ceil, floor, inf, nan

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from slabwright.slab.distortion import FriendlyError, Want, Weights, score_of
from slabwright.slab.friendly import APART, choices
from slabwright.slab.friendly_layer import WINDOWS, best_of_layer

WEIGHTS = Weights()

grams = st.floats(6, 40).map(lambda g: round(g, 2))
weighed = st.builds(
    Want, grams, step_g=st.sampled_from([1.0, 2.0, 5.0]),
    care=st.sampled_from([1.0, 3.0, 5.0]),
)  # fmt: skip
fine = st.builds(
    Want, st.floats(25, 50).map(lambda g: round(g, 2)), care=st.sampled_from([1.0, 5.0])
)  # fmt: skip
eggs = st.builds(
    Want, st.floats(20, 90).map(lambda g: round(g, 2)), care=st.just(1.0),
    each_g=st.sampled_from([18.0, 50.0, 17.1]), group=st.just("eggs"),
)  # fmt: skip
leaves = st.builds(
    Want, st.floats(1, 12).map(lambda g: round(g, 2)), care=st.just(5.0),
    each_g=st.sampled_from([2.0, 3.3]),
)  # fmt: skip
some_weights = st.builds(
    Weights, depth=st.sampled_from([0.0, 0.5, 1.0]),
    own=st.sampled_from([0.0, 0.25, 1.0]), limit=st.sampled_from([0.03, 0.06, 0.2]),
)  # fmt: skip
any_weights = st.builds(
    replace, some_weights, depth=st.sampled_from([0.0, 0.5, 1.0, 3.0])
)  # fmt: skip


# --- the measure, a second time and as plain as can be --------------------


def cost(
    wants: Sequence[Want],
    amounts: Sequence[float],
    weights: Weights,
    *,
    near: bool = False,
) -> float:
    """The distortion of one layer, straight from the page's words.

    With `near` the scale must be one that each line is no more than a step from, and
    each count no further than its window; infinite if there is none.
    """
    whole = sum(want.grams for want in wants)
    together = [i for i, want in enumerate(wants) if want.group]
    if len(together) == 1:
        together = []
    window = WINDOWS[sum(want.each_g is not None for want in wants)]
    reach = [window * w.each_g if w.each_g else w.step_g for w in wants]

    def at(scale: float) -> float:
        off = [amounts[i] - scale * want.grams for i, want in enumerate(wants)]
        if near and any(abs(o) > r + 1e-7 for o, r in zip(off, reach, strict=True)):
            return inf
        found = 0.0
        for i, want in enumerate(wants):
            part = weights.own if i in together else 1.0
            found += want.care * part * abs(off[i])
        if together:
            care = max(wants[i].care for i in together)
            found += care * abs(sum(off[i] for i in together))
        return found / whole

    low, high = 1 - weights.limit, 1 + weights.limit
    scales = {1.0}
    for a, want, r in zip(amounts, wants, reach, strict=True):
        scales |= {(a + d) / want.grams for d in ((-r, 0, r) if near else (0,))}
    if together:
        asked = sum(wants[i].grams for i in together)
        scales.add(sum(amounts[i] for i in together) / asked)
    at_best = min(at(scale) for scale in {min(max(s, low), high) for s in scales})
    return at_best + weights.depth * abs(sum(amounts) / whole - 1)


def every_way(
    wants: Sequence[Want], weights: Weights
) -> Iterator[tuple[tuple[int, ...], tuple[float, ...]]]:
    """Counts and amounts of every way that keeps the limit, far beyond good sense."""
    wide = 2 * weights.limit + 0.05
    options = []
    for want in wants:
        if want.each_g:
            most = ceil((1 + wide) * want.grams / want.each_g) + max(WINDOWS)
            options.append([n * want.each_g for n in range(1, most + 1)])
        else:
            first = max(1, floor((1 - wide) * want.grams / want.step_g))
            last = ceil((1 + wide) * want.grams / want.step_g)
            options.append([n * want.step_g for n in range(first, last + 1)])
    whole = sum(want.grams for want in wants)
    for amounts in product(*options):
        if abs(sum(amounts) - whole) <= weights.limit * whole * (1 + 1e-9):
            counts = tuple(
                round(a / want.each_g)
                for a, want in zip(amounts, wants, strict=True)
                if want.each_g
            )
            yield counts, amounts


def brute(wants: Sequence[Want], weights: Weights) -> dict[tuple[int, ...], float]:
    """The least distortion of every way to count."""
    least: dict[tuple[int, ...], float] = {}
    for counts, amounts in every_way(wants, weights):
        found = cost(wants, amounts, weights, near=True)
        if found < least.get(counts, inf):
            least[counts] = found
    return least


def rounded(wants: Sequence[Want]) -> list[float]:
    """Each line by itself to its nearest step or piece, and never to nothing."""
    sizes = [want.each_g or want.step_g for want in wants]
    return [
        max(1, round(want.grams / size)) * size
        for want, size in zip(wants, sizes, strict=True)
    ]


# --- proved --------------------


@settings(max_examples=60)
@given(st.lists(weighed, min_size=1, max_size=3), any_weights)
def test_weighed_lines_are_the_best_of_all_ways(
    wants: list[Want], weights: Weights
) -> None:
    least = brute(wants, weights).get((), inf)
    found = best_of_layer(wants, weights)

    proved = [cost(wants, one.amounts_g, weights, near=True) for one in found]
    assert proved == pytest.approx([] if least == inf else [least], abs=1e-9)


@settings(max_examples=12)
@given(st.lists(fine, min_size=2, max_size=3), some_weights)
def test_no_line_need_be_more_than_a_step_off(
    wants: list[Want], weights: Weights
) -> None:
    # without that rule nothing is better, unless the limit on the depth is in the way
    whole = sum(want.grams for want in wants)
    free = [(cost(wants, a, weights), a) for _, a in every_way(wants, weights)]
    least, amounts = min(free, default=(inf, ()))
    room = weights.limit - 2 * max(want.step_g for want in wants) / whole
    assume(amounts and abs(sum(amounts) / whole - 1) <= room)

    assert best_of_layer(wants, weights)[0].score.total == pytest.approx(least)


@settings(max_examples=60)
@given(
    st.lists(weighed, min_size=1, max_size=2),
    st.lists(eggs, min_size=1, max_size=2),
    st.lists(leaves, max_size=1),
    any_weights,
)
def test_the_best_few_are_the_best_of_every_count(
    lines: list[Want], whole: list[Want], leaf: list[Want], weights: Weights
) -> None:
    wants = [*lines, *whole, *leaf]
    least = sorted(brute(wants, weights).values())[:3]
    found = best_of_layer(wants, weights, how_many=3)

    proved = [cost(wants, one.amounts_g, weights, near=True) for one in found]
    assert proved == pytest.approx(least, abs=1e-9)
    for one, value in zip(found, proved, strict=True):
        assert one.score.total <= value + 1e-9
        assert one.score.total == pytest.approx(cost(wants, one.amounts_g, weights))
    counts = {one.amounts_g[len(lines) :] for one in found}
    assert len(counts) == len(found)


@pytest.mark.parametrize("seed", range(6))
def test_a_solver_of_mixed_integers_finds_nothing_better(seed: int) -> None:
    # HiGHS, through SciPy: the same measure written as a mixed-integer programme
    random = np.random.default_rng(seed)
    asked = np.exp(random.uniform(np.log(3), np.log(400), 8))
    step = np.where(asked < 10, 0.1, np.where(asked <= 200, 1.0, 5.0))
    care = np.where(asked < 8, 5.0, 1.0)
    wants = [
        Want(float(q), 0, float(s), float(c))
        for q, s, c in zip(asked, step, care, strict=True)
    ]

    (found,) = best_of_layer(wants, WEIGHTS)
    assert found.score.total == pytest.approx(by_solver(asked, step, care), abs=1e-7)


def by_solver(
    asked: np.ndarray[tuple[int], np.dtype[np.float64]],
    step: np.ndarray[tuple[int], np.dtype[np.float64]],
    care: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> float:
    # unknowns: whole steps, grams off of each line, the scale, grams off of all
    count, whole, limit = len(asked), asked.sum(), WEIGHTS.limit
    rows, least = [], []
    for i in range(count):
        for sign in (1.0, -1.0):  # off - sign (steps - scale asked) >= 0
            row = np.zeros(2 * count + 2)
            row[i], row[count + i], row[-2] = -sign * step[i], 1.0, sign * asked[i]
            rows.append(row)
            least.append(0.0)
    for sign in (1.0, -1.0):
        row = np.zeros(2 * count + 2)
        row[:count], row[-1] = -sign * step, 1.0
        rows.append(row)
        least.append(-sign * whole)
    low = np.r_[np.ones(count), np.zeros(count), 1 - limit, 0.0]
    high = np.r_[
        np.ceil(1.2 * asked / step), np.full(count, np.inf), 1 + limit, limit * whole
    ]
    found = milp(
        np.r_[np.zeros(count), care, 0.0, 1.0],
        integrality=np.r_[np.ones(count), np.zeros(count + 2)],
        bounds=Bounds(low, high),
        constraints=LinearConstraint(np.array(rows), np.array(least), np.inf),
        options={"mip_rel_gap": 0.0},
    )
    assert found.status == 0
    return float(found.fun / whole)


@given(
    st.lists(weighed, min_size=1, max_size=12), st.lists(eggs, max_size=2), some_weights
)
def test_never_worse_than_rounding_line_by_line(
    lines: list[Want], whole: list[Want], weights: Weights
) -> None:
    wants = [*lines, *whole]
    plain = score_of(wants, rounded(wants), weights)
    assume(abs(plain.depth_change) <= weights.limit)

    assert choices(wants, weights, 1)[0].total <= plain.total + 1e-9


@settings(max_examples=30)
@given(st.lists(grams, min_size=1, max_size=2), grams, st.sampled_from([25.0, 40.0]))
def test_whole_packs_are_shared_as_the_formula_shares_them(
    butter: list[float], flour: float, pack_g: float
) -> None:
    wants = [Want(g, i, 1.0, pack="b", pack_g=pack_g) for i, g in enumerate(butter)]
    wants += [Want(flour, i) for i in range(len(butter))]
    for choice in choices(wants, replace(WEIGHTS, limit=0.3)):
        used = choice.amounts_g[: len(butter)]
        ((name, count),) = choice.packs
        assert name == "b"
        assert sum(used) == pytest.approx(count * pack_g)
        for got, exact in zip(used, butter, strict=True):
            share = count * pack_g * exact / sum(butter)
            assert abs(got - share) <= len(butter)


def test_the_number_of_packs_is_the_best_of_all() -> None:
    # butter of two layers: 256 g against packs of 250 g, by hand in every number
    wants = [
        Want(150.0, 0, 1.0, pack="butter", pack_g=250.0), Want(200.4, 0, 1.0),
        Want(106.0, 1, 1.0, pack="butter", pack_g=250.0), Want(206.0, 1, 5.0),
    ]  # fmt: skip
    best = choices(wants)[0]

    assert best.packs == (("butter", 1),)
    # 250 × 150 ÷ 256 = 146.5, and the rest
    assert best.amounts_g[0] + best.amounts_g[2] == 250
    assert best.amounts_g[2] == 104
    first = min(cost(wants[:2], (146.0, x), WEIGHTS) for x in range(180, 221))
    second = min(cost(wants[2:], (104.0, x), WEIGHTS) for x in range(180, 231, 5))
    assert best.total == pytest.approx(first + second, abs=1e-9)


# --- what it keeps --------------------


@given(st.lists(weighed, min_size=1, max_size=12), st.lists(eggs, max_size=2))
def test_every_rule_is_kept(lines: list[Want], whole: list[Want]) -> None:
    wants = [*lines, *whole]
    for choice in choices(wants):
        ((_, score),) = choice.scores
        assert abs(score.depth_change) <= WEIGHTS.limit + 1e-9
        assert abs(score.scale - 1) <= WEIGHTS.limit + 1e-9
        assert choice.total == pytest.approx(cost(wants, choice.amounts_g, WEIGHTS))
        for want, got, count in zip(
            wants, choice.amounts_g, choice.counts, strict=True
        ):
            size = want.each_g or want.step_g
            assert got / size == pytest.approx(round(got / size))
            assert got > 0
            assert count == (round(got / size) if want.each_g else None)


@given(st.lists(weighed, min_size=2, max_size=6))
def test_the_order_of_lines_does_not_matter(wants: list[Want]) -> None:
    turned = list(reversed(wants))

    here, there = choices(wants, how_many=1), choices(turned, how_many=1)
    assert [c.total for c in here] == pytest.approx([c.total for c in there])


@given(st.lists(weighed, min_size=1, max_size=4), st.lists(weighed, min_size=1))
def test_layers_are_solved_apart(first: list[Want], second: list[Want]) -> None:
    both = choices([*first, *(replace(w, layer=1) for w in second)], how_many=1)
    apart = [choices(first, how_many=1), choices(second, how_many=1)]

    if all(apart):
        assert both[0].total == pytest.approx(sum(one[0].total for one in apart))
    else:
        assert both == ()


def test_what_comes_out_even_is_left_alone() -> None:
    wants = [Want(220.0, step_g=5), Want(8.0, step_g=0.1), Want(300.0, each_g=50.0)]
    best = choices(wants)[0]

    assert best.amounts_g == (220.0, 8.0, 300.0)
    assert best.total == pytest.approx(0, abs=1e-12)


def test_yolks_are_not_put_for_whites_to_save_a_gram() -> None:
    # 379.5 g of whole egg and 113.9 g of yolk: 7 + 8 come to 494 g, 8 + 5 to 490 g
    wants = [
        Want(619.0), Want(379.5, each_g=50.0, group="eggs"),
        Want(113.85, each_g=18.0, group="eggs"),
    ]  # fmt: skip
    assert choices(wants)[0].counts[1:] == (8, 5)
    alone = replace(WEIGHTS, own=0.0)
    assert choices(wants, alone)[0].counts[1:] == (7, 8)


def test_where_nothing_is_counted_the_others_are_clearly_larger_or_smaller() -> None:
    found = choices([Want(150.3), Want(200.7)])
    scales = [choice.scores[0][1].scale for choice in found]

    assert len(found) == 3
    assert abs(scales[0] - 1) < APART
    # a step of 200.7 g is half a percent: the scale itself may be that much nearer
    assert min(scales) < 1 - APART + 0.005
    assert max(scales) > 1 + APART - 0.005


def test_nothing_is_rounded_away() -> None:
    (best, *_) = choices([Want(400.0, step_g=5), Want(0.6), Want(0.3, care=5)])

    assert best.amounts_g[1:] == (1, 1)


def test_the_best_few_of_two_layers_are_the_smallest_sums() -> None:
    first = [Want(210.0), Want(104.0, each_g=18.0)]
    second = [Want(190.0, 1), Want(111.0, 1, each_g=17.0)]
    apart = [best_of_layer(one, WEIGHTS, how_many=9) for one in (first, second)]
    sums = sorted(a.score.total + b.score.total for a, b in product(*apart))

    found = choices([*first, *second], how_many=4)
    assert [one.total for one in found] == pytest.approx(sums[:4])


def test_a_tenth_of_an_egg_fits_nowhere() -> None:
    assert choices([Want(30.0), Want(5.0, each_g=50.0)]) == ()


def test_a_dear_depth_keeps_the_mass_nearer() -> None:
    wants = [Want(32.6, step_g=5), Want(60.3, step_g=5), Want(53.6, step_g=5)]
    dear = choices(wants, replace(WEIGHTS, depth=50.0), 1)[0].scores[0][1]
    cheap = choices(wants, replace(WEIGHTS, depth=0.0), 1)[0].scores[0][1]

    assert abs(dear.depth_change) < abs(cheap.depth_change)
    assert dear.from_lines > cheap.from_lines


@pytest.mark.parametrize(
    "bad",
    [{"depth": -1.0}, {"depth": nan}, {"own": 2.0}, {"limit": 0.0}, {"limit": inf}],
)
def test_weights_out_of_range_are_refused(bad: dict[str, float]) -> None:
    with pytest.raises(FriendlyError, match="Give"):
        Weights(**bad)


def test_too_many_packs_are_refused() -> None:
    wants = [Want(50.0, pack=name, pack_g=25.0) for name in "abcde"]
    with pytest.raises(FriendlyError, match="at most"):
        choices(wants)


def test_nothing_wanted_is_nothing_to_choose() -> None:
    assert choices([], how_many=1)[0].amounts_g == ()
