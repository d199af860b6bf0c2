"""Lists of ingredients whatever the slab: scaling, layers, allergens, hostile input."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.label.kitchen import card as one_card
from tests.label.kitchen import (
    cards_of,
    counter,
    folder,
    hiding_kitchen,
    letters,
    worked,
)
from tests.label.lists import UK, card, declare, declare_spec, names

from slabwright.label.ingredients.declaration import Declaration, Entry
from slabwright.larder.ingredient import ALLERGENS
from slabwright.larder.load import built_in
from slabwright.spec.declaration import ListOrder

BOUGHT = sorted(
    one.name for one in built_in().ingredients if one.id not in {"water", "lemon"}
)
bought = st.sampled_from(BOUGHT)
grams = st.integers(1, 900)
lines = st.tuples(bought, grams)
layers = st.lists(st.lists(lines, min_size=1, max_size=6), min_size=1, max_size=4)


def text_of(slab: list[list[tuple[str, int]]], times: float = 1) -> str:
    return card(
        *(
            f"Layer {n}: {'; '.join(f'{g * times:g} g {name}' for name, g in layer)}"
            for n, layer in enumerate(slab)
        )
    )


def flat(found: Declaration) -> set[str]:
    return {one.named.text for one in found.bought}


def grams_of(found: Declaration) -> dict[str, float]:
    by: dict[str, float] = {}
    for one in found.bought:
        assert one.weight is not None
        by[one.named.text] = by.get(one.named.text, 0.0) + one.weight.g
    return by


def shown(entries: tuple[Entry, ...]) -> set[str]:
    return {a for one in entries for a in one.named.allergens}


@settings(max_examples=40)
@given(layers, st.sampled_from([0.25, 0.5, 2, 3, 7, 10]))
def test_scaling_a_slab_never_changes_its_order(
    slab: list[list[tuple[str, int]]], times: float
) -> None:
    assert names(declare(text_of(slab))) == names(declare(text_of(slab, times)))


@settings(max_examples=40)
@given(layers)
def test_by_layer_and_merged_hold_the_same(slab: list[list[tuple[str, int]]]) -> None:
    text = text_of(slab)
    merged, by_layer = declare(text), declare(text, by_layer=True)

    assert flat(merged) == flat(by_layer)
    assert shown(merged.entries) == shown(by_layer.entries)
    assert grams_of(by_layer) == pytest.approx(grams_of(merged))


@settings(max_examples=40)
@given(layers)
def test_the_heavier_stands_first_and_nothing_is_lost(
    slab: list[list[tuple[str, int]]],
) -> None:
    found = declare(text_of(slab))
    weights = [one.weight.g for one in found.entries if one.weight is not None]

    assert weights == sorted(weights, reverse=True)
    assert sum(len(one.lines) for one in found.entries) == sum(map(len, slab))
    assert set(found.allergens.in_it) <= shown(found.entries)
    marked = "".join(run.text for run in found.runs)
    assert marked == found.plain
    assert found.plain.count("(") == found.plain.count(")")


@settings(max_examples=40)
@given(layers, lines)
def test_adding_an_ingredient_never_removes_an_allergen(
    slab: list[list[tuple[str, int]]], more: tuple[str, int]
) -> None:
    before = declare(text_of(slab))
    after = declare(text_of([*slab[:-1], [*slab[-1], more]]))

    assert shown(before.entries) <= shown(after.entries)
    said = {run.text.casefold() for run in before.runs if run.is_emphasised}
    assert said <= {run.text.casefold() for run in after.runs if run.is_emphasised}


def test_water_that_has_gone_from_one_layer_stands_in_the_other_alone() -> None:
    # 100 - 100 = 0 g left in the base, 150 - 50 = 100 g in the jelly; 100 of 250 g
    text = card(
        "Base: 100 g caster sugar; 40 g water; ends 100 g",
        "Jelly: 50 g honey; 100 g water; ends 150 g",
    )

    assert declare(text, by_layer=True).plain == (
        "Ingredients: Jelly (water, honey), Base (sugar)."
    )
    assert names(declare(text)) == ["sugar", "water", "honey"]


# --- every place in which one of the 14 hides --------------------

HOME = hiding_kitchen()


@pytest.mark.parametrize("allergen", ALLERGENS)
def test_wherever_an_allergen_hides_it_is_set_apart(allergen: str) -> None:
    for place, text in cards_of(allergen).items():
        if place in {"unknown", "may contain", "own overlay"}:
            continue
        for by_layer in (False, True):
            spec = worked(HOME, text)
            found = declare_spec(spec, HOME, ListOrder(UK, by_layer))
            assert set(found.allergens.in_it) <= shown(found.entries), place
            if allergen in found.allergens.in_it:
                assert any(run.is_emphasised for run in found.runs), place


@pytest.mark.parametrize("allergen", ALLERGENS)
def test_what_nobody_has_answered_holds_the_list(allergen: str) -> None:
    found = declare(cards_of(allergen)["unknown"], home=HOME)

    assert found.is_held
    assert f"{letters(allergen)} silent" in found.plain


# --- hostile --------------------


def test_three_hundred_ingredients_are_listed() -> None:
    some = [name for name in BOUGHT if "," not in name][:240]
    rows = [f"{n + 1} g {name}" for n, name in enumerate(some)]
    rows += [f"{n + 300} g qthing {letters(a)}" for n, a in enumerate(ALLERGENS)]
    found = declare(card(f"Base: {'; '.join(rows)}"))

    weights = [one.weight.g for one in found.entries if one.weight is not None]
    assert weights == sorted(weights, reverse=True)
    assert sum(len(one.lines) for one in found.entries) == len(rows)
    assert found.is_held


def test_a_circle_of_compounds_ends_and_is_asked_for() -> None:
    larder = (
        "- {name: qa, made_of: [sugar, qb, milk], contains: [milk]}\n"
        "- {name: qb, made_of: [salt, qa], contains: [milk]}\n"
    )
    found = declare(card("Base: 100 g qa"), larder)

    assert "MILK" in found.marked
    assert found.is_held
    assert any("leads back to itself" in one.what for one in found.open)


def test_compounds_a_hundred_deep_end() -> None:
    rows = [
        f"- {{name: q{letters(ALLERGENS[0])}x{n}, made_of: [q{letters(ALLERGENS[0])}"
        f"x{n + 1}, salt]}}"
        for n in range(100)
    ]
    found = declare(card(f"Base: 9 g q{letters(ALLERGENS[0])}x0"), "\n".join(rows))

    assert found.is_held
    assert found.plain.count("(") == found.plain.count(")")


def test_a_list_that_contradicts_itself_shows_what_it_names() -> None:
    larder = "- {name: qglaze, contains: [], made_of: [wheat flour, milk], source: s}\n"
    found = declare(card("Base: 9 g qglaze"), larder)

    assert "WHEAT flour, MILK" in found.marked


@pytest.mark.parametrize(
    "part",
    [
        "sugar (milk", "sugar) milk (", "(milk)", "((((milk))))", "a (milk) b (egg) c",
        "milk (35 %)", "milk (35 %, egg)", "MILK", "contains: milk; egg", "100% milk",
        "milk, egg", "%%", "sugar (" * 9 + "milk" + ")" * 9,
    ],
)  # fmt: skip
def test_a_suppliers_words_are_kept_whatever_their_brackets(part: str) -> None:
    larder = (
        f'- {{name: qglaze, declared_as: glaze, contains: [], made_of: ["{part[:118]}"'
        ', "salt"]}\n'
    )
    found = declare(card("Base: 9 g qglaze"), larder)

    def bare(text: str) -> str:
        return "".join(letter for letter in text if letter.isalnum()).casefold()

    assert bare(part[:118]) in bare(found.plain)
    if "milk" in part.casefold():
        assert any(
            run.text.casefold() == "milk" for run in found.runs if run.is_emphasised
        )


def test_a_slab_without_layers_lists_nothing_and_is_held() -> None:
    found = declare("slab Empty\ntin 20 x 20 x 5 cm\n")

    assert found.plain == ""
    assert found.is_held


@pytest.mark.parametrize("text", ["", "slab", "noise\x00", "# only\n"])
def test_what_is_no_slab_is_held(text: str) -> None:
    assert declare(text).is_held


def test_a_line_that_can_not_be_read_holds_the_list() -> None:
    found = declare(one_card("Slab", "1 m butter"))

    assert found.is_held
    assert names(found) == ["sugar"]


def test_huge_and_tiny_weights_stand_in_order() -> None:
    found = declare(card("Base: 900000 g caster sugar; 0.001 g saffron; 40 g butter"))

    assert names(found) == ["sugar", "butter", "saffron"]


def test_a_layer_of_nothing_of_a_component_is_told() -> None:
    home = folder("", ["component Stock\n  100 g butter\n  ends 100 g\n"])
    text = card("Base: 100 g caster sugar") + "layer Top from Stock, 20 g\n"

    assert declare(text, home=home).entries[1].sum == "Top 20 g"
    assert counter(home, text).rows[0].found.in_it == ("milk",)


def test_layers_that_take_so_much_of_one_batch_are_weighed_by_what_they_take() -> None:
    # 100 of 200 g of a batch: half of each line
    home = folder(
        "", ["component Stock\n  120 g butter\n  80 g caster sugar\n  ends 200 g\n"]
    )
    text = card("Base: 70 g honey") + "layer Top from Stock, 100 g\n"

    found = declare(text, home=home)
    assert names(found) == ["honey", "butter", "sugar"]
    weights = [one.weight.g for one in found.entries if one.weight]
    assert weights == pytest.approx([70, 60, 40])
