"""Brittle or chewy, as a hand would ask."""

import pytest

from slabwright.spec.calc.glass_transition import GLASS_TRANSITION

from .asking import ask, mistakes, numbers


def test_a_boil_of_sugar_to_five_percent_is_on_the_edge_of_a_glass() -> None:
    # sucrose with 5 % water: about 17 °C, between 16.7 (62 °C, k 5.42) and older 14
    answer = ask(GLASS_TRANSITION, sucrose=95, water=5)
    found = numbers(answer)
    figure = answer.first.figure

    assert found["glass_transition_C"] == pytest.approx(17.5, abs=3)
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low < 17.5 < figure.high
    assert found["above_K"] == pytest.approx(20 - figure.number)
    assert found["water_share_for_glass"] == pytest.approx(0.0456, abs=0.005)
    # a percent of water is worth some 7 to 10 K there
    assert -10 < (found["per_percent_K"] or 0) < -6
    assert answer.notes[0].startswith("At 20 °C it is hard")
    assert "brittle" in answer.notes[0]


def test_syrup_by_its_larder_name_counts_by_its_sugars() -> None:
    sum_ = ask(
        GLASS_TRANSITION, **{"sucrose": 60, "glucose syrup 42 DE": 40, "water": 4}
    ).first.figure.sum

    assert "higher saccharides at 141 °C" in sum_
    assert "water at -135 °C" in sum_


def test_what_lies_beside_the_syrup_is_told_and_changes_nothing() -> None:
    plain = ask(GLASS_TRANSITION, sucrose=60, water=8)
    rich = ask(GLASS_TRANSITION, sucrose=60, water=8, fat_milk=15, protein=2, salt=1)

    assert numbers(plain) == pytest.approx(numbers(rich), rel=0.02)
    assert any("beside the syrup" in note for note in rich.notes)
    assert any("Salt" in note for note in rich.notes)
    assert not any("Salt" in note for note in plain.notes)


def test_a_thin_syrup_says_that_ice_comes_first() -> None:
    answer = ask(GLASS_TRANSITION, sucrose=60, water=40, temperature_C=-18)

    assert any("ice forms first" in note for note in answer.notes)


def test_fructose_is_no_glass_in_a_room_even_dry() -> None:
    found = numbers(ask(GLASS_TRANSITION, fructose=98, water=2))

    assert found["water_share_for_glass"] is None


def test_what_makes_no_glass_is_a_mistake_and_no_traceback() -> None:
    for given in ({"water": 5}, {"fat_cocoa": 5}, {"salt": 3, "water": 2}):
        assert mistakes(GLASS_TRANSITION, **given) == [""]
    assert mistakes(GLASS_TRANSITION, sucrose=-1, water=5) == ["sucrose"]
