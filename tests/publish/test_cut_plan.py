"""The slab from above and its ruler strips: true, in order, nothing over another."""

from itertools import pairwise
from math import hypot, pi
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.files.kitchens import worked

from slabwright.publish.draw_cut import drawn_plan
from slabwright.publish.drawing.cut_plan import cut_plan_svg
from slabwright.publish.drawing.palette import Theme
from slabwright.publish.drawing.plan import DrawnPlan, DrawnStroke
from slabwright.publish.drawing.ruler_strip import PAGE_MM, REACH_MM, ruler_pages

SVG = "{http://www.w3.org/2000/svg}"


def grid(
    length: float, width: float, along: int, across: int, trim: float
) -> DrawnPlan:
    """A plan made by hand, apart from the cutting room."""
    dx, dy = (length - 2 * trim) / along, (width - 2 * trim) / across
    xs = [trim + i * dx for i in range(along + 1)]
    ys = [trim + j * dy for j in range(across + 1)]
    pieces = tuple(
        ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        for y0, y1 in pairwise(ys)
        for x0, x1 in pairwise(xs)
    )
    strokes = [
        DrawnStroke(0, (x, 0), (x, width), x in {xs[0], xs[-1]}, "left", x) for x in xs
    ] + [
        DrawnStroke(0, (0, y), (length, y), y in {ys[0], ys[-1]}, "near", y) for y in ys
    ]
    turned = tuple(
        DrawnStroke(n, s.start_mm, s.end_mm, s.trims, s.edge, s.at_mm)
        for n, s in enumerate(strokes, 1)
    )
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    words = f"{along * across} pieces"
    return DrawnPlan(
        "Two Tides", corners, length, width, pieces, turned, "jelly", None, words
    )


def texts(svg: str, class_: str) -> list[tuple[float, float, str]]:
    found = ET.XML(svg).iter(f"{SVG}text")
    return [
        (float(t.attrib["x"]), float(t.attrib["y"]), t.text or "")
        for t in found
        if t.attrib.get("class") == class_
    ]


def rings(svg: str) -> list[tuple[float, float, float]]:
    found = ET.XML(svg).iter(f"{SVG}circle")
    return [
        (float(c.attrib["cx"]), float(c.attrib["cy"]), float(c.attrib["r"]))
        for c in found
    ]


def test_distances_stand_where_the_ruler_shows_them() -> None:
    svg = cut_plan_svg(grid(300, 200, 5, 4, 5))

    at = texts(svg, "at")
    below = sorted(one for one in at if one[0] > 0)
    assert [words for _, _, words in below] == ["5", "63", "121", "179", "237", "295"]
    k = (below[-1][0] - below[0][0]) / 290  # units a millimetre
    for x, _, words in below:
        assert x / k == pytest.approx(float(words), abs=0.1)
    left = sorted((one for one in at if one[0] <= 0), key=lambda one: -one[1])
    assert [words for _, _, words in left] == ["5", "52.5", "100", "147.5", "195"]


def test_every_stroke_has_its_turn() -> None:
    svg = cut_plan_svg(grid(300, 200, 5, 4, 5))

    turns = sorted(int(words) for _, _, words in texts(svg, "turn-word"))
    assert turns == list(range(1, 12))


@given(st.integers(1, 70), st.integers(1, 70), st.floats(150, 900), st.floats(100, 900))
def test_marks_never_lie_over_one_another(
    along: int, across: int, length: float, width: float
) -> None:
    svg = cut_plan_svg(grid(length, width, along, across, 5))

    found = rings(svg)
    for n, (x, y, r) in enumerate(found):
        for x2, y2, r2 in found[n + 1 :]:
            assert (x - x2) ** 2 + (y - y2) ** 2 >= (r + r2 - 0.01) ** 2
    box = ET.XML(svg).attrib["viewBox"]
    left, top, wide, high = map(float, box.split())
    for x, y, r in found:
        assert left <= x - r
        assert x + r <= left + wide
        assert top <= y - r
        assert y + r <= top + high


@pytest.mark.parametrize("theme", ["light", "dark", "paper"])
def test_it_is_a_document_with_a_name_and_no_style_attribute(theme: Theme) -> None:
    svg = cut_plan_svg(grid(300, 200, 5, 4, 5), theme=theme)

    root = ET.XML(svg)
    assert root.attrib["role"] == "img"
    assert "20 pieces" in "".join(root.itertext())
    assert 'style="' not in svg
    assert svg == cut_plan_svg(grid(300, 200, 5, 4, 5), theme=theme)


def test_a_name_can_not_break_out_of_the_drawing() -> None:
    plan = grid(300, 200, 2, 2, 0)
    nasty = DrawnPlan(
        '</title><script>"\x00', plan.slab, 300, 200, plan.pieces, plan.strokes,
        "no such", "no such", "<b>&",
    )  # fmt: skip

    for svg in (cut_plan_svg(nasty), *ruler_pages(nasty)):
        assert not list(ET.XML(svg).iter(f"{SVG}script"))


# --- what the cutting room makes --------------------

CUTS = [
    ("5 x 4, trim 5 mm", "30 x 20 x 5 cm"),
    ("squares 48 mm", "30 x 20 x 5 cm"),
    ("squares 60 mm, each into 2 triangles, trim 5 mm", "30 x 20 x 5 cm"),
    ("squares 60 mm, each into 4 triangles", "30 x 20 x 5 cm, corners 3 cm"),
    ("diamonds 40 mm, trim 5 mm", "30 x 20 x 5 cm"),
    ("diamonds 40 mm, 45°", "57 x 37 x 4.5 cm"),
    ("12 wedges", "round 23 cm, 7 cm deep"),
    ("7 wedges, trim 5 mm", "round 23 cm, 7 cm deep"),
    ("100 wedges", "round 23 cm, 7 cm deep"),
    ("strips 30 mm", "round 23 cm, 7 cm deep"),
    ("4 x 3, trim to 160 x 120 mm", "round 23 cm, 7 cm deep"),
    ("20 x 10, trim 5 mm", "57 x 37 x 4.5 cm"),
    ("1 piece", "20 cm square"),
]


def made(cut: str, tin: str) -> DrawnPlan:
    card = (
        f"slab Two Tides\ntin {tin}\ncut {cut}\nlayer Base\n  kind plain\n"
        "  1800 g plain flour\n"
    )
    spec = worked(card)
    assert spec.errors == ()
    assert spec.cut is not None
    return drawn_plan(spec, spec.cut)


def test_trims_and_strips_are_broken_lines() -> None:
    svg = cut_plan_svg(made("squares 60 mm, trim 5 mm", "30 x 20 x 5 cm"))

    found = [p.attrib.get("class") for p in ET.XML(svg).iter(f"{SVG}path")]
    assert found.count("stroke-trim") == 4 + 2
    assert found.count("stroke") == 3 + 2


@pytest.mark.parametrize(("cut", "tin"), CUTS)
def test_every_shape_is_drawn_true_and_no_ring_covers_another(
    cut: str, tin: str
) -> None:
    plan = made(cut, tin)
    svg = cut_plan_svg(plan, theme="paper")

    found = rings(svg)
    left, top, wide, high = map(float, ET.XML(svg).attrib["viewBox"].split())
    for n, (x, y, r) in enumerate(found):
        assert left <= x - r
        assert x + r <= left + wide
        assert top <= y - r
        assert y + r <= top + high
        for x2, y2, r2 in found[n + 1 :]:
            assert (x - x2) ** 2 + (y - y2) ** 2 >= (r + r2 - 0.01) ** 2
    turns = {int(words) for _, _, words in texts(svg, "turn-word")}
    assert turns <= {one.number for one in plan.strokes}
    if len(plan.strokes) <= 20:
        assert len(turns) == len(plan.strokes)
    assert 'style="' not in svg


def apart_mm(stroke: DrawnStroke, at: tuple[float, float]) -> float:
    """Distance of a point from a stroke, its ends too."""
    (x0, y0), (x1, y1) = stroke.start_mm, stroke.end_mm
    dx, dy = x1 - x0, y1 - y0
    t = ((at[0] - x0) * dx + (at[1] - y0) * dy) / (dx * dx + dy * dy)
    t = min(max(t, 0.0), 1.0)
    return float(hypot(at[0] - x0 - t * dx, at[1] - y0 - t * dy))


@pytest.mark.parametrize(("cut", "tin"), [CUTS[2], CUTS[4]])
def test_a_slanted_stroke_carries_its_ring(cut: str, tin: str) -> None:
    plan = made(cut, tin)
    svg = cut_plan_svg(plan)

    at = [float(x) for x, _, _ in texts(svg, "at") if x > 0]
    k = (max(at) - min(at)) / (
        max(o.at_mm or 0 for o in plan.strokes if o.edge == "left")
        - min(o.at_mm or 0 for o in plan.strokes if o.edge == "left")
    )
    by_number = {int(words): (x, y - 4.2) for x, y, words in texts(svg, "turn-word")}
    for one in plan.strokes:
        if one.edge or one.number not in by_number:
            continue
        (x0, y0), (x1, y1) = one.start_mm, one.end_mm
        x, y = by_number[one.number][0] / k, -by_number[one.number][1] / k
        off = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
        assert abs(off) / ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 < 0.1
        for other in plan.strokes:  # and lies on no other
            if other.number != one.number:
                assert apart_mm(other, (x, y)) * k > 10


def test_the_rim_s_millimetres_stand_where_they_are_measured() -> None:
    svg = cut_plan_svg(made("12 wedges", "round 23 cm, 7 cm deep"))

    found = {words: (x, y) for x, y, words in texts(svg, "at")}
    assert len(found) == 12
    # a quarter of 722.6 mm is at the right, half of it at the far side
    centre_x = found["0"][0]
    assert found["180.6"][0] > centre_x > found["541.9"][0]
    assert found["361.3"][1] < found["180.6"][1] < found["0"][1]


# --- ruler strips --------------------


def marks_on(page: str) -> list[tuple[float, float, str]]:
    """Place along the page's strips [mm] and words of every mark, by strip."""
    found: list[tuple[float, float, str]] = []
    for strip in ET.XML(page).iter(f"{SVG}g"):
        left = float(strip.attrib["transform"].split("(")[1].split()[0])
        for mark in strip.iter(f"{SVG}text"):
            if mark.attrib.get("class") == "at":
                found.append((left, float(mark.attrib["y"]) - 1.5, mark.text or ""))
    return found


def test_a_page_is_a4_and_its_unit_a_millimetre() -> None:
    (page,) = ruler_pages(grid(300, 200, 5, 4, 5))

    root = ET.XML(page)
    assert (root.attrib["width"], root.attrib["height"]) == ("210mm", "297mm")
    assert root.attrib["viewBox"] == "0 0 210 297"
    assert PAGE_MM == (210, 297)


def test_marks_lie_at_true_size_on_every_part() -> None:
    (page,) = ruler_pages(grid(570, 370, 12, 6, 5))

    strips = sorted({left for left, _, _ in marks_on(page)})
    assert len(strips) == 5  # 570 mm in three parts, 370 mm in two
    starts = dict(zip(strips, (0, REACH_MM, 2 * REACH_MM, 0, REACH_MM), strict=True))
    for left, place_mm, words in marks_on(page):
        assert starts[left] + place_mm == pytest.approx(float(words), abs=0.06)
    along = [float(w) for left, _, w in marks_on(page) if left in strips[:3]]
    by_hand = [5 + 560 / 12 * i for i in range(13)]
    assert along == pytest.approx(by_hand, abs=0.051)


def test_a_long_slab_goes_on_over_more_pages() -> None:
    pages = ruler_pages(grid(2900, 600, 40, 10, 5))

    assert len(pages) == 3  # 12 and 3 strips, six on a page
    words = [mark for page in pages for mark in marks_on(page)]
    assert len(words) == 41 + 11


def test_slanted_strokes_have_strips_for_all_four_edges() -> None:
    (page,) = ruler_pages(
        made("squares 50 mm, each into 2 triangles", "20 x 20 x 5 cm")
    )

    # squares of 50 on 200: diagonals meet the edges where straight cuts do, but for
    # the corners; of 4 + 4 - 1 diagonals the longest runs from corner to corner
    words = {text.text for text in ET.XML(page).iter(f"{SVG}text")}
    for edge in ("near edge, from its left end", "far edge, from its left end"):
        assert edge in words
    marks = [(left, place, said) for left, place, said in marks_on(page)]
    assert len({left for left, _, _ in marks}) == 4
    for _, place, said in marks:
        assert place == pytest.approx(float(said), abs=0.06)


def test_a_strip_goes_around_the_rim() -> None:
    pages = ruler_pages(made("12 wedges", "round 23 cm, 7 cm deep"))

    said = sorted(float(w) for page in pages for _, _, w in marks_on(page))
    assert said == pytest.approx([pi * 230 / 12 * i for i in range(12)], abs=0.06)


def test_nothing_to_mark_gives_no_page() -> None:
    assert ruler_pages(made("1 piece", "20 cm square")) == ()
