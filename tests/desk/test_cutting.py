"""A cut asked beside the card, and written on it: nothing else on the card changes."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.desk.cutting import own_cut, with_clauses, written
from slabwright.desk.worked import Desk, open_desk
from slabwright.errors import FileError
from slabwright.files.raw import Text

DEMO = Path(__file__).parents[2] / "demo"
TWO_TIDES = (DEMO / "slabs" / "two-tides.card").read_text("utf-8")
PASTED = (DEMO / "pasted" / "lemon-slice.txt").read_text("utf-8")


def open_demo() -> Desk:
    papers = {
        name: Text((DEMO / name).read_text("utf-8"), name) for name in ("kitchen.yaml",)
    }
    return open_desk(1, papers, [], date(2026, 11, 26))


DESK = open_demo()


def with_cut(text: str, words: str) -> str:
    whole = Text(text)
    return written(whole, DESK.folder.read(whole), DESK.folder, words)


def cuts(text: str) -> list[tuple[str, str]]:
    read = DESK.folder.read(Text(text))
    return [(one.text, one.tin_name) for one in read.card.cuts]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize(
    ("words", "line"),
    [
        ("6 x 4", "cut 6 x 4"),
        ("cut 24 pieces, trim 3 mm", "cut 24 pieces, trim 3 mm"),
        ("10 x 6, in shop frame", "cut 10 x 6, in shop frame"),
    ],
)
def test_one_line_alone_changes(end: str, words: str, line: str) -> None:
    own = TWO_TIDES.replace("\n", end)
    after = with_cut(own, words)
    pairs = zip(own.split(end), after.split(end), strict=True)
    assert [new for old, new in pairs if old != new] == [line]


def test_a_comment_beside_the_cut_stays() -> None:
    own = TWO_TIDES.replace("cut 5 x 4, trim 5 mm\n", "\tcut 5 x 4  # as ever\n")
    assert "\tcut 6 x 4  # as ever\n" in with_cut(own, "6 x 4")


def test_a_cut_in_another_tin_stands_below_the_others() -> None:
    after = with_cut(TWO_TIDES, "4 x 4, in 23 cm square")
    assert after == TWO_TIDES.replace(
        "in shop frame\n", "in shop frame\ncut 4 x 4, in 23 cm square\n"
    )


@pytest.mark.parametrize(
    "own",
    [
        "slab Bare",
        "slab Bare\ntin 30 x 20 x 5 cm\n\nlayer Base\n  100 g plain flour\n",
        "slab Bare\ncut 3 x 3",
        PASTED,
    ],
)
def test_a_card_without_it_gets_it(own: str) -> None:
    after = with_cut(own, "6 x 4, trim 2 mm")
    assert ("6 x 4, trim 2 mm", "") in cuts(after)
    assert len(cuts(after)) == 1


def test_the_last_line_needs_no_end() -> None:
    after = with_cut("slab Bare\ncut 3 x 3", "4 x 4, in shop frame")
    assert after == "slab Bare\ncut 3 x 3\ncut 4 x 4, in shop frame"


@pytest.mark.parametrize(
    "words", ["", "in half an hour", "6 x", "0 x 4", "5 x 4, oats"]
)
def test_no_cut_is_refused(words: str) -> None:
    with pytest.raises(FileError):
        with_cut(TWO_TIDES, words)


@given(st.integers(1, 30), st.integers(1, 30))
def test_what_is_written_is_read_again(along: int, across: int) -> None:
    after = with_cut(TWO_TIDES, f"{along} x {across}, trim 4 mm")
    assert cuts(after) == [
        (f"{along} x {across}, trim 4 mm", ""),
        ("12 x 6, trim 5 mm, in shop frame", "shop frame"),
    ]


@pytest.mark.parametrize(
    ("own", "way", "said"),
    [
        ("5 x 4, trim 5 mm", "20 pieces", "20 pieces, trim 5 mm"),
        ("5 x 4, trim 5 mm, knife 1 mm", "6 x 4", "6 x 4, trim 5 mm, knife 1 mm"),
        ("5 x 4, trim 5 mm", "6 x 4, trim 2 mm", "6 x 4, trim 2 mm"),
        ("60-75 g pieces, at least 40 mm", "6 x 4", "6 x 4"),
        ("5 x 4, in shop frame", "6 x 4", "6 x 4, in shop frame"),
        ("5 x 4, in shop frame", "6 x 4, in a bath", "6 x 4, in a bath"),
        ("5 x 4", "6 x 4", "6 x 4"),
    ],
)
def test_trim_knife_and_tin_go_along(own: str, way: str, said: str) -> None:
    read = DESK.folder.read(Text(f"slab A\ntin 30 x 20 x 5 cm\ncut {own}\n"))
    assert with_clauses(way, read.card.cuts[0]) == said
    assert with_clauses(way, None) == way


def test_a_cut_is_found_by_its_tin() -> None:
    read = DESK.folder.read(Text(TWO_TIDES))
    own, frame = read.card.cuts
    assert own_cut(read) == own
    assert own_cut(read, " Shop  FRAME ") == frame
    assert own_cut(read, "bath") is None
