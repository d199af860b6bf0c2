"""What a section's SVG is made of: sound, alone on its page, legible in ink."""

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from tests.publish.measured import HARBOUR, SVG, TIDES, parsed, slabs

from slabwright.publish.drawing.palette import Theme
from slabwright.publish.drawing.section import DrawnLayer, DrawnSlab, section_svg
from slabwright.publish.drawing.style import LINE_WIDTH


@settings(max_examples=60)
@given(slabs())
def test_the_picture_is_sound_and_leans_on_nothing_outside(slab: DrawnSlab) -> None:
    svg = section_svg(slab)
    root = parsed(svg)

    assert not any(root.iter(f"{SVG}pattern"))
    assert svg.count("http") == 1  # its namespace
    assert "style=" not in svg
    ids = [it.attrib["id"] for it in root.iter() if "id" in it.attrib]
    assert len(set(ids)) == len(ids)
    for it in root.iter():
        for reference in (it.get("href"), it.get("clip-path")):
            if reference is not None:
                assert re.sub(r"^url\(|[#)]", "", reference) in ids


def test_what_xml_cannot_hold_is_left_out_of_names() -> None:
    odd = replace(
        HARBOUR,
        name="a\ufffeb",
        layers=(DrawnLayer("c\uffff\x00\ud800d", "crumb", 5),),
        marks=(),
    )
    svg = section_svg(odd)

    assert parsed(svg).findtext(f"{SVG}title") == "Section of a b"
    assert svg.encode()  # no half of a surrogate pair is left


@pytest.mark.parametrize("theme", ["light", "dark", "paper"])
def test_the_same_slab_gives_the_same_bytes(theme: Theme) -> None:
    assert section_svg(HARBOUR, theme=theme) == section_svg(HARBOUR, theme=theme)


def test_two_sections_in_one_page_share_no_id() -> None:
    one, other, dark = (
        parsed(section_svg(HARBOUR)),
        parsed(section_svg(TIDES)),
        parsed(section_svg(HARBOUR, theme="dark")),
    )
    ids = [
        it.attrib["id"]
        for root in (one, other, dark)
        for it in root.iter()
        if "id" in it.attrib
    ]

    assert len(set(ids)) == len(ids)


def test_every_rule_of_style_is_for_this_drawing_alone() -> None:
    style = parsed(section_svg(HARBOUR, prefix="mine")).findtext(f"{SVG}style") or ""

    selectors = [one for many in re.findall(r"([^{}]+)\{", style) for one in [many]]
    assert selectors
    for selector in selectors:
        assert all(one.startswith("#mine ") for one in selector.split(","))


def test_every_class_has_a_rule() -> None:
    over = replace(HARBOUR, tin_depth_mm=20)
    unknown = replace(
        TIDES,
        layers=(*TIDES.layers, DrawnLayer("Gold", "slate", None)),
        tin_depth_mm=None,
    )
    plain_text = {"tick", "cut", "unit", "small", "room"}  # as all text is

    for slab in (HARBOUR, over, unknown):
        root = parsed(section_svg(slab))
        style = root.findtext(f"{SVG}style") or ""
        ruled = set(re.findall(r"\.([\w-]+)", style))
        used = {it.attrib["class"] for it in root.iter() if "class" in it.attrib}
        assert used - plain_text <= ruled


def test_a_thin_layer_keeps_its_fill_and_drops_its_texture() -> None:
    # 2 : 1 is 8 units a mm: 0.7 mm is 5.6 units, under 6; 0.8 mm is 6.4
    for depth_mm, textured in ((0.7, False), (0.8, True)):
        thin = DrawnLayer("Glaze", "glaze", depth_mm)
        svg = section_svg(replace(TIDES, layers=(*TIDES.layers, thin)))
        assert 'class="f-glaze"' in svg
        assert ('class="i-glaze"' in svg) is textured


def test_the_ink_of_thin_layers_gets_thin() -> None:
    thin = tuple(DrawnLayer(f"Leaf {i}", "glaze", 0.5) for i in range(12))
    root = parsed(section_svg(replace(TIDES, layers=thin)))
    inks = [
        float(it.attrib["stroke-width"])
        for it in root.iter(f"{SVG}use")
        if it.get("class") == "edge"
    ]

    assert len(inks) == 12
    assert max(inks) < LINE_WIDTH / 2


def test_a_picture_describes_itself_in_one_sentence() -> None:
    root = parsed(section_svg(HARBOUR))

    assert root.attrib["role"] == "img"
    assert root.findtext(f"{SVG}title") == "Section of Harbour Lamp"
    assert root.findtext(f"{SVG}desc") == (
        "From the bottom: 11.4 mm Rye and oat shortbread (assumed, likely 10.2 to "
        "12.8 mm), 8.8 mm Malt caramel (likely 8.3 to 9.3 mm), 5.8 mm Coffee dark "
        "ganache; 26.0 mm in all in a tin 50 mm deep, trimmed by 5 mm and cut into "
        "pieces 58 mm wide; to watch: look 1 on Coffee dark ganache, note 2 on Malt "
        "caramel; drawn 2 : 1 at its own size."
    )


def test_paper_has_black_and_white_only() -> None:
    svg = section_svg(HARBOUR, theme="paper")
    greys = set(re.findall(r"#[0-9A-F]{6}\b", svg))

    assert greys
    assert all(len({colour[i : i + 2] for i in (1, 3, 5)}) == 1 for colour in greys)
