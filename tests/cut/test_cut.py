"""Cutting a slab: round slabs, and what is no cut at all."""

from math import nan, pi
from typing import Any

import pytest

from slabwright.cut.cut import cut
from slabwright.cut.cutting import Cutting
from slabwright.cut.request import CutRequest
from slabwright.errors import GeometryError
from slabwright.slab.tin import Tin

DEVELOPMENT = Tin.rectangular(300, 200, 50)
ROUND = Tin.round(230, 70)


def size(made: Cutting) -> tuple[float, float]:
    assert made.piece_length_mm is not None
    assert made.piece_width_mm is not None
    return made.piece_length_mm, made.piece_width_mm


def test_a_rectangle_is_cut_out_of_a_round_slab() -> None:
    made = cut(CutRequest(along=3, across=2, trim_to_mm=(180, 120)), ROUND, 30)

    assert made.shape == "grid"
    assert size(made) == (60, 60)
    assert made.kept_share == pytest.approx(180 * 120 / (pi * 115**2))
    assert made.cuts_along_mm == pytest.approx((25, 85, 145, 205))
    assert made.cuts_across_mm == pytest.approx((55, 115, 175))


def test_a_rectangle_must_fit_into_the_circle() -> None:
    # 138 and 184 and 230 are 3, 4 and 5 times 46: it fits exactly
    assert cut(CutRequest(pieces=12, trim_to_mm=(184, 138)), ROUND, 30).pieces == 12
    with pytest.raises(GeometryError, match=r"230.6 mm from corner to corner: more"):
        cut(CutRequest(pieces=12, trim_to_mm=(184, 139)), ROUND, 30)


@pytest.mark.parametrize(
    "request_",
    [
        CutRequest(along=3, across=3),
        CutRequest(piece_length_mm=50, piece_width_mm=50),
    ],
)
def test_a_grid_on_a_round_slab_needs_a_rectangle(request_: CutRequest) -> None:
    with pytest.raises(
        GeometryError, match=r"in wedges or strips, or trimmed to a rect"
    ):
        cut(request_, ROUND, 30)


@pytest.mark.parametrize(
    ("tin", "trim_to_mm"), [(DEVELOPMENT, None), (ROUND, (160.0, 160.0))]
)
def test_wedges_need_a_round_edge(
    tin: Tin, trim_to_mm: tuple[float, float] | None
) -> None:
    with pytest.raises(GeometryError, match=r"Wedges are cut from .* cut 12 pieces"):
        cut(CutRequest(wedges=12, trim_to_mm=trim_to_mm), tin, 30)


@pytest.mark.parametrize(
    ("way", "message"),
    [
        ({"trim_mm": 100}, r"trim of 100 mm from every side leaves nothing .* less"),
        ({"trim_mm": 3000}, r"leaves nothing of the slab's 300 × 200 mm. Trim less"),
        ({"trim_to_mm": (310, 190)}, r"trim to 310 × 190 mm is more than the slab's"),
        ({"trim_to_mm": (190, 290)}, r"more than the slab's .* its length first"),
        ({"trim_mm": 98}, r"pieces would be 1 mm wide. Cut fewer"),
        ({"knife_mm": 80}, r"pieces would be 0 mm wide. Cut fewer"),
    ],
)
def test_a_cut_that_is_larger_than_the_slab(way: dict[str, Any], message: str) -> None:
    with pytest.raises(GeometryError, match=message):
        cut(CutRequest(along=5, across=4, **way), DEVELOPMENT, 30)


@pytest.mark.parametrize(
    ("piece_mm", "message"),
    [
        ((301.0, 50.0), r"No pieces of 301 × 50 mm fit .* smaller pieces or trim"),
        ((4.0, 50.0), r"pieces would be 4 mm wide"),
    ],
)
def test_pieces_that_cannot_be_cut(piece_mm: tuple[float, float], message: str) -> None:
    length_mm, width_mm = piece_mm
    request = CutRequest(piece_length_mm=length_mm, piece_width_mm=width_mm)
    with pytest.raises(GeometryError, match=message):
        cut(request, DEVELOPMENT, 30)


def test_more_pieces_than_anyone_cuts() -> None:
    request = CutRequest(piece_length_mm=6, piece_width_mm=6)
    with pytest.raises(GeometryError, match=r"250000 pieces .* Cut larger pieces"):
        cut(request, Tin.square(3000), 30)


@pytest.mark.parametrize("height_mm", [0.0, -1.0, nan, float("inf")])
def test_a_slab_without_height_is_not_cut(height_mm: float) -> None:
    with pytest.raises(GeometryError, match=r"slab's height is .* Give its layers"):
        cut(CutRequest(pieces=20), DEVELOPMENT, height_mm)
