"""What grams of a pack cost: exact, and nothing where there is no price."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.cost.prices import (
    Price,
    PriceList,
    cost_of_use,
    exact,
    money,
    moved,
)

JANUARY, MARCH, JUNE = date(2026, 1, 5), date(2026, 3, 1), date(2026, 6, 1)


def butter(price: str, day: date, pack_g: float = 250.0, seller: str = "") -> Price:
    return Price("butter", pack_g, Decimal(price), day, seller)


LIST = PriceList("GBP", {"butter": (butter("2.00", JUNE), butter("1.80", JANUARY))})
pence = st.integers(0, 100_00).map(lambda n: Decimal(n) / 100)
grams = st.integers(1, 5000).map(float)
days = st.dates(date(2025, 1, 1), date(2027, 12, 31))
prices = st.builds(
    Price,
    st.just("butter"),
    st.sampled_from([250.0, 500.0, 340.0]),
    pence,
    days,
    st.sampled_from(["", "the dairy", "The Dairy"]),
    st.none(),
    st.just(""),
    st.none() | days,
    st.booleans(),
)


def test_three_tenths_of_a_pack_cost_three_tenths_of_a_penny_price() -> None:
    # in floats 0.1 x 3 is 0.30000000000000004
    assert cost_of_use(Decimal("0.1"), used_g=3, pack_g=1) == Decimal("0.3")


def test_a_third_of_a_price_still_gives_its_half_penny() -> None:
    # 1.00 for 300 g: 4.5 g cost 1.5 pence, and in decimals 0.00333… x 4.5 falls short
    per_gram = butter("1.00", JANUARY, 300.0).per_gram

    assert money(per_gram * exact(4.5)) == Decimal("0.015")


@given(pence, grams, st.integers(1, 40))
def test_so_many_packs_cost_so_many_times_as_much(
    price: Decimal, pack_g: float, packs: int
) -> None:
    cost = cost_of_use(price, used_g=pack_g * packs, pack_g=pack_g)

    assert cost == price * packs


@pytest.mark.parametrize(
    ("day", "price"),
    [
        (date(2026, 1, 4), None),
        (JANUARY, Decimal("1.80")),
        (date(2026, 5, 31), Decimal("1.80")),
        (JUNE, Decimal("2.00")),
    ],
)
def test_the_latest_price_from_before_a_day_holds_on_it(
    day: date, price: Decimal | None
) -> None:
    found = LIST.price_of("butter", day)

    assert (found and found.price) == price


def test_what_no_list_has_costs_nothing_known() -> None:
    assert LIST.price_of("moon-dust", JUNE) is None
    assert LIST.rates(["moon-dust", "butter"], JUNE) == {"butter": Fraction(1, 125)}


def test_a_price_of_nought_is_a_price() -> None:
    free = PriceList("GBP", {"zest": (butter("0", JANUARY),)})

    assert free.rates(["zest"], JUNE) == {"zest": 0}


def test_of_two_packs_the_cheaper_by_the_gram_counts() -> None:
    # 7.20 a kilogram against 7.45
    two = PriceList(
        "GBP",
        {
            "butter": (
                butter("14.90", MARCH, 2000.0, "the dairy"),
                butter("1.80", JANUARY, 250.0, "the merchant"),
            )
        },
    )
    counted = two.counted("butter", JUNE)

    assert counted is not None
    assert counted.price.supplier == "the merchant"
    assert counted.why == "the cheapest by the gram, of 2 packs on sale"


def test_the_marked_price_counts_though_it_is_dearer() -> None:
    dear = replace(butter("14.90", MARCH, 2000.0), for_costing=True)
    two = PriceList("GBP", {"butter": (dear, butter("1.80", JANUARY))})
    counted = two.counted("butter", JUNE)

    assert counted is not None
    assert (counted.price, counted.why) == (
        dear,
        "marked for costing, of 2 packs on sale",
    )


def test_of_equals_the_latest_counts() -> None:
    old, new = butter("1.80", JANUARY), butter("3.60", MARCH, 500.0)
    two = PriceList("GBP", {"butter": (old, new)})

    assert two.price_of("butter", JUNE) == new


def test_a_price_that_has_ended_holds_no_more() -> None:
    # the pack that shrank: the old one can't be had, however cheap it was
    old = replace(butter("1.50", JANUARY), until=date(2026, 5, 31))
    new = butter("1.50", JUNE, 200.0)
    both = PriceList("GBP", {"butter": (old, new)})

    assert both.price_of("butter", MARCH) == old
    assert both.price_of("butter", date(2026, 5, 31)) == old
    assert both.price_of("butter", JUNE) == new


def test_an_ended_price_does_not_bring_back_the_one_before_it() -> None:
    first = butter("1.50", JANUARY)
    last = replace(butter("1.80", MARCH), until=date(2026, 4, 30))
    both = PriceList("GBP", {"butter": (first, last)})

    assert both.price_of("butter", JUNE) is None


def test_what_is_to_come_is_known_and_does_not_count() -> None:
    assert LIST.to_come("butter", MARCH) == (butter("2.00", JUNE),)
    assert LIST.to_come("butter", JUNE) == ()


def test_what_moved_between_two_days() -> None:
    (only,) = moved(LIST, MARCH, JUNE)

    assert only.before is not None
    assert only.after is not None
    assert only.share == pytest.approx(0.2 / 1.8)
    assert list(moved(LIST, JANUARY, MARCH)) == []


def test_a_first_price_moved_from_none() -> None:
    (only,) = moved(LIST, date(2025, 1, 1), JUNE)

    assert only.before is None
    assert only.share is None


def test_stock_is_what_was_last_said_of_each_pack_added_up() -> None:
    rows = (
        replace(butter("1.80", JANUARY), stock_g=5000.0),
        replace(butter("1.90", MARCH), stock_g=1200.0),
        replace(butter("14.90", MARCH, 2000.0), stock_g=300.0),
        butter("2.00", JUNE),
    )
    shelf = PriceList("GBP", {"butter": rows})

    assert shelf.stock_g("butter", JUNE) == 1500.0
    assert shelf.stock_g("flour", JUNE) == 0.0


@given(st.lists(prices, max_size=6), days)
def test_what_counts_can_be_had_and_nothing_that_can_be_had_undercuts_it(
    rows: list[Price], on: date
) -> None:
    offers = PriceList("GBP", {"butter": tuple(rows)}).offers("butter", on)
    counted = PriceList("GBP", {"butter": tuple(rows)}).price_of("butter", on)

    assert (counted is None) == (not offers)
    assert len({offer.offer for offer in offers}) == len(offers)
    for offer in offers:
        assert offer.from_day <= on
        assert offer.until is None or offer.until >= on
    if counted is not None:
        rivals = [o for o in offers if o.for_costing] or offers
        assert counted.per_gram == min(rival.per_gram for rival in rivals)


@given(st.lists(prices, max_size=6), days)
def test_rows_from_later_days_change_nothing_today(rows: list[Price], on: date) -> None:
    later = [replace(row, from_day=on + timedelta(days=1), until=None) for row in rows]
    now = PriceList("GBP", {"butter": tuple(rows)})
    both = PriceList("GBP", {"butter": (*rows, *later)})

    assert both.price_of("butter", on) == now.price_of("butter", on)
