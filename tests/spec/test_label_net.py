"""Weighed pieces as figures, and what the spread of a cut would keep."""

import math

import pytest

from slabwright.desk.label import Asked
from slabwright.errors import FileError
from slabwright.figure import Standing
from slabwright.label.net_weight import proposed_for_spread, tolerable_error_g
from slabwright.spec.label_net import net_figures
from tests.spec.labelled import DAY, card, label, worked_out

PIECES = [74, 73.5, 75, 74.2, 73.8, 74.6, 75.1, 73.9]


def nominal(text: str) -> float:
    found = label(text, Asked(DAY, "packed for another shop")).nominal
    assert found.known, found.sum
    return found.number


def test_what_was_weighed_is_measured_and_what_follows_is_worked_out() -> None:
    found = net_figures(PIECES)

    assert found.mean_g.number == pytest.approx(sum(PIECES) / 8)
    assert found.mean_g.standing is Standing.MEASURED
    assert found.nominal_g.number == 73
    assert found.nominal_g.standing is Standing.WORKED_OUT
    assert found.nominal_g.sources
    assert found.lightest_g.number == 73.5
    assert found.heaviest_g.number == 75.1
    assert [rule.is_kept for rule in found.rules] == [True] * 3
    assert found.figures_least_mm == 3


def test_a_nominal_of_ones_own_is_tried() -> None:
    found = net_figures(PIECES, nominal_g=75)

    assert [rule.is_kept for rule in found.rules] == [False, True, True]
    assert found.tolerable_error_g is not None
    assert "75 g" in found.tolerable_error_g.sum


def test_pieces_too_light_for_the_system_get_no_nominal_and_the_reason() -> None:
    found = net_figures([3, 3.1, 3.2])

    assert not found.nominal_g.known
    assert "from 5 g to 25 kg" in found.nominal_g.sum
    assert found.rules == ()
    assert found.tolerable_error_g is None
    assert found.figures_least_mm is None


@pytest.mark.parametrize("tried", [math.nan, math.inf, 0, -1, 4, 1e9])
def test_a_nominal_that_cannot_be(tried: float) -> None:
    with pytest.raises(FileError, match="outside the average system"):
        net_figures(PIECES, nominal_g=tried)


def test_the_cut_keeps_no_more_than_its_mean() -> None:
    found = label(card(), Asked(DAY, "packed for another shop"))
    grams = found.nominal.number

    # 290 x 190 mm of 300 x 200 are cut: 760 g x 0.918 / 20 pieces
    mean = 760 * 290 * 190 / (300 * 200) / 20
    assert grams <= mean
    assert grams >= mean - 4 * (tolerable_error_g(mean) or 0)
    assert "tolerable error" in found.nominal.sum


def test_more_pieces_in_a_pack_say_more() -> None:
    one = nominal(card())
    two = nominal(card("sold packed for another shop, box of 2, 6.40"))

    assert 2 * one - 2 <= two <= 2 * one + 12


def test_larger_pieces_say_more() -> None:
    assert nominal(card(cut="cut 3 x 2, trim 5 mm")) > nominal(card())


def test_an_uneven_kitchen_says_less() -> None:
    asked = Asked(DAY, "packed for another shop")
    true = label(card(), asked, "level_mm: 0\nknife_off_mm: 0\n").nominal
    uneven = label(card(), asked, "level_mm: 5\nknife_off_mm: 4\n").nominal

    assert uneven.number < true.number


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (card(cut=""), "no cut"),
        (card(layer="layer Base\n  3 moon stones\n"), "how high"),
    ],
)
def test_what_cannot_be_known_is_withheld_with_its_reason(
    text: str, reason: str
) -> None:
    found = label(text, Asked(DAY, "packed for another shop")).nominal

    assert not found.known
    assert reason in found.sum
    assert found.sum


def test_a_spread_that_nothing_keeps_is_withheld() -> None:
    assert proposed_for_spread(4.9, lambda _: 0).nominal_g is None


def test_where_a_piece_is_not_surely_known_its_low_end_counts() -> None:
    layer = "layer Base\n  400 g plain flour\n  300 g butter\n  bake 160 C, 25 min\n"
    unweighed = card(cut="cut 2 x 2, trim 5 mm", layer=layer)
    spec = worked_out(unweighed)
    assert spec.cut is not None
    piece = spec.cut.piece_mass_g

    assert piece.low is not None
    assert nominal(unweighed) <= piece.low < piece.number - 1
