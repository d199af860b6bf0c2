"""What grams of a pack cost: exact, and nothing where there is no price."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.cost.prices import Price, PriceList, Use, cost_of_use, cost_uses

JANUARY, JUNE = date(2026, 1, 5), date(2026, 6, 1)
LIST = PriceList(
    "GBP",
    {
        "butter": (
            Price("butter", 250.0, Decimal("2.00"), JUNE),
            Price("butter", 250.0, Decimal("1.80"), JANUARY),
        )
    },
)
pence = st.integers(0, 100_00).map(lambda n: Decimal(n) / 100)
grams = st.integers(1, 5000).map(float)


def test_three_tenths_of_a_pack_cost_three_tenths_of_a_penny_price() -> None:
    # in floats 0.1 x 3 is 0.30000000000000004
    assert cost_of_use(Decimal("0.1"), used_g=3, pack_g=1) == Decimal("0.3")


@given(pence, grams, st.integers(1, 40))
def test_so_many_packs_cost_so_many_times_as_much(
    price: Decimal, pack_g: float, packs: int
) -> None:
    cost = cost_of_use(price, used_g=pack_g * packs, pack_g=pack_g)

    assert cost == price * packs


@pytest.mark.parametrize(
    ("day", "cost"),
    [
        (date(2026, 1, 4), None),
        (JANUARY, Decimal("1.80")),
        (date(2026, 5, 31), Decimal("1.80")),
        (JUNE, Decimal("2.00")),
    ],
)
def test_a_use_costs_what_its_day_says(day: date, cost: Decimal | None) -> None:
    (only,) = cost_uses([Use("butter", "butter", 250.0)], LIST, day)

    assert only.cost == cost


def test_what_no_list_has_costs_nothing_known() -> None:
    (only,) = cost_uses([Use("", "moon dust", 250.0)], LIST, JUNE)

    assert only.price is None
    assert only.cost is None
