"""A new value is refused, unwritten, if its line would read otherwise."""

import pytest

from slabwright.errors import FileError
from slabwright.files.card.places import place_called
from slabwright.files.card.rewrite import amended
from slabwright.files.card.sense import Understood, insist
from slabwright.files.raw import Text
from tests.files.kitchens import kitchen

CARD = """\
slab X
tin 20 x 20 x 5 cm
cut 4 x 4
keep chilled, 3 days
layer Shortbread
  kind pressed biscuit
  100 g butter
  100 g plain flour
  95 g demerara
  rub in
  ends 280 g weighed
layer Top
  100 g butter
  6 eggs, medium = 300 g weighed
  lots cream
  loses 4 g in the bowl
  density 1.1 g/ml
  deep 10 mm
"""
HOME = kitchen()


def after(what: str, value: str, card: str = CARD) -> str:
    """The card amended, or the error that refuses it."""
    text = Text(card, "x.card")
    read = HOME.read(text)
    made = amended(text, read, what, value)
    again = HOME.read(made.text)
    insist(made, Understood(read, read.mistakes), Understood(again, again.mistakes))
    return made.text.text


@pytest.mark.parametrize(
    ("what", "value", "says"),
    [
        ("Shortbread/butter", "lots", "'lots butter': a step, not an ingredient"),
        ("Shortbread/butter", "0 g", "The amount is 0"),
        ("Shortbread/butter", "some", "a step, not an ingredient"),
        ("demerara", "80 g dark", "it is 'dark demerara', not 'demerara'"),
        ("9", "40 g", "a step, not an ingredient"),
        ("9", "knead well", "a step, not an ingredient"),
        ("9", "ends 90 g", "ends, not an ingredient"),
        ("ends", "heavy", "'ends heavy weighed': a step, not ends"),
        ("ends", "900", "there is no unit"),
        ("loses", "a bit", "a step, not loses"),
        ("density", "thick", "a step, not density"),
        ("deep", "very", "a step, not deep"),
        ("kind", "banana", "a step, not kind"),
        ("tin", "banana", "No tin here is called 'banana'"),
        ("cut", "0", "The number of pieces is 0"),
        ("5", "Shortbread", "Nothing was written"),
        ("1", "hello", "not slab"),
    ],
)
def test_a_value_that_makes_its_line_read_otherwise(
    what: str, value: str, says: str
) -> None:
    with pytest.raises(FileError) as refused:
        after(what, value)

    assert says in str(refused.value)
    for mistake in refused.value.mistakes:
        assert "Nothing was written." in str(mistake)
        assert mistake.where.span is not None


@pytest.mark.parametrize(
    ("what", "value", "line"),
    [
        ("demerara", "90 g", "  90 g demerara"),
        ("Demerara", " 90 g ", "  90 g demerara"),
        ("top / butter", "1 lb 2 oz", "  1 lb 2 oz butter"),
        ("eggs", "5", "  5 eggs, medium = 300 g weighed"),
        ("9", "90 g caster sugar", "  90 g caster sugar"),
        ("15", "100 g double cream", "  100 g double cream"),  # a step mended
        ("ends", "279 g", "  ends 279 g weighed"),
        ("ends", "279 g weighed", "  ends 279 g weighed"),
        ("Top/loses", "1 %", "  loses 1 % in the bowl"),
        ("loses", "6 g on the whisk", "  loses 6 g on the whisk"),
        ("density", "1 g/ml", "  density 1 g/ml"),
        ("deep", "9 mm", "  deep 9 mm"),
        ("keep", "frozen, 3 weeks", "keep frozen, 3 weeks"),
        ("slab", "Y", "slab Y"),
        ("Shortbread/kind", "sponge", "  kind sponge"),
        ("tin", "23 x 23 cm", "tin 23 x 23 cm"),
    ],
)
def test_a_value_that_reads_as_before(what: str, value: str, line: str) -> None:
    old, new = CARD.splitlines(), after(what, value).splitlines()

    assert [now for was, now in zip(old, new, strict=True) if was != now] == [line]


def test_a_mistake_elsewhere_is_no_reason_and_its_own_line_can_be_mended() -> None:
    broken = CARD.replace("20 x 20 x 5 cm", "banana")

    assert "90 g demerara" in after("demerara", "90 g", broken)
    assert "tin 23 x 23 cm\n" in after("tin", "23 x 23 cm", broken)
    with pytest.raises(FileError, match="No tin here is called 'apple'"):
        after("tin", "apple", broken)


def test_a_value_that_breaks_another_line_is_refused() -> None:
    # the other line stands on the first by name
    card = (
        "slab X\ntin 20 x 20 x 5 cm\nlayer Top from Custard, 90 g\n"
        "component Custard\n  100 g milk\n"
    )

    with pytest.raises(FileError, match=r"x\.card:3"):
        after("4", "component Cream", card)


@pytest.mark.parametrize("value", ["", " ", "\t"])
def test_an_empty_value_is_called_empty(value: str) -> None:
    with pytest.raises(FileError, match="The new value of 'tin' is empty"):
        after("tin", value)


def test_a_name_that_several_lines_have_is_not_guessed() -> None:
    read = HOME.read(Text(CARD, "x.card"))
    with pytest.raises(FileError) as refused:
        place_called(read, "butter")
    assert "Shortbread/butter (line 7), Top/butter (line 13)" in str(refused.value)

    twice = CARD.replace("100 g plain flour", "50 g butter")
    with pytest.raises(FileError, match="number and all that it is to say: 7, 8"):
        place_called(HOME.read(Text(twice, "x.card")), "Shortbread/butter")


@pytest.mark.parametrize(
    ("what", "near"),
    [("dmerara", "Shortbread/demerara"), ("cremes/flour", "Shortbread/plain flour")],
)
def test_the_nearest_names_are_offered(what: str, near: str) -> None:
    with pytest.raises(FileError, match=f"one such as: {near}"):
        place_called(HOME.read(Text(CARD, "x.card")), what)
