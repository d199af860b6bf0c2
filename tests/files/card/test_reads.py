"""`reads`: what scale or refractometer said at the end of a boil, as a card has it."""

import pytest

from slabwright.files.card.form import CardForm, form_of
from slabwright.files.card.printer import card_text
from slabwright.files.card.reader import CardRead
from slabwright.files.raw import Text
from slabwright.formula.component import Reads
from slabwright.formula.step import Step
from tests.files.kitchens import bare_kitchen

CARD = """slab Lamp
layer Malt caramel
  195 g caster sugar
  100 g water
  boil to 118 C
  {line}
"""


def read(text: str) -> CardRead:
    return bare_kitchen().read(Text(text))


def event(line: str) -> object:
    (layer,) = read(CARD.format(line=line)).card.layers
    return layer.component.events[-1]


@pytest.mark.parametrize(
    ("line", "at_C", "grams", "brix", "water_share"),
    [
        ("reads 655 g at 118 C", 118, 655, None, None),
        ("reads 655 g", None, 655, None, None),
        ("reads 1.2 kg at 118°C, weighed", 118, 1200, None, None),
        ("reads 88 Brix at 117,5 C", 117.5, None, 88, None),
        ("reads 88 °Brix when 117 C", 117, None, 88, None),
        ("reads 88% Brix", None, None, 88, None),
        ("reads 9 % water at 244.4 F", 118, None, None, 0.09),
    ],
)
def test_a_reading_is_read(
    line: str,
    at_C: float | None,
    grams: float | None,
    brix: float | None,
    water_share: float | None,
) -> None:
    found = event(line)

    assert isinstance(found, Reads)
    assert found.at_C == (None if at_C is None else pytest.approx(at_C))
    assert (found.grams, found.brix) == (grams, brix)
    assert found.water_share == (
        None if water_share is None else pytest.approx(water_share)
    )


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("reads 655 at 118 C", "no unit"),
        ("reads 120 Brix", "no mix has so much"),
        ("reads 100 % water", "no mix has so much"),
        ("reads -4 g", "reads says -4"),
        ("reads nan g", "reads says nan"),
        ("reads 655 g at 900 C", "900"),
        ("reads 655 ml", "'ml' is no unit"),
    ],
)
def test_a_reading_that_makes_no_sense_is_told_with_what_to_do(
    line: str, told: str
) -> None:
    (mistake,) = read(CARD.format(line=line)).mistakes

    assert told in mistake.what
    assert mistake.do
    assert mistake.where.span is not None
    assert mistake.where.span.line == 6


def test_words_that_only_begin_so_stay_a_step() -> None:
    assert isinstance(event("reads the recipe again before the cream goes in"), Step)


@pytest.mark.parametrize(
    "line",
    [
        "reads 655 g at 118 C",
        "reads 88 Brix at 117.5 C",
        "reads 9.5 % water",
        "reads 655 g",
    ],
)
def test_a_reading_is_written_as_it_is_read(line: str) -> None:
    form = form_of(read(CARD.format(line=line)).card)
    again = card_text(CardForm.model_validate(form.model_dump()))

    assert line in again
    assert form_of(read(again).card) == form


def test_a_weight_with_its_pan_is_told_what_to_do() -> None:
    (mistake,) = read(CARD.format(line="reads 2755 g with the pan")).mistakes

    assert "'with the pan'" in mistake.what
    assert "without the pan" in mistake.do
    assert "no unit" not in mistake.what
