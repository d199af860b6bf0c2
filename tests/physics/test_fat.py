"""Solid shares of fats, alone and mixed, against papers, pages and memory."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.physics.by_id import rows

from slabwright.composition import FATS, INDEX, ROW, Masses, zeros
from slabwright.larder.load import built_in
from slabwright.physics.fat import (
    FORM_IV_C,
    FORM_V_C,
    SOFTEST_LAURIC_SHARE,
    called,
    fats_of,
    melting_drop,
    melting_fats,
    same_softness,
    solid_fat,
    sources_of,
    temperature_of_solid,
)
from slabwright.physics.species import Array

REFERENCE = Path(__file__).parents[1] / "reference" / "physics"
KIND = {
    "anhydrous milk fat": "fat_milk", "coconut oil": "fat_lauric",
    "palm kernel oil": "fat_lauric", "palm oil": "fat_other",
}  # fmt: skip


CHECKS = rows("fats.csv") | rows("fat_pages.csv")
SOLID = [row for row in CHECKS.values() if row["quantity"] == "solid_fat_content"]


def fats(**grams: float) -> Array:
    return np.array([grams.get(name.removeprefix("fat_"), 0.0) for name in FATS])


def kind_of(row: dict[str, str]) -> Array:
    name = KIND.get(row["material"], "fat_cocoa")
    return fats(**{name.removeprefix("fat_"): 1.0})


@pytest.mark.parametrize("row", SOLID, ids=lambda row: row["id"])
def test_published_and_remembered_shares_lie_in_the_band(row: dict[str, str]) -> None:
    found = solid_fat(kind_of(row), float(row["T_C"]), tempered=True)
    told = [float(row[name]) / 100 for name in ("value", "value_hi") if row[name]]

    for one in told:
        # a table's own spread within the wide edges, or a remembered value by its tol
        assert found.low - 0.005 <= one <= found.high + 0.005
    if row["kind"] == "point" and row["material"] == "anhydrous milk fat":
        assert found.value == pytest.approx(told[0], abs=float(row["tol"]) / 100)


def test_milk_fat_stands_on_two_sources_that_were_read() -> None:
    five, twenty = CHECKS["FQ0001"], CHECKS["FQ0002"]
    for row in (five, twenty):
        found = solid_fat(fats(milk=1), float(row["T_C"]))
        assert float(row["value"]) <= 100 * found.value <= float(row["value_hi"])
        assert row["grade"] == "A"


def test_each_fat_has_melted_where_it_is_told_to_have() -> None:
    assert solid_fat(fats(cocoa=1), 30, tempered=True).value > 0.35  # FQ0012: hard yet
    assert solid_fat(fats(cocoa=1), 35, tempered=True).high < 0.05  # FQ0013
    assert solid_fat(fats(cocoa=1), 36).high < 0.03  # FA0018
    assert solid_fat(fats(lauric=1), 30).high == 0  # FQ0010
    assert 0.0 < solid_fat(fats(milk=1), 33).value < 0.05  # FQ0003: it drops there
    assert solid_fat(fats(milk=1), 40).high == 0
    assert solid_fat(fats(nut=1), 5).value == 0


def test_untempered_cocoa_butter_melts_as_form_four_does() -> None:
    """The low end of the band lies as much lower as the two forms lie apart."""
    for share in (0.1, 0.3):
        kept = temperature_of_solid(fats(cocoa=1), share, tempered=True)
        loose = temperature_of_solid(fats(cocoa=1), share)
        assert kept.low - loose.low == pytest.approx(FORM_V_C - FORM_IV_C, abs=0.02)
        assert kept.value == loose.value
    assert float(CHECKS["FA0005"]["value"]) == FORM_V_C
    assert float(CHECKS["FA0004"]["value"]) == FORM_IV_C


def test_ideal_solubility_finds_the_published_eutectic_with_coconut() -> None:
    """Nothing is fitted: two melting points, two heats, and where the curves cross."""
    told = CHECKS["FQ0011"]
    coconut = np.linspace(0.01, 0.99, 981)
    heats = (
        float(CHECKS["FA0008"]["value"]) * 860.0,
        float(CHECKS["FA0007"]["value"]) * 660.0,
    )
    cocoa_C = FORM_IV_C - melting_drop(1 - coconut, heats[0], FORM_IV_C)
    melts_C = 25.0  # coconut oil, in the upper half of 20 to 28 (FA0016)
    coconut_C = melts_C - melting_drop(coconut, heats[1], melts_C)

    crossing = coconut[np.argmin(np.abs(cocoa_C - coconut_C))]
    assert float(told["value"]) == 100 * SOFTEST_LAURIC_SHARE
    assert 100 * crossing == pytest.approx(float(told["value"]), abs=float(told["tol"]))


def test_mixtures_with_cocoa_butter_are_softer_than_their_parts_together() -> None:
    """FA0011: eutectics with milk fat and with a lauric fat at 20 and 30 °C."""
    for other in ("milk", "lauric"):
        for warmth in (20.0, 30.0):
            parts = [
                0.5 * solid_fat(fats(**{name: 1.0}), warmth).value
                for name in ("cocoa", other)
            ]
            mixed = solid_fat(fats(cocoa=0.5, **{other: 0.5}), warmth)
            assert mixed.value < sum(parts)
    with_coconut = solid_fat(fats(cocoa=0.35, lauric=0.65), 22).value
    assert with_coconut < solid_fat(fats(lauric=1), 22).value + 0.08


def test_milk_chocolate_is_worked_about_a_degree_cooler_than_dark() -> None:
    """FQ0014: one part of milk fat in six of the fat lowers the melting by 1 to 3 K."""
    dark = temperature_of_solid(fats(cocoa=1), 0.05, tempered=True).value
    milk = temperature_of_solid(fats(cocoa=5, milk=1), 0.05, tempered=True).value
    assert 0.5 < dark - milk < 3


masses = st.lists(st.floats(0, 100), min_size=5, max_size=5).map(np.array)
warmths = st.floats(0, 50)


@given(masses, warmths, st.floats(0, 10))
def test_warmer_is_never_more_solid(row: Array, warmth: float, more: float) -> None:
    if not row.sum() > 0:
        assert np.isnan(solid_fat(row, warmth).value)
        return
    cool, warm = solid_fat(row, warmth), solid_fat(row, warmth + more)
    for here, there in zip(cool, warm, strict=True):
        assert there <= here + 1e-9
    assert 0 <= cool.low <= cool.value + 1e-9
    assert cool.value <= cool.high + 1e-9 <= 1 + 2e-9


@given(masses, warmths)
def test_a_mixture_is_never_firmer_than_its_parts_side_by_side(
    row: Array, warmth: float
) -> None:
    if not row.sum() > 0:
        return
    alone = [solid_fat(one, warmth).value for one in np.eye(5)]
    together = float(np.dot(row, np.array(alone)) / row.sum())
    assert solid_fat(row, warmth).value <= together + 1e-9


@given(masses, st.floats(2, 24))
def test_a_layer_is_as_soft_as_itself_at_its_own_temperature(
    row: Array, warmth: float
) -> None:
    if row.sum() < 1 or solid_fat(row, warmth).low < 0.02:
        return
    found = same_softness(row, row, warmth)
    for one in found:
        assert one == pytest.approx(warmth, abs=0.15)


@given(masses, st.floats(0.02, 0.6))
def test_the_temperature_of_a_solid_share_gives_that_share(
    row: Array, share: float
) -> None:
    if row.sum() < 1:
        return
    found = temperature_of_solid(row, share)
    for at, where in enumerate(found):
        if np.isfinite(where):
            assert solid_fat(row, where)[at] == pytest.approx(share, abs=0.004)
    if not np.isfinite(found.value):
        assert solid_fat(row, 0.0).value < share


def test_twice_the_fat_is_as_solid_where_half_of_it_is() -> None:
    """Grams are compared: 40 g at a share of s have what 20 g have at 2 s."""
    lean = fats(cocoa=12, milk=8)
    warmth = 20.0
    wanted = solid_fat(lean, warmth).value / 2
    found = same_softness(2 * lean, lean, warmth)
    assert solid_fat(2 * lean, found.value).value == pytest.approx(wanted, abs=0.004)
    assert found.value > warmth


def test_rows_in_one_call_are_as_one_by_one() -> None:
    rng = np.random.default_rng(3)
    many = rng.random((50, 5))
    warmth = rng.uniform(0, 40, 50)
    together = solid_fat(many, warmth)
    found = temperature_of_solid(many, 0.1)
    for at in range(50):
        one = solid_fat(many[at], warmth[at])
        assert together.low[at] == one.low
        assert together.value[at] == one.value
        where = temperature_of_solid(many[at], 0.1).value
        assert found.value[at] == pytest.approx(where, nan_ok=True)


def test_under_zero_and_without_fat_nothing_is_known() -> None:
    assert all(np.isnan(solid_fat(fats(milk=1), -18.0)))
    assert all(np.isnan(solid_fat(fats(), 20.0)))
    assert all(np.isnan(temperature_of_solid(fats(nut=1), 0.1)))
    assert all(np.isnan(same_softness(fats(milk=1), fats(nut=1), 20.0)))
    assert solid_fat(fats(cocoa=1), 80.0).high == 0


def row_of(name: str, grams: float = 1.0) -> Masses:
    found = built_in().by_id(name)
    assert found is not None
    assert found.composition is not None
    return np.array(grams * found.composition)


@pytest.mark.parametrize(("name", "liquid"), [
    ("sunflower-oil", 1.0), ("rapeseed-oil", 1.0), ("olive-oil", 1.0),
    ("vegetable-shortening", 0.0), ("lard", 0.0), ("egg-yolk", 0.0),
])  # fmt: skip
def test_oils_are_told_from_other_nameless_fats(name: str, liquid: float) -> None:
    alone = melting_fats(row_of(name))
    with_chocolate = melting_fats(row_of(name) + row_of("dark-chocolate-60", 2.0))
    for found in (alone, with_chocolate):
        oil, nameless = found[FATS.index("fat_nut")], found[FATS.index("fat_other")]
        assert oil / (oil + nameless) == pytest.approx(liquid, abs=0.06)


def test_what_nobody_gave_saturates_of_stays_nameless() -> None:
    row = row_of("sunflower-oil")
    row[INDEX["saturates"]] = 0.0
    assert melting_fats(row)[FATS.index("fat_nut")] == 0


@given(st.lists(st.floats(0, 50), min_size=len(ROW), max_size=len(ROW)))
def test_no_fat_is_lost_among_kinds(grams: list[float]) -> None:
    row = np.array(grams)
    found = melting_fats(row)
    assert found.sum() == pytest.approx(fats_of(row).sum())
    assert (found >= 0).all()
    assert found[: FATS.index("fat_nut")] == pytest.approx(
        fats_of(row)[: FATS.index("fat_nut")]
    )


def test_fats_stand_in_the_order_of_a_composition() -> None:
    row = zeros()
    row[...] = np.arange(row.size)
    assert list(fats_of(row)) == [11, 12, 13, 14, 15]
    assert called("fat_cocoa") == "cocoa butter"
    keys = {one.key for one in sources_of(fats(milk=1, cocoa=1))}
    assert {"milk-fat-australia", "ideal-solubility"} <= keys
    assert "ideal-solubility" not in {one.key for one in sources_of(fats(milk=1))}
