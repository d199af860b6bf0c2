"""One piece on its cut face, measured on the SVG that it gives."""

import re
from dataclasses import replace
from itertools import accumulate
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.publish.drawing.cut_face import cut_face_svg
from slabwright.publish.drawing.section import DrawnLayer, DrawnSlab

SVG = "{http://www.w3.org/2000/svg}"
LANTERN = DrawnSlab(
    "Lantern Walk",
    (
        DrawnLayer("Pressed hazelnut and date base", "nut", 7.4),
        DrawnLayer("Tahini and maple layer", "seed", 7.0),
        DrawnLayer("Dark glaze with pumpkin seed", "glaze", 3.5),
    ),
    tin_depth_mm=50,
    piece_mm=48.3,
)


def tops(root: ET.Element) -> list[float]:
    """How high each layer reaches [units], bottom first."""
    return [
        -min(
            float(y)
            for y in re.findall(r"-?[\d.]+ (-?[\d.]+)(?=[MLCz])", it.attrib["d"])
        )
        for it in root.iter(f"{SVG}path")
        if "-layer-" in it.get("id", "")
    ]


@given(
    st.lists(st.floats(0.5, 80), min_size=1, max_size=12),
    st.floats(60, 1200),
    st.floats(20, 120),
)
def test_a_piece_is_as_high_to_its_width_as_in_the_hand(
    depths_mm: list[float], width_px: float, piece_mm: float
) -> None:
    layers = tuple(DrawnLayer("Cream", "cream", depth) for depth in depths_mm)
    slab = replace(LANTERN, layers=layers, piece_mm=piece_mm)
    root = ET.XML(cut_face_svg(slab, width_px=width_px))
    k = (width_px - 3) / piece_mm  # a margin of 1.5 on both sides

    for top, expected_mm in zip(tops(root), accumulate(depths_mm), strict=True):
        assert top / k == pytest.approx(expected_mm, abs=0.4 + 0.01 / k)
    assert float(root.attrib["width"]) == pytest.approx(width_px, abs=0.01)
    assert float(root.attrib["height"]) == pytest.approx(
        sum(depths_mm) * k + 3, abs=0.01
    )


def test_a_slab_that_is_not_cut_shows_60_mm() -> None:
    root = ET.XML(cut_face_svg(replace(LANTERN, piece_mm=None), width_px=123))

    # 120 px for 60 mm: 2 px a mm, so 17.9 mm are 35.8 px, and 3 of margin
    assert float(root.attrib["height"]) == pytest.approx(38.8, abs=0.01)
    assert "60 mm wide" in (root.findtext(f"{SVG}desc") or "")


def test_small_pieces_have_small_textures_and_large_ones_their_own() -> None:
    small, large = cut_face_svg(LANTERN), cut_face_svg(LANTERN, width_px=400)

    assert re.search(r"scale\(0\.\d+\)", small)
    assert "scale(" not in large


def test_sizes_and_themes_on_one_page_share_no_id() -> None:
    drawn = [
        ET.XML(cut_face_svg(LANTERN, width_px=120)),
        ET.XML(cut_face_svg(LANTERN, width_px=240)),
        ET.XML(cut_face_svg(LANTERN, theme="paper")),
    ]
    ids = [it.attrib["id"] for root in drawn for it in root.iter() if "id" in it.attrib]

    assert len(ids) == len(set(ids))


def test_a_layer_of_unknown_depth_is_drawn_broken_and_said() -> None:
    slab = replace(LANTERN, layers=(*LANTERN.layers, DrawnLayer("Gold", "foam", None)))
    root = ET.XML(cut_face_svg(slab))

    assert "Gold, depth not known" in (root.findtext(f"{SVG}desc") or "")
    assert any(it.get("class") == "unknown" for it in root.iter(f"{SVG}use"))


def test_nothing_in_the_tin_gives_an_empty_picture() -> None:
    root = ET.XML(cut_face_svg(DrawnSlab("Nothing yet", (), 50)))

    assert root.findtext(f"{SVG}desc") == "Nothing lies in the tin yet."
