"""Shares of what is stressed, worked by hand."""

import pytest
from tests.label.lists import UK, card, full

from slabwright.label.ingredients.quid import percent_words
from slabwright.spec.declaration import IngredientList, ListOrder


def told(found: IngredientList) -> dict[str, str]:
    return {one.term: one.words for one in found.shares if one.needed}


def ids(found: IngredientList, term: str) -> list[str]:
    (one,) = [share for share in found.shares if share.term == term]
    return [row.id for row in one.rules]


def called(name: str, *layers: str) -> str:
    return card(*layers).replace("slab Tried\n", f"slab Tried\ncalled {name}\n")


def test_a_share_is_of_what_was_weighed_in_where_no_moisture_is_lost() -> None:
    # 60 ÷ 200 g
    found = full(called("Date slab", "Base: 60 g pitted dates; 140 g caster sugar"))

    assert told(found) == {"date": "30 %"}
    assert ids(found, "date")[:2] == ["QUID-01", "QUID-11"]
    assert "dates 30 %" in found.declaration.plain


def test_a_share_is_of_the_finished_slab_where_moisture_is_lost() -> None:
    # 60 ÷ 160 g = 37.5 %, to the even whole
    found = full(called("Apple slab", "Base: 60 g apple; 140 g whole milk; ends 160 g"))

    assert told(found) == {"apple": "38 %"}
    assert ids(found, "apple")[:2] == ["QUID-01", "QUID-13"]


def test_a_mix_left_in_the_bowl_is_no_moisture() -> None:
    found = full(
        called(
            "Date slab",
            "Base: 60 g pitted dates; 140 g caster sugar; loses 20 g in the bowl",
        )
    )

    assert ids(found, "date")[1] == "QUID-11"


def test_more_than_all_is_told_in_grams_for_100_g() -> None:
    # 400 ÷ 320 g = 125 g in 100 g
    found = full(called("Milk slab", "Base: 400 g whole milk; ends 320 g"))

    assert told(found) == {"milk": "125 g per 100 g"}
    assert "QUID-14" in ids(found, "milk")


def test_a_layer_that_is_named_is_told_as_a_whole() -> None:
    # 100 of 300 g
    found = full(
        called(
            "Caramel slab",
            "Base: 200 g butter; ends 200 g",
            "Malt caramel: 120 g honey; ends 100 g",
        )
    )

    assert told(found) == {"Malt caramel": "33 %"}
    assert "QUID-19" in ids(found, "Malt caramel")


def test_a_category_is_the_sum_of_what_is_of_it() -> None:
    found = full(
        called("Fruit slab", "Base: 50 g raisins; 30 g blackcurrants; 120 g honey")
    )

    assert told(found) == {"fruit": "40 %"}


def test_juice_and_zest_are_of_the_fruit_and_stand_by_the_name() -> None:
    found = full(
        called("Lemon slab", "Base: 150 g lemon juice; 10 g lemon zest; 40 g honey")
    )

    assert told(found) == {"lemon": "80 %"}
    assert "%" not in found.declaration.plain


def test_what_is_named_for_a_small_taste_needs_no_share() -> None:
    found = full(
        called("Cinnamon slab", "Base: 2 g ground cinnamon; 198 g caster sugar")
    )

    assert told(found) == {}
    assert "QUID-06" in ids(found, "cinnamon")


def test_butter_is_neither_cocoa_butter_nor_peanut_butter() -> None:
    found = full(
        called(
            "Butter slab", "Base: 50 g butter; 30 g cocoa butter; 120 g peanut butter"
        )
    )

    assert told(found) == {"butter": "25 %"}


def test_milk_chocolate_is_not_milk() -> None:
    found = full(
        called("Milk chocolate slab", "Base: 50 g whole milk; 150 g milk chocolate 35%")
    )

    assert told(found) == {"milk chocolate": "75 %"}


def test_what_the_pack_pictures_and_the_maker_describes_is_stressed() -> None:
    text = called("Slab", "Base: 50 g raisins; 50 g honey; 100 g butter").replace(
        "layer", "pictured raisins\nlayer"
    )
    found = full(text, order=ListOrder(UK, described="with real honey"))

    assert told(found) == {"raisin": "25 %", "honey": "25 %"}
    assert ids(found, "honey")[0] == "QUID-02"


def test_what_is_named_and_not_in_it_is_told() -> None:
    found = full(called("Pistachio slab", "Base: 50 g raisins"))

    (one,) = [f for f in found.findings if f.code == "named_not_in_it"]
    assert "pistachios" in one.what


def test_a_share_of_what_is_not_weighed_is_withheld() -> None:
    found = full(called("Raisin slab", "Base: 3 sheets raisins; 50 g butter"))

    assert found.quid == ""
    assert "not known" in found.quid_held


def test_alcohol_counts_as_what_is_left_of_it() -> None:
    found = full(called("Rum slab", "Base: 60 g rum; 140 g whole milk; ends 20 g"))

    assert "QUID-15" in ids(found, "rum")


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.524, "52 %"), (0.0475, "5 %"), (0.047, "4.5 %"), (0.0326, "3.5 %"),
        (0.0099, "1 %"), (0.0024, "0.2 %"), (0.0002, "under 0.1 %"),
    ],
)  # fmt: skip
def test_shares_are_rounded_and_never_to_nothing(share: float, words: str) -> None:
    assert percent_words(share) == words


@pytest.mark.parametrize(
    "layer", ["Salted caramel (soft)", "Salted caramel, soft", "Salted caramel layer"]
)
def test_a_layer_is_named_by_its_noun_whatever_follows(layer: str) -> None:
    found = full(called("Caramel slab", f"{layer}: 100 g honey; ends 100 g"))

    assert told(found) == {layer: "100 %"}
