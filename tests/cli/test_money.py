"""The commands cost and buy, as a baker asks for them."""

import csv
import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
COSTS = [
    [TIDES],
    [TIDES, "--trays", "3"],
    ["demo"],
    ["demo", "--on", "2026-03-01", "--since", "2026-01-05"],
    ["demo", "--on", "2020-01-01"],
    [LAMP, "--on", "2027-06-01", "--since", "2026-12-01"],
    ["demo", "--price", "butter +20 %"],
    ["demo", "--price", "butter +20 %", "--price", "plain flour = 13.20"],
    [TIDES, "--price", "caster sugar -100 %"],
]
LISTS = [
    [TIDES],
    [f"{TIDES}=2", f"{LAMP}=1", WALK],
    [f"{TIDES}=1000", "--waste"],
    ["two-tides x 2, harbour lamp", "--kitchen", "demo"],
    ["demo=4"],
    ["demo", "--on", "2020-01-01"],
]


@pytest.mark.usefixtures("bench")
@pytest.mark.parametrize("asked", COSTS, ids=" ".join)
def test_costs_keep_to_their_schema_and_their_width(asked: list[str]) -> None:
    result, text = run("cost", *asked, "--json"), run("cost", *asked)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["costing"])
    assert max(map(len, text.out.splitlines())) <= 80


@pytest.mark.usefixtures("bench")
@pytest.mark.parametrize("asked", LISTS, ids=" ".join)
def test_lists_keep_to_their_schema_and_their_width(asked: list[str]) -> None:
    result, text = run("buy", *asked, "--json"), run("buy", *asked)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["shopping"])
    assert max(map(len, text.out.splitlines())) <= 80


@pytest.mark.usefixtures("bench")
def test_a_day_has_the_prices_of_that_day() -> None:
    # butter was 1.65 for 250 g until 2026-01-05: 290 g of it 1.914 in place of 2.088
    def butter(*asked: str) -> float:
        found = json.loads(run("cost", TIDES, *asked, "--json").out)
        lines = [
            line for layer in found["slabs"][0]["layers"] for line in layer["lines"]
        ]
        costs = [one["cost"] for one in lines if one["larder_id"] == "butter-unsalted"]
        return float(sum(one["value"] for one in costs))

    assert butter() == pytest.approx(2.088)
    assert butter("--on", "2025-12-31") == pytest.approx(1.914)
    assert butter("--on", "2026-03-01") == pytest.approx(2.088)


@pytest.mark.usefixtures("bench")
def test_a_dearer_butter_hits_the_slabs_that_have_it() -> None:
    found = json.loads(run("cost", "demo", "--price", "butter +20 %", "--json").out)

    rises = {one["slab"]: one["rise"]["value"] for one in found["effects"]}
    # 290 g and 260 g at 7.20 a kilogram, a fifth of it, 20 pieces each
    assert rises == pytest.approx(
        {
            "Two Tides": 290 * 7.2 / 1000 / 5 / 20,
            "Harbour Lamp": 260 * 7.2 / 1000 / 5 / 20,
            "Lantern Walk": 0,
        }
    )
    assert list(rises) == ["Two Tides", "Harbour Lamp", "Lantern Walk"]


@pytest.mark.usefixtures("bench")
def test_the_costs_are_those_of_the_specification() -> None:
    cost = json.loads(run("cost", LAMP, "--json").out)["slabs"][0]["cost"]
    spec = json.loads(run("spec", LAMP, "--json").out)["cost"]

    assert cost == spec
    why = run("why", LAMP, "cost waste allowance")
    assert "÷ (1 - 0.06)" in why.out


@pytest.mark.usefixtures("bench")
def test_more_trays_need_as_many_times_as_much() -> None:
    def needed(trays: int) -> dict[str, float]:
        found = json.loads(run("buy", f"{TIDES}={trays}", "--json").out)
        return {one["name"]: one["needed_g"]["value"] for one in found["wanted"]}

    one, seven = needed(1), needed(7)
    assert seven == pytest.approx({name: 7 * grams for name, grams in one.items()})


def test_the_table_can_be_added_up_and_runs_no_formula(bench: Path) -> None:
    (bench / "demo" / "prices.yaml").write_text(
        "- {ingredient: plain flour, pack: 1 kg, price: 1.005, supplier: '=cmd|x'}\n"
        "- {ingredient: honey, pack: 1 kg, price: 9, supplier: '+44 the bees'}\n"
    )
    card = bench / "demo" / "slabs" / "odd.card"
    card.write_text(
        "slab =HYPERLINK(1)\ntin 20 x 20 x 5 cm\nlayer A\n  2.5 kg plain flour\n"
        "  200 g honey\n  20 g @moon dust\n  20 g -moon\n"
    )
    ran = run("buy", str(card), "--csv", "list.csv")
    assert ran.code == 0, ran.err

    text = (bench / "list.csv").read_text("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert not [
        cell for row in rows for cell in row.values() if cell[:1] in "=+-@" and cell
    ]
    flour = next(row for row in rows if row["ingredient"] == "plain flour")
    assert flour["packs"] == "3"
    assert float(flour["sum_GBP"]) == pytest.approx(3.015)
    assert sum(float(row["needed_g"] or 0) for row in rows) == 2740
    assert run("buy", str(card), "--csv", "-").out.replace(
        "\r\n", "\n"
    ) == text.replace("\r\n", "\n")


class _Page(HTMLParser):
    """What a page asks for, and whether its tags close."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.wants: list[str] = []
        self.styled: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        self.wants += [v or "" for k, v in attrs if k in {"src", "href", "action"}]
        self.styled += [tag] if "style" in said else []
        self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_page_prints_alone_and_holds_what_the_list_holds(bench: Path) -> None:
    with (bench / "demo" / "larder.yaml").open("a") as larder:
        larder.write("- {name: 'crisp <b>bits</b>', per_100g: {fat: 10}}\n")
    with (bench / "demo" / "prices.yaml").open("a") as prices:
        prices.write(
            "- {ingredient: 'crisp <b>bits</b>', pack: 1 kg, price: 2, supplier: <b>}\n"
        )
    (bench / "demo" / "slabs" / "odd.card").write_text(
        "slab <script>alert(1)</script>\ntin 20 x 20 x 5 cm\nlayer A\n"
        "  20 g moon <b>dust</b>\n  200 g crisp <b>bits</b>\n"
    )
    ran = run("buy", TIDES, "demo/slabs/odd.card", "--print", "order.html")
    assert ran.code == 0, ran.err
    html = (bench / "order.html").read_text("utf-8")

    page = _Page()
    page.feed(html)
    assert page.open == []
    assert page.wants == []
    assert page.styled == []
    assert "<script" not in html
    assert "<b>" not in html
    assert html.count("&lt;b&gt;") == 3
    assert not re.search(r"https?://|@import", html)
    assert "size: A4" in html
    for name in ("blackcurrant", "pectin NH", "The merchant"):
        assert name in html


@pytest.mark.usefixtures("bench")
@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["cost", "moon.card"], "moon"),
        (["cost", TIDES, "--on", "yesterday"], "'yesterday' is no day"),
        (["cost", TIDES, "--since", "2026-02-30"], "is no day"),
        (["cost", TIDES, "--trays", "0"], "number of trays is 0"),
        (["cost", TIDES, "--price", "butter"], "is no change of a price"),
        (["cost", TIDES, "--price", "moon +5 %"], "Nothing called 'moon'"),
        (["buy", f"{TIDES}=0"], "asks for 0 trays"),
        (["buy", f"{TIDES}=x"], "No card is called"),
        (["buy", TIDES, "--csv", "demo/kitchen.yaml/no/list.csv"], "can't be written"),
        (["buy", TIDES, "--print", "demo"], "can't be written"),
    ],
    ids=" ".join,
)
def test_what_can_not_be_had_ends_with_2_and_a_hint(
    asked: list[str], says: str
) -> None:
    ran = run(*asked)

    assert ran.code == 2
    assert says in ran.err
    assert "Traceback" not in ran.err
    assert ran.out == ""


def test_a_kitchen_without_prices(bench: Path) -> None:
    (bench / "demo" / "prices.yaml").unlink()

    cost, buy = run("cost", TIDES), run("buy", TIDES)
    assert (cost.code, buy.code) == (0, 0)
    assert "No price is known" in cost.out
    assert "No pack on sale" in buy.out


def test_a_card_with_a_mistake_is_costed_as_far_as_it_goes(bench: Path) -> None:
    path = bench / "demo" / "slabs" / "odd.card"
    path.write_text(
        "slab S\ntin 20 x 20 x 5 cm\nlayer A\n  200 g plain flour\n  5 zorks honey\n"
        "  ends 900 g\n"
    )
    for ran in (run("cost", str(path)), run("buy", str(path))):
        assert "plain flour" in ran.out
        assert "Traceback" not in ran.err


def test_free_and_tiny_and_huge(bench: Path) -> None:
    (bench / "demo" / "prices.yaml").write_text(
        "- {ingredient: plain flour, pack: 0 g, price: 1}\n"
        "- {ingredient: plain flour, pack: 1 kg, price: 0}\n"
        "- {ingredient: honey, pack: 1 kg, price: 100000}\n"
    )
    path = bench / "demo" / "slabs" / "odd.card"
    path.write_text(
        "slab S\ntin 20 x 20 x 5 cm\ncut 2 x 2\nlayer A\n"
        "  10 kg plain flour\n  10 kg honey\n"
    )
    ran = run("buy", f"{path}=1000", "--json")
    found = json.loads(ran.out)

    assert ran.code == 2, "the pack of 0 g is a mistake"
    assert "0.pack" in ran.err
    counts = {one["name"]: one["packs"][0]["count"] for one in found["wanted"]}
    assert counts == {"plain flour": 10_000, "honey": 10_000}
    assert found["total"]["value"] == 10_000 * 100_000
