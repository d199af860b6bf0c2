"""Will it sweat, as a hand would ask."""

import pytest

from slabwright.spec.calc.dew_point import DEW_POINT

from .asking import ask, mistakes, numbers


def test_a_slab_from_the_fridge_sweats_on_a_mild_saturday() -> None:
    answer = ask(DEW_POINT, room_C=21, relative_humidity=60, product_C=4, height_mm=26)
    found = numbers(answer)

    assert found["dew_point_C"] == pytest.approx(12.9, abs=0.1)
    assert found["under_dew_point_K"] == pytest.approx(8.9, abs=0.1)
    wait = answer.also[1].figure
    assert wait.low is not None
    assert wait.high is not None
    assert 30 < wait.low < wait.number < wait.high < 360
    assert answer.notes[0].startswith("It sweats: yes")


def test_a_slab_from_the_shelf_does_not() -> None:
    answer = ask(DEW_POINT, room_C=21, relative_humidity=60, product_C=17)

    assert numbers(answer)["minutes_boxed"] == 0
    assert answer.notes[0].startswith("It sweats: no")


def test_a_share_is_read_as_one() -> None:
    by_share = ask(DEW_POINT, room_C=24, relative_humidity=0.7)

    assert by_share.first.figure.number == pytest.approx(18.2, abs=0.1)
    assert any("70 %" in note for note in by_share.notes)
    assert numbers(by_share)["minutes_boxed"] is None


def test_in_full_air_a_cold_slab_never_dries() -> None:
    answer = ask(DEW_POINT, room_C=20, relative_humidity=100, product_C=4)

    assert numbers(answer)["minutes_boxed"] is None


def test_what_can_not_be_is_told_of_its_field() -> None:
    assert mistakes(DEW_POINT, relative_humidity=130) == ["relative_humidity"]
    assert mistakes(DEW_POINT, height_mm=400, product_C=4) == ["height_mm"]


def test_a_frozen_slab_is_told_that_its_ice_is_not_counted() -> None:
    """A curd from -18 to 18 °C takes 6.1 kJ/(kg K) on average, ice and all."""
    frozen = ask(DEW_POINT, room_C=24, relative_humidity=70, product_C=-18)
    chilled = ask(DEW_POINT, room_C=24, relative_humidity=70, product_C=4)

    assert "ice" in frozen.notes[-1]
    assert not any("ice" in note for note in chilled.notes)
