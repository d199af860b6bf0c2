"""Raising agents swapped and balanced, as a hand would ask."""

import pytest

from slabwright.spec.calc.raising_agents import RAISING_AGENTS

from .asking import ask, mistakes, numbers


def test_powder_becomes_soda_and_its_acid() -> None:
    given = {"from": "baking powder", "to": "bicarbonate-of-soda", "mass_g": 10}
    answer = ask(RAISING_AGENTS, **given)
    found = numbers(answer)

    # a trade rule: a quarter to a third of the powder
    assert found["mass_to_g"] == pytest.approx(2.95, abs=0.01)
    assert answer.first.figure.low == pytest.approx(2.6)
    assert answer.first.figure.high == pytest.approx(3.3)
    assert found["cream_of_tartar_g"] == pytest.approx(2.95 / 0.446, abs=0.01)


def test_gas_is_as_unsure_as_the_soda_that_makes_it() -> None:
    """Soda gives 0.524 of its weight, and a mole of gas fills 24.06 litres."""
    given = {"from": "baking powder", "to": "bicarbonate-of-soda", "mass_g": 10}
    shown = {one.name: one.figure for one in ask(RAISING_AGENTS, **given).also}
    grams, ml = shown["gas_g"], shown["gas_ml"]

    assert (grams.low, grams.high) == pytest.approx((1.362, 1.729), abs=0.002)
    assert ml.number == pytest.approx(1.5455 / 44.01 * 24_060, rel=0.005)
    assert ml.low == pytest.approx(1.362 / 44.01 * 24_060, rel=0.02)
    assert ml.high == pytest.approx(1.729 / 44.01 * 24_060, rel=0.02)


def test_soda_has_another_name_across_the_sea() -> None:
    one = ask(
        RAISING_AGENTS, **{"from": "baking powder", "to": "baking soda", "mass_g": 9}
    )
    given = {"from": "baking powder", "to": "bicarbonate of soda", "mass_g": 9}

    assert one.first.figure.number == ask(RAISING_AGENTS, **given).first.figure.number


def test_an_acid_becomes_another() -> None:
    given = {"from": "cream-of-tartar", "to": "sapp", "mass_g": 10}

    assert numbers(ask(RAISING_AGENTS, **given))["mass_to_g"] == pytest.approx(
        10 * 44.6 / 72
    )


def test_ammonium_gives_nearly_as_much_gas_as_so_much_soda() -> None:
    given = {"from": "ammonium_bicarbonate", "to": "bicarbonate-of-soda", "mass_g": 10}

    assert numbers(ask(RAISING_AGENTS, **given))["mass_to_g"] == pytest.approx(
        10 * 84.007 / 79.06, rel=1e-3
    )


@pytest.mark.parametrize(
    ("soda", "beside", "word"),
    [
        (1.9, {"buttermilk_g": 240}, "Balanced"),
        (6.0, {"buttermilk_g": 240}, "Soda is left over"),
        (0.5, {"buttermilk_g": 240}, "Acid is left over"),
        (4.46, {"cream_of_tartar_g": 10}, "Balanced"),
        (3.0, {}, "Soda is left over"),
    ],
)
def test_soda_is_set_against_the_acids_beside_it(
    soda: float, beside: dict[str, float], word: str
) -> None:
    answer = ask(RAISING_AGENTS, soda_g=soda, **beside)

    assert answer.notes[0].startswith(word)
    figure = answer.first.figure
    taken = numbers(answer)["soda_taken_g"]
    assert taken is not None
    assert figure.number == pytest.approx(soda - taken)


def test_soda_without_acid_gives_half_the_gas() -> None:
    alone = numbers(ask(RAISING_AGENTS, soda_g=10))["gas_g"]
    met = numbers(ask(RAISING_AGENTS, soda_g=10, cream_of_tartar_g=22.42))["gas_g"]

    assert alone is not None
    assert met is not None
    assert alone == pytest.approx(met / 2, rel=0.06)


def test_what_makes_no_sense_is_told_of_its_field() -> None:
    assert mistakes(RAISING_AGENTS) == ["soda_g"]
    assert mistakes(RAISING_AGENTS, **{"from": "sapp"}) == ["to"]
    swap = {"from": "sapp", "to": "bicarbonate-of-soda", "mass_g": 3}
    assert mistakes(RAISING_AGENTS, **swap) == ["to"]
    assert mistakes(RAISING_AGENTS, **{"from": "sapp", "to": "mcp"}) == ["mass_g"]
    assert mistakes(RAISING_AGENTS, **{"from": "magic", "to": "mcp"}) == ["from"]
    assert mistakes(RAISING_AGENTS, soda_g=0, honey_g=10) == []
