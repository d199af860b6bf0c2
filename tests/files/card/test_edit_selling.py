"""How it is sold, called, dated: written into a card's head from beside it."""

from decimal import Decimal
from pathlib import Path

import pytest

from slabwright.errors import FileError
from slabwright.files.card.edits import Asked, edited
from slabwright.files.folder import folder_from
from slabwright.files.raw import Text
from slabwright.label.ways import Selling

FOLDER = folder_from({})
DEMO = Path(__file__).parents[3] / "demo" / "slabs" / "two-tides.card"
CARD = """\
slab Lamp
tin 20 x 20 cm
  # by the door
sold loose on the counter, 3.20

layer Base
  100 g plain flour
"""


def with_word(text: str, word: str, value: str) -> str:
    read = FOLDER.read(Text(text))
    made = edited(text, Asked(word, value), read, FOLDER.names, FOLDER.tins)
    return made.applied(text)


def test_same_way_is_replaced_and_nothing_else_moves() -> None:
    after = with_word(CARD, "sold", "loose on the counter, 3.50")
    assert after == CARD.replace("3.20", "3.50")


def test_another_way_stands_beside_it() -> None:
    after = with_word(CARD, "sold", "packed here, box of 2, 6.40")
    ways = [one.way for one in FOLDER.read(Text(after)).card.sales]
    assert ways == [Selling.LOOSE, Selling.PACKED_HERE]
    assert after.replace("sold packed here, box of 2, 6.40\n", "") == CARD


def test_a_price_from_a_day_leaves_the_one_before() -> None:
    after = with_word(CARD, "sold", "loose on the counter, 3.60, from 2026-12-01")
    prices = [one.price for one in FOLDER.read(Text(after)).card.sales]
    assert prices == [Decimal("3.20"), Decimal("3.60")]
    again = with_word(after, "sold", "loose on the counter, 3.70, from 2026-12-01")
    prices = [one.price for one in FOLDER.read(Text(again)).card.sales]
    assert prices == [Decimal("3.20"), Decimal("3.70")]


@pytest.mark.parametrize(
    ("word", "value", "line"),
    [
        ("called", "rye shortbread with caramel", "called rye shortbread with caramel"),
        ("pictured", "hazelnuts, coffee", "pictured hazelnuts, coffee"),
        ("dated", "best before, 4 days, bake day counted",
         "dated best before, 4 days, bake day counted"),
        ("dated", "dated none", "dated none"),
    ],
)  # fmt: skip
def test_a_word_is_put_into_the_head_and_then_changed(
    word: str, value: str, line: str
) -> None:
    after = with_word(CARD, word, value)
    assert line in after.splitlines()
    assert after.replace(f"{line}\n", "") == CARD
    other = "use by, 2 days after the bake day" if word == "dated" else "malt, rye"
    twice = with_word(after, word, other)
    assert twice.count(f"\n{word} ") == 1
    assert other in twice


def test_a_line_that_was_wrong_is_written_anew() -> None:
    card = CARD.replace("sold loose on the counter, 3.20", "sold loose, 3.2.0.1")
    assert FOLDER.read(Text(card)).mistakes
    after = with_word(card, "sold", "loose on the counter, 3.20")
    assert after == CARD


def test_line_ends_stay_as_they_are() -> None:
    card = CARD.replace("\n", "\r\n")
    after = with_word(card, "called", "shortbread")
    assert "called shortbread\r\n" in after
    assert after.replace("called shortbread\r\n", "") == card


def test_the_demo_takes_each() -> None:
    text = DEMO.read_text("utf-8")
    before = FOLDER.read(Text(text)).mistakes
    for word, value in (("called", "lemon slice"), ("dated", "use by, 3 days")):
        after = with_word(text, word, value)
        now = FOLDER.read(Text(after)).mistakes
        assert [one.what for one in now] == [one.what for one in before]
        assert f"{word} {value}" in after


@pytest.mark.parametrize(
    ("word", "value", "says"),
    [
        ("sold", "", "nothing to write"),
        ("sold", "loose, 3.2.0", "no price"),
        ("dated", "when it smells", "best before, use by or none"),
        ("called", "x" * 401, "too long"),
        ("called", "lemon # slice", "holds no #"),
        ("pictured", ", ,", "Nothing is pictured"),
    ],
)
def test_what_says_nothing_of_the_kind_is_refused(
    word: str, value: str, says: str
) -> None:
    with pytest.raises(FileError, match=says):
        with_word(CARD, word, value)


@pytest.mark.parametrize(
    ("text", "says"),
    [("component Curd\n  100 g butter\n", "not sold")],
)
def test_what_is_no_slab_is_refused(text: str, says: str) -> None:
    with pytest.raises(FileError, match=says):
        with_word(text, "sold", "loose on the counter")


def test_a_pasted_recipe_becomes_a_card_first() -> None:
    after = with_word("Lemon bars\n\n200 g flour\n100 g butter\n", "dated", "none")
    card = FOLDER.read(Text(after)).card
    assert card.name == "Lemon bars"
    assert card.dated is not None
    assert card.dated.kind == "none"
