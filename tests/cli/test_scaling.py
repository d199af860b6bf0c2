"""The command scale, as a baker asks for another tin."""

import json
from pathlib import Path

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"
ASKED = [
    ["--tin", "23 cm square"],
    ["--tin", "23 cm square", "--tin", "2 of shop frame"],
    ["--tin", "round 20 cm, 7 cm deep"],
    ["--tin", "32 x 22 cm at the base, 34 x 24 cm at the rim, 4 cm deep"],
    ["--tin", "30 x 20 x 5 cm, divided 4 x 3, dividers 2 mm"],
    ["--trays", "3"],
    ["--pieces", "40"],
    ["--by", "1.5"],
    ["--mass", "2.5kg"],
    ["--mass", "5 lb", "--tin", "shop frame"],
    ["--height", "2 cm"],
    ["--layer", "curd = 12 mm", "--layer", "jelly 8mm"],
    ["--to-rim"],
    ["--tin", "shop frame", "--head-room", "5 mm"],
    ["--whole-batch", "--tin", "23 cm square"],
]


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_its_json_keeps_to_its_schema_and_its_text_to_its_width(
    asked: list[str],
) -> None:
    result = run("scale", CARD, *asked, "--json")
    text = run("scale", CARD, *asked)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["scaling"])
    assert max(map(len, text.out.splitlines())) <= 80


def test_equal_depth_in_a_square_tin() -> None:
    found = json.loads(run("scale", CARD, "--tin", "23 cm square", "--json").out)

    assert found["multiplier"]["value"] == pytest.approx(529 / 600)
    assert found["multiplier"]["sum"] == "529 cm² ÷ 600 cm² = 0.8817"
    flour = found["weigh"][0]["lines"][0]
    assert flour["mass_g"]["value"] == pytest.approx(190 * 529 / 600)


def test_the_choices_differ_in_their_eggs_and_the_best_leads() -> None:
    asked = ("--tin", "33 x 23 x 5 cm", "--json")
    found = json.loads(run("scale", CARD, *asked).out)["choices"]

    off = [one["off_the_formula"]["value"] for one in found[:-1]]
    assert off == sorted(off)
    names = [one["name"] for one in found]
    assert names[0] == "8 eggs + 5 egg yolks"
    assert names[-1] == "eggs beaten and weighed"
    assert len(set(names)) == len(names)
    for one in found:
        assert all(abs(layer["change"]["value"]) <= 0.06 for layer in one["layers"])
        curd = sum(line["g"] for line in one["lines"]
                   if line["block"] == "Baked lemon curd")  # fmt: skip
        exact = sum(line["exact_g"] for line in one["lines"]
                    if line["block"] == "Baked lemon curd")  # fmt: skip
        change = {la["name"]: la["change"]["value"] for la in one["layers"]}
        assert change["Baked lemon curd"] == pytest.approx(curd / exact - 1)
        depth = one["depths_mm"]["Baked lemon curd"]["value"]
        assert depth == pytest.approx(14.8165 * curd / exact, rel=1e-4)


@pytest.mark.parametrize(
    ("choice", "line"),
    [
        ("A", "8 eggs, medium = 400 g"),
        ("b", "7 eggs, medium = 350 g"),
        ("exact", "7.59 eggs, medium = 379.5 g"),
    ],
)
def test_the_card_of_a_choice_says_its_amounts(choice: str, line: str) -> None:
    asked = ("--tin", "33 x 23 x 5 cm", "--choice", choice, "--to", "-")

    assert f"  {line}\n" in run("scale", CARD, *asked).out


def test_whole_packs_are_used_up() -> None:
    asked = ("--tin", "shop frame", "--packs", "butter, unsalted = 250 g", "--json")
    found = json.loads(run("scale", CARD, *asked).out)["choices"][0]
    butter = sum(one["g"] for one in found["lines"] if one["name"].startswith("butter"))

    assert butter % 250 == pytest.approx(0, abs=1e-6)
    assert butter / 250 == pytest.approx(found["packs"]["butter-unsalted"])


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["--choice", "Q"], "There is no choice 'Q'"),
        (["--allow", "lots"], "'lots' is no share"),
        (["--allow", "90%"], "The change that is allowed"),
        (["--packs", "moonlight"], "The larder has no 'moonlight'"),
        (["--packs", "butter = lots"], "What a pack of"),
        (["--packs", "butter = 0 g"], "What a pack of"),
        (["--depth-counts", "nan"], "weight of depth"),
        (["--care", "nan"], "care"),
        (["--care", "-1"], "care"),
    ],
)
def test_what_no_amounts_can_be_chosen_by(asked: list[str], says: str) -> None:
    ran = run("scale", CARD, "--tin", "shop frame", *asked)

    assert ran.code == 2
    assert says in ran.err
    assert "Traceback" not in ran.err


def test_alike_tins_are_one_kind() -> None:
    twice = run("scale", CARD, "--tin", "shop frame", "--tin", "57 x 37 x 4.5 cm")

    thrice = run("scale", CARD, "--tin", "shop frame", "--tin", "2 of shop frame")
    assert "3 of 57 × 37 × 4.5 cm" in thrice.out
    assert "2 of 57 × 37 × 4.5 cm" in twice.out


def test_the_scaled_card_is_a_card(tmp_path: Path) -> None:
    to = tmp_path / "square.card"
    wrote = run(
        "scale", CARD, "--tin", "20 cm square", "--choice", "exact", "--to", str(to)
    )
    spec = json.loads(run("spec", str(to), "--kitchen", "demo", "--json").out)

    assert wrote.code == 0
    assert spec["errors"] == []
    assert spec["height_mm"]["value"] == pytest.approx(30.93, abs=0.01)
    again = run(
        "scale", CARD, "--tin", "20 cm square", "--choice", "exact", "--to", str(to)
    )
    assert again.code == 2, "a card is not written over"


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["--tin", "moon"], "'moon' is no tin that is known here"),
        (["--tin", "3 x 2 mm"], "length"),
        (["--tin", "0 of shop frame"], "number of tins is 0"),
        (["--mass", "two"], "'two' is no mass"),
        (["--mass", "2 cups"], "is no mass"),
        (["--mass", "-2 kg"], "above 0"),
        (["--height", "nan mm"], "height is nan"),
        (["--height", "3 g"], "is no length"),
        (["--layer", "= 8 mm"], "names no layer"),
        (["--layer", "toffee = 8 mm"], "The layers are: Lemon semolina shortbread"),
        (["--by", "2x3"], "is no number"),
        (["--by", "0"], "above 0"),
        (["--trays", "0"], "number of trays is 0"),
        (["--pieces", "-4"], "number of pieces is -4"),
        (["--mass", "2 kg", "--by", "2"], "can't all be had"),
    ],
)
def test_what_can_not_be_had_ends_with_2_and_a_hint(
    asked: list[str], says: str
) -> None:
    ran = run("scale", CARD, *asked)

    assert ran.code == 2
    assert says in ran.err
    assert "Traceback" not in ran.err


def test_a_pasted_recipe_is_scaled_too(tmp_path: Path) -> None:
    recipe = tmp_path / "r.txt"
    recipe.write_text("Shortbread\n\n200 g butter\n100 g caster sugar\n300 g flour\n")

    assert run("scale", str(recipe), "--by", "2").code == 0
    none = run("scale", str(recipe), "--trays", "2")
    assert none.code == 2
    assert "names no tin" in none.err
