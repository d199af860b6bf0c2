"""Cards that are no cards: each gives its message and its place, never a traceback."""

from pathlib import Path

import pytest

from slabwright.errors import FileError
from slabwright.files.card.form import card_form
from slabwright.files.raw import MOST_BYTES, Text, decoded, read_text
from tests.files.kitchens import bare_kitchen, worked

GOOD = "slab X\ntin 20 x 20 x 5 cm\nlayer A\n  100 g plain flour\n"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"slab X\n" + b"#" * MOST_BYTES, r"1 MiB|1\.0 MiB; a card has at most 1"),
        ("slab X\n".encode("utf-16"), r"is in UTF-16.*Save it again as UTF-8"),
        ("slab X\n".encode("utf-16-be"), r"is not text"),
        ("slab A\nlayer Crème\n".encode("latin-1"), r"0xe8 on line 2.*as UTF-8"),
        (bytes(range(256)), r"is not text"),
        (b"slab X\x00\n", r"is not text"),
        (b"\x89PNG\r\n\x1a\n" + bytes(64), r"is not text"),
    ],
    ids=["over 1 MiB", "UTF-16", "UTF-16 bare", "Latin-1", "noise", "NUL", "picture"],
)
def test_bytes_that_are_no_card_are_refused_by_name(
    data: bytes, says: str, tmp_path: Path
) -> None:
    file = tmp_path / "x.card"
    file.write_bytes(data)

    with pytest.raises(FileError, match=f"x.card.*(?:{says})"):
        read_text(file)
    with pytest.raises(FileError, match=says):
        decoded(data, "standard input")


def test_a_file_of_just_1_mib_is_read() -> None:
    assert len(decoded(b"#" * MOST_BYTES).text) == MOST_BYTES


def test_a_missing_file_and_a_folder_are_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"none\.card' can't be read: No such file"):
        read_text(tmp_path / "none.card")
    with pytest.raises(FileError, match="is a folder"):
        read_text(tmp_path)


@pytest.mark.parametrize(
    ("line", "column", "says"),
    [
        # the column is where the number stands, behind two blanks and the card word
        ("nan g plain flour", 3, "The amount is nan"),
        ("inf kg plain flour", 3, "The amount is inf"),
        ("-40 g plain flour", 3, "The amount is -40"),
        ("0 g plain flour", 3, "The amount is 0"),
        ("100 g (0 g) plain flour", 10, "The amount is 0"),
        ("1/2 cup (0 g) plain flour", 12, "The amount is 0"),
        ("2 x 0 g plain flour", 3, "The amount is 0"),
        ("1e9 g plain flour", 3, "The amount is 1e9"),
        ("1/0 g plain flour", 3, "The amount is 1/0"),
        ("2000 kg plain flour", 3, "no slab takes that"),
        ("100 wibbles plain flour", 7, "'wibbles' is no unit"),
        ("100 g plain flour = nan g", 23, "no weight"),
        ("ends 300 g", 8, "300 g, but only 100 g are there"),
        ("ends 10 g", 8, "of water and alcohol are there"),
        ("ends -3 g", 8, "ends says -3"),
        ("ends nan g", 8, "ends says nan"),
        ("ends 3", 8, "there is no unit"),
        ("ends 200 % water", 8, "200 % water"),
        ("ends 90 % water", 8, "90 % water, but only"),
        ("loses 100 %", 9, "nothing would be left"),
        ("loses 150 g", 9, "150 g, but 100 g are there"),
        ("loses 5 quarts", 9, "'quarts' is no unit"),
        ("deep 0 mm", 8, "deep says 0"),
        ("deep 600 mm", 8, "deep says 600 mm"),
        ("density 9 g/ml", 11, "no layer weighs that"),
        ("density nan g/ml", 11, "density says nan"),
        ("density 1..20 g/ml", 11, "density has a number"),
        ("100 g " + "x" * 121, 9, "name has 121 characters"),
    ],
)
def test_a_line_that_can_not_be_is_told_with_its_place(
    line: str, column: int, says: str
) -> None:
    spec = worked(f"{GOOD}  {line}\n")

    (only,) = spec.errors
    assert says in only.what
    assert only.do
    assert only.where.file == "x.card"
    assert only.where.span is not None
    assert (only.where.span.line, only.where.span.column) == (5, column)
    assert spec.layers[0].mass_out_g.value is None


@pytest.mark.parametrize(
    "line", ["9000000 g plain flour", "-5 g plain flour", "100 wibbles plain flour"]
)
def test_a_layer_whose_only_line_is_wrong_is_told_of_that_alone(line: str) -> None:
    spec = worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer A\n  {line}\n")

    assert len(spec.errors) == 1
    assert spec.findings == ()


def test_an_absurd_amount_is_told_in_its_digits() -> None:
    (only,) = worked(f"{GOOD}  9000000 g plain flour\n").errors

    assert only.what == "The amount is 9,000,000, and no slab takes that."


@pytest.mark.parametrize(
    ("head", "column", "says"),
    [
        ("tin 3 x 2", 5, "'3 x 2' is not the size of a tin"),
        ("tin -30 x 20 cm", 5, "length at the base is -300 mm"),
        ("tin nan x 20 cm", 5, "nan mm"),
        ("tin 9999 x 20 cm", 5, "99990 mm"),
        ("tin 30 x 20 x 5 cm x 3", 5, "say nothing about a size"),
        ("tin moon tin", 5, "No tin here is called 'moon tin'"),
        ("proved 2026-02-30", 8, "'2026-02-30' is no date"),
        ("cut by eye", 5, "'by eye' is no way to cut"),
        ("cut 4 x 4, trim 1..2 mm", 12, "'trim 1..2 mm' says nothing about a cut"),
        ("cut 10.2.3 x 20 mm", 5, "'10.2.3 x 20 mm' is no way to cut"),
        ("cut nan x 4", 5, "'nan x 4' is no way to cut"),
        ("cut 5 x 4, trim 5", 12, "'trim 5' lacks its unit"),
    ],
)
def test_a_head_line_that_can_not_be_is_told_with_its_place(
    head: str, column: int, says: str
) -> None:
    (only,) = worked(f"slab X\n{head}\nlayer A\n  100 g plain flour\n").errors

    assert says in only.what
    assert only.where.span is not None
    assert (only.where.span.line, only.where.span.column) == (2, column)


@pytest.mark.parametrize(
    ("cut", "says"),
    [
        ("0 x 4", "pieces along is 0"),
        ("1000000 pieces", "pieces is 1e+06"),
        ("5 x 4, trim 100 mm", "leaves nothing"),
        ("21 x 21 cm pieces", "fit"),
        ("5 x 4, knife 60 mm", "would be"),
        ("12 wedges", "Wedges are cut from"),
    ],
)
def test_a_cut_larger_than_the_slab_is_a_mistake_of_its_line(
    cut: str, says: str
) -> None:
    spec = worked(GOOD.replace("layer", f"cut {cut}\nlayer"))

    (only,) = spec.errors
    assert says in only.what
    assert only.where.span is not None
    assert only.where.span.line == 3
    assert spec.cut is None
    assert spec.height_mm.known


@pytest.mark.parametrize(
    "word", ["tin 20 x 20 x 5 cm", "sold loose", "proved 2026-01-02"]
)
def test_what_a_card_says_once_it_may_not_say_twice(word: str) -> None:
    (only,) = worked(f"slab X\n{word}\n{word}\nlayer A\n  9 g plain flour\n").errors

    assert "twice" in only.what
    assert only.where.span is not None
    assert only.where.span.line == 3


def test_a_line_of_10_000_characters_is_read_and_one_more_is_not() -> None:
    long = worked(f"{GOOD}  {'stir ' * 1999}abc\n")
    longer = worked(f"{GOOD}  {'stir ' * 1999}abcd\n")

    assert long.errors == ()
    (only,) = longer.errors
    assert "10,001 characters; at most 10,000" in only.what


@pytest.mark.parametrize(
    "opener", ["slab {}", "slab X\nlayer {}", "slab X\ncomponent {}"]
)
def test_a_name_of_121_characters_is_refused(opener: str) -> None:
    good = worked(f"{opener.format('n' * 120)}\n")
    (only,) = worked(f"{opener.format('n' * 121)}\n").errors

    assert good.errors == ()
    assert "121 characters; at most 120" in only.what


def test_a_layer_with_too_long_a_name_is_still_a_layer() -> None:
    spec = worked(f"{GOOD}layer {'n' * 121}\n  50 g caster sugar\n")

    assert [layer.mass_in_g.value for layer in spec.layers] == [100, 50]


@pytest.mark.parametrize("text", ["", "\n", "  \n\t\n", "\ufeff"])
def test_an_empty_card_says_how_to_begin(text: str) -> None:
    (only,) = worked(text.removeprefix("\ufeff")).errors

    assert "is empty" in only.what
    assert "slab NAME" in only.do


def test_a_card_of_comments_alone_has_nothing_to_work_out() -> None:
    spec = worked("# lemon slice\n# to be written\n")

    assert spec.layers == ()
    assert "no_layers" in {finding.code for finding in spec.findings}


@pytest.mark.parametrize("end", ["\r\n", "\v", "\f", "\x85", "\u2028", "\u2029"])
def test_every_line_end_of_a_word_processor_ends_a_line(end: str) -> None:
    spec = worked(GOOD.replace("\n", end))

    assert spec.errors == ()
    assert spec.layers[0].mass_in_g.value == 100


def test_all_mistakes_come_at_once_in_the_order_of_the_card() -> None:
    spec = worked(
        "slab X\ntin 3 x 2\nlayer A\n  -1 g plain flour\n  100 g caster sugar\n"
        "layer B\n  50 g caster sugar\n  ends 90 g\n"
    )

    lines = [m.where.span.line for m in spec.errors if m.where.span]
    assert lines == [2, 4, 8]


def test_what_is_found_last_may_stand_first() -> None:
    # that 300 g are too many is seen when all is weighed, the bad amount when read
    spec = worked(
        "slab X\nlayer A\n  100 g honey\n  ends 300 g\nlayer B\n  -1 g honey\n"
    )

    assert [m.where.span.line for m in spec.errors if m.where.span] == [4, 6]


def test_circles_are_refused_with_their_path() -> None:
    spec = worked(
        "slab X\nlayer T from Cream, 100 g\ncomponent Cream\n  50 g Curd\n"
        "component Curd\n  50 g Ganache\ncomponent Ganache\n  50 g Cream\n"
    )

    assert "'Cream' would contain itself: cream > curd > ganache > cream." in {
        mistake.what for mistake in spec.errors
    }


def test_a_component_in_itself_is_refused() -> None:
    spec = worked("slab X\nlayer T from Curd, 9 g\ncomponent Curd\n  50 g Curd\n")

    (only,) = spec.errors
    assert "curd > curd" in only.what
    assert only.where.span is not None
    assert only.where.span.line == 4


@pytest.mark.parametrize(
    ("opener", "says"),
    [
        ("layer", "The layer has no name"),
        ("layer:", "The layer has no name"),
        ("layer , 5 mm", "The layer has no name"),
        ("layer " + "smooth, spread, " * 9, "characters; at most 120"),
    ],
    ids=["bare", "colon", "none", "with commas"],
)
def test_a_layer_whose_name_can_not_be_is_a_mistake_in_every_form(
    opener: str, says: str
) -> None:
    text = f"{GOOD}{opener}\n  50 g honey\n"
    read = bare_kitchen().read(Text(text))

    (mistake,) = read.mistakes
    assert says in mistake.what
    assert len(card_form(read)["card"]["layers"]) == 2
    assert len(worked(text).layers) == 2


def test_what_a_comment_asks_is_asked_until_it_is_taken_out() -> None:
    asking = (
        "  # ask: How much honey?\n  #   left out: it is in no figure\n"
        "  #   so many grams: write them\n  # just a comment: and no reading\n"
    )
    (ask,) = worked(GOOD + asking).asks

    assert (ask.where, ask.question) == ("A", "How much honey?")
    assert [reading.text for reading in ask.readings] == ["left out", "so many grams"]
    assert ask.span is not None
    assert ask.span.line == 5
    assert worked(GOOD).asks == ()


def test_a_layer_of_a_component_that_weighs_nothing_is_told() -> None:
    spec = worked(
        "slab X\ntin 20 x 20 x 5 cm\ncomponent Curd\n  stir\n"
        "layer Top from Curd, 100 g\n"
    )

    (found,) = (f for f in spec.findings if f.code == "more_than_batch")
    assert found.why == "No line of it has a weight."


@pytest.mark.parametrize("lasts", ["3..5 days", "1.2.3 days"])
def test_days_that_are_no_number_are_no_days(lasts: str) -> None:
    card = GOOD.replace("layer", f"keep chilled, {lasts}\nlayer")

    assert "keep_without_days" in {found.code for found in worked(card).findings}
