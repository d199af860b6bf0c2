"""The page of evidence is what the program works out today, rows and drawings."""

import re

import pytest

from slabwright.spec.evidence.rows import every_row
from tests.docs.evidence import DOCS, written


def test_the_page_and_its_drawings_are_fresh() -> None:
    files = list(written())
    assert len(files) > 5
    for path, text in files:
        assert path.read_text("utf-8") == text, f"{path.name}: run make evidence"


def test_every_row_stands_on_it_once() -> None:
    page = (DOCS / "evidence.md").read_text("utf-8")
    listed = re.findall(r"^\| ([A-Z]{2}\d{3,4}) [ABC] \|", page, re.MULTILINE)

    assert sorted(listed) == sorted(row.id for row in every_row())
    assert len(listed) > 1000


def test_no_drawing_is_left_over() -> None:
    there = {path.name for path in (DOCS / "pictures").glob("evidence-*.svg")}

    assert there == {path.name for path, _ in written() if path.suffix == ".svg"}


@pytest.mark.parametrize("word", ["nan", "inf", "None"])
def test_nothing_unknown_is_printed_as_a_number(word: str) -> None:
    page = (DOCS / "evidence.md").read_text("utf-8")

    assert not re.search(rf"\| [−+]?{word}\b", page)
