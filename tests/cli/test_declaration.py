"""The command declaration, as a baker and a script ask for it."""

import json
import re
from pathlib import Path

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
ASKED = [
    [TIDES], [LAMP, "--by-layer"], [WALK, "--e-numbers", "--nation", "EU"],
    [LAMP, "--sugars-together", "--described", "malt caramel and rye slice"],
    [TIDES, "--on", "2026-12-13", "--described", "pistachio and lemon"],
]  # fmt: skip
pytestmark = pytest.mark.usefixtures("bench")


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_it_keeps_to_its_schema_and_its_width(asked: list[str]) -> None:
    result, text = (
        run("declaration", *asked, "--json"),
        run("declaration", *asked),
    )

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["declaration"])
    assert max(map(len, text.out.splitlines())) <= 80


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_terminal_and_json_say_the_same(asked: list[str]) -> None:
    found = json.loads(run("declaration", *asked, "--json").out)
    text = " ".join(run("declaration", *asked).out.split())

    assert found["marked"] in text
    assert found["summary"] in text
    for one in found["ingredients"]:
        for row in one["rules"]:
            assert f"{row['id']}, {row['article']} ({row['found']})" in text
        assert " ".join(one["sum"].split()) in text
    for one in found["shares"]:
        assert one["share"]["sum"] in text
    assert "".join(run["text"] for run in found["runs"]) == found["text"]


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_it_never_says_that_something_is_absent(asked: list[str]) -> None:
    text = run("declaration", *asked).out + run("declaration", *asked, "--json").out

    assert not re.search(r"\bsafe\b|free from|\w-free\b", text, re.IGNORECASE)


def test_the_day_decides_what_flour_holds() -> None:
    before = run("declaration", TIDES, "--on", "2026-12-12").out
    after = run("declaration", TIDES, "--on", "2026-12-13").out

    assert "folic acid" not in before
    assert "folic acid" in after


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--nation", "Atlantis"], "no nation"),
        (["--on", "yesterday"], "'yesterday' is no day. Write it so: 2026-11-26."),
    ],
)
def test_what_it_can_not_take_it_says(asked: list[str], said: str) -> None:
    result = run("declaration", TIDES, *asked)

    assert result.code == 2
    assert said in result.err


@pytest.mark.parametrize(
    "text", ["", "\x00\x01", "slab X\n", "slab X\nlayer A\n  100 g\n  1 m honey\n"]
)
def test_what_is_no_slab_is_a_draft(text: str, tmp_path: Path) -> None:
    card = tmp_path / "odd.card"
    card.write_text(text)
    result = run("declaration", str(card))

    assert "Traceback" not in result.err
    assert "Held:" in result.out


def test_the_label_says_the_same_list() -> None:
    listed = json.loads(run("declaration", TIDES, "--json").out)
    label = json.loads(run("label", TIDES, "--way", "packed here", "--json").out)
    (one,) = label["labels"]
    (row,) = [p for p in one["particulars"] if p["particular"] == "ingredients"]

    assert listed["marked"] in json.dumps(row, ensure_ascii=False)
    assert row["standing"] == "held"
