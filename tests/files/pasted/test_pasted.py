"""The reader of pasted text against the labelled set, and what holds for any text."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabwright.files.card.reader import CardRead
from slabwright.files.pasted.adopt import adopted
from slabwright.files.raw import Text
from slabwright.spec.work_out import Order, work_out
from tests.files.pasted.judge import (
    HERE,
    judge_line,
    judge_names,
    judge_recipe,
    judged_lines,
    kitchen,
    line_rows,
    recipe_files,
    worked,
)
from tests.files.pasted.report import PAGE, report

SETS = ("lines.csv", "fresh.csv", "second.csv")


@pytest.mark.parametrize("name", SETS)
def test_no_line_is_silently_wrong(name: str) -> None:
    wrong = [j for j in judged_lines(name) if j.verdict == "silently wrong"]

    assert wrong == []


@pytest.mark.parametrize("name", SETS)
def test_at_least_95_of_100_lines_are_right_or_rightly_asked(name: str) -> None:
    judged = list(judged_lines(name))
    good = [j for j in judged if j.verdict in {"right", "asked"}]

    assert len(judged) >= 200
    assert len(good) >= 0.95 * len(judged)


def test_no_name_is_silently_wrong() -> None:
    judged = list(judge_names())
    wrong = [j for j in judged if j.verdict == "silently wrong"]

    assert len(judged) >= 400
    assert wrong == []


@pytest.mark.parametrize("label", recipe_files(), ids=lambda file: file.stem)
def test_a_whole_recipe_gives_its_lines_and_nothing_else(label: Path) -> None:

    one = judge_recipe(label)

    assert one.forbidden == ()
    assert one.found >= 0.85 * one.lines
    assert all("total" not in extra.casefold() for extra in one.extra)


def test_the_report_in_the_docs_is_fresh() -> None:
    assert PAGE.read_text("utf-8") == report()


def test_the_judge_can_tell_a_wrong_weight() -> None:
    row = dict(line_rows()[0], line="- 190 g plain flour")  # its label says 170 g

    assert judge_line(row).verdict == "silently wrong"


# --- what must hold for any text --------------------

TEXTS = [
    label.with_name(next(HERE.glob(f"recipes/{label.stem}.[!j]*")).name)
    for label in recipe_files()
]
FRAGMENTS = st.sampled_from(
    ["For the base:", "200 g plain flour", "100g butter", "½ cup sugar", "2 eggs",
     "Method", "1. Melt the butter.", "Serves 16", "a pinch of salt", "", "TOP",
     "20 cm square tin", "1 tin condensed milk", "Bake at 180C for 20 minutes.",
     "salt", "7 knobs of nothing", "• 50 g oats", "<p>", "|", "\t", "&amp;"]
)  # fmt: skip


def masses(read: CardRead) -> list[tuple[str, str, float]]:
    home = kitchen()
    spec = work_out(read.card, Order(home.kitchen, home.book), read.mistakes)
    return [
        (layer.name, line.larder_id or "", round(line.mass_g.number, 6))
        for layer in spec.layers
        for line in layer.lines
        if line.mass_g.known
    ]


@pytest.mark.parametrize("file", TEXTS, ids=lambda file: file.stem)
def test_an_adopted_card_weighs_what_the_paste_weighed(file: Path) -> None:

    read, _ = worked(file.read_text("utf-8"))
    card = adopted(read, kitchen().names, kitchen().tins)
    again = kitchen().read(Text(card))

    assert again.is_pasted is False
    assert again.mistakes == ()
    before = [(name.replace("#", " "), id, g) for name, id, g in masses(read)]
    assert masses(again) == before


@settings(max_examples=60)
@given(st.lists(FRAGMENTS, min_size=1, max_size=14))
def test_every_line_of_any_text_is_accounted_for(lines: list[str]) -> None:
    text = "\n".join(["My slice", "", *lines])
    read = kitchen().read(Text(text))

    if "<p>" not in text and "|" not in text and "\t" not in text:
        numbers = {one.line.number for one in read.lines}
        assert numbers == set(range(1, len(lines) + 3))
    assert read.mistakes == ()


@settings(max_examples=40)
@given(st.sampled_from(["• ", "- ", "* ", "☐ ", "  "]), st.booleans())
def test_bullets_case_and_blank_lines_change_no_mass(mark: str, upper: bool) -> None:
    plain = ["200 g plain flour", "100 g unsalted butter", "50 g caster sugar"]
    shown = [f"{mark}{line.upper() if upper else line}" for line in plain]
    text = "Slice\n\nIngredients\n\n" + "\n\n".join(shown)

    read, _ = worked(text)

    assert [grams for _, _, grams in masses(read)] == [200.0, 100.0, 50.0]


@settings(max_examples=60)
@given(st.lists(FRAGMENTS, min_size=1, max_size=14))
def test_any_adopted_text_weighs_what_it_weighed(lines: list[str]) -> None:
    read, _ = worked("\n".join(["My slice", "", *lines]))
    card = adopted(read, kitchen().names, kitchen().tins)
    again = kitchen().read(Text(card))

    assert again.mistakes == ()
    assert masses(again) == [(n.replace("#", " "), id, g) for n, id, g in masses(read)]


def test_a_line_that_stands_twice_is_adopted_twice() -> None:
    read, _ = worked(
        "My slice\n\nIngredients\n100 g butter\n1 mug oats\n"
        "1 mug of oats\n100 g butter\n"
    )
    card = adopted(read, kitchen().names, kitchen().tins).splitlines()

    assert card.count("  100 g butter") == 2
    assert "  # 1 mug oats" in card
    assert "  # 1 mug of oats" in card


@pytest.mark.parametrize(
    ("line", "name", "likely"),
    [
        ("1OOg plain flour", "plain flour", "100g plain flour"),
        ("l50 g caster sugar", "caster sugar", "150 g caster sugar"),
        ("3 scoops oats", "oats", "3 cups oats"),
        ("1 mug of sugar", "sugar", "1 cup sugar"),
        ("2 wineglasses sherry", "sherry", None),
        ("2?0 g sugar", "sugar", None),
    ],
)
def test_an_odd_amount_is_asked_with_what_it_may_be(
    line: str, name: str, likely: str | None
) -> None:
    read, _ = worked(f"My slice\n\nIngredients\n100 g butter\n{line}\n\nMethod\nMix.\n")

    (ask,) = (one for one in read.card.asks if one.span and one.span.line == 5)
    texts = [reading.text for reading in ask.readings]
    assert ask.where == name
    assert texts == ["left out", *([likely] if likely else []), "so many grams"]
    written = kitchen().read(Text(f"slab A\nlayer B\n{likely or '1 g sugar'}\n"))
    assert written.mistakes == ()


@pytest.mark.parametrize(
    ("line", "grams", "card"),
    [
        (
            "4 ripe conference pears (about 600g), peeled",
            600,
            "600g ripe conference pears, 4 of them, peeled",
        ),
        ("3 conference pears, 200 g each", 600, "3 x 200 g conference pears"),
        ("2 big wibbles (~ 1.2 kg in total)", 1200, "1.2 kg big wibbles, 2 of them"),
    ],
)
def test_a_weight_set_aside_counts_though_nobody_knows_the_name(
    line: str, grams: float, card: str
) -> None:
    read, spec = worked(f"Squares\n\nIngredients\n100 g butter\n{line}\n")

    assert spec.layers[0].lines[1].mass_g.number == grams
    assert f"  {card}" in adopted(read, kitchen().names, kitchen().tins).splitlines()


def test_an_absurd_amount_is_asked_about_once() -> None:
    text = "Simple shortbread\n\n9000000 g plain flour\nBake for 20 minutes\n"
    asks = worked(text)[0].card.asks

    assert [one.question for one in asks] == ["How much is '9000000 g plain flour'?"]


def test_an_adopted_recipe_says_its_cut_once_and_keeps_its_questions() -> None:
    read, _ = worked(
        "Squares\n\nIngredients\n100 g butter\n2 scoops oats\n\nMethod\n"
        "1. Melt the butter.\n2. Cut into 16 squares.\n"
    )
    again = kitchen().read(Text(adopted(read, kitchen().names, kitchen().tins)))

    assert [cut.text for cut in again.card.cuts] == ["16 pieces"]
    assert [step.misread for step in again.card.layers[0].component.steps] == [""]
    assert [a.question for a in again.card.asks] == [a.question for a in read.card.asks]


GINGER = """\
Home » Slices » Rhubarb
Rhubarb Ginger Slice

Makes about 24 fingers

For the base
8 oz plain flour
4oz butter (soft)
2 oz demerara
Rhubarb layer:
500g rhubarb
5 tbsp caster sugar
2 level tbsp cornflour
Ginger topping
3½ oz icing sugar
a knob of butter
1 tbsp golden syrup
2 tsp ground ginger

Method
1) Grease a 9 x 13 in tin.
2) Rub butter in, stir in sugar and press in. Bake for 20 mins till golden.
3) Simmer rhubarb with sugar 10 mins, thicken with the cornflour.
4) Melt the topping, bring to the boil and pour over the base.
Keeps 4 days in the fridge.
12
"""


def test_a_heading_in_the_midst_of_a_list_and_each_step_in_its_layer() -> None:
    read, _ = worked(GINGER)
    first_words = {
        layer.name: [step.text.split()[0] for step in layer.component.steps]
        for layer in read.card.layers
    }

    assert read.card.name == "Rhubarb Ginger Slice"
    assert first_words == {
        "Base": ["Grease", "Rub", "Bake"],
        "Rhubarb layer": ["Simmer"],
        "Ginger topping": ["Melt"],
    }
    assert read.card.asks == ()


def test_how_long_it_keeps_and_where_the_tin_was_named() -> None:
    read, _ = worked(GINGER)
    (keep,), tin = read.card.keeps, read.card.tin

    assert (keep.days, keep.place, keep.span.line) == (4, "chilled", 25)
    assert tin is not None
    assert (tin.text, tin.span.line) == ("9 x 13 in", 21)
    card = adopted(read, kitchen().names, kitchen().tins)
    assert "keep 4 days in the fridge" in card.splitlines()
    assert kitchen().read(Text(card)).card.keeps[0].days == 4


@pytest.mark.parametrize(
    ("line", "pieces"),
    [
        ("Makes 16. 23cm square tin.", 16),
        ("Serves 12 (20 x 30 cm tin)", None),
        ("Makes 16 bars, in a 23 cm square tin", 16),
    ],
)
def test_a_tin_beside_how_many_it_makes_is_read(line: str, pieces: int | None) -> None:
    read, _ = worked(f"Bars\n\n{line}\n\n200 g butter\n300 g plain flour\n")

    assert read.card.tin is not None
    assert read.card.tin.tin.area_mm2() in {230 * 230, 200 * 300}
    cuts = [cut.request.pieces for cut in read.card.cuts]
    assert cuts == ([pieces] if pieces else [])
