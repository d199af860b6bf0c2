"""The command calc: every calculator by its example, and everything mistyped."""

import json
import shlex
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from slabwright.spec.calc.calculator import Calculator
from slabwright.spec.calc.calculators import CALCULATORS
from tests.cli.run import run

pytestmark = pytest.mark.usefixtures("bench")
EVERY = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
TIN = ("tin-factor", "from_tin=30 x 20 cm", "to_tin=23 cm round")


def found(*asked: str) -> dict[str, Any]:
    result = run("calc", *asked, "--json")
    assert result.code == 0, result.err
    answer: dict[str, Any] = json.loads(result.out)
    jsonschema.validate(answer, output_schemas()["calc"])
    return answer


def bare(text: str) -> str:
    """A text without the blanks that wrapping puts in and takes out."""
    return "".join(text.split())


def mistakes(*asked: str) -> list[str]:
    result = run("calc", *asked, "--json")
    assert result.code == 2
    assert result.out == ""
    return result.err.splitlines()


@EVERY
def test_an_example_is_answered_with_sum_range_and_sources(
    calculator: Calculator,
) -> None:
    asked = shlex.split(calculator.example)[1:]
    told = run("calc", *asked, columns=90)
    assert told.code == 0, told.err
    assert max(map(len, told.out.splitlines())) <= 90
    assert "  sum  " in told.out
    assert told.err == ""

    answer = found(*asked)
    assert answer["calculator"] == calculator.name
    assert answer["value"] is not None
    assert answer["sum"]
    if answer["low"] is not None:
        assert answer["low"] <= answer["value"] <= answer["high"]
    assert set(answer["also"]) == set(answer["labels"])
    for word in asked[1:]:
        assert word.partition("=")[0] in answer["asked"]
    assert answer["leans_on"] or calculator.name == "tin-factor"  # that is geometry
    for source in answer["leans_on"]:
        assert bare(source["text"]) in bare(told.out)


def test_the_list_tells_inputs_units_ranges_defaults_and_sources() -> None:
    listed = found("--list")["calculators"]
    assert listed == found()["calculators"]
    assert [one["name"] for one in listed] == [one.name for one in CALCULATORS]
    text = run("calc").out
    assert text == run("calc", "--list").out
    plain = bare(text)
    for one in listed:
        assert f"{one['name']}: {one['title']}" in text
        for field in one["inputs"]:
            assert f"  {field['name']}" in text
            assert bare(field["what"]) in plain
        assert all(bare(source["text"]) in plain for source in one["sources"])


def test_parts_that_are_weighed_are_asked_in_grams() -> None:
    assert "in grams" in " ".join(run("calc", "stop-weight", "--list").out.split())
    assert "in grams" not in run("calc", "boiling-point", "--list").out


def test_the_kitchens_altitude_is_what_is_usual(bench: Path) -> None:
    by_name = {one["name"]: one for one in found("--list")["calculators"]}
    asking = [
        (name, field["name"])
        for name, one in by_name.items()
        for field in one["inputs"]
        if field["of_kitchen"]
    ]
    (bench / "high").mkdir()
    (bench / "high" / "kitchen.yaml").write_text("altitude_m: 1600\n")
    high = json.loads(run("calc", "--list", "--json", "--kitchen", "high").out)
    for one in high["calculators"]:
        for field in one["inputs"]:
            if (one["name"], field["name"]) in asking and field["unit"] == "m":
                assert field["default"] == 1600


def test_a_name_may_be_typed_in_several_words() -> None:
    assert found("tin", "factor", *TIN[1:]) == found(*TIN)
    assert found("Tin_Factor", *TIN[1:]) == found(*TIN)


def test_a_calculator_without_its_values_explains_itself() -> None:
    told = run("calc", "tin-factor")

    assert told.code == 2
    assert "from_tin" in told.out
    assert "must be given" in told.out
    assert [line.split(" is ")[0] for line in told.err.splitlines()] == [
        "Error: from_tin", "Error: to_tin",
    ]  # fmt: skip
    assert run("calc", "tin-factor", "--list").code == 0


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("tin-facter",), ["Perhaps tin-factor?"]),
        (("sweat",), ["Perhaps dew-point or"]),
        (("brix",), ["Perhaps syrup?"]),
        (("wombat",), ["There is no calculator 'wombat'."]),
        ((*TIN, "from_tin=20 x 20 cm"), ["from_tin is given twice."]),
        ((*TIN, "form_tin=20 x 20 cm"), ["Perhaps from_tin or to_tin?"]),
        ((*TIN, "8"), ["'8' is no key=value."]),
        (("tin-factor", "to_tin", "from_tin="), ["'to_tin'", "from_tin has no value."]),
        (("tin-factor", "from_tin=", "to_tin=9"), ["from_tin has no value."]),
        (("boiling-point", "=", "80"), ["'=' is no key=value", "'80' is no key"]),
        (("syrup", "sucrose=80", "g"), ["in quotes, as one: 'sucrose=80 g'"]),
        (("tin-factor", "from_tin=a bucket", "to_tin=400 x 2 cm"),
         ["'a bucket'", "4000 mm"]),
        (("dew-point", "room_C=nan", "height_mm=1e999", "density_g_ml=inf"),
         ["'nan', which is no number", "'1e999'", "'inf'"]),
        (("dew-point", "room_C=68 F"), ["'68 F', which is no number of °C"]),
        (("dew-point", "room_C=400"), ["Give from -10 to 50 °C."]),
        (("dew-point", "room_C=12 13"), ["'12 13', which is no number"]),
        (("glass-transition", "glucse=80", "water=20"), ["Perhaps glucose or"]),
        (("glass-transition", "sucrose=-1", "water=1e300"), ["-1", "1e+300"]),
        (("glass-transition", "sucrose=0"), ["needs a make-up in parts by mass"]),
        (("glass-transition", "sucrose=1", "sucrose=2"), ["sucrose is given twice."]),
        (("glass-transition", "sucrose=1", "moon_dust=2"), ["no 'moon_dust'"]),
        (("glass-transition", "=1"), ["no key=value"]),
        (("gelatine-exchange", "mass_g=1", "from_bloom=200", "to_grade=gld"),
         ["Give one of"]),
        (("glass-transition", *(f"x{n}=1" for n in range(500))), ["More than 100"]),
        (("glass-transition", f"{'x' * 5000}=1"), ["x…"]),
    ],
)  # fmt: skip
def test_every_mistake_is_told_at_once(asked: tuple[str, ...], said: list[str]) -> None:
    told = mistakes(*asked)

    assert len(told) == len(said)
    for line, part in zip(told, said, strict=True):
        assert part in line
        assert line.startswith("Error: ")
        assert len(line) < 2000


@pytest.mark.parametrize(
    ("typed", "value"),
    [("4", 4), ("4 C", 4), ("4 °C", 4), ("4,5", 4.5), ("−4", -4), ("-4", -4),
     ("+4.", 4), ("4e0", 4), ("4 celsius", 4)],
)  # fmt: skip
def test_a_number_is_read_as_hands_type_it(typed: str, value: float) -> None:
    assert found("dew-point", f"product_C={typed}")["asked"]["product_C"] == value


@pytest.mark.parametrize(
    "typed",
    [("sucrose", "=", "80", "water", "=", "20"), ("sucrose=", "80", "water", "=20"),
     ("sucrose =80", "water= 20")],
)  # fmt: skip
def test_blanks_around_an_equals_sign_do_no_harm(typed: tuple[str, ...]) -> None:
    assert found("syrup", *typed) == found("syrup", "sucrose=80", "water=20")


def test_what_a_name_was_taken_for_is_told() -> None:
    answer = found("glass-transition", "honey=80", "glucose syrup=20")

    assert answer["asked"]["honey"] == 80
    assert any("glucose syrup 42 DE" in note for note in answer["notes"])


def test_what_nobody_knows_of_a_part_is_told(bench: Path) -> None:
    (bench / "own").mkdir()
    (bench / "own" / "larder.yaml").write_text(
        "- name: house syrup\n  per_100g: {water: 20, sucrose: 60}\n  source: pack\n"
    )
    asked = ("glass-transition", "house syrup=10", "water=1", "--kitchen", "own")
    told = run("calc", *asked, "--json")
    assert told.code == 0, told.err
    assert any(
        "20 % of it is not told" in note for note in json.loads(told.out)["notes"]
    )


def test_a_kitchen_with_a_mistake_still_answers(bench: Path) -> None:
    (bench / "odd").mkdir()
    (bench / "odd" / "kitchen.yaml").write_text("altitud_m: 12\n")
    told = run("calc", *TIN, "--kitchen", "odd")

    assert told.code == 2
    assert told.out == run("calc", *TIN).out
    assert "altitud_m" in told.err
