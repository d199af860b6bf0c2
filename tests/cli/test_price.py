"""The command price, as a baker asks for it."""

import json
from pathlib import Path

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run
from tests.spec.shop import KITCHEN, PRICES, SOLD, TOLD, card

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
ASKED = [
    [TIDES],
    [TIDES, "--tax", "20 %", "--margin", "65"],
    [LAMP, "--piece-price", "3.50", "--line", "mark-up 150 %", "--tax", "0"],
    [WALK, "--trays", "4", "--eaten", "away", "--tax", "not registered"],
    [TIDES, "--way", "packed for another shop", "--tax", "0"],
    ["demo"],
    ["demo", "--change", "butter +20 %", "--line", "margin 40 %", "--tax", "0 %"],
    ["demo", "--change", "butter +20 %", "--change", "plain flour = 13.20"],
    ["demo", "--on", "2020-01-01"],
]


@pytest.mark.usefixtures("bench")
@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_prices_keep_to_their_schema_and_their_width(asked: list[str]) -> None:
    result, text = run("price", *asked, "--json"), run("price", *asked)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["pricing"])
    assert max(map(len, text.out.splitlines())) <= 80


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    (tmp_path / "kitchen.yaml").write_text(KITCHEN, "utf-8")
    (tmp_path / "prices.yaml").write_text(PRICES, "utf-8")
    (tmp_path / "slabs").mkdir()
    (tmp_path / "slabs" / "plain.card").write_text(card(SOLD, *TOLD), "utf-8")
    return tmp_path


def test_a_piece_in_full_adds_up(shop: Path) -> None:
    out = run("price", str(shop / "slabs" / "plain.card")).out
    rows = {
        line[:69].strip(): line[69:].strip() for line in out.splitlines() if line[69:]
    }
    # 0.25 + 0.76 + 0.026 + 0.11 + 0.2 + 0.0859 = 1.4319, as in tests/spec.
    names = ("ingredients", "hands", "energy", "packaging", "overheads",
             "made and never sold")  # fmt: skip
    pennies = [round(float(rows[name]) * 100) for name in names]
    assert sum(pennies) == 143
    assert rows["It costs"] == "1.43"
    assert rows["Left of each"] == "1.77"
    assert rows["on the shop's points"] == "3.95"
    assert "margin 55.3%, mark-up 123.5%" in out
    assert "falls under the line" in out
    assert "a margin of 60% (a mark-up of 150%)" in out
    assert "Not told" not in out


def test_the_json_says_the_same(shop: Path) -> None:
    out = run("price", str(shop), "--json").out
    (slab,) = json.loads(out)["slabs"]
    (offer,) = slab["offers"]
    now = offer["now"]
    shown = sum(round(part["shown"] * 100) for part in now["parts"])
    assert shown == round(now["cost"]["value"] * 100) == 143
    assert now["tax"] == {"decided": True, "rate": 0.0, "registered": True,
                          "from": "2026-01-01", "reason": "a cake", "asked": None,
                          "do": None}  # fmt: skip
    assert now["line"]["is_under"] is True
    assert [mend["kind"] for mend in now["line"]["mends"]] == [
        "price", "pieces", "ingredient",
    ]  # fmt: skip


@pytest.mark.usefixtures("bench")
def test_without_a_decision_tax_is_asked_and_the_reading_is_no_rate() -> None:
    # The demonstration shop decided about tax on 5 January 2026.
    out = run("price", TIDES, "--on", "2026-01-04").out
    assert "Asked: Tax is not decided" in out
    assert "Left of each" not in out
    reading = run("price", "--reading").out
    assert "never applied" in reading
    assert "from memory" in reading
    assert "stored official" in reading


@pytest.mark.usefixtures("bench")
@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ([], "No slab is named"),
        ([TIDES, "--piece-price", "0"], "no price"),
        ([TIDES, "--piece-price", "-3"], "no price"),
        ([TIDES, "--margin", "100"], "leaves nothing"),
        ([TIDES, "--margin", "60", "--line", "margin 50 %"], "Give one of"),
        ([TIDES, "--line", "lots"], "no margin"),
        ([TIDES, "--tax", "200"], "no rate of tax"),
        ([TIDES, "--eaten", "later"], "neither here nor away"),
        ([TIDES, "--way", "somehow"], "five ways"),
        ([TIDES, "--trays", "0"], "trays"),
        ([TIDES, "--on", "soon"], "no day"),
        ([TIDES, "--change", "saffron +10 %"], "saffron"),
        (["nowhere.card"], "nowhere.card"),
    ],
)
def test_a_question_that_cannot_be_is_told_in_words(
    asked: list[str], said: str
) -> None:
    result = run("price", *asked)
    assert result.code == 2
    assert said in result.err
    assert "Traceback" not in result.err


@pytest.mark.usefixtures("bench")
def test_the_cost_is_drawn(tmp_path: Path) -> None:
    to = tmp_path / "cost.svg"
    assert run("price", TIDES, "--draw", str(to)).code == 0
    svg = to.read_text("utf-8")
    assert svg.startswith("<svg")
    for part in ("Baked lemon curd", "hands", "made and never sold"):
        assert part in svg


def test_an_empty_card_ends_in_words(tmp_path: Path) -> None:
    path = tmp_path / "empty.card"
    path.write_text("", "utf-8")
    result = run("price", str(path))
    assert result.code == 2
    assert "empty" in result.err
