"""One gelatine for another, as a hand would ask."""

import pytest

from slabwright.spec.calc.gelatine_exchange import GELATINE_EXCHANGE

from .asking import ask, mistakes, numbers


def test_both_rules_are_shown_and_the_range_spans_them() -> None:
    answer = ask(GELATINE_EXCHANGE, mass_g=2.6, from_bloom=225, to_bloom=160)
    found = numbers(answer)

    assert found["mass_g"] == found["mass_linear_g"] == pytest.approx(3.656, abs=0.001)
    assert found["mass_square_root_g"] == pytest.approx(3.083, abs=0.001)
    assert answer.first.figure.low == found["mass_square_root_g"]
    assert answer.first.figure.high == found["mass_linear_g"]
    assert found["leaves"] is None


def test_the_rule_that_is_asked_stands_first() -> None:
    answer = ask(
        GELATINE_EXCHANGE, mass_g=10, from_bloom=200, to_bloom=250, rule="square root"
    )

    assert numbers(answer)["mass_g"] == pytest.approx(8.944, abs=0.001)


def test_grades_stand_for_their_bloom_and_give_leaves() -> None:
    answer = ask(GELATINE_EXCHANGE, mass_g=10, from_grade="gold", to_grade="bronze")
    found = numbers(answer)

    assert found["mass_g"] == pytest.approx(10 * 200 / 140)
    assert found["leaves"] == pytest.approx(10 * 200 / 140 / 3.3)
    assert any("125 to 155" in note for note in answer.notes)


def test_leaves_become_leaves() -> None:
    given = {"from_leaves": 3, "from_grade": "gold", "to_grade": "platinum"}
    found = numbers(ask(GELATINE_EXCHANGE, **given))

    assert found["mass_g"] == pytest.approx(6 * 200 / 240)
    # a leaf of any grade is made to set about the same
    assert found["leaves"] == pytest.approx(3, abs=0.2)
    assert mistakes(GELATINE_EXCHANGE, from_leaves=3, from_bloom=200, to_bloom=240) == [
        "from_leaves"
    ]
    assert mistakes(GELATINE_EXCHANGE, from_bloom=200, to_bloom=240) == ["mass_g"]


def test_the_range_left_is_told() -> None:
    answer = ask(GELATINE_EXCHANGE, mass_g=10, from_bloom=350, to_bloom=200)

    assert any("neither rule" in note for note in answer.notes)


def test_what_is_missing_or_can_not_be_is_told() -> None:
    assert mistakes(GELATINE_EXCHANGE, mass_g=10, to_bloom=200) == ["from_bloom"]
    assert mistakes(GELATINE_EXCHANGE, mass_g=10, from_bloom=0, to_bloom=200) == [
        "from_bloom"
    ]
    assert mistakes(GELATINE_EXCHANGE, mass_g=1, from_grade="tin", to_bloom=9) == [
        "from_grade",
        "to_bloom",
    ]
