"""Allergens of the larder, against the European list.

Source: Regulation (EU) No 1169/2011, Annex II, as reprinted by a university's food law
pages. Which ingredient holds which follows from what it is made of.
"""

import re

import pytest

from slabwright.larder.ingredient import ALLERGENS
from slabwright.larder.load import built_in

ANNEX_II = {
    "gluten": {"wheat", "rye", "barley", "oats"},
    "nuts": {
        "almond",
        "hazelnut",
        "walnut",
        "cashew",
        "pecan",
        "brazil",
        "pistachio",
        "macadamia",
    },
    "crustaceans": set(),
    "egg": set(),
    "fish": set(),
    "peanut": set(),
    "soya": set(),
    "milk": set(),
    "celery": set(),
    "mustard": set(),
    "sesame": set(),
    "sulphites": set(),
    "lupin": set(),
    "molluscs": set(),
}


def _contains(id: str) -> set[str]:
    found = built_in().by_id(id)
    assert found is not None
    return {a.name for a in found.allergens if a.how == "contains"}


def _may_hide(id: str) -> set[str]:
    found = built_in().by_id(id)
    assert found is not None
    return {a.name for a in found.allergens if a.how == "may hide"}


def test_the_list_is_that_of_the_law() -> None:
    listed: dict[str, set[str]] = {}
    for allergen in ALLERGENS:
        group, _, member = allergen.partition(":")
        listed.setdefault(group, set()).update({member} - {""})
    assert listed == ANNEX_II
    assert len(listed) == 14


def test_every_allergen_is_on_the_list_and_once() -> None:
    for it in built_in().ingredients:
        names = [a.name for a in it.allergens]
        assert set(names) <= set(ALLERGENS)
        assert len(names) == len(set(names))


def test_what_may_hide_says_where() -> None:
    for it in built_in().ingredients:
        for allergen in it.allergens:
            assert allergen.note or allergen.how == "contains"


@pytest.mark.parametrize(
    ("word", "allergen"),
    [
        (
            r"\bwheat|plain flour|semolina|all-purpose|white flour|cake flour",
            "gluten:wheat",
        ),
        (r"\brye\b", "gluten:rye"),
        (r"\boat", "gluten:oats"),
        (r"\bbarley", "gluten:barley"),
        (r"\begg", "egg"),
        (
            r"^(?!.*(coconut|cocoa|nut\b|almond|cashew|chocolate|tartar|oat|soya|plant))"
            r".*(butter|cream\b|milk)",
            "milk",
        ),
        (r"almond|marzipan", "nuts:almond"),
        (r"hazelnut", "nuts:hazelnut"),
        (r"walnut", "nuts:walnut"),
        (r"pistachio", "nuts:pistachio"),
        (r"peanut", "peanut"),
        (r"tahini|sesame", "sesame"),
        (r"soya", "soya"),
    ],
)
def test_an_ingredient_holds_what_its_name_says(word: str, allergen: str) -> None:
    named = [it for it in built_in().ingredients if re.search(word, it.name)]
    # buckwheat is no wheat; most almond extract is made without almonds
    exempt = {"buckwheat-flour", "buckwheat-groats-toasted", "almond-extract"}
    assert named
    for it in named:
        if it.id not in exempt:
            assert allergen in _contains(it.id), it.id


@pytest.mark.parametrize(
    ("slab", "holds"),
    [
        # worked out by hand from the lines of the three worked examples
        (
            "plain-flour wholemeal-rye-flour porridge-oats butter-unsalted "
            "light-brown-sugar fine-salt caster-sugar glucose-syrup-42de "
            "barley-malt-extract double-cream-48 whole-milk smoked-sea-salt "
            "dark-chocolate-60 instant-coffee",
            {"gluten:wheat", "gluten:rye", "gluten:oats", "gluten:barley", "milk"},
        ),
        (
            "plain-flour fine-semolina butter-unsalted caster-sugar lemon-zest "
            "fine-salt lemon-juice whole-egg egg-yolk blackcurrant-puree "
            "glucose-syrup-42de pectin-nh",
            {"gluten:wheat", "milk", "egg"},
        ),
        (
            "roasted-hazelnuts dates-pitted buckwheat-groats-toasted "
            "cocoa-powder-20-22 coconut-oil fine-salt tahini maple-syrup "
            "cocoa-butter toasted-sesame-seeds vanilla-extract smoked-sea-salt "
            "dark-chocolate-64 pumpkin-seeds",
            {"nuts:hazelnut", "sesame"},
        ),
    ],
)
def test_the_worked_examples_hold_what_their_lines_hold(
    slab: str, holds: set[str]
) -> None:
    assert set().union(*map(_contains, slab.split())) == holds


def test_soya_hides_in_dark_chocolate_and_milk_beside_it() -> None:
    for cocoa in (50, 54, 60, 64, 70, 72, 85):
        assert _may_hide(f"dark-chocolate-{cocoa}") == {"soya", "milk"}


def test_coconut_and_pine_nuts_are_no_nuts_of_the_law() -> None:
    for id in ("desiccated-coconut", "coconut-oil", "coconut-milk", "pine-nuts"):
        assert not _contains(id)
