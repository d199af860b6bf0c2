"""Density, Brix, Baumé and refractive index of syrups against published tables."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.species import AT, SPECIES, parts
from slabwright.physics.syrup import (
    baume,
    brix,
    brix_of_density,
    brix_of_index,
    density_of,
    density_of_baume,
    refractive_index,
    syrup_density,
    water_density,
)

FILE = Path(__file__).parents[1] / "reference" / "physics" / "sugar_density.csv"
ROWS = list(csv.DictReader(FILE.read_text("utf-8").splitlines()))

# From memory: refractive indices of sucrose at 20 °C as handbooks print them
INDICES = ((10, 1.3478), (20, 1.3639), (30, 1.3811), (40, 1.3997), (50, 1.4201),
           (60, 1.4419), (70, 1.4654), (80, 1.4906))  # fmt: skip


def _ours(row: dict[str, str]) -> float:
    percent, celsius = float(row["percent_w_w"]), float(row["T_C"])
    density = float(syrup_density(percent, celsius))
    match row["quantity"]:
        case "baume":
            return float(baume(density))
        case "specific_gravity_17.5C":
            return density / float(water_density(celsius))
        case "specific_gravity_20C":
            # printed to three decimals that are those of g/ml, not of 20/20
            return density / 1000
        case "mass_concentration":
            return _grams_a_litre(float(row["condition"].split("=")[1]))
    return density


def _grams_a_litre(gravity: float) -> float:
    density = gravity * float(water_density(20.0))
    return float(brix_of_density(density)) / 100 * density


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_published_figure_comes_out(row: dict[str, str]) -> None:
    assert _ours(row) == pytest.approx(float(row["value"]), abs=float(row["tol"]))


@pytest.mark.parametrize(("percent", "index"), INDICES)
def test_a_refractometer_shows_what_handbooks_print(
    percent: float, index: float
) -> None:
    assert float(refractive_index(percent)) == pytest.approx(index, abs=3e-4)
    assert float(brix_of_index(index)) == pytest.approx(percent, abs=0.15)


@given(st.floats(0.1, 99.9), st.floats(5, 60))
def test_density_and_strength_lead_to_each_other(percent: float, warm: float) -> None:
    density = syrup_density(percent, warm)

    assert float(brix_of_density(density, warm)) == pytest.approx(percent, abs=1e-6)


@given(st.floats(0, 98), st.floats(0.1, 2), st.floats(5, 90))
def test_more_sugar_is_heavier_and_warmer_is_lighter(
    percent: float, more: float, warm: float
) -> None:
    here = syrup_density(percent, warm)

    assert syrup_density(percent + more, warm) > here
    assert syrup_density(percent, warm + more) < here


@given(st.floats(1000, 1500))
def test_baume_goes_there_and_back(density: float) -> None:
    assert float(density_of_baume(baume(density))) == pytest.approx(density, rel=1e-9)


def test_a_mixed_syrup_lies_between_its_parts() -> None:
    syrup = parts(sucrose=30, glucose=20, maltose=10, water=40)

    assert float(brix(syrup)) == pytest.approx(60)
    assert float(density_of(syrup)) == pytest.approx(1286.5, abs=0.5)
    strong = float(density_of(parts(sucrose=60, water=40, alcohol=20)))
    assert 790 < strong < 1286
    assert float(density_of(parts(alcohol=1, water=0))) == pytest.approx(789, abs=3)
    assert np.isnan(density_of(parts(water=0)))
    assert np.isnan(brix(parts(salt=1)))


def test_shapes_broadcast() -> None:
    many = np.zeros((5, 1, len(SPECIES)))
    many[..., AT["water"]] = 1

    assert density_of(many, np.array([10.0, 20.0])).shape == (5, 2)
    assert brix(many).shape == (5, 1)


def test_ranges_are_told() -> None:
    assert syrup_density.outside(90, 20) != ()
    assert syrup_density.outside(50, 90) != ()
    assert syrup_density.outside(50, 20) == ()
    assert water_density.outside(160) != ()


def test_whole_grams_are_read_as_any_other() -> None:
    """Parts that somebody counted in whole grams give no other syrup."""
    row = np.round(parts(sucrose=60, glucose=5, citric_acid=1, water=34))
    for asked in (brix, density_of):
        told = asked(np.stack([row, np.zeros_like(row)]).astype(int))
        assert told[0] == pytest.approx(float(asked(row)))
        assert np.isnan(told[1])
