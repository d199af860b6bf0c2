"""Faces of labels and tickets that the tests print, of an invented shop."""

from slabwright.label.paper.face import Face, NutritionRow, Paragraph, Run, Runs


def runs(marked: str) -> Runs:
    """Runs of a text in which *what stands out* is starred."""
    parts = marked.split("*")
    return tuple(
        Run(part, is_emphasised=at % 2 == 1) for at, part in enumerate(parts) if part
    )


LISTED = (
    "Ingredients: lemon juice, caster sugar, *egg* 21 %, butter (*milk*), *wheat* "
    "flour (*wheat* flour, calcium carbonate, iron, niacin, thiamin), blackcurrant "
    "puree 14 %, *egg* yolk, glucose syrup, fine semolina (*wheat*), sugar, lemon "
    "zest, gelling agent: pectin, salt."
)
WARNED = "May contain *soya*, by its suppliers."
NUTRITION = (
    NutritionRow("Energy", "1480 kJ / 354 kcal", "1036 kJ / 248 kcal"),
    NutritionRow("Fat", "18 g", "13 g"),
    NutritionRow("of which saturates", "10 g", "7.1 g", is_part=True),
    NutritionRow("Carbohydrate", "44 g", "31 g"),
    NutritionRow("of which sugars", "33 g", "23 g", is_part=True),
    NutritionRow("Protein", "4.6 g", "3.2 g"),
    NutritionRow("Salt", "0.31 g", "0.22 g"),
)
LABEL = Face(
    "label",
    "Two Tides",
    "packed here",
    "Lemon and blackcurrant slice",
    "70 g",
    70.0,
    (Paragraph("ingredients", runs(LISTED)), Paragraph("may_contain", runs(WARNED))),
    date="Best before: 30 November 2026",
    storage=("Keep chilled",),
    business="Gannet Steps Bakehouse, 4 Gannet Steps, Tarrowmouth",
    price="£3.50",
    number="2001234567893",
    revisions=("card 3f2a91c0", "larder 91ab22cd"),
    least_x_mm=1.2,
    least_figures_mm=3.0,
)
TICKET = Face(
    "ticket",
    "Two Tides",
    "loose on the counter",
    "Lemon and blackcurrant slice",
    paragraphs=(
        Paragraph("contains", runs("Contains *wheat*, *egg* and *milk*.")),
        Paragraph("may_contain", runs(WARNED)),
        Paragraph("ask", runs("Allergies? Please ask us.")),
    ),
    price="£3.50",
    revisions=("card 3f2a91c0", "larder 91ab22cd"),
    least_x_mm=1.6,
)
