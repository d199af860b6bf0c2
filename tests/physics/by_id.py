"""Rows of the reference tables of physics, each by its id."""

import csv
from pathlib import Path
from typing import Final

_FOLDER: Final = Path(__file__).parents[1] / "reference" / "physics"


def rows(name: str) -> dict[str, dict[str, str]]:
    """Every row of one of the files, by its id."""
    with (_FOLDER / name).open(encoding="utf-8", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file)}
