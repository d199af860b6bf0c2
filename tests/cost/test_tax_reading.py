"""What there is to read about tax: as it was collected, and never a rate."""

import csv
from pathlib import Path

from slabwright.cost.tax import Sale, TaxAsked, tax_on
from slabwright.cost.tax_reading import tax_reading
from tests.cost.test_tax import DAY

REFERENCE = Path(__file__).parents[1] / "reference" / "price" / "vat.csv"


def test_each_row_says_what_was_collected_and_how_it_is_known() -> None:
    wanted = {
        row["id"]: row
        for row in csv.DictReader(REFERENCE.read_text("utf-8").splitlines())
    }
    found = {row.id: row for row in tax_reading("GB")}
    assert found.keys() == wanted.keys()
    for id, row in found.items():
        assert row.treated.partition(":")[0] == wanted[id]["treated"]
        assert row.found == wanted[id]["found"]
        assert row.article


def test_other_countries_have_nothing_to_read() -> None:
    assert tax_reading("SE") == ()


def test_reading_decides_nothing() -> None:
    assert isinstance(tax_on((), Sale("brownie"), DAY), TaxAsked)
