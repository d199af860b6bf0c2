"""Water activity of whole layers against products as published, and its own algebra."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.physics.by_id import rows

from slabwright.composition import INDEX, ROW, Masses, total, zeros
from slabwright.larder.load import built_in
from slabwright.physics.activity import water_activity
from slabwright.physics.layer_water import layer_water_activity, syrup_of
from slabwright.physics.solubility import sucrose_solubility
from slabwright.physics.sorption import activity_of_solids
from slabwright.physics.species import AT, parts_of

REFERENCE = Path(__file__).parents[1] / "reference" / "physics"
LARDER = built_in()
SYRUP, CRYSTALS = (1.0, 1.0, 1.0), (0.0, 0.0, 0.0)
BAKED = ((0.0, 0.5, 1.0), (0.5, 0.75, 1.0))


PRODUCTS = rows("water_activity_products.csv")
PAGES = rows("sorption_pages.csv")


def mix(**grams: float) -> Masses:
    made = zeros()
    for name, mass in grams.items():
        made[INDEX[name]] = mass
    return made


def of(name: str, grams: float = 100.0) -> Masses:
    found = LARDER.find(name)
    assert found is not None
    composition = found.ingredient.composition
    assert composition is not None
    return composition * grams


def boiled(made: Masses, water_percent: float) -> Masses:
    """The same solids with so much water in a hundred."""
    kept = made.copy()
    kept[INDEX["water"]] = 0.0
    dry = float(total(kept))
    kept[INDEX["water"]] = dry * water_percent / (100 - water_percent)
    return kept


def told(row_id: str) -> tuple[float, float]:
    """Low and high end of what a row publishes, its tolerance included."""
    row = PRODUCTS[row_id]
    by = float(row["tol"] or 0.0)
    low = float(row["value"])
    return low - by, float(row["value_hi"] or low) + by


CARAMEL = (
    of("caster sugar", 195) + of("glucose syrup 42 DE", 250) + of("whole milk", 120)
    + of("double cream 48%", 220)
)  # fmt: skip
MARSHMALLOW = (
    of("caster sugar", 300) + of("glucose syrup 42 DE", 250) + of("gelatine", 20)
)
NOUGAT = (
    of("caster sugar", 300) + of("glucose syrup 42 DE", 200) + of("honey", 100)
    + of("egg white", 60) + of("ground almonds", 150)
)  # fmt: skip
SPONGE = (
    of("plain flour", 200) + of("caster sugar", 200) + of("butter, unsalted", 150)
    + of("eggs, medium", 200)
)  # fmt: skip
HARD = of("caster sugar", 300) + of("glucose syrup 42 DE", 200)


@pytest.mark.parametrize(
    ("row_id", "made", "dissolved"),
    [
        ("PR0008", boiled(of("honey"), 15.7), SYRUP),
        ("PR0009", boiled(of("honey"), 16.3), SYRUP),
        ("PR0011", boiled(of("honey"), 17.75), SYRUP),
        ("PR0036", boiled(HARD, 5.0), SYRUP),
        ("PR0037", boiled(CARAMEL, 10.0), SYRUP),
        ("PR0037", boiled(CARAMEL, 12.0), SYRUP),
        ("PR0039", boiled(NOUGAT, 8.0), (0.6, 0.9, 1.0)),
        ("PR0040", boiled(MARSHMALLOW, 16.0), SYRUP),
        ("PR0042", boiled(of("raspberry jam"), 35.0), SYRUP),
        ("PR0043", of("fondant"), (0.0, 0.0, 0.3)),
        ("PR0029", boiled(of("marmalade"), 32.0), SYRUP),
        ("PR0026", boiled(SPONGE, 25.0), (0.5, 1.0, 1.0)),
        ("PR0024", of("dried apricots"), SYRUP),
        ("PR0033", of("plain flour"), CRYSTALS),
        ("PR0035", of("whole milk powder"), SYRUP),
        ("PR0030", of("ground almonds"), (0.0, 0.5, 1.0)),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_products_lie_where_they_were_published(
    row_id: str, made: Masses, dissolved: tuple[float, float, float]
) -> None:
    # the likely range meets the published one, and the value lies within 0.08 of it
    found = layer_water_activity(made, 25.0, dissolved)
    low, high = told(row_id)

    assert found.low <= high
    assert found.high >= low
    assert low - 0.08 <= found.value <= high + 0.08


@pytest.mark.parametrize(("water", "at"), [(2.81, "value"), (4.53, "value_hi")])
def test_short_biscuits_lie_where_a_page_says(water: float, at: str) -> None:
    # flour, sugar and fat as such biscuits have them: 100, 30 and 32
    dough = of("plain flour", 100) + of("caster sugar", 30) + of("butter, unsalted", 38)
    found = layer_water_activity(boiled(dough, water), 25.0, *BAKED)

    assert found.low <= float(PAGES["SQ0004"][at]) <= found.high
    assert float(found.value) == pytest.approx(float(PAGES["SQ0004"][at]), abs=0.08)


@pytest.mark.parametrize(
    ("row_id", "dry"),
    [
        # dry matter from memory; the sugar of a seed is a glass, its ash half a salt
        (
            "SQ0002",
            {"protein": 40, "fibre": 17, "fat_other": 22, "sucrose": 12, "minerals": 5},
        ),
        (
            "SQ0003",
            {"protein": 20, "fibre": 25, "fat_other": 47, "sucrose": 3, "minerals": 3},
        ),
    ],
)
def test_oily_seeds_hold_what_a_page_says(row_id: str, dry: dict[str, float]) -> None:
    percent = float(PAGES[row_id]["value"])
    found = layer_water_activity(boiled(mix(**dry), percent), 25.0, (0.5, 1.0, 1.0))

    assert found.low <= float(PAGES[row_id]["aw"]) <= found.high


def test_sponge_and_ganache_and_curd_lie_where_bakers_find_them() -> None:
    # 0.80 to 0.90 and 0.93 to 0.97: common practice, no source
    ganache = (
        of("dark chocolate 60%", 250) + of("double cream 48%", 95)
        + of("whole milk", 30) + of("glucose syrup 42 DE", 15)
    )  # fmt: skip
    curd = (
        of("lemon juice", 220) + of("caster sugar", 270) + of("butter, unsalted", 120)
        + of("eggs, medium", 390)
    )  # fmt: skip
    dark = layer_water_activity(ganache, 25.0, (0.0, 0.0, 0.5))
    sour = layer_water_activity(curd, 25.0, SYRUP)

    assert 0.80 <= dark.value <= 0.90
    assert 0.92 <= sour.value <= 0.97


def test_a_solution_alone_is_that_solution_and_a_crumb_alone_that_crumb() -> None:
    syrup = mix(sucrose=40, glucose=10, water=30)
    flour = mix(starch=70, protein=10, water=9)

    both = layer_water_activity(syrup, 25.0, SYRUP)
    assert both.value == pytest.approx(water_activity(parts_of(syrup)), abs=5e-4)
    crumb = layer_water_activity(flour)
    assert crumb.value == pytest.approx(activity_of_solids(flour, 9.0), abs=5e-4)


def test_crystals_hold_no_water_and_a_saturated_syrup_stays_as_wet() -> None:
    # sucrose saturated at 25 °C: 0.844 or 0.85 by every table of humidities
    wet = [
        float(layer_water_activity(mix(sucrose=80, water=w)).value) for w in (5, 15, 30)
    ]
    assert wet == pytest.approx([0.847] * 3, abs=0.006)
    # sugar beside a dry crumb changes nothing while it lies as crystals
    flour = mix(starch=70, protein=10, water=6)
    sweet = flour + mix(sucrose=40)
    assert layer_water_activity(sweet).value == pytest.approx(
        layer_water_activity(flour).value
    )
    glassy = layer_water_activity(sweet, 25.0, SYRUP)
    assert glassy.value < layer_water_activity(flour).value


def test_the_syrup_of_fudge_is_saturated_and_its_crumb_and_crystals_left_out() -> None:
    fudge = mix(sucrose=70, lactose=4, glucose=3, water=9, fat_milk=10, protein=3)
    syrup = syrup_of(fudge, layer_water_activity(fudge).value)
    thick = layer_water_activity(fudge, 25.0, SYRUP).value
    caramel = syrup_of(fudge, thick, 25.0, 1.0)

    most = float(sucrose_solubility(25.0)) / 100 * syrup[AT["water"]]
    assert 0.6 * most < syrup[AT["sucrose"]] <= most * 1.0001
    assert syrup[AT["fat_milk"]] == 0
    assert syrup[AT["protein"]] == 0
    assert 8.0 < syrup[AT["water"]] < 9.0
    assert caramel[AT["sucrose"]] == pytest.approx(70)


grams = st.floats(0.0, 60.0)


@given(
    st.fixed_dictionaries(
        dict.fromkeys(
            ("sucrose", "glucose", "lactose", "starch", "protein", "salt"), grams
        )
    ),
    st.floats(0.5, 80),
    st.floats(0.5, 20),
    st.floats(0, 1),
)
def test_more_water_never_dries_it_and_ends_embrace_the_value(
    solids: dict[str, float], water: float, more: float, lying: float
) -> None:
    made = mix(**solids, water=water)
    wetter = made + mix(water=more)
    found = layer_water_activity(made, 25.0, (0.0, lying, 1.0))
    after = layer_water_activity(wetter, 25.0, (0.0, lying, 1.0))

    assert 0 <= found.low <= found.value + 1e-9
    assert found.value <= found.high + 1e-9
    assert found.high <= 1
    assert after.value >= found.value - 2e-3


@given(st.floats(1, 60), st.floats(5, 60), st.floats(0.5, 30))
def test_more_sugar_never_makes_it_wetter(
    sugar: float, water: float, more: float
) -> None:
    crumb = mix(starch=20, protein=3, water=water, fructose=5)
    for lying in (0.0, 1.0):
        share = (lying, lying, lying)
        one = layer_water_activity(crumb + mix(sucrose=sugar), 25.0, share).value
        other = layer_water_activity(crumb + mix(sucrose=sugar + more), 25.0, share)
        assert other.value <= one + 2e-3


def test_edges_are_numbers_that_mean_something() -> None:
    for made, value in (
        (mix(water=10), 1.0),
        (mix(water=10, fat_milk=90), 1.0),
        (mix(sucrose=10), 0.0),
        (mix(starch=10), 0.0),
    ):
        found = layer_water_activity(made)
        assert found.value == pytest.approx(value, abs=1e-6)
    for nothing in (zeros(), mix(fat_cocoa=5)):
        assert np.isnan(layer_water_activity(nothing).value)


def test_many_rows_come_out_like_one() -> None:
    many = np.random.default_rng(5).random((5000, len(ROW))) * 10
    together = layer_water_activity(many, 25.0, (0.0, 0.5, 1.0))

    assert together.value.shape == (5000,)
    for at in (0, 2500, 4999):
        alone = layer_water_activity(many[at], 25.0, (0.0, 0.5, 1.0))
        for one, other in zip(together, alone, strict=True):
            assert one[at] == pytest.approx(float(other), abs=1e-9)
    square = layer_water_activity(many.reshape(50, 100, -1), 25.0, (0.0, 0.5, 1.0))
    assert square.high.ravel() == pytest.approx(together.high)


def test_many_rows_with_crystals_come_out_like_few() -> None:
    rng = np.random.default_rng(9)
    most = {"water": 40, "sucrose": 100, "lactose": 20, "salt": 8, "minerals": 4,
            "glucose": 30, "fructose": 10, "starch": 40, "protein": 10}  # fmt: skip
    many = zeros(1500)
    for name, grams in most.items():
        is_there = rng.random(len(many)) < 0.8
        many[:, INDEX[name]] = rng.random(len(many)) * grams * is_there
    many[1000:, INDEX["water"]] /= 200  # as dry as the grid goes, and beyond
    dissolved = (0.0, 0.3, 1.0)
    together = np.stack(layer_water_activity(many, 25.0, dissolved))
    few = np.concatenate(
        [
            np.stack(layer_water_activity(many[at : at + 20], 25.0, dissolved))
            for at in range(0, len(many), 20)
        ],
        axis=1,
    )
    np.testing.assert_allclose(together, few, rtol=1e-12)


def test_the_ends_lie_around_the_value_where_salt_is_about_to_crystallise() -> None:
    masses = zeros()
    for name, grams in (("water", 10.7105), ("salt", 3.98), ("rest", 2.1)):
        masses[INDEX[name]] = grams
    rows = np.tile(masses, (200, 1))
    rows[:, INDEX["water"]] = np.linspace(10.0, 11.5, 200)
    found = layer_water_activity(rows)

    assert (found.low <= found.value).all()
    assert (found.value <= found.high).all()


def test_brine_with_crystals_stands_over_its_own_humidity() -> None:
    published = float(rows("water_activity_solutions.csv")["AW0200"]["value"]) / 100
    grams = np.array([36.5, 50.0, 200.0])
    many = np.stack([mix(salt=salt, water=100.0) for salt in grams])
    found = layer_water_activity(many)
    whole = np.stack([mix(salt=50.0, water=100.0)] * 100)  # the grid cell by cell

    assert found.value == pytest.approx(published, abs=0.002)
    assert np.ptp(found.value) < 1e-4
    assert layer_water_activity(whole).value == pytest.approx(found.value[1], abs=1e-5)
    # at another temperature too, where salt dissolves otherwise: 69.2 exp(25/T)
    hot = layer_water_activity(many, 40.0).value
    assert hot == pytest.approx(0.692 * np.exp(25 / 313.15), abs=0.01)
