"""The card word costs: read, refused with its place, printed back, compared."""

from decimal import Decimal

import pytest

from slabwright.files.card.form import CardForm, form_of
from slabwright.files.card.printer import card_text
from slabwright.files.card.reader import CardRead
from slabwright.files.raw import Text
from slabwright.files.told import read_told
from slabwright.kitchen import Told
from tests.files.kitchens import bare_kitchen

BODY = "\ntin 30 x 20 x 5 cm\nlayer Base\n  170 g plain flour\n"


def read(*lines: str) -> CardRead:
    return bare_kitchen().read(Text("slab Try\n" + "\n".join(lines) + BODY))


@pytest.mark.parametrize(
    ("line", "kind", "low", "high", "per", "what"),
    [
        ("24 min hands, washing down", "hands", "24", "24", "batch", "washing down"),
        ("24-30 min of hands a tray", "hands", "24", "30", "tray", ""),
        ("1.5 h hands", "hands", "90", "90", "batch", ""),
        ("50 min oven", "oven", "50", "50", "batch", ""),
        ("3.6 kWh", "energy", "3.6", "3.6", "batch", ""),
        ("0,9 kWh a tray", "energy", "0.9", "0.9", "tray", ""),
        ("0.11 a piece, wrap, label", "money", "0.11", "0.11", "piece", "wrap, label"),
        ("£0.40 a box", "money", "0.40", "0.40", "box", ""),
        ("1.20 GBP per tray, rent", "money", "1.20", "1.20", "tray", "rent"),
        ("4-6 a batch", "money", "4", "6", "batch", ""),
        ("0 a tray", "money", "0", "0", "tray", ""),
    ],
)
def test_a_line_says_how_much_of_what(
    line: str, kind: str, low: str, high: str, per: str, what: str
) -> None:
    found = read(f"costs {line}")
    assert not found.mistakes
    (told,) = found.card.costs
    said = (told.kind, told.low, told.high, told.per, told.what)
    assert said == (kind, Decimal(low), Decimal(high), per, what)


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("costs a lot", "no minutes, kWh or money"),
        ("costs 5", "a piece, a box or a tray"),
        ("costs 3 kWh a piece", "by the batch or the tray"),
        ("costs 30-20 min hands", "runs backwards"),
        ("costs -1 a piece", "no minutes, kWh or money"),
        ("costs 999999 a piece", "too much"),
        ("costs nan kWh", "no minutes, kWh or money"),
        ("costs 1e9 a tray", "no minutes, kWh or money"),
        ("costs " + "0.1 a piece, " + "x" * 300, "at most 200"),
    ],
)
def test_what_it_does_not_say_is_a_mistake_at_its_place(line: str, what: str) -> None:
    found = read(line)
    (mistake,) = found.mistakes
    assert what in mistake.what
    assert mistake.where.span is not None
    assert (mistake.where.span.line, mistake.where.span.column) == (2, 7)
    assert not found.card.costs


def test_the_same_thing_twice_is_a_mistake() -> None:
    found = read("costs 24 min hands", "costs 12 min hands", "costs 9 min hands, wash")
    (mistake,) = found.mistakes
    assert "twice" in mistake.what
    assert [told.what for told in found.card.costs] == ["", "wash"]


def test_it_is_printed_as_it_was_said() -> None:
    form = form_of(
        read("costs 24-30 min hands a tray", "costs 0.11 a piece, wrap").card
    )
    again = bare_kitchen().read(Text(card_text(form)))
    assert not again.mistakes
    assert form_of(again.card) == form
    assert CardForm.model_validate(form.model_dump(mode="json")) == form


def test_a_misspelt_word_is_told() -> None:
    (step,) = read("cost 0.11 a piece").card.head[0].steps
    assert step.misread == "costs"
    (coats,) = read("coats the tin").card.head[0].steps
    assert coats.misread == ""


def test_minutes_are_of_hands_or_of_the_oven() -> None:
    assert isinstance(read_told("20 min"), str)
    assert isinstance(read_told("20 min oven"), Told)
