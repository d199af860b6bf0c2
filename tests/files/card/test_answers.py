"""Doubts settled at a press: the text then says what the reading says, nothing else."""

from pathlib import Path

import pytest

from slabwright.errors import FileError
from slabwright.files.card.answers import answer, answered
from slabwright.files.folder import open_folder
from slabwright.files.pasted.adopt import adopted
from slabwright.files.raw import Text
from slabwright.finding import Ask, Reading
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

HOME = open_folder(Path(__file__).parents[3] / "demo")
RECIPE = (
    "Lemon slice\r\n\r\nBase\r\n• 1OOg plain flour\r\n"
    "• 50 g butter, softened, plus 30g for the tin\r\n"
    "• 60 g moon dust, sifted\r\n• 2 sachets lemon juice, cold\r\n"
    "• 3 mugs porridge oats\r\n• caster sugar\r\n• 1 tin condensed milk\r\n"
    "• 170 g/9 oz golden syrup, warm\r\n\r\nMethod\r\n1. Line a 20 cm square tin, or "
    "a 30 x 20 cm tin. Mix and bake 20 minutes."
)


def spec_of(text: str) -> Specification:
    read = HOME.read(Text(text, "x.card"))
    order = Order(HOME.kitchen, HOME.book, HOME.prices, None)
    return work_out(read.card, order, read.mistakes)


def asked(text: str, about: str) -> Ask:
    (found,) = [one for one in spec_of(text).asks if about in one.question]
    return found


def settled(text: str, about: str, reading: str) -> str:
    ask = asked(text, about)
    (choice,) = [i for i, one in enumerate(ask.readings) if one.text == reading]
    read = HOME.read(Text(text, "x.card"))
    return answered(text, read, ask, choice).applied(text)


@pytest.mark.parametrize(
    ("about", "reading", "was", "now"),
    [
        ("1OOg", "100g plain flour", "1OOg plain flour", "100g plain flour"),
        ("mugs", "3 cups porridge oats", "3 mugs porridge oats",
         "3 cups porridge oats"),
        ("30g for the tin", "30g for the tin",
         ", plus 30g for the tin\r\n", "\r\n• 30g butter\r\n"),
        ("moon dust", None, "moon dust, sifted", None),
        ("tin of", None, "1 tin condensed milk", None),
        ("two measures", "170 g", "170 g/9 oz golden", "170 g golden"),
        ("two measures", "the other, 9 oz", "170 g/9 oz golden", "9 oz golden"),
        ("Which tin", "30 x 20 cm", "20 cm square tin", "30 x 20 cm tin"),
    ],
)  # fmt: skip
def test_a_reading_is_written_where_the_doubt_is(
    about: str, reading: str | None, was: str, now: str | None
) -> None:
    ask = asked(RECIPE, about)
    if about == "moon dust":
        reading = ask.readings[1].text
        now = f"{reading}, sifted"
    if about == "tin of":
        reading = ask.readings[0].text
        now = f"1 tin condensed milk = {reading}"
    assert reading is not None
    assert now is not None
    assert RECIPE.count(was) == 1
    after = settled(RECIPE, about, reading)

    assert after == RECIPE.replace(was, now)
    assert ask not in spec_of(after).asks
    assert len(spec_of(after).asks) < len(spec_of(RECIPE).asks)


def test_what_comes_to_no_grams_offers_no_weight_of_its_own_making() -> None:
    ask = next(
        one for one in spec_of(RECIPE).asks if "sachet" in one.question.casefold()
    )
    read = HOME.read(Text(RECIPE, "x.card"))

    assert [answer(RECIPE, read, ask, one) for one in ask.readings] == [None, None]


@pytest.mark.parametrize(
    ("about", "choice", "says"),
    [
        ("1OOg", 0, "'left out' changes nothing on the card"),
        ("1OOg", 2, "'so many grams' changes nothing on the card"),
        ("moon dust", 0, "'unknown' changes nothing on the card"),
        ("moon dust", 9, "There is no such reading"),
        ("moon dust", -1, "There is no such reading"),
        ("Which tin", 0, "'20 cm square' changes nothing"),
    ],
)
def test_a_reading_that_writes_nothing_says_so(
    about: str, choice: int, says: str
) -> None:
    read = HOME.read(Text(RECIPE, "x.card"))
    ask = asked(RECIPE, about)
    if about == "Which tin":
        says = f"'{ask.readings[0].text}' changes nothing"

    with pytest.raises(FileError) as refused:
        answered(RECIPE, read, ask, choice)
    assert says in str(refused.value)


ADOPTED = adopted(HOME.read(Text(RECIPE)), HOME.names, HOME.tins)


def test_the_adopted_card_asks_in_comments() -> None:
    assert ADOPTED.count("# ask:") == 5
    assert len(HOME.read(Text(ADOPTED)).card.asks) == 5


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize(
    ("about", "reading", "has", "lacks"),
    [
        ("1OOg", "100g plain flour", ["  100g plain flour\n"], ["1OOg"]),
        ("1OOg", "left out", ["  # 1OOg plain flour\n"], ["ask: How much is '1OOg"]),
        ("30g for", "30g for the tin", ["\n  30g butter\n"], ["besides"]),
        ("30g for", "a note", ["plus 30g for the tin\n"], ["besides"]),
        ("Which tin", "30 x 20 cm", ["tin 30 x 20 cm\n"], ["# ask: Which"]),
        ("mugs", "3 cups porridge oats", ["  3 cups porridge oats\n"], ["mugs"]),
    ],
)
def test_a_question_on_a_card_goes_when_it_is_answered(
    about: str, reading: str, has: list[str], lacks: list[str], end: str
) -> None:
    card = ADOPTED.replace("\n", end)
    before = HOME.read(Text(card, "x.card")).card
    after = settled(card, about, reading)
    read = HOME.read(Text(after, "x.card"))

    assert not read.mistakes
    assert len(read.card.asks) == len(before.asks) - 1
    for words in has:
        assert words.replace("\n", end) in after
    for words in lacks:
        assert words not in after
    gone = [one for one in card.split(end) if one not in after.split(end)]
    assert len(gone) <= 7
    assert after.count(end) == after.count("\n")


def test_grams_that_only_the_maker_knows_are_not_written() -> None:
    ask = asked(ADOPTED, "1OOg")
    read = HOME.read(Text(ADOPTED, "x.card"))

    assert answer(ADOPTED, read, ask, ask.readings[-1]) is None


def test_no_doubt_is_answered_on_a_page_that_was_pasted() -> None:
    page = (
        "<html><body><ul><li>60 g moon dust</li><li>9 g water</li></ul></body></html>"
    )
    ask = asked(page, "moon dust")
    read = HOME.read(Text(page))

    assert answer(page, read, ask, ask.readings[1]) is None
    assert answer(page, read, ask, Reading("x", "write a # b")) is None


CUPS = (
    "Lemon bars\r\n\r\n• 2 cups all-purpose flour, sifted\r\n• 1 1/2 cups "
    "confectioners sugar\r\n• 1 c. butter\r\n• 1 metric cup milk\r\n"
    "\r\nPress 1 cup of it into the pan."
)


def test_american_cups_are_said_before_each_and_no_longer_asked() -> None:
    now = settled(CUPS, "Which cup", "US, 237 ml")
    assert now == (
        CUPS.replace("2 cups", "2 US cups")
        .replace("1/2 cups", "1/2 US cups")
        .replace("1 c.", "1 US c.")
    )
    (layer,) = spec_of(now).layers
    assert [line.weighed.mass_g for line in layer.lines[:1]] == [pytest.approx(250)]
    assert not [one for one in spec_of(now).asks if "Which cup" in one.question]


def test_the_kitchens_cup_holds_already() -> None:
    ask = asked(CUPS, "Which cup")
    read = HOME.read(Text(CUPS, "x.card"))
    assert answer(CUPS, read, ask, ask.readings[0]) is None


@pytest.mark.parametrize("first", ["slab", "Slab:", "  slab  "])
def test_a_card_without_a_name_is_asked_about_and_named_at_a_press(first: str) -> None:
    text = (
        f"# mine\r\n{first}\r\ntin 30 x 20 x 5 cm\r\nlayer Base\r\n  100 g butter\r\n"
    )
    (reading,) = [r.text for r in asked(text, "Is it a card").readings][1:]
    now = settled(text, "Is it a card", reading)
    spec = spec_of(now)
    assert not spec.card.is_pasted
    assert [layer.name for layer in spec.layers] == ["Base"]
    assert now.splitlines()[0] == "# mine"
    assert now.splitlines()[2:] == text.splitlines()[2:]
