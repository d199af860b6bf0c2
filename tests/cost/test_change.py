"""A price that changes: by a share every pack, to a new price the one that counts."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from slabwright.cost.change import PriceChange, changed
from slabwright.cost.prices import Price, PriceList

DAY = date(2026, 6, 1)
SMALL = Price("butter", 250, Decimal("1.80"), date(2026, 1, 5))
BIG = Price("butter", 5000, Decimal("32.00"), date(2026, 1, 5))
FLOUR = Price("plain flour", 16_000, Decimal("12.48"), date(2026, 1, 5))
LIST = PriceList("GBP", {"butter": (SMALL, BIG), "flour": (FLOUR,)})
DEARER = PriceChange("butter +20 %", ("butter",), ("butter",), Fraction(6, 5))


def per_kg(prices: PriceList, larder_id: str) -> Fraction:
    return prices.rates([larder_id], DAY)[larder_id] * 1000


def test_a_fifth_more_on_every_pack_and_on_nothing_else() -> None:
    after = changed(LIST, [DEARER], DAY)

    # 32.00 for 5 kg is 6.40 a kilogram; x 1.2 is 7.68
    assert per_kg(after, "butter") == Fraction("7.68")
    assert [price.price for price in after.prices["butter"]] == [
        Decimal("2.16"), Decimal("38.4"),
    ]  # fmt: skip
    assert after.prices["flour"] == LIST.prices["flour"]


def test_changes_come_one_after_the_other() -> None:
    cheaper = replace(DEARER, factor=Fraction(19, 20))

    after = changed(LIST, [DEARER, cheaper], DAY)

    assert per_kg(after, "butter") == Fraction("6.40") * Fraction(114, 100)


def test_a_new_price_is_that_of_the_pack_that_counts() -> None:
    new = PriceChange("butter = 30", ("butter",), (), pack_price=Decimal(30))

    assert per_kg(changed(LIST, [new], DAY), "butter") == 6


def test_a_new_price_by_the_kilogram() -> None:
    new = PriceChange("butter = 9/kg", ("butter",), (), per_kg=Decimal(9))

    assert per_kg(changed(LIST, [new], DAY), "butter") == 9


def test_what_has_no_price_stays_without_one() -> None:
    lost = replace(DEARER, larder_ids=("moon-dust",))
    new = PriceChange("x", ("moon-dust",), (), pack_price=Decimal(1))

    for change in (lost, new):
        after = changed(LIST, [change], DAY)
        assert after.price_of("moon-dust", DAY) is None
        assert per_kg(after, "butter") == per_kg(LIST, "butter")


@given(st.fractions(0, 10, max_denominator=1000))
def test_a_factor_holds_for_what_a_gram_costs(factor: Fraction) -> None:
    after = changed(LIST, [replace(DEARER, factor=factor)], DAY)

    assert abs(per_kg(after, "butter") - per_kg(LIST, "butter") * factor) < 1e-20
