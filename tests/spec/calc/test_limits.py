"""What physics and arithmetic demand of the calculators, whatever is asked of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.files.card.sizes import read_tin
from slabwright.kitchen import Kitchen
from slabwright.larder.load import built_in
from slabwright.physics.solubility import salt_solubility
from slabwright.spec.calc.calculated import calculated, calculator_at
from slabwright.spec.calc.calculator import Answer, Around

AROUND = Around(Kitchen(), built_in(), read_tin)
SUGARS = ("sucrose", "glucose", "fructose", "lactose", "maltose", "sorbitol", "salt",
          "glycerol", "citric_acid", "higher_saccharides")  # fmt: skip
SOLUTIONS = ("boiling-point", "water-activity", "syrup-density", "syrup",
             "glass-transition", "sucrose-solubility")  # fmt: skip
AGENTS = ("bicarbonate-of-soda", "potassium-bicarbonate", "baking-powder",
          "ammonium-bicarbonate", "self-raising-flour")  # fmt: skip
Made = dict[str, float]


@st.composite
def make_ups(draw: st.DrawFn) -> Made:
    names = draw(st.lists(st.sampled_from(SUGARS), min_size=1, max_size=3, unique=True))
    made = {name: draw(st.integers(1, 60)) / 1.0 for name in names}
    return {**made, "water": float(draw(st.integers(15, 200)))}


def ask(name: str, asked: dict[str, object]) -> Answer:
    pairs = [(key, f"{value}") for key, value in asked.items()]
    return calculated(calculator_at(name), pairs, AROUND).answer


def first(name: str, **asked: object) -> float:
    return ask(name, asked).first.figure.number


@given(make_ups(), st.sampled_from(SUGARS), st.integers(1, 20))
def test_more_dissolved_never_frees_water_nor_boils_sooner(
    made: Made, name: str, more: int
) -> None:
    with_more = {**made, name: made.get(name, 0.0) + more}

    assert first("water-activity", **with_more) < first("water-activity", **made)
    assert first("boiling-point", **with_more) > first("boiling-point", **made)


@given(make_ups(), st.integers(1, 100))
def test_water_thins_a_syrup(made: Made, more: int) -> None:
    thinned = {**made, "water": made["water"] + more}

    assert first("water-activity", **thinned) > first("water-activity", **made)
    assert first("boiling-point", **thinned) < first("boiling-point", **made)
    assert first("syrup", **thinned) <= first("syrup", **made)


@pytest.mark.parametrize("name", SOLUTIONS)
@given(made=make_ups(), times=st.sampled_from([0.01, 0.1, 10, 1000]))
def test_ten_times_as_much_is_the_same_syrup(
    name: str, made: Made, times: float
) -> None:
    sweet = {**made, "sucrose": 20.0}  # salt alone makes no glass
    one, other = (
        ask(name, {key: f"{mass * by:.10g}" for key, mass in sweet.items()})
        for by in (1, times)
    )

    for shown, again in zip((one.first, *one.also), (other.first, *other.also),
                            strict=True):  # fmt: skip
        assert shown.figure.known == again.figure.known
        if shown.figure.known:
            there = shown.figure.number
            assert again.figure.number == pytest.approx(there, rel=1e-6, abs=1e-9)


@given(make_ups(), st.integers(-400, 4000), st.integers(50, 1500))
def test_higher_up_everything_boils_sooner(made: Made, low: int, more: int) -> None:
    for name in ("boiling-point", "syrup"):
        answers = [ask(name, {**made, "altitude_m": at}) for at in (low, low + more)]
        points = [
            {one.name: one.figure.number for one in (a.first, *a.also)
             if one.figure.known}["boiling_point_C"]
            for a in answers
        ]  # fmt: skip
        assert points[1] < points[0]


@given(make_ups(), st.integers(-400, 4000))
def test_water_left_turns_a_boiling_point_round(made: Made, high: int) -> None:
    boils = first("boiling-point", **made, altitude_m=high)
    asked = {**made, "boils_at_C": f"{boils:.9f}", "altitude_m": high}
    plain = first("boiling-point", water=1, altitude_m=high)
    if boils < plain + 0.05:
        return  # nothing of a mix can be told so near to water
    room = float(salt_solubility(max(boils, 0.0))) / 100
    if made.get("salt", 0.0) > 0.99 * room * made["water"]:
        return  # brine with crystals boils at one temperature, whatever its water
    answer = ask("water-left", asked)
    left = next(one.figure for one in answer.also if one.name == "water_g")

    assert left.number == pytest.approx(made["water"], rel=1e-3)


def test_water_alone_is_water() -> None:
    assert first("water-activity", water=3) == 1
    assert first("boiling-point", water=3, pressure_kPa=101.325) == pytest.approx(
        99.974, abs=0.002
    )
    assert first("syrup", water=3) == 0
    # CRC Handbook, water at 20 °C: 998.2 kg/m³
    assert first("syrup-density", water=3) == pytest.approx(998.2, abs=0.1)


@given(st.floats(1, 500), st.integers(50, 300), st.integers(50, 300),
       st.sampled_from(["linear", "square_root"]))  # fmt: skip
def test_gelatine_there_and_back(mass: float, one: int, other: int, rule: str) -> None:
    there = first("gelatine-exchange", mass_g=mass, from_bloom=one, to_bloom=other,
                  rule=rule)  # fmt: skip
    back = first("gelatine-exchange", mass_g=there, from_bloom=other, to_bloom=one,
                 rule=rule)  # fmt: skip

    assert back == pytest.approx(mass)


@given(st.floats(0.5, 500), st.sampled_from(AGENTS), st.sampled_from(AGENTS))
def test_raising_agents_there_and_back(mass: float, one: str, other: str) -> None:
    there = first("raising-agents", **{"mass_g": mass, "from": one, "to": other})
    back = first("raising-agents", **{"mass_g": there, "from": other, "to": one})

    assert back == pytest.approx(mass)


@given(st.integers(50, 600), st.integers(50, 600), st.integers(50, 600))
def test_tins_there_and_back(one: int, other: int, wide: int) -> None:
    tins = f"{one} x {wide} mm", f"{other} mm round"
    there = first("tin-factor", from_tin=tins[0], to_tin=tins[1])
    back = first("tin-factor", from_tin=tins[1], to_tin=tins[0])

    assert there * back == pytest.approx(1)


@given(st.integers(-10, 50), st.integers(2, 99))
def test_damper_air_has_its_dew_sooner_and_never_over_the_room(
    room: int, humid: int
) -> None:
    dry, damp, full = (
        first("dew-point", room_C=room, relative_humidity=at)
        for at in (humid, humid + 1, 100)
    )
    assert dry < damp <= full
    assert full == pytest.approx(room, abs=0.01)


@given(st.integers(100, 5000), st.integers(1, 60), st.floats(0.5, 4))
def test_twice_the_power_halves_the_minutes(
    mass: int, percent: int, power: float
) -> None:
    asked = {"mass_g": mass, "water_g": mass * percent / 100, "dry_share": 0.3}
    slow = first("boil-minutes", **asked, power_kW=power)
    quick = first("boil-minutes", **asked, power_kW=2 * power)

    assert slow == pytest.approx(2 * quick)


@given(st.floats(1, 5000), st.sampled_from(["small", "medium", "large"]))
def test_eggs_of_the_same_box_are_as_many(count: float, size: str) -> None:
    answer = ask("egg-exchange", {"count": count, "size": size, "to_size": size})
    eggs = next(one.figure.number for one in answer.also if one.name == "eggs")

    assert eggs == pytest.approx(count)


@pytest.mark.parametrize("name", ["dark chocolate 60%", "milk chocolate"])
def test_a_chocolate_for_itself_changes_nothing(name: str) -> None:
    asked = {"from_chocolate": name, "to_chocolate": name, "chocolate_g": 250,
             "cream_g": 95}  # fmt: skip
    answer = ask("chocolate-exchange", asked)
    cream = next(one.figure.number for one in answer.also if one.name == "cream_g")

    assert answer.first.figure.number == pytest.approx(250, abs=0.1)
    assert cream == pytest.approx(95, abs=0.1)


def test_a_cream_for_itself_changes_nothing() -> None:
    asked = {"from_cream": "double cream", "to_cream": "double cream", "cream_g": 95}

    assert first("dairy-exchange", **asked) == pytest.approx(95, abs=0.05)
