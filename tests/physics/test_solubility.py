"""Solubility of sugars against published tables, alone and beside others."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.solubility import (
    holds,
    left_beside,
    others_per_water,
    salt_crystals,
    salt_solubility,
    solubility,
    solubility_in,
    sucrose_solubility,
    tables,
    without_salt_crystals,
)
from slabwright.physics.species import AT, SPECIES, parts

FILE = Path(__file__).parents[1] / "reference" / "physics" / "sugar_solubility.csv"
ROWS = list(csv.DictReader(FILE.read_text("utf-8").splitlines()))
NAMES = {
    "lactose (final, mutarotated)": "lactose",
    "dextrose (trade grade, monohydrate)": "glucose",
}
# From memory: Jackson and Silsbee (1924), saturated with sucrose: °C, then per cent of
# sucrose, invert sugar, water
SATURATED = (
    (0, 43.7, 27.2, 29.1), (10, 40.9, 31.8, 27.3), (15, 39.1, 34.8, 26.1),
    (30, 33.6, 45.4, 21.0),
)  # fmt: skip


def _per_water(row: dict[str, str]) -> tuple[float, float]:
    """The row's value and tolerance in g per 100 g of water."""
    value, tol = float(row["value"]), float(row["tol"])
    if row["unit"] == "g per 100 g water":
        return value, tol
    high = 100 * (value + tol) / (100 - value - tol)
    grams = 100 * value / (100 - value)
    return grams, high - grams


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_published_solubility_comes_out(row: dict[str, str]) -> None:
    species = NAMES.get(row["material"], row["material"])
    value, tol = _per_water(row)
    ours = float(solubility(species, float(row["T_C"])))

    assert ours == pytest.approx(value, abs=tol * 1.0001)


@pytest.mark.parametrize("row", [r for r in ROWS if "narod" in r["source"]],
                         ids=lambda row: row["id"])  # fmt: skip
def test_sucrose_lies_within_points_of_the_best_table(row: dict[str, str]) -> None:
    grams = float(sucrose_solubility(float(row["T_C"])))
    percent = 100 * grams / (100 + grams)

    assert percent == pytest.approx(float(row["value"]), abs=0.13)


@pytest.mark.parametrize(("celsius", "sucrose", "invert", "water"), SATURATED)
def test_a_saturated_mixture_lies_between_the_ends(
    celsius: float, sucrose: float, invert: float, water: float
) -> None:
    mix = parts(sucrose=sucrose, glucose=invert / 2, fructose=invert / 2, water=water)
    likely, low, high = solubility_in(mix, "sucrose", celsius)
    measured = 100 * sucrose / water

    assert low < measured < high
    assert likely == pytest.approx(measured, rel=0.02)


def test_sucrose_takes_from_lactose_what_milk_jam_shows() -> None:
    # a stored page of a dairy book: 33 g of lactose and (another paper) 146 g of
    # sucrose per 100 g of water are 1.94 times as much lactose as it holds
    mix = parts(sucrose=146, lactose=33, water=100)
    likely, low, high = solubility_in(mix, "lactose", 25)

    assert low < 33 / 1.94 < high
    assert likely == pytest.approx(33 / 1.94, rel=0.05)


@given(st.floats(-13, 139), st.floats(0.1, 1))
def test_warmer_water_holds_more_sucrose(celsius: float, more: float) -> None:
    assert sucrose_solubility(celsius + more) > sucrose_solubility(celsius)


@pytest.mark.parametrize("species", list(tables()))
def test_warmer_water_holds_more_of_every_sugar(species: str) -> None:
    low, high = holds(species)
    grams = solubility(species, np.linspace(low - 5, high + 5, 400))

    assert (np.diff(grams) > 0).all()


def test_the_join_of_polynomial_and_table_is_smooth() -> None:
    grams = sucrose_solubility(np.array([89.999, 90.0, 90.001]))

    assert np.ptp(grams) < 0.05


@given(st.floats(0, 50), st.floats(0, 5))
def test_others_only_take_away(q: float, more: float) -> None:
    likely, low, high = left_beside(np.array([q, q + more])).tolist()

    for one, two, three in zip(low, likely, high, strict=True):
        assert 0 <= one <= two + 1e-12 <= three + 2e-12 <= 1.02
    assert likely[1] <= likely[0] + 1e-9
    assert low[1] <= low[0] + 1e-9


def test_alone_nothing_is_taken_away() -> None:
    assert left_beside(0.0).tolist() == [1, 1, 1]
    assert others_per_water(parts(sucrose=80, water=20), "sucrose") == 0
    assert others_per_water(parts(glucose=80), "sucrose") == np.inf


def test_glucose_bends_at_fifty_degrees() -> None:
    # the hydrate below, anhydrous crystals above: the slope of per cent drops
    grams = solubility("glucose", np.array([48.0, 49.0, 51.0, 52.0]))
    percent = 100 * grams / (100 + grams)
    below, above = percent[1] - percent[0], percent[3] - percent[2]

    assert below > 1.5 * above


def test_many_at_once_are_each_alone() -> None:
    mixes = np.zeros((4, 3, len(SPECIES)))
    mixes[..., AT["water"]] = 25
    mixes[..., AT["sucrose"]] = 50
    mixes[..., AT["glucose"]] = np.arange(3) * 10
    many = solubility_in(mixes, "sucrose", np.array([[5.0], [20.0], [40.0], [110.0]]))

    assert many.shape == (3, 4, 3)
    one = solubility_in(mixes[1, 2], "sucrose", 20.0)
    assert many[:, 1, 2].tolist() == pytest.approx(one.tolist())


def test_what_is_not_known_is_not_guessed() -> None:
    with pytest.raises(KeyError):
        solubility("galactose", 20)
    assert sucrose_solubility.outside(150) != ()


def test_where_the_line_leaves_no_water_nothing_bounds_it() -> None:
    """Far beyond the table, near where sucrose melts, no figure turns under 0."""
    hot = sucrose_solubility(np.arange(140.0, 400.0, 1.0))
    assert (np.diff(hot[np.isfinite(hot)]) > 0).all()
    assert (hot > 0).all()
    assert np.isposinf(sucrose_solubility(200.0))
    assert np.isnan(sucrose_solubility(np.nan))


SALT = list(
    csv.DictReader(
        FILE.with_name("salt_solubility.csv").read_text("utf-8").splitlines()
    )
)


@pytest.mark.parametrize("row", SALT, ids=lambda row: row["id"])
def test_salt_dissolves_as_a_table_has_it(row: dict[str, str]) -> None:
    grams = float(salt_solubility(float(row["temperature_C"])))

    percent = 100 * grams / (100 + grams)
    assert percent == pytest.approx(float(row["value"]), abs=float(row["tol"]))


def test_only_salt_beyond_its_solubility_lies_as_crystals() -> None:
    made = np.stack([parts(salt=s, water=100, sucrose=50) for s in (0, 35, 36.5, 90)])
    most = float(salt_solubility(25.0))
    left = salt_crystals(made, 25.0)

    assert left == pytest.approx([0, 0, 36.5 - most, 90 - most])
    settled = without_salt_crystals(made, 25.0)
    assert made[3, AT["salt"]] == 90  # the mix itself stays as it was
    assert settled[:, AT["salt"]] == pytest.approx([0, 35, most, most])
    assert settled[:, AT["sucrose"]] == pytest.approx(50)
    warm = salt_crystals(parts(salt=40, water=100), np.array([0.0, 60.0, 105.0]))
    assert (np.diff(warm) < 0).all()
    assert warm.shape == (3,)
