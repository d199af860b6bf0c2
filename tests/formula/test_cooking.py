"""What happens to a mix: what goes is what was asked for, and nothing else goes."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import (
    CONSTITUENTS,
    INDEX,
    ROW,
    SATURATES,
    Masses,
    total,
    water,
    zeros,
)
from slabwright.formula.cooking import lose_mix, lose_water, mix, water_over_share

REFERENCE = Path(__file__).parents[1] / "reference" / "drying"
WET = [INDEX["water"], INDEX["alcohol"], INDEX["unknown"]]
DRY = [i for name, i in INDEX.items() if i not in WET]

grams = st.just(0.0) | st.floats(0.01, 5000.0)


@st.composite
def mixes(draw: st.DrawFn) -> Masses:
    """A mix with a little of everything or nothing of some of it."""
    row = zeros()
    for name in (*CONSTITUENTS, "unknown"):
        row[INDEX[name]] = draw(grams)
    fats = sum(row[i] for name, i in INDEX.items() if name.startswith("fat_"))
    row[INDEX[SATURATES]] = fats * draw(st.floats(0.0, 1.0))
    return row


known = mixes().map(
    lambda row: np.where(np.arange(len(ROW)) == INDEX["unknown"], 0, row)
)
shares = st.floats(0.0, 1.0)


def made(**parts: float) -> Masses:
    row = zeros()
    for name, mass_g in parts.items():
        row[INDEX[name]] = mass_g
    return row


@given(mixes(), shares)
def test_what_stays_on_the_bowl_takes_of_everything_alike(
    row: Masses, share: float
) -> None:
    gone = share * float(total(row))
    left = lose_mix(row, gone)

    assert total(left) == pytest.approx(total(row) - gone, rel=1e-9, abs=1e-6)
    assert left == pytest.approx(row * (1 - share), rel=1e-9, abs=1e-6)


@given(mixes(), shares)
def test_what_is_driven_off_leaves_every_solid(row: Masses, share: float) -> None:
    gone = share * float(sum(row[WET]))
    left = lose_water(row, gone)

    assert total(left) == pytest.approx(total(row) - gone, rel=1e-9, abs=1e-6)
    assert left[DRY] == pytest.approx(row[DRY], rel=0, abs=0)
    assert np.all(left >= 0)


@given(mixes(), shares)
def test_alcohol_stays_until_the_water_is_gone(row: Masses, share: float) -> None:
    # written in the description of the card: water first, then alcohol
    left = lose_water(row, share * float(sum(row[WET])))
    for earlier, later in ((0, 1), (1, 2)):
        if left[WET[earlier]] > 1e-9:
            assert left[WET[later]] == row[WET[later]]


def test_ten_grams_of_water_then_alcohol_then_what_is_not_known() -> None:
    row = made(water=10, alcohol=5, sucrose=80, unknown=20)

    # 12 = 10 of water and 2 of alcohol; 18 = 10, 5 and 3 of the unknown
    assert lose_water(row, 12) == pytest.approx(made(alcohol=3, sucrose=80, unknown=20))
    assert lose_water(row, 18) == pytest.approx(made(sucrose=80, unknown=17))


@given(known, st.floats(1.001, 3.0))
def test_more_than_there_is_can_not_go(row: Masses, times: float) -> None:
    wet, there = float(sum(row[WET])), float(total(row))
    if wet > 1:
        assert np.isnan(lose_water(row, wet * times)).all()
    if there > 1:
        assert np.isnan(lose_mix(row, there * times)).all()


@given(known)
def test_just_all_there_is_can_go(row: Masses) -> None:
    dried = lose_water(row, float(sum(row[WET])))
    emptied = lose_mix(row, float(total(row)))

    assert float(sum(dried[WET])) == pytest.approx(0, abs=1e-6)
    assert not np.isnan(dried).any()
    assert emptied == pytest.approx(zeros())


def test_nothing_can_not_be_lost_from_nothing_but_something_can_not() -> None:
    assert lose_mix(zeros(), 0.0) == pytest.approx(zeros())
    assert np.isnan(lose_mix(zeros(), 1.0)).all()
    assert np.isnan(lose_water(zeros(), 1.0)).all()


@given(known, st.floats(0.0, 0.95))
def test_the_water_that_is_wished_is_what_is_left(row: Masses, share: float) -> None:
    if not total(row) > 1:
        return
    owed = float(water_over_share(row, share))
    if owed < 0:
        # too dry already: with that much water more it would be right
        wetter = row + made(water=-owed)
        assert water(wetter) / total(wetter) == pytest.approx(share, abs=1e-6)
        return
    left = lose_water(row, min(owed, float(water(row))))

    if total(left) > 1e-3:
        assert water(left) / total(left) == pytest.approx(share, abs=1e-6)


def test_two_hundred_grams_at_half_water_lose_75_to_be_a_fifth() -> None:
    # (100 - x) / (200 - x) = 0.2: x = (100 - 40) / 0.8 = 75
    assert water_over_share(made(water=100, sucrose=100), 0.2) == pytest.approx(75)


def test_nobody_knows_the_water_of_a_mix_with_an_unknown_part() -> None:
    row = made(water=100, unknown=1)

    assert np.isnan(water_over_share(row, 0.2))


@given(
    st.lists(mixes(), min_size=1, max_size=6),
    st.lists(grams, min_size=6, max_size=6),
    st.floats(0.0, 0.95),
)
def test_a_row_alone_gives_the_same_as_among_many(
    rows: list[Masses], gone: list[float], share: float
) -> None:
    many, taken = np.array(rows), np.array(gone[: len(rows)])
    together = (
        lose_mix(many, taken),
        lose_water(many, taken),
        water_over_share(many, share),
    )

    for i, row in enumerate(rows):
        alone = (
            lose_mix(row, gone[i]),
            lose_water(row, gone[i]),
            water_over_share(row, share),
        )
        for one, all_of_them in zip(alone, together, strict=True):
            assert np.array_equal(one, all_of_them[i], equal_nan=True)


@given(
    st.lists(grams, min_size=3, max_size=3),
    st.lists(known, min_size=3, max_size=3),
)
def test_a_mix_weighs_what_its_lines_weigh(
    masses: list[float], rows: list[Masses]
) -> None:
    compositions = np.array([row / max(float(total(row)), 1e-9) for row in rows])
    whole = [float(total(row)) > 1e-9 for row in rows]
    mixed = mix(masses, compositions)

    expected = sum(mass for mass, is_one in zip(masses, whole, strict=True) if is_one)
    assert total(mixed) == pytest.approx(expected, rel=1e-9, abs=1e-6)
    twice = mix(np.array([masses, masses]), compositions)
    assert twice.shape == (2, len(ROW))
    assert np.allclose(twice[1], mixed)


def published(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


RECORDS = {row["ndb_no"]: row for row in published("usda.csv")}


def per_100g(number: str) -> Masses:
    row = RECORDS[number]
    return made(
        water=float(row["water_g"]),
        protein=float(row["protein_g"]),
        fat_other=float(row["fat_g"]),
        rest=float(row["carbohydrate_by_difference_g"]),
        minerals=float(row["ash_g"]),
    )


@pytest.mark.parametrize("pair", published("pairs.csv"), ids=lambda p: p["dry"])
def test_a_food_dried_on_paper_is_the_food_dried_in_the_works(
    pair: dict[str, str],
) -> None:
    # Source: USDA SR28, tests/reference/drying. The two sides are other samples, up
    # to 10 % or 0.6 g per 100 g apart. It proves that water goes and solids stay, not
    # how much water an oven takes.
    wet, dry = per_100g(pair["wet"]), per_100g(pair["dry"])
    share = float(water(dry) / total(dry))

    left = lose_water(wet, water_over_share(wet, share))
    ours = left / total(left) * float(total(dry))
    assert ours == pytest.approx(dry, rel=0.10, abs=0.6)
