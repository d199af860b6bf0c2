"""Costs by hand to the penny; what a price does; what is left of opened packs."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabwright.cost.change import PriceChange, changed
from slabwright.counter.costing import slab_cost
from slabwright.counter.price_change import effects
from slabwright.files.price_change import read_price_change
from tests.counter.kitchen import (
    CURD,
    DAY,
    KITCHEN,
    LARDER,
    PRICES,
    SHORT,
    prices,
    slab,
    trays,
)

FREE = PRICES.replace("price: 1.80", "price: 0")


def change(text: str, listed: str = PRICES) -> PriceChange:
    return read_price_change(text, prices(listed), LARDER, "GB", DAY)


def test_a_slab_costed_by_hand() -> None:
    cost = slab(SHORT).cost
    assert cost is not None

    # flour 300 g at 0.78/kg = 0.234; butter 200 g at 7.20 = 1.44; sugar 100 g at 1.15
    assert cost.ingredients.value == Decimal("1.789")
    assert cost.ingredients_per_piece is not None
    assert cost.ingredients_per_piece.value == Decimal("0.08945")
    # 1.789 / 0.94 - 1.789
    assert cost.waste_allowance.value == pytest.approx(Decimal("0.11419148936"))
    assert cost.with_waste.value == pytest.approx(Decimal("1.90319148936"))


def test_the_trim_is_part_of_the_ingredients_and_not_more() -> None:
    cost = slab(SHORT.replace("cut 5 x 4", "cut 5 x 4, trim 5 mm")).cost
    assert cost is not None
    assert cost.trim is not None

    # 290 x 190 of 300 x 200 mm is kept: 1 - 0.9183 is trimmed
    trimmed = Fraction("1.789") * (1 - Fraction(290 * 190, 300 * 200))
    assert float(cost.trim.number) == pytest.approx(float(trimmed), rel=1e-9)
    assert cost.ingredients.value == Decimal("1.789")


def test_without_a_price_it_is_named_and_never_nought() -> None:
    cost = slab(CURD).cost
    assert cost is not None

    assert cost.missing == ("egg yolk", "lemon juice") or set(cost.missing) == {
        "egg yolk",
        "lemon juice",
    }
    assert "which have no price" in cost.ingredients.sum


def test_a_price_of_nought_is_no_missing_price() -> None:
    cost = slab(SHORT, prices(FREE)).cost
    assert cost is not None

    assert cost.missing == ()
    assert cost.ingredients.value == Decimal("0.349")


def test_a_line_without_a_weight_is_named_in_the_cost() -> None:
    cost = slab(SHORT.replace("300 g plain flour", "a bag of plain flour")).cost
    weighed = slab(SHORT).cost
    assert cost is not None
    assert weighed is not None

    if cost.unweighed:
        assert "whose weight is not known" in cost.ingredients.sum
    unknown = slab(SHORT.replace("  ends", "  2 cups moon dust\n  ends")).cost
    assert unknown is not None
    assert unknown.unweighed == ("moon dust",)
    assert weighed.unweighed == ()


@settings(max_examples=15, deadline=None)
@given(st.integers(1, 10_000))
def test_the_cost_grows_as_the_trays(count: int) -> None:
    many = slab_cost(trays(SHORT, count), prices(), LARDER, KITCHEN, DAY)

    assert many.whole is not None
    assert many.whole.value == Decimal("1.789") * count


def test_what_is_left_in_opened_packs() -> None:
    found = slab_cost(trays(SHORT), prices(), LARDER, KITCHEN, DAY)
    left = {one.name: one for one in found.left_open}

    # a bag of 1.5 kg for 1.35 is dearer by the gram than the sack, and cheaper
    assert left["plain flour"].left_g.value == 1200
    assert left["plain flour"].worth.value == Decimal("1.08")
    assert left["unsalted butter"].left_g.value == 50
    assert left["unsalted butter"].worth.value == Decimal("0.36")
    assert left["unsalted butter"].keeps is not None


def test_a_pack_that_is_used_up_leaves_nothing() -> None:
    found = slab_cost(trays(SHORT, 5), prices(), LARDER, KITCHEN, DAY)

    # 1,500 g of flour are one bag, 1,000 g of butter four packs
    assert [one.name for one in found.left_open] == ["caster sugar"]


def test_by_products_grow_as_the_trays() -> None:
    one, three = (
        slab_cost(trays(CURD, n), prices(), LARDER, KITCHEN, DAY).by_products
        for n in (1, 3)
    )

    whites = [found.left_g.number for found in (one[0], three[0])]
    assert whites == pytest.approx([2.5 * 33.9, 7.5 * 33.9])


# --- a price that changes --------------------


def test_butter_a_fifth_dearer() -> None:
    short, curd = slab(SHORT), slab(CURD)
    found = effects([short, curd], prices(), [change("butter +20 %")], DAY)

    # 200 g of 1.44 becomes 1.728, over 20 pieces; Curd is not cut: 210 g, 1.512
    assert [one.slab for one in found] == ["Curd", "Short"]
    curd_, short_ = found
    assert short_.before.value == Decimal("1.789")
    assert short_.after.value == Decimal("2.077")
    assert short_.rise.value == Decimal("0.0144")
    assert short_.rise_share == pytest.approx(0.288 / 1.789)
    assert curd_.pieces is None
    assert curd_.rise.value == Decimal("0.3024")


def test_before_is_what_the_specification_says() -> None:
    cut_down = SHORT.replace("layer Base", "layer Base, 5 mm")
    for text in (SHORT, CURD, cut_down):
        spec = slab(text)
        (one,) = effects([spec], prices(), [change("butter +1 %")], DAY)
        assert spec.cost is not None
        assert one.before.value == pytest.approx(spec.cost.ingredients.value)


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 500), st.booleans())
def test_a_change_moves_only_its_share(per_cent: int, up: bool) -> None:
    per_cent = per_cent if up else min(per_cent, 100)
    said = change(f"butter, unsalted {'+' if up else '-'}{per_cent} %")
    (one,) = effects([slab(SHORT)], prices(), [said], DAY)
    moved = Decimal(per_cent) / 100 * (1 if up else -1)

    assert one.after.value == Decimal("1.789") + Decimal("1.44") * moved


def test_another_pack_may_count_once_one_grows_dearer() -> None:
    # at 0.95/kg the sack is dearer than the bag at 0.90
    (one,) = effects([slab(SHORT)], prices(), [change("plain flour = 15.20")], DAY)
    assert one.after.value == Decimal("1.84")  # the new price is that of the pack said


@pytest.mark.parametrize(
    ("said", "after"),
    [
        ("butter, unsalted = 2.10", Decimal("8.40")),
        ("butter, unsalted = £2.10", Decimal("8.40")),
        ("butter, unsalted = 8.40 a kg", Decimal("8.40")),
        ("butter, unsalted=8.40/kg", Decimal("8.40")),
        ("butter, unsalted +25%", Decimal("9")),
        ("butter, unsalted - 5 %", Decimal("6.84")),
        ("butter, unsalted −12,5 %", Decimal("6.3")),
        ("Butter +0%", Decimal("7.2")),
        ("butter, unsalted -100 %", Decimal(0)),
    ],
)
def test_every_way_to_say_it(said: str, after: Decimal) -> None:
    new = changed(prices(), [change(said)], DAY).price_of("butter-unsalted", DAY)

    assert new is not None
    assert new.per_gram * 1000 == Fraction(after)


def test_a_group_hits_all_of_it_and_says_so() -> None:
    more = PRICES + (
        "- {ingredient: salted butter, pack: 250 g, price: 1.85}\n"
        "- {ingredient: cocoa butter, pack: 1 kg, price: 24.00}\n"
    )

    assert change("butter +20 %", more).names == ("unsalted butter", "salted butter")
    assert change("cocoa butter +5 %", more).names == ("cocoa butter",)
    assert change("eggs +5 %", more).names == ("whole egg",)


def test_a_strength_in_a_name_is_no_change() -> None:
    more = PRICES + "- {ingredient: double cream 48%, pack: 2 kg, price: 9.50}\n"

    assert change("double cream 48% +10 %", more).names == ("double cream 48%",)
