"""Dew point against releases of vapour pressure; waiting against an exact series."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.dew import boxed_minutes, dew_point, pass_minutes, sweats_from
from slabwright.physics.steam import cold_water_pressure, vapour_pressure

SLABS = [
    row
    for row in csv.DictReader(
        (Path(__file__).parents[1] / "reference/physics/slab_convection.csv")
        .read_text("utf-8")
        .splitlines()
    )
    if float(row["theta=(T-Tinf)/(Ti-Tinf)"]) > 0.02 and float(row["Fo"]) >= 0.2
]
CAKE = (2200.0, 2800.0)


@given(st.floats(1, 45), st.floats(0.1, 1.0))
def test_at_the_dew_point_the_air_is_full(room_C: float, share: float) -> None:
    dew_C = float(dew_point(room_C, share))
    pressure = vapour_pressure if dew_C > 0.01 else cold_water_pressure
    ratio = float(pressure(dew_C)) / float(vapour_pressure(room_C))

    assert ratio == pytest.approx(share, rel=0.006)
    assert dew_C <= room_C + 1e-9


# Worked by hand from a table of vapour pressures, as two days of a shop's air
@pytest.mark.parametrize(
    ("room_C", "share", "dew_C"), [(21, 0.60, 12.9), (24, 0.70, 18.2), (20, 1.0, 20.0)]
)
def test_the_shops_air_has_its_dew_point(
    room_C: float, share: float, dew_C: float
) -> None:
    assert dew_point(room_C, share) == pytest.approx(dew_C, abs=0.1)


@pytest.mark.parametrize("row", SLABS, ids=lambda row: f"{row['Bi']} {row['Fo']}")
def test_the_face_passes_when_the_exact_series_says(row: dict[str, str]) -> None:
    biot, fourier = float(row["Bi"]), float(row["Fo"])
    theta = float(row["theta=(T-Tinf)/(Ti-Tinf)"])
    # 20 mm, 1 W/(m K) and 1 kJ/(m³ K), begun at 0 in a room of 1
    face = biot * 1.0 / 0.010
    minutes = pass_minutes(20.0, 0.0, 1 - theta, 1.0, face, 1.0, 1.0)
    exact = fourier * 0.010**2 * 1000 / 1.0 / 60

    # late on, what counts is the wait; early on, the first term alone is rough
    assert minutes == pytest.approx(exact, rel=0.06, abs=0.05 * 0.010**2 * 1000 / 60)


def test_who_needs_no_wait_waits_not_and_who_never_can_is_told() -> None:
    assert pass_minutes(26, 14, 12.9, 21, 4, 2500, 0.4) == 0
    assert np.isinf(pass_minutes(26, 4, 12.9, 10, 4, 2500, 0.4))


@given(st.floats(8, 60), st.floats(-20, 12), st.floats(13, 17), st.floats(18, 30))
def test_a_higher_or_colder_slab_waits_longer(
    high: float, begin: float, dew: float, room: float
) -> None:
    wait = boxed_minutes(high, begin, dew, room, CAKE, 0.35)

    assert 0 <= wait.low <= wait.value <= wait.high
    assert boxed_minutes(high + 5, begin, dew, room, CAKE, 0.35).low >= wait.low
    assert boxed_minutes(high, begin - 2, dew, room, CAKE, 0.35).high >= wait.high


def test_a_slab_from_the_fridge_waits_about_an_hour_or_two() -> None:
    wait = boxed_minutes(26, 4, 12.9, 21, CAKE, 0.35)

    assert 30 < wait.low < wait.value < wait.high < 400


def test_many_rooms_go_in_one_call() -> None:
    rooms = np.linspace(15, 30, 50)
    wait = boxed_minutes(26, 4, dew_point(rooms, 0.6), rooms, CAKE, 0.35)

    assert wait.value.shape == (50,)
    assert [one.argument for one in dew_point.outside(80.0, 0.5)] == ["temperature_C"]


@given(st.floats(-20, 20), st.floats(15, 35))
def test_the_humidity_from_which_it_sweats_is_the_dew_point_turned_round(
    face: float, room: float
) -> None:
    share = float(sweats_from(face, room))

    if share <= 1:
        assert dew_point(room, share) == pytest.approx(face, abs=1e-6)
    assert (share <= 1) is (face <= room)


def test_a_wait_whose_doubts_outweigh_it_is_never_less_than_none() -> None:
    wait = boxed_minutes(26, 4, np.linspace(4, 20.9, 60), 21, (0.0, 6000.0), 0.35)

    assert (wait.low >= 0).all()
    assert (wait.low <= wait.value).all()
