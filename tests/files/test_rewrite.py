"""Changing one value of a card: its span alone, every other byte as it was."""

import errno
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError, Span
from slabwright.files.card.rewrite import amended, changed_line, replaced, write_back
from slabwright.files.raw import Text, read_text
from tests.files.cards import cards
from tests.files.kitchens import kitchen

CARD = (
    "# the winter card  \n"
    "slab Crème X   \n"
    "tin 30 x 20 x 5 cm\t# the frame\n"
    "cut 5 x 4, trim 5 mm\n"
    "\n"
    "layer Lemon curd\n"
    "  220 g\tlemon juice   # sharp\n"
    "  6       eggs, medium = 300 g\n"
    "  270 g   caster sugar\t\n"
    "  ends 500 g weighed\n"
    "  density 1.09 g/ml\n"
    "  stir to 72 C       22 min hands   "
)
HOME = kitchen()


def change(data: bytes, what: str, value: str, path: Path) -> bytes:
    path.write_bytes(data)
    text = read_text(path)
    write_back(path, amended(text, HOME.read(text), what, value))
    return path.read_bytes()


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["no BOM", "BOM"])
@pytest.mark.parametrize(
    ("what", "value", "was"),
    [
        ("tin", "23 x 23 cm", "30 x 20 x 5 cm"),
        ("cut", "12 x 6", "5 x 4, trim 5 mm"),
        ("Lemon curd/lemon juice", "200 g", "220 g"),
        ("lemon-curd/eggs", "7", "6"),
        ("LEMON CURD/ends", "480 g", "500 g"),
        ("Lemon curd/density", "1.1 g/ml", "1.09 g/ml"),
        ("12", "stir to 74 C", "stir to 72 C       22 min hands"),
    ],
)
def test_only_the_span_of_a_value_changes(
    what: str, value: str, was: str, end: str, mark: str, tmp_path: Path
) -> None:
    before = (mark + CARD.replace("\n", end)).encode()
    assert before.count(was.encode()) == 1

    after = change(before, what, value, tmp_path / "x.card")

    assert after == before.replace(was.encode(), value.encode())


@given(cards(), st.integers(1, 900))
def test_what_was_written_is_what_is_read(card: str, grams: int) -> None:
    text = Text(card, "x.card")
    read = HOME.read(text)
    block = read.card.layers[0].component
    line = next((one for one in block.lines if one.amounts), None)
    if line is None:
        return
    made = amended(text, read, str(line.span.line), f"{grams} g plain flour")

    after = HOME.read(made.text)
    again = next(
        one
        for layer in after.card.layers
        for one in layer.component.lines
        if one.span.line == line.span.line
    )
    assert (again.name, again.amounts[0].grams) == ("plain flour", grams)
    old, new = card.split("\n"), made.text.text.split("\n")
    assert [a for a, b in zip(old, new, strict=True) if a != b] in (
        [],
        [old[line.span.line - 1]],
    )


def test_a_change_is_shown_as_the_line_before_and_after() -> None:
    text = Text(CARD, "x.card")
    made = amended(text, HOME.read(text), "Lemon curd/caster sugar", "250 g")

    assert changed_line(made) == (
        "line 9\n-   270 g   caster sugar\t\n+   250 g   caster sugar\t"
    )


@pytest.mark.parametrize("what", ["Lemon", "Lemon curd/rum", "99", "0", "1", "", "/"])
def test_what_is_not_on_the_card_is_not_changed(what: str) -> None:
    text = Text(CARD, "x.card")

    if what == "1":  # a comment holds no value
        text = Text("# only\nslab X\n", "x.card")
    with pytest.raises(FileError, match="Nothing on this card is called"):
        amended(text, HOME.read(text), what, "5 g")


@pytest.mark.parametrize("value", ["5 g\n6 g", "5 g\r\n", "5 g # new", "a\u2028b"])
def test_a_value_stays_on_its_line(value: str) -> None:
    text = Text(CARD, "x.card")

    with pytest.raises(FileError, match="stands on one line and holds no #"):
        amended(text, HOME.read(text), "tin", value)


@pytest.mark.parametrize("span", [Span(99, 1, 2), Span(0, 1, 2), Span(12, 1, 999)])
def test_a_place_outside_the_card_is_refused(span: Span) -> None:
    with pytest.raises(FileError, match=r"no line|no such place"):
        replaced(Text(CARD, "x.card"), span, "5 g")


def test_a_card_that_somebody_else_changed_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "x.card"
    path.write_text(CARD, encoding="utf-8")
    text = read_text(path)
    made = amended(text, HOME.read(text), "tin", "23 x 23 cm")
    path.write_text(CARD + "\n# mine\n", encoding="utf-8")

    with pytest.raises(FileError, match="was changed meanwhile"):
        write_back(path, made)
    assert path.read_text(encoding="utf-8").endswith("# mine\n")
    assert [file.name for file in tmp_path.iterdir()] == ["x.card"]


def test_a_disk_that_is_full_leaves_the_card_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    path = tmp_path / "x.card"
    path.write_text(CARD, encoding="utf-8")
    text = read_text(path)
    made = amended(text, HOME.read(text), "tin", "23 x 23 cm")
    monkeypatch.setattr(os, "fsync", full)

    with pytest.raises(FileError, match=r"x\.card' can't be written: No space left"):
        write_back(path, made)
    assert path.read_text(encoding="utf-8") == CARD
    assert [file.name for file in tmp_path.iterdir()] == ["x.card"]
