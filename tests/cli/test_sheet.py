"""The command that prints the bench sheet, as a user calls it."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"


def test_it_writes_paper_and_page(tmp_path: Path) -> None:
    pdf, html = tmp_path / "out" / "two.pdf", tmp_path / "two.html"

    ran = run("sheet", CARD, "--to", str(pdf), "--html", str(html))

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == f"wrote {pdf}\nwrote {html}\n"
    assert "Two Tides" in PdfReader(pdf).pages[0].extract_text()
    assert "25 November 2026" in html.read_text("utf-8")


def test_its_json_keeps_to_its_schema() -> None:
    ran = run("sheet", CARD, "--json")

    said = json.loads(ran.out)
    schema = output_schemas()["bench"]
    assert list(Draft202012Validator(schema).iter_errors(said)) == []
    base = said["jobs"][0]["groups"][0]
    assert [line["reads_g"] for line in base["lines"]] == [190, 240, 410, 495, 499, 501]


def test_the_revision_is_the_text_of_the_card(tmp_path: Path) -> None:
    def revision(text: str) -> str:
        card = tmp_path / "x.card"
        card.write_text(text, encoding="utf-8")
        said = json.loads(run("sheet", str(card), "--json").out)["revision"]
        assert isinstance(said, str)
        return said

    first = revision("slab X\nlayer A\n  100 g plain flour\n")
    again = revision("slab X\nlayer A\n  100 g plain flour\n")
    other = revision("slab X\nlayer A\n  101 g plain flour\n")
    assert first == again != other
    assert first.startswith("card ")


def test_standard_input_is_a_card_too(tmp_path: Path) -> None:
    pdf = tmp_path / "x.pdf"

    ran = run("sheet", "-", "--to", str(pdf), data=b"slab X\nlayer A\n  9 g salt\n")

    assert ran.code == 0
    assert pdf.read_bytes().startswith(b"%PDF")


def test_a_card_with_a_mistake_prints_what_it_can_and_says_so(tmp_path: Path) -> None:
    pdf = tmp_path / "x.pdf"
    data = b"slab X\nlayer A\n  100 g plain flour\n  ends 400 g\n"

    ran = run("sheet", "-", "--to", str(pdf), data=data)

    assert ran.code == 2
    assert "ends says 400 g" in ran.err
    printed = PdfReader(pdf).pages[0].extract_text().split()
    assert "The card has mistakes" in " ".join(printed)


def test_what_can_not_be_printed_is_told_in_one_line(tmp_path: Path) -> None:
    missing = run("sheet", str(tmp_path / "none.card"))
    empty = run("sheet", "-", data=b"slab X\n")
    (tmp_path / "file").write_text("")
    nowhere = run("sheet", CARD, "--to", str(tmp_path / "file" / "x.pdf"))

    for ran in (missing, empty, nowhere):
        assert ran.code == 2
        assert ran.err.startswith("Error: ")
        assert "Traceback" not in ran.err


def test_nothing_but_json_goes_to_standard_output(tmp_path: Path) -> None:
    ran = run("sheet", CARD, "--json", "--to", str(tmp_path / "x.pdf"))

    assert json.loads(ran.out)["slab"] == "Two Tides"
    assert (tmp_path / "x.pdf").exists()


def test_the_specification_tells_what_pan_and_probe_show() -> None:
    ran = run("spec", "demo/slabs/harbour-lamp.card", "--json")
    bench = json.loads(ran.out)["bench"]

    pan = next(f for name, f in bench.items() if name.endswith("pan_contents_g"))
    probe = next(
        f for name, f in bench.items() if "boil" in name and name.endswith("probe_C")
    )
    assert pan["value"] == 671
    # 101.0 in boiling water near the sea: about 1.0 high, so 118 true is 119 on it
    assert probe["value"] == pytest.approx(119.0, abs=0.1)


def test_a_sheet_for_another_tin_weighs_by_its_choice(tmp_path: Path) -> None:
    card, pdf = "demo/slabs/two-tides.card", tmp_path / "s.pdf"
    asked = ("sheet", card, "--tin", "33 x 23 x 5 cm")

    ran = run(*asked, "--to", str(pdf))
    other = run(*asked, "--choice", "B", "--json")
    text = "\n".join(page.extract_text() for page in PdfReader(pdf).pages)
    lines = [line for job in json.loads(other.out)["jobs"]
             for group in job["groups"] for line in group["lines"]]  # fmt: skip

    assert ran.code == 0
    assert "card × 1.265" in text
    assert "8 eggs" in " ".join(text.split())
    assert "350" in {str(one["add_g"]).removesuffix(".0") for one in lines}
    assert run(*asked, "--choice", "Z").code == 2
