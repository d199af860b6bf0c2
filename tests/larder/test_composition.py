"""What the larder's ingredients are made of, against the tables they come from.

Sources: USDA National Nutrient Database for Standard Reference, release 28, and Anses,
Ciqual table 2020; the rows used stand in tests/reference/nutrition with their origin.
"""

import csv
import re
from pathlib import Path

import numpy as np
import pytest

from slabwright.composition import (
    CONSTITUENTS,
    FATS,
    INDEX,
    SATURATES,
    SUGARS,
    amount,
    fat,
    total,
)
from slabwright.larder.ingredient import Cited, Ingredient, closes_to
from slabwright.larder.load import built_in
from slabwright.larder.table import Values, table
from slabwright.source import Seen, sources

REFERENCE = Path(__file__).parent.parent / "reference" / "nutrition"
ALL = pytest.mark.parametrize("it", built_in().ingredients, ids=lambda it: it.id)
ROUNDED = 0.0006
"""Our table keeps three decimals."""


def _rows(name: str, key: str) -> dict[str, dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return {row[key]: row for row in csv.DictReader(file)}


CIQUAL = _rows("ciqual.csv", "ciqual_code")
USDA = _rows("usda.csv", "ndb_no")
COLUMN = {
    "ciqual-2020": {
        "protein": "protein_jones_g",
        "carbohydrate": "carbohydrate_available_g",
        "sugars": "sugars_g",
    },
    "usda-sr28": {
        "protein": "protein_g",
        "carbohydrate": "carbohydrate_by_difference_g",
        "sugars": "sugars_total_g",
    },
}


def _column(cited: Cited, constituent: str) -> str:
    if constituent in FATS:
        return "fat_g"
    return COLUMN[cited.source.key].get(constituent, f"{constituent}_g")


def _row(cited: Cited) -> dict[str, str]:
    return (CIQUAL if cited.source.key == "ciqual-2020" else USDA)[cited.record]


def _number(text: str) -> float:
    """A published cell; half of what it is below; blank and traces are 0."""
    if text in {"", "tr"}:
        return 0.0
    return float(text[1:]) / 2 if text[0] == "<" else float(text)


def _named(row: dict[str, str], *names: str) -> float:
    """Single sugars, starch, polyols: what is below a limit is none."""
    cells = (row.get(f"{name}_g", "") for name in names)
    return sum(
        float(cell) for cell in cells if cell not in {"", "tr"} and cell[0] != "<"
    )


def _as_published(constituent: str, cited: Cited) -> float:
    published = _row(cited).get(_column(cited, constituent), "")
    assert published, "the table leaves it blank"
    return float(published)


def _traces(constituent: str, cited: Cited) -> float:
    assert _row(cited)[_column(cited, constituent)] == "tr"
    return 0.0


def _below(constituent: str, cited: Cited) -> float:
    published = _row(cited)[_column(cited, constituent)]
    assert published == "<" + cited.note.rpartition(" ")[2]
    halved = {"protein", "fibre", "water", "salt", SATURATES, *FATS}
    return _number(published) if constituent in halved else 0.0


def _from_sodium(_: str, cited: Cited) -> float:
    return _number(_row(cited)["sodium_mg"]) * 2.5 / 1000


def _ash_less_salt(constituent: str, cited: Cited) -> float:
    row = _row(cited)
    published = row.get("salt_g", "")
    salt = _number(published) if published else _from_sodium(constituent, cited)
    return max(0.0, _number(row["ash_g"]) - salt)


def _share_of_fat(constituent: str, cited: Cited) -> float:
    share = float(cited.note.split()[1])
    return share * _number(_row(cited)[_column(cited, constituent)])


def _carbohydrate(cited: Cited) -> float:
    """Without fibre, which the American table counts in."""
    row = _row(cited)
    fibre = _number(row["fibre_g"]) if cited.source.key == "usda-sr28" else 0.0
    return _number(row[_column(cited, "carbohydrate")]) - fibre


def _not_split(constituent: str, cited: Cited) -> float:
    row = _row(cited)
    sugars = max(_number(row[_column(cited, "sugars")]), _named(row, *SUGARS))
    others = _named(row, "starch", "polyols") - _named(row, constituent)
    return _carbohydrate(cited) - sugars - others


def _all_but_the_named(constituent: str, cited: Cited) -> float:
    others = [sugar for sugar in SUGARS if sugar != constituent]
    return _carbohydrate(cited) - _named(_row(cited), *others, "starch", "polyols")


def _taken_as(constituent: str, cited: Cited) -> float:
    row = _row(cited)
    taken = cited.note.rpartition("taken as ")[2].split(" and ")
    shares = dict(part.partition(" ")[::2] for part in taken)
    unnamed = _number(row[_column(cited, "sugars")]) - _named(row, *SUGARS)
    return _named(row, constituent) + unnamed * float(shares[constituent] or 1)


WAYS = {
    r"": _as_published,
    r"traces": _traces,
    r"published as below [\d.]+": _below,
    r"sodium x 2\.5": _from_sodium,
    r"ash less salt( is below 0)?": _ash_less_salt,
    r"share [\d.]+ of the published fat": _share_of_fat,
    r"carbohydrate that the table does not split": _not_split,
    r"carbohydrate less all else that the table names": _all_but_the_named,
    r"(total of sugars|sugars that the table does not name) taken as .*": _taken_as,
}
"""How a value follows from its published row, by the note that stands beside it."""


def _expected(constituent: str, cited: Cited) -> float:
    (way,) = [way for note, way in WAYS.items() if re.fullmatch(note, cited.note)]
    return way(constituent, cited)


@ALL
def test_closes_to_100_g(it: Ingredient) -> None:
    assert closes_to(it.values) == pytest.approx(100.0, abs=1.0)
    assert it.composition is not None
    assert total(it.composition) == pytest.approx(1.0, abs=1e-12)


@ALL
def test_no_constituent_is_left_out(it: Ingredient) -> None:
    # what nobody gave would be a zero unseen
    assert set(it.values) == {*CONSTITUENTS, SATURATES}
    assert all(cited.value >= 0 for cited in it.values.values())


@ALL
def test_every_value_from_a_table_is_the_published_one(it: Ingredient) -> None:
    for constituent, cited in it.values.items():
        if cited.source.key not in COLUMN:
            assert cited.source.seen is Seen.MEMORY
            assert cited.note, f"{it.id}: {constituent} is remembered without a word"
            assert not cited.record
            continue
        expected = _expected(constituent, cited)
        assert cited.value == pytest.approx(expected, abs=ROUNDED), constituent


@ALL
def test_no_group_rule_hides_what_the_table_publishes(it: Ingredient) -> None:
    records = {c.record: c for c in it.values.values() if c.record}
    for cited in records.values():
        for constituent, ours in it.values.items():
            rule = not ours.record and ours.note in RULES
            if rule and constituent not in FATS and constituent != "rest":
                published = _row(cited).get(_column(cited, constituent), "")
                assert _number(published) <= 0.5, f"{it.id}: {constituent}"


RULES = {why for _, _, _, why in table("none.csv")}


@ALL
def test_saturates_are_a_part_of_the_fat(it: Ingredient) -> None:
    row = it.composition
    assert row is not None
    assert row[INDEX[SATURATES]] <= fat(row) + 1e-9
    if fat(row) > 0.02:
        assert row[INDEX[SATURATES]] > 0


@ALL
def test_a_rest_that_counts_is_named(it: Ingredient) -> None:
    assert it.rest_is or it.values["rest"].value <= 2


@pytest.mark.parametrize(
    ("id", "share"),
    [
        # Source: the names themselves; fat by the British and European standards of
        # identity (double 48, single 18, butter 82, whole milk 3.5), from memory
        ("double-cream-48", 0.48),
        ("single-cream-18", 0.18),
        ("whipping-cream-38", 0.38),
        ("heavy-cream-36", 0.36),
        ("butter-unsalted", 0.82),
        ("whole-milk", 0.036),
        ("cocoa-powder-20-22", 0.21),
        ("cocoa-powder-10-12", 0.11),
    ],
)
def test_fat_is_what_the_name_says(id: str, share: float) -> None:
    found = built_in().by_id(id)
    assert found is not None
    assert found.composition is not None
    assert float(fat(found.composition)) == pytest.approx(share, abs=0.011)


@pytest.mark.parametrize("cocoa", [50, 54, 60, 64, 70, 72, 85])
def test_dark_chocolate_holds_the_cocoa_that_its_name_says(cocoa: int) -> None:
    found = built_in().by_id(f"dark-chocolate-{cocoa}")
    assert found is not None
    row = found.composition
    assert row is not None
    not_cocoa = amount(row, "sucrose", "fat_other")
    assert 1 - float(not_cocoa) == pytest.approx(cocoa / 100, abs=0.015)


def test_dark_chocolate_is_like_the_american_table_of_its_class() -> None:
    # USDA 19903, 60-69 % cacao solids: fat 38.3, sugars 36.7, water 1.3 g per 100 g
    found = built_in().by_id("dark-chocolate-64")
    assert found is not None
    row = found.composition
    assert row is not None
    assert float(fat(row)) * 100 == pytest.approx(38.3, abs=3)
    assert float(amount(row, *SUGARS)) * 100 == pytest.approx(36.7, abs=3)


def test_glucose_syrups_have_the_dextrose_equivalent_of_their_name() -> None:
    # Reducing power of the dry solids: glucose 100, maltose 58, maltotriose 40; the
    # higher saccharides of an acid-converted 42 DE syrup about 21, of a 63 DE one about
    # 30 (common practice, no source; an estimate of their mean chain length).
    for id, name, higher in (
        ("glucose-syrup-42de", 42, 0.21),
        ("glucose-syrup-63de", 63, 0.30),
    ):
        found = built_in().by_id(id)
        assert found is not None
        g = {
            c: found.values[c].value
            for c in ("glucose", "maltose", "higher_saccharides")
        }
        reducing = g["glucose"] + 0.58 * g["maltose"] + higher * g["higher_saccharides"]
        assert 100 * reducing / sum(g.values()) == pytest.approx(name, abs=3)


def test_composition_is_read_only_and_kept() -> None:
    found = built_in().by_id("caster-sugar")
    assert found is not None
    row = found.composition
    assert row is not None
    assert row is found.composition
    with pytest.raises(ValueError, match="read-only"):
        row[0] = 1.0


def test_an_ingredient_without_values_has_no_composition() -> None:
    assert Ingredient("x", "x", "own", {}).composition is None


def test_fats_are_of_one_kind_each() -> None:
    kinds = {
        "butter-unsalted": "fat_milk",
        "cocoa-butter": "fat_cocoa",
        "coconut-oil": "fat_lauric",
        "roasted-hazelnuts": "fat_nut",
        "tahini": "fat_nut",
        "egg-yolk": "fat_other",
        "sunflower-oil": "fat_other",
    }
    for id, kind in kinds.items():
        found = built_in().by_id(id)
        assert found is not None
        assert found.values[kind].value == pytest.approx(
            sum(found.values[name].value for name in FATS)
        )


def test_a_damaged_row_is_refused_with_its_id() -> None:
    row = ["tahini", "water", "3", "memory", "", "memory", "x"]
    wrong = [*row[:1], "wet", *row[2:]]
    for rows in ((row, row), (wrong,)):
        with pytest.raises(ValueError, match="tahini has a wrong row"):
            len(Values(rows, {}, sources()))


def test_the_way_of_knowing_in_the_table_is_that_of_the_source() -> None:
    for _, _, _, source, _, seen, _ in table("composition.csv"):
        assert sources()[source].seen is Seen[seen.upper()]


def test_shares_scale_by_no_more_than_a_hundredth() -> None:
    for it in built_in().ingredients:
        row = it.composition
        assert row is not None
        for name in CONSTITUENTS:
            published = it.values[name].value / 100
            assert np.isclose(row[INDEX[name]], published, rtol=0.0102, atol=1e-9)
