"""Boiling point, water left, stop weight and water activity, as a hand would ask."""

from dataclasses import replace

import pytest

from slabwright.physics.activity import water_activity
from slabwright.physics.boiling import boiling_point_of, water_left
from slabwright.physics.solubility import salt_solubility
from slabwright.physics.species import parts
from slabwright.spec.calc.boiling_point import BOILING_POINT
from slabwright.spec.calc.calculator import Calculator
from slabwright.spec.calc.stop_weight import STOP_WEIGHT
from slabwright.spec.calc.water_activity import WATER_ACTIVITY
from slabwright.spec.calc.water_left import WATER_LEFT

from .asking import EMPTY, ask, mistakes, numbers

SYRUP = {"sucrose": 80, "water": 20}
ALL = pytest.mark.parametrize(
    ("calculator", "given"),
    [
        (BOILING_POINT, {}),
        (WATER_LEFT, {"boils_at_C": 118}),
        (STOP_WEIGHT, {"boils_at_C": 118}),
        (WATER_ACTIVITY, {}),
    ],
    ids=lambda one: getattr(one, "name", ""),
)


def test_a_syrup_boils_where_the_function_says_with_its_range() -> None:
    answer = ask(BOILING_POINT, **SYRUP, altitude_m=0)
    figure = answer.first.figure

    assert answer.first.name == "boiling_point_C"
    assert figure.number == pytest.approx(float(boiling_point_of(parts(**SYRUP))))
    assert figure.number == pytest.approx(109.44, abs=0.05)
    assert figure.low is not None
    assert figure.high is not None
    assert 108 < figure.low < 109.4 < figure.high < 111
    assert "101.3 kPa" in figure.sum
    assert figure.sources[0].key == "starzak-peacock-1997"
    found = numbers(answer)
    assert found["probe_C"] is None
    assert found["above_water_K"] == pytest.approx(9.46, abs=0.05)
    assert found["solids_share"] == pytest.approx(0.8)
    assert any("not checked" in note for note in answer.notes)
    assert sum("Hot sugar burns" in note for note in answer.notes) == 1


def test_higher_up_it_boils_lower_and_a_barometer_wins() -> None:
    high = numbers(ask(BOILING_POINT, **SYRUP, altitude_m=1500))
    told = numbers(ask(BOILING_POINT, **SYRUP, altitude_m=0, pressure_kPa=84.556))

    assert high["boiling_point_C"] == pytest.approx(104.21, abs=0.06)
    assert told["boiling_point_C"] == pytest.approx(104.21, abs=0.06)
    assert high["water_boils_C"] == pytest.approx(94.98, abs=0.03)


def test_a_probe_that_reads_high_shows_more_than_the_mix_has() -> None:
    answer = ask(BOILING_POINT, **SYRUP, probe_in_boiling_water_C=101.5)
    found = numbers(answer)

    error = 101.5 - 99.9743
    assert found["probe_C"] == pytest.approx(109.438 + error, abs=0.01)
    assert not any("not checked" in note for note in answer.notes)
    odd = ask(BOILING_POINT, **SYRUP, probe_in_boiling_water_C=92)
    assert any("check it again" in note for note in odd.notes)


def test_the_kitchens_probe_was_read_where_the_kitchen_stands() -> None:
    kitchen = replace(EMPTY, altitude_m=1000.0, probe_in_boiling_water_C=97.65)
    here = numbers(ask(BOILING_POINT, kitchen, **SYRUP))
    away = numbers(ask(BOILING_POINT, kitchen, **SYRUP, altitude_m=0))

    for found in (here, away):
        off = (found["probe_C"] or 0) - (found["boiling_point_C"] or 0)
        assert off == pytest.approx(1.0, abs=0.02)  # 97.65 where water boils at 96.65


def test_water_left_and_boiling_point_are_each_other_turned_round() -> None:
    answer = ask(WATER_LEFT, sucrose=80, water=40, boils_at_C=109.438)
    found = numbers(answer)

    assert answer.first.name == "water_share"
    assert found["water_share"] == pytest.approx(0.2, abs=1e-4)
    assert found["water_g"] == pytest.approx(20, abs=0.01)
    assert found["end_mass_g"] == pytest.approx(100, abs=0.01)
    assert found["boiled_off_g"] == pytest.approx(20, abs=0.01)
    figure = answer.first.figure
    assert figure.low is not None
    assert figure.high is not None
    assert 0.17 < figure.low < 0.2 < figure.high < 0.23
    left = water_left(parts(sucrose=80), 110.438)
    assert found["per_degree"] == pytest.approx(
        float(left / (left + 80)) - 0.2, abs=1e-4
    )


def test_a_probe_that_is_off_moves_the_water() -> None:
    given = {"sucrose": 100, "probe_C": 118, "probe_in_boiling_water_C": 101.9743}
    off = numbers(ask(WATER_LEFT, **given))
    true = numbers(ask(WATER_LEFT, sucrose=100, boils_at_C=116))

    assert off["water_g"] == pytest.approx(true["water_g"], rel=1e-4)


def test_without_its_water_nothing_can_boil_off() -> None:
    found = numbers(ask(WATER_LEFT, sucrose=100, boils_at_C=116))
    assert found["boiled_off_g"] is None
    # and with too little it boils hotter already
    dry = ask(WATER_LEFT, sucrose=95, water=5, boils_at_C=116)
    assert numbers(dry)["boiled_off_g"] is None
    assert "boils at 139" in dry.notes[0]


def test_the_scale_reads_pan_solids_and_water_left() -> None:
    answer = ask(STOP_WEIGHT, sucrose=300, water=150, pan_g=812, boils_at_C=112)
    found = numbers(answer)
    left = float(water_left(parts(sucrose=300), 112.0))

    assert answer.first.name == "reads_g"
    assert found["reads_g"] == pytest.approx(812 + 300 + left)
    assert found["loses_g"] == pytest.approx(150 - left)
    assert found["start_reads_g"] == 1262
    figure = answer.first.figure
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low < figure.number < figure.high
    assert sum("Hot sugar burns" in note for note in answer.notes) == 1


def test_a_stop_by_share_or_brix_is_plain_arithmetic() -> None:
    share = ask(STOP_WEIGHT, sucrose=300, butter=0, water=150, water_share=0.2)
    brix = ask(STOP_WEIGHT, sucrose=300, water=150, brix=75, pan_g=1)
    fat = ask(STOP_WEIGHT, sucrose=300, fat_milk=100, water=150, brix=75)

    assert numbers(share)["reads_g"] == pytest.approx(375)
    assert numbers(brix)["reads_g"] == pytest.approx(401)
    assert numbers(fat)["reads_g"] == pytest.approx(500)
    assert numbers(fat)["water_share"] == pytest.approx(0.2)
    assert share.first.figure.low is None
    assert any("weigh it empty" in note for note in share.notes)


def test_what_is_mixed_by_larder_names_counts_by_its_make_up() -> None:
    given = {"caster sugar": 200, "glucose syrup": 100, "double cream": 200}
    answer = ask(STOP_WEIGHT, **given, pan_g=900, boils_at_C=118)
    found = numbers(answer)

    # sugar, the solids of syrup and of cream, its fat, and what water they keep
    assert 1285 < (found["reads_g"] or 0) < 1460
    assert any("Fat takes no part" in note for note in answer.notes)
    assert any("protein keeps" in note for note in answer.notes)


def test_water_activity_tells_who_holds_the_water() -> None:
    answer = ask(WATER_ACTIVITY, sucrose=40, glucose=20, water=40, temperature_C=25)
    figure = answer.first.figure
    value = float(water_activity(parts(sucrose=40, glucose=20, water=40), 25.0))

    assert answer.first.name == "water_activity"
    assert figure.number == pytest.approx(value)
    assert "sucrose 22.8 g and glucose 17.2 g of water: together 40 g" in figure.sum
    assert numbers(answer)["with_more_water"] == pytest.approx(0.0034, abs=0.0004)
    assert figure.holds
    plain = ask(WATER_ACTIVITY, water=10)
    assert plain.first.figure.number == 1
    assert "nothing dissolved" in plain.first.figure.sum


def test_it_says_what_may_grain_and_what_is_left_out() -> None:
    wet = ask(WATER_ACTIVITY, sucrose=50, water=50)
    thick = ask(WATER_ACTIVITY, sucrose=80, water=20)
    bread = ask(WATER_ACTIVITY, sucrose=10, starch=40, protein=6, water=20, alcohol=1)

    assert not any("grains" in note for note in wet.notes)
    assert any("400 g of sucrose to 100 g of water" in note for note in thick.notes)
    assert any("Left out: starch and protein" in note for note in bread.notes)
    assert any("Less sure for alcohol" in note for note in bread.notes)


def test_lumps_and_what_nobody_measured_are_told() -> None:
    syrup = ask(WATER_ACTIVITY, higher_saccharides=60, glucose=20, water=20)
    thick = ask(BOILING_POINT, mannitol=60, water=40)

    assert any("longer chains" in note for note in syrup.notes)
    assert any("mannitol to 20 %" in note for note in thick.notes)
    beyond = ask(BOILING_POINT, sucrose=98, water=2)
    assert any("Beyond 97 %" in note for note in beyond.notes)
    nearly = ask(BOILING_POINT, sucrose=100, water=1e-6)
    assert numbers(nearly)["boiling_point_C"] is None
    assert numbers(nearly)["above_water_K"] is None


def test_degrees_of_the_other_kind_do_not_pass_unseen() -> None:
    # 240 °F is 116 °C
    for calculator in (WATER_LEFT, STOP_WEIGHT):
        odd = ask(calculator, sucrose=100, water=40, boils_at_C=240)
        usual = ask(calculator, sucrose=100, water=40, boils_at_C=116)
        assert any("°F?" in note for note in odd.notes)
        assert not any("°F?" in note for note in usual.notes)


def test_alcohol_is_counted_as_gone_and_said_so() -> None:
    answer = ask(BOILING_POINT, sucrose=50, water=50, alcohol=10)
    plain = ask(BOILING_POINT, sucrose=50, water=50)

    assert numbers(answer)["boiling_point_C"] == numbers(plain)["boiling_point_C"]
    assert any("Alcohol boils off" in note for note in answer.notes)


@ALL
def test_what_makes_no_sense_is_a_mistake_with_its_field(
    calculator: Calculator, given: dict[str, float]
) -> None:
    assert mistakes(calculator, **given, sucrose=-3, water=5) == ["sucrose"]
    assert mistakes(calculator, **given)
    assert mistakes(calculator, **given, moon_dust=3)


def test_ends_that_can_t_be_reached_say_which_field_is_wrong() -> None:
    assert mistakes(WATER_LEFT, sucrose=80) == ["boils_at_C"]
    assert mistakes(WATER_LEFT, sucrose=80, boils_at_C=110, probe_C=111) == ["probe_C"]
    assert mistakes(WATER_LEFT, sucrose=80, boils_at_C=95) == ["boils_at_C"]
    assert mistakes(WATER_LEFT, sucrose=80, probe_C=99) == ["probe_C"]
    assert mistakes(WATER_LEFT, fat_milk=80, boils_at_C=110) == [""]
    assert mistakes(BOILING_POINT, sucrose=80) == ["water"]
    assert mistakes(STOP_WEIGHT, sucrose=80, water=20) == [""]
    assert mistakes(STOP_WEIGHT, sucrose=80, water=9, boils_at_C=109) == ["water"]
    assert mistakes(STOP_WEIGHT, water=20, water_share=0.5) == [""]
    assert mistakes(STOP_WEIGHT, salt=8, water=20, brix=60) == ["brix"]
    assert mistakes(
        STOP_WEIGHT, sucrose=80, water=20, brix=60, water_share=0.2
    ) == ["brix"]  # fmt: skip
    assert mistakes(BOILING_POINT, **SYRUP, altitude_m=9000) == ["altitude_m"]


def test_salt_past_saturation_lowers_nothing_further_and_is_told() -> None:
    for calculator in (WATER_ACTIVITY, BOILING_POINT):
        full, more, much = (
            ask(calculator, salt=salt, water=100) for salt in (30, 45, 400)
        )
        assert more.first.figure.number == pytest.approx(
            much.first.figure.number, abs=1e-3
        )
        assert more.first.figure.number != pytest.approx(
            full.first.figure.number, rel=0.003
        )
        told = [any("as crystals" in note for note in one.notes)
                for one in (full, more, much)]  # fmt: skip
        assert told == [False, True, True]
        (note,) = [note for note in much.notes if "as crystals" in note]
        assert note.startswith("Of 400 g of salt 36")
        keys = {source.key for source in much.first.figure.sources}
        assert "potter-1977" in keys

    over = numbers(ask(WATER_ACTIVITY, salt=45, water=100))["water_activity"]
    assert over == pytest.approx(0.753, abs=0.002)
    # published brine with all its salt boils at 108.7 °C
    boils = numbers(ask(BOILING_POINT, salt=45, water=100))["boiling_point_C"]
    assert boils == pytest.approx(108.7, abs=0.7)


def test_every_sugar_past_its_solubility_is_told() -> None:
    def told(**given: float) -> list[str]:
        notes = ask(WATER_ACTIVITY, **given).notes
        return [note.split(" to ")[0] for note in notes if "alone keeps" in note]

    assert told(lactose=30, water=100) == ["30 g of lactose"]
    assert told(lactose=10, sucrose=100, water=100) == []
    assert told(glucose=200, mannitol=40, water=100) == [
        "200 g of glucose", "40 g of mannitol",
    ]  # fmt: skip


def test_salt_that_a_boil_can_not_dissolve_holds_no_water() -> None:
    def left(boils_at_C: float, **given: float) -> float:
        found = numbers(ask(WATER_LEFT, boils_at_C=boils_at_C, **given))["water_g"]
        assert found is not None
        return found

    plain = left(118, sucrose=100)
    some, more, much = (left(118, sucrose=100, salt=salt) for salt in (2, 60, 600))
    assert plain < some < more
    assert much == pytest.approx(more)
    notes = ask(WATER_LEFT, boils_at_C=118, sucrose=100, salt=600).notes
    (note,) = [one for one in notes if "as crystals" in one]
    assert note.startswith("Of 600 g of salt 585 g")
    # the water that is left holds just the salt that the note says
    said = float(note.removesuffix(" g.").split()[-1])
    assert said / more == pytest.approx(float(salt_solubility(118)) / 100, rel=0.01)
    # turned round, that brine boils there
    there = ask(BOILING_POINT, sucrose=100, salt=60, water=more)
    assert there.first.figure.number == pytest.approx(118, abs=0.1)
    # brine alone boils dry over its own boil
    assert left(115, salt=100, water=300) == pytest.approx(0, abs=1e-6)
    stop = ask(STOP_WEIGHT, boils_at_C=118, sucrose=100, salt=60, water=100)
    assert stop.first.figure.number == pytest.approx(160 + more, rel=1e-6)
