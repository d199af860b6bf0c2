"""The shopping list: everything that is needed, nothing twice, no pack too many."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabwright.cost.prices import money
from slabwright.counter.needs import needs_of
from slabwright.counter.shopping import ShoppingList, Wanted, shopping_list
from tests.counter.kitchen import CURD, PRICES, SHORT, shelf, slab, trays


def one(found: ShoppingList, name: str) -> Wanted:
    (only,) = (wanted for wanted in found.wanted if wanted.need.name == name)
    return only


def test_needs_over_slabs_and_trays_with_components_opened() -> None:
    found = needs_of([trays(SHORT, 2), trays(CURD, 3)])
    grams = {need.name: need.grams for need in found.needs}

    # half a batch of curd (300 of 600 g) goes into each tray of Curd
    assert grams["plain flour"] == 2 * 300 + 3 * 200
    assert grams["unsalted butter"] == 2 * 200 + 3 * (150 + 60)
    assert grams["caster sugar"] == 2 * 100 + 3 * 135
    assert grams["lemon juice"] == 3 * 110
    assert "water" not in grams
    assert found.beside == ("unsalted butter, for greasing",)


def test_each_need_says_which_slab_takes_it() -> None:
    (flour,) = (
        need
        for need in needs_of([trays(SHORT, 2), trays(CURD)]).needs
        if need.name == "plain flour"
    )

    assert dict(flour.by_slab) == {"Short": 600, "Curd": 200}


def test_a_component_of_two_slabs_is_made_at_once() -> None:
    other = CURD.replace("slab Curd", "slab Other").replace("300 g\n", "150 g\n")
    found = needs_of([trays(CURD, 2), trays(other)])

    assert found.shared == (("Lemon curd", 750.0),)


def test_packs_net_of_stock() -> None:
    found = shopping_list([trays(SHORT, 30)], shelf())
    sugar, flour = one(found, "caster sugar"), one(found, "plain flour")

    # 3,000 g are needed, 900 are there
    assert (sugar.to_buy_g, sugar.left_g) == (Fraction(2100), Fraction(2900))
    # 9,000 g of flour: six bags for 8.10, against a sack for 12.48
    assert [(packs.count, packs.price.pack_g) for packs in flour.packs] == [(6, 1500)]
    assert flour.left_g == 0


def test_what_is_in_stock_is_not_bought() -> None:
    found = shopping_list([trays(SHORT)], shelf())

    assert [wanted.need.name for wanted in found.in_stock] == ["caster sugar"]
    assert one(found, "caster sugar").left_g == 800


def test_the_money_of_a_list_worked_by_hand() -> None:
    # 2 trays: 600 g flour, 1 bag 1.35; 400 g butter, 2 packs 3.60; sugar is there
    found = shopping_list([trays(SHORT, 2)], shelf())

    assert found.total == Fraction("4.95")
    assert [name for name, _ in found.suppliers] == ["the mill", "the shop"]


def test_the_waste_allowance_divides_by_what_is_not_wasted() -> None:
    found = shopping_list([trays(SHORT)], shelf(waste="0.06"))
    flour = one(found, "plain flour")

    assert flour.need.grams == 300
    assert flour.to_buy_g == Fraction(300) / Fraction("0.94")


def test_yolks_without_a_pack_are_bought_as_eggs() -> None:
    found = shopping_list([trays(CURD, 4)], shelf())
    eggs = one(found, "eggs")

    # half a batch a tray: 10 yolks in all, from as many eggs; a box holds 12
    assert eggs.taken_for == "10 eggs for egg yolk"
    assert [packs.count for packs in eggs.packs] == [1]
    assert "egg yolk" not in [wanted.need.name for wanted in found.wanted]


def test_yolks_and_whole_eggs_come_out_of_one_box() -> None:
    text = SHORT.replace("  ends", "  3 eggs\n  2 egg yolks\n  1 egg white\n  ends")
    found = shopping_list([trays(text)], shelf())
    eggs = one(found, "whole egg")

    # one of the two that give a yolk gives the white too
    assert eggs.need.grams == pytest.approx(5 * 51)
    assert eggs.pieces == "5 medium eggs"


def test_what_has_no_pack_is_listed_with_its_grams() -> None:
    found = shopping_list([trays(CURD, 2)], shelf())

    assert [wanted.need.name for wanted in found.without_pack] == ["lemon juice"]
    assert one(found, "lemon juice").to_buy_g == 220


def test_what_nobody_knows_is_listed_too() -> None:
    text = SHORT.replace("caster sugar", "moon dust")
    found = shopping_list([trays(text)], shelf())

    assert [wanted.need.name for wanted in found.without_pack] == ["moon dust"]


def test_a_line_without_a_weight_is_named() -> None:
    text = SHORT.replace("  ends 580 g\n", "  2 cups moon dust\n")
    found = shopping_list([trays(text)], shelf())

    assert found.needs.unweighed == ("moon dust",)


def test_all_of_a_batch_is_bought_though_some_is_left_over() -> None:
    text = SHORT.replace("layer Base", "layer Base, 5 mm")
    whole, part = (needs_of([trays(card)]).needs for card in (SHORT, text))

    assert {n.name: n.grams for n in part} == {n.name: n.grams for n in whole}


def test_ten_tonnes() -> None:
    found = shopping_list([trays(SHORT, 33_334)], shelf())
    flour = one(found, "plain flour")

    assert flour.need.grams == 10_000_200
    # 625 sacks are 10,000 kg; 200 g more are a bag for 1.35
    assert [packs.count for packs in flour.packs] == [625, 1]
    assert money(flour.cost) == 625 * Decimal("12.48") + Decimal("1.35")


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 60), st.integers(1, 60), st.integers(0, 20_000))
def test_never_less_than_needed_and_more_stock_never_costs_more(
    short: int, curd: int, stock: int
) -> None:
    more = PRICES.replace("stock_g: 900", f"stock_g: {900 + stock}")
    orders = [trays(SHORT, short), trays(CURD, curd)]
    found, richer = (shopping_list(orders, shelf(text)) for text in (PRICES, more))

    assert richer.total <= found.total
    for wanted in (*found.wanted, *richer.wanted):
        if wanted.has_offer:
            assert wanted.stock_g + wanted.bought_g >= wanted.need.grams
    of_suppliers = sum(packs.cost for _, rows in found.suppliers for _, packs in rows)
    assert of_suppliers == found.total


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 1000))
def test_needs_grow_as_the_trays(count: int) -> None:
    single, many = (needs_of([trays(CURD, n)]).needs for n in (1, count))

    assert [n.grams * count for n in single] == [n.grams for n in many]


def test_free_packs_and_no_list_at_all() -> None:
    free = shelf("- {ingredient: plain flour, pack: 1 kg, price: 0}\n")
    found = shopping_list([trays(SHORT)], free)
    bare = shopping_list([trays(SHORT)], shelf("[]"))

    assert [packs.count for packs in one(found, "plain flour").packs] == [1]
    assert found.total == 0
    assert len(bare.without_pack) == 3


def test_an_empty_slab_buys_nothing() -> None:
    found = shopping_list([trays("slab Nothing\n")], shelf())

    assert found.wanted == ()
    assert found.total == 0
    assert slab("slab Nothing\n").cost is None
