"""The British nutrient profiling model, row by row of its guide, and by hand.

Source of the rows: tests/reference/label/uk_npm_2004_5.csv.
"""

import csv
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.label.nutrition.nutrient_profile import (
    AGAINST,
    FOR,
    points_of,
    profile,
    score,
    steps,
)

DAY = date(2026, 11, 25)
REFERENCE = Path(__file__).parents[1] / "reference" / "label" / "uk_npm_2004_5.csv"
ROWS = list(csv.DictReader(REFERENCE.read_text("utf-8").splitlines()))
POINTS = [r for r in ROWS if r["part"] in "AC" and r["component"] != "fibre_nsp_g"]
RULES = {r["component"]: r for r in ROWS if r["part"] == "rule"}
NONE = dict.fromkeys((*AGAINST, *FOR), 0)


@pytest.mark.parametrize(
    "row", POINTS, ids=lambda row: f"{row['component']}-{row['points']}"
)
def test_points_begin_above_their_threshold(row: dict[str, str]) -> None:
    above, points = float(row["threshold_per_100g"]), int(row["points"])
    below = [
        int(r["points"])
        for r in POINTS
        if r["component"] == row["component"] and float(r["threshold_per_100g"]) < above
    ]
    assert points_of(row["component"], above) == max(below, default=0)
    assert points_of(row["component"], above + 1e-6) == points


def test_the_other_measure_of_fibre_is_left_out() -> None:
    """Fibre is counted by the method of the European declaration alone."""
    nsp = [r for r in ROWS if r["component"] == "fibre_nsp_g"]
    assert nsp
    assert not [one for one in steps() if one.component == "fibre_nsp_g"]
    held = {(one.component, one.points) for one in steps() if one.part != "limit"}
    assert len(held) == len(POINTS)


def test_protein_counts_below_eleven_points() -> None:
    assert RULES["A<11"]["operator"] == "score = A - C"
    found = NONE | {"energy_kj": 5, "sugars_g": 5, "fibre_aoac_g": 2, "protein_g": 4}
    assert score(found) == 10 - 2 - 4


def test_protein_does_not_count_from_eleven_points_without_much_fruit() -> None:
    rule = RULES["A>=11 and fvn points<5"]
    assert "protein not counted" in rule["operator"]
    found = NONE | {"energy_kj": 6, "sugars_g": 5, "fibre_aoac_g": 2, "protein_g": 4}
    assert score(found) == 11 - 2
    assert score(found | {"fruit_veg_nuts_percent": 2}) == 11 - 2 - 2


def test_protein_counts_from_eleven_points_with_the_most_fruit() -> None:
    assert RULES["A>=11 and fvn points=5"]["operator"] == "score = A - C"
    found = NONE | {"energy_kj": 6, "sugars_g": 5, "protein_g": 4}
    assert score(found | {"fruit_veg_nuts_percent": 5}) == 11 - 5 - 4


@pytest.mark.parametrize(
    ("kind", "row"), [("food", "less healthy food"), ("drink", "less healthy drink")]
)
def test_the_limit_is_that_of_the_guidance(kind: str, row: str) -> None:
    found = profile(dict.fromkeys(NONE, (0.0, 0.0)), "England", DAY, kind)
    assert found is not None
    assert found.limit == int(RULES[row]["threshold_per_100g"])
    assert found.words.startswith("0 points")


def test_a_range_is_scored_from_its_best_to_its_worst() -> None:
    ends = dict.fromkeys(NONE, (0.0, 0.0)) | {
        "energy_kj": (1675.0, 2010.1),  # 4 to 6
        "saturates_g": (10.5, 10.5),  # 10
        "fibre_aoac_g": (0.5, 2.0),  # 0 to 2
        "protein_g": (9.0, 9.0),  # 5, and none from 11 points on
    }
    found = profile(ends, "United Kingdom", DAY)
    assert found is not None
    assert (found.low, found.high) == (4 + 10 - 2, 6 + 10)
    assert found.words == "12 to 16 points, over the model's line of 4"


@pytest.mark.parametrize(
    ("nation", "on"), [("EU", DAY), ("England", date(2005, 11, 30)), ("", DAY)]
)
def test_elsewhere_and_before_there_is_none(nation: str, on: date) -> None:
    assert profile(dict.fromkeys(NONE, (0.0, 0.0)), nation, on) is None


def test_what_is_not_known_gives_no_score() -> None:
    for name in NONE:
        ends = {one: (0.0, 0.0) for one in NONE if one != name}
        assert profile(ends, "England", DAY) is None


@given(
    st.fixed_dictionaries({name: st.floats(0, 5000) for name in NONE}),
    st.sampled_from(AGAINST),
    st.floats(0, 500),
)
def test_more_of_what_counts_against_never_scores_less(
    amounts: dict[str, float], name: str, more: float
) -> None:
    before = profile({k: (v, v) for k, v in amounts.items()}, "Wales", DAY)
    amounts[name] += more
    after = profile({k: (v, v) for k, v in amounts.items()}, "Wales", DAY)
    assert before is not None
    assert after is not None
    assert after.low == after.high >= before.high
