"""Water's boiling point against published check values and a table by altitude."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.water import TRADE_M_PER_C, air_pressure, boiling_point

# IAPWS R7-97(2012), table 36, for program verification: MPa and K
IAPWS_TABLE_36 = ((0.1, 372.755919), (1.0, 453.035632), (10.0, 584.149488))

# Standard atmosphere by geopotential height, m and Pa, as tabulated (ICAO, 1976)
STANDARD_ATMOSPHERE = (
    (0, 101_325.0), (600, 94_321.7), (1000, 89_874.6), (1400, 85_598.8),
    (5000, 54_019.9), (11_000, 22_632.1),
)  # fmt: skip

# A parabola through 27 boiling points by elevation in T. J. Glover, Pocket Ref, 4th
# edition (2012), true to a tenth of a degree, as a stored page gives it
GLOVER = (100.0049216, -0.0035531324, 4.299969165e-8)


@pytest.mark.parametrize(("MPa", "kelvin"), IAPWS_TABLE_36)
def test_the_check_values_of_the_release_come_out(MPa: float, kelvin: float) -> None:
    assert boiling_point(MPa * 1000) + 273.15 == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize(("metres", "pascal"), STANDARD_ATMOSPHERE)
def test_the_standard_atmosphere_comes_out(metres: float, pascal: float) -> None:
    assert air_pressure(metres) * 1000 == pytest.approx(pascal, rel=5e-5)


@pytest.mark.parametrize("metres", [-300, 0, 305, 1000, 1609, 2400, 3000, 4115])
def test_it_agrees_with_a_table_by_altitude(metres: float) -> None:
    # the table does not say for what air it holds; ours lies up to 0.26 °C above it
    a, b, c = GLOVER
    table = a + b * metres + c * metres**2

    assert boiling_point(air_pressure(metres)) == pytest.approx(table, abs=0.3)


@given(st.floats(100, 3000))
def test_the_rule_of_the_trade_is_roughly_right(metres: float) -> None:
    lower = 100 - boiling_point(air_pressure(metres))

    assert lower == pytest.approx(metres / TRADE_M_PER_C, abs=0.35)


@given(st.floats(-500, 10_000), st.floats(1, 900))
def test_water_boils_lower_higher_up(metres: float, more: float) -> None:
    low, high = (boiling_point(air_pressure(m)) for m in (metres, metres + more))

    assert high < low


def test_what_is_beyond_the_ranges_is_told() -> None:
    assert [one.argument for one in air_pressure.outside(20_000)] == ["altitude_m"]
    assert [one.argument for one in boiling_point.outside(0.1)] == ["pressure_kPa"]
    assert air_pressure.outside(5) == ()
