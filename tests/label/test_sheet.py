"""Where labels stand on their paper, and sizes as they are typed."""

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from slabwright.errors import FileError
from slabwright.files.paper_size import PAPERS, AskedSheet, read_sheet, read_size
from slabwright.label.paper.sheet import A4, Sheet, Size, filling, laid


@pytest.mark.parametrize(
    ("said", "size"),
    [
        ("60x40", Size(60, 40)),
        (" 60 × 40 mm ", Size(60, 40)),
        ("6 x 4 cm", Size(60, 40)),
        ("6 cm by 40 mm", Size(60, 40)),
        ("63.5*38,1", Size(63.5, 38.1)),
        ("A5", Size(148, 210)),
        ("a5 landscape", Size(210, 148)),
        ("a4, portrait", A4),
    ],
)
def test_a_size_is_read_as_it_is_typed(said: str, size: Size) -> None:
    assert read_size(said) == size


@pytest.mark.parametrize(
    "said",
    ["", "60", "x", "0x0", "60x-4", "5x5", "99999x40", "nan x 4", "60x40x20", "A9",
     "60 x 40 in", "１e9x4", "6" * 500, "60 x"],
)  # fmt: skip
def test_what_is_no_size_is_refused_in_words(said: str) -> None:
    with pytest.raises(FileError, match="mm"):
        read_size(said)


def test_a_sheet_without_a_size_is_filled() -> None:
    size, sheet = read_sheet(AskedSheet("3x7", "A4", "7.5 x 15", "2 x 0"), None)

    assert size == Size(63.667, 38.143)
    assert sheet == Sheet(A4, 3, 7, 7.5, 15.0, 2.0, 0.0)
    assert laid(size, 21, sheet).count == 21
    assert filling(Sheet(A4, 1, 1)) == A4


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (AskedSheet("", "", "5"), "--sheet 3x7"),
        (AskedSheet("0x3"), "across x down"),
        (AskedSheet("three"), "across x down"),
        (AskedSheet("3x999"), "across x down"),
        (AskedSheet("3x7", "B9"), "paper"),
        (AskedSheet("3x7", "A4", "wide"), "margin"),
        (AskedSheet("3x7", "A4", "", "x"), "gap"),
        (AskedSheet("3x7", "A4", "150"), "no side of a label"),
    ],
)
def test_what_is_no_sheet_is_refused_in_words(asked: AskedSheet, said: str) -> None:
    with pytest.raises(FileError, match=said):
        read_sheet(asked, None)


@pytest.mark.parametrize(
    ("copies", "first", "said"),
    [(0, 1, "copies"), (10_001, 1, "copies"), (1, 0, "Start at"), (1, 22, "Start at")],
)
def test_numbers_that_no_sheet_has_are_refused(
    copies: int, first: int, said: str
) -> None:
    with pytest.raises(FileError, match=said):
        laid(Size(60, 40), copies, Sheet(A4, 3, 7), first)


def test_labels_too_large_for_their_sheet_are_refused_and_turned() -> None:
    with pytest.raises(FileError, match="7 across and 3 down would fit"):
        laid(Size(29, 90), 1, Sheet(A4, 3, 7))
    with pytest.raises(FileError, match="down the paper"):
        laid(Size(60, 60), 1, Sheet(A4, 3, 5))
    with pytest.raises(FileError, match="no sheet"):
        laid(Size(60, 60), 1, None, 2)


@given(
    across=st.integers(1, 6),
    down=st.integers(1, 12),
    gap=st.floats(0, 5),
    margin=st.one_of(st.none(), st.floats(0, 20)),
    copies=st.integers(1, 80),
    data=st.data(),
)
def test_labels_never_overlap_nor_leave_the_paper(
    across: int, down: int, gap: float, margin: float | None, copies: int,
    data: st.DataObject,
) -> None:  # fmt: skip
    sheet = Sheet(PAPERS["A4"], across, down, margin, margin, gap, gap)
    size = Size(20.0, 18.0)
    first = data.draw(st.integers(1, sheet.count))
    try:
        found = laid(size, copies, sheet, first)
    except FileError:
        reject()
    assert found.count == copies
    assert len(found.places[0]) <= sheet.count - first + 1
    for page in found.places:
        assert len(set(page)) == len(page) > 0
        for x, y in page:
            assert x >= -1e-6
            assert x + 20 <= 210.01
            assert y >= -1e-6
            assert y + 18 <= 297.01
            for a, b in page:
                apart = abs(a - x) >= 20 - 0.01 or abs(b - y) >= 18 - 0.01
                assert apart or (a, b) == (x, y)
