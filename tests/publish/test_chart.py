"""Charts and strips, measured on the SVG that they give."""

import re
from dataclasses import replace
from itertools import combinations, pairwise
from math import inf, nan
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.publish.measured import (
    SVG,
    Box,
    corners,
    names,
    parsed,
    text_boxes,
    view_box,
)

from slabwright.publish.drawing.chart import DASHES, chart_svg, sentence
from slabwright.publish.drawing.chart_axes import scale
from slabwright.publish.drawing.chart_labels import beside_each_other
from slabwright.publish.drawing.page_css import page_css
from slabwright.publish.drawing.strips import Guide, Strip, strips_svg, value_at
from slabwright.spec.nature.aspect import Chart, Curve, Mark

BOIL = Chart(
    "boil",
    "Water left",
    "pan, °C",
    "water left, share",
    (Curve("caramel", (100.0, 120.0, 140.0), (0.5, 0.2, 0.1),
           (0.4, 0.15, 0.05), (0.6, 0.25, 0.15)),),
    (Mark("you are here", 120.0, 0.2),),
)  # fmt: skip
numbers = st.one_of(
    st.floats(-1e6, 1e6),
    st.floats(-1e-6, 1e-6),
    st.sampled_from([0.0, nan, inf, -inf, 1e300]),
)


@st.composite
def curves(draw: st.DrawFn) -> Curve:
    count = draw(st.integers(0, 12))
    rows = [draw(st.lists(numbers, min_size=count, max_size=count)) for _ in range(4)]
    banded = draw(st.booleans())
    x, y, low, high = (tuple(row) for row in rows)
    return Curve(draw(names), x, y, low if banded else (), high if banded else ())


charts = st.builds(
    Chart,
    st.just("any"),
    names,
    names,
    names,
    st.lists(curves(), max_size=7).map(tuple),
    st.lists(st.builds(Mark, names, numbers, numbers), max_size=6).map(tuple),
    st.just("") | names,
)


@given(charts)
def test_no_words_overlap_or_leave_the_chart(chart: Chart) -> None:
    root = parsed(chart_svg(chart, prefix="c"))
    boxes, frame = text_boxes(root), view_box(root)

    for a, b in combinations(boxes, 2):
        assert not a.overlaps(b), (a, b)
    for box in boxes:
        assert frame.left <= box.left
        assert box.right <= frame.right + 0.1
        assert frame.top <= box.top
        assert box.bottom <= frame.bottom + 0.1
    assert all(points_within(root, frame))


def points_within(root: ET.Element, frame: Box) -> list[bool]:
    """Whether every corner of every path lies in the view; none is no number."""
    return [
        frame.left - 0.1 <= x <= frame.right + 0.1
        and frame.top - 0.1 <= y <= frame.bottom + 0.1
        for path in root.iter(f"{SVG}path")
        if path.get("class") != "ground"
        for x, y in corners(path.attrib["d"])
    ]


def test_a_curve_passes_where_its_axes_say() -> None:
    root = parsed(chart_svg(BOIL, prefix="c"))
    (path,) = (p for p in root.iter(f"{SVG}path") if "curve" in p.get("class", ""))
    points = corners(path.attrib["d"])
    across = {said: x for x, _, said in ticks(root, "middle")}
    up = {said: y for _, y, said in ticks(root, "end") if said in {"0.0", "0.2"}}

    assert [x for x, _ in points] == pytest.approx(
        [across["100"], across["120"], across["140"]], abs=0.02
    )
    assert points[1][1] == pytest.approx(up["0.2"] - 4.5, abs=0.02)
    (dot,) = (p for p in root.iter(f"{SVG}circle") if p.get("class") == "here")
    assert float(dot.attrib["cx"]) == pytest.approx(points[1][0])
    assert float(dot.attrib["cy"]) == pytest.approx(points[1][1])


def ticks(root: ET.Element, anchor: str) -> list[tuple[float, float, str]]:
    return [
        (float(it.attrib["x"]), float(it.attrib["y"]), it.text or "")
        for it in root.findall(f"{SVG}text")
        if it.get("class") == "tick" and it.get("text-anchor") == anchor
    ]


def test_a_band_reaches_from_its_low_to_its_high_end() -> None:
    root = parsed(chart_svg(BOIL, prefix="c"))
    (band,) = (p for p in root.iter(f"{SVG}path") if p.get("class") == "band")
    low, high = corners(band.attrib["d"])[1], corners(band.attrib["d"])[4]
    up = {said: y for _, y, said in ticks(root, "end")}
    each = (up["0.0"] - up["0.2"]) / 0.2

    assert low[0] == high[0]
    assert low[1] - high[1] == pytest.approx(0.1 * each, abs=0.02)


def test_words_say_what_the_picture_shows() -> None:
    assert sentence(BOIL) == (
        "water left, share over pan, °C; caramel: from 0.5 at 100 to 0.1 at 140; "
        "you are here: 0.2 at 120."
    )
    assert sentence(replace(BOIL, words="Less and less.")) == "Less and less."
    desc = parsed(chart_svg(BOIL, prefix="c")).findtext(f"{SVG}desc")
    assert desc == sentence(BOIL)


def test_curves_are_told_apart_without_colour() -> None:
    many = tuple(Curve(f"v{i}", (0.0, 1.0), (i, i + 1.0)) for i in range(6))
    svg = chart_svg(replace(BOIL, curves=many), prefix="c")
    alone = chart_svg(replace(BOIL, curves=many), prefix="c", theme="paper")

    assert len(set(re.findall(r'class="(curve d\d)"', svg))) == len(DASHES) == 6
    assert "<style>" not in svg
    assert "stroke-dasharray:8 4" in alone
    assert all(f">v{i}</text>" in svg for i in range(6))


def test_what_no_words_can_stand_beside_is_said_below() -> None:
    crowd = tuple(Mark(f"a mark with many words number {i}", 120, 0.2)
                  for i in range(40))  # fmt: skip
    root = parsed(chart_svg(replace(BOIL, marks=crowd), prefix="c"))
    words = [it.text or "" for it in root.findall(f"{SVG}text")]
    below = [one for one in words if one.endswith("(120; 0.2)")]

    assert below
    assert not any(a.overlaps(b) for a, b in combinations(text_boxes(root), 2))


def test_marks_without_words_are_dots() -> None:
    rows = tuple(Mark("", 100 + i / 10, 0.3) for i in range(400))
    root = parsed(chart_svg(replace(BOIL, marks=rows), prefix="c"))

    assert sum(c.get("class") == "dot" for c in root.iter(f"{SVG}circle")) == 400


@given(st.lists(numbers, max_size=20), st.booleans(), st.integers(1, 12))
def test_a_scale_holds_its_values_with_few_ticks_that_differ(
    values: list[float], upright: bool, most: int
) -> None:
    made = scale(values, 300, most=most, upright=upright)
    said = [made.said(tick) for tick in made.ticks]

    for value in values:
        if abs(value) <= 1e12:
            assert -0.1 <= made.at(value) <= 300.1
    assert len(said) <= max(most, 3)
    assert len(set(said)) == len(said)


@given(
    st.lists(st.tuples(st.floats(-500, 500), st.floats(5, 40)), max_size=12),
    st.floats(0, 600),
)
def test_words_at_ends_move_apart(rows: list[tuple[float, float]], room: float) -> None:
    heights = [high for _, high in rows]
    found = beside_each_other([at for at, _ in rows], heights, 0.0, room)
    spans = sorted((m - h / 2, m + h / 2) for m, h in zip(found, heights, strict=True))

    for (_, end), (start, _) in pairwise(spans):
        assert end <= start + 1e-6
    if sum(heights) <= room and spans:
        assert spans[0][0] >= -1e-6
        assert spans[-1][1] <= room + 1e-6


@given(st.lists(st.builds(Strip, names, charts), min_size=1, max_size=5))
def test_strips_stand_apart_in_the_order_given(strips: list[Strip]) -> None:
    guides = (Guide("fridge", 4), Guide("room", 20), Guide("mouth", 35))
    root = parsed(strips_svg(strips, prefix="s", title="Fat", guides=guides))
    rows = root.findall(f"{SVG}g")
    ups = [float(re.findall(r"-?[\d.]+", g.attrib["transform"])[1]) for g in rows]

    assert len(rows) == len(strips)
    assert ups == sorted(ups)
    assert ups[-1] == 0
    for row in rows:
        own = ET.Element(f"{SVG}svg")
        own.extend(row.findall(f"{SVG}text"))
        boxes = text_boxes(own)
        names_first = [box for box in boxes if box.bottom < -44]
        for a, b in combinations(names_first, 2):
            assert not a.overlaps(b)


def test_a_strip_says_its_value_at_each_guide() -> None:
    fat = Chart("fat", "Fat", "°C", "share", (Curve("", (0.0, 40.0), (0.8, 0.0)),))
    svg = strips_svg(
        [Strip("Ganache", fat), Strip("Base <&>", fat)], prefix="s", title="Fat",
        guides=(Guide("room", 20), Guide("oven", 180)),
    )  # fmt: skip

    assert svg.count(">0.4</text>") == 2
    assert ">room</text>" in svg
    assert "oven" not in svg
    assert "Base &lt;&amp;&gt;" in svg
    assert "Ganache: share over °C" in svg


def test_a_curve_is_read_between_its_points_only() -> None:
    curve = Curve("", (0.0, 10.0, 20.0), (1.0, 0.0, nan))

    assert value_at(curve, 2.5) == 0.75
    assert value_at(curve, 15.0) is None
    assert value_at(curve, -1.0) is None


def test_every_rule_of_a_chart_stands_on_the_page() -> None:
    alone = re.findall(r"#c ([\w.-]+)\{", chart_svg(BOIL, prefix="c", theme="light"))
    page = set(re.findall(r"\.drawing ([\w.-]+)[,{]", page_css()))

    assert set(alone) <= page
    assert ".band" in alone
