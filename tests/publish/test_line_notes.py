"""What stands beside each line: the figures of the demo, and every kind of line."""

import time
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from tests.files.cards import cards

from slabwright.files.card.lines import LINE_END
from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.publish.line_notes import LineNote, line_notes
from slabwright.spec.work_out import Order, work_out

DEMO = Path(__file__).parents[2] / "demo"
HOME = open_folder(DEMO)


def notes(text: str) -> tuple[LineNote, ...]:
    read = HOME.read(Text(text, "x.card"))
    order = Order(HOME.kitchen, HOME.book, HOME.prices, date(2026, 11, 1))
    spec = work_out(read.card, order, read.mistakes)
    reads_as = {one.line.number: one.reads_as for one in read.lines}
    return line_notes(LINE_END.split(text), reads_as, spec, "x.card")


def beside(text: str, line: str) -> LineNote:
    """The note of the only line that begins so."""
    lines = [one.strip() for one in LINE_END.split(text)]
    (number,) = [n for n, one in enumerate(lines, start=1) if one.startswith(line)]
    return notes(text)[number - 1]


def slab(name: str) -> str:
    return (DEMO / "slabs" / f"{name}.card").read_text(encoding="utf-8")


TIDES = slab("two-tides")


@pytest.mark.parametrize(
    ("line", "said", "share", "cost"),
    [
        # masses, heights, shares and costs as the worked example was reckoned by hand
        ("slab Two Tides", "30.9 mm tall, 1,866 g", "", ""),
        ("tin 30 x 20", "600 cm², 50 mm deep", "", ""),
        ("cut 5 x 4", "20 of 58 × 47.5 mm, 86 g", "", ""),
        ("cut 12 x 6", "72 of 46.7 × 60 mm, 87 g", "", ""),
        ("layer Lemon semolina", "10.0 mm, 451 g, 32% of the height", "24.2%", "£1.55"),
        ("layer Baked lemon", "14.8 mm, 969 g, 48% of the height", "51.9%", "£5.56"),
        ("layer Blackcurrant", "6.1 mm, 446 g, 20% of the height", "23.9%", "£3.29"),
        ("190 g   plain flour", "190 g", "79.2%", "£0.15"),
        ("50 g    fine semolina", "50 g", "20.8%", "£0.08"),
        ("170 g   butter", "170 g", "70.8%", "£1.22"),
        ("2 g     fine salt", "2 g", "0.8%", "£0.00"),
        ("6       eggs, medium", "300 g", "111.1%", "£1.38"),
        ("into mixer", "501 g in the mixer", "", ""),
        ("into small pan", "618 g in the small pan", "", ""),
        ("ends 451 g", "50 g bakes off", "", ""),
        ("ends 969 g", "40 g bakes off", "", ""),
        ("ends 446 g", "20 g boils off", "", ""),
        ("bake 160 C fan", "160 °C fan, 20 to 23 min", "", ""),
        ("bake 130 C fan", "130 °C fan, to 82-84 °C, 22 to 28 min", "", ""),
        ("stir to 72 C", "to 72 °C, 22 min of hands, small ring", "", ""),
        ("pour               3", "3 min of hands, within 5 min of bake of "
         "Lemon semolina shortbread", "", ""),
        ("pour               when", "when Baked lemon curd is under 15 °C", "", ""),
        ("keep chilled", "", "", ""),
        ("density 0.75", "assumed", "", ""),
    ],
)  # fmt: skip
def test_two_tides(line: str, said: str, share: str, cost: str) -> None:
    note = beside(TIDES, line)

    assert (note.said, note.share, note.cost) == (said, share, cost)


@pytest.mark.parametrize(
    ("name", "line", "said"),
    [
        ("harbour-lamp", "ends 671 g", "214 g boils off"),
        ("harbour-lamp", "layer Malt caramel", "8.8 mm, 676 g, 34% of the height"),
        ("harbour-lamp", "layer Coffee dark", "5.8 mm, 410 g, 22% of the height"),
        ("harbour-lamp", "loses 4 g", "4 g stays in the bowl"),
        ("harbour-lamp", "keep frozen", "42 days"),
        ("harbour-lamp", "set on larder", "4 h, larder shelf"),
        ("harbour-lamp", "blend", "18 min of hands"),
        ("lantern-walk", "layer Pressed", "7.4 mm, 498 g, 41% of the height"),
        ("lantern-walk", "layer Dark glaze", "3.5 mm, 250 g, 19% of the height"),
    ],
)
def test_the_other_slabs(name: str, line: str, said: str) -> None:
    assert beside(slab(name), line).said == said


PASTED = (DEMO / "pasted" / "lemon-slice.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("line", "kind", "reads_as", "said"),
    [
        ("For the base", "layer", "pressed biscuit", "10.4 mm, 455 g, 35% of the"),
        ("• 50g semolina", "ingredient", "fine semolina", "50 g, taken as fine"),
        ("• 170g cold", "ingredient", "unsalted butter", "170 g"),
        ("• pinch of salt", "ingredient", "fine salt", "0.4 g, taken as fine"),
        ("6 medium eggs", "ingredient", "whole egg", "306 g, 51 g each"),
        ("220ml lemon", "ingredient", "lemon juice", "227 g, 1.03 g/ml"),
        ("1 jar", "ask", "blackcurrant jam", "340 g. What does the jar of"),
        ("1. Heat", "step", "tin", "600 cm², 50 mm deep; 160 °C fan, or 180 °C, oven"),
        ("5. Warm", "step", "cut", "20 of 60 × 50 mm, 89 g"),
        ("Method", "comment", "", ""),
        ("Nutrition", "comment", "", ""),
    ],
)
def test_a_pasted_recipe(line: str, kind: str, reads_as: str, said: str) -> None:
    note = beside(PASTED, line)

    assert (note.kind, note.reads_as) == (kind, reads_as)
    assert note.said.startswith(said)
    assert bool(note.said) == bool(said)


def test_the_method_of_a_pasted_recipe_belongs_to_its_layers() -> None:
    found = {line: beside(PASTED, line).layer for line in (
        "1. Heat", "3. Warm", "5. Warm", "Method", "• pinch", "6 medium", "Top",
    )}  # fmt: skip

    assert list(found.values()) == [0, 1, 2, None, 0, 1, 2]
    assert beside(PASTED, "• pinch of salt").said == "0.4 g, taken as fine"


def test_what_a_price_is_missing_for_costs_more_than_is_known() -> None:
    assert beside(PASTED, "Top").cost == ""
    more = PASTED.replace("a splash of water", "100 g caster sugar")
    assert beside(more, "Top").cost == "over £0.12"


ODD = """\
# mine
slab X
tin round 20 cm # small

layer Base
  # soft
  100 g butter
  100 g plainn flour
  zest and juice of 2 lemons
  butter for greasing
  ends lots
  deep 0 mm
layer Top from Cream, 90 g
  deep 5 mm
component Cream
  200 g double cream 48%
  loses 5 g on the whisk, weighed
finish
  cut 20 min hands
"""


@pytest.mark.parametrize(
    ("line", "kind", "said", "layer"),
    [
        ("# mine", "comment", "", None),
        ("slab X", "word", "", None),
        ("tin round", "word", "314.2 cm²", None),
        ("# soft", "comment", "", 0),
        ("100 g butter", "ingredient", "100 g, taken as unsalted", 0),
        ("zest and", "ingredient", "juice", 0),
        ("butter for", "ingredient", "not in the slab: for greasing", 0),
        ("deep 0", "mistake", "deep says 0.", 0),
        ("layer Top", "layer", "5.0 mm, 90 g", 1),
        ("deep 5", "word", "0.573 g/ml follows", 1),
        ("component", "word", "195 g a batch", None),
        ("200 g double", "ingredient", "200 g", None),
        ("loses 5", "word", "5 g stays on the whisk", None),
        ("finish", "word", "", None),
        ("cut 20", "step", "20 min of hands", None),
    ],
)
def test_every_kind_of_line(line: str, kind: str, said: str, layer: int | None) -> None:
    note = beside(ODD, line)

    assert (note.kind, note.layer) == (kind, layer)
    assert said in note.said
    assert bool(said) == bool(note.said)


def test_a_mistake_says_where_what_and_what_instead() -> None:
    note = beside(ODD.replace("round 20 cm", "shop fraem"), "tin shop")
    (mistake,) = note.mistakes

    assert note.said == mistake.what == "No tin here is called 'shop fraem'."
    assert (mistake.column, mistake.end) == (5, 15)
    assert mistake.nearest[0] == "shop frame"
    assert mistake.do


def test_what_is_assumed_is_marked() -> None:
    card = TIDES.replace("ends 451 g", "ends 451 g weighed").replace(
        "0.75 g/ml", "0.75 g/ml measured"
    )
    for line, before in (("ends 451", True), ("density 0.75", True)):
        assert beside(TIDES, line).is_assumed is before
        assert beside(card, line).is_assumed is not before
    assert beside(TIDES, "6       eggs").is_assumed
    assert not beside(TIDES, "190 g   plain").is_assumed
    assert beside(TIDES, "layer Lemon").is_assumed
    assert not beside(card, "layer Lemon").is_assumed


def test_lines_of_a_component_elsewhere_are_not_taken_for_this_cards() -> None:
    text = (
        "slab X\ntin 20 x 20 cm\nlayer A from P\n  50 g honey\ncomponent P\n 9 g milk\n"
    )
    found = notes(text)

    assert [one.said for one in found][3:6] == ["50 g", "8.9 g a batch", "9 g, taken as whole 3.6%"]  # fmt: skip  # noqa: E501
    assert found[3].layer == 0
    assert found[5].layer is None


@given(cards())
def test_every_line_of_any_card_has_its_note(card: str) -> None:
    found = notes(card)

    assert [one.number for one in found] == list(range(1, card.count("\n") + 2))
    for raw, one in zip(card.split("\n"), found, strict=True):
        assert (one.kind == "blank") == (not raw.strip())
        assert "\n" not in one.said
        assert bool(one.mistakes) == (one.kind == "mistake")
        if raw.strip().startswith("layer"):
            assert one.kind in {"layer", "mistake"}


def test_the_notes_take_less_than_ten_milliseconds() -> None:
    read = HOME.read(Text(TIDES, "x.card"))
    order = Order(HOME.kitchen, HOME.book, HOME.prices, None)
    spec = work_out(read.card, order, read.mistakes)
    reads_as = {one.line.number: one.reads_as for one in read.lines}
    took = []
    for _ in range(5):
        began = time.perf_counter()
        line_notes(TIDES.split("\n"), reads_as, spec, "x.card")
        took.append(time.perf_counter() - began)

    assert min(took) < 0.01
