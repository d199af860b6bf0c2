"""The command compare."""

import json
from pathlib import Path

import jsonschema

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

TIDES = "demo/slabs/two-tides.card"
LAMP = "demo/slabs/harbour-lamp.card"


def test_two_slabs_side_by_side() -> None:
    text, result = run("compare", TIDES, LAMP), run("compare", TIDES, LAMP, "--json")

    assert (text.code, result.code) == (0, 0)
    jsonschema.validate(json.loads(result.out), output_schemas()["comparison"])
    assert max(map(len, text.out.splitlines())) <= 80
    assert "Malt caramel" in text.out


def test_a_version_with_more_juice(tmp_path: Path) -> None:
    other = tmp_path / "tides.card"
    card = Path(TIDES).read_text("utf-8").replace("220 g   lemon", "240 g   lemon")
    other.write_text(card, "utf-8")
    found = json.loads(
        run("compare", TIDES, str(other), "--kitchen", "demo", "--json").out
    )

    assert [(one["name"], one["by_g"]) for one in found["lines"]] == [
        ("lemon juice", 20)
    ]
    assert found["said"] == []
    assert not found["same"]


def test_a_slab_beside_itself() -> None:
    assert "They say and come to the same." in run("compare", TIDES, TIDES).out


def test_a_card_that_is_not_there_ends_with_2() -> None:
    ran = run("compare", TIDES, "no-such.card")

    assert ran.code == 2
    assert "no-such.card" in ran.err
    assert run("compare", "-", "-").code == 2
