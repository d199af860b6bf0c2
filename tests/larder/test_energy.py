"""Energy of the larder's ingredients, against their tables and their composition.

Sources: USDA National Nutrient Database for Standard Reference, release 28; Anses,
Ciqual table 2020; Regulation (EU) No 1169/2011, Annex XIV, for the European factors.
"""

import csv
from pathlib import Path

import pytest

from slabwright.composition import CONSTITUENTS, FATS, SUGARS
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.load import built_in

REFERENCE = Path(__file__).parent.parent / "reference" / "nutrition"
ALL = pytest.mark.parametrize("it", built_in().ingredients, ids=lambda it: it.id)


def _rows(name: str, key: str) -> dict[str, dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return {row[key]: row for row in csv.DictReader(file)}


CIQUAL = _rows("ciqual.csv", "ciqual_code")
USDA = _rows("usda.csv", "ndb_no")


def _half_of_what_it_is_below(text: str) -> float:
    return float(text[1:]) / 2 if text[0] == "<" else float(text)


def _eu_kj(it: Ingredient) -> float:
    # Source: Regulation (EU) No 1169/2011, Annex XIV, kJ/g; read as reprinted
    assert it.energy is not None
    assert it.energy.protein_n625 is not None
    grams = {name: it.values[name].value for name in CONSTITUENTS}
    carbohydrate = sum(
        grams[name] for name in (*SUGARS, "higher_saccharides", "starch")
    ) + (grams["rest"] if it.energy.rest_factor else 0.0)
    return (
        17 * it.energy.protein_n625
        + 37 * sum(grams[name] for name in FATS)
        + 17 * carbohydrate
        + 8 * grams["fibre"]
        + 29 * grams["alcohol"]
        + 10 * grams["polyols"]
        + 13 * grams["organic_acids"]
    )


def _atwater_kcal(it: Ingredient) -> float:
    # Source: USDA SR28, each record's own factors; alcohol 6.93 kcal/g (from memory)
    assert it.energy is not None
    grams = {name: it.values[name].value for name in CONSTITUENTS}
    by_difference = sum(
        grams[name]
        for name in (
            *SUGARS,
            "higher_saccharides",
            "starch",
            "fibre",
            "polyols",
            "organic_acids",
        )
    )
    return (
        it.energy.protein_factor * grams["protein"]
        + it.energy.fat_factor * sum(grams[name] for name in FATS)
        + it.energy.carbohydrate_factor * by_difference
        + it.energy.rest_factor * grams["rest"]
        + 6.93 * grams["alcohol"]
    )


@ALL
def test_energy_follows_from_the_composition_or_says_why_not(it: Ingredient) -> None:
    energy = it.energy
    assert energy is not None
    if energy.how == "eu-1169":
        agrees = energy.kJ == pytest.approx(_eu_kj(it), abs=0.012 * energy.kJ + 6)
    else:
        agrees = energy.kcal == pytest.approx(_atwater_kcal(it), abs=2)
    assert agrees or energy.note


def test_nearly_all_energies_agree() -> None:
    # a note must stay the exception
    noted = [
        it.id
        for it in built_in().ingredients
        if it.energy
        and it.energy.source.key != "eu-1169-2011"
        and it.energy.note
        and not it.energy.note.startswith("the table gives no factors")
    ]
    assert len(noted) <= 6, noted


@ALL
def test_energy_from_a_table_is_the_published_one(it: Ingredient) -> None:
    energy = it.energy
    assert energy is not None
    if energy.source.key == "ciqual-2020":
        row = CIQUAL[energy.record]
        published = (row["energy_eu1169_kcal"], row["protein_n625_g"])
        assert energy.kcal == float(published[0])
        assert energy.protein_n625 == pytest.approx(
            _half_of_what_it_is_below(published[1]), abs=0.0006
        )
    elif energy.source.key == "usda-sr28":
        row = USDA[energy.record]
        assert (energy.kcal, energy.kJ) == (
            float(row["energy_kcal"]),
            float(row["energy_kj"]),
        )
        for name in ("protein", "fat", "carb"):
            if published_factor := row[f"atwater_{name}"]:
                ours = getattr(energy, f"{name.replace('carb', 'carbohydrate')}_factor")
                assert ours == float(published_factor)
    else:
        assert energy.source.key == "eu-1169-2011"


@ALL
def test_a_label_can_count_its_protein(it: Ingredient) -> None:
    # nitrogen factors lie between 5.18 (almond) and 6.38 (milk): nitrogen x 6.25
    # is 2 % less to 21 % more than the protein itself
    assert it.energy is not None
    counted = it.energy.protein_n625
    assert counted is not None
    assert counted == pytest.approx(
        it.values["protein"].value * 1.09, rel=0.12, abs=0.3
    )
