"""The command layers, spec's line of each layer, and why: over sides of any kind."""

import json
from importlib import import_module
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.hostile import HOSTILE
from tests.cli.run import run
from tests.natures import ODD, no_sides, sides

__all__ = ["no_sides", "sides"]
pdfium: Any = import_module("pypdfium2")  # carries no types
TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
pytestmark = pytest.mark.usefixtures("bench")
MADE_UP = pytest.mark.usefixtures("sides")


def found(*asked: str, data: str = "") -> dict[str, Any]:
    result = run("layers", *asked, "--json", data=data.encode())
    assert result.code == 0, result.err
    answer: dict[str, Any] = json.loads(result.out)
    jsonschema.validate(answer, output_schemas()["layers"])
    return answer


@pytest.mark.parametrize("card", [TIDES, LAMP, WALK])
@pytest.mark.parametrize("columns", [76, 80, 200])
def test_it_keeps_to_its_width(card: str, columns: int) -> None:
    result = run("layers", card, columns=columns)

    assert result.code == 0, result.err
    assert max(map(len, result.out.splitlines())) <= columns


@pytest.mark.parametrize("card", [TIDES, LAMP, WALK])
def test_layers_stand_bottom_first_with_their_numbers(card: str) -> None:
    answer = found(card)
    spec = json.loads(run("spec", card, "--json").out)

    jsonschema.validate(spec, output_schemas()["specification"])
    assert [one["number"] for one in answer["layers"]] == [0, 1, 2]
    assert [one["name"] for one in answer["layers"]] == [
        one["name"] for one in spec["layers"]
    ]
    for mine, theirs in zip(answer["layers"], spec["layers"], strict=True):
        assert mine["water_activity"] == theirs["water_activity"]
        assert set(mine["nature"]) == set(theirs["nature"])
    assert answer["touching"] == spec["touching"]


def test_what_several_layers_have_to_know_is_told_once() -> None:
    said = " ".join(run("layers", TIDES).out.split())
    answer = json.loads(run("layers", TIDES, "--json").out)
    notes = [
        note
        for layer in answer["layers"]
        for aspect in layer["nature"].values()
        for note in aspect["notes"]
    ]
    shared = {note for note in notes if notes.count(note) > 1}

    assert shared
    for note in shared:
        assert said.count(note) == 1, note


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("made_up", [True, False])
def test_it_tells_what_it_can_of_what_it_is_given(
    text: str, made_up: bool, request: pytest.FixtureRequest
) -> None:
    if made_up:
        request.getfixturevalue("sides")
    for more in ([], ["--json"], ["--layer", "A"], ["--beside", LAMP]):
        result = run("layers", "-", "--kitchen", "demo", *more, data=text.encode())

        assert "Traceback" not in result.err
        assert result.code in {0, 2}
        assert result.out or result.err.startswith("Error: ")
        if more == ["--json"] and result.out:
            jsonschema.validate(json.loads(result.out), output_schemas()["layers"])


@MADE_UP
def test_the_text_says_all_of_a_side() -> None:
    lines = [" ".join(line.split()) for line in run("layers", LAMP).out.splitlines()]
    text = " ".join(lines)

    assert "Malt caramel" in lines
    for said in ("water activity 0.", "likely 0.", "a pinch of", "0.0021 g [?]",
                 "what nobody knows not known", "no one measured it", "bite chewy [?]",
                 "brittle | > chewy < | sticky | flows", "its pH is not known",
                 "Malt caramel on Rye and oat shortbread", "water moves down",
                 "A note with", "LOOK"):  # fmt: skip
        assert said in text
    assert text.index("Rye and oat shortbread") < text.index("Malt caramel")


@MADE_UP
def test_findings_keep_the_numbers_by_which_why_opens_them() -> None:
    out = run("layers", TIDES, "--layer", "curd").out
    (line,) = [line for line in out.splitlines() if line.strip().startswith("LOOK")]
    number = line.split()[1]
    opened = run("why", TIDES, number).out

    assert "Baked lemon curd" in opened
    assert "test_wet" in opened
    assert "Add 3 g of sugar." in opened


@MADE_UP
def test_one_layer_is_asked_for_by_name() -> None:
    whole = found(LAMP, "--layer", "Malt caramel")

    assert [one["name"] for one in whole["layers"]] == ["Malt caramel"]
    assert {one["where"] for one in whole["findings"]} == {"Malt caramel"}
    assert len(whole["touching"]) == 2
    assert found(LAMP, "--layer", "caramel") == whole
    wrong = run("layers", LAMP, "--layer", "Malt carmel")
    assert wrong.code == 2
    assert "Write one of: Malt caramel." in wrong.err


@MADE_UP
def test_another_card_is_held_against_it(bench: Path) -> None:
    other = bench / "other.card"
    text = (bench / LAMP).read_text("utf-8")
    other.write_text(text.replace("slab Harbour Lamp", "slab Wetter Lamp").replace(
        "layer Malt caramel", "layer Other caramel"), encoding="utf-8")  # fmt: skip
    answer = found(LAMP, "--beside", str(other), "--kitchen", "demo")

    assert answer["beside"]["slab"] == "Wetter Lamp"
    assert [one["beside"] for one in answer["layers"]] == [
        "Rye and oat shortbread",
        "Other caramel",  # of another name: the only one of its kind
        "Coffee dark ganache",
    ]
    out = run("layers", LAMP, "--beside", str(other), "--kitchen", "demo").out
    assert "beside Wetter Lamp" in out
    assert "beside Other caramel" in out
    assert "there chewy" in " ".join(out.split())
    assert "How it tastes beside Wetter Lamp" in out
    assert "as sweet" in answer["tastes_beside"][0]
    far = run("layers", LAMP, "--beside", WALK).out
    assert "nothing to hold it against" in far
    both = run("layers", "-", "--beside", "-")
    assert (both.code, both.out) == (2, "")


@MADE_UP
def test_a_chart_is_printed_in_numbers_and_no_number_is_null() -> None:
    (chart,) = found(LAMP)["layers"][1]["nature"]["water"]["charts"]

    assert chart["curves"][0]["y"] == [0.5, 0.2, None]
    assert chart["marks"] == [{"label": "you are here", "x": 112.0, "y": 0.18}]
    assert chart["words"] == "Water goes as the pan gets hotter."


@MADE_UP
def test_spec_says_a_line_of_each_layer() -> None:
    out = run("spec", LAMP).out
    said = " ".join(out.split())

    assert "Malt caramel: water activity 0." in said
    assert "bite: chewy" in said
    assert max(map(len, out.splitlines())) <= 80


@pytest.mark.usefixtures("no_sides")
def test_without_any_side_nothing_is_promised() -> None:
    assert "What each layer will be" not in run("spec", LAMP).out
    assert "Nothing is known" in run("layers", LAMP).out
    answer = found(LAMP)
    assert {one["water_activity"] for one in answer["layers"]} == {None}
    assert answer["touching"] == []


@MADE_UP
def test_why_opens_figures_and_classes_of_layers() -> None:
    every = run("why", LAMP, "water_activity").out
    one = run("why", LAMP, "caramel water activity").out

    assert every.count("/ water_activity: 0.") == 3
    assert one.startswith("Malt caramel / water_activity: 0.")
    assert "holds     0.2 to 0.95" in one
    assert "there" not in one
    assert "withheld" in run("why", LAMP, "caramel gone").out
    assert (
        "Coffee dark ganache on Malt caramel / step: 0.12"
        in run("why", LAMP, "ganache on caramel step").out
    )
    bite = run("why", LAMP, "caramel bite")
    assert bite.out.startswith("Malt caramel / bite: chewy\n")
    assert "brittle, chewy, sticky, flows" in bite.out
    as_json = json.loads(run("why", LAMP, "caramel bite", "--json").out)
    jsonschema.validate(as_json, output_schemas()["why"])
    assert as_json["Malt caramel / bite"]["word"] == "chewy"
    for asked in ("caramel water activity", "bite", "caramel gone"):
        answer = json.loads(run("why", LAMP, asked, "--json").out)
        jsonschema.validate(answer, output_schemas()["why"])


@MADE_UP
def test_a_figure_in_json_says_where_its_relation_holds() -> None:
    figure = found(LAMP)["layers"][0]["nature"]["water"]["figures"]["water_activity"]

    assert figure["holds"] == "0.2 to 0.95"
    assert figure["low"] < figure["value"] < figure["high"]
    labels = found(LAMP)["layers"][0]["nature"]["water"]["labels"]
    assert labels["tiny_g"] == f"a pinch of {ODD}"


@MADE_UP
def test_the_bench_sheet_says_what_each_layer_will_be(bench: Path) -> None:
    result = run("sheet", LAMP, "--to", "s.pdf", "--html", "s.html")
    text = (bench / "s.html").read_text("utf-8")

    assert result.code == 0, result.err
    assert text.count("It will be: water activity 0.") == 3
    assert len(pdfium.PdfDocument(bench / "s.pdf")) == 1


@pytest.mark.usefixtures("no_sides")
def test_the_bench_sheet_promises_nothing_without(bench: Path) -> None:
    run("sheet", LAMP, "--to", "s.pdf", "--html", "s.html")

    assert "It will be" not in (bench / "s.html").read_text("utf-8")


@MADE_UP
def test_a_comparison_says_how_the_water_activity_moved(bench: Path) -> None:
    text = (bench / LAMP).read_text("utf-8")
    other = bench / "demo" / "slabs" / "wetter.card"
    name = "layer Coffee dark ganache"
    other.write_text(text.replace(name, f"{name}\n  60 g water"), encoding="utf-8")
    answer = json.loads(run("compare", LAMP, str(other), "--json").out)
    moved = [one for one in answer["moved"] if one["name"] == "water_activity"]

    assert [one["where"] for one in moved] == ["Coffee dark ganache"]
    assert moved[0]["before"]["value"] < moved[0]["after"]["value"]
