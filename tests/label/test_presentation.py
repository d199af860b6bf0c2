"""How high letters and figures stand, row by row."""

from collections.abc import Callable, Mapping
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.label.reference import reference

from slabwright.label.particulars import (
    NATIONS,
    Need,
    rows_of,
)
from slabwright.label.presentation import (
    NO_NUTRITION_CM2,
    few,
    figures,
    letters,
    rules,
    together,
)
from slabwright.label.ways import Selling

DAY = date(2026, 11, 25)
ROWS = {row["id"]: row for row in reference("eu_label_presentation.csv")}


def lifts(way: Selling, exception: str) -> set[str]:
    rows = rows_of(way, "England", DAY)
    return {row.particular for row in rows if exception in row.unless}


def letters_of_1_2_mm() -> None:
    for surface in (None, 80, 80.1, 1000, 1e9):
        assert (letters(surface).id, letters(surface).least_mm) == ("PRE-01", 1.2)


def letters_of_0_9_mm() -> None:
    for surface in (79.9, 10, 0.1):
        assert (letters(surface).id, letters(surface).least_mm) == ("PRE-02", 0.9)


def at_one_glance() -> None:
    assert together().id == "PRE-03"
    assert "name and net weight" in together().words


def the_smallest_packs() -> None:
    limit = float(ROWS["PRE-04"]["value"])
    assert few(limit) is None
    smallest = few(limit - 0.1)
    assert smallest is not None
    assert smallest.id == "PRE-04"
    left = {row.particular for row in rows_of(Selling.FOR_A_SHOP, "EU", DAY)}
    left -= lifts(Selling.FOR_A_SHOP, "surface_under_10_cm2")
    assert left >= {"name", "allergens", "net_quantity", "date"}
    assert "ingredients" not in left
    assert "other means" in smallest.words
    for way in (Selling.FOR_A_SHOP, Selling.POSTED):
        (row,) = [
            one for one in rows_of(way, "EU", DAY) if one.particular == "ingredients"
        ]
        assert "other means" in row.why


def too_small_for_nutrition() -> None:
    assert float(ROWS["PRE-05"]["value"]) == NO_NUTRITION_CM2
    for way in (Selling.FOR_A_SHOP, Selling.POSTED):
        assert lifts(way, "surface_under_25_cm2") == {"nutrition"}


def small_quantities_straight_to_who_eats_it() -> None:
    for way in (Selling.FOR_A_SHOP, Selling.POSTED, Selling.TRAY):
        assert lifts(way, "small_and_direct") == {"nutrition"}


def all_that_article_9_lists() -> None:
    asked = {
        row.particular
        for row in rows_of(Selling.FOR_A_SHOP, "EU", DAY)
        if row.need is not Need.MAY
    }
    listed = "name ingredients allergens quid net_quantity date storage business origin"
    assert {*listed.split(), "instructions", "nutrition"} <= asked


def origin() -> None:
    for way in (Selling.FOR_A_SHOP, Selling.POSTED, Selling.TRAY):
        assert "origin" in lifts(way, "no_origin_said")


NUTRITION = "nutrition is tried by tests of its own"
BY_ROW: Mapping[str, Callable[[], None] | str] = {
    "PRE-01": letters_of_1_2_mm,
    "PRE-02": letters_of_0_9_mm,
    "PRE-03": at_one_glance,
    "PRE-04": the_smallest_packs,
    "PRE-05": too_small_for_nutrition,
    "PRE-06": small_quantities_straight_to_who_eats_it,
    **dict.fromkeys((f"PRE-{n:02}" for n in range(7, 16)), NUTRITION),
    "PRE-16": all_that_article_9_lists,
    "PRE-17": origin,
    "PRE-18": "no colour is in the larder, so none of these can be seen",
}


@pytest.mark.parametrize("row", ROWS.values(), ids=lambda row: row["id"])
def test_a_row_of_the_reference(row: Mapping[str, str]) -> None:
    tried = BY_ROW[row["id"]]

    if callable(tried):
        tried()
    else:
        assert tried
    for rule in rules():
        if rule.id == row["id"]:
            assert rule.found == row["found"]
            if row["unit"] == "mm":
                assert rule.least_mm == float(row["value"])


@pytest.mark.parametrize(
    ("net_g", "least_mm"),
    # NET-09: up to 50 g 2 mm, up to 200 g 3, up to 1 kg 4, above 6
    [(5, 2), (50, 2), (50.1, 3), (200, 3), (200.5, 4), (1000, 4), (1001, 6), (1e6, 6)],
)
def test_the_figures_of_a_net_weight(net_g: float, least_mm: float) -> None:
    rule = figures(net_g)

    assert rule.least_mm == least_mm
    assert rule.id.startswith("NET-09")
    assert rule.found == "from memory"
    assert f"{least_mm} mm" in rule.words


@given(st.floats(0.1, 1e6), st.floats(0.1, 1e6))
def test_more_weight_never_asks_for_lower_figures(one: float, other: float) -> None:
    low, high = sorted((one, other))

    assert (figures(low).least_mm or 0) <= (figures(high).least_mm or 0)


@given(st.floats(0.1, 1e6))
def test_every_surface_has_a_height_of_letters(surface: float) -> None:
    assert letters(surface).least_mm in {0.9, 1.2}


def test_the_nations_are_those_that_a_kitchen_can_be_in() -> None:
    assert NATIONS == (
        "England", "Wales", "Scotland", "Northern Ireland", "EU", "United Kingdom",
    )  # fmt: skip
