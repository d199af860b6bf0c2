import re
from xml.etree import ElementTree

from slabwright.publish.drawing.cut_face import cut_face_svg
from slabwright.publish.drawing.drawn import DrawnLayer, DrawnSlab
from slabwright.publish.drawing.page_css import page_css
from slabwright.publish.drawing.palette import colour_keys
from slabwright.publish.drawing.section import section_svg

SLAB = DrawnSlab(
    "Harbour Lamp",
    (DrawnLayer("Rye shortbread", "crumb", 11.4, 10.0, 12.5, "rye"),
     DrawnLayer("Malt caramel", "caramel", 8.8, assumed=True)),
    50.0, 0.0, 300.0, 5.0, 58.0, 1.0,
)  # fmt: skip


def test_a_drawing_on_a_page_carries_no_style_of_its_own() -> None:
    for svg in (section_svg(SLAB, theme="page"), cut_face_svg(SLAB, theme="page")):
        root = ElementTree.fromstring(svg)  # noqa: S314  our own

        assert root.get("class") == "drawing"
        assert not list(root.iter("{http://www.w3.org/2000/svg}style"))
        assert not re.search(r"\sstyle=", svg)


def test_every_rule_that_a_drawing_carries_alone_stands_on_the_page() -> None:
    alone = re.findall(r"#alone ([\w.-]+)\{", section_svg(SLAB, prefix="alone"))
    page = set(re.findall(r"\.drawing ([\w.-]+)[,{]", page_css()))

    assert len(alone) > 20
    assert set(alone) <= page


def test_every_colour_has_a_value_on_light_dark_and_paper() -> None:
    css = page_css()

    for key in colour_keys():
        assert len(re.findall(rf"--f-{key}:#", css)) == 4  # dark twice
        assert f"var(--f-{key})" in css
    assert "print{:root:root:root{--paper:#FFFFFF" in css


def test_a_compact_section_is_life_size_at_most_and_narrower() -> None:
    wide, narrow = (
        float(svg.split('viewBox="')[1].split()[2])
        for svg in (section_svg(SLAB), section_svg(SLAB, compact=True))
    )

    assert narrow < 0.72 * wide
    assert "1 : 1" in section_svg(SLAB, compact=True)
    assert "2 : 1" in section_svg(SLAB)
