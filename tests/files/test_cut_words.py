"""The words of a cut: there and back through the JSON form; nothing can break them."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.cut.cut import cut
from slabwright.errors import GeometryError, Mistake
from slabwright.files.card.cuts import read_cut
from slabwright.files.card.form import CardForm, form_of
from slabwright.files.card.head import Tins
from slabwright.files.card.lines import CardLine
from slabwright.files.card.printer import card_text
from slabwright.files.raw import Text
from slabwright.slab.presets import preset
from slabwright.slab.tin import Tin
from slabwright.spec.card import SaidCut
from tests.files.kitchens import kitchen

CUTS = [
    "5 x 4, trim 5 mm",
    "24 fingers",
    "fingers 100 x 25 mm, knife 1 mm",
    "squares 45 mm, trim to 29 x 19 cm",
    "squares 60 mm, each into 2 triangles",
    "60 mm squares, quartered corner to corner, trim 5 mm",
    "diamonds 40 mm, 45°",
    "lozenges 46 mm a side at 60 degrees, in shop frame",
    "strips 30 mm, in 23 cm round",
    "7 strips",
    "12 wedges, in 23 cm round",
    "60-75 g pieces, at least 40 mm",
    "pieces of 60 to 75 g",
    "75 g pieces",
]
TINS = Tins(preset)
DEVELOPMENT = Tin.rectangular(300, 200, 50)


def read(value: str) -> object:
    text = f"cut {value}"
    return read_cut(CardLine(1, text, text, 1), value, TINS)


@pytest.mark.parametrize("cut", CUTS)
def test_a_cut_comes_back_from_its_json_form(cut: str) -> None:
    text = f"slab X\ntin 30 x 20 x 5 cm\ncut {cut}\nlayer A\n  400 g plain flour\n"
    first = kitchen().read(Text(text, "x.card"))
    form = form_of(first.card)
    again = kitchen().read(Text(card_text(form), "x.card"))

    assert first.mistakes == again.mistakes == ()
    assert again.card.cuts[0].request == first.card.cuts[0].request
    assert CardForm.model_validate_json(form.model_dump_json()) == form


def test_the_form_says_what_was_asked() -> None:
    text = "slab X\ntin 20 cm square\ncut diamonds 4 cm, 45°, trim 5 mm\n"
    form = form_of(kitchen().read(Text(text, "x.card")).card).cuts[0]

    assert (form.diamond_mm, form.angle_deg, form.trim_mm) == (40, 45, 5)
    assert (form.strip_mm, form.triangles, form.least_mm, form.fingers) == (
        None, None, None, False,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("value", "column", "end"),
    [
        ("5 x 4, trin 5 mm", 12, 21),
        ("diamonds 40 mm, blunt, trim 5 mm", 21, 26),
        ("banana", 5, 11),
    ],
)
def test_a_mistake_says_where_it_stands(value: str, column: int, end: int) -> None:
    said = read(value)

    assert isinstance(said, Mistake)
    span = said.where.span
    assert span is not None
    assert (span.column, span.end) == (column, end)


@pytest.mark.parametrize(
    ("value", "near"),
    [
        ("diamnods 40 mm", "diamonds 40 mm"),
        ("sqaures 45 mm", "squares 45 mm"),
        ("lozengs 40 mm", "lozenges 40 mm"),
        ("stirps 30 mm", "strips 30 mm"),
        ("fingres 100 x 25 mm", "fingers 100 x 25 mm"),
        ("12 wegdes", "12 wedges"),
        ("20 peices", "20 pieces"),
    ],
)
def test_a_misspelt_shape_is_told(value: str, near: str) -> None:
    said = read(value)

    assert isinstance(said, Mistake)
    assert said.nearest == (near,)
    assert said.do == f"Write {near}."


words = st.sampled_from(
    "5 4 x × 20 pieces 58 47.5 mm cm g squares fingers strips diamonds triangles each "
    "into 2 two trim to knife at least 45° in shop frame wedges 60-75 nan inf -3 , ° "
    "1e9 halved corner 0 sides half".split()
)


@given(st.lists(words, max_size=9).map(" ".join) | st.text(max_size=40))
def test_whatever_is_written_is_a_cut_or_a_mistake_with_a_way_out(value: str) -> None:
    said = read(" ".join(value.split()))

    if isinstance(said, Mistake):
        assert said.what
        assert said.do
        assert said.where.span is not None
        return
    assert isinstance(said, SaidCut)
    with suppress(GeometryError):
        cut(said.request, said.tin or DEVELOPMENT, 30, 1866)
