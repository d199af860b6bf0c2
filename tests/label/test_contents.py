"""What ingredients bring: parts of parts, contradictions, circles, answers."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.label.kitchen import card, counter, folder, hiding_kitchen, letters, slab

from slabwright.label.allergen.allergens import SlabAllergens, State
from slabwright.label.allergen.contents import Contents
from slabwright.larder.ingredient import ALLERGENS, Ingredient
from slabwright.larder.load import built_in

OURS = Contents(built_in(), "GB")


def asked_of(found: SlabAllergens, about: str) -> set[str]:
    """Allergens that a question about this is open for."""
    return {
        allergen
        for one in found.questions
        if one.about == about
        for allergen in one.allergens
    }


@pytest.mark.parametrize("one", built_in().ingredients, ids=lambda one: one.id)
def test_ours_contain_what_their_table_says_and_no_warning_is_lost(
    one: Ingredient,
) -> None:
    load = OURS.of(one)
    contains = {said.name for said in one.allergens if said.how == "contains"}
    hides = {
        said.name
        for said in one.allergens
        if said.how == "may hide" and not said.note.startswith("in Australia")
    }
    doubted = {allergen for doubt in load.doubts for allergen in doubt.allergens}

    assert load.in_it == contains
    exempt = {"gluten:wheat"} if one.id == "maltodextrin" else set()
    assert hides - contains - exempt <= doubted


def test_our_compounds_show_the_part_that_brings_it() -> None:
    white = built_in().by_id("white-chocolate")
    assert white is not None
    ways = {(b.allergen, b.state, b.way) for b in OURS.of(white).brought}

    assert ("milk", State.THROUGH, ("whole milk powder",)) in ways


@pytest.mark.parametrize(
    ("line", "allergen"),
    [
        ("30 g crisped rice cereal", "gluten:barley"),
        ("30 g dark chocolate 60%", "soya"),
        ("30 g dark chocolate 60%", "milk"),
        ("30 g baking margarine", "milk"),
        ("30 g leaf gelatine", "fish"),
        ("30 g sultanas", "sulphites"),
        ("30 g granola", "nuts:macadamia"),
        ("30 g chocolate", "milk"),
        ("30 g moon dust", "molluscs"),
        ("30 g gluten free flour", "gluten:wheat"),
    ],
)
def test_what_may_hide_is_asked_and_never_left_out(line: str, allergen: str) -> None:
    found = slab("[]\n", line)

    assert found.is_held
    assert allergen in found.unknown


@pytest.mark.parametrize(
    "line",
    [
        "50 g plain flour, gluten free",
        "50 g plain flour, gluten-free",
        "50 g plain flour (free from gluten)",
        "50 g plain flour, no wheat at all",
    ],
)
def test_a_note_takes_no_allergen_away(line: str) -> None:
    found = slab("[]\n", line)

    assert "gluten:wheat" in (*found.in_it, *found.unknown)


def test_a_note_a_step_or_greasing_brings_what_no_line_does() -> None:
    found = slab(
        "[]\n", "20 g cornflour, or plain flour", "brush with beaten egg",
        "butter for greasing",
    )  # fmt: skip

    assert found.in_it == ("milk",)
    assert {"gluten:wheat", "egg"} <= set(found.unknown)


@pytest.mark.parametrize(
    ("row", "held"),
    [
        ("{name: q, like: dark chocolate 60%}", {"soya", "milk"}),
        ("{name: q, like: dark chocolate 60%, contains: []}", set()),
        ("{name: q, like: dark chocolate 60%, contains: [soya]}", set()),
        ("{name: q, like: white chocolate, contains: []}", {"milk"}),
        ("{name: q, like: white chocolate, contains: [], source: spec}", set()),
        ("{name: q hazelnut, also: [q], contains: []}", {"nuts:hazelnut"}),
        ("{name: q hazelnut, also: [q], contains: [], source: spec}",
         {"nuts:hazelnut"}),
        ("{name: q butter flavour, also: [q], contains: [], source: spec}", set()),
        ("{name: q, contains: [milk], may_contain: [milk], source: spec}", set()),
        ("{name: q}", set(ALLERGENS)),
        ("{name: q, may_contain: [milk]}", set(ALLERGENS)),
        ("{name: q, made_of: [sugar, rice]}", set()),
        ("{name: q, made_of: [sugar, moon dust]}", set(ALLERGENS)),
        ("{name: q, made_of: [sugar, flavouring], contains: []}", set()),
        ("{name: q, made_of: [sugar, emulsifier (lecithin)]}", {"soya"}),
        ("{name: q, made_of: [sugar, emulsifier (sunflower lecithin)]}", set()),
        ("{name: q, made_of: [rice, malt extract]}", {"gluten:barley"}),
    ],
)  # fmt: skip
def test_what_a_row_leaves_open(row: str, held: set[str]) -> None:
    found = slab(f"- {row}\n", "20 g q")

    assert asked_of(found, "q") == held


def test_a_row_that_is_ours_by_another_pack_loses_nothing_silently() -> None:
    row = "- {name: white chocolate, like: white chocolate, contains: [], source: s}\n"
    found = slab(row, "20 g white chocolate")

    assert asked_of(found, "white chocolate") >= {"milk"}


def test_a_pack_that_warns_takes_nothing_from_what_it_is_like() -> None:
    row = "- {name: q cream, like: double cream 48%, may_contain: [hazelnut]}\n"
    found = slab(row, "20 g q cream")

    assert found.in_it == ("milk",)
    assert found.may_contain == ("nuts:hazelnut",)


def test_a_part_wins_over_a_row_that_denies_it() -> None:
    row = "- {name: q, made_of: [sugar, whey powder], contains: [], source: spec}\n"

    assert slab(row, "20 g q").in_it == ("milk",)


def test_circles_and_towers_of_compounds_end_and_are_held() -> None:
    rows = [
        "- {name: qa, made_of: [qb, qb, egg white]}",
        "- {name: qb, made_of: [qa, qa, whey powder]}",
        *(f"- {{name: t{n}, made_of: [t{n + 1}, t{n + 1}x]}}" for n in range(40)),
        *(f"- {{name: t{n}x, made_of: [t{n + 1}, sugar]}}" for n in range(40)),
        "- {name: t40, made_of: [hazelnuts]}",
    ]  # fmt: skip
    found = slab("\n".join(rows) + "\n", "20 g qa", "20 g t0")

    assert {"egg", "milk"} <= set(found.in_it)
    assert "nuts:hazelnut" in (*found.in_it, *found.unknown)
    assert asked_of(found, "qa")


@pytest.mark.parametrize(
    "text",
    [
        "slab Bare\n",
        "slab Empty\ntin 20 x 20 x 5 cm\nlayer Base\n",
        "slab Gone\ntin 20 x 20 x 5 cm\nlayer Base from Nowhere, 100 g\n",
        card("Odd", "10 gg flaked al/monds ="),
        card("Finish") + "finish\n  10 g flaked almonds\n",
    ],
)
def test_a_card_that_can_not_be_read_whole_is_held(text: str) -> None:
    (row,) = counter(folder("[]\n"), text).rows

    assert row.found.is_held
    assert set(row.found.unknown) == set(ALLERGENS)


def test_a_larder_file_that_can_not_be_read_holds_every_slab() -> None:
    home = folder("- {name: caster sugar, contains: [moon dust]}\n")
    (row,) = counter(home, card("Sweet")).rows

    assert home.mistakes
    assert set(row.found.unknown) == set(ALLERGENS)


# whatever is added, and however much


NAMES = st.sampled_from(
    [f"{letters(a)} {what}" for a in ALLERGENS for what in ("plain", "deep", "warned",
     "bracket", "silent")]
    + ["plain flour", "dark chocolate 60%", "butter", "moon dust"]
)  # fmt: skip
LINES = st.lists(st.tuples(st.integers(1, 500), NAMES), max_size=5)


def _found(lines: list[tuple[int, str]], times: int = 1) -> SlabAllergens:
    texts = [f"{grams * times} g {name}" for grams, name in lines]
    body = card("Slab", *texts).replace("200 g", f"{200 * times} g")
    (row,) = counter(hiding_kitchen(), body).rows
    return row.found


@settings(deadline=None, max_examples=40)
@given(LINES, st.integers(1, 500), NAMES)
def test_more_in_it_never_takes_an_allergen_out(
    lines: list[tuple[int, str]], grams: int, name: str
) -> None:
    before, after = _found(lines), _found([*lines, (grams, name)])

    assert set(before.in_it) <= set(after.in_it)
    assert set(before.unknown) <= {*after.unknown, *after.in_it}
    assert set(before.may_contain) <= {*after.may_contain, *after.in_it}


def _without_places(found: SlabAllergens) -> SlabAllergens:
    """The same, wherever on the card it stands: a longer number moves what follows."""
    traces = tuple(replace(one, span=None) for one in found.traces)
    questions = tuple(replace(one, span=None) for one in found.questions)
    return replace(found, traces=traces, questions=questions)


@settings(deadline=None, max_examples=20)
@given(LINES, st.integers(2, 50))
def test_a_larger_slab_has_the_same_allergens(
    lines: list[tuple[int, str]], times: int
) -> None:
    assert _without_places(_found(lines, times)) == _without_places(_found(lines))
