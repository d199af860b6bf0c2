"""Isotherms of undissolved solids against papers, pages and their own algebra."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.physics.by_id import rows

from slabwright.composition import INDEX, Masses, zeros
from slabwright.physics.sorption import (
    SOLIDS,
    activity_of_solids,
    gab,
    gab_activity,
    held_water,
)

REFERENCE = Path(__file__).parents[1] / "reference" / "physics"
ADSORPTION = (0.0743, 26.87, 0.7842)
"""Rice starch that takes up water, as its paper gives it (SM0001 to SM0003)."""
DESORPTION = (0.080, 36.43, 0.7646)
"""Rice starch that dries (SM0004 to SM0006)."""


CHECKS = rows("sorption_crispness_migration.csv")
PAGES = rows("sorption_pages.csv")


def mix(**grams: float) -> Masses:
    made = zeros()
    for name, mass in grams.items():
        made[INDEX[name]] = mass
    return made


@pytest.mark.parametrize(
    "row",
    [row for row in CHECKS.values() if row["material"].startswith("rice_starch")],
    ids=lambda row: row["id"],
)
def test_rice_starch_comes_out_as_its_paper_has_it(row: dict[str, str]) -> None:
    constants = ADSORPTION if row["material"].endswith(" adsorption") else DESORPTION
    held = gab(float(row["aw"]), *constants)

    assert held == pytest.approx(float(row["value"]), abs=float(row["tol"]))


@pytest.mark.parametrize("row_id", ["SM0032", "SM0033"])
def test_durum_pasta_lies_within_the_range_of_starch(row_id: str) -> None:
    # dry pasta is 75 % starch, 14 % protein, 4 % fibre or so, from memory
    row = CHECKS[row_id]
    pasta = mix(starch=80.0, protein=15.0, fibre=4.5)
    low, high = (
        held_water(pasta, float(row["aw"]), end) / 99.5 for end in ("low", "high")
    )

    assert low <= float(row["value"]) <= high * 1.05


def test_wheat_in_store_holds_what_a_page_says() -> None:
    # dry matter of the grain, from memory; its little sugar and ash counted as held so
    row = PAGES["SQ0001"]
    grain = mix(starch=70, protein=14, fibre=13, rest=3)
    percent = {}
    for end in ("low", "value", "high"):
        held = held_water(grain, float(row["aw"]), end)
        percent[end] = 100 * held / (100 + held)

    assert percent["low"] <= float(row["value"]) <= percent["high"]
    assert percent["value"] == pytest.approx(float(row["value"]), abs=1.2)


def test_the_monolayer_of_almonds_is_that_of_their_protein_and_fibre() -> None:
    # dry almonds: protein 22, fibre 12, fat 53, sugar and the rest 8 (larder)
    row = PAGES["SQ0005"]
    monolayer = 0.22 * 0.060 + 0.12 * 0.055 + 0.08 * 0.055

    assert float(row["value"]) <= monolayer <= float(row["value_hi"])


@given(st.floats(0.02, 0.99), st.floats(0.02, 0.12), st.floats(1.5, 60))
def test_turned_round_it_gives_the_activity_again(
    activity: float, monolayer: float, c: float
) -> None:
    held = gab(activity, monolayer, c, 0.8)

    assert gab_activity(held, monolayer, c, 0.8) == pytest.approx(activity, abs=1e-9)


@given(
    st.lists(st.floats(0, 50), min_size=4, max_size=4).filter(lambda x: sum(x) > 1),
    st.floats(0.03, 0.97),
)
def test_a_mix_turned_round_gives_the_activity_again(
    grams: list[float], activity: float
) -> None:
    made = mix(**dict(zip(SOLIDS, grams, strict=True)))
    held = held_water(made, activity)

    assert activity_of_solids(made, held) == pytest.approx(activity, abs=2e-5)


@given(st.floats(0.05, 0.9), st.floats(0.005, 0.09))
def test_damper_solids_hold_more_and_ends_embrace_the_value(
    activity: float, more: float
) -> None:
    flour = mix(starch=75, protein=9, fibre=2.5, rest=1)

    assert held_water(flour, activity) < held_water(flour, activity + more)
    low, value, high = (
        held_water(flour, activity, end) for end in ("low", "value", "high")
    )
    assert low < value < high


def test_fat_sugar_and_nothing_hold_no_water() -> None:
    assert held_water(mix(sucrose=50, fat_milk=50, salt=3), 0.6) == 0
    assert held_water(zeros(), 0.6) == 0
    # solids that aren't there are afloat at once, in no water at all
    assert activity_of_solids(zeros(), 1.0) == pytest.approx(0.999)


def test_many_rows_come_out_like_one() -> None:
    flour = mix(starch=75, protein=9, fibre=2.5)
    water = np.linspace(2, 20, 2000)
    together = activity_of_solids(flour, water)

    assert together.shape == (2000,)
    assert np.all(np.diff(together) > 0)
    for at in (0, 700, 1999):
        alone = activity_of_solids(flour, water[at])
        assert together[at] == pytest.approx(alone, abs=1e-5)


def test_what_lies_beyond_the_measured_range_is_told() -> None:
    assert gab.outside(0.95, *DESORPTION)[0].argument == "activity"
    assert gab.outside(0.5, *DESORPTION) == ()
