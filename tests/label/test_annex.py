"""The list and its exemptions, each row against the law as reprinted elsewhere.

Source: tests/reference/label/allergens.csv and allergen_rules.csv.
"""

import csv
from datetime import date
from pathlib import Path

import pytest
from tests.label.kitchen import slab

from slabwright.label.allergen.annex import exemptions, listed, plain_name
from slabwright.label.allergen.emphasis import emphasis
from slabwright.label.allergen.part_words import exemption_of
from slabwright.larder.ingredient import ALLERGENS

REFERENCE = Path(__file__).parents[1] / "reference" / "label"


def rows(name: str, kind: str = "") -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row.get("kind", "") == kind]


IN_LAW = rows("allergens.csv", "allergen")
EXEMPT = rows("allergens.csv", "exemption")
RULES = {row["id"]: row for row in rows("allergen_rules.csv")}


@pytest.mark.parametrize("row", IN_LAW, ids=lambda row: row["id"])
def test_an_allergen_of_the_law_is_on_the_list(row: dict[str, str]) -> None:
    one = listed()[row["allergen"]]

    assert one.number == int(row["number"])
    assert one.family == row["group"]
    said = row["item"].casefold()
    assert said in one.in_law.casefold() or said in one.words
    assert one.article == f"Annex II {row['number']}"
    assert one.from_day == date(2014, 12, 13)


def test_the_list_holds_nothing_else() -> None:
    assert {row["allergen"] for row in IN_LAW} == set(listed()) == set(ALLERGENS)
    assert len({one.number for one in listed().values()}) == 14


@pytest.mark.parametrize("row", EXEMPT, ids=lambda row: row["id"])
def test_an_exemption_of_the_law_is_known_and_covers_its_own(
    row: dict[str, str],
) -> None:
    found = exemption_of(row["example"])

    assert found is not None
    assert (found.id, found.number) == (row["id"], int(row["number"]))


def test_there_is_no_other_exemption() -> None:
    assert [one.id for one in exemptions()] == [row["id"] for row in EXEMPT]


@pytest.mark.parametrize(
    "name",
    [
        "glucose syrup (wheat flour)",
        "wheat starch",
        "refined soya oil",
        "soya oil",
        "fish gelatine",
        "lactose (milk)",
        "whey",
        "wheat malt extract",
        "maltodextrin, wheat flour",
        "hazelnut paste",
        "glucose syrup",
    ],
)
def test_what_is_near_an_exemption_is_not_covered(name: str) -> None:
    assert exemption_of(name) is None


@pytest.mark.parametrize("row", EXEMPT, ids=lambda row: row["id"])
def test_an_exempt_part_is_shown_as_such_and_not_declared(row: dict[str, str]) -> None:
    found = slab(
        f'- {{name: q mix, made_of: [sugar, "{row["example"]}"]}}\n', "10 g q mix"
    )

    assert found.in_it == ()
    numbers = {listed()[t.allergen].number for t in found.traces}
    assert numbers <= {int(row["number"])}
    assert all(t.state.value == "exempt" for t in found.traces)


@pytest.mark.parametrize(
    ("part", "allergen"),
    # ING-20: in sub-ingredients, carriers and processing aids they must appear
    [
        ("carrier (lactose)", "milk"),
        ("flavouring (carrier: whey powder)", "milk"),
        ("glazing agent (egg white)", "egg"),
        ("processing aid (soya lecithin)", "soya"),
        ("release agent (wheat flour)", "gluten:wheat"),
        ("anti-foaming agent (fish oil)", "fish"),
        ("barley malt extract", "gluten:barley"),
    ],
)
def test_carriers_glazes_and_aids_are_opened(part: str, allergen: str) -> None:
    found = slab(f'- {{name: q mix, made_of: [rice, "{part}"]}}\n', "10 g q mix")

    assert RULES["ING-20"]["article"] == "Art 21(1), Annex II"
    assert allergen in found.in_it


@pytest.mark.parametrize(
    ("name", "allergens", "marked"),
    # ING-21: the very name of the list is set apart, each time
    [
        ("plain wheat flour", ["gluten:wheat"], "plain WHEAT flour"),
        ("plain flour", ["gluten:wheat"], "plain flour (WHEAT)"),
        ("whole milk", ["milk"], "whole MILK"),
        ("butter", ["milk"], "butter (MILK)"),
        ("spelt flour", ["gluten:wheat"], "SPELT flour"),
        ("toasted sesame seeds", ["sesame"], "toasted SESAME seeds"),
        ("roasted hazelnuts", ["nuts:hazelnut"], "roasted HAZELNUTS"),
        ("praline", ["nuts:hazelnut", "nuts:almond"], "praline (HAZELNUTS, ALMONDS)"),
        ("Brazil nuts and Brazil nut oil", ["nuts:brazil"],
         "BRAZIL NUTS and BRAZIL NUT oil"),
        ("buttermilk", ["milk"], "buttermilk (MILK)"),
    ],
)  # fmt: skip
def test_the_word_of_the_law_stands_out(
    name: str, allergens: list[str], marked: str
) -> None:
    assert emphasis(name, allergens).marked == marked


def test_no_declaration_says_gluten_or_nuts_alone() -> None:
    names = {plain_name(one).casefold() for one in ALLERGENS}

    assert not names & {"gluten", "nuts", "cereals containing gluten", "tree nuts"}
