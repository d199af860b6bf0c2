"""Rows of the reference tables on labels, by file."""

import csv
from collections.abc import Mapping
from pathlib import Path

_FOLDER = Path(__file__).parents[1] / "reference" / "label"


def reference(name: str) -> list[Mapping[str, str]]:
    """Every row of one of the files."""
    with (_FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
