"""The command allergens, as a baker and a script ask for it."""

import csv
import io
import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
ASKED = [[TIDES], [LAMP], ["demo"], [WALK, "--matrix"], ["demo", "--on", "2020-01-01"]]
pytestmark = pytest.mark.usefixtures("bench")


def slabs(*asked: str) -> dict[str, dict[str, Any]]:
    found = json.loads(run("allergens", *asked, "--json").out)
    return {one["slab"]: one for one in found["slabs"]}


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_it_keeps_to_its_schema_and_its_width(asked: list[str]) -> None:
    result, text = run("allergens", *asked, "--json"), run("allergens", *asked)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["allergens"])
    assert max(map(len, text.out.splitlines())) <= 80


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_no_word_of_it_says_that_something_is_absent(asked: list[str]) -> None:
    outputs = [run("allergens", *asked, *more).out for more in ([], ["--json"])]
    outputs.append(run("allergens", *asked, "--csv", "-").out)

    for out in outputs:
        assert not re.search(r"\bfree[- ]from\b|\bsafe\b|no allergens", out, re.I)


def test_the_demonstration_holds_what_its_scenario_says() -> None:
    # the scenario's own matrix, by hand from the lines; soya and the milk of dark
    # chocolate are its open points, the wheat beside oats and buckwheat our larder's
    found = slabs("demo")
    contains = {name: set(one["contains"]) for name, one in found.items()}
    unknown = {name: set(one["unknown"]) for name, one in found.items()}

    assert contains == {
        "Harbour Lamp": {
            "gluten:wheat", "gluten:rye", "gluten:oats", "gluten:barley", "milk",
        },
        "Two Tides": {"gluten:wheat", "milk", "egg"},
        "Lantern Walk": {"nuts:hazelnut", "sesame"},
    }  # fmt: skip
    assert unknown == {
        "Harbour Lamp": {"soya"},
        "Two Tides": set(),
        "Lantern Walk": {"soya", "milk", "gluten:wheat"},
    }


def test_a_twin_without_nuts_still_stands_in_a_kitchen_with_them(bench: Path) -> None:
    card = bench / WALK
    text = card.read_text("utf-8").replace("roasted hazelnuts", "sunflower seeds")
    (bench / "demo/slabs/twin.card").write_text(
        text.replace("slab Lantern Walk", "slab Twin").replace("hazelnut and", "and"),
        "utf-8",
    )
    twin = slabs("demo/slabs/twin.card")["Twin"]

    assert twin["contains"] == ["sesame"]
    beside = {one["allergen"]: one["slabs"] for one in twin["worked_with_in_kitchen"]}
    assert beside["nuts:hazelnut"] == ["Lantern Walk"]


def test_an_answer_that_is_kept_closes_its_question() -> None:
    before = slabs(LAMP)["Harbour Lamp"]
    asked = [one["about"] for one in before["questions"]]
    kept = run(
        "larder", "add", "dark chocolate 60%", "--like", "dark chocolate 60%",
        "--contains", "soya", "--source", "specification 2026-11-20, Morwen",
        "--kitchen", "demo",
    )  # fmt: skip
    after = slabs(LAMP)["Harbour Lamp"]

    assert kept.code == 0, kept.err
    assert asked == ["porridge oats", "dark chocolate 60%"]
    assert [one["about"] for one in after["questions"]] == ["porridge oats"]
    assert "soya" in after["contains"]
    (way,) = [one for one in after["ways"] if one["allergen"] == "soya"]
    assert way["source"] == "specification 2026-11-20, Morwen"


def test_none_of_the_14_can_be_an_answer() -> None:
    added = run(
        "larder", "add", "buckwheat groats, toasted", "--like",
        "buckwheat groats, toasted", "--contains", "none", "--source", "spec",
        "--kitchen", "demo",
    )  # fmt: skip

    assert added.code == 0, added.err
    assert "contains: []" in added.out
    assert set(slabs(WALK)["Lantern Walk"]["unknown"]) == {"soya", "milk"}


def test_a_question_names_who_sells_it_and_in_which_pack() -> None:
    (oats, _) = slabs(LAMP)["Harbour Lamp"]["questions"]

    assert oats["who"] == "the merchant"
    assert oats["packs"] == ["5 kg from the merchant"]
    assert "slabwright larder add 'porridge oats'" in oats["do"]
    assert "--contains gluten:oats" in oats["do"]


def test_a_slab_without_a_known_allergen_is_not_called_without() -> None:
    card = b"slab Plain\ntin 20 x 20 x 5 cm\nlayer Base\n  100 g caster sugar\n"
    closed = run("allergens", "-", data=card)
    open_ = run("allergens", "-", data=card + b"  20 g moon dust\n")

    assert "None of the 14 is known to be in it; no question open." in closed.out
    said = "None of the 14 is known to be in it; 1 question open: held."
    assert said in open_.out


def test_the_table_for_a_spreadsheet_has_a_column_for_each_of_the_14(
    bench: Path,
) -> None:
    result = run("allergens", "demo", "--csv", "all.csv")
    rows = list(csv.DictReader(io.StringIO((bench / "all.csv").read_text("utf-8"))))

    assert result.code == 0
    assert len(rows) == 3
    assert len(rows[0]) == 14 + 5
    tides = next(row for row in rows if row["slab"] == "Two Tides")
    assert tides["egg"] == "contains egg"
    assert tides["celery"] == "not known to be in it"


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["demo/slabs/nothing.card"], "No card is called"),
        ([TIDES, "--on", "tomorrow"], "is no day"),
        (["demo", "--json", "--csv", "-"], "standard output"),
    ],
)
def test_a_mistake_is_told_and_ends_with_2(asked: list[str], says: str) -> None:
    result = run("allergens", *asked)

    assert result.code == 2
    assert says in result.err
    assert "Traceback" not in result.err


def test_a_card_with_an_error_is_held_and_ends_with_2() -> None:
    card = b"slab Odd\ntin 20 x 20 x 5 cm\nlayer Base\n  100 gg caster / sugar =\n"
    result = run("allergens", "-", data=card)

    assert result.code == 2
    assert "held" in result.out.casefold()
