"""Sections of slabs, and what can be measured on the SVG that they give."""

import re
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from hypothesis import strategies as st

from slabwright.finding import Severity
from slabwright.publish.drawing.lettering import Face, width
from slabwright.publish.drawing.palette import colour_keys
from slabwright.publish.drawing.section import DrawnLayer, DrawnSlab, Mark, section_svg
from slabwright.publish.drawing.textures import TEXTURES

SVG = "{http://www.w3.org/2000/svg}"
WOBBLE_MM = 0.4
"""No face may waver by more: it could be measured."""

HARBOUR = DrawnSlab(
    "Harbour Lamp",
    (
        DrawnLayer("Rye and oat shortbread", "crumb", 11.4, 10.2, 12.8, "rye", True),
        DrawnLayer("Malt caramel", "caramel", 8.8, 8.3, 9.3),
        DrawnLayer("Coffee dark ganache", "ganache", 5.8),
    ),
    tin_depth_mm=50,
    tin_length_mm=300,
    trim_mm=5,
    piece_mm=58,
    marks=(Mark(2, Severity.LOOK, 1), Mark(1, Severity.NOTE, 2)),
)
TIDES = DrawnSlab(
    "Two Tides",
    (
        DrawnLayer("Lemon semolina shortbread", "crumb", 10.0, fill="semolina"),
        DrawnLayer("Baked lemon curd", "curd", 14.8),
        DrawnLayer("Blackcurrant jelly", "jelly", 6.1),
    ),
    tin_depth_mm=50,
    tin_length_mm=300,
    trim_mm=5,
    piece_mm=58,
)

depths_mm = st.floats(0.5, 80).map(lambda depth: round(depth, 2))
names = st.one_of(
    st.text(max_size=120),
    st.sampled_from(
        [
            "<script>alert('&\"')</script>",
            "Crème brûlée & pâté <noir>",
            "Supercalifragilistic" * 5,
            "抹茶のとても長い名前" * 6,
            "W" * 120,
        ]
    ),
)


@st.composite
def drawn_layers(draw: st.DrawFn) -> DrawnLayer:
    depth_mm = draw(st.none() | depths_mm)
    spread_mm = draw(st.none() | st.floats(0, 10))
    ranged = depth_mm is not None and spread_mm is not None
    return DrawnLayer(
        draw(names),
        draw(st.sampled_from([*TEXTURES, "slate"])),
        depth_mm,
        low_mm=max(0.0, (depth_mm or 0) - (spread_mm or 0)) if ranged else None,
        high_mm=(depth_mm or 0) + (spread_mm or 0) if ranged else None,
        fill=draw(st.none() | st.sampled_from([*colour_keys(), "no such food"])),
        assumed=draw(st.booleans()),
    )


@st.composite
def slabs(draw: st.DrawFn) -> DrawnSlab:
    layers = draw(st.lists(drawn_layers(), min_size=1, max_size=12))
    on = st.integers(0, len(layers) - 1)
    marks = st.builds(Mark, on, st.sampled_from(Severity), st.integers(1, 99))
    return DrawnSlab(
        draw(names),
        tuple(layers),
        tin_depth_mm=draw(st.none() | st.floats(5, 200)),
        wall_slope_mm=draw(st.just(0.0) | st.floats(0, 30)),
        tin_length_mm=draw(st.none() | st.floats(20, 600)),
        trim_mm=draw(st.just(0.0) | st.floats(0.5, 20)),
        piece_mm=draw(st.none() | st.floats(5, 200)),
        knife_mm=draw(st.just(0.0) | st.floats(0.1, 3)),
        marks=tuple(draw(st.lists(marks, max_size=6))),
    )


def parsed(svg: str) -> ET.Element:
    root = ET.XML(svg)
    assert root.tag == f"{SVG}svg"
    return root


def units_per_mm(root: ET.Element) -> float:
    """From what the drawing says of itself: size on paper, and scale in words."""
    wide_units = float(root.attrib["viewBox"].split()[2])
    paper_mm = float(root.attrib["width"].removesuffix("mm")) / wide_units
    said = re.search(r"drawn (\d+) : ([\d,]+)", root.findtext(f"{SVG}desc") or "")
    assert said
    return int(said[1]) / int(said[2].replace(",", "")) / paper_mm


def layer_points(root: ET.Element) -> list[list[tuple[float, float]]]:
    """The corners of each layer's outline [units], bottom first."""
    found = {}
    for path in root.iter(f"{SVG}path"):
        number = re.search(r"-layer-(\d+)$", path.get("id", ""))
        if number:
            found[int(number[1])] = corners(path.attrib["d"])
    return [found[i] for i in range(len(found))]


def corners(path: str) -> list[tuple[float, float]]:
    found = []
    for command, rest in re.findall(r"([MLC])([^MLCz]*)", path):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", rest)]
        assert len(numbers) == (6 if command == "C" else 2)
        found.append((numbers[-2], numbers[-1]))
    return found


def expected_faces_mm(slab: DrawnSlab) -> list[float]:
    faces = [0.0]
    for layer in slab.layers:
        nominal_mm = 10.0  # said in the note beneath the drawing
        depth_mm = nominal_mm if layer.depth_mm is None else layer.depth_mm
        faces.append(faces[-1] + depth_mm)
    return faces


@dataclass(frozen=True)
class Box:
    """Room of a piece of text."""

    left: float
    top: float
    right: float
    bottom: float
    words: str

    def overlaps(self, other: "Box") -> bool:
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.1 and down > 0.1


FACE_OF: dict[str, tuple[Face, float]] = {
    "name": ("name", 16),
    "figure": ("bold", 16),
    "over": ("bold", 13),
    "here-at": ("bold", 13),
}


def text_boxes(root: ET.Element) -> list[Box]:
    """Every text but the numbers in marks, as wide as the fonts make it.

    The widths are held to the fonts in test_textures; letters with a tail go a
    quarter of an em below the line, figures and letters with a stem seven tenths up.
    """
    found = []
    for text in root.findall(f"{SVG}text"):
        face, size = FACE_OF.get(text.attrib["class"], ("text", 13))
        words = text.text or ""
        wide = width(words, size, face)
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        x -= {"middle": wide / 2, "end": wide}.get(text.get("text-anchor", ""), 0)
        found.append(Box(x, y - 0.7 * size, x + wide, y + 0.25 * size, words))
    return found


def view_box(root: ET.Element) -> Box:
    left, top, wide, high = map(float, root.attrib["viewBox"].split())
    return Box(left, top, left + wide, top + high, "")


def words_of(slab: DrawnSlab, class_: str) -> list[str]:
    root = parsed(section_svg(slab))
    return [
        it.text or "" for it in root.findall(f"{SVG}text") if it.get("class") == class_
    ]
