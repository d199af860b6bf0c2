"""Doses and exchanges of gels, acid and raising, against tables and chemistry."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.larder.load import built_in
from slabwright.physics.acid import acids, mixed_ph
from slabwright.physics.gel import DOSES, agents, exchange, grades, grams_to_share
from slabwright.physics.raising import (
    GAS_PER_SODA,
    acid_for,
    gas_ml,
    left_over,
    raisers,
)

# CP139 and CP140: 2.6 g of 225 bloom in 160 bloom, by the ratio and by its root
LINEAR, ROOT = 3.66, 3.08
# A stored table of factors by the square root of the ratio: from, to, factor
ROOT_TABLE = ((60, 120, 0.71), (120, 240, 0.71), (240, 120, 1.41), (200, 160, 1.12))
# A stored page of factors by the ratio of the middles of two grades
LINEAR_TABLE = ((160, 250, 0.64), (250, 160, 1.56))
# Parts of acid to one of soda, from a food additives data book
PARTS = (("cream-of-tartar", 2.24), ("gdl", 2.12), ("sapp", 1.39), ("mcp", 1.25))


def test_the_published_swap_comes_out_by_both_rules() -> None:
    both = exchange(2.6, 225, 160)

    assert both.linear == pytest.approx(LINEAR, abs=0.005)
    assert both.square_root == pytest.approx(ROOT, abs=0.005)


@pytest.mark.parametrize(("begin", "end", "factor"), ROOT_TABLE)
def test_a_table_of_roots_comes_out(begin: float, end: float, factor: float) -> None:
    assert exchange(1.0, begin, end).square_root == pytest.approx(factor, abs=0.006)


@pytest.mark.parametrize(("begin", "end", "factor"), LINEAR_TABLE)
def test_a_table_of_ratios_comes_out(begin: float, end: float, factor: float) -> None:
    assert exchange(1.0, begin, end).linear == pytest.approx(factor, abs=0.01)


@given(st.floats(60, 300), st.floats(60, 300), st.floats(1, 100))
def test_both_rules_go_the_same_way_and_back(
    begin: float, end: float, mass: float
) -> None:
    there = exchange(mass, begin, end)
    assert exchange(there.linear, end, begin).linear == pytest.approx(mass)
    assert exchange(there.square_root, end, begin).square_root == pytest.approx(mass)
    assert abs(there.square_root - mass) <= abs(there.linear - mass) + 1e-9
    assert (there.linear - mass) * (there.square_root - mass) >= -1e-9


def test_every_agent_has_a_working_range() -> None:
    for agent in agents().values():
        assert 0 < agent.low < agent.high <= agent.stiff < 1
        assert agent.solids[0] < agent.solids[1]
        assert agent.ph[0] < agent.ph[1]
        found = [agent.dose(share) for share in np.linspace(0, agent.stiff * 1.5, 200)]
        assert tuple(dict.fromkeys(found)) == DOSES
    assert agents()["pectin-hm"].melts_C is None


def test_a_leaf_of_any_grade_sets_about_the_same() -> None:
    # which is what grades of leaf are made for
    strength = [
        one.leaf_g * one.bloom[1] ** 0.75
        for one in grades().values()
        if one.leaf_g is not None
    ]
    assert max(strength) < 1.35 * min(strength)


@given(st.floats(0, 50), st.floats(51, 500), st.floats(0.01, 0.8))
def test_what_is_added_gives_the_share(part: float, whole: float, share: float) -> None:
    more = float(grams_to_share(part, whole, share))

    assert (part + more) / (whole + more) == pytest.approx(share, rel=1e-6)


def test_every_acid_and_raiser_is_in_the_larder() -> None:
    known = {one.id for one in built_in().ingredients}
    named = {one.ingredient for one in raisers().values() if one.ingredient}

    assert set(acids()) <= known
    assert named <= known
    for acid in acids().values():
        assert 1 < acid.ph[0] <= acid.ph[1] < 7
        assert 0 < acid.soda_g_per_g[0] <= acid.soda_g_per_g[1] < 1.4


def test_the_larders_own_acids_lie_in_their_ranges() -> None:
    # the larder has the published grams of acid where a table names it
    moles = {"lemon-juice": 3 / 192.12, "buttermilk": 1 / 90.08}
    for name, per_g in moles.items():
        (one,) = [each for each in built_in().ingredients if each.id == name]
        assert one.composition is not None
        grams = float(one.composition[18])
        low, high = acids()[name].soda_g_per_g
        assert low <= grams * per_g * 84.007 <= high


# USDA's pathogen programme lists lemon filling at pH 3.09 to 3.24: juice, sugar, yolk
def test_a_lemon_filling_lies_in_its_range() -> None:
    found = mixed_ph([(acids()["lemon-juice"], 220.0)], 0.4, 40.0)

    assert found is not None
    assert found[0] <= 3.09
    assert found[1] >= 3.24
    assert found[1] - found[0] < 2.0


def test_without_acid_there_is_no_ph() -> None:
    assert mixed_ph([], 1.0, 10.0) is None
    assert mixed_ph([(acids()["honey"], 0.0)], 1.0, 0.0) is None


@given(st.floats(1, 300), st.floats(0.05, 1), st.floats(0, 300), st.floats(1, 50))
def test_egg_and_water_never_make_it_sourer(
    juice: float, water: float, protein: float, more: float
) -> None:
    acid = acids()["lemon-juice"]
    one = mixed_ph([(acid, juice)], water, protein)
    other = mixed_ph([(acid, juice)], water * 0.8, protein + more)

    assert one is not None
    assert other is not None
    assert one[0] <= one[1]
    assert other[0] >= one[0] - 1e-9
    assert other[1] >= one[1] - 1e-9


@pytest.mark.parametrize(("key", "parts"), PARTS)
def test_acids_take_up_soda_as_a_data_book_says(key: str, parts: float) -> None:
    low, usual, high = raisers()[key].neutralises

    assert low <= usual <= high
    assert 1 / high * 0.999 <= parts <= 1 / low * 1.001
    assert acid_for(1.0, 100 * usual) == pytest.approx(parts, rel=0.1)


def test_gas_follows_from_the_formula() -> None:
    # a mole of soda, 84 g, gives a mole of gas: 24.06 l at 20 °C
    assert gas_ml(84.007 * GAS_PER_SODA) == pytest.approx(24_055, rel=1e-3)
    powder = raisers()["baking-powder"].soda_share
    # in the United States at least 12 % of a powder must come off as gas
    assert powder[0] * GAS_PER_SODA >= 0.12


def test_a_cup_of_buttermilk_takes_half_a_teaspoon_of_soda() -> None:
    # a stored page of McGee: 240 ml of fermented milk to 2 g of soda
    low, high = acids()["buttermilk"].soda_g_per_g
    left = left_over(2.0, 240 * low, 240 * high)

    assert left.low <= 0 <= left.high + 0.45
    assert left.high - left.low < 1
