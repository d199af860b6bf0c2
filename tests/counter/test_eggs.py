"""Eggs on the list: what a card counts is bought by the piece, whatever it weighs."""

import pytest

from slabwright.counter.shopping import Wanted, shopping_list
from tests.counter.kitchen import SHORT, shelf, trays

CARTON = "\n- {ingredient: egg yolks, pack: 1 kg, price: 12.80}\n"


def eggs_of(lines: str, count: int = 1) -> Wanted:
    text = SHORT.replace("  ends", f"  {lines}\n  ends")
    found = shopping_list([trays(text, count)], shelf())
    return next(one for one in found.wanted if one.need.larder_id == "whole-egg")


@pytest.mark.parametrize(
    ("line", "count", "pieces", "boxes"),
    [
        # a box holds 12 of 51 g out of the shell, 612 g
        ("12 eggs", 1, "12 medium eggs", 1),
        ("13 eggs = 600 g", 1, "13 medium eggs", 2),
        ("6 eggs, medium = 300 g", 2, "12 medium eggs", 1),
        ("6 eggs = 360 g", 2, "15 medium eggs", 2),  # heavier ones: 720 g
        ("612 g eggs", 1, "12 medium eggs", 1),
        ("1 egg", 1, "1 medium egg", 1),
        ("5 egg yolks = 90 g", 1, "5 medium eggs", 1),
        ("90 g egg yolks", 1, "6 medium eggs", 1),  # of 17.1 g each
    ],
)
def test_so_many_eggs_in_so_many_boxes(
    line: str, count: int, pieces: str, boxes: int
) -> None:
    eggs = eggs_of(line, count)

    assert eggs.pieces == pieces
    assert [packs.count for packs in eggs.packs] == [boxes]


def test_a_box_that_is_used_up_leaves_nothing() -> None:
    eggs = eggs_of("6 eggs, medium = 300 g", 2)

    assert eggs.left_g == 0
    assert sum(grams for _, grams in eggs.need.by_slab) == eggs.need.grams


def test_yolks_of_a_carton_are_told_as_the_card_counts_them() -> None:
    text = SHORT.replace("  ends", "  5 egg yolks = 90 g\n  ends")
    from_carton = shelf(CARTON)
    found = shopping_list([trays(text, 2)], from_carton)

    yolks = next(one for one in found.wanted if one.need.larder_id == "egg-yolk")
    assert yolks.need.grams == 180
    assert yolks.pieces == "10 medium yolks"
