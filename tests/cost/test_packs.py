"""Whole packs against every combination there is."""

import itertools
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from slabwright.cost.packs import Packs, cheapest
from slabwright.cost.prices import Price

DAY = date(2026, 1, 5)


def pack(grams: float, price: str | Decimal) -> Price:
    return Price("butter", grams, Decimal(price), DAY)


def worth(found: tuple[Packs, ...], need: Fraction) -> tuple[Fraction, Fraction, int]:
    """Money, left over, number of packs."""
    money = sum((one.cost for one in found), Fraction(0))
    grams = sum((one.grams for one in found), Fraction(0))
    return money, grams - need, sum(one.count for one in found)


def best_of_all(
    need: int, offers: list[tuple[int, int]]
) -> tuple[Fraction, Fraction, int]:
    """The best of every combination that could be it: the reference."""
    ranges = [range(-(-need // grams) + 1) for grams, _ in offers]
    ways = (
        (
            Fraction(sum(n * p for n, (_, p) in zip(way, offers, strict=True)), 100),
            Fraction(sum(n * g for n, (g, _) in zip(way, offers, strict=True)) - need),
            sum(way),
        )
        for way in itertools.product(*ranges)
    )
    return min(way for way in ways if way[1] >= 0)


sizes = st.tuples(st.integers(1, 12), st.integers(0, 60))
tied = st.integers(1, 30).map(lambda grams: (grams, 3 * grams))
"""Packs that all cost the same by the gram: the hardest to choose from."""


@settings(max_examples=250)
@given(
    st.integers(1, 45),
    st.lists(sizes, min_size=1, max_size=3) | st.lists(tied, min_size=1, max_size=3),
)
def test_no_combination_is_better(need: int, offers: list[tuple[int, int]]) -> None:
    found = cheapest(
        Fraction(need), [pack(float(g), Decimal(p) / 100) for g, p in offers]
    )

    assert worth(found, Fraction(need)) == best_of_all(need, offers)


@settings(max_examples=60)
@given(
    st.integers(1, 40_000),
    st.lists(
        st.tuples(st.sampled_from([100, 250, 340, 397, 500, 1000, 1500, 16000]),
                  st.integers(1, 2000)),
        min_size=1, max_size=4,
    ),
)  # fmt: skip
def test_scipys_solver_finds_nothing_cheaper(
    need: int, offers: list[tuple[int, int]]
) -> None:
    # an independent solver, HiGHS, on needs and packs of a kitchen's size
    grams, pence = (np.array(part, dtype=float) for part in zip(*offers, strict=True))
    solved = milp(
        pence,
        constraints=LinearConstraint(grams[None, :], lb=need),
        integrality=np.ones(len(offers)),
        bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0},
    )
    packs = [pack(float(g), Decimal(p) / 100) for g, p in offers]
    money, left, _ = worth(cheapest(Fraction(need), packs), Fraction(need))

    assert left >= 0
    assert money * 100 == round(solved.fun)


def test_a_small_bag_beside_large_ones() -> None:
    # 33 kg of flour: three bags of 16 kg are 37.44; two and one of 1.5 kg 26.31
    offers = [pack(16000, "12.48"), pack(1500, "1.35")]
    found = cheapest(Fraction(33000), offers)

    assert [(one.price.pack_g, one.count) for one in found] == [(16000, 2), (1500, 1)]
    assert worth(found, Fraction(33000)) == (Fraction("26.31"), Fraction(500), 3)


def test_a_heavier_way_to_the_same_remainder_may_be_the_better() -> None:
    # 2 g for 3.00 and 12 g for 12.10 leave the same remainder of 5 g: 5 + 12 g cost
    # 17.10, 3 x 5 + 2 g 18.00
    offers = [pack(5, "5.00"), pack(2, "3.00"), pack(12, "12.10")]
    found = cheapest(Fraction(16), offers)

    assert [(one.price.pack_g, one.count) for one in found] == [(12, 1), (5, 1)]


def exactly(need: int, offers: list[tuple[int, int]]) -> tuple[Fraction, Fraction, int]:
    """The best by the least money and packs for just so many grams, one by one."""
    most = need + max(grams for grams, _ in offers)
    best: list[tuple[int, int] | None] = [(0, 0)] + [None] * most
    for total in range(1, most + 1):
        ways = [
            (before[0] + price, before[1] + 1)
            for grams, price in offers
            if grams <= total and (before := best[total - grams]) is not None
        ]
        best[total] = min(ways, default=None)
    money, left, packs = min(
        (way[0], total - need, way[1])
        for total, way in enumerate(best)
        if way is not None and total >= need
    )
    return Fraction(money, 100), Fraction(left), packs


@pytest.mark.parametrize("seed", range(8))
def test_no_way_is_better_in_a_thousand_shops(seed: int) -> None:
    rng = np.random.default_rng(seed)
    for _ in range(125):
        kinds = rng.integers(1, 6)
        grams = rng.integers(1, 40, kinds)
        # prices near to one another by the gram, as in shops
        pence = grams * 10 + rng.integers(0, 60, kinds) * rng.integers(0, 2)
        offers = [(int(g), int(p)) for g, p in zip(grams, pence, strict=True)]
        need = int(rng.integers(1, 400))
        packs = [pack(float(g), Decimal(p) / 100) for g, p in offers]

        found = worth(cheapest(Fraction(need), packs), Fraction(need))
        assert found == exactly(need, offers), (need, offers)


def test_equal_money_leaves_least_over() -> None:
    # 700 g: one of 1 kg or two of 400 g, both for 2.00
    found = cheapest(Fraction(700), [pack(1000, "2.00"), pack(400, "1.00")])

    assert worth(found, Fraction(700)) == (Fraction(2), Fraction(100), 2)


def test_equal_money_and_left_over_takes_fewest_packs() -> None:
    found = cheapest(Fraction(1000), [pack(250, "1.80"), pack(1000, "7.20")])

    assert [(one.price.pack_g, one.count) for one in found] == [(1000, 1)]


def test_of_one_size_the_cheaper_seller() -> None:
    dear, cheap = pack(250, "1.90"), pack(250, "1.80")
    (only,) = cheapest(Fraction(500), [dear, cheap])

    assert (only.price, only.count) == (cheap, 2)


@pytest.mark.parametrize("need", [Fraction(0), Fraction(-5), Fraction(1, 10**6)])
def test_nothing_needed_buys_nothing(need: Fraction) -> None:
    assert cheapest(need, [pack(250, "1.80")]) == ()


def test_nothing_on_sale_buys_nothing() -> None:
    assert cheapest(Fraction(100), []) == ()
    assert cheapest(Fraction(100), [pack(1e-9, "1.80")]) == ()


def test_dust_of_floats_buys_no_pack_more() -> None:
    (only,) = cheapest(Fraction("500.0000000001"), [pack(250, "1.80")])

    assert only.count == 2


def test_packs_for_nothing() -> None:
    found = cheapest(Fraction(1000), [pack(997, "0"), pack(283, "0"), pack(10, "1")])

    # 4 x 283 = 1,132 leaves less than 2 x 997 or 997 + 283
    assert worth(found, Fraction(1000)) == (Fraction(0), Fraction(132), 4)


@pytest.mark.parametrize("need", [10_000_000, 10_000_001, 9_999_999])
def test_ten_tonnes_of_packs_that_cost_the_same_by_the_gram(need: int) -> None:
    # they can fill 10,000,001 g exactly: 9,992 x 1,000 + 15 x 454 + 3 x 397
    offers = [
        pack(grams, f"{grams / 100:.2f}") for grams in (340.0, 397.0, 454.0, 1000.0)
    ]
    money, left, _ = worth(cheapest(Fraction(need), offers), Fraction(need))

    assert left == 0
    assert money == Fraction(need, 100)


def test_odd_grams_are_exact() -> None:
    # three times 33.3 g are 99.9 g, which is 0.1 g short
    (only,) = cheapest(Fraction(100), [pack(33.3, "1.00")])

    assert only.count == 4


@given(
    st.integers(1, 3000),
    st.integers(0, 3000),
    st.lists(
        st.tuples(st.integers(1, 500), st.integers(0, 900)), min_size=1, max_size=4
    ),
)
def test_less_to_buy_never_costs_more(
    need: int, stock: int, offers: list[tuple[int, int]]
) -> None:
    packs = [pack(float(g), Decimal(p) / 100) for g, p in offers]
    whole = worth(cheapest(Fraction(need), packs), Fraction(need))
    less = Fraction(max(0, need - stock))

    assert worth(cheapest(less, packs), less)[0] <= whole[0]
    assert whole[1] >= 0
