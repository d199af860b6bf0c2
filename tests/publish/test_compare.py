"""A comparison as text and as JSON."""

import re

import jsonschema
import pytest
from tests.spec.compare_cards import TIDES, against

from slabwright.publish.compare import comparison_text
from slabwright.publish.compare_json import comparison_json
from slabwright.publish.schemas import output_schemas
from slabwright.publish.terminal import Manner

NOW = TIDES
for was, now in (
    ("  into mixer", "  into large mixer"),
    (
        "  85 g    caster sugar\n  4 g     lemon zest",
        "  4 g lemon zest\n  85 g caster sugar",
    ),
    ("ends 451 g", "ends 451 g, weighed"),
    ("5       egg yolks = 90 g", "6       egg yolks = 108 g"),
    ("eggs, medium = 300 g", "eggs, medium = 300 g, weighed"),
    ("  cool at room       30 min\n", ""),
    ("sold loose", "proved 2026-03-14\nsold loose"),
    ("finish\n", "layer Gloss\n  kind glaze\n  50 g dark chocolate 60%\n\nfinish\n"),
    ("40 g    glucose", "40 qq    glucose"),
):  # fmt: skip
    assert was in NOW
    NOW = NOW.replace(was, now, 1)
MADE = against(TIDES, NOW)
AT = NOW.split("\n").index("  40 qq    glucose syrup 42 DE") + 1


def shown(text: str) -> str:
    """The part of a text that begins with a heading, up to the next."""
    return comparison_text(MADE, Manner()).partition(text)[2].partition("\n\n")[0]


def test_everything_that_the_card_says_otherwise_is_told() -> None:
    assert (
        shown("What the card says\n")
        == """\
  proved, new: 2026-03-14
  Lemon semolina shortbread, into: mixer → large mixer
  Lemon semolina shortbread, place of caster sugar: after butter, unsalted →
    after lemon zest
  Lemon semolina shortbread, loss: ends 451 g → ends 451 g, weighed
  Baked lemon curd, step, gone: cool at room 30 min
  Baked lemon curd, amount of eggs: 6, medium = 300 g → 6, medium = 300 g,
    weighed
  layer, new: Gloss"""
    )


def test_an_amount_that_grams_do_not_tell_is_told_as_it_is_said() -> None:
    lines = shown("What goes in, g\n").split("\n")

    assert [" ".join(line.split()) for line in lines] == [
        "Baked lemon curd",
        "egg yolks 90 → 108 +18",
        "5 = 90 g → 6 = 108 g",
        "Blackcurrant jelly",
        "- glucose syrup 42 DE 40 → -40",
        "Gloss",
        "+ dark chocolate 60% → 50 +50",
    ]


def test_a_line_that_was_not_read_is_told_with_its_card_and_number() -> None:
    told = shown("Not taken: put right before the rest counts\n")

    assert told.startswith(
        f"  after, line {AT}: 40 qq glucose syrup 42 DE\n    'qq' is no unit"
    )


def test_the_same_with_a_line_that_was_not_read() -> None:
    text = comparison_text(against(NOW, NOW), Manner())

    assert f"  before, line {AT}; after, line {AT}: 40 qq glucose" in text
    assert "    'qq' is no unit" in text
    assert text.endswith("They say and come to the same, as far as they were read.\n")
    assert "They say" not in comparison_text(MADE, Manner())


def test_a_kind_that_is_taken_otherwise_is_told_by_itself() -> None:
    bare = TIDES.replace("  kind pressed biscuit\n", "")
    made = against(bare, bare.replace("Lemon semolina shortbread", "Sponge"))
    text = comparison_text(made, Manner())

    assert "What it is taken for\n  Sponge, kind: pressed biscuit → sponge\n" in text
    assert comparison_json(made)["taken"] == [
        {"where": "Sponge", "what": "kind", "before": "pressed biscuit",
         "after": "sponge"}
    ]  # fmt: skip


@pytest.mark.parametrize("columns", [80, 120, 200])
def test_no_line_is_wider_than_the_terminal(columns: int) -> None:
    text = comparison_text(MADE, Manner(columns))

    assert max(map(len, text.splitlines())) <= columns


def test_the_json_holds_what_was_said_and_keeps_its_schema() -> None:
    made = comparison_json(MADE)
    yolks = next(one for one in made["lines"] if one["name"] == "egg yolks")

    jsonschema.validate(made, output_schemas()["comparison"])
    assert (yolks["said_before"], yolks["said_after"]) == ("5 = 90 g", "6 = 108 g")
    assert [one["said_after"] for one in made["lines"]].count(None) == 2
    assert [(u["before_line"], u["after_line"]) for u in made["unread"]] == [(None, AT)]
    assert len(made["said"]) == len(MADE.said) == 7


def test_a_long_name_leaves_room_for_the_figure() -> None:
    taller = TIDES.replace("ends 451 g", "ends 440 g")

    text = comparison_text(against(TIDES, taller), Manner(80))

    assert re.search(r"^  Lemon semolina…: share of height +3", text, re.MULTILINE)
    assert re.search(r"^  Lemon semolina…: share of mass +2", text, re.MULTILINE)
    assert max(map(len, text.splitlines())) <= 80
