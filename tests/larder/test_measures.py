"""Household measures and eggs, against the American table and the legal classes."""

import csv
import re
from itertools import pairwise
from pathlib import Path

import pytest

from slabwright.larder.eggs import EggClass, egg_classes, egg_measures, measure_name
from slabwright.larder.ingredient import Ingredient, Measure
from slabwright.larder.load import built_in

REFERENCE = Path(__file__).parent.parent / "reference" / "nutrition"
ALL = pytest.mark.parametrize("it", built_in().ingredients, ids=lambda it: it.id)
ML = {
    "cup": 236.588,
    "tbsp": 14.787,
    "tablespoon": 14.787,
    "tsp": 4.929,
    "fl oz": 29.574,
}
"""US customary measures [ml]."""


def _rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


USDA = _rows("usda_measures.csv")


def _agrees(measure: Measure, row: dict[str, str]) -> bool:
    grams = float(row["gram_weight"]) / float(row["amount"])
    unit = row["unit"].lower()
    if spoons := re.search(r"(\d+) tbsp", unit):
        grams, unit = grams / int(spoons[1]), "tbsp"
    if pieces := re.match(r"(\d+) ", unit):
        grams /= int(pieces[1])
    if measure.name != "ml":
        return measure.grams == pytest.approx(grams, abs=0.006)
    return any(
        measure.grams == pytest.approx(grams / ml, abs=0.006)
        for name, ml in ML.items()
        if unit.startswith(name)
    )


@ALL
def test_measures_from_the_american_table_are_the_published_ones(
    it: Ingredient,
) -> None:
    for measure in it.measures:
        if measure.source.key == "usda-sr28":
            rows = [row for row in USDA if row["ndb_no"] == measure.record]
            assert any(_agrees(measure, row) for row in rows), measure


@ALL
def test_every_measure_has_a_range_around_it_and_says_what_it_is(
    it: Ingredient,
) -> None:
    names = [measure.name for measure in it.measures]
    assert len(names) == len(set(names))
    for measure in it.measures:
        assert 0 < measure.low_g <= measure.grams <= measure.high_g
        assert measure.what


@ALL
def test_a_cup_weighs_what_its_density_says(it: Ingredient) -> None:
    ml, cup = it.measure("ml"), it.measure("cup_us")
    if ml and cup:
        assert cup.grams == pytest.approx(ml.grams * 236.588, rel=0.06)


@ALL
def test_anything_that_spoons_has_a_density(it: Ingredient) -> None:
    pieces = {measure.name.partition("_")[0] for measure in it.measures}
    assert it.measure("ml") or pieces & {"each", "leaf"}


def test_densities_are_those_of_food() -> None:
    for it in built_in().ingredients:
        ml = it.measure("ml")
        if ml:
            assert 0.1 <= ml.grams <= 1.5, it.id


@pytest.mark.parametrize(
    ("id", "g_per_ml", "within"),
    [
        # Source: physical constants from memory: water 1.00 at room temperature, oils
        # 0.91 to 0.93, sucrose syrup of 67 % 1.33, milk 1.03
        ("water", 1.0, 0.005),
        ("whole-milk", 1.03, 0.01),
        ("sunflower-oil", 0.92, 0.02),
        ("maple-syrup", 1.33, 0.01),
        ("glucose-syrup-42de", 1.42, 0.02),
        ("honey", 1.42, 0.02),
    ],
)
def test_liquids_have_their_density(id: str, g_per_ml: float, within: float) -> None:
    found = built_in().by_id(id)
    assert found is not None
    ml = found.measure("ml")
    assert ml is not None
    assert ml.grams == pytest.approx(g_per_ml, abs=within)


REGIME = {"EU": "EU/UK", "US": "US", "CA": "Canada", "AU": "Australia", "NZ": "NZ"}
SIZE = {
    "small (S)": "S",
    "medium (M)": "M",
    "large (L)": "L",
    "very large (XL)": "XL",
    "US peewee": "Peewee",
    "US small": "Small",
    "US medium": "Medium",
    "US large": "Large",
    "US extra large": "Extra Large",
    "US jumbo": "Jumbo",
    "Canadian medium": "Medium",
    "Canadian large": "Large",
    "Canadian extra large": "Extra Large",
    "Canadian jumbo": "Jumbo",
    "Australian large": "Large",
    "Australian extra large": "Extra Large",
    "Australian king size": "King size",
    "New Zealand size 6 (standard)": "6 (Standard)",
    "New Zealand size 7 (large)": "7 (Large)",
}


@pytest.mark.parametrize("ours", egg_classes(), ids=lambda c: c.label)
def test_egg_classes_have_their_legal_limits(ours: EggClass) -> None:
    # Source: Regulation (EC) 589/2008, Art 4, and the other classes as reprinted
    (row,) = [
        row
        for row in _rows("egg_sizes.csv")
        if (row["regime"], row["size"]) == (REGIME[ours.regime], SIZE[ours.label])
    ]
    if row["min_g"]:
        assert ours.min_g == float(row["min_g"])
    if row["max_g"]:
        assert ours.max_g == float(row["max_g"])
    # an American or New Zealand class ends where the next one begins
    assert ours.open == ("assumed" in ours.note)
    assert ours.open or ours.min_g < ours.max_g <= ours.min_g + 10


def test_classes_of_a_country_follow_one_another() -> None:
    for regime in ("EU", "US", "CA", "NZ"):
        classes = [c for c in egg_classes() if c.regime == regime]
        for lighter, heavier in pairwise(classes):
            assert lighter.max_g == heavier.min_g


def test_a_medium_european_egg_is_the_middle_of_its_class_without_shell() -> None:
    # 53 to 63 g in shell; 58 x 0.88 = 51.0; 53 x 0.87 = 46.1, 63 x 0.89 = 56.1
    egg = built_in().by_id("whole-egg")
    assert egg is not None
    medium = egg.measure("each_medium")
    assert medium is not None
    assert (medium.grams, medium.low_g, medium.high_g) == (51.0, 46.1, 56.1)


@pytest.mark.parametrize(
    ("id", "usda_g"), [("whole-egg", 50), ("egg-white", 33), ("egg-yolk", 17)]
)
def test_a_large_american_egg_agrees_with_the_american_table(
    id: str, usda_g: float
) -> None:
    # Source: USDA SR28, records 01123 to 01125
    found = built_in().by_id(id)
    assert found is not None
    ours = found.measure("each_us_large")
    assert ours is not None
    assert ours.low_g <= usda_g <= ours.high_g
    assert ours.grams == pytest.approx(usda_g, rel=0.08)
    table = found.measure("each_usda_large")
    assert table is not None
    assert table.grams == usda_g


def test_white_and_yolk_make_up_the_egg() -> None:
    for size in ("small", "medium", "large", "very_large"):
        grams = {}
        for id in ("whole-egg", "egg-white", "egg-yolk"):
            found = built_in().by_id(id)
            assert found is not None
            measure = found.measure(measure_name(size))
            assert measure is not None
            grams[id] = measure.grams
        both = grams["egg-white"] + grams["egg-yolk"]
        assert both == pytest.approx(grams["whole-egg"], abs=0.11)


def test_shares_of_the_egg_lie_within_the_published_ones() -> None:
    published = {
        row["quantity"]: float(row["value"])
        for row in _rows("egg_parts.csv")
        if row["unit"] == "%"
    }
    for id, part in (("egg-white", "white"), ("egg-yolk", "yolk")):
        for measure, found in zip(egg_measures(id), egg_classes(), strict=True):
            share = published[f"{part} share of egg"] / 100
            assert measure.low_g <= found.middle_g * share <= measure.high_g


@pytest.mark.parametrize(
    ("size", "country", "name"),
    [
        ("medium", "GB", "each_medium"),
        ("large", "IE", "each_large"),
        ("large", "US", "each_us_large"),
        ("extra large", "US", "each_us_very_large"),
        ("xl", "GB", "each_very_large"),
        ("large", "ZA", "each_large"),
        ("large", "AU", "each_au_large"),
    ],
)
def test_a_size_is_read_by_the_country(size: str, country: str, name: str) -> None:
    egg = built_in().by_id("whole-egg")
    assert egg is not None
    assert measure_name(size, country) == name
    assert egg.measure(name) is not None


def test_only_eggs_come_by_class() -> None:
    assert egg_measures("butter-unsalted") == ()
