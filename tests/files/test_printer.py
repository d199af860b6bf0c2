"""A card, its JSON form, and the card again: nothing is lost on the way."""

from pathlib import Path

import pytest
from hypothesis import given

from slabwright.files.card.form import CardForm, form_of
from slabwright.files.card.printer import card_text
from slabwright.files.folder import Folder, open_folder
from slabwright.files.raw import Text, read_text
from tests.files.cards import cards
from tests.files.kitchens import kitchen

DEMO = Path(__file__).parents[2] / "demo"
HOME = kitchen()


def form(text: str, home: Folder = HOME) -> CardForm:
    read = home.read(Text(text, "x.card"))

    assert read.mistakes == ()
    return form_of(read.card)


@given(cards())
def test_a_card_printed_from_its_form_reads_as_the_same_form(card: str) -> None:
    first = form(card)

    assert form(card_text(first)) == first


@given(cards())
def test_a_form_comes_through_json_unchanged(card: str) -> None:
    first = form(card)

    assert CardForm.model_validate_json(first.model_dump_json()) == first


@pytest.mark.parametrize("path", sorted((DEMO / "slabs").glob("*.card")), ids=str)
def test_the_demonstration_cards_come_back_from_their_forms(path: Path) -> None:
    home = open_folder(DEMO)
    first = form(read_text(path).text, home)

    assert form(card_text(first), home) == first


@pytest.mark.parametrize(
    "line",
    [
        # each way of writing an amount that the card's description names
        "1½ tsp fine salt", "0,5 kg plain flour", "1,200 g plain flour",
        "100-120 g caster sugar", "2 x 250 g packs butter, unsalted",
        "1 x 397 g tin condensed milk", "170 g/6 oz plain flour", "1 lb 2 oz flour",
        "1 heaped tbsp honey", "1 US cup plain flour", "6 eggs, medium = 300 g",
        "5 egg yolks = 90 g weighed", "juice of 2 lemons", "zest of 1 lemon",
        "fine salt to taste", "butter for greasing", "a pinch of fine salt",
        "butter: 170 g", "butter 170 g", "3 large eggs",
        "200 g Malt caramel", "0.5 batch Malt caramel",
        "loses 0 g", "loses 0 %", "loses 4 g in the bowl", "loses 1 % on the sheet",
        "ends 3 % water", "ends 80 g, weighed", "density 0.75 g/ml measured",
        "about 100 g caster sugar", "1 cup + 2 tbsp caster sugar",
    ],
)  # fmt: skip
def test_each_way_of_writing_a_line_survives_the_form(line: str) -> None:
    part = "component Malt caramel\n  100 g caster sugar\n"
    card = f"slab X\n{part}layer A\n  100 g butter, unsalted\n  {line}\n"
    first = form(card)

    assert form(card_text(first)) == first
