"""Areas of convex shapes in outlines, against sums over a fine raster."""

from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from slabwright.cut.polygon import (
    area_mm2,
    area_within_mm2,
    centre_mm,
    clipped,
    disc_mm2,
    outlined,
)
from slabwright.slab.outline import Outline

places = st.floats(-120, 120)
outlines = st.sampled_from(
    [Outline(200, 120), Outline(200, 120, 30), Outline(160, 160, 80)]
)


@st.composite
def triangles(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    corners = tuple((draw(places), draw(places)) for _ in range(3))
    assume(abs(area_mm2(corners)) > 1)
    return corners if area_mm2(corners) > 0 else corners[::-1]


@given(triangles(), outlines)
def test_area_in_an_outline_is_what_slices_come_to(
    shape: tuple[tuple[float, float], ...], outline: Outline
) -> None:
    # 20,000 upright slices, of each the length that lies in both; no clipping, no arcs
    x = (np.arange(20_000) + 0.5) / 20_000 * 240 - 120
    low, high = np.full_like(x, -1e9), np.full_like(x, 1e9)
    for (ax, ay), (bx, by) in zip(shape, (*shape[1:], shape[0]), strict=True):
        run = bx - ax
        if run == 0:  # an upright side: beyond it there is nothing
            gone = (x < ax) if by < ay else (x > ax)
            low[gone], high[gone] = 1e9, -1e9
            continue
        y = ay + (x - ax) * (by - ay) / run
        low, high = (
            (np.maximum(low, y), high) if run > 0 else (low, np.minimum(high, y))
        )
    r = outline.corner_radius_mm
    u = np.maximum(abs(x) - (outline.length_mm / 2 - r), 0)
    reach = outline.width_mm / 2 - r + np.sqrt(np.maximum(r**2 - u**2, 0))
    reach[abs(x) > outline.length_mm / 2] = 0
    length = np.minimum(high, reach) - np.maximum(low, -reach)
    summed_mm2 = np.maximum(length, 0).sum() * 240 / 20_000

    assert area_within_mm2(shape, outline) == pytest.approx(summed_mm2, abs=2)


def test_shapes_that_school_formulas_know() -> None:
    square = ((-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0))

    assert area_within_mm2(square, Outline(300, 200)) == pytest.approx(10_000)
    assert disc_mm2(square, 50) == pytest.approx(pi * 50**2, rel=1e-12)
    assert disc_mm2(square, 80) == pytest.approx(10_000, rel=1e-12)
    # a half disc, and a quarter of it, from a corner in the middle
    half = ((0.0, -99.0), (99.0, -99.0), (99.0, 99.0), (0.0, 99.0))
    assert disc_mm2(half, 40) == pytest.approx(pi * 40**2 / 2, rel=1e-12)
    corner = ((0.0, 0.0), (99.0, 0.0), (99.0, 99.0), (0.0, 99.0))
    assert disc_mm2(corner, 40) == pytest.approx(pi * 40**2 / 4, rel=1e-12)
    # a segment: R² acos(d / R) - d √(R² - d²)
    beyond = ((30.0, -99.0), (99.0, -99.0), (99.0, 99.0), (30.0, 99.0))
    segment_mm2 = 50**2 * np.arccos(0.6) - 30 * sqrt(50**2 - 30**2)
    assert disc_mm2(beyond, 50) == pytest.approx(segment_mm2, rel=1e-12)
    assert disc_mm2(beyond, 20) == pytest.approx(0, abs=1e-9)


@given(triangles(), outlines, st.floats(-1, 1), st.floats(-1, 1), places)
def test_both_parts_of_a_clipped_shape_come_to_the_whole(
    shape: tuple[tuple[float, float], ...],
    outline: Outline,
    a: float,
    b: float,
    c: float,
) -> None:
    parts = (clipped(shape, a, b, c), clipped(shape, -a, -b, -c))
    if not a and not b:
        return
    assert sum(map(area_mm2, parts)) == pytest.approx(area_mm2(shape), abs=1e-4)
    inside = sum(area_within_mm2(part, outline) for part in parts if part)
    assert inside == pytest.approx(area_within_mm2(shape, outline), abs=1e-4)


def test_the_centre_of_an_area() -> None:
    assert centre_mm(((0, 0), (6, 0), (0, 3))) == pytest.approx((2, 1))
    far = tuple((x + 1e6, y + 1e6) for x, y in ((0, 0), (6, 0), (0, 3)))
    assert centre_mm(far) == pytest.approx((1e6 + 2, 1e6 + 1), rel=1e-12)


@pytest.mark.parametrize(
    "outline", [Outline(300, 200), Outline(300, 200, 40), Outline(230, 230, 115)]
)
def test_an_outline_is_drawn_as_large_as_it_is(outline: Outline) -> None:
    assert area_mm2(outlined(outline)) == pytest.approx(outline.area_mm2, rel=1e-3)
