"""What an ingredient brings: energy, nitrogen x 6.25, what a pack leaves out.

Sources: Anses, Ciqual table 2020 (its energy by Annex XIV of Regulation (EU) No
1169/2011); USDA National Nutrient Database for Standard Reference, release 28. Rows in
tests/reference/nutrition, energy worked out here from the published rows alone.
"""

import csv
from pathlib import Path

import pytest
from tests.label.kitchen import folder

from slabwright.label.nutrition.nutrients import AT, NUTRIENTS, Brings, brings, unknown
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.load import built_in
from slabwright.source import Seen

REFERENCE = Path(__file__).parents[1] / "reference" / "nutrition"
ALL = built_in().ingredients
BY_TABLE = [
    one for one in ALL
    if one.energy is not None and one.energy.how == "eu-1169"
    and one.energy.source.key == "ciqual-2020"
]  # fmt: skip
PACK = "fat: 30, saturates: 18, carbohydrate: 55, sugars: 50, protein: 7, salt: 0.2"


def rows(name: str, key: str) -> dict[str, dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return {row[key]: row for row in csv.DictReader(file)}


USDA = rows("usda.csv", "ndb_no")
CIQUAL = rows("ciqual.csv", "ciqual_code")
AMERICAN = [
    one for one in ALL
    if one.energy is not None and one.energy.source.key == "usda-sr28"
    and one.energy.record in USDA and not one.energy.note
    and not any(c.value > 0 and c.source.seen is Seen.MEMORY
                for c in one.values.values())
]  # fmt: skip


CHANGED = {"redcurrant-jelly", "ground-coffee"}
"""Where the larder says that it took less acid or carbohydrate than was published."""


def number(text: str) -> float:
    return float(text.removeprefix("<")) if text not in {"", "tr"} else 0.0


def own(per_100g: str, more: str = "") -> Brings:
    """What the user's own ingredient brings, by its row in larder.yaml."""
    home = folder(f"- {{name: q thing, per_100g: {{{per_100g}}}{more}}}\n")
    (one,) = (it for it in home.larder.ingredients if it.id == "q-thing")
    return brings(one, home.larder.by_id(one.like) if one.like else None)


def of(one: Brings, nutrient: str) -> tuple[float, float, float]:
    """Value and ends per 100 g."""
    at = AT[nutrient]
    low, value, high = (float(100 * end[at]) for end in (one.low, one.value, one.high))
    return low, value, high


def test_there_are_tables_to_hold_it_against() -> None:
    assert len(BY_TABLE) > 90
    assert len(AMERICAN) > 50


@pytest.mark.parametrize("it", BY_TABLE, ids=lambda it: it.id)
def test_energy_is_as_the_french_table_publishes_it(it: Ingredient) -> None:
    assert it.energy is not None
    found = brings(it).value[AT["energy_kj"]] * 100

    # published to three figures, its parts too: the table's own sums miss by as much
    rel = 0.018 if it.id in CHANGED else 0.012
    assert found == pytest.approx(it.energy.kJ, rel=rel, abs=9)


PARTS = {
    "fat": "fat_g", "carbohydrate": "carbohydrate_available_g", "fibre": "fibre_g",
    "protein": "protein_n625_g", "polyols": "polyols_g", "alcohol": "alcohol_g",
    "organic_acids": "organic_acids_g", "sugars": "sugars_g", "salt": "salt_g",
}  # fmt: skip
PUBLISHED = [
    row for row in CIQUAL.values()
    if all(row[column] for column in PARTS.values()) and row["energy_eu1169_kj"]
]  # fmt: skip


def test_most_french_records_are_whole() -> None:
    assert len(PUBLISHED) == 80


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["ciqual_code"])
def test_a_published_record_taken_as_a_pack_bears_its_published_energy(
    row: dict[str, str],
) -> None:
    most = {name: number(row[column]) for name, column in PARTS.items()}
    least = {n: 0.0 if row[PARTS[n]][0] in "<t" else most[n] for n in PARTS}
    low, high = (
        of(own(", ".join(f"{name}: {grams}" for name, grams in given.items())),
           "energy_kj")[end]
        for given, end in ((least, 0), (most, 2))
    )  # fmt: skip
    published = number(row["energy_eu1169_kj"])

    # published to three figures; "below x" is anything from none to x
    slack = 0.012 * published + 9
    assert low - slack <= published <= high + slack


@pytest.mark.parametrize("it", AMERICAN, ids=lambda it: it.id)
def test_american_records_bear_energy_by_the_european_factors(it: Ingredient) -> None:
    assert it.energy is not None
    row = {k: number(v) for k, v in USDA[it.energy.record].items()
           if k.endswith(("_g", "n_factor"))}  # fmt: skip
    protein = row["protein_g"] * 6.25 / (row["n_factor"] or 6.25)
    available = row["carbohydrate_by_difference_g"] - row["fibre_g"]
    expected = (
        37 * row["fat_g"] + 17 * (protein + available) + 8 * row["fibre_g"]
        + 29 * row["alcohol_g"]
    )  # fmt: skip

    # scaled to 100 g: a record's own parts miss it by up to 1 g
    found = brings(it).value[AT["energy_kj"]] * 100
    assert found == pytest.approx(expected, rel=0.02, abs=12)


@pytest.mark.parametrize("it", ALL, ids=lambda it: it.id)
def test_parts_are_no_more_than_their_whole_and_ends_lie_about_it(
    it: Ingredient,
) -> None:
    one = brings(it)

    for part, whole in (
        ("saturates", "fat"), ("sugars", "carbohydrate"), ("polyols", "carbohydrate"),
        ("erythritol", "polyols"),
    ):  # fmt: skip
        assert one.value[AT[part]] <= one.value[AT[whole]] + 1e-9
    assert (one.low <= one.value + 1e-12).all()
    assert (one.value <= one.high + 1e-12).all()
    assert (one.low >= 0).all()
    assert one.missing == ()


@pytest.mark.parametrize(
    ("id", "n_625"),
    # Ciqual 9440 and USDA 20481, 01211: the tables' own protein is another
    [("plain-flour", 9.94), ("all-purpose-flour", 10.33 / 5.7 * 6.25)],
)
def test_protein_is_nitrogen_times_6_25(id: str, n_625: float) -> None:
    it = built_in().by_id(id)
    assert it is not None

    assert brings(it).value[AT["protein"]] * 100 == pytest.approx(n_625, rel=0.01)


def test_erythritol_bears_nothing_and_other_polyols_ten() -> None:
    it = built_in().by_id("erythritol")
    assert it is not None

    assert of(brings(it), "energy_kj")[1] == pytest.approx(0, abs=1e-9)
    assert of(brings(it), "carbohydrate")[1] == pytest.approx(99.9)
    # 90 g of polyols at 10 kJ, as a pack gives them
    sweet = own("polyols: 90, carbohydrate: 90, sugars: 0, fat: 0, protein: 0, salt: 0,"
                " starch: 0, fibre: 0, organic_acids: 0, water: 10")  # fmt: skip
    assert of(sweet, "energy_kj")[1] == pytest.approx(900, abs=1)
    assert of(sweet, "energy_kcal")[1] == pytest.approx(216, abs=1)


def test_a_pack_s_own_declaration_is_taken_as_it_stands() -> None:
    one = own(PACK)

    for name, grams in (("fat", 30), ("saturates", 18), ("carbohydrate", 55),
                        ("sugars", 50), ("protein", 7), ("salt", 0.2)):  # fmt: skip
        assert of(one, name) == pytest.approx((grams, grams, grams))
    # 7.8 g are not named: fibre at most, or water
    assert of(one, "fibre") == pytest.approx((0, 3.9, 7.8))
    low, _, high = of(one, "energy_kj")
    sure = 30 * 37 + 55 * 17 + 7 * 17
    # and 5 g of the carbohydrate are neither sugars nor said: polyols bear 7 kJ less
    assert low == pytest.approx(sure - 5 * 7)
    assert high == pytest.approx(sure + 7.8 * 13)
    assert {name for name, _ in one.missing} >= {"fibre"}
    assert not {"fat", "sugars", "alcohol"} & {name for name, _ in one.missing}


@pytest.mark.parametrize(
    ("per_100g", "missing"),
    [
        ("water: 12, fat: 3", {"saturates", "carbohydrate", "sugars", "protein"}),
        ("carbohydrate: 80, fat: 1, protein: 2", {"sugars", "saturates", "salt"}),
        ("fat: 80, protein: 1, carbohydrate: 1, sugars: 1", {"saturates", "salt"}),
    ],
)
def test_what_a_row_leaves_out_is_missing_and_no_nought(
    per_100g: str, missing: set[str]
) -> None:
    one = own(per_100g)
    named = {name for name, _ in one.missing}

    assert missing <= named
    for name in missing:
        low, _, high = of(one, name)
        assert high > low


def test_sodium_becomes_salt() -> None:
    assert of(own(f"sodium: 0.4, {PACK.replace('salt: 0.2', 'water: 1')}"), "salt") == (
        pytest.approx((1.0, 1.0, 1.0))
    )


def test_a_row_like_another_takes_what_it_leaves_out_from_it() -> None:
    rye = built_in().find("wholemeal rye flour")
    assert rye is not None
    one = own("fat: 1.9", ", like: wholemeal rye flour")

    assert one.missing == ()
    assert of(one, "fat")[1] == pytest.approx(1.9)
    there = brings(rye.ingredient)
    assert of(one, "fibre")[1] == pytest.approx(of(there, "fibre")[1], rel=0.02)
    assert of(one, "protein")[1] == pytest.approx(of(there, "protein")[1], rel=0.02)


def test_of_what_nobody_knows_everything_may_be_in_it() -> None:
    one = unknown("nobody knows")

    # no more energy than in fat alone
    assert of(one, "energy_kj") == pytest.approx((0, 1850, 3700))
    assert {name for name, _ in one.missing} == set(NUTRIENTS) - {"erythritol"}
