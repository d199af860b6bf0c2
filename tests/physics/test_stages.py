"""Stages of cooked sugar as books have them, at the sea and above it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.physics.stages import (
    at_sea,
    here,
    spans,
    stage_named,
    stage_names,
    stages,
    stages_at,
)
from slabwright.physics.water import air_pressure

# A stored page of the trade (issuhub.com, page 2575 of a textbook): °C
TEXTBOOK = {
    "thread": (102, 113), "soft ball": (113, 116), "firm ball": (118, 121),
    "hard ball": (121, 130), "soft crack": (132, 143), "hard crack": (149, 154),
}  # fmt: skip


@pytest.mark.parametrize("name", TEXTBOOK)
def test_a_textbook_stands_as_it_is_printed(name: str) -> None:
    rows = [
        (one.low_C, one.high_C)
        for one in stages()
        if one.name == name and one.source.key == "stages-textbook"
    ]

    assert rows == [TEXTBOOK[name]]


def test_books_are_kept_apart_where_they_differ() -> None:
    at_115 = {(one.source.key, one.name) for one in stages_at(115)}

    assert {key for key, _ in at_115} == {
        "stages-textbook", "stages-page", "stages-dictionary",
    }  # fmt: skip
    assert spans("hard crack") == (149, 157)
    with pytest.raises(KeyError):
        spans("feather")


@pytest.mark.parametrize(
    ("celsius", "name"),
    [
        (60, "syrup, not a stage yet"),
        (105, "thread"),
        (115, "soft ball"),
        (117, "between soft ball and firm ball"),
        (119, "firm ball"),
        (121, "firm ball to hard ball"),
        (137, "soft crack"),
        (152, "hard crack"),
        (175, "caramel"),
        (189, "dark caramel"),
        (220, "beyond dark caramel"),
    ],
)
def test_a_temperature_has_a_name(celsius: float, name: str) -> None:
    assert stage_named(celsius) == name


@given(st.floats(-300, 4000))
def test_stages_sink_by_the_trades_rule_up_the_mountain(metres: float) -> None:
    # 1 °C for each 305 m, a rule of a textbook and of an extension service
    lower = 116 - here(116, metres)

    assert lower == pytest.approx(metres / 305, abs=0.45)
    sea = at_sea(here(116, metres), float(air_pressure(metres)))
    assert sea == pytest.approx(116)


def test_above_the_last_boil_altitude_counts_no_more() -> None:
    assert here(180, 2000) == 180
    assert at_sea(180, 80) == 180


def test_every_stage_has_a_name_once() -> None:
    assert len(set(stage_names())) == len(stage_names())
    assert all(one.low_C <= one.high_C for one in stages())
