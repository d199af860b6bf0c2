"""Minutes of a boil as a hand would ask for them."""

import pytest

from slabwright.kitchen import Kitchen, Place
from slabwright.spec.calc.boil_minutes import BOIL_MINUTES

from .asking import ask, mistakes, numbers

CARAMEL: dict[str, object] = {
    "water_g": 214,
    "mass_g": 890,
    "dry_share": 0.69,
    "to_C": 118,
}


def test_the_caramel_takes_about_ten_minutes_of_useful_heat() -> None:
    answer = ask(BOIL_MINUTES, power_kW=1.2, efficiency=1, **CARAMEL)

    assert answer.first.figure.number == pytest.approx(9.4, abs=0.8)
    assert numbers(answer)["heat_kJ"] == pytest.approx(690, abs=50)
    assert "÷" in answer.first.figure.sum


def test_each_kind_of_ring_has_its_band() -> None:
    bands = {}
    for ring in ("induction", "electric", "gas", "any"):
        figure = ask(BOIL_MINUTES, power_kW=2, ring=ring, **CARAMEL).first.figure
        assert figure.low is not None
        assert figure.high is not None
        assert figure.low < figure.number < figure.high
        assert figure.sources
        bands[ring] = figure.number

    assert bands["induction"] < bands["electric"] < bands["gas"]


def test_the_strongest_ring_of_the_kitchen_is_taken() -> None:
    rings = (Place("small", "ring", power_kW=1.8), Place("large", "ring", power_kW=3.5))
    by_kitchen = ask(BOIL_MINUTES, Kitchen(places=rings), **CARAMEL)
    by_hand = ask(BOIL_MINUTES, power_kW=3.5, **CARAMEL)

    assert by_kitchen.first.figure.number == by_hand.first.figure.number
    assert "large" in by_kitchen.first.figure.sum


def test_the_kitchens_note_tells_the_kind_of_ring() -> None:
    ring = Place("large", "ring", power_kW=2, note="induction, runs hot")
    by_note = ask(BOIL_MINUTES, Kitchen(places=(ring,)), **CARAMEL)
    by_hand = ask(BOIL_MINUTES, power_kW=2, ring="induction", **CARAMEL)

    assert by_note.first.figure.high == by_hand.first.figure.high


def test_what_can_not_be_is_told_of_its_field() -> None:
    assert mistakes(BOIL_MINUTES, **CARAMEL) == ["power_kW"]
    assert mistakes(BOIL_MINUTES, power_kW=2, **{**CARAMEL, "water_g": 300}) == [
        "water_g"
    ]
    assert mistakes(BOIL_MINUTES, power_kW=2, from_C=120, **CARAMEL) == ["to_C"]
    assert mistakes(BOIL_MINUTES, power_kW=2, water_g=5, mass_g=3) == ["water_g"]


def test_without_a_make_up_it_says_what_it_took() -> None:
    answer = ask(BOIL_MINUTES, water_g=214, mass_g=890, power_kW=2)

    assert any("was not given" in note for note in answer.notes)
