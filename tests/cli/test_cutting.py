"""The command cut, as it is asked for at the bench."""

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import jsonschema
import pytest
from pypdf import PdfReader

from slabwright.publish.schemas import output_schemas
from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"
ASKED = [
    [],
    ["--in", "shop frame"],
    ["--as", "12 x 8"],
    ["--as", "cut squares 45 mm, trim 5 mm"],
    ["--as", "fingers 100 x 25 mm"],
    ["--as", "strips 30 mm, in 23 cm round"],
    ["--as", "12 wedges, in 23 cm round"],
    ["--as", "7 wedges, trim 5 mm, in 23 cm round"],
    ["--as", "squares 60 mm, each into 2 triangles, trim 5 mm"],
    ["--as", "squares 60 mm, each into 4 triangles"],
    ["--as", "diamonds 40 mm, 45°, trim 5 mm, in shop frame"],
    ["--between", "60-75g", "--least", "40mm"],
    ["--between", "60-75g", "--in", "shop frame"],
    ["--as", "60-75 g pieces, in 23 cm round"],
    ["--level", "0 mm", "--knife-off", "0.5 mm", "--try"],
]


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_its_json_keeps_to_its_schema_and_its_text_to_its_width(
    asked: list[str],
) -> None:
    result = run("cut", CARD, *asked, "--json")
    text = run("cut", CARD, *asked)

    assert (result.code, text.code) == (0, 0), result.err
    jsonschema.validate(json.loads(result.out), output_schemas()["cutting"])
    assert max(map(len, text.out.splitlines())) <= 80
    assert text.err == ""


def test_it_shows_the_cards_own_cut_in_full() -> None:
    text = run("cut", CARD).out

    assert "20 of 58 × 47.5 mm" in text
    assert "14 have a side on the slab's edge" in text
    assert "99 of 100 weigh at least 77 g [?]" in text
    assert "       5  cut          100 from the near edge, along the length" in text
    assert "along   5  63  121  179  237  295" in text
    assert "wheels 58 mm apart, 2 passes" in text


def test_it_chooses_between_two_masses() -> None:
    found = json.loads(
        run("cut", CARD, "--between", "60-75g", "--least", "40mm", "--json").out
    )

    assert (found["cut"]["along"]["value"], found["cut"]["across"]["value"]) == (6, 4)
    assert [one["words"] for one in found["choices"]] == ["6 x 4", "7 x 4"]
    best = found["choices"][0]
    assert best["piece_mass_g"] == pytest.approx(found["cut"]["piece_mass_g"]["value"])
    assert best["reached_g"] == pytest.approx(found["cut"]["promised_piece_g"]["value"])
    assert found["cut"]["words"].endswith("trim 5 mm")  # the card's own trim stays


def test_a_level_slab_and_a_true_knife_promise_more() -> None:
    def promised(*asked: str) -> float:
        found = json.loads(run("cut", CARD, *asked, "--json").out)
        value: float = found["cut"]["promised_piece_g"]["value"]
        return value

    assert promised("--level", "0mm") > promised() > promised("--level", "3mm")
    assert (
        promised("--knife-off", "0.2mm") > promised() > promised("--knife-off", "2mm")
    )


def test_strokes_stand_in_the_json_in_order() -> None:
    asked = ("--as", "squares 60 mm, each into 2 triangles, trim 5 mm")
    found = json.loads(run("cut", CARD, *asked, "--json").out)["cut"]["strokes"]

    assert [one["number"] for one in found] == list(range(1, 18))
    assert [one["what"] for one in found[:6]] == ["trim"] * 4 + ["strip"] * 2
    assert found[0]["start_mm"] == [0, 5]
    assert found[0]["end_mm"] == [300, 5]
    assert (found[1]["edge"], found[1]["at_mm"]) == ("near", 195)
    slanted = found[-1]
    assert (slanted["edge"], slanted["at_mm"]) == (None, None)
    # from the corner of the last square, 185 and 5: at 45° it came from 180 and 0
    assert slanted["meets"][0] == {"edge": "near", "at_mm": 180}


def test_wedges_are_promised_less_than_they_weigh() -> None:
    asked = ("--as", "60-75 g pieces, in 23 cm round", "--json")
    found = json.loads(run("cut", CARD, *asked).out)["choices"]

    assert len(found) > 2
    for one in found:
        assert 30 < one["reached_g"] < one["piece_mass_g"] < 75.1


def test_trying_it_comes_to_nearly_the_same() -> None:
    found = json.loads(run("cut", CARD, "--try", "--json").out)

    promised = found["cut"]["promised_piece_g"]["value"]
    assert found["tried"]["reached_g"] == pytest.approx(promised, rel=0.006)
    assert found["tried"]["slabs"] == 20_000


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (["--as", "12 wedges"], "(as): Wedges are cut from a round slab"),
        (["--as", "sqaures 45 mm"], "Write squares 45 mm."),
        (["--as", "5 x 4, trim 100 mm"], "(as): A trim of 100 mm from every side"),
        (["--as", "400 x 300 mm"], "No pieces of 400 × 300 mm fit"),
        (["--as", "5 x 4, knife 80 mm"], "would be"),
        (["--as", "200 x 200"], "too many pieces"),
        (["--as", "nan x 4"], "is no way to cut"),
        (["--as", "-5 x 4"], "number of pieces along is -5"),
        (["--as", "0 pieces"], "number of pieces is 0"),
        (["--as", "5 x 4", "--between", "60-75g"], "Keep one"),
        (["--least", "40mm"], "Add --between"),
        (["--between", "60-75"], "is no way to cut"),
        (["--between", "20 pieces, 60 g"], "says nothing about a cut"),
        (["--between", "1-2kg", "--least", "300mm"], "No grid has pieces"),
        (["--level", "much"], "(level): 'much' is no length"),
        (["--level", "-1mm"], "is no length"),
        (["--knife-off", "nan mm"], "(knife-off)"),
        (["--in", "moon tin"], "It is cut in shop frame"),
        (["--json", "--plan", "-"], "can't both go to standard output"),
        (["--as", "x" * 20_000], "too long"),
    ],
)
def test_what_cannot_be_ends_with_a_message(asked: list[str], message: str) -> None:
    result = run("cut", CARD, *asked)

    assert result.code == 2
    assert message in result.err
    assert result.err.startswith("Error: ")
    assert "Traceback" not in result.err


def test_a_card_without_a_cut_says_how(bench: Path) -> None:
    card = bench / "x.card"
    card.write_text("slab X\ntin 20 x 20 x 5 cm\nlayer A\n  400 g plain flour\n")
    bare = run("cut", str(card))

    assert bare.code == 2
    assert "The card says no cut. Write one on it, such as cut 5 x 4" in bare.err
    assert run("cut", str(card), "--as", "4 x 4").code == 0
    assert run("cut", str(card), "--between", "20-30g").code == 0


def test_a_card_without_a_tin_has_nothing_to_cut(bench: Path) -> None:
    card = bench / "x.card"
    card.write_text("slab X\ncut 4 x 4\nlayer A\n  400 g plain flour\n")

    result = run("cut", str(card))
    assert result.code == 2
    assert "names no tin" in result.err


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_plan_and_ruler_are_written(asked: list[str], tmp_path: Path) -> None:
    plan, ruler, pages = (tmp_path / name for name in ("p.svg", "r.svg", "r.pdf"))
    result = run(
        "cut", CARD, *asked, "--plan", str(plan), "--ruler", str(ruler)
    )  # fmt: skip
    assert result.code == 0, result.err
    assert run("cut", CARD, *asked, "--ruler", str(pages)).code == 0

    svg = plan.read_text(encoding="utf-8")
    assert ET.XML(svg).attrib["role"] == "img"
    assert 'style="' not in svg
    assert ET.XML(ruler.read_text(encoding="utf-8")).attrib["width"] == "210mm"
    read = PdfReader(pages)
    sizes = {tuple(round(float(x)) for x in page.mediabox[2:]) for page in read.pages}
    assert sizes == {(595, 842)}  # A4 in points
    assert f"wrote {plan}" in result.out


def test_the_plan_alone_goes_to_standard_output() -> None:
    result = run("cut", CARD, "--plan", "-")

    assert ET.XML(result.out).tag.endswith("svg")


def test_one_piece_has_nothing_to_mark(tmp_path: Path) -> None:
    result = run("cut", CARD, "--as", "1 piece", "--ruler", str(tmp_path / "r.svg"))

    assert result.code == 2
    assert "Nothing of this cut is marked" in result.err
    assert run("cut", CARD, "--as", "1 piece").code == 0


def test_200_pieces_in_a_frame_are_drawn_and_listed(tmp_path: Path) -> None:
    asked = ("--as", "20 x 10, trim 5 mm, in shop frame")
    result = run("cut", CARD, *asked, "--plan", str(tmp_path / "p.svg"))

    assert result.code == 0
    assert "200 of 28 × 36 mm" in result.out
    assert result.out.count(" cut   ") == 19 + 9
