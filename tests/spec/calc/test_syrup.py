"""Syrups, solubility, stages and exchanges, as a hand would ask."""

import pytest

from slabwright.kitchen import Kitchen
from slabwright.spec.calc.sucrose_solubility import SUCROSE_SOLUBILITY
from slabwright.spec.calc.sugar_stages import SUGAR_STAGES
from slabwright.spec.calc.syrup import SYRUP, SYRUP_DENSITY
from slabwright.spec.calc.syrup_exchange import SYRUP_EXCHANGE

from .asking import ask, mistakes, numbers


def test_the_density_of_a_syrup_comes_first() -> None:
    answer = ask(SYRUP_DENSITY, sucrose=50, water=50, temperature_C=20)

    # handbooks after NBS Circular 440: 1229.6 kg/m³
    assert answer.first.figure.unit == "kg/m³"
    assert answer.first.figure.number == pytest.approx(1229.6, abs=0.6)
    assert numbers(answer)["density_g_ml"] == pytest.approx(1.2296, abs=1e-3)
    assert answer.first.figure.low == pytest.approx(1229.3, abs=0.1)


def test_other_sugars_and_heat_widen_it_and_are_told() -> None:
    answer = ask(SYRUP_DENSITY, glucose=60, water=40, temperature_C=90, butter=5)
    figure = answer.first.figure

    assert figure.low is not None
    assert figure.high is not None
    assert figure.high - figure.low > 0.01 * figure.number
    assert any("range" in note for note in answer.notes)
    assert any("fat milk" in note for note in answer.notes)


def test_a_syrup_is_told_in_every_scale() -> None:
    found = numbers(ask(SYRUP, sucrose=65, water=35))

    assert found["brix"] == pytest.approx(65)
    assert found["baume"] == pytest.approx(35.0, abs=0.3)  # Mohos, table A2.1
    assert found["refractive_index"] == pytest.approx(1.4532, abs=5e-4)
    # Browne's table: 64 % boils at 104.0, 66 % at 104.8 °C
    assert found["boiling_point_C"] == pytest.approx(104.4, abs=0.8)


def test_it_boils_lower_in_a_kitchen_up_high() -> None:
    low = numbers(ask(SYRUP, sucrose=65, water=35))["boiling_point_C"]
    high = numbers(ask(SYRUP, Kitchen(altitude_m=1500), sucrose=65, water=35))

    assert high["boiling_point_C"] == pytest.approx((low or 0) - 5, abs=0.4)


def test_beyond_its_table_the_index_is_withheld() -> None:
    found = numbers(ask(SYRUP, sucrose=95, water=5))

    assert found["refractive_index"] is None
    assert numbers(ask(SYRUP, sucrose=5))["boiling_point_C"] is None


def test_solubility_stands_in_both_units_without_any_parts() -> None:
    answer = ask(SUCROSE_SOLUBILITY, temperature_C=20)

    assert answer.first.name == "solubility_g_per_100g_water"
    assert answer.first.figure.number == pytest.approx(200.5, abs=0.5)
    assert numbers(answer)["solubility_percent"] == pytest.approx(66.74, abs=0.3)


def test_other_sugars_lower_it_and_yours_is_held_against_it() -> None:
    answer = ask(SUCROSE_SOLUBILITY, temperature_C=20, sucrose=50, glucose=20, water=20)
    found, figure = numbers(answer), answer.first.figure

    assert figure.number < (found["alone_g_per_100g_water"] or 0)
    assert figure.low is not None
    assert figure.low < figure.number < (figure.high or 0)
    assert found["supersaturation"] == pytest.approx(250 / figure.number)
    assert any("grain" in note for note in answer.notes)
    clear = ask(SUCROSE_SOLUBILITY, sucrose=10, water=20)
    assert any("stays clear" in note for note in clear.notes)


def test_solubility_outside_its_table_is_told() -> None:
    answer = ask(SUCROSE_SOLUBILITY, temperature_C=150)

    assert any("outside the range" in note for note in answer.notes)
    far = ask(SUCROSE_SOLUBILITY, sucrose=1, glucose=9, water=1)
    assert any("guess" in note for note in far.notes)
    dry = ask(SUCROSE_SOLUBILITY, glucose=9)
    assert any("no water" in note for note in dry.notes)


def test_a_stage_is_named_at_the_sea_and_up_high() -> None:
    low = ask(SUGAR_STAGES, temperature_C=115)
    high = ask(SUGAR_STAGES, temperature_C=115, altitude_m=1600)

    assert any("soft ball" in note for note in low.notes)
    assert any("firm ball" in note or "hard ball" in note for note in high.notes)
    stage = next(one for one in high.also if one.name == "soft_ball_C")
    assert stage.figure.high == pytest.approx(116 - 5.3, abs=0.3)
    assert any("Hot sugar burns" in note for note in low.notes)


def test_the_water_of_a_stage_is_that_of_the_make_up() -> None:
    plain = numbers(ask(SUGAR_STAGES, temperature_C=118))["water_share"]
    mixed = numbers(ask(SUGAR_STAGES, temperature_C=118, sucrose=1, glucose=1))

    assert plain == pytest.approx(0.13, abs=0.02)
    # smaller sugars hold more water at the same temperature
    assert (mixed["water_share"] or 0) > (plain or 0) + 0.01
    assert numbers(ask(SUGAR_STAGES, temperature_C=80))["water_share"] is None


def test_books_that_differ_are_all_told() -> None:
    answer = ask(SUGAR_STAGES, temperature_C=121)

    assert any("Books differ" in note for note in answer.notes)


def test_a_syrup_for_another_keeps_the_sugars() -> None:
    given = {"from": "caster sugar", "to": "glucose syrup 42 DE", "mass_g": 100}
    answer = ask(SYRUP_EXCHANGE, **given)
    found = numbers(answer)

    # 99.8 % and 80.3 % of sugars
    assert found["mass_g"] == pytest.approx(124.3, abs=0.5)
    assert found["water_to_add_g"] == pytest.approx(-24, abs=0.5)
    sweet = next(one.figure for one in answer.also if one.name == "sweetness_change")
    assert (sweet.low or 0) < sweet.number < (sweet.high or 0) < -40
    assert found["doctor_change_g"] == pytest.approx(99.8, abs=0.5)


def test_there_and_back_again() -> None:
    there = ask(SYRUP_EXCHANGE, **{"from": "honey", "to": "golden syrup"})
    back = ask(
        SYRUP_EXCHANGE,
        **{"from": "golden syrup", "to": "honey", "mass_g": there.first.figure.number},
    )

    assert back.first.figure.number == pytest.approx(100)


def test_what_is_no_sugar_is_sent_back() -> None:
    assert mistakes(SYRUP_EXCHANGE, **{"from": "butter oil", "to": "honey"}) != []
    assert mistakes(SYRUP_EXCHANGE, **{"from": "honey", "to": "water"}) == ["to"]
    assert mistakes(SYRUP_EXCHANGE, mass_g=3) == ["from", "to"]
    assert mistakes(SYRUP_DENSITY, salt=3) == [""]
    assert mistakes(SYRUP_DENSITY, sucrose=-1) == ["sucrose"]


def test_water_alone_shows_nothing_on_a_spindle() -> None:
    answer = ask(SYRUP, water=100)

    assert answer.first.figure.number == 0
    assert numbers(answer)["baume"] == 0
