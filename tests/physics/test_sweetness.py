"""Sweetness against what several authors print, and what it must never do."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.species import parts
from slabwright.physics.sweetness import relative, sucrose_equivalent, sweeter, used

FILE = Path(__file__).parents[1] / "reference" / "physics" / "sweetness.csv"
ROWS = list(csv.DictReader(FILE.read_text("utf-8").splitlines()))
MASS = st.floats(0.1, 500)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_an_authors_figure_lies_in_the_range(row: dict[str, str]) -> None:
    mix = parts(**dict.fromkeys(row["species"].split("+"), 1.0))
    likely, low, high = sucrose_equivalent(mix) / mix.sum()
    value = float(row["value"]) / 100

    assert low - float(row["tol"]) <= value <= high + float(row["tol"])
    assert low <= likely <= high


def test_sucrose_is_the_measure() -> None:
    assert sucrose_equivalent(parts(sucrose=7, water=3)).tolist() == [7, 7, 7]
    assert relative()["sucrose"].low == relative()["sucrose"].high == 1


@given(MASS, MASS, MASS, st.floats(0.1, 10))
def test_only_shares_count(a: float, b: float, water: float, times: float) -> None:
    one = parts(sucrose=a, fructose=b, water=water)
    other = parts(sucrose=b, glucose=a, water=water)

    assert sweeter(times * one, other).tolist() == pytest.approx(
        sweeter(one, other).tolist(), abs=1e-9
    )
    assert sweeter(one, one).tolist() == pytest.approx([0, 0, 0], abs=1e-12)


def test_what_both_share_does_not_widen_the_range() -> None:
    # a tenth more of everything sweet: nobody's table changes that
    one = parts(sucrose=33, glucose=11, lactose=5.5, water=50.5)
    known = parts(sucrose=30, glucose=10, lactose=5, water=55)

    assert sweeter(one, known).tolist() == pytest.approx([0.1, 0.1, 0.1])


def test_without_sugar_there_is_no_comparison() -> None:
    assert np.isnan(sweeter(parts(sucrose=1), parts(water=1))).all()
    assert np.isnan(sweeter(parts(), parts(sucrose=1))).all()
    assert used(parts(water=1)) == ()
