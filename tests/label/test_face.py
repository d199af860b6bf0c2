"""What has changed since a label was printed, in words."""

from dataclasses import replace

import pytest

from slabwright.label.paper.face import Face, NutritionRow, Paragraph, Run, Runs, stale


def runs(marked: str) -> Runs:
    """Runs of a text in which *what stands out* is starred."""
    parts = marked.split("*")
    return tuple(
        Run(part, is_emphasised=at % 2 == 1) for at, part in enumerate(parts) if part
    )


def listed(marked: str) -> tuple[Paragraph, ...]:
    return (Paragraph("ingredients", runs(marked)),)


LIST = "Ingredients: *wheat* flour (iron, niacin), butter (*milk*) 24 %, sugar, salt."
WARNED = Paragraph("may_contain", runs("May contain *soya*"))
FACE = Face(
    "label", "Two Tides", "packed here", "Lemon slice", "70 g", 70.0, listed(LIST),
    (NutritionRow("Fat", "21 g", "15 g"),), "70 g", "Best before: 30 November 2026",
    "", ("Keep chilled",), "Gannet Steps Bakehouse", "£3.50", "2001234567893",
    ("card 3f2a91c0", "larder 91ab22cd"), 1.2, 3.0,
)  # fmt: skip


def test_the_same_words_are_not_stale_whatever_the_revision() -> None:
    assert stale(FACE, replace(FACE, revisions=("card 00000000",))) == ()


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (replace(FACE, name="Lemon bar"),
         "Name: printed “Lemon slice”, now “Lemon bar”."),
        (replace(FACE, net="65 g"), "Net weight: printed “70 g”, now “65 g”."),
        (replace(FACE, storage=()),
         "Storage: printed “Keep chilled”, now it says nothing."),
        (replace(FACE, lot="L12"), "Lot: new, “L12”."),
        (replace(FACE, price="£3.60"), "Price: printed “£3.50”, now “£3.60”."),
        (replace(FACE, number="2001234567909"),
         "Number under the bars: printed “2001234567893”, now “2001234567909”."),
        (replace(FACE, least_figures_mm=4.0),
         "Least height of the net weight's figures, mm: printed “3”, now “4”."),
        (replace(FACE, least_x_mm=0.9),
         "Least height of a small x, mm: printed “1.2”, now “0.9”."),
        (replace(FACE, nutrition=(NutritionRow("Fat", "20 g", "15 g"),)),
         "Nutrition, Fat: printed “21 g and 15 g”, now “20 g and 15 g”."),
        (replace(FACE, nutrition=()),
         "Nutrition, Fat: printed “21 g and 15 g”, now it says nothing."),
        (replace(FACE, piece="65 g"),
         "Nutrition, a piece: printed “70 g”, now “65 g”."),
        (replace(FACE, paragraphs=()),
         "Ingredients: printed “Ingredients: wheat flour (iron, niacin), butter (milk) "
         "24 %, sugar, salt.”, now it says nothing."),
        (replace(FACE, paragraphs=listed(LIST.replace("*milk*", "milk"))),
         "Ingredients: “milk” stood out and does so no more."),
        (replace(FACE, paragraphs=listed(LIST.replace("iron", "*iron*"))),
         "Ingredients: “iron” must stand out now."),
        (replace(FACE, paragraphs=listed(LIST.replace("24 %", "25 %"))),
         "Ingredients: printed “butter (milk) 24 %”, now “butter (milk) 25 %”."),
        (replace(FACE, paragraphs=listed(LIST.replace("sugar, salt", "salt, sugar"))),
         "Ingredients: the order is another."),
        (replace(FACE, paragraphs=listed(LIST.replace("salt", "salt, *egg* yolk"))),
         "Ingredients: not printed: “egg yolk”."),
        (replace(FACE, paragraphs=listed(LIST.replace(", salt", ""))),
         "Ingredients: printed and no longer there: “salt”."),
        (replace(FACE, paragraphs=(*FACE.paragraphs, WARNED)),
         "May contain: new, “May contain soya”."),
        (replace(FACE, name="Lemon slice", paragraphs=listed(LIST + " *egg*")),
         "Ingredients: printed “salt”, now “salt. egg”."),
    ],
)  # fmt: skip
def test_what_changed_is_said_once_and_in_words(now: Face, said: str) -> None:
    assert stale(FACE, now) == (said,)


def test_rows_of_nutrition_in_another_order_are_told() -> None:
    rows = (NutritionRow("Fat", "21 g"), NutritionRow("Salt", "1 g"))
    before = replace(FACE, nutrition=rows)

    assert stale(before, replace(before, nutrition=rows[::-1])) == (
        "Nutrition: the order of its rows is another.",
    )


def test_an_allergen_that_came_is_named_alone() -> None:
    before, after = (
        replace(FACE, paragraphs=(Paragraph("contains", runs(said)),))
        for said in ("Contains *egg* and *milk*.", "Contains *egg*, *milk* and *soya*.")
    )

    assert stale(before, after) == ("Contains: not printed: “soya”.",)
    assert stale(after, before) == ("Contains: printed and no longer there: “soya”.",)
