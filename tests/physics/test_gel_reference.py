"""Agents and exchanges against what pages and pastry books say, row by row."""

import csv
from pathlib import Path

import pytest

from slabwright.physics.dew import dew_point
from slabwright.physics.gel import (
    CURDLES_C,
    GELATINE_MOST_C,
    REFERENCE_BLOOM,
    agents,
    exchange,
)

FOLDER = Path(__file__).parents[1] / "reference/physics"


def table(name: str) -> dict[str, tuple[float, float]]:
    rows = csv.DictReader((FOLDER / name).read_text("utf-8").splitlines())
    low, high = (
        ("value_low", "value_high")
        if name == "gels_trade.csv"
        else ("value", "value_hi")
    )
    return {row["id"]: (float(row[low]), float(row[high] or row[low])) for row in rows}


TRADE, SETTING = table("gels_trade.csv"), table("setting.csv")


def test_a_sliceable_jelly_takes_the_dose_that_is_common() -> None:
    low, high = TRADE["CP142"]
    agent = agents()["gelatine"]

    assert (100 * agent.low, 100 * agent.high) == pytest.approx((low, high))
    assert 200 <= REFERENCE_BLOOM <= 220


def test_a_suppliers_marshmallow_sets() -> None:
    agent = agents()["gelatine-foam"]

    assert agent.dose(TRADE["CP104"][0] / 100) == "sets"
    assert TRADE["CP105"][0] == GELATINE_MOST_C


def test_the_bloom_swap_of_two_pages_comes_out() -> None:
    both = exchange(2.6, 225, 160)

    assert both.linear == pytest.approx(TRADE["CP139"][0], abs=0.005)
    assert both.square_root == pytest.approx(TRADE["CP140"][0], abs=0.005)


def test_yellow_pectin_of_a_fruit_paste_sets() -> None:
    # grams to a kilogram of purée; with its sugar about twice as much mix is left
    agent = agents()["pectin-hm"]
    low, high = (grams / 1000 / 2 for grams in TRADE["CP130"])

    assert agent.dose(low) == agent.dose(high) == "sets"
    assert agent.ph[0] <= TRADE["CP131"][0] < TRADE["CP131"][1] <= agent.ph[1]
    assert agent.sets_C is not None
    assert agent.sets_C[0] < TRADE["CP133"][0] < agent.sets_C[1]


@pytest.mark.parametrize(("agent", "row"), [("agar", "CP134"), ("gelatine", "CP137")])
def test_gels_set_where_a_gum_maker_says(agent: str, row: str) -> None:
    assert agents()[agent].sets_C == TRADE[row]


def test_egg_sets_between_what_books_and_pages_say() -> None:
    egg = agents()["egg"].sets_C
    assert egg is not None
    custard, core = SETTING["KI0050"], TRADE["CP143"]

    assert egg[0] == custard[0]
    assert custard[1] <= egg[1] <= custard[1] + 2
    assert egg[0] < core[0] < egg[1] < CURDLES_C < TRADE["CP144"][0]
    # ovalbumin, by far the most of white's protein, unfolds about there
    assert egg[0] - 2 < SETTING["KI0051"][0] < SETTING["KI0042"][0] < CURDLES_C


def test_the_dew_point_of_the_shops_air_comes_out() -> None:
    low, high = TRADE["CP217"]

    assert low <= dew_point(21.0, 0.60) <= high
