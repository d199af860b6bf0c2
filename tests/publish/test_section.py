"""The section, measured on the SVG that it gives: layers, words and marks."""

import re
from dataclasses import replace
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.publish.measured import (
    HARBOUR,
    SVG,
    TIDES,
    WOBBLE_MM,
    expected_faces_mm,
    layer_points,
    parsed,
    slabs,
    text_boxes,
    units_per_mm,
    view_box,
)

from slabwright.errors import GeometryError
from slabwright.finding import Severity
from slabwright.publish.drawing.section import DrawnLayer, DrawnSlab, Mark, section_svg
from slabwright.publish.drawing.section_labels import spread


@pytest.mark.parametrize("slab", [HARBOUR, TIDES], ids=lambda slab: slab.name)
def test_layers_stand_as_high_as_they_are_deep(slab: DrawnSlab) -> None:
    root = parsed(section_svg(slab))
    k = units_per_mm(root)

    for points, (floor_mm, top_mm) in zip(
        layer_points(root), pairwise(expected_faces_mm(slab)), strict=True
    ):
        ys_mm = [-y / k for _, y in points]
        assert min(ys_mm) == pytest.approx(floor_mm, abs=WOBBLE_MM)
        assert max(ys_mm) == pytest.approx(top_mm, abs=WOBBLE_MM)
        # the mean depth: area over width, by the shoelace formula
        twice_mm2 = sum(
            (x0 * y1 - x1 * y0) / k**2
            for (x0, y0), (x1, y1) in pairwise([*points, points[0]])
        )
        wide_mm = (max(x for x, _ in points) - min(x for x, _ in points)) / k
        assert abs(twice_mm2) / 2 / wide_mm == pytest.approx(top_mm - floor_mm, abs=0.2)


@settings(max_examples=60)
@given(slabs())
def test_no_face_wavers_more_than_could_be_measured(slab: DrawnSlab) -> None:
    root = parsed(section_svg(slab))
    k = units_per_mm(root)

    for points, (floor_mm, top_mm) in zip(
        layer_points(root), pairwise(expected_faces_mm(slab)), strict=True
    ):
        ys_mm = [-y / k for _, y in points]
        assert min(ys_mm) == pytest.approx(floor_mm, abs=WOBBLE_MM + 0.01 / k)
        assert max(ys_mm) == pytest.approx(top_mm, abs=WOBBLE_MM + 0.01 / k)


@settings(max_examples=150)
@given(slabs())
@example(replace(HARBOUR, tin_length_mm=20, piece_mm=10, trim_mm=5))
@example(replace(HARBOUR, tin_depth_mm=20, tin_length_mm=60, piece_mm=5, trim_mm=0.5))
def test_words_never_overlap_and_lie_inside_the_picture(slab: DrawnSlab) -> None:
    root = parsed(section_svg(slab))
    boxes, view = text_boxes(root), view_box(root)

    for box in boxes:
        assert view.left <= box.left, box
        assert box.right <= view.right, box
        assert view.top <= box.top, box
        assert box.bottom <= view.bottom, box
    for one, other in combinations(boxes, 2):
        assert not one.overlaps(other), (one, other)


@settings(max_examples=100)
@given(slabs())
def test_likely_ranges_lie_inside_the_picture(slab: DrawnSlab) -> None:
    root = parsed(section_svg(slab))
    view = view_box(root)
    bars = [
        list(map(float, re.findall(r"-?[\d.]+", it.attrib["d"])))
        for it in root.findall(f"{SVG}path")
        if it.attrib["class"] in ("likely", "guess")
    ]

    for left, top, wide, tall, *_ in bars:
        assert view.left < left
        assert left + wide < view.right
        assert view.top < top
        assert top + tall < view.bottom


def test_a_range_above_all_else_is_still_inside_the_picture() -> None:
    base = DrawnLayer("Oat base", "oats", 5, 4, 6)
    high = DrawnLayer("Foam", "foam", 20, 10, 60)
    root = parsed(section_svg(DrawnSlab("Cloud", (base, high), None)))

    # 5 + 60 mm up at 8 units a mm
    assert float(root.attrib["viewBox"].split()[1]) < -520


def test_the_longest_name_does_not_widen_the_picture() -> None:
    short, long = (
        float(parsed(section_svg(slab)).attrib["viewBox"].split()[2])
        for slab in (
            HARBOUR,
            replace(
                HARBOUR,
                layers=(
                    DrawnLayer("Wholemeal " * 12, "crumb", 11.4),
                    *HARBOUR.layers[1:],
                ),
            ),
        )
    )

    # at most the column of names, 190 units, is filled
    assert long - short < 60


def mark_places(root: ET.Element) -> list[tuple[float, float]]:
    found = []
    for it in root.findall(f"{SVG}g"):
        place = re.fullmatch(r"translate\((\S+) (\S+)\)", it.get("transform", ""))
        if place:
            found.append((float(place[1]), float(place[2])))
    return found


def test_marks_stand_on_their_layers() -> None:
    # layer 2 from 20.2 to 26.0 mm up, layer 1 from 11.4 to 20.2: middles 23.1, 15.8
    root = parsed(section_svg(HARBOUR))
    k = units_per_mm(root)

    heights_mm = [-y / k for _, y in mark_places(root)]
    assert heights_mm == pytest.approx([23.1, 15.8], abs=0.01)


@given(
    st.lists(st.integers(0, 11), min_size=1, max_size=16),
    st.floats(0.5, 12),
)
def test_marks_never_cover_one_another(on: list[int], depth_mm: float) -> None:
    layers = tuple(DrawnLayer(f"Leaf {i}", "glaze", depth_mm) for i in range(12))
    marks = tuple(Mark(layer, Severity.STOP, i) for i, layer in enumerate(on))
    places = mark_places(
        parsed(section_svg(replace(HARBOUR, layers=layers, marks=marks)))
    )

    # the smallest is a square of 12 units and its rim of 2
    assert len(places) == len(marks)
    for (ax, ay), (bx, by) in combinations(places, 2):
        assert max(abs(ax - bx), abs(ay - by)) >= 14


@pytest.mark.parametrize("bad", [-1.0, float("nan"), float("inf")])
def test_a_depth_must_make_sense(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"depth of layer 'Curd' is .* Give 0 mm"):
        DrawnLayer("Curd", "curd", bad)


def test_a_mark_needs_a_layer_that_there_is() -> None:
    with pytest.raises(GeometryError, match="Finding 7 is on layer 3 of 3"):
        replace(TIDES, marks=(Mark(3, Severity.STOP, 7),))


@given(
    st.lists(
        st.tuples(st.floats(-500, 500), st.floats(10, 60)), min_size=1, max_size=12
    )
)
def test_labels_that_have_room_stay_and_others_part(
    asked: list[tuple[float, float]],
) -> None:
    asked = sorted(asked)
    wanted, heights = [y for y, _ in asked], [h for _, h in asked]
    middles = spread(wanted, heights, lowest=5000)

    for (y0, h0), (y1, h1) in pairwise(zip(middles, heights, strict=True)):
        assert y0 + h0 / 2 <= y1 - h1 / 2 + 1e-6
    # pulling together without overlap keeps the mean: nothing drifts
    assert sum(middles) == pytest.approx(sum(wanted), abs=1e-6)


def test_labels_do_not_sink_below_the_lowest_line() -> None:
    # four boxes of 20 around 0 would reach 40 below; they stand on 14 instead
    assert spread([0, 0, 0, 0], [20] * 4, lowest=14) == [-56, -36, -16, 4]
