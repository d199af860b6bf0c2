"""Every command as a baker or a script calls it."""

import io
import json
import re
import runpy
import shlex
import sys
import unicodedata
from pathlib import Path

import jsonschema
import pytest
import typer

from slabwright.cli import desk
from slabwright.cli.main import app, main
from slabwright.files.schemas import file_schemas
from slabwright.publish.schemas import output_schemas, reading_schema
from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"
SCHEMAS = {
    **file_schemas(),
    **output_schemas(),
    "reading": reading_schema(file_schemas()["card"]),
}
STOPS = "slab X\ntin 20 x 20 x 1 cm\nlayer A\n  900 g honey\n"
WRONG = "slab X\ntin 20 x 20 x 5 cm\nlayer A\n  90 g honey\n  ends 300 g\n"
NOISE = [b"\xff\xfe\x00", b"\x00\x01", b"slab Cr\xe8me\n", b"\x89PNG\r\n\x1a\n\x00"]


def commands() -> dict[str, str]:
    """Help text of every command, by the words that call it."""
    group = typer.main.get_command(app)
    assert isinstance(group, typer.core.TyperGroup)
    found: dict[str, str] = {}
    for name, command in group.commands.items():
        inner = getattr(command, "commands", {"": command})
        for more, one in inner.items():
            found[f"{name} {more}".strip()] = one.help or ""
    return found


def example(text: str) -> list[str]:
    found = re.search(r"Example: slabwright (.*)", text)
    assert found, text
    return shlex.split(found.group(1))


def width(line: str) -> int:
    """Columns that a line takes in a terminal."""
    wide = sum(unicodedata.east_asian_width(c) in {"W", "F"} for c in line)
    marks = sum(unicodedata.combining(c) > 0 for c in line)
    return len(line) + wide - marks


ALONE = {"serve", "export", "backup", "restore"}
"""They need more before or after: see `test_serving.py`, `test_keeping.py`."""


@pytest.mark.parametrize(
    "text", [help_ for name, help_ in commands().items() if name not in ALONE]
)
@pytest.mark.usefixtures("bench")
def test_the_example_of_a_commands_help_runs(text: str) -> None:
    ran = run(*example(text))

    assert ran.code == 0, ran.err
    assert "Error" not in ran.err
    assert ran.out


@pytest.mark.parametrize("command", commands())
def test_help_says_what_a_command_does_and_how(command: str) -> None:
    ran = run(*command.split(), "--help")

    assert (ran.code, ran.err) == (0, "")
    assert f"Usage: slabwright {command}" in ran.out
    assert "Example: slabwright" in ran.out


def test_every_command_is_listed() -> None:
    ran = run("--help")

    for command in commands():
        assert re.search(rf"^  {command.split()[0]}\b", ran.out, re.MULTILINE)


@pytest.mark.parametrize("command", ["bake", "specs", "--colour", "spec --loud"])
def test_what_is_no_command_is_the_users_mistake(command: str) -> None:
    ran = run(*command.split())

    assert ran.code == 2
    assert "Error" in ran.err
    assert "Traceback" not in ran.err


# --- the contract: codes and streams --------------------


@pytest.mark.parametrize(
    ("command", "card", "code"),
    [
        # 0 done, 1 something stops the slab, 2 the user's mistake
        ("spec", STOPS, 1),
        ("check", STOPS, 1),
        ("read", STOPS, 0),
        ("spec", WRONG, 2),
        ("check", WRONG, 2),
        ("read", WRONG, 2),
        ("spec", "", 2),
        ("check", "", 2),
        ("read", "", 2),
        ("spec", "just a recipe\n100 g flour\n", 0),
        ("spec", "hello", 1),
    ],
)
@pytest.mark.parametrize("more", [[], ["--json"]], ids=["text", "json"])
def test_a_command_ends_with_the_code_that_scripts_rely_on(
    command: str, card: str, code: int, more: list[str], tmp_path: Path
) -> None:
    file = tmp_path / "x.card"
    file.write_text(card, encoding="utf-8")
    ran = run(command, str(file), *more)

    assert ran.code == code, ran
    assert "Traceback" not in ran.err
    if more:
        json.loads(ran.out)


def test_check_of_many_cards_is_as_bad_as_the_worst(tmp_path: Path) -> None:
    paths = []
    for name, text in {"stops": STOPS, "wrong": WRONG}.items():
        paths.append(tmp_path / f"{name}.card")
        paths[-1].write_text(text, encoding="utf-8")

    assert run("check", str(paths[0])).code == 1
    both = run("check", *map(str, paths))
    assert both.code == 2
    assert "wrong.card:5:8: ends says 300 g" in both.out


@pytest.mark.parametrize("data", NOISE)
@pytest.mark.parametrize("command", ["spec", "check", "read"])
def test_noise_is_told_in_one_line_and_json_stays_json(
    command: str, data: bytes, tmp_path: Path
) -> None:
    file = tmp_path / "x.card"
    file.write_bytes(data)
    plain, as_json = run(command, str(file)), run(command, str(file), "--json")

    assert (plain.code, as_json.code) == (2, 2)
    errors = [line for line in (plain.err + plain.out).splitlines() if "x.card" in line]
    assert len(errors) == 1
    value = json.loads(as_json.out)
    found = value["cards"][0]["errors"] if command == "check" else value["errors"]
    assert len(found) == 1
    assert found[0]["what"]


@pytest.mark.parametrize("command", ["spec", "check", "read", "why", "adopt"])
def test_a_card_that_is_not_there_is_named(command: str) -> None:
    ran = run(command, "nowhere.card", *(["depth"] if command == "why" else []))

    assert ran.code == 2
    assert "nowhere.card" in ran.out + ran.err
    assert "Traceback" not in ran.err


def test_a_card_with_an_error_still_gives_what_does_not_lean_on_it(
    tmp_path: Path,
) -> None:
    file = tmp_path / "x.card"
    good = "layer Good\n  236 g honey\n  loses 0 g\n  density 1.18 g/ml\n"
    file.write_text(WRONG + good, encoding="utf-8")
    ran = run("spec", str(file), "--json")

    value = json.loads(ran.out)
    # 236 g ÷ 400 cm² ÷ 1.18 g/ml = 5 mm
    assert value["layers"][1]["depth_mm"]["value"] == pytest.approx(5)
    assert value["layers"][0]["depth_mm"]["value"] is None
    (error,) = value["errors"]
    assert (error["line"], error["column"]) == (5, 8)
    assert set(error) >= {"line", "column", "what", "do", "nearest"}
    assert ran.err.startswith("Error: ")


@pytest.mark.parametrize(
    ("arguments", "schema"),
    [
        (["spec", CARD], "specification"),
        (["spec", "demo/pasted/lemon-slice.txt"], "specification"),
        (["check", CARD, "demo/slabs/harbour-lamp.card"], "check"),
        (["why", CARD, "depth"], "why"),
        (["why", CARD, "1"], "why"),
        (["read", CARD], "reading"),
        (["read", "demo/pasted/lemon-slice.txt"], "reading"),
        (["larder", "find", "butter"], "found"),
        (["larder", "find", "caster suger"], "found"),
        (["larder", "show", "butter"], "ingredient"),
        (["larder", "show", "eggs"], "ingredient"),
        (["larder", "show", "gelatine"], "ingredient"),
    ],
)
@pytest.mark.usefixtures("bench")
def test_json_is_as_its_schema_says_and_alone(
    arguments: list[str], schema: str
) -> None:
    ran = run(*arguments, "--json")

    assert (ran.code, ran.err) == (0, "")
    jsonschema.Draft202012Validator(SCHEMAS[schema]).validate(json.loads(ran.out))


@pytest.mark.parametrize(
    "card", [STOPS, WRONG, "", "slab X\n", "component A\n  9 g B\n"]
)
def test_odd_cards_fit_the_schema_too(card: str) -> None:
    for command, schema in (
        ("spec", "specification"), ("check", "check"), ("read", "reading"),
    ):  # fmt: skip
        ran = run(command, "-", "--json", data=card.encode())
        value = json.loads(ran.out)
        jsonschema.Draft202012Validator(SCHEMAS[schema]).validate(value)


@pytest.mark.usefixtures("bench")
def test_a_schema_refuses_what_is_not_said_in_it() -> None:
    value = json.loads(run("spec", CARD, "--json").out)
    check = jsonschema.Draft202012Validator(SCHEMAS["specification"])
    for spoilt in ({**value, "more": 1}, {**value, "height_mm": 12.0}):
        assert not check.is_valid(spoilt)
    del value["cut"]
    assert not check.is_valid(value)


# --- standard input and the width of the page --------------------


@pytest.mark.usefixtures("bench")
def test_a_dash_is_standard_input() -> None:
    data = Path(CARD).read_bytes()
    piped = run("spec", "-", "--kitchen", "demo", "--json", data=data)
    opened = run("spec", CARD, "--json")

    assert piped.out == opened.out
    assert run("spec", "-", data=b"\xff\xfe").code == 2


@pytest.mark.parametrize("columns", [76, 80, 200])
@pytest.mark.parametrize(
    "arguments",
    [
        ["spec", CARD], ["spec", CARD, "--full"], ["spec", CARD, "--plain"],
        ["spec", "demo/slabs/harbour-lamp.card", "--full"],
        ["spec", "demo/pasted/lemon-slice.txt"], ["why", CARD, "curd depth"],
        ["why", CARD, "1"], ["read", CARD], ["larder", "show", "butter"],
        ["demo", "demo"],
    ],
    ids=" ".join,
)  # fmt: skip
@pytest.mark.usefixtures("bench")
def test_no_line_runs_over_the_terminal(arguments: list[str], columns: int) -> None:
    ran = run(*arguments, columns=columns)

    over = [line for line in ran.out.splitlines() if width(line) > columns]
    assert over == []
    assert ran.code == 0


@pytest.mark.usefixtures("bench")
def test_plain_text_has_no_block_characters() -> None:
    blocks = re.compile(r"[\u2580-\u259f\u2500-\u257f]")

    assert blocks.search(run("spec", CARD).out)
    assert not blocks.search(run("spec", CARD, "--plain").out)


@pytest.mark.usefixtures("bench")
def test_nothing_is_coloured_but_a_terminal() -> None:
    assert "\x1b" not in run("spec", CARD).out
    assert "\x1b" not in run("spec", CARD, NO_COLOR="1").out


def test_no_color_is_heard_in_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert desk.bold("Watch") == "\x1b[1mWatch\x1b[0m"
    monkeypatch.setenv("NO_COLOR", "1")
    assert desk.bold("Watch") == "Watch"


@pytest.mark.usefixtures("bench")
def test_it_runs_as_a_module(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["slabwright", "larder", "find", "butter"])
    with pytest.raises(SystemExit) as ended:
        runpy.run_module("slabwright", run_name="__main__")

    assert not ended.value.code
    assert "butter-unsalted" in capsys.readouterr().out


class _GoneAway(io.StringIO):
    """A reader that closed its end of the pipe."""

    def write(self, text: str) -> int:
        raise BrokenPipeError(text)


@pytest.mark.usefixtures("bench")
def test_a_reader_that_goes_away_is_no_mistake(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(sys, "argv", ["slabwright", "spec", CARD])
    monkeypatch.setattr(sys, "stdout", _GoneAway())
    monkeypatch.setattr(sys, "stderr", io.StringIO())

    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code in {0, 1}


# --- why, larder --------------------


@pytest.mark.usefixtures("bench")
def test_why_opens_a_figure_with_its_sum_and_its_standing() -> None:
    ran = run("why", CARD, "curd depth")

    # 969 g ÷ 600 cm² ÷ 1.09 g/ml = 14.8 mm
    assert "969 g ÷ 600 cm² ÷ 1.09 g/ml = 14.8 mm" in ran.out
    assert "assumed" in ran.out


@pytest.mark.usefixtures("bench")
def test_why_of_what_is_no_figure_names_some() -> None:
    ran = run("why", CARD, "elephant")

    assert ran.code == 2
    assert ran.err.startswith("Error: No figure here is called 'elephant'. Try: slab /")


def test_a_slip_in_a_figures_name_is_offered_what_it_meant() -> None:
    ran = run("why", CARD, "dpeth")

    assert ran.code == 2
    assert ran.err.count("/ depth_mm") == 3
    assert "head_room" not in ran.err


def test_a_look_up_of_nothing_offers_nothing() -> None:
    for command in ("find", "show"):
        ran = run("larder", command, "")
        assert ran.code == 2
        assert ran.err == "Error: The larder has no ''. Write what a cook calls it.\n"


def test_the_larder_names_neighbours_of_what_it_has_not() -> None:
    found = run("larder", "find", "caster sugarr dust")
    shown = run("larder", "show", "unicorn flour")
    as_json = run("larder", "find", "unicorn flour", "--json")

    assert (found.code, shown.code, as_json.code) == (2, 2, 2)
    assert "caster sugar" in found.err
    assert "flour" in shown.err
    assert json.loads(as_json.out)["id"] is None


@pytest.mark.usefixtures("bench")
def test_the_own_larder_is_heard_by_the_larder_command(bench: Path) -> None:
    own = "- {name: rye crisp, like: wholemeal rye flour}\n"
    (bench / "demo" / "larder.yaml").write_text(own, encoding="utf-8")

    ran = run("larder", "find", "rye crisp", "--kitchen", "demo", "--json")
    assert json.loads(ran.out)["id"] == "rye-crisp"
