"""Water activity against published points, freezing points and what always holds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.activity import (
    beyond_data,
    dissolved_water,
    doubts,
    likely_range,
    sources_of,
    water_activity,
)
from slabwright.physics.holding import TOP_U, build, node_of_ratio
from slabwright.physics.solute import dissolves, lowerings, osmotic_coefficient, solutes
from slabwright.physics.species import AT, SPECIES, Parts, parts
from slabwright.physics.steam import activity_beside_ice

from .solution_rows import Row, by_id, rows, solution

TABLE = "water_activity_solutions.csv"
POINTS = rows(TABLE, quantity="water_activity")
MOIST = rows(TABLE, quantity="equilibrium_moisture")
FREEZING = rows("freezing_points.csv")
BRINES = {"AW0109"}
"""Its basis is not stated: per 100 g of water it fits, per 100 g of brine not."""
SLACK = {
    # what is far under 0 °C there has its constants from 25 °C
    "glycerol": (0.0110, "a cold of 16 K, which its own equation does not reach"),
    "alcohol": (0.0070, "a cold of 20 K"),
    "calcium_chloride": (0.0270, "a cold of 35 K"),
    "lactic_acid": (0.0025, "partly joined to chains, which the table is silent about"),
    "citric_acid": (0.0050, "between freezing points and its saturated solution"),
    "acetic_acid": (0.0025, ""),
    "salt": (0.0160, "a cold of 20 K: its constants hold at 25 °C"),
    "maltose": (0.0015, "between Norrish's constant and these"),
}
ROW = st.lists(
    st.floats(0, 100).map(lambda x: x if x > 1e-6 else 0.0),
    min_size=len(SPECIES),
    max_size=len(SPECIES),
)


def wet(masses: list[float], water: float) -> Parts:
    made = np.array(masses)
    made[AT["water"]] = water
    return made


@pytest.mark.parametrize("row", POINTS, ids=by_id)
def test_published_points_come_out(row: Row) -> None:
    syrup = solution(row)
    if row["id"] in BRINES:
        share = float(row["percent_w_w"])
        syrup = parts(salt=share, water=100)

    value = water_activity(syrup, float(row["T_C"]))

    assert value == pytest.approx(float(row["value"]), abs=float(row["tol"]))


@pytest.mark.parametrize(
    "row",
    [one for one in POINTS if one["material"] == "sucrose_water"],
    ids=by_id,
)
def test_sucrose_is_as_near_as_it_must_be(row: Row) -> None:
    # 0.002 to 67 %, 0.01 to 85 %; what was rounded to two digits is off by half of one
    share = float(row["percent_w_w"])
    rounded = 0.005 if row["kind"] == "point" else 0.0
    near = (0.002 if share <= 67.5 else 0.01) + rounded

    value = water_activity(solution(row), float(row["T_C"]))

    assert value == pytest.approx(float(row["value"]), abs=near)


@pytest.mark.parametrize(
    "row", [one for one in FREEZING if one["material"] != "milk"], ids=by_id
)
def test_solutions_freeze_where_they_do(row: Row) -> None:
    # beside ice the activity is a matter of the temperature alone
    cold = -float(row["value"])
    digits = 0.0003  # what 0.02 K of the table come to
    slack = SLACK.get(row["material"], (0.0012, ""))[0]

    found = water_activity(solution(row), cold)

    assert found == pytest.approx(float(activity_beside_ice(cold)), abs=slack + digits)


def test_milk_freezes_where_it_does() -> None:
    (row,) = (one for one in FREEZING if one["material"] == "milk")
    milk = parts(
        lactose=4.7, minerals=0.73, protein=3.3, fat_milk=3.8, organic_acids=0.2,
        water=87.3,
    )  # fmt: skip
    cold = -float(row["value"])

    found = water_activity(milk, cold)

    assert found == pytest.approx(float(activity_beside_ice(cold)), abs=0.0003)


@pytest.mark.parametrize("row", MOIST, ids=by_id)
def test_syrups_and_humectants_hold_what_a_table_has(row: Row) -> None:
    # Sloan and Labuza; their sucrose is drier than any solution at 0.6 and 0.7, where
    # the last of it crystallises under the eyes: only shown, by a wider allowance
    solid = {
        "corn": parts(glucose=19, maltose=14, higher_saccharides=67),
        "fructose": parts(fructose=100),
        "sorbitol": parts(sorbitol=100),
        "sucrose": parts(sucrose=100),
    }[row["material"].split()[0]]
    wide = {"sucrose": 1.4, "fructose": 1.25}.get(row["material"].split()[0], 1.0)

    held = dissolved_water(solid, float(row["aw"]))

    assert held == pytest.approx(float(row["value"]), abs=wide * float(row["tol"]))


def test_saturated_salt_stands_over_its_humidity() -> None:
    # 35.9 g of sodium chloride to 100 g of water at 25 °C, from memory of tables
    published = {row["id"]: row for row in rows(TABLE, quantity="saturated_salt_RH")}
    salt = 100 * water_activity(parts(salt=35.9, water=100))

    assert salt == pytest.approx(float(published["AW0200"]["value"]), abs=0.5)


def test_saturated_sugar_stands_over_its_humidity() -> None:
    published = {row["id"]: row for row in rows(TABLE, quantity="deliquescence_RH")}
    # solubilities at 25 °C [% by mass], from memory of handbooks
    for row_id, name, share in (
        ("AW0205", "sucrose", 67.4),
        ("AW0208", "citric_acid", 62.0),
        ("AW0209", "xylitol", 64.0),
    ):
        row = published[row_id]
        over = 100 * water_activity(parts(**{name: share, "water": 100 - share}))
        assert over == pytest.approx(float(row["value"]), abs=float(row["tol"]))


def test_norrishs_constants_are_those_of_the_stored_table() -> None:
    # where the table holds a sugar that ours takes from it
    table = {row["material"]: row for row in rows(TABLE, quantity="norrish_K")}
    own = {one.species: one for one in solutes()}
    for name in ("glucose", "fructose"):
        assert own[name].constants[0] == float(table[name]["value"])
    # sucrose by the other equation comes to Norrish's within 0.004 down to 0.80
    for share in (10.0, 30.0, 50.0, 60.0, 70.0):
        moles = share / 342.297, (100 - share) / 18.0153
        x = moles[0] / sum(moles)
        norrish = (1 - x) * np.exp(-float(table["sucrose"]["value"]) * x * x)
        ours = water_activity(parts(sucrose=share, water=100 - share))
        assert ours == pytest.approx(norrish, abs=0.004)


@pytest.mark.parametrize(
    ("percent_water", "activity"),
    # Abramovic et al. (2008) and Serin et al. (2018), abstracts: midpoints of ranges
    [(15.70, 0.537), (16.30, 0.518), (17.75, 0.5405)],
)
def test_honey_is_within_three_hundredths(
    percent_water: float, activity: float
) -> None:
    dry = (100 - percent_water) / 82
    honey = parts(
        fructose=38.5 * dry, glucose=31 * dry, maltose=7.5 * dry, sucrose=1.3 * dry,
        higher_saccharides=3 * dry, organic_acids=0.5 * dry, minerals=0.2 * dry,
        water=percent_water,
    )  # fmt: skip

    assert water_activity(honey) == pytest.approx(activity, abs=0.03)


def test_condensed_milk_lies_where_its_makers_want_it() -> None:
    (row,) = rows("solution_pages.csv", id="SB0004")
    # all of its lactose dissolved, and the half that stays dissolved when it is cool
    for lactose in (10.5, 5.0):
        milk = parts(
            sucrose=44.5, lactose=lactose, minerals=1.6, protein=7, fat_milk=8.5,
            water=26.5,
        )  # fmt: skip
        found = water_activity(milk)
        assert float(row["value"]) < found < float(row["value_hi"])


def test_a_mix_of_one_thing_under_two_names_is_that_thing() -> None:
    # trehalose is taken as sucrose
    both = water_activity(parts(sucrose=40, trehalose=40, water=20))

    assert both == pytest.approx(water_activity(parts(sucrose=80, water=20)), abs=1e-9)


@given(ROW, st.floats(0.5, 500), st.floats(0, 140))
def test_more_of_a_solute_never_raises_it(
    masses: list[float], water: float, warm: float
) -> None:
    row = wet(masses, water)
    value = float(water_activity(row, warm))

    assert 0 <= value <= 1
    for at in np.flatnonzero(dissolves()):
        more = row.copy()
        more[at] += 3.0
        other = float(water_activity(more, warm))
        if at == AT["water"]:
            assert other >= value - 1e-12
        else:
            assert other <= value + 1e-12


@given(ROW, ROW, st.floats(0.5, 200), st.floats(0.5, 200), st.floats(0, 140))
def test_what_is_poured_together_lies_between(
    one: list[float], other: list[float], water: float, more: float, warm: float
) -> None:
    a, b = wet(one, water), wet(other, more)
    ends = sorted(float(water_activity(row, warm)) for row in (a, b))
    mixed = float(water_activity(a + b, warm))

    assert ends[0] - 1e-7 <= mixed <= ends[1] + 1e-7


@given(ROW, st.floats(1, 200), st.floats(1e-3, 1e3), st.floats(0, 140))
def test_only_proportions_count(
    masses: list[float], water: float, scale: float, warm: float
) -> None:
    row = wet(masses, water)
    once, scaled = (float(water_activity(r, warm)) for r in (row, row * scale))

    assert scaled == pytest.approx(once, abs=1e-9)


@given(ROW, st.floats(0.001, 0.9999), st.floats(0, 140))
def test_dissolved_water_is_the_activity_turned_round(
    masses: list[float], activity: float, warm: float
) -> None:
    row = wet(masses, 0.0)
    if not (row * dissolves()).sum() > 1e-3:
        return
    row[AT["water"]] = float(dissolved_water(row, activity, warm))

    assert float(water_activity(row, warm)) == pytest.approx(activity, abs=2e-5)


@given(ROW, st.floats(0.5, 200), st.floats(0, 140))
def test_the_likely_range_lies_around_it(
    masses: list[float], water: float, warm: float
) -> None:
    row = wet(masses, water)
    low, high = likely_range(row, warm)

    assert 0 <= low <= water_activity(row, warm) <= high <= 1


def test_the_range_is_wider_for_lumps_and_for_syrups_with_less_water() -> None:
    def width(row: Parts) -> float:
        low, high = likely_range(row)
        return float(high - low)

    thin, thick = parts(sucrose=40, water=60), parts(sucrose=85, water=15)
    assert width(thin) < width(thick)
    assert width(thick) < width(parts(higher_saccharides=85, water=15))
    assert doubts().max() < 0.5


def test_pure_limits_are_exact() -> None:
    assert water_activity(parts(water=3.0)) == 1
    assert water_activity(parts(water=3.0, fat_milk=1, starch=2, protein=1)) == 1
    assert water_activity(parts(sucrose=3.0)) == 0
    assert np.isnan(water_activity(parts(fat_cocoa=1.0)))
    assert np.isnan(water_activity(np.zeros(len(SPECIES))))
    # very little water, and very little sugar
    assert 0 < water_activity(parts(sucrose=100, water=1e-6)) < 0.01
    raoult = 1 - 1e-6 / 342.297 * 18.0153
    assert water_activity(parts(sucrose=1e-6, water=1)) == pytest.approx(
        raoult, abs=1e-11
    )


def test_what_is_no_number_gives_none_and_spoils_no_other_row() -> None:
    table = np.array([parts(sucrose=50, water=50)] * 4)
    table[1, AT["sucrose"]] = np.nan
    table[2, AT["water"]] = np.inf
    value = water_activity(table, np.array([25.0, 25.0, 25.0, -300.0]))

    assert value[0] == pytest.approx(0.936, abs=0.002)
    assert np.isnan(value[1:]).all()
    assert np.isnan(water_activity(table[0], np.nan))
    assert np.isnan(dissolved_water(table[0], -0.2))
    assert np.isnan(dissolved_water(table[0], 1.2))
    assert np.isinf(dissolved_water(table[0], 1.0))
    assert dissolved_water(parts(fat_milk=3), 0.5) == 0


def test_arrays_of_any_shape_are_rows_side_by_side() -> None:
    some = np.random.default_rng(4).random((3, 2, len(SPECIES)))
    warm = np.array([20.0, 60.0])
    value = water_activity(some, warm)

    assert value.shape == (3, 2)
    for i in range(3):
        for j in range(2):
            alone = water_activity(some[i, j], warm[j])
            assert value[i, j] == pytest.approx(float(alone), abs=1e-10)
    assert water_activity(some[0, 0], warm).shape == (2,)


def test_many_rows_are_worked_out_like_few() -> None:
    some = np.random.default_rng(5).random((9000, len(SPECIES)))
    whole = water_activity(some, 30.0)

    picked = [0, 4095, 4096, 8999]
    alone = [float(water_activity(some[at], 30.0)) for at in picked]
    assert whole[picked] == pytest.approx(alone, abs=1e-12)


@pytest.mark.parametrize("ratio", [0.7, 0.8, 1.0, 1.1, 1.2])
def test_every_curve_rises_from_nought_without_a_bend_back(ratio: float) -> None:
    molality = np.exp(np.linspace(-14, 14, 3000))
    u = lowerings(np.tile(molality, (len(solutes()), 1)), ratio)

    assert (np.diff(u, axis=1) > 0).all()
    # ideal where it is thin: u is the mole fraction of the particles
    ions = np.array([one.ions for one in solutes()])
    assert u[:, 0] == pytest.approx(ions * molality[0] * 0.0180153, rel=2e-3)


def test_tables_are_as_good_as_the_curves_that_they_are_made_of() -> None:
    # straight from the equation, without grid and cubic
    for warm, ratio in ((25.0, 1.0), (60.0, 298.15 / 333.15), (100.0, 298.15 / 373.15)):
        for share in (0.1, 5.0, 30.0, 67.0, 85.0, 95.0):
            molality = 1000 * share / (100 - share) / 342.297
            column = np.full((len(solutes()), 1), molality)
            exact = np.exp(-lowerings(column, ratio)[0, 0])
            found = water_activity(parts(sucrose=share, water=100 - share), warm)
            assert found == pytest.approx(exact, abs=3e-5)


def test_a_table_between_two_is_nearly_that_of_its_own_temperature() -> None:
    between = (node_of_ratio(72) + node_of_ratio(73)) / 2
    own = build(np.full(between.shape[1], 72.5 * 0.0125))

    assert between == pytest.approx(own, rel=1e-3, abs=2e-4)
    assert TOP_U == 8


def test_a_salt_follows_the_limiting_law_where_it_is_thin() -> None:
    # both forms of the Debye-Hückel term meet
    m = np.array([1e-9, 1e-8, 4e-7, 6e-7])
    phi = osmotic_coefficient(m, 1, 1.37, 0.0, 0.0, 0.0, 0.0)

    slope = (1 - phi) / np.sqrt(m)
    assert slope == pytest.approx(np.log(10) * 0.5108 / 3, rel=2e-3)


def test_it_says_what_it_leans_on_and_where_nobody_measured() -> None:
    assert [one.key for one in sources_of(parts(sucrose=1, water=1))] == [
        "starzak-peacock-1997"
    ]
    mixed = sources_of(parts(sucrose=1, salt=1, water=1))
    assert [one.key for one in mixed][-1] == "stokes-robinson-1966"
    assert beyond_data(parts(sucrose=85, water=15)) == ()
    assert beyond_data(parts(mannitol=30, water=70)) == ("mannitol",)
    # a trace is passed over
    assert beyond_data(parts(sucrose=85, mannitol=1, water=15)) == ()
