"""Noise made of card words: no exception, and every line accounted for."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError, Mistake
from slabwright.figure import Figure
from slabwright.files.card.form import card_form
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import is_card
from slabwright.files.raw import MOST_BYTES, Text, decoded
from slabwright.publish.json_form import spec_json
from slabwright.spec.figures import figures_of
from slabwright.spec.specification import Specification
from slabwright.spec.understood import understood
from slabwright.spec.work_out import Order, work_out
from tests.files.kitchens import kitchen

HOME = kitchen()
FRAGMENTS = (
    "slab ", "layer ", "component ", "finish", "tin ", "cut ", "keep ", "sold ",
    "proved ", "note ", "kind ", "into ", "ends ", "loses ", "deep ", "density ",
    " from ", ", ", " x ", " = ", ": ", "/", "-", "(", ")", "#", " + ", "1/2", "½",
    "0", "1", "12", "170", "1,200", "0,5", "1e9", "-5", "nan", "inf", "∞", "1/0",
    " g ", " kg", " ml ", " tsp ", " cup ", " oz", " lb ", " mm", " cm ", " %", " °C",
    " min", " h ", "g/ml", "eggs", "egg yolks", "plain flour", "caster sugar",
    "butter, unsalted", "lemon juice", "Malt caramel", "A", "bowl", "pan", "sponge",
    "water", "weighed", "measured", "bake", "boil to 118 C", "until ", "within ",
    "when A is under 30 C", "20 x 20 x 5 cm", "round 23 cm, 7 cm deep", "2026-03-14",
    "5 x 4", "trim 5 mm", "(0 g) ", "0.5 batch", "For the base:", "Method", "1. ", "• ",
    "\n", "\n", "\n", "\n  ", "\r\n", "\t", " ", "\u2028", "\u00a0", "é", "🍋",
    "\u202e",
)  # fmt: skip
noise = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=8
)
texts = st.lists(st.sampled_from(FRAGMENTS) | noise, max_size=60).map("".join)
card_texts = st.builds(
    "slab X{}layer A\n{}".format,
    st.sampled_from(["\n", "\ntin 20 x 20 x 5 cm\n"]),
    texts,
)


def worked(text: str) -> Specification:
    read = HOME.read(Text(text, "x.card"))

    assert [one.line.raw for one in read.lines] == LINE_END.split(text)
    assert all(m.what and m.do and m.where.file == "x.card" for m in read.mistakes)
    for mistake in read.mistakes:
        span = mistake.where.span
        assert span is not None
        assert 1 <= span.line <= len(read.lines)
        assert (
            1 <= span.column <= span.end <= len(read.lines[span.line - 1].line.raw) + 2
        )
    card_form(read)
    order = Order(HOME.kitchen, HOME.book, HOME.prices, date(2026, 3, 14))
    return work_out(read.card, order, read.mistakes)


def is_sound(figure: Figure) -> bool:
    """A figure that no sum of noise may spoil: finite, and inside its own range."""
    if figure.value is None:
        return bool(figure.sum)
    low = figure.number if figure.low is None else figure.low
    high = figure.number if figure.high is None else figure.high
    slack = 1e-9 * max(1.0, abs(figure.number))
    return -1e300 < low <= figure.number + slack <= high + 2 * slack < 1e300


@given(card_texts)
def test_no_noise_inside_a_card_breaks_it_or_loses_a_line(text: str) -> None:
    spec = worked(text)

    understood(spec)
    spec_json(spec)
    for name, figure in figures_of(spec):
        assert is_sound(figure), (name, figure)


@given(texts)
def test_no_pasted_noise_breaks_the_reader(text: str) -> None:
    if is_card(text):
        return
    read = HOME.read(Text(text, "x.txt"))
    card_form(read)
    order = Order(HOME.kitchen, HOME.book, HOME.prices, date(2026, 3, 14))
    for name, figure in figures_of(work_out(read.card, order, read.mistakes)):
        assert is_sound(figure), (name, figure)


@given(st.binary(max_size=400))
def test_bytes_are_text_or_a_clear_refusal(data: bytes) -> None:
    refusals: tuple[Mistake, ...] = ()
    encoded = data
    try:
        text = decoded(data, "x.card")
        encoded = text.encoded(text.text)
    except FileError as error:
        refusals = error.mistakes

    assert encoded == data
    assert all(mistake.what and mistake.do for mistake in refusals)


def test_a_megabyte_of_lines_is_still_a_card() -> None:
    body = "  100 g plain flour\n"
    card = "slab X\nlayer A\n" + body * 2000

    spec = worked(card)
    assert len(card) < MOST_BYTES
    assert spec.layers[0].mass_in_g.number == pytest.approx(200_000)
