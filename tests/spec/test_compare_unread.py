"""Lines that cannot be read are held against each other as they stand."""

import json

import jsonschema
import pytest

from slabwright.publish.compare import comparison_text
from slabwright.publish.compare_json import comparison_json
from slabwright.publish.schemas import output_schemas
from slabwright.publish.terminal import Manner
from tests.spec.compare_cards import TIDES, against

READ = "190 g   plain flour"
AT = TIDES[: TIDES.index(READ)].count("\n") + 1
UNREAD = TIDES.replace(READ, "190 gg  plain flour")
OTHER = TIDES.replace(READ, "195 gg  plain flour")


def test_an_edit_of_an_unread_line_is_no_sameness() -> None:
    made = against(UNREAD, OTHER)

    assert not made.same
    assert (made.lines, made.said, made.moved) == ((), (), ())
    assert [(one.before, one.after, one.text) for one in made.unread] == [
        (None, AT, "195 gg plain flour"),
        (AT, None, "190 gg plain flour"),
    ]


def test_an_unread_line_on_another_line_is_the_same() -> None:
    lower = UNREAD.replace("\nlayer Lemon", "\n\nlayer Lemon")
    spaced = lower.replace("190 gg  plain", "190  gg plain").replace("flour", "flour #")

    made = against(UNREAD, spaced)

    assert made.same
    assert [(one.before, one.after) for one in made.unread] == [(AT, AT + 1)]


def test_an_unread_tin_or_layer_is_told_by_its_words() -> None:
    made = against(
        TIDES.replace("tin 30 x 20 x 5 cm", "tin biggish"),
        TIDES.replace("layer Baked lemon curd", "layer Baked lemon curd from Nowhere"),
    )

    assert [one.text for one in made.unread] == [
        "layer Baked lemon curd from Nowhere", "tin biggish",
    ]  # fmt: skip


def test_a_line_that_was_read_and_is_wrong_has_no_words() -> None:
    made = against(TIDES, TIDES.replace("ends 451 g", "ends 4510 g"))

    (one,) = made.unread
    assert (one.text, one.before) == ("", None)
    assert "4510 g" in one.what


def test_two_mistakes_of_lines_that_were_read_are_two() -> None:
    made = against(
        TIDES.replace("ends 451 g", "ends 4510 g"),
        TIDES.replace("ends 446 g", "ends 4460 g"),
    )

    assert ["4460 g" in one.what for one in made.unread] == [True, False]
    assert not any(one.is_in_both for one in made.unread)


def test_what_stands_under_a_second_finish_is_compared() -> None:
    (said,) = against(TIDES, TIDES + "finish\n  wipe the knife\n").said

    assert (said.where, said.what, said.after) == ("finish", "step", "wipe the knife")


@pytest.mark.parametrize("after", [UNREAD, OTHER])
def test_text_and_json_show_the_line_itself(after: str) -> None:
    made = against(UNREAD, after)
    text, form = comparison_text(made, Manner(80)), comparison_json(made)

    jsonschema.validate(json.loads(json.dumps(form)), output_schemas()["comparison"])
    assert [one["text"] for one in form["unread"]] == [u.text for u in made.unread]
    assert "'gg' is no unit" in text
    if after == UNREAD:
        assert f"before, line {AT}; after, line {AT}: 190 gg plain flour\n" in text
        assert "as far as they were read" in text
    else:
        assert f"  after, line {AT}: 195 gg plain flour\n" in text
        assert f"  before, line {AT}: 190 gg plain flour\n" in text
        assert "the same" not in text


def test_a_finding_that_quotes_a_step_stays_with_it() -> None:
    renamed = TIDES.replace("layer Baked lemon curd", "layer Lemon set")

    made = against(renamed, renamed.replace("is under 15 C", "is  under 15C"))

    assert "unknown_layer" in {one.code for one in made.after.findings}
    assert made.same


def test_white_space_in_a_finding_is_no_other_finding() -> None:
    spooned = TIDES.replace("8 g     lemon zest", "2 tsp lemon zest")

    assert against(
        spooned, spooned.replace("2 tsp lemon zest", "2 tsp  lemon  zest")
    ).same


@pytest.mark.parametrize(
    ("old", "new"), [("160 C fan", "160C fan"), ("20 min hands", "20min hands")]
)
def test_a_unit_close_to_its_number_is_no_other_step(old: str, new: str) -> None:
    assert old in TIDES
    assert against(TIDES, TIDES.replace(old, new)).same
    assert not against(TIDES, TIDES.replace(old, new.replace(" ", "", 1))).same
