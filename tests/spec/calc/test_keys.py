"""Keys as hands type them: other names, other units, what is near, what is taken."""

import shlex
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import Mistake
from slabwright.files.card.sizes import read_tin
from slabwright.kitchen import Kitchen
from slabwright.larder.load import built_in
from slabwright.spec.calc.calculated import Calculated, calculated, calculator_at
from slabwright.spec.calc.calculator import Around, CalcError, Calculator
from slabwright.spec.calc.calculators import CALCULATORS
from slabwright.spec.calc.keys import plain
from slabwright.spec.calc.units import SUFFIX, comes_to, is_other_unit, split_unit

AROUND = Around(Kitchen(), built_in(), read_tin)
EVERY = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
SYRUP = "sucrose=80 water=20"


def asked(name: str, text: str) -> Calculated:
    pairs = [word.partition("=")[::2] for word in text.split(" ")]
    return calculated(calculator_at(name), pairs, AROUND)


def told(name: str, text: str) -> tuple[Mistake, ...]:
    with pytest.raises(CalcError) as error:
        asked(name, text)
    return error.value.mistakes


@pytest.mark.parametrize(
    ("name", "typed", "meant"),
    [
        ("water-left", f"{SYRUP} temperature_C=118", f"{SYRUP} boils_at_C=118"),
        ("stop-weight", "sucrose=80 water=40 temp_C=110 tare_g=9",
         "sucrose=80 water=40 boils_at_C=110 pan_g=9"),
        ("sugar-stages", "boils_at_C=118", "temperature_C=118"),
        ("boiling-point", f"{SYRUP} elevation_m=900", f"{SYRUP} altitude_m=900"),
        ("boiling-point", "SUCROSE=80 Water=20 ALTITUDE_M=900",
         f"{SYRUP} altitude_m=900"),
        ("boiling-point", f"{SYRUP} altitude=900m", f"{SYRUP} altitude_m=900"),
        ("water-activity", f"{SYRUP} temperature=30°C", f"{SYRUP} temperature_C=30"),
        ("boiling-point", "sucrose_g=80 water_g=20", SYRUP),
        ("boiling-point", "sucrose=80% water_percent=20", SYRUP),
        ("boiling-point", "brix=80", SYRUP),
        ("syrup-density", "brix=50", "sucrose=50 water=50"),
        ("dew-point", "air_C=25 rh=50 surface_C=4",
         "room_C=25 relative_humidity=50 product_C=4"),
        ("egg-exchange", "eggs=6 size=L", "count=6 size=large"),
        ("raising-agents", "from=bicarb to=baking-powder mass_g=5",
         "from=bicarbonate-of-soda to=baking-powder mass_g=5"),
        ("ganache", "chocolate=dark-chocolate-60 chocolate_g=9 cream=double cream_g=5",
         "chocolate=dark-chocolate-60 chocolate_g=9 cream=double-cream cream_g=5"),
        ("chocolate-exchange", "from_chocolate=milk to_chocolate=white chocolate_g=9",
         "from_chocolate=milk-chocolate to_chocolate=white-chocolate chocolate_g=9"),
        ("dairy-exchange", "from_cream=milk to_cream=whipping cream_g=9 butter_g=9",
         "from_cream=whole-milk to_cream=whipping-cream cream_g=9 butter_g=9"),
        ("tin-factor", "from=20x20cm to=30x20cm", "from_tin=20x20cm to_tin=30x20cm"),
    ],
)  # fmt: skip
def test_another_name_of_the_same_is_taken(name: str, typed: str, meant: str) -> None:
    one, other = asked(name, typed).answer, asked(name, meant).answer

    assert one.first == other.first
    assert one.also == other.also


def test_what_another_name_was_taken_for_is_told() -> None:
    notes = asked("dew-point", "rh=50").answer.notes
    assert "rh: taken as relative_humidity, its relative humidity." in notes
    notes = asked("syrup", "brix=65").answer.notes
    assert "brix: taken as 65 parts of sucrose and 35 of water." in notes
    notes = asked("syrup", "sucrose=60% water=30%").answer.notes
    assert any("come to 90 %" in note for note in notes)


@pytest.mark.parametrize(
    ("name", "typed", "what", "do"),
    [
        ("water-activity", f"{SYRUP} temperature_F=68", "not in °C",
         "68 °F is 20 °C: give temperature_C=20."),
        ("water-activity", f"{SYRUP} temperature_K=293.15", "not in °C",
         "give temperature_C=20."),
        ("boiling-point", f"{SYRUP} altitude_ft=3000", "not in m",
         "3000 ft is 914.4 m: give altitude_m=914.4."),
        ("boiling-point", f"{SYRUP} altitude_m=3000ft", "no number of m",
         "3000 ft is 914.4 m: give altitude_m=914.4."),
        ("boiling-point", f"{SYRUP} pressure_hPa=1013.25", "not in kPa",
         "give pressure_kPa="),
        ("boiling-point", f"{SYRUP} altitude=3000", "has no unit",
         "Give altitude_m, in m."),
        ("water-activity", f"{SYRUP} T=20", "has no unit", "Give temperature_C"),
        ("syrup-exchange", "mass_kg=2 from=honey to=sugar", "not in g",
         "2 kg is 2000 g: give mass_g=2000."),
        ("boiling-point", "sucrose_kg=2 water=500", "not in g", "give sucrose=2000."),
        ("boil-minutes", "water_g=1 mass_g=9 power_W=2000", "not in kW",
         "give power_kW=2."),
        ("dew-point", "height_cm=2.5", "not in mm", "give height_mm=25."),
        ("dew-point", "density_kg_m3=1100", "not in g/ml", "give density_g_ml=1.1."),
        ("stop-weight", "sucrose=80 water=40 water_percent=20", "not in a share of 1",
         "20 % is 0.2: give water_share=0.2."),
        ("stop-weight", "sucrose=80 water=40 water_share=20%", "no number",
         "20 % is 0.2: give water_share=0.2."),
        ("stop-weight", "sucrose=80% water=20% boils_at_C=118",
         "can't tell grams from per cents", "in g"),
        ("dew-point", "temperature_C=20", "may be room_C (the room) or product_C",
         "Give room_C or product_C."),
        ("gelatine-exchange", "mass_g=2 bloom=200 to_grade=gold",
         "may be from_bloom", "Give from_bloom or to_bloom."),
        ("water-left", "sucrose=1 temperature_C=118 probe_in_boiling_water_C=101",
         "may be true, or what this probe reads",
         "Give boils_at_C=118 if it is true, else probe_C=118."),
        ("syrup", "brix=65 water=35", "the whole of a syrup", "Give brix alone"),
        ("syrup", "brix=165", "brix is '165'", "0 to 100"),
        ("syrup", "sucrose_g=65% water=35", "no number of g", "sucrose_g=20"),
        ("syrup", "sucrose=65% water=35g", "some in %", "one of the two"),
        ("ganache", "chocolate=dark cocoa_percent=60 chocolate_g=9",
         "Both chocolate and cocoa_percent", "Give one."),
        ("ganache", "chocolate=dark chocolate_g=9 cream=double cream_fat_percent=40",
         "Both cream and cream_fat_percent", "Give one."),
        ("syrup-exchange", "from=unobtainium to=honey", "does not know",
         "Add it to the larder."),
        ("raising-agents", "from=powder to=soda mass_g=5", "from is 'powder'",
         "Perhaps baking-powder?"),
    ],
)  # fmt: skip
def test_no_unit_and_no_meaning_is_taken_unseen(
    name: str, typed: str, what: str, do: str
) -> None:
    (mistake,) = told(name, typed)

    assert what in mistake.what
    assert do in mistake.do


def test_a_probe_of_the_kitchens_own_makes_a_temperature_two() -> None:
    kitchen = Kitchen(probe_in_boiling_water_C=101.0)
    around = Around(kitchen, built_in(), read_tin)
    pairs = [("sucrose", "1"), ("temp_C", "118")]
    with pytest.raises(CalcError, match="temp_C may be true"):
        calculated(calculator_at("water-left"), pairs, around)


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("altitud_m", "altitude_m"),
        ("pressure_in_kPa", "pressure_kPa"),
        ("glucse", "glucose"),
        ("honny", "honey"),
        ("elevaton_m", "altitude_m"),
        ("probe", "probe_in_boiling_water_C"),
    ],
)
def test_what_was_perhaps_meant_is_told(typed: str, near: str) -> None:
    (mistake,) = told("boiling-point", f"{SYRUP} {typed}=1")
    assert near in mistake.do.partition("?")[0]
    assert near in mistake.nearest


def test_a_setting_that_is_not_asked_brings_no_foods() -> None:
    for key in ("temperature_C", "temperature_F", "mass_kg", "time_min"):
        (mistake,) = told("boiling-point", f"{SYRUP} {key}=1")
        assert "Perhaps" not in mistake.do
    (mistake,) = told("boiling-point", f"{SYRUP} unobtainium=1")
    assert "Perhaps" not in mistake.do


@EVERY
def test_an_unknown_key_is_told_all_that_is_taken(calculator: Calculator) -> None:
    for key in ("qqqq_C", "zzzzzz"):
        with pytest.raises(CalcError) as error:
            calculated(calculator, [(key, "1")], AROUND)
        do = error.value.mistakes[0].do
        assert all(one.name in do for one in calculator.inputs)
        assert ("parts by mass" in do) == calculator.takes_parts


@EVERY
def test_other_names_have_the_same_unit_and_are_no_inputs(
    calculator: Calculator,
) -> None:
    own = {plain(one.name) for one in calculator.inputs}
    for one in calculator.inputs:
        for name in one.also:
            assert plain(name) not in own, name
            _, unit = split_unit(plain(name))
            bare = not unit and one.unit in {"", "g", "%", "bloom", "leaves", "eggs"}
            assert bare or unit == SUFFIX[one.unit].casefold(), name


@EVERY
def test_a_key_in_another_unit_is_never_taken(calculator: Calculator) -> None:
    units = ("F", "K", "ft", "cm", "kg", "lb", "hPa", "mbar", "W", "s", "kg_m3")
    for one in calculator.inputs:
        suffix = SUFFIX.get(one.unit, "")
        if not suffix or not one.name.endswith(f"_{suffix}"):
            continue
        for unit in units:
            key = f"{one.name.removesuffix(suffix)}{unit}"
            if not is_other_unit(unit.casefold(), one.unit):
                continue
            with pytest.raises(CalcError) as error:
                calculated(calculator, [(key, "20")], AROUND)
            assert one.name in error.value.mistakes[0].do


@given(
    st.sampled_from(["°C", "m", "mm", "g", "kPa", "kW", "g/ml"]),
    st.floats(0.01, 1000).map(lambda x: f"{x:.4f}"),
)
def test_what_it_comes_to_is_never_the_number_itself_but_for_alike(
    unit: str, text: str
) -> None:
    for typed in ("f", "ft", "cm", "kg", "hpa", "w", "kg_m3"):
        found = comes_to(text, typed, unit)
        assert (found is not None) == is_other_unit(typed, unit)
        if found is not None and typed != "f":
            assert found[1] != pytest.approx(float(text), rel=1e-3)


@pytest.mark.parametrize(
    ("text", "typed", "unit", "there"),
    [
        ("212", "f", "°C", 100), ("-40", "f", "°C", -40), ("0", "k", "°C", -273.15),
        ("29.92", "inhg", "kPa", 101.3), ("760", "mmhg", "kPa", 101.3),
        ("14.696", "psi", "kPa", 101.3), ("1", "atm", "kPa", 101.3),
        ("1013.25", "mbar", "kPa", 101.3), ("1", "lb", "g", 453.6),
        ("1", "oz", "g", 28.35), ("1", "in", "mm", 25.4), ("1", "km", "m", 1000),
        ("80", "percent", "share", 0.8), ("0.8", "share", "%", 80),
    ],
)  # fmt: skip
def test_units_come_to_what_they_are_defined_as(
    text: str, typed: str, unit: str, there: float
) -> None:
    found = comes_to(text, typed, unit)
    assert found is not None
    assert found[1] == pytest.approx(there, rel=5e-4)


@EVERY
def test_the_order_of_keys_changes_nothing(calculator: Calculator) -> None:
    words = shlex.split(calculator.example)[2:]
    pairs = [word.partition("=")[::2] for word in words]
    there = calculated(calculator, pairs, AROUND).answer
    back = calculated(calculator, pairs[::-1], AROUND).answer
    assert there.first.figure.number == pytest.approx(back.first.figure.number)
    for one, other in zip(there.also, back.also, strict=True):
        assert one.name == other.name
        if one.figure.known:
            assert one.figure.number == pytest.approx(other.figure.number)


def test_every_pair_of_inputs_can_be_told_apart() -> None:
    for calculator in CALCULATORS:
        for one, other in combinations(calculator.inputs, 2):
            assert plain(one.name) != plain(other.name)


def test_a_unit_is_no_other_than_itself() -> None:
    assert not is_other_unit("c", "°C")
    assert not is_other_unit("kpa", "kPa")
    assert not is_other_unit("percent", "%")
    assert not is_other_unit("ft", "g")


def test_the_water_of_a_stage_is_what_water_left_tells() -> None:
    made = "sucrose=50 glucose=20 alcohol=15"
    stage = asked("sugar-stages", f"{made} temperature_C=118").answer
    left = asked("water-left", f"{made} boils_at_C=118").answer.first.figure
    share = next(one.figure for one in stage.also if one.name == "water_share")

    assert share.number == pytest.approx(left.number)
    assert (share.low, share.high) == pytest.approx((left.low, left.high))


@pytest.mark.parametrize(
    "typed", ["rh_percent=1", "relative_humidity=1%", "humidity_percent=1"]
)
def test_one_per_cent_is_no_full_air(typed: str) -> None:
    answer = asked("dew-point", f"room_C=20 {typed}").answer

    # -38 °C, and not the 20 °C of a share of 1
    assert answer.first.figure.number < -30
    assert not any("taken as 100 %" in note for note in answer.notes)
    share = asked("dew-point", "room_C=20 relative_humidity=1").answer
    assert share.first.figure.number == pytest.approx(20)
    assert any("taken as 100 %" in note for note in share.notes)


def test_a_cream_that_does_not_come_in_is_told() -> None:
    answer = asked("dairy-exchange", "from_cream=milk to_cream=double cream_g=100")

    assert answer.answer.first.figure.number == 0
    assert answer.answer.notes[0].startswith("Without any double cream")
