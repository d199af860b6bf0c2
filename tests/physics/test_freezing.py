"""Where ice begins and how much there is, against tables and the limits."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import INDEX, zeros
from slabwright.physics.freezing import (
    chen_ice_share,
    freezing_point,
    heat_between,
    ice_share,
)
from slabwright.physics.species import SPECIES, parts
from slabwright.physics.steam import MELTING_KJ_KG
from slabwright.physics.thermal import warming

# 12 % sucrose from a stored page of a book on ice cream; the others from memory of the
# CRC Handbook's tables of aqueous solutions
SUCROSE = ((12, -0.77, 0.02), (10, -0.63, 0.02), (20, -1.47, 0.04), (40, -4.45, 0.15))
OTHERS = (
    ({"glucose": 10}, -1.16, 0.05),
    ({"glycerol": 20}, -5.46, 0.4),
    ({"salt": 5}, -3.05, 0.2),
)
BEEF = next(
    row
    for row in csv.DictReader(
        (Path(__file__).parents[1] / "reference/physics/thermal_components.csv")
        .read_text("utf-8")
        .splitlines()
    )
    if row["id"] == "TH0272"
)


@pytest.mark.parametrize(("percent", "C", "tol"), SUCROSE)
def test_sucrose_freezes_where_tables_say(percent: float, C: float, tol: float) -> None:
    found = freezing_point(parts(sucrose=percent, water=100 - percent))

    assert found == pytest.approx(C, abs=tol)


@pytest.mark.parametrize(("solute", "C", "tol"), OTHERS)
def test_other_solutes_do_too(solute: dict[str, float], C: float, tol: float) -> None:
    mix = parts(**solute, water=100 - sum(solute.values()))

    assert freezing_point(mix) == pytest.approx(C, abs=tol)


def test_water_and_what_holds_none() -> None:
    assert freezing_point(parts(water=1)) == pytest.approx(0.0, abs=0.011)
    assert np.isnan(freezing_point(parts(sucrose=1)))
    assert np.isnan(freezing_point(np.zeros(len(SPECIES))))
    assert np.isnan(ice_share(parts(sucrose=1), -18))
    assert ice_share(parts(water=1), -5) == pytest.approx(1.0, abs=0.001)
    assert ice_share(parts(water=1), 5) == 0


def test_the_rule_for_foods_gives_the_handbooks_ice_to_a_tenth() -> None:
    found = chen_ice_share(0.58, 0.1748, -1.7, -20.0)

    assert found == pytest.approx(float(BEEF["value"]), rel=0.11)
    assert chen_ice_share(0.58, 0.1748, -1.7, 5.0) == 0


@given(st.floats(1, 60), st.floats(-29, -1), st.floats(0.1, 10))
def test_colder_means_more_ice_and_more_sugar_less(
    percent: float, cold: float, more: float
) -> None:
    sweet = parts(sucrose=percent, water=100 - percent)
    sweeter = parts(sucrose=percent + more, water=100 - percent - more)

    assert freezing_point(sweeter) <= freezing_point(sweet)
    assert 0 <= ice_share(sweet, cold) <= ice_share(sweet, cold - 1) <= 1
    assert ice_share(sweeter, cold) <= ice_share(sweet, cold) + 1e-9


@given(st.floats(1, 55))
def test_ice_begins_at_the_freezing_point(percent: float) -> None:
    mix = parts(sucrose=percent, water=100 - percent)
    begins = float(freezing_point(mix))

    assert ice_share(mix, begins + 0.3) == pytest.approx(0.0, abs=2e-3)
    assert ice_share(mix, begins - 0.5) > 0


def test_heat_counts_the_ice() -> None:
    row = zeros()
    row[INDEX["water"]] = 1.0
    thawed = heat_between(row, -10.0, 20.0)

    assert thawed == pytest.approx(
        MELTING_KJ_KG + float(warming(row, -10.0, 20.0)), rel=1e-3
    )
    assert heat_between(row, 20.0, -10.0) == pytest.approx(-thawed)
    assert heat_between(row, 5.0, 20.0) == pytest.approx(float(warming(row, 5.0, 20.0)))


def test_many_mixes_go_in_one_call() -> None:
    rows = np.stack([parts(sucrose=s, water=100 - s) for s in range(1, 60)])

    assert np.all(np.diff(freezing_point(rows)) < 0)
    assert ice_share(rows, -18.0).shape == (59,)
    assert ice_share(rows[3], np.array([-5.0, 5.0, -20.0])).shape == (3,)
