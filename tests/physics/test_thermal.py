"""Heat properties against published rows, their limits and each other."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import INDEX, ROW, zeros
from slabwright.physics.thermal import (
    COMPONENTS,
    air_share,
    conductivity,
    density,
    diffusivity,
    effective_medium,
    levy,
    specific_heat,
    warming,
)

ROWS = list(
    csv.DictReader(
        (Path(__file__).parents[1] / "reference/physics/thermal_components.csv")
        .read_text("utf-8")
        .splitlines()
    )
)
CONSTITUENT = {
    "water": "water",
    "water_real": "water",
    "ice": "water",
    "protein": "protein",
    "fat": "fat_milk",
    "carbohydrate": "sucrose",
    "fibre": "fibre",
    "ash": "minerals",
}
QUANTITIES: dict[str, tuple[Callable[..., Any], float]] = {
    "density": (density, 1.0),
    "thermal_conductivity": (conductivity, 1.0),
    "specific_heat": (specific_heat, 1000.0),
}
COMPUTED = [row for row in ROWS if row["kind"] == "computed"]
SHARES = st.lists(st.floats(0, 1), min_size=22, max_size=22).filter(
    lambda masses: sum(masses) > 0.01
)


def mix(**masses: float) -> np.ndarray:
    row = zeros()
    for name, mass in masses.items():
        row[INDEX[name]] = mass
    return row


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row["id"])
def test_each_pure_component_comes_out_as_published(row: dict[str, str]) -> None:
    relation, factor = QUANTITIES[row["quantity"]]
    pure = mix(**{CONSTITUENT[row["material"]]: 1.0})
    ice = 1.0 if row["material"] == "ice" else 0.0

    found = factor * relation(pure, float(row["T_C"]), ice_share=ice)

    # rows of the published equation are held to their printed digit
    is_real = row["material"] == "water_real"
    digit = 10.0 ** -len(row["value"].partition(".")[2])
    tol = float(row["tol"]) if is_real else 0.5001 * digit
    assert found == pytest.approx(float(row["value"]), abs=tol)


def by_id(key: str) -> dict[str, str]:
    return next(row for row in ROWS if row["id"] == key)


# The handbook's water takes up so much less than ours, which agrees with steam tables
HANDBOOK_WATER_LESS = 4176.2 - 4128.9
LAMB = mix(water=0.7342, protein=0.2029, fat_other=0.0525, minerals=0.0106)


def test_the_handbooks_example_of_a_specific_heat_comes_out() -> None:
    row = by_id("TH0273")

    found = 1000 * specific_heat(LAMB, 5.0) - 0.7342 * HANDBOOK_WATER_LESS

    assert found == pytest.approx(float(row["value"]), abs=float(row["tol"]))


def test_the_handbooks_example_of_heat_removed_comes_out() -> None:
    row = by_id("TH0274")

    found = -warming(150 * LAMB, 10.0, 0.0)
    found -= 150 * 0.7342 * 10 * HANDBOOK_WATER_LESS / 1000

    assert found == pytest.approx(float(row["value"]), abs=float(row["tol"]))


# Density of sucrose solutions at 20 °C, ICUMSA (1990), and conductivity by Honig's
# formula as sugar technologists print it: both from memory, no coefficient of ours
@pytest.mark.parametrize(
    ("share", "kg_m3", "W_mK"),
    [(0.2, 1081, 0.534), (0.4, 1176, 0.470), (0.6, 1287, 0.405)],
)
def test_a_sugar_solution_agrees_with_what_sugar_factories_measure(
    share: float, kg_m3: float, W_mK: float
) -> None:
    solution = mix(sucrose=share, water=1 - share)

    assert density(solution, 20.0) == pytest.approx(kg_m3, rel=0.01)
    assert conductivity(solution, 20.0) == pytest.approx(W_mK, rel=0.10)


def test_what_is_unknown_or_empty_has_no_properties() -> None:
    for row in (mix(water=1.0, unknown=0.1), zeros()):
        assert np.isnan(density(row, 20.0))
        assert np.isnan(specific_heat(row, 20.0))
        assert np.isnan(conductivity(row, 20.0, 0.3))
        assert np.isnan(diffusivity(row, 20.0))


@given(SHARES, st.floats(-30, 140))
def test_a_mix_lies_between_its_parts(masses: list[float], warm: float) -> None:
    row = np.array([*masses, 0.0, 0.0])
    pures = [mix(**{name: 1.0}) for name in ROW[:22]]
    there = [pure for pure, mass in zip(pures, masses, strict=True) if mass > 0]

    for relation in (density, specific_heat, conductivity):
        each = [float(relation(pure, warm)) for pure in there]
        assert min(each) * 0.999999 <= relation(row, warm) <= max(each) * 1.000001


@given(SHARES, st.floats(-30, 140), st.floats(0.001, 1000))
def test_how_much_there_is_does_not_matter(
    masses: list[float], warm: float, times: float
) -> None:
    row = np.array([*masses, 0.0, 0.0])

    for relation in (density, specific_heat, conductivity, diffusivity):
        assert relation(times * row, warm) == pytest.approx(float(relation(row, warm)))


@given(SHARES, st.floats(-30, 140), st.floats(-30, 140), st.floats(-30, 140))
def test_the_way_of_warming_does_not_matter(
    masses: list[float], begin: float, between: float, end: float
) -> None:
    row = np.array([*masses, 0.0, 0.0])
    whole = float(warming(row, begin, end))
    parts = float(warming(row, begin, between) + warming(row, between, end))

    assert parts == pytest.approx(whole, abs=1e-9 * sum(masses) * 1e3)
    near = float(warming(row, between, between + 1e-3)) / 1e-3
    if not -1e-3 < between < 0:
        heat = float(specific_heat(row, between)) * sum(masses)
        assert near == pytest.approx(heat, rel=1e-4)


@given(st.floats(0.05, 3), st.floats(0.05, 3), st.floats(0, 1))
def test_two_phases_conduct_between_series_and_side_by_side(
    one: float, other: float, share: float
) -> None:
    series = 1 / (share / one + (1 - share) / other)
    parallel = share * one + (1 - share) * other

    for value in (levy(one, other, share), effective_medium(one, other, share)):
        assert series * (1 - 1e-9) <= value <= parallel * (1 + 1e-9)


def test_air_makes_a_layer_conduct_less_and_ice_more() -> None:
    crumb = mix(water=0.3, starch=0.5, protein=0.1, fat_milk=0.1)
    by_air = conductivity(crumb, 20.0, np.linspace(0, 0.9, 10))
    by_ice = conductivity(crumb, -15.0, 0.2, np.linspace(0, 1, 11))

    assert np.all(np.diff(by_air) < 0)
    assert np.all(np.diff(by_ice) > 0)


def test_air_is_what_a_measured_density_lacks() -> None:
    assert air_share(750.0, 1250.0) == pytest.approx(0.4)
    assert air_share(1300.0, 1250.0) < 0


def test_arrays_and_single_rows_agree() -> None:
    rows = np.random.default_rng(8).random((5, 3, len(ROW)))
    rows[..., INDEX["unknown"]] = 0.0
    for relation in (density, specific_heat, conductivity, diffusivity):
        whole = relation(rows, 60.0)
        assert whole.shape == (5, 3)
        assert whole[4, 1] == pytest.approx(float(relation(rows[4, 1], 60.0)))
    assert density(rows[0, 0], np.array([5.0, 60.0])).shape == (2,)
    assert conductivity(rows[0, 0], -9.0, 0.0, np.array([0.1, 0.5])).shape == (2,)


def test_a_temperature_beyond_the_published_range_is_told() -> None:
    told = density.outside(mix(water=1.0), 180.0)

    assert [one.argument for one in told] == ["temperature_C"]
    assert len(COMPONENTS) == 8
