"""What a card may ask of a cut."""

from math import inf, nan
from typing import Any

import pytest

from slabwright.cut.request import CutRequest
from slabwright.errors import GeometryError


def test_a_cut_is_asked_for_in_one_way() -> None:
    with pytest.raises(GeometryError, match=r"says no size. Write one of: cut 5 x 4"):
        CutRequest()
    with pytest.raises(GeometryError, match=r"in several ways. Write one of"):
        CutRequest(pieces=20, wedges=12)
    with pytest.raises(GeometryError, match=r"in several ways. Write one of"):
        CutRequest(along=5, across=4, piece_g=75)


def test_a_grid_and_a_size_take_two_numbers() -> None:
    with pytest.raises(GeometryError, match=r"only one of its two numbers"):
        CutRequest(along=5)
    with pytest.raises(GeometryError, match=r"only one of its two numbers"):
        CutRequest(piece_width_mm=5)


@pytest.mark.parametrize("bad", [0, -3, 10_001, nan, inf, 2.5])
@pytest.mark.parametrize("name", ["pieces", "wedges"])
def test_a_count_is_whole_and_not_absurd(name: str, bad: float) -> None:
    way: dict[str, Any] = {name: bad}
    with pytest.raises(GeometryError, match=rf"number of {name} is .* whole number"):
        CutRequest(**way)


@pytest.mark.parametrize("bad", [0, -3, 10_001, nan])
def test_the_counts_of_a_grid_are_whole_and_not_absurd(bad: int) -> None:
    with pytest.raises(GeometryError, match=r"pieces along is .* whole number from 1"):
        CutRequest(along=bad, across=4)
    with pytest.raises(GeometryError, match=r"pieces across is .* whole number from"):
        CutRequest(along=5, across=bad)


def test_a_grid_of_more_pieces_than_anyone_cuts() -> None:
    assert CutRequest(along=100, across=100).grid == (100, 100)
    with pytest.raises(GeometryError, match=r"grid of 100 × 101 .* Cut 10,000 at most"):
        CutRequest(along=100, across=101)


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf])
def test_sizes_and_masses_are_above_zero(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"piece's length is .* above 0 mm"):
        CutRequest(piece_length_mm=bad, piece_width_mm=50)
    with pytest.raises(GeometryError, match=r"piece's mass is .* above 0 g"):
        CutRequest(piece_g=bad)
    with pytest.raises(GeometryError, match=r"width to trim to is .* above 0 mm"):
        CutRequest(pieces=20, trim_to_mm=(300, bad))


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_trim_and_knife_are_not_below_zero(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"trim is .* Give 0 mm or more"):
        CutRequest(pieces=20, trim_mm=bad)
    with pytest.raises(GeometryError, match=r"knife is .* Give 0 mm or more"):
        CutRequest(pieces=20, knife_mm=bad)


def test_trim_and_trim_to_exclude_each_other() -> None:
    with pytest.raises(GeometryError, match=r"both trim and trim to. Keep one"):
        CutRequest(pieces=20, trim_mm=5, trim_to_mm=(290, 190))


def test_all_mistakes_of_a_cut_are_told_at_once() -> None:
    with pytest.raises(GeometryError) as caught:
        CutRequest(pieces=0, trim_mm=-1, knife_mm=nan)

    assert len(caught.value.mistakes) == 3
