"""Costs to prices and back: by hand, by identities, and by trying everything."""

import csv
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from slabwright.cost.mends import (
    Bears,
    fall_that_keeps,
    pieces_that_keep,
    price_that_keeps,
)
from slabwright.cost.pennies import shared_out, to_penny
from slabwright.cost.price import (
    cost_allowed,
    floor_price,
    keeps,
    margin,
    margin_of,
    mark_up,
    mark_up_of,
    net_for,
    next_price,
)
from slabwright.cost.tax import tax_share, with_tax, without_tax
from slabwright.kitchen import MakersLine

FRAMES = Path(__file__).parents[1] / "reference" / "price" / "frames.csv"
ROWS = list(csv.DictReader(FRAMES.read_text("utf-8").splitlines()))
money = st.decimals(0, 500, places=2).map(Fraction)
some = st.decimals("0.01", 500, places=2).map(Fraction)
shares = st.fractions(0, Fraction(99, 100), max_denominator=1000)
lines = st.one_of(
    shares.map(lambda v: MakersLine("margin", v)),
    st.fractions(0, 20, max_denominator=1000).map(lambda v: MakersLine("mark-up", v)),
    money.map(lambda v: MakersLine("left", v)),
)
ends = st.lists(st.decimals(0, "0.99", places=2), max_size=4, unique=True)
bears = st.builds(
    Bears, some, money, money, st.integers(1, 300), st.integers(1, 12), shares
)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["slab"])
def test_the_bakerys_own_sums_come_out_the_same(row: dict[str, str]) -> None:
    n = int(row["pieces"])
    hands = Fraction(row["hands_min"]) / 60 * Fraction("15.20")
    assert float(hands / n) == pytest.approx(float(row["labour_a_piece"]), abs=6e-4)
    tray = (
        Fraction(row["ingredients_a_frame"])
        + hands
        + Fraction(row["energy_a_piece"]) * n
    )
    found = Bears(
        tray, Fraction(row["pack_a_piece"]), Fraction(0), n, 1, Fraction("0.06")
    )
    assert float(found.before_waste) == pytest.approx(float(row["direct"]), abs=2e-3)
    assert float(found.cost) == pytest.approx(float(row["direct_over"]), abs=2e-3)
    net = without_tax(Fraction(row["price"]), Fraction(row["tax"]))
    assert float(net) == pytest.approx(float(row["net"]), abs=5e-4)
    assert float(net - found.cost) == pytest.approx(float(row["left"]), abs=2e-3)


def test_tax_at_a_fifth_is_a_sixth_of_the_price() -> None:
    # The VAT fraction at 20 %: 1/6 of the price (HMRC arithmetic, from memory).
    assert tax_share(Fraction(1, 5)) == Fraction(1, 6)
    assert Fraction("3.60") - without_tax(Fraction("3.60"), Fraction(1, 5)) == Fraction(
        "0.60"
    )


@given(some, shares)
def test_tax_comes_off_as_it_went_on(net: Fraction, rate: Fraction) -> None:
    price = with_tax(net, rate)
    assert without_tax(price, rate) == net
    assert price * tax_share(rate) == price - net


@given(some, some)
def test_margin_and_mark_up_say_the_same(net: Fraction, cost: Fraction) -> None:
    kept, put_on = margin(net, cost), mark_up(net, cost)
    assert kept is not None
    assert put_on is not None
    assert margin_of(put_on) == kept
    assert mark_up_of(kept) == put_on
    assert cost * (1 + put_on) == net == cost / (1 - kept)


def test_a_margin_of_two_thirds_is_a_mark_up_of_two_hundred_per_cent() -> None:
    assert mark_up_of(Fraction(2, 3)) == 2
    assert margin(Fraction(0), Fraction(1)) is None
    assert mark_up(Fraction(1), Fraction(0)) is None


@given(lines, money)
def test_the_price_of_a_line_keeps_it_and_a_hair_less_does_not(
    line: MakersLine, cost: Fraction
) -> None:
    net = net_for(line, cost)
    assert keeps(line, net, cost)
    assert cost_allowed(line, net) == cost
    assert not keeps(line, net - Fraction(1, 10**9), cost)


@given(money, ends)
def test_a_price_point_is_the_first_that_is_not_under(
    least: Fraction, points: list[Decimal]
) -> None:
    found = next_price(least, points)
    allowed = {int(p * 100) for p in points} or set(range(100))
    pence = int(least * 100)
    first = next(p for p in range(pence, pence + 201) if p % 100 in allowed)
    assert found == Fraction(first, 100)


def test_points_may_be_whole_coins() -> None:
    # Where prices end in 0 or 50 crowns: 112 becomes 150, 151 becomes 200.
    assert next_price(Fraction(112), [Decimal(0), Decimal(50)]) == 150
    assert next_price(Fraction(151), [Decimal(0), Decimal(50)]) == 200
    assert next_price(Fraction(112), [Decimal(9)]) == 119


@given(st.lists(st.fractions(0, 100, max_denominator=997), max_size=9))
def test_the_parts_as_shown_add_up_to_the_whole_as_shown(parts: list[Fraction]) -> None:
    shown = shared_out(parts)
    assert sum(shown, Decimal(0)) == to_penny(sum(parts, Fraction(0)))
    assert all(
        abs(Fraction(s) - p) < Fraction(1, 100)
        for s, p in zip(shown, parts, strict=True)
    )


def test_the_floor_divides_by_what_is_sold() -> None:
    # (0.413 + 0.507 + 0.013 + 0.11) / 0.94, by hand: 1.1096.
    assert round(float(floor_price(Fraction("1.043"), Fraction("0.06"))), 4) == 1.1096


@given(bears, lines, shares, ends)
def test_the_mending_price_is_the_lowest_of_all(
    found: Bears, line: MakersLine, rate: Fraction, points: list[Decimal]
) -> None:
    assume(net_for(line, found.cost) < 400)
    price = price_that_keeps(found, line, rate, points)
    assert keeps(line, without_tax(price, rate), found.cost)
    allowed = {int(p * 100) for p in points} or set(range(100))
    under = [p for p in range(int(price * 100)) if p % 100 in allowed][-3:]
    assert not any(
        keeps(line, without_tax(Fraction(p, 100), rate), found.cost) for p in under
    )


@given(bears, lines, some)
def test_the_mending_count_is_the_fewest_of_all(
    found: Bears, line: MakersLine, net: Fraction
) -> None:
    counts = range(1, 2 * found.pieces + 1)
    best = pieces_that_keep(found, line, net, counts)
    for n in range(found.pieces + 1, 2 * found.pieces + 1):
        one = Bears(found.a_tray, found.a_piece, found.a_sale, n, found.in_sale,
                    found.waste)  # fmt: skip
        if keeps(line, net, one.cost):
            assert best == n
            return
    assert best is None


@given(bears, lines, some, some)
def test_the_fall_of_an_ingredient_is_just_enough(
    found: Bears, line: MakersLine, net: Fraction, line_cost: Fraction
) -> None:
    assume(line_cost <= found.a_tray)
    fall = fall_that_keeps(found, line, net, line_cost)

    def at(share: Fraction) -> bool:
        less = found.a_tray - line_cost * share
        one = Bears(less, found.a_piece, found.a_sale, found.pieces, found.in_sale,
                    found.waste)  # fmt: skip
        return keeps(line, net, one.cost)

    if fall is None:
        assert not at(Fraction(1))
        return
    assert at(fall)
    assert fall == 0 or not at(fall - Fraction(1, 10**9))
