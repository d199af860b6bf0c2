"""Printing labels, tickets and allergen cards, as a baker and a script ask for it."""

import json
from io import BytesIO
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from slabwright.publish.schemas import output_schemas
from tests.cli.run import Ran, run

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
SOLD = """called lemon and blackcurrant slice
pictured lemon
sold packed here, 3.50, net 75 g
dated best before, 3 days, bake day counted
sold loose on the counter"""
pytestmark = pytest.mark.usefixtures("bench")


@pytest.fixture(autouse=True)
def nameless(bench: Path) -> None:
    """The demonstration's cards without what they call the food."""
    for name in (TIDES, LAMP, WALK):
        lines = (bench / name).read_text("utf-8").splitlines(keepends=True)
        kept = [line for line in lines if not line.startswith("called ")]
        (bench / name).write_text("".join(kept), "utf-8")


@pytest.fixture
def sold(bench: Path) -> Path:
    """Two Tides with all that a ticket needs, and a kitchen with its numbers."""
    card = bench / TIDES
    text = card.read_text("utf-8")
    card.write_text(text.replace("sold loose on the counter", SOLD), "utf-8")
    kitchen = bench / "demo/kitchen.yaml"
    more = "address: 4 Gannet Steps, Tarrowmouth\ncodes: {in_store: 20-29}\n"
    kitchen.write_text(kitchen.read_text("utf-8") + more, "utf-8")
    return card


def words(path: str) -> str:
    pages = PdfReader(BytesIO(Path(path).read_bytes())).pages
    text = " ".join(page.extract_text() for page in pages)
    return " ".join(text.replace("\u200b", "").replace("\u00a0", " ").split())


def said(ran: Ran, schema: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(ran.out)
    jsonschema.validate(found, output_schemas()[schema])
    return found


# --- tickets --------------------


@pytest.mark.usefixtures("sold")
def test_a_ticket_is_printed_with_its_record_beside_it() -> None:
    ran = run("label", TIDES, "--ticket", "--print", "out/t.pdf", "--size", "100x70")

    assert (ran.code, ran.err) == (0, "")
    assert "wrote out/t.pdf: 1 ticket of 100 × 70 mm on 1 page" in ran.out
    text = words("out/t.pdf")
    for one in ("Two Tides", "£3.50", "Lemon and blackcurrant slice",
                "Contains wheat, egg and milk.", "ask us", "card ",
                "larder "):  # fmt: skip
        assert one in text
    assert "DRAFT" not in text
    record = json.loads(Path("out/t.json").read_text("utf-8"))
    assert record["printed"] == "2026-11-25"
    assert record["face"]["revisions"][0].startswith("card ")
    assert (record["width_mm"], record["height_mm"], record["copies"]) == (100, 70, 1)


@pytest.mark.usefixtures("sold")
def test_a_sheet_of_tickets_is_filled_from_where_it_begins() -> None:
    ran = run("label", TIDES, "--ticket", "--print", "t.pdf", "--sheet", "2x4",
              "--start", "3", "--json")  # fmt: skip
    found = said(ran, "printed")

    assert found["wrote"] == ["t.pdf", "t.json"]
    assert found["draft"] is False
    assert found["record"]["copies"] == 6
    assert (found["record"]["width_mm"], found["record"]["height_mm"]) == (105, 74.25)
    assert words("t.pdf").count("Two Tides") == 6


# --- labels --------------------


BAR = """slab Lemon Bar
called lemon curd on shortbread
tin 30 x 20 x 5 cm
cut 5 x 4, trim 5 mm
keep chilled, 3 days
sold packed here, 3.50, net 40 g
sold packed for another shop, 3.00, net 40 g
dated best before, 3 days, bake day counted
layer Shortbread
  190 g   plain flour
  170 g   butter, unsalted
  85 g    caster sugar
layer Lemon curd
  220 g   lemon juice
  270 g   caster sugar
  6       eggs, medium
"""
HERE = ["--way", "packed here", "--baked", "2026-11-26"]


@pytest.fixture
def bar(sold: Path) -> str:
    card = sold.parent / "bar.card"
    card.write_text(BAR, "utf-8")
    return str(card)


def test_a_label_says_all_that_must_be_shown(bar: str) -> None:
    ran = run("label", bar, *HERE, "--print", "b.pdf", "--size", "70x50",
              "--item", "12", "--json")  # fmt: skip
    found = said(ran, "printed")
    text = words("b.pdf")

    for one in ("Lemon curd on shortbread", "40 g", "Ingredients: sugar, egg",
                "(wheat flour", "butter (milk)", "Best before: 28 November 2026",
                "Keep chilled.", "Gannet Steps Bakehouse", "£3.50"):  # fmt: skip
        assert one in text
    assert "Nutrition" not in text
    assert found["record"]["face"]["number"] == "2000000000121"
    assert found["bars"]["module_mm"] >= 0.264
    emphasised = {
        run["text"].strip()
        for one in found["record"]["face"]["paragraphs"]
        for run in one["runs"]
        if run["is_emphasised"]
    }
    assert emphasised == {"egg", "wheat", "milk"}


def test_nutrition_is_printed_where_it_is_asked(bar: str) -> None:
    other = ["--way", "packed for another shop", "--baked", "2026-11-26"]
    size = ["--print", "b.pdf", "--size", "100x80"]

    assert run("label", bar, *HERE, *size, "--nutrition").code == 0
    assert "Nutrition per 100 g" in words("b.pdf")
    assert run("label", bar, *other, *size).code == 0
    assert "Nutrition per 100 g" in words("b.pdf")
    assert "of which saturates" in words("b.pdf")
    lifted = [*other, *size, "--unless", "small-and-direct"]
    assert run("label", bar, *lifted).code == 0
    assert "Nutrition" not in words("b.pdf")


def test_a_label_is_stale_when_its_list_is(bar: str) -> None:
    run("label", bar, *HERE, "--print", "b.pdf", "--size", "70x50", "--item", "12")
    assert run("label", bar, "--stale", "b.json").code == 0
    salted = BAR.replace("85 g    caster", "20 g    fine salt\n  85 g caster")
    Path(bar).write_text(salted, "utf-8")
    found = said(run("label", bar, "--stale", "b.json", "--json"), "stale")

    (change,) = found["changes"]
    assert change.startswith("Ingredients: ")
    assert change.endswith("not printed: “salt”.")


def test_several_ways_are_asked_which(bar: str) -> None:
    ran = run("label", bar, "--print", "b.pdf", "--size", "60x40")

    assert ran.code == 2
    assert '--way "packed here", --way "packed for another shop"' in ran.err


def test_the_price_for_another_shop_is_not_what_its_buyers_read(bar: str) -> None:
    other = ["--way", "packed for another shop", "--baked", "2026-11-26"]
    run("label", bar, *other, "--print", "b.pdf", "--size", "100x80")

    assert "£" not in words("b.pdf")


def test_smaller_letters_are_set_on_a_smaller_pack(bar: str) -> None:
    size = ["--print", "b.pdf", "--size", "50x34"]
    assert "It fits" in run("label", bar, *HERE, *size, "--item", "12").err
    ran = run("label", bar, *HERE, *size, "--item", "12", "--surface", "70")

    assert ran.code == 0, ran.err
    assert "at least 0.9 mm" in ran.out


def test_what_stands_beside_the_pdf_is_never_written_over(bar: str) -> None:
    Path("b.json").write_text("{}", "utf-8")
    ran = run("label", bar, *HERE, "--print", "b.pdf", "--size", "70x50")

    assert ran.code == 2
    assert "no record of a print" in ran.err
    assert Path("b.json").read_text("utf-8") == "{}"
    assert not Path("b.pdf").exists()


# --- drafts --------------------


@pytest.mark.parametrize(
    ("card", "more", "waits"),
    [
        (TIDES, ["--ticket"], "Missing: name of the food."),
        (LAMP, ["--ticket"], "A question is open: dark chocolate 60%."),
        (TIDES, ["--way", "packed here", "--size", "60x40"], "Missing: name"),
        (WALK, ["--way", "by post", "--size", "60x40"], "Missing: net weight"),
        (LAMP, ["--ticket", "--size", "15x12"], "A question is open"),
    ],
)
def test_what_waits_for_an_answer_is_printed_as_a_draft_and_leaves_no_record(
    card: str, more: list[str], waits: str
) -> None:
    ran = run("label", card, "--print", "d.pdf", *more)

    assert ran.code == 1
    assert "a draft, no " in ran.out
    assert waits in ran.out
    text = words("d.pdf")
    assert text.startswith("Draft, no ")
    assert "must be answered first" in text
    assert not Path("d.json").exists()
    box = PdfReader("d.pdf").pages[0].mediabox
    assert float(box.width) == pytest.approx(595.28, abs=0.1)  # never of a label's size
    drafted = said(run("label", card, "--print", "d.pdf", *more, "--json"), "printed")
    assert (drafted["draft"], drafted["record"]) == (True, None)
    assert any(waits in one for one in drafted["waits_for"])


def test_a_draft_carries_its_questions_and_the_word_across_it() -> None:
    run("label", LAMP, "--ticket", "--print", "d.pdf", "--copies", "40")
    text = words("d.pdf")

    assert len(PdfReader("d.pdf").pages) == 1
    assert "DRAFT" in text
    assert "dark chocolate 60%: does it hold soya or milk?" in text
    assert "porridge oats: does it hold wheat?" in text


# --- allergen cards --------------------


def test_an_allergen_card_says_the_way_of_each_and_what_is_open() -> None:
    ran = run("label", LAMP, "--allergen-card", "--print", "a.pdf")
    text = words("a.pdf")

    assert ran.code == 0
    assert "2 questions open" in ran.out
    for one in ("Harbour Lamp", "printed 25 November 2026", "card ", "larder ",
                "Contains wheat, rye, barley, oats and milk.", "Malt caramel > barley",
                "Not known: questions open", "dark chocolate 60%",
                "read as reprinted elsewhere"):  # fmt: skip
        assert one in text
    assert "free from" not in text.casefold()


def test_an_allergen_card_needs_no_way_of_selling(bench: Path) -> None:
    card = bench / "bare.card"
    card.write_text("slab Bare\nlayer Base\n  100 g plain flour\n", "utf-8")

    assert run("label", "bare.card", "--allergen-card", "--print", "a.pdf").code == 0
    assert "Contains wheat" in words("a.pdf")


def test_a_card_that_can_not_be_read_leaves_its_question_on_paper(bench: Path) -> None:
    card = bench / "odd.card"
    card.write_text(
        "slab Odd\nlayer Base\n  100 g plain flour\n  12 qq malt\n", "utf-8"
    )
    ran = run("label", "odd.card", "--allergen-card", "--print", "a.pdf")

    assert ran.code == 2
    assert "12 qq malt" in words("a.pdf")


# --- later --------------------


def test_a_record_is_compared_with_the_card_of_today(sold: Path) -> None:
    run("label", TIDES, "--ticket", "--print", "t.pdf", "--size", "100x70")
    same = run("label", TIDES, "--stale", "t.json")
    assert (same.code, "still holds" in same.out) == (0, True)

    text = sold.read_text("utf-8").replace("loose on the counter, 3.50", "loose, 3.60")
    sold.write_text(
        text.replace("lemon and blackcurrant slice", "lemon slice"), "utf-8"
    )
    ran = run("label", TIDES, "--stale", "t.json", "--json")
    found = said(ran, "stale")

    assert ran.code == 1
    assert found["changes"] == [
        "Name: printed “Lemon and blackcurrant slice”, now “Lemon slice”.",
        "Price: printed “£3.50”, now “£3.60”.",
    ]
    assert found["printed_from"][0] != found["now"][0]
    assert found["printed_from"][1] == found["now"][1]
    text = run("label", TIDES, "--stale", "t.json").out
    assert "No longer as it was printed" in text
    assert max(map(len, text.splitlines())) <= 80


def test_a_change_in_the_larder_is_told(sold: Path, bench: Path) -> None:
    run("label", TIDES, "--allergen-card", "--print", "a.pdf")
    larder = bench / "demo/larder.yaml"
    before = larder.read_text("utf-8")
    card = sold.read_text("utf-8")
    sold.write_text(card.replace("plain flour", "roasted hazelnuts", 1), "utf-8")
    larder.write_text(before + "\n# read again\n", "utf-8")
    found = said(run("label", TIDES, "--stale", "a.json", "--json"), "stale")

    assert found["printed_from"][1] != found["now"][1]
    assert any("hazelnuts" in one for one in found["changes"])


@pytest.mark.parametrize(
    ("record", "why"),
    [("none.json", "can't be read"), (TIDES, "no record"), ("demo", "is a folder")],
)
def test_what_is_no_record_is_refused(record: str, why: str) -> None:
    ran = run("label", TIDES, "--stale", record)

    assert ran.code == 2
    assert why in ran.err


def test_a_record_of_another_slab_is_refused() -> None:
    run("label", LAMP, "--allergen-card", "--print", "a.pdf")

    ran = run("label", TIDES, "--stale", "a.json")
    assert ran.code == 2
    assert "The record is of Harbour Lamp" in ran.err


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(data=st.data())
def test_a_spoiled_record_is_refused_in_words(data: st.DataObject) -> None:
    if not Path("a.json").exists():
        run("label", LAMP, "--allergen-card", "--print", "a.pdf")
    whole = Path("a.json").read_text("utf-8")
    record: Any = json.loads(whole)
    place = data.draw(st.sampled_from([record, record["face"]]))
    key = data.draw(st.sampled_from(sorted(place)))
    place[key] = data.draw(
        st.sampled_from([None, 5, -1, "x", [], {}, [[]], {"a": 1}, "2026-13-45", 1e400])
    )
    Path("b.json").write_text(json.dumps(record), "utf-8")
    ran = run("label", LAMP, "--stale", "b.json")

    assert ran.code in {0, 1, 2}
    assert "Traceback" not in ran.err
    assert ran.code != 2 or ran.err


# --- what can't be printed --------------------


@pytest.mark.parametrize("text", ["", "slab X\n", "tin 30 x 20 x 5 cm\n", "# hm\n"])
@pytest.mark.parametrize("kind", ["--ticket", "--allergen-card"])
def test_a_card_without_layers_is_refused(text: str, kind: str) -> None:
    Path("odd.card").write_text(text, "utf-8")
    ran = run("label", "odd.card", kind, "--print", "a.pdf")

    assert ran.code == 2
    assert "no layers" in ran.err
    assert not Path("a.pdf").exists()


def test_names_of_any_length_are_printed_or_refused_with_what_would_fit() -> None:
    for long in ("w" * 180, "lemon and " * 17, "ẞ" * 60, "a *b* _i_ $x$ @y <z> `c`"):
        text = f"slab {long}\ncalled {long}\nsold loose, 3\nlayer B\n  9 g butter\n"
        Path("odd.card").write_text(text, "utf-8")
        ran = run("label", "odd.card", "--ticket", "--print", "a.pdf")

        known = ("It fits", "no font here can print", "a draft, no ticket")
        assert ran.code == 0 or any(one in ran.err + ran.out for one in known)


@pytest.mark.usefixtures("sold")
def test_a_card_with_a_mistake_is_printed_as_a_draft_alone() -> None:
    card = Path(TIDES).read_text("utf-8")
    wrong = card.replace("keep chilled", "proved 2026-13-45\nkeep chilled")
    Path("odd.card").write_text(wrong, "utf-8")
    ran = run("label", "odd.card", "--kitchen", "demo", "--ticket", "--print", "a.pdf")

    assert ran.code == 2
    assert "a draft, no ticket" in ran.out
    assert "To put right" in words("a.pdf")
    assert not Path("a.json").exists()


@pytest.mark.usefixtures("sold")
@pytest.mark.parametrize(
    ("more", "why"),
    [
        (["--ticket"], "--print"),
        (["--print", "a.pdf"], "how large"),
        (["--print", "a.pdf", "--size", "60"], "width x height"),
        (["--print", "a.pdf", "--size", "60x40", "--way", "loose"], "--ticket"),
        (["--print", "a.pdf", "--ticket", "--allergen-card"], "one of the two"),
        (["--print", "a.pdf", "--ticket", "--copies", "0"], "copies"),
        (["--print", "a.pdf", "--ticket", "--copies", "99999999"], "copies"),
        (["--print", "a.pdf", "--ticket", "--start", "2"], "--sheet"),
        (["--print", "a.pdf", "--ticket", "--margins", "5"], "--sheet"),
        (["--print", "a.pdf", "--ticket", "--paper", "A4"], "--sheet"),
        (["--print", "a.pdf", "--ticket", "--sheet", "9x9", "--size", "90x60"], "fit"),
        (["--print", "a.pdf", "--ticket", "--size", "20x15"], "It fits"),
        (["--print", "demo", "--ticket"], "no name of a PDF"),
        (["--print", TIDES, "--ticket"], "no name of a PDF"),
        (["--print", "demo/kitchen.yaml/a.pdf", "--ticket"], "can't be written"),
        (
            [
                "--print",
                "a.pdf",
                "--way",
                "packed here",
                "--size",
                "90x90",
                "--surface",
                "60",
            ],
            "largest side",
        ),
    ],
)
def test_what_can_not_be_printed_is_refused_in_words(more: list[str], why: str) -> None:
    ran = run("label", TIDES, *more)

    assert ran.code == 2
    assert ran.err.startswith("Error: ")
    assert why in ran.err
    assert not Path("a.pdf").exists()
