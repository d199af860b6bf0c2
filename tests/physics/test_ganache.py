"""A ganache's fat and water, and mixes that come closest to another."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import nnls

from slabwright.composition import INDEX, Masses, amount, fat, total, zeros
from slabwright.larder.load import built_in
from slabwright.physics.ganache import (
    FULL_PACKING,
    SPLITS_FAT_SHARE,
    closest_mix,
    dry_cocoa,
    fat_of_phases,
    fat_share,
    liquid_to_mend,
    packing,
)
from slabwright.physics.species import Array

LARDER = built_in()


def of(name: str, grams: float = 1.0) -> Masses:
    found = LARDER.by_id(name)
    assert found is not None
    assert found.composition is not None
    mixed: Masses = grams * found.composition
    return mixed


HARBOUR = (
    of("dark-chocolate-60", 250)
    + of("double-cream-48", 95)
    + of("whole-milk", 30)
    + of("butter-unsalted", 20)
    + of("glucose-syrup-42de", 15)
)


@pytest.mark.parametrize(("name", "cocoa", "tol"), [
    # cocoa solids on the pack less the cocoa butter, in 100 g
    ("dark-chocolate-60", 0.60 - 0.38, 0.02), ("dark-chocolate-72", 0.72 - 0.425, 0.02),
    ("milk-chocolate-35", 0.35 - 0.285, 0.01), ("white-chocolate", 0.0, 0.001),
    ("dark-chocolate-85", 0.85 - 0.47, 0.025),
    # a powder is dry cocoa but for its fat and water
    ("cocoa-powder-20-22", 1 - 0.206 - 0.035, 0.02),
])  # fmt: skip
def test_dry_cocoa_is_what_the_pack_says(name: str, cocoa: float, tol: float) -> None:
    assert float(dry_cocoa(of(name))) == pytest.approx(cocoa, abs=tol)


def test_milk_and_sugar_are_no_cocoa() -> None:
    assert float(dry_cocoa(of("caster-sugar"))) == 0
    assert float(dry_cocoa(of("whole-milk-powder"))) == 0


def test_too_much_double_cream_goes_over_the_line() -> None:
    assert float(fat_share(HARBOUR)) < SPLITS_FAT_SHARE
    rich = of("dark-chocolate-60", 100) + of("double-cream-48", 100)
    assert float(fat_share(rich)) == pytest.approx((0.385 * 100 + 48) / 200, abs=0.003)
    assert float(fat_share(rich)) > SPLITS_FAT_SHARE


def test_what_mends_a_bowl_brings_it_to_the_line_by_weight() -> None:
    rich = of("dark-chocolate-60", 100) + of("double-cream-48", 100)
    for name in ("water", "whole-milk"):
        thin = float(fat_share(of(name)))
        grams = float(liquid_to_mend(rich, thin))
        mended = rich + of(name, grams)
        assert float(fat_share(mended)) == pytest.approx(SPLITS_FAT_SHARE)
    assert float(liquid_to_mend(HARBOUR)) == 0


def test_drops_pack_by_geometry() -> None:
    """Fat and water alone: volumes by hand, 1.09 ml a gram and 1."""
    row = zeros()
    row[INDEX["fat_milk"]], row[INDEX["water"]] = 74.0, 26.0
    found = packing(row)
    assert float(found.value) == pytest.approx(74 * 1.09 / (74 * 1.09 + 26))
    assert float(found.value) > FULL_PACKING
    dry = packing(row, 20.0)
    assert float(dry.low) == float(found.value)
    assert float(dry.low) < float(dry.value) < float(dry.high)
    assert abs(FULL_PACKING - 0.74048) < 1e-5


def test_nothing_has_no_share() -> None:
    assert np.isnan(fat_share(zeros()))
    assert np.isnan(fat_of_phases(of("caster-sugar") * 0))
    assert np.isnan(packing(zeros()).value)
    assert float(liquid_to_mend(zeros())) == 0


@given(st.integers(1, 4), st.integers(2, 4), st.integers(0, 10**6))
def test_the_closest_mix_is_that_of_another_solver(
    things: int, parts: int, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    holds, wanted = rng.random((things, parts)), rng.random(parts) * 100
    weights = rng.uniform(0.5, 2, parts)

    found = closest_mix(wanted, holds, weights)
    _, miss = nnls((holds * weights).T, wanted * weights)
    mine = float(np.linalg.norm((found @ holds - wanted) * weights))
    assert (found >= 0).all()
    assert mine <= float(miss) * (1 + 1e-6) + 1e-9
    assert mine == pytest.approx(float(miss), rel=1e-6, abs=1e-9)


def test_a_mix_that_can_be_had_is_had_and_its_mass_kept() -> None:
    holds = np.array([[0.36, 0.577], [0.036, 0.875], [0.828, 0.154]])
    for grams in product((0.0, 40.0), (0.0, 25.0), (0.0, 8.0)):
        wanted = np.array(grams) @ holds
        found = closest_mix(wanted, holds, np.ones(2), mass=sum(grams))
        assert found @ holds == pytest.approx(wanted, abs=0.02)
        assert found.sum() == pytest.approx(sum(grams), abs=1e-3)
    assert closest_mix(np.zeros(2), holds, np.ones(2)).sum() == 0


def test_rows_in_one_call_are_as_one_by_one() -> None:
    names = ("dark-chocolate-60", "double-cream-48", "butter-unsalted")
    grams: Array = np.random.default_rng(5).uniform(0, 200, (40, 3))
    rows = np.einsum("rn,nc->rc", grams, np.stack([of(name) for name in names]))
    together = liquid_to_mend(rows, 0.036)
    for at in range(40):
        assert together[at] == pytest.approx(float(liquid_to_mend(rows[at], 0.036)))
        assert fat_share(rows)[at] == pytest.approx(
            float(fat(rows[at]) / total(rows[at]))
        )
        assert fat_of_phases(rows)[at] == pytest.approx(
            float(fat(rows[at]) / (fat(rows[at]) + amount(rows[at], "water")))
        )
