"""Usual tins: names, sizes, and how we know them."""

import pytest

from slabwright.slab.presets import preset, preset_names, preset_row
from slabwright.source import Seen

# Source: outside sizes of EN 631-1 containers [mm], as reprinted in a maker's table
# and in an encyclopaedia's article on sheet pans; the standard was not opened.
GN_OUTSIDE_MM = {
    "GN 2/1": (650, 530),
    "GN 1/1": (530, 325),
    "GN 2/3": (354, 325),
    "GN 1/2": (325, 265),
    "GN 1/3": (325, 176),
    "GN 2/4": (530, 162),
    "GN 1/4": (265, 162),
}
# Source: a published chart of baking tins (recipe.corriganonline.com, stored page):
# US cups of 237 ml, whole.
CHART_CUPS = {
    "8 in square": 8,
    "9 in square": 10,
    "10 in square": 12,
    "9 in round": 8,
    "10 in round": 11,
    "13 x 9 in": 15,
    "11 x 7 in": 8,
    "jelly roll pan": 10,
}


@pytest.mark.parametrize(
    ("written", "length_mm", "width_mm"),
    [
        ("20 cm square", 200, 200),
        ("8 in square", 203.2, 203.2),
        ("9 x 13 in", 228.6, 330.2),
        ("13 x 9 in", 330.2, 228.6),
        ("quarter sheet", 300, 211),
        ("60 x 40 cm frame", 570, 370),
    ],
)
def test_tins_by_name_with_length_first(
    written: str, length_mm: float, width_mm: float
) -> None:
    tin = preset(written)

    assert tin is not None
    assert (tin.length_mm, tin.width_mm) == (length_mm, width_mm)


@pytest.mark.parametrize(
    "written",
    [
        "9x13 inch",
        '9" x 13"',
        "9 × 13 in.",
        "9 in x 13 in",
        "9x13in pan",
        "9 x 13 inches",
        "9-inch x 13-inch baking tin",
        " 9 X 13 IN ",
    ],
)
def test_one_tin_written_in_many_ways(written: str) -> None:
    assert preset(written) == preset("9 x 13 in")


@pytest.mark.parametrize("unknown", ["", "shop frame", "9 x 13", "9 x 13 cm", "in"])
def test_what_is_no_usual_tin(unknown: str) -> None:
    assert preset(unknown) is None
    assert preset_row(unknown) is None


def test_8_inches_square_are_not_20_cm_square() -> None:
    eight, twenty = preset("8 in square"), preset("20 cm square")

    assert eight is not None
    assert twenty is not None
    assert eight.area_mm2() / twenty.area_mm2() == pytest.approx(1.0323, abs=5e-5)


@pytest.mark.parametrize("name", preset_names())
def test_every_tin_says_how_it_is_known(name: str) -> None:
    row = preset_row(name)

    assert row is not None
    assert row.names[0] == name
    assert row.source
    assert row.note or row.seen is not Seen.MEMORY  # a doubt is said in words


@pytest.mark.parametrize(("name", "outside_mm"), GN_OUTSIDE_MM.items())
def test_a_gastronorm_tin_fits_in_its_outside(
    name: str, outside_mm: tuple[int, int]
) -> None:
    # It shows that no size is an outside size; the inside of 25 mm less is from memory
    row = preset_row(name)

    assert row is not None
    assert row.seen is Seen.MEMORY
    for inside, outside in zip(
        (row.tin.length_mm, row.tin.width_mm), outside_mm, strict=True
    ):
        assert 15 <= outside - inside <= 40


@pytest.mark.parametrize(("name", "cups"), CHART_CUPS.items())
def test_brim_volumes_are_near_a_published_chart(name: str, cups: int) -> None:
    # Its tins slope and are rounded and its cups are whole; ours are sharp
    tin = preset(name)

    assert tin is not None
    assert tin.brim_volume_ml is not None
    assert 0.98 <= tin.brim_volume_ml / 236.588 / cups <= 1.18
