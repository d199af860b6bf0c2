"""Tax is what the shop has decided, on its day; without a decision it is asked."""

from datetime import date
from fractions import Fraction

import pytest

from slabwright.cost.tax import Eaten, Sale, TaxAsked, Taxed, tax_on
from slabwright.kitchen import TaxRule

DAY = date(2026, 11, 26)
START = date(2026, 1, 1)
ZERO = TaxRule(Fraction(0), START, "cake")
WALK = TaxRule(Fraction(1, 5), START, "pressed, unbaked", slabs=("lantern  walk",))
HERE = TaxRule(Fraction(1, 5), START, "eaten in", eaten="here")
LATER = TaxRule(Fraction(1, 10), date(2027, 1, 1), "a new rate")
OUT = TaxRule(None, date(2026, 6, 1), "under the threshold")


def rate(
    *rules: TaxRule,
    slab: str = "Two Tides",
    way: str = "loose on the counter",
    eaten: Eaten = "",
    day: str = "2026-11-26",
) -> Fraction | str:
    found = tax_on(rules, Sale(slab, way, eaten), date.fromisoformat(day))
    return found.rate if isinstance(found, Taxed) else found.why


def test_without_a_decision_it_is_asked() -> None:
    found = tax_on((), Sale("Two Tides"), DAY)
    assert isinstance(found, TaxAsked)
    assert "kitchen.yaml" in found.do


def test_the_slab_goes_before_the_place_and_the_place_before_all() -> None:
    rules = (ZERO, HERE, WALK)
    assert rate(*rules, eaten="away") == 0
    assert rate(*rules, eaten="here") == Fraction(1, 5)
    assert rate(*rules, slab="Lantern Walk") == Fraction(1, 5)
    assert "0% taken away and 20% eaten in" in str(rate(*rules))


def test_a_rate_counts_from_its_day() -> None:
    assert rate(ZERO, LATER) == 0
    assert rate(ZERO, LATER, day="2027-01-01") == Fraction(1, 10)
    assert "no decision holds before 2027-01-01" in str(rate(LATER))


def test_a_shop_that_is_not_registered_charges_none() -> None:
    found = tax_on((ZERO, HERE, OUT), Sale("Two Tides"), DAY)
    assert isinstance(found, Taxed)
    assert found.rate == 0
    assert not found.is_registered
    assert rate(WALK, OUT, slab="Lantern Walk", day="2026-05-31") == Fraction(1, 5)
    assert rate(WALK, OUT, slab="Lantern Walk") == 0
    assert rate(OUT, LATER, day="2027-01-01") == Fraction(1, 10)


def test_two_decisions_of_one_day_are_asked() -> None:
    other = TaxRule(Fraction(1, 5), START, "biscuit")
    assert "Two decisions of 2026-01-01" in str(rate(ZERO, other))
    assert rate(ZERO, TaxRule(Fraction(0), START, "the same again")) == 0


@pytest.mark.parametrize("way", ["packed for another shop", "sent by post"])
def test_a_way_of_selling_has_its_own(way: str) -> None:
    own = TaxRule(Fraction(1, 20), START, "a reduced rate", ways=(way,))
    assert rate(ZERO, own, way=way) == Fraction(1, 20)
    assert rate(ZERO, own) == 0
    assert "hangs on how it is sold" in str(rate(ZERO, own, way=""))
    assert "No decision holds for Two Tides" in str(rate(own))
