"""What grains, and how much syrup holds it: against the trade's rule and milk jam."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.graining import (
    DOCTOR_RATIO,
    doctor_ratio,
    doctor_solids,
    glucose_per_water,
    grams_for_ratio,
    grams_to_hold,
    supersaturation,
    swapped,
    water_to_hold,
)
from slabwright.physics.species import AT, SPECIES, Parts, parts

SYRUP = parts(water=0.2, glucose=0.15, maltose=0.11, higher_saccharides=0.54)
MASS = st.floats(0.5, 500)


def test_a_saturated_syrup_is_just_saturated() -> None:
    # 66.74 % at 20 °C, by the sugar works' table
    over = supersaturation(parts(sucrose=66.74, water=33.26), "sucrose", 20)

    assert over.tolist() == pytest.approx([1, 1, 1], abs=0.002)


def test_milk_jam_is_about_twice_over_with_lactose() -> None:
    # a stored page of a dairy book works out 1.94 times; sucrose by another paper
    jam = parts(lactose=33, sucrose=146, water=100)
    likely, low, high = supersaturation(jam, "lactose", 25)

    assert low < 1.94 < high
    assert likely == pytest.approx(1.94, abs=0.1)


def test_honey_stands_in_the_zone_that_grains() -> None:
    # typical honey: glucose 31, water 17 parts of 100 (USDA row of the larder is 36)
    assert float(glucose_per_water(parts(glucose=31, water=17))) == pytest.approx(
        1.82, abs=0.01
    )


@given(MASS, MASS, MASS)
def test_the_advice_reaches_the_trades_ratio(
    sucrose: float, doctors: float, water: float
) -> None:
    mix = parts(sucrose=sucrose, maltose=doctors, water=water)
    grams = grams_for_ratio(mix, SYRUP)
    after = swapped(mix, SYRUP, grams)

    assert grams >= 0
    if doctors >= DOCTOR_RATIO * sucrose:
        assert grams == 0
    else:
        assert float(doctor_ratio(after)) == pytest.approx(DOCTOR_RATIO)
        assert float(doctor_solids(after) + after[AT["sucrose"]]) == pytest.approx(
            sucrose + doctors
        )
        less = swapped(mix, SYRUP, 0.99 * grams)
        assert float(doctor_ratio(less)) < DOCTOR_RATIO


@given(st.floats(60, 90), st.floats(5, 30))
def test_the_advice_dissolves_it_with_the_fewest_grams(
    sucrose: float, celsius: float
) -> None:
    mix = parts(sucrose=sucrose, water=100 - sucrose)
    grams = grams_to_hold(mix, SYRUP, celsius)
    after = supersaturation(swapped(mix, SYRUP, grams), "sucrose", celsius)[0]

    assert after <= 1 + 1e-9
    if grams > 0:
        assert after == pytest.approx(1, abs=1e-6)
        assert supersaturation(mix, "sucrose", celsius)[0] > 1


def test_water_that_dissolves_it_again_is_found() -> None:
    mix = parts(sucrose=75, water=25)
    more = float(water_to_hold(mix, "sucrose", 20.0))

    assert 75 / (25 + more) == pytest.approx(2.0046, rel=1e-3)
    assert water_to_hold(parts(sucrose=10, water=90), "sucrose", 20.0) == 0


@given(MASS, MASS, st.floats(0, 60), st.floats(0.1, 30))
def test_colder_is_more_over(
    sucrose: float, water: float, celsius: float, colder: float
) -> None:
    mix = parts(sucrose=sucrose, water=water)

    warm, cold = (
        supersaturation(mix, "sucrose", one)[0] for one in (celsius, celsius - colder)
    )
    assert cold > warm


def test_ends_of_the_row_and_of_the_world() -> None:
    nothing: Parts = np.zeros(len(SPECIES))

    assert supersaturation(nothing, "sucrose", 20).tolist() == [0, 0, 0]
    assert supersaturation(parts(sucrose=1), "sucrose", 20).tolist() == [np.inf] * 3
    assert np.isnan(doctor_ratio(nothing))
    assert doctor_ratio(parts(glucose=1)) == np.inf
    assert glucose_per_water(nothing) == 0
    no_help = parts(sucrose=1.0)
    assert np.isnan(grams_for_ratio(parts(sucrose=10, water=1), no_help))
    assert np.isnan(grams_to_hold(parts(sucrose=10, water=1), no_help, 20))
    assert grams_to_hold(parts(sucrose=10, water=90), no_help, 20) == 0


@given(st.floats(0, 1e-3), st.floats(0, 1e9), st.floats(0, 1e9))
def test_next_to_no_water_warns_nobody(water: float, one: float, two: float) -> None:
    # warnings are errors here
    mix = parts(sucrose=one, glucose=two, lactose=two, water=water)
    over = supersaturation(mix, "sucrose", 20)

    assert not np.isnan(over).any()
    assert over[1] <= over[0] <= over[2]
    assert not np.isnan(glucose_per_water(mix))
    assert one + two == 0 or not np.isnan(doctor_ratio(mix))


def test_rows_are_worked_out_each_alone() -> None:
    mixes = np.stack([parts(sucrose=s, glucose=10, water=20) for s in (10, 40, 90)])

    many = supersaturation(mixes, "sucrose", np.array([5.0, 20.0, 35.0]))
    for at, celsius in enumerate((5.0, 20.0, 35.0)):
        one = supersaturation(mixes[at], "sucrose", celsius)
        assert many[:, at].tolist() == pytest.approx(one.tolist())
    grams = grams_to_hold(mixes, SYRUP, 20.0)
    assert grams[0] == 0
    assert grams[2] > grams[1] - 1e-9 or np.isnan(grams[2])
