"""The command nutrition, as a baker and a script ask for it."""

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.hostile import HOSTILE
from tests.cli.run import run

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
pytestmark = pytest.mark.usefixtures("bench")


def found(*asked: str, data: str = "") -> dict[str, Any]:
    result = run("nutrition", *asked, "--json", data=data.encode())
    answer: dict[str, Any] = json.loads(result.out)
    return answer


def rows(answer: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {row["nutrient"]: row for row in answer["rows"]}


@pytest.mark.parametrize("card", [TIDES, LAMP, WALK])
def test_it_keeps_to_its_schema_and_its_width(card: str) -> None:
    result, text = run("nutrition", card, "--json"), run("nutrition", card)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["nutrition"])
    assert max(map(len, text.out.splitlines())) <= 80


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_it_fits_other_widths(columns: int) -> None:
    lines = run("nutrition", TIDES, columns=columns).out.splitlines()

    assert max(map(len, lines)) <= max(columns, 76)


def test_the_panel_stands_in_the_law_s_order_and_units() -> None:
    answer = found(TIDES)

    assert [row["nutrient"] for row in answer["rows"]] == [
        "energy_kj", "energy_kcal", "fat", "saturates", "carbohydrate", "sugars",
        "fibre", "protein", "salt",
    ]  # fmt: skip
    assert [row["unit"] for row in answer["rows"]] == ["kJ", "kcal", *["g"] * 7]
    assert [row["mandatory"] for row in answer["rows"]].count(False) == 1  # fibre


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_it_tells_what_it_can_of_what_it_is_given(text: str) -> None:
    result = run("nutrition", "-", "--kitchen", "demo", data=text.encode())
    answered = run("nutrition", "-", "--kitchen", "demo", "--json", data=text.encode())

    assert "Traceback" not in result.err + answered.err
    assert result.code in {0, 2}
    if not answered.out:
        assert answered.err.startswith("Error: ")
        return
    answer = json.loads(answered.out)
    jsonschema.validate(answer, output_schemas()["nutrition"])
    for row in answer["rows"]:
        # what is withheld says why and declares nothing
        if row["per_100g"]["value"] is None:
            assert row["per_100g"]["sum"]
            assert row["declared"] is None
            if row["mandatory"]:
                assert answer["held"]
        else:
            assert row["per_100g"]["value"] >= 0


@pytest.mark.parametrize("card", [TIDES, LAMP, WALK])
def test_no_word_of_it_promises_anything(card: str) -> None:
    outputs = [run("nutrition", card, *more).out for more in ([], ["--json"])]

    for out in outputs:
        assert not re.search(r"\bfree[- ]from\b|\bsafe\b|healthy|\bdiet", out, re.I)


def test_what_is_from_memory_is_marked_so() -> None:
    answer, text = found(LAMP), " ".join(run("nutrition", LAMP).out.split())

    assert all(row["tolerance"]["found"] == "from memory" for row in answer["rows"]
               if row["tolerance"])  # fmt: skip
    assert "its tables were not seen (from memory)" in text
    assert 0 < rows(answer)["fat"]["known_from_memory_share"] < 1


def test_without_a_cut_there_is_no_piece_and_no_nought() -> None:
    answer = found("-", "--kitchen", "demo",
                   data="slab X\nlayer A\n  100 g butter\n")  # fmt: skip

    assert answer["piece_g"]["value"] is None
    for row in answer["rows"]:
        assert row["per_piece"]["value"] is None
        assert row["declared_per_piece"] is None
    assert "the card says no cut" in rows(answer)["fat"]["per_piece"]["sum"]
    assert not answer["held"]


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["--nation", "Atlantis"], "no nation that there is a table for"),
        (["--on", "yesterday"], "is no day"),
        (["--on", "2014-12-12"], "No table of nutrition holds in United Kingdom"),
    ],
)
def test_what_can_t_be_is_said_in_words(asked: list[str], says: str) -> None:
    result = run("nutrition", TIDES, *asked)

    assert result.code == 2
    assert says in " ".join(result.err.split())
    assert result.out == ""


def test_the_front_of_a_pack_is_told_in_britain_only() -> None:
    assert [one["level"] for one in found(TIDES)["front_of_pack"]] == [
        "medium", "high", "high", "low",
    ]  # fmt: skip
    assert found(TIDES, "--nation", "EU")["front_of_pack"] == []


def test_the_label_of_a_pack_waits_for_what_nobody_knows(bench: Path) -> None:
    card = bench / "demo" / "slabs" / "moss.card"
    lines = "slab Moss\ntin 20 x 20 x 5 cm\nsold packed for another shop\nlayer A\n"
    card.write_text(lines + "  300 g butter\n  100 g flurbian moss\n", "utf-8")

    def particular(name: str, way: str = "packed for another shop") -> dict[str, Any]:
        answer = json.loads(run("label", name, "--way", way, "--json").out)
        (found,) = (
            one for one in answer["labels"][0]["particulars"]
            if one["particular"] == "nutrition"
        )  # fmt: skip
        return dict(found)

    waits, there = particular(str(card)), particular(TIDES)
    assert waits["standing"] == "held"
    assert "flurbian moss" in waits["why"]
    assert there["standing"] == "there"
    assert there["what"].startswith("Per 100 g: Energy 1362 kJ / 325 kcal, fat 16 g")
    # where the law doesn't ask for it, half a declaration is none and holds nothing
    free = particular(str(card), "packed here")
    assert (free["standing"], free["what"]) == ("not asked", "")
    assert "not given" in free["why"]
    assert particular(TIDES, "packed here")["standing"] == "there"
