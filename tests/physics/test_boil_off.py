"""Heat and minutes of a boil: steam against tables, boils against a finer balance."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import INDEX, zeros
from slabwright.physics.boil_off import RINGS, boil_heat, boil_minutes
from slabwright.physics.steam import (
    MELTING_KJ_KG,
    activity_beside_ice,
    cold_water_pressure,
    ice_pressure,
    latent_heat,
    steam_enthalpy,
    vapour_pressure,
)
from slabwright.physics.water import boiling_point

# IAPWS SR1-86(1992), table 1: K, kPa, heat of water and of its steam [kJ/kg]
RELEASE = (
    (273.16, 0.611657, 0.000611786, 2500.5),
    (373.1243, 101.325, 419.05, 2675.7),
)
BOILS = list(
    csv.DictReader(
        (Path(__file__).parents[1] / "reference/physics/sugar_boil.csv")
        .read_text("utf-8")
        .splitlines()
    )
)


@pytest.mark.parametrize(("kelvin", "kPa", "water", "steam"), RELEASE)
def test_the_check_values_of_the_release_come_out(
    kelvin: float, kPa: float, water: float, steam: float
) -> None:
    C = kelvin - 273.15
    assert vapour_pressure(C) == pytest.approx(kPa, rel=2e-6)
    assert steam_enthalpy(C) == pytest.approx(steam, abs=0.06)
    assert latent_heat(C) == pytest.approx(steam - water, abs=0.06)


@given(st.floats(5, 200))
def test_two_releases_agree_where_water_boils(C: float) -> None:
    assert boiling_point(float(vapour_pressure(C))) == pytest.approx(C, abs=0.02)


@given(st.floats(0.01, 50))
def test_two_authors_agree_on_water(C: float) -> None:
    found = float(cold_water_pressure(C))
    assert found == pytest.approx(float(vapour_pressure(C)), rel=5e-4)


def test_the_heat_of_melting_follows_from_both_pressures() -> None:
    # Clapeyron: the slope of ln(p ice/p water) over temperature is L M/(R T²)
    slope = (np.log(activity_beside_ice(0.0)) - np.log(activity_beside_ice(-1.0))) / 1.0
    molar = slope * 8.314462 * 272.65**2

    assert molar / 18.01528 == pytest.approx(MELTING_KJ_KG, rel=0.01)
    assert ice_pressure(0.01) == pytest.approx(0.611657, rel=1e-4)


@pytest.mark.parametrize("row", BOILS)
def test_a_boil_agrees_with_one_followed_second_by_second(row: dict[str, str]) -> None:
    # the finer balance has its own specific heat and an old table of boiling points
    sugar, first, last, begin, power, loss, room, end = (
        float(row[key])
        for key in (
            "sugar_kg", "brix0", "brix1", "T0_C", "net_power_W", "UA_W_K", "Tamb_C",
            "T_end_C",
        )
    )  # fmt: skip
    mix = zeros()
    mix[INDEX["sucrose"]] = 1000 * sugar
    mix[INDEX["water"]] = 1000 * sugar * (1 / first - 1)
    off = 1000 * sugar * (1 / first - 1 / last)

    found = boil_minutes(mix, off, begin, end, power / 1000, (1.0, 1.0), (loss, loss))

    assert abs(room - 20) <= 2
    assert found.value == pytest.approx(float(row["t_total_s"]) / 60, rel=0.025)


def test_a_caramel_boils_about_as_long_as_a_hand_would_reckon() -> None:
    # 890 g warmed by 95 K at about 3.0 kJ/(kg K) and 214 g of water: 737 kJ; but what
    # stays and is dry takes up less, and only it is warmed beyond the boil
    mix = zeros()
    for name, grams in (
        ("water", 278),
        ("sucrose", 205),
        ("lactose", 13),
        ("glucose", 94),
    ):
        mix[INDEX[name]] = grams
    mix[INDEX["fat_milk"]], mix[INDEX["higher_saccharides"]] = 150, 150

    assert 0.9 * 737 < boil_heat(mix, 214.0, 20.0, 118.0) < 737
    found = boil_minutes(mix, 214.0, 20.0, 118.0, 1.2, (1.0, 1.0))
    assert found.value == pytest.approx(10.0, abs=0.6)


def test_more_water_than_there_is_gives_no_number() -> None:
    mix = zeros()
    mix[INDEX["water"]] = 100

    assert np.isnan(boil_heat(mix, 101.0, 20.0, 100.0))
    assert boil_heat(mix, 100.0, 20.0, 100.0) == pytest.approx(259.2, abs=0.5)


@given(
    st.floats(0, 400),
    st.floats(0, 100),
    st.floats(100, 150),
    st.sampled_from(list(RINGS)),
)
def test_the_range_holds_the_middle_and_power_shortens_it(
    off: float, begin: float, end: float, ring: str
) -> None:
    mix = zeros()
    mix[INDEX["water"]], mix[INDEX["sucrose"]] = 400, 600
    slow = boil_minutes(mix, off, begin, end, 1.0, RINGS[ring], (0.5, 2.0))
    fast = boil_minutes(mix, off, begin, end, 2.0, RINGS[ring], (0.5, 2.0))

    assert slow.low <= slow.value <= slow.high
    assert fast.value <= slow.value


def test_a_ring_too_weak_for_its_pan_never_gets_there() -> None:
    mix = zeros()
    mix[INDEX["water"]] = 1000

    assert np.isinf(
        boil_minutes(mix, 10.0, 20.0, 100.0, 0.1, (0.5, 0.5), (5.0, 5.0)).value
    )


def test_many_boils_go_in_one_call() -> None:
    mix = zeros()
    mix[INDEX["water"]], mix[INDEX["sucrose"]] = 400, 600
    found = boil_minutes(mix, np.linspace(0, 400, 1000), 20.0, 120.0, 1.5)

    assert found.value.shape == (1000,)
    assert np.all(np.diff(found.value) > 0)
