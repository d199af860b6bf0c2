"""Boiling points of solutions against tables, caramels and what must always hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.boiling import (
    SEA_KPA,
    boiling_point_of,
    boiling_range,
    water_left,
    water_left_range,
)
from slabwright.physics.species import AT, SPECIES, Parts, parts
from slabwright.physics.water import boiling_point, saturation_pressure

from .solution_rows import Row, by_id, conditions, rows, solution

BOILS = rows("boiling_point.csv", quantity="boiling_point")
OLD = "Browne"
"""A table of 1912 that lies higher than all others: see its notes."""
BEST = [one for one in BOILS if OLD not in one["source"]]
SUGAR_AT = rows("boiling_point.csv", quantity="sugar_content_at_boiling_temperature")
ISOPIESTIC = [
    one
    for one in rows("water_activity_solutions.csv", material="sucrose_water")
    if "isopiestic" in one["source"]
]
CARAMEL = rows("cooked_caramel.csv")
MASSES = st.lists(
    st.floats(0, 100).map(lambda x: x if x > 1e-6 else 0.0),
    min_size=len(SPECIES),
    max_size=len(SPECIES),
)
KPA = st.floats(30, 120)


def boils(row: Parts, kPa: float) -> float:
    """Where it boils; infinite where so little water is left that nobody knows."""
    found = float(boiling_point_of(row, kPa))
    return np.inf if np.isnan(found) else found


def wet(masses: list[float], water: float) -> Parts:
    made = np.array(masses)
    made[AT["water"]] = water
    return made


def caramel(percent_water: float, fat: float) -> Parts:
    """A dairy caramel with corn syrup of 42 DE, by how much fat it has.

    Sugar, syrup and milk solids in the proportions of common formulas, from memory.
    """
    made = {
        "sucrose": 34.0, "glucose": 7.2, "maltose": 5.3, "higher_saccharides": 25.5,
        "lactose": 4.5, "protein": 2.8, "minerals": 0.65, "salt": 0.25,
    }  # fmt: skip
    beside = (100 - percent_water - fat) / sum(made.values())
    return parts(
        **{name: mass * beside for name, mass in made.items()},
        fat_milk=fat, water=percent_water,
    )  # fmt: skip


def near(percent: float) -> float:
    """How near to careful sources it must be, by the share of sugar [K]."""
    return (
        0.3 if percent <= 65 else 1.0 if percent <= 80 else 2.0 if percent <= 90 else 4
    )


@pytest.mark.parametrize("row", BOILS, ids=by_id)
def test_published_boils_come_out(row: Row) -> None:
    found = boiling_point_of(solution(row), conditions(row)["pressure_kPa"])

    assert found == pytest.approx(float(row["value"]), abs=float(row["tol"]))


@pytest.mark.parametrize("row", BEST, ids=by_id)
def test_sucrose_is_as_near_as_it_must_be(row: Row) -> None:
    percent = float(row["percent_w_w"])
    digit = 0.05 if row["kind"] == "point" else 0.0

    found = boiling_point_of(solution(row), conditions(row)["pressure_kPa"])

    assert found == pytest.approx(float(row["value"]), abs=near(percent) + digit)


def test_the_old_table_is_higher_than_ours_as_its_note_says() -> None:
    old = [one for one in BOILS if OLD in one["source"]]
    higher = {
        float(row["percent_w_w"]): float(row["value"])
        - float(boiling_point_of(solution(row)))
        for row in old
    }

    assert len(old) >= 30
    assert min(higher.values()) > -0.1
    assert 0.0 < np.mean([k for share, k in higher.items() if share < 55]) < 0.4
    assert 1.5 < np.mean([k for share, k in higher.items() if 70 <= share <= 80]) < 2.8
    assert 3.5 < higher[88.0] < 5.5


@pytest.mark.parametrize("row", SUGAR_AT, ids=by_id)
def test_a_books_sugar_at_a_temperature_comes_out(row: Row) -> None:
    left = water_left(parts(sucrose=100), float(row["T_C"]))

    assert 100 * 100 / (100 + left) == pytest.approx(
        float(row["value"]), abs=float(row["tol"])
    )


@pytest.mark.parametrize("row", ISOPIESTIC, ids=by_id)
def test_other_peoples_activities_give_the_same_boils(row: Row) -> None:
    # isopiestic activities of another laboratory at 25 °C; up to the boil they rise by
    # 0.01 at most, by the equation
    syrup = solution(row)
    hot = boils(syrup, SEA_KPA)
    activity = SEA_KPA / float(saturation_pressure(hot))

    assert activity == pytest.approx(float(row["value"]), abs=0.0115)
    plain = float(boiling_point(SEA_KPA / float(row["value"])))
    assert hot == pytest.approx(plain, abs=0.37)


@pytest.mark.parametrize("row", CARAMEL, ids=by_id)
def test_dairy_caramels_keep_the_water_that_a_paper_found(row: Row) -> None:
    # never fitted to; nobody tells how much fat those had: 10 to 20 % is usual
    percent, hot = float(row["value"]), float(row["T_C"])
    for fat in (10.0, 15.0, 20.0):
        made = caramel(percent, fat)
        left = float(water_left(made, hot))
        share = 100 * left / (left + 100 - percent)
        assert share == pytest.approx(percent, abs=1.2)
        assert boiling_point_of(made) == pytest.approx(hot, abs=2.2)
    made = caramel(percent, 15.0)
    low, high = water_left_range(made, hot)
    assert low <= percent <= high


@pytest.mark.parametrize("row_id", ["SB0001", "SB0002", "SB0003"])
def test_sugar_makers_and_jelly_makers_stop_where_ours_does(row_id: str) -> None:
    (row,) = rows("solution_pages.csv", id=row_id)
    strong = float(row["percent_w_w"])
    split = strong / 14 if row["material"] == "fruit jelly" else 0.0
    syrup = parts(
        sucrose=strong - 2 * split, glucose=split, fructose=split, water=100 - strong
    )
    rise = float(boiling_point_of(syrup)) - float(boiling_point(SEA_KPA))

    low, high = float(row["value"]), float(row["value_hi"] or row["value"])
    assert low - float(row["tol"]) <= rise <= high + float(row["tol"])


def test_richer_syrup_of_small_sugars_boils_hotter_at_the_same_water() -> None:
    # the same paper: 62 DE took 1.1 K more than the others at 10 % of water
    thin = parts(sucrose=40, glucose=10, maltose=7, higher_saccharides=33, water=10)
    rich = parts(sucrose=40, glucose=19, maltose=14, higher_saccharides=17, water=10)
    more = float(boiling_point_of(rich)) - float(boiling_point_of(thin))

    assert 0.5 < more < 6


@pytest.mark.parametrize("name", ["boiling_point_water", "saturation_temperature"])
def test_water_boils_where_standards_say(name: str) -> None:
    for row in rows("boiling_point.csv", quantity=name):
        given_ = conditions(row)
        kPa = given_.get("pressure_kPa", 1000 * given_.get("pressure_MPa", np.nan))
        shift = 273.15 if row["unit"] == "K" else 0.0
        assert float(boiling_point(kPa)) + shift == pytest.approx(
            float(row["value"]), abs=float(row["tol"])
        )
        assert boiling_point_of(parts(water=1), kPa) == boiling_point(kPa)


def test_the_pressure_of_vapour_is_that_of_the_standard() -> None:
    for row in rows("boiling_point.csv", quantity="saturation_pressure"):
        kelvin = conditions(row)["T_K"]
        found = float(saturation_pressure(kelvin - 273.15)) / 1000
        assert found == pytest.approx(float(row["value"]), abs=float(row["tol"]))
    hot = np.linspace(1, 370, 50)
    assert boiling_point(saturation_pressure(hot)) == pytest.approx(hot, abs=1e-7)


def test_brine_and_glycerine_boil_where_handbooks_say() -> None:
    # from memory: saturated brine, 28.3 %, at 108.7 °C; glycerol in water
    assert boiling_point_of(parts(salt=28.3, water=71.7)) == pytest.approx(108.7, abs=1)
    for share, hot in ((50, 106), (70, 113.6), (80, 121), (90, 138)):
        glycerol = parts(glycerol=share, water=100 - share)
        assert boiling_point_of(glycerol) == pytest.approx(hot, abs=1)


@given(MASSES, st.floats(1, 500), KPA)
def test_more_of_a_solute_never_lowers_it(
    masses: list[float], water: float, kPa: float
) -> None:
    row = wet(masses, water)
    value = boils(row, kPa)

    assert value >= boiling_point(kPa) - 1e-6
    for name in SPECIES:
        more = row.copy()
        more[AT[name]] += 2.0
        other = boils(more, kPa)
        if name == "water":
            assert other <= value + 1e-6
        else:
            assert other >= value - 1e-6


@given(MASSES, MASSES, st.floats(1, 200), st.floats(1, 200), KPA)
def test_what_is_poured_together_boils_between(
    one: list[float], other: list[float], water: float, more: float, kPa: float
) -> None:
    a, b = wet(one, water), wet(other, more)
    ends = sorted(boils(row, kPa) for row in (a, b))
    mixed = boils(a + b, kPa)

    assert ends[0] - 1e-4 <= mixed <= ends[1] + 1e-4


@given(MASSES, st.floats(1.0, 60.0), KPA)
def test_water_left_is_the_boiling_point_turned_round(
    masses: list[float], above: float, kPa: float
) -> None:
    row = wet(masses, 0.0)
    row[AT["alcohol"]] = 0.0
    if row.sum() - row[[AT[one] for one in SPECIES if "fat" in one]].sum() < 1e-3:
        return
    hot = float(boiling_point(kPa)) + above
    row[AT["water"]] = float(water_left(row, hot, kPa))

    assert boiling_point_of(row, kPa) == pytest.approx(hot, abs=0.02)


@given(st.floats(1, 96.5), st.floats(50, 110))
def test_it_boils_lower_where_the_air_is_thin(share: float, kPa: float) -> None:
    syrup = parts(sucrose=share, water=100 - share)
    here, thinner = boiling_point_of(syrup, np.array([kPa, kPa - 5]))

    assert thinner < here


def test_the_rise_over_water_hardly_changes_with_altitude() -> None:
    # Dühring's rule: what sugar factories reckon with
    syrup = parts(sucrose=80, water=20)
    rises = [
        float(boiling_point_of(syrup, kPa)) - float(boiling_point(kPa))
        for kPa in (101.325, 84.556, 70.109)
    ]

    assert rises == pytest.approx([9.46, 9.22, 8.98], abs=0.1)


def test_the_likely_range_is_as_wide_as_sources_lie_apart() -> None:
    for share in (40.0, 65.0, 80.0, 90.0, 95.0):
        syrup = parts(sucrose=share, water=100 - share)
        low, high = boiling_range(syrup)
        value = boiling_point_of(syrup)
        assert low < value < high
        assert high - low < 2.2 * near(share)
        assert high - low > 0.4 * near(share) * (share >= 65)
    # a syrup by lumps and milk is less sure
    plain = np.diff(boiling_range(parts(sucrose=90, water=10)))
    assert np.diff(boiling_range(caramel(10, 14))) > 1.3 * plain


def test_alcohol_counts_as_gone_and_fat_as_not_there() -> None:
    plain = boiling_point_of(parts(sucrose=60, water=40))

    assert boiling_point_of(parts(sucrose=60, water=40, alcohol=20)) == plain
    assert boiling_point_of(parts(sucrose=60, water=40, fat_milk=50)) == plain


def test_protein_starch_and_fibre_keep_some_water_back() -> None:
    plain = float(boiling_point_of(parts(sucrose=80, water=12)))
    with_milk = float(boiling_point_of(parts(sucrose=80, water=12, protein=4)))
    dry = water_left(parts(starch=10, sucrose=1e-9), 120.0)

    assert plain + 0.3 < with_milk < plain + 4
    assert 0.2 < dry < 1.5
    # with water to spare they change nothing
    thin = boiling_point_of(parts(protein=4, water=100))
    assert thin == pytest.approx(float(boiling_point(SEA_KPA)), abs=1e-9)


def test_what_can_t_be_known_is_no_number() -> None:
    assert np.isnan(boiling_point_of(parts(sucrose=1)))
    assert np.isnan(boiling_point_of(parts(sucrose=100, water=1e-7)))
    assert np.isnan(boiling_point_of(parts(fat_milk=1)))
    assert np.isnan(boiling_point_of(parts(sucrose=50, water=50), np.nan))
    assert np.isnan(boiling_point_of(parts(sucrose=50, water=50), -1))
    assert np.isnan(boiling_point_of(parts(sucrose=50, water=50), np.inf))
    assert np.isnan(water_left(parts(sucrose=1), 90.0))
    assert np.isnan(water_left(parts(sucrose=1), 400.0))
    assert np.isnan(water_left(parts(sucrose=1), np.nan))
    assert np.isnan(water_left_range(parts(sucrose=1), 90.0)).all()
    assert np.isnan(boiling_range(parts(sucrose=1))).all()
    bad = np.array([parts(sucrose=50, water=50)] * 2)
    bad[1, AT["sucrose"]] = -1
    assert np.isnan(boiling_point_of(bad)).tolist() == [False, True]


def test_arrays_of_any_shape_are_rows_side_by_side() -> None:
    some = np.random.default_rng(4).random((3, 2, len(SPECIES)))
    some[..., AT["water"]] += 3
    kPa = np.array([101.325, 84.0])
    value, (low, high) = boiling_point_of(some, kPa), boiling_range(some, kPa)
    left = water_left(some, value, kPa)

    assert value.shape == low.shape == high.shape == left.shape == (3, 2)
    for i in range(3):
        for j in range(2):
            alone = boiling_point_of(some[i, j], kPa[j])
            assert value[i, j] == pytest.approx(float(alone), abs=1e-7)
    assert boiling_point_of(some[0, 0], kPa).shape == (2,)
    assert water_left(some[0, 0], np.array([105.0, 110.0, 120.0])).shape == (3,)


def test_many_rows_keep_the_water_that_each_would_alone() -> None:
    some = np.random.default_rng(6).random((200, len(SPECIES)))
    hot = np.linspace(99.9743, 160, 200)
    hot[7] = 90.0
    left = water_left(some, hot)

    for at in (0, 1, 7, 60, 199):
        alone = float(water_left(some[at], hot[at]))
        assert left[at] == pytest.approx(alone, rel=1e-9, nan_ok=True)
    rows_ = water_left(some[3], hot)
    assert rows_.shape == (200,)
    assert rows_[50] == pytest.approx(float(water_left(some[3], hot[50])), rel=1e-9)
