"""The section's ruler, cuts and tin, measured on the SVG that it gives."""

import re
from dataclasses import replace

import pytest
from tests.publish.measured import (
    HARBOUR,
    SVG,
    TIDES,
    layer_points,
    parsed,
    units_per_mm,
    words_of,
)

from slabwright.publish.drawing.section import DrawnLayer, DrawnSlab, section_svg


def test_the_ruler_shows_millimetres() -> None:
    root = parsed(section_svg(HARBOUR))
    k = units_per_mm(root)
    ticks = {
        int(it.text or ""): float(it.attrib["y"])
        for it in root.findall(f"{SVG}text")
        if it.attrib["class"] == "tick"
    }

    assert list(ticks) == [0, 10, 20, 30, 40, 50]
    for shown_mm, y in ticks.items():
        assert ticks[0] - y == pytest.approx(shown_mm * k, rel=1e-4)


def test_cuts_lie_where_the_knife_goes() -> None:
    # trim 5, pieces of 58: 5 and 5 + 58
    assert words_of(HARBOUR, "cut") == ["5", "63"]


def test_a_knife_that_takes_something_moves_the_middle_of_the_cut() -> None:
    # trim 5, a piece of 48.3, half of a knife of 1: 5 + 48.3 + 0.5
    slab = replace(HARBOUR, piece_mm=48.3, knife_mm=1)

    assert words_of(slab, "cut") == ["5", "53.8"]


def test_a_cut_is_as_wide_as_what_the_knife_takes() -> None:
    # trim to 5 mm, so its cut is from 3 to 5; then a piece of 50, and 55 to 57
    root = parsed(section_svg(replace(HARBOUR, piece_mm=50, knife_mm=2)))
    k = units_per_mm(root)
    gaps_mm = []
    for it in root.findall(f"{SVG}path"):
        if it.attrib["class"] == "gap":
            start, _, _, wide, *_ = re.findall(r"-?[\d.]+", it.attrib["d"])
            gaps_mm.append((float(start) / k, float(wide) / k))

    assert gaps_mm == [
        pytest.approx((3, 2), abs=0.01),
        pytest.approx((55, 2), abs=0.01),
    ]


def test_a_slab_that_fits_whole_is_cut_to_its_other_end_and_not_broken_off() -> None:
    # 72 = 5 + 30 + 2 + 30 + 5
    slab = replace(HARBOUR, tin_length_mm=72, piece_mm=30, knife_mm=2)

    assert words_of(slab, "cut") == ["5", "36", "67"]
    points = layer_points(parsed(section_svg(slab)))
    k = units_per_mm(parsed(section_svg(slab)))
    assert {round(x / k, 2) for x, _ in (points[0][0], points[0][-1])} == {0.0}
    assert max(x for x, _ in points[0]) == pytest.approx(72 * k, rel=1e-4)


def test_the_depths_add_up_beneath_their_column() -> None:
    # 11.4 + 8.8 + 5.8 = 26.0, and 50 - 26 = 24 of head room
    assert words_of(HARBOUR, "figure") == [
        "one piece, 58 mm",
        "5.8",
        "8.8",
        "11.4",
        "26.0",
    ]
    assert words_of(HARBOUR, "room") == ["24.0"]
    assert "likely 10.2 to 12.8 mm" in words_of(HARBOUR, "small")


def test_a_depth_not_known_is_said_and_drawn_broken() -> None:
    unknown = replace(TIDES.layers[1], depth_mm=None)
    slab = replace(TIDES, layers=(TIDES.layers[0], unknown, TIDES.layers[2]))
    root = parsed(section_svg(slab))

    small = words_of(slab, "small")
    assert "not known" in small
    assert "height not known" in small
    assert not words_of(slab, "room")
    broken = [it for it in root.iter(f"{SVG}use") if it.get("class") == "unknown"]
    assert len(broken) == 1
    filled = [it for it in root.iter(f"{SVG}use") if "f-" in it.get("class", "")]
    assert len(filled) == 2


def test_a_slab_over_the_rim_says_by_how_much() -> None:
    # 26.0 - 20 = 6
    assert words_of(replace(HARBOUR, tin_depth_mm=20), "over") == [
        "6.0 mm over the rim"
    ]
    assert not words_of(HARBOUR, "over")


def test_the_description_says_when_it_stands_over_the_rim() -> None:
    over = parsed(section_svg(replace(HARBOUR, tin_depth_mm=20)))

    desc = over.findtext(f"{SVG}desc") or ""
    assert "in a tin 20 mm deep, 6.0 mm over its rim" in desc


def test_a_tin_of_unknown_depth_has_no_rim() -> None:
    with_rim, without = (
        len(list(parsed(section_svg(slab)).iter(f"{SVG}circle")))
        for slab in (TIDES, replace(TIDES, tin_depth_mm=None))
    )

    assert (with_rim, without) == (1, 0)


def test_a_sloping_wall_leans_outwards_by_its_slope() -> None:
    # at 30.9 of 40 mm up the wall has gone 10 × 30.9 / 40 = 7.725 mm outwards
    slab = replace(TIDES, tin_depth_mm=40, wall_slope_mm=10)
    root = parsed(section_svg(slab))
    leftmost = min(x for x, _ in layer_points(root)[-1])

    assert -leftmost / units_per_mm(root) == pytest.approx(7.725, abs=0.01)


def test_an_empty_tin_is_drawn_broken() -> None:
    svg = section_svg(DrawnSlab("Nothing yet", (), 50))

    assert 'class="unknown"' in svg
    assert 'class="tin"' not in svg
    assert "An empty tin" in svg


def test_a_very_tall_slab_is_drawn_at_a_smaller_scale() -> None:
    tall = tuple(DrawnLayer(f"Cream {i}", "cream", 80) for i in range(12))
    root = parsed(section_svg(DrawnSlab("Tower", tall, 1000)))

    assert units_per_mm(root) == pytest.approx(0.4, rel=1e-3)  # 1 : 10
    assert float(root.attrib["viewBox"].split()[3]) < 800
