"""What stands where in a list of ingredients, worked by hand."""

from pathlib import Path

import pytest
from tests.label.kitchen import DAY
from tests.label.lists import EU, UK, card, declare, declare_spec, names

from slabwright.files.folder import open_folder
from slabwright.files.raw import read_text
from slabwright.spec.declaration import ListOrder
from slabwright.spec.work_out import Order, work_out

DEMO = Path(__file__).parents[2] / "demo"


def demo(name: str, *, by_layer: bool = False) -> str:
    home = open_folder(DEMO)
    read = home.read(read_text(DEMO / "slabs" / f"{name}.card"))
    order = Order(home.kitchen, home.book, home.prices, DAY)
    spec = work_out(read.card, order, read.mistakes)
    return declare_spec(spec, home, ListOrder(UK, by_layer)).marked


def test_the_tides_are_declared_as_worked_out_by_hand() -> None:
    # sugar 85 + 270 + 130 = 485, egg 300, butter 170 + 120 = 290, purée 280, juice
    # 220 + 10 = 230, flour 190, yolk 90, semolina 50, glucose 40, zest 12, pectin 6,
    # salt 3 g
    assert demo("two-tides") == (
        "Ingredients: sugar, EGG, butter (MILK), blackcurrant purée, lemon juice, "
        "flour (WHEAT flour, calcium carbonate, iron, niacin, thiamin), EGG yolk, "
        "WHEAT semolina, glucose syrup, lemon zest, gelling agent (pectins), salt."
    )


def test_the_tides_by_layer_stand_by_what_is_laid() -> None:
    # laid: curd 969, shortbread 451, jelly 446 g
    assert demo("two-tides", by_layer=True) == (
        "Ingredients: Baked lemon curd (EGG, sugar, lemon juice, butter (MILK), EGG "
        "yolk, lemon zest, salt), Lemon semolina shortbread (flour (WHEAT flour, "
        "calcium carbonate, iron, niacin, thiamin), butter (MILK), sugar, WHEAT "
        "semolina, lemon zest, salt), Blackcurrant jelly (blackcurrant purée, sugar, "
        "glucose syrup, lemon juice, gelling agent (pectins))."
    )


def test_the_lamp_is_declared_as_worked_out_by_hand() -> None:
    # cream 220 + 95 = 315, glucose 250 + 15 = 265, butter 190 + 50 + 20 = 260,
    # chocolate 250, sugar 195, flour 170, milk 120 + 30 = 150, brown sugar 95 g
    assert demo("harbour-lamp").startswith(
        "Ingredients: double cream (MILK), glucose syrup, butter (MILK), dark "
        "chocolate (cocoa mass, sugar, cocoa butter, emulsifier (soya or sunflower "
        "lecithin)), sugar, flour (WHEAT flour, calcium carbonate, iron, niacin, "
        "thiamin), whole MILK, brown sugar, wholemeal RYE flour, BARLEY malt extract,"
    )


def test_flour_is_given_nothing_by_law_outside_the_united_kingdom() -> None:
    found = declare(card("Base: 100 g plain flour; ends 95 g"), where=EU)

    assert found.marked == "Ingredients: WHEAT flour."


def test_the_same_thing_in_several_layers_is_summed_and_says_so() -> None:
    found = declare(card("Base: 60 g butter; 100 g caster sugar", "Top: 50 g butter"))

    butter = found.entries[0]
    assert names(found) == ["butter", "sugar"]
    assert butter.sum == "Base 60 g + Top 50 g = 110 g"
    assert [one.id for one in butter.rules] == [
        "ING-01", "ING-18", "ING-20", "ING-21", "ING-27",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("lines", "listed", "left_out"),
    [
        # 400 - 300 = 100 g of water left of 200
        ("300 g caster sugar; 200 g water; ends 400 g", ["sugar", "water"], []),
        # 250 - 300: none of it is left
        ("300 g whole milk; 200 g water; ends 250 g", ["whole milk"], ["water"]),
        # 315 - 300 = 15 g, 4.8 %
        ("300 g caster sugar; 200 g water; ends 315 g", ["sugar"], ["water"]),
        # 317 - 300 = 17 g, 5.4 %
        ("300 g caster sugar; 200 g water; ends 317 g", ["sugar", "water"], []),
        # 700 - 300 = 400 g, more than the sugar
        ("300 g caster sugar; 500 g water; ends 700 g", ["water", "sugar"], []),
    ],
)
def test_added_water_counts_as_what_is_left_of_it(
    lines: str, listed: list[str], left_out: list[str]
) -> None:
    found = declare(card(f"Syrup: {lines}"))

    assert names(found) == listed
    assert [one.name for one in found.left_out] == left_out
    assert all(one.rule.id == "ING-03" for one in found.left_out)


def test_water_whose_slab_has_no_weight_is_asked_for() -> None:
    found = declare(card("Syrup: 300 g butter; 20 g water; 2 sheets caster sugar"))

    assert names(found) == ["butter", "sugar", "water"]
    asked = [(one.about, one.what.partition(":")[0]) for one in found.open]
    assert asked == [
        ("sugar", "how much of it goes in"),
        ("water", "how much of its water is left"),
    ]


def test_a_line_that_reads_as_a_step_holds_the_list() -> None:
    found = declare(card("Syrup: 300 g butter; 3 zorbs"))

    assert [one.about for one in found.open] == ["3 zorbs"]


@pytest.mark.parametrize(
    ("grams", "listed"),
    [
        (5, "raspberry jam (gelling agent (pectins))"),
        (50, "raspberry jam (sugar, fruit, gelling agent (pectin))"),
    ],
)
def test_a_list_set_by_law_may_be_left_out_under_two_hundredths(
    grams: int, listed: str
) -> None:
    found = declare(card(f"Base: 500 g caster sugar; {grams} g raspberry jam"))

    jam = found.entries[1]
    assert jam.named.plain == listed.replace("pectins", "pectin")
    assert ("ING-16" in [one.id for one in jam.rules]) == (grams == 5)


def test_the_makers_own_list_wins_word_for_word() -> None:
    larder = (
        '- {name: dark chocolate 60%, made_of: ["cocoa mass", "sugar", "emulsifier: '
        'soya lecithin", "whey powder"], contains: [soya, milk], source: pack}\n'
    )
    found = declare(card("Top: 100 g dark chocolate 60%"), larder)

    assert found.marked == (
        "Ingredients: dark chocolate (cocoa mass, sugar, emulsifier: SOYA lecithin, "
        "whey powder (MILK))."
    )
    assert found.open == ()


def test_an_allergen_that_the_list_does_not_show_is_added_to_it() -> None:
    larder = (
        "- {name: qadd, declared_as: glaze, made_of: [sugar, qaxx], contains: [egg]}\n"
    )
    found = declare(card("Top: 100 g qadd"), larder)

    assert "glaze (sugar, qaxx, contains EGG)" in found.marked


def test_what_has_no_legal_name_is_asked_for() -> None:
    larder = (
        "- {name: 'rye crisp, from our miller', like: porridge oats, contains: [rye]}\n"
    )
    found = declare(card("Top: 100 g rye crisp, from our miller"), larder)

    assert [(one.about, one.what) for one in found.open] == [
        ("rye crisp", "what it is called by law")
    ]
    assert "declared_as:" in found.open[0].do


def test_what_is_for_the_tin_is_left_out_unless_it_brings_one_of_the_14() -> None:
    found = declare(
        card(
            "Base: 100 g caster sugar; sunflower oil for greasing; butter for greasing"
        )
    )

    assert found.marked == "Ingredients: sugar, butter (MILK)."
    assert [(one.name, one.rule.id) for one in found.left_out] == [
        ("sunflower oil", "ING-23")
    ]


def test_alcohol_that_has_gone_does_not_count() -> None:
    boiled = declare(
        card("Syrup: 100 g whole milk; 101 g vodka; boil to 110 C; ends 30 g")
    )
    stirred = declare(card("Syrup: 100 g whole milk; 101 g vodka"))

    assert names(stirred) == ["vodka", "whole milk"]
    assert names(boiled) == ["whole milk", "vodka"]


def test_sugars_may_be_called_by_one_name() -> None:
    text = card("Base: 90 g caster sugar; 100 g butter; 30 g light brown sugar")

    assert names(declare(text)) == ["butter", "sugar", "brown sugar"]
    together = declare(text, sugars_together=True)
    assert names(together) == ["sugar", "butter"]
    assert together.entries[0].sum == "Base 90 + 30 g = 120 g"


def test_additives_are_told_by_number_if_wanted() -> None:
    text = card("Base: 100 g caster sugar; 2 g bicarbonate of soda")

    assert "raising agent (sodium carbonates)" in declare(text).plain
    assert "raising agent (E500)" in declare(text, numbers=True).plain


def test_what_has_no_weight_is_told_without_grams() -> None:
    found = declare(card("Base: 100 g butter; salt to taste; 5 g fine salt"))
    sums = {one.named.text: one.sum for one in found.entries}
    assert sums["salt"].startswith("Base (to taste) + 5 g")
    alone = declare(card("Base: 100 g butter; salt to taste"))
    sums = {one.named.text: one.sum for one in alone.entries}
    assert sums["salt"] == "Base (to taste)"


def test_a_name_that_can_be_read_in_two_ways_sets_nothing_apart() -> None:
    found = declare(card("Base: 60 g gluten free flour; 40 g vegan butter"))

    assert found.plain == "Ingredients: gluten free flour, vegan butter."
    assert not any(run.is_emphasised for run in found.runs)
    assert found.allergens.is_held
    said = declare(card("Base: 60 g qq wheat crumb"))
    assert "WHEAT" in said.marked
