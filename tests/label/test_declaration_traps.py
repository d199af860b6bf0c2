"""Names kept by law, and what may change places in a list."""

from datetime import date

import pytest
from tests.label.lists import UK, card, full

from slabwright.label.ingredients.declared import Nation
from slabwright.label.ingredients.reserved import reserved
from slabwright.spec.declaration import ListOrder


def codes(text: str, larder: str = "", order: ListOrder | None = None) -> list[str]:
    return [one.code for one in full(text, larder, order).findings]


def said(text: str, code: str, order: ListOrder | None = None) -> list[str]:
    return [one.what for one in full(text, order=order).findings if one.code == code]


def test_two_weights_close_to_each_other_may_change_places() -> None:
    assert said(card("Base: 100 g butter; 99 g caster sugar"), "order_close") == [
        "butter (100 g) and sugar (99 g) may change places."
    ]
    assert said(card("Base: 100 g butter; 97 g caster sugar"), "order_close") == []


def test_eggs_by_number_may_change_places_with_what_lies_in_their_range() -> None:
    # two medium eggs weigh 93 to 111 g out of their shells: class 53 to 63 g, 88 %
    (one,) = [
        f
        for f in full(card("Base: 104 g butter; 2 eggs")).findings
        if f.code == "order_close"
    ]
    assert one.severity == "look"
    assert "overlap" in one.why


def test_where_the_order_is_free_nothing_may_change_places() -> None:
    text = card("Base: 1000 g butter; 5 g fine salt; 5 g ground cinnamon")

    assert "order_close" not in codes(text)


def test_sugars_by_one_name_stand_elsewhere() -> None:
    text = card("Base: 90 g caster sugar; 100 g butter; 30 g light brown sugar")

    expected = (
        "By one name, sugar comes to 120 g and stands in place 1; apart: sugar 90 g, "
        "place 2; brown sugar 30 g, place 3."
    )
    assert said(text, "sugars_together") == [expected]
    order = ListOrder(UK, sugars_together=True)
    assert said(text, "sugars_together", order) == [expected]


@pytest.mark.parametrize(
    ("grams", "expected"), [(7, False), (9, True), (10, True), (11, True), (20, False)]
)
def test_a_share_near_two_hundredths_is_told(grams: int, expected: bool) -> None:
    text = card(f"Base: {500 - grams} g caster sugar; {grams} g raspberry jam")

    # 1.4, 1.8, 2.0, 2.2 and 4 % of 500 g; told from 1.6 to 2.4 %
    assert ("threshold_near" in codes(text)) == expected


def test_water_near_a_twentieth_is_told() -> None:
    text = card("Syrup: 300 g caster sugar; 200 g water; ends 317 g")

    assert "threshold_near" in codes(text)


# --- names kept by law --------------------


def kept(text: str, larder: str = "", order: ListOrder | None = None) -> list[str]:
    found = full(text, larder, order).findings
    return [
        one.source.partition(",")[0] for one in found if one.code == "reserved_name"
    ]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        # chocolate: 35 % said, 18 % of cocoa butter
        ("name: dark chocolate 30%, per_100g: {fat_cocoa: 20, sucrose: 60}",
         ["RES-01a"]),
        ("name: house dark chocolate, per_100g: {fat_cocoa: 15, sucrose: 60}",
         ["RES-01b"]),
        ("name: house dark chocolate, per_100g: {fat_cocoa: 19, fat_lauric: 6}",
         ["RES-05"]),
        ("name: house milk chocolate 20%, per_100g: {fat_cocoa: 15, fat_milk: 3, "
         "fat_other: 0}", ["RES-02a", "RES-02b", "RES-02c"]),
        ("name: house family milk chocolate, per_100g: {fat_cocoa: 22, fat_milk: 4}",
         ["RES-03"]),
        ("name: house white chocolate, per_100g: {fat_cocoa: 19, fat_milk: 3}",
         ["RES-04a", "RES-04b"]),
        ("name: our butter, per_100g: {fat_milk: 75, water: 20}",
         ["RES-08a", "RES-08b"]),
        ("name: our condensed milk, per_100g: {fat_milk: 5, water: 27}", ["RES-09"]),
        ("name: our evaporated milk, per_100g: {fat_milk: 5, water: 74}", ["RES-10"]),
        ("name: our butter, per_100g: {fat_milk: 82, water: 16}", []),
    ],
)  # fmt: skip
def test_an_ingredient_must_bear_its_name(row: str, expected: list[str]) -> None:
    name = row.partition(",")[0].removeprefix("name: ")

    assert kept(card(f"Base: 100 g {name}"), f"- {{{row}}}\n") == expected


def test_an_average_of_a_table_accuses_no_pack() -> None:
    # 7.87 g of fat by the table that we use, 8 by law
    assert kept(card("Base: 100 g condensed milk")) == []
    same = "- {name: our condensed milk, like: condensed milk}\n"
    assert kept(card("Base: 100 g our condensed milk"), same) == []


@pytest.mark.parametrize(
    ("nation", "day", "grams", "expected"),
    [
        ("EU", date(2026, 6, 13), 350, []),
        ("EU", date(2026, 6, 14), 350, ["RES-07c"]),
        ("EU", date(2026, 6, 14), 450, []),
        ("England", date(2026, 11, 26), 350, []),
        ("England", date(2026, 11, 26), 340, ["RES-07a"]),
        ("EU", date(2026, 6, 13), 340, ["RES-07b"]),
    ],
)
def test_a_jam_of_the_house_holds_so_much_fruit(
    nation: str, day: date, grams: int, expected: list[str]
) -> None:
    sugar = 640
    text = card(
        f"Plum jam: {grams} g plums; {sugar} g caster sugar; ends 1000 g"
    ).replace("ends 1000 g", "ends 1000 g" if grams + sugar >= 1000 else "")
    if grams + sugar < 1000:
        text = card(f"Plum jam: {grams} g plums; {1000 - grams} g caster sugar")

    assert kept(text, order=ListOrder(Nation(nation, day))) == expected


def test_a_thin_jam_is_told() -> None:
    # 500 g of sugar and some 45 g of the fruit's own in 1000 g
    text = card("Plum jam: 500 g plums; 500 g caster sugar")

    assert kept(text) == ["RES-07d"]


@pytest.mark.parametrize(
    ("name", "lines", "expected"),
    [
        ("Chocolate slab", "50 g cocoa powder; 100 g butter", ["RES-06"]),
        ("Chocolate slab", "50 g dark chocolate 60%", []),
        ("Butter slab", "50 g butter; 20 g sunflower oil", ["RES-11"]),
        ("Butter slab", "50 g butter", []),
        ("Peanut butter slab", "50 g peanut butter; 20 g sunflower oil", []),
    ],
)
def test_the_slab_must_bear_its_name(
    name: str, lines: str, expected: list[str]
) -> None:
    text = card(f"Base: {lines}").replace("Tried\n", f"Tried\ncalled {name}\n")

    assert kept(text) == expected


def test_every_row_says_how_it_is_known() -> None:
    for row in reserved():
        assert row.found in {"from memory", "stored secondary"}
        assert row.law.endswith(f"({row.found})")
