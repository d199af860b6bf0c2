"""Check values of solutions, and their names for ours."""

import csv
from pathlib import Path

from slabwright.physics.species import Parts, parts

REFERENCE = Path(__file__).parents[1] / "reference" / "physics"
SPECIES_OF = {
    "sucrose_water": "sucrose",
    "NaCl_water": "salt",
    "glycerol_water": "glycerol",
}
Row = dict[str, str]


def rows(name: str, **where: str) -> list[Row]:
    """Rows of a file whose columns are what is wanted."""
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return [
            row
            for row in csv.DictReader(file)
            if all(row[column] == value for column, value in where.items())
        ]


def solution(row: Row) -> Parts:
    """100 g of what a row is about."""
    share = float(row["percent_w_w"])
    species = SPECIES_OF.get(row["material"], row["material"])
    return parts(**{species: share, "water": 100 - share})


def conditions(row: Row) -> dict[str, float]:
    """Its conditions that are numbers: `pressure_kPa=70.1;open pan`."""
    pairs = (one.partition("=") for one in row["condition"].split(";"))
    return {key: float(value) for key, _, value in pairs if value}


def by_id(row: Row) -> str:
    """The row's number, for the name of a test."""
    return row["id"]
