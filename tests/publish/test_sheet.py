"""The bench sheet read back: as PDF by a library, as HTML by a parser, in any dress."""

import json
import re
from html.parser import HTMLParser
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from tests.cli.run import DAY
from tests.files.kitchens import worked

from slabwright.files.folder import open_folder
from slabwright.publish.sheet.glyphs import BOX, printable, shown
from slabwright.publish.sheet.html import sheet_html
from slabwright.publish.sheet.page import content
from slabwright.publish.sheet.pdf import as_set, sheet_data, sheet_pdf
from slabwright.publish.sheet.rulers import REACH_MM, pages, ruler
from slabwright.spec.bench import BenchSheet, Making, bench_sheet

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo"
FONTS = ROOT / "src/slabwright/publish/drawing/fonts/ttf"
TTFont: Any = import_module("fontTools.ttLib").TTFont  # carries no types
BoundsPen: Any = import_module("fontTools.pens.boundsPen").BoundsPen
A4_PT = (595.28, 841.89)
SIGNS = "$ * _ ` \\ @ < > [ ] { } = + - / ~ ^ & % ' \" $x$ *b* _i_ <a> @ref [b] \\u{41}"


def sheet(card: str) -> BenchSheet:
    return bench_sheet(worked(card), Making(DAY, revision="card 3f2a91c0"))


def demo_sheet(name: str) -> BenchSheet:
    card = (DEMO / "slabs" / f"{name}.card").read_text("utf-8")
    return bench_sheet(worked(card, open_folder(DEMO)), Making(DAY))


def of_lines(count: int, layers: int) -> BenchSheet:
    card = ["slab Many", "tin 57 x 37 x 4.5 cm", "cut 12 x 6, trim 5 mm"]
    for layer in range(layers):
        card += [f"layer Layer {layer}", "  into bowl"]
        card += [f"  {100 + i} g plain flour" for i in range(count // layers)]
        card += ["  mix", "  bake 160 C fan 20-25 min, until gold"]
    return sheet("\n".join(card))


def opened(made: BenchSheet) -> PdfReader:
    return PdfReader(BytesIO(sheet_pdf(made)))


def parsed(xml: str) -> ET.Element:
    """Our own markup as a tree; a mistake in it is an error."""
    return ET.XML(xml)


def text_of(reader: PdfReader) -> str:
    text = "\n".join(page.extract_text() for page in reader.pages)
    return " ".join(text.replace("\u200b", "").split())


# --- the PDF --------------------


@pytest.mark.parametrize("name", ["harbour-lamp", "two-tides", "lantern-walk"])
def test_the_demo_fits_one_tagged_page_of_a4(name: str) -> None:
    reader = opened(demo_sheet(name))

    assert len(reader.pages) == 1
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(A4_PT, abs=0.1)
    root: Any = reader.trailer["/Root"].get_object()
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en-GB"
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()


def test_every_font_is_embedded() -> None:
    reader = opened(demo_sheet("harbour-lamp"))

    resources: Any = reader.pages[0]["/Resources"]
    fonts = resources["/Font"]
    seen = set()
    for one in fonts.values():
        (inner,) = one.get_object()["/DescendantFonts"]
        about = inner.get_object()["/FontDescriptor"].get_object()
        assert {"/FontFile2", "/FontFile3"} & set(about)
        seen.add(str(about["/FontName"]).partition("+")[2])
    assert any("Besley" in name for name in seen)
    assert any("Atkinson" in name for name in seen)


def test_the_sheet_says_what_the_hand_needs() -> None:
    text = text_of(opened(demo_sheet("harbour-lamp")))

    for said in (
        "Harbour Lamp", "not proved", "printed 25 November 2026", "glucose syrup 42 DE",
        "885", "stop at 119 °C our probe (118 true)", "671 g in the pan", "+ 671 =",
        "Bake at 160 °C fan", "Look at 21 min, likely 24 to 28 min",
        "until pale gold all over", "Hot sugar.", "20 pieces of 58 × 47.5 mm",
        "5, 63, 121, 179, 237, 295 mm", "Worked example, not bench-tested.",
        "Contains wheat", "read the packs",
    ):  # fmt: skip
        assert said in text


def test_each_caution_is_printed_once() -> None:
    text = text_of(opened(demo_sheet("harbour-lamp")))

    assert text.count("Hot sugar.") == text.count("Hot knife.") == 1
    assert "safe" not in text.casefold()


def test_equal_input_gives_equal_bytes() -> None:
    first, again = (sheet_pdf(demo_sheet("two-tides")) for _ in range(2))

    assert first == again


@pytest.mark.parametrize(
    ("count", "layers", "most"), [(1, 1, 1), (20, 2, 1), (40, 4, 2), (60, 2, 3)]
)
def test_lines_take_no_more_pages_than_they_need(
    count: int, layers: int, most: int
) -> None:
    made = of_lines(count, layers)
    reader = opened(made)

    assert len(reader.pages) == as_set(made).pages <= most
    if len(reader.pages) > 1:
        assert f"page 1 of {len(reader.pages)}" in text_of(reader)


@pytest.mark.parametrize("layers", [1, 3])
def test_nothing_is_lost_over_the_pages(layers: int) -> None:
    text = text_of(opened(of_lines(120, layers)))

    assert text.count("plain flour") == 120
    assert "72 pieces" in text


def test_figures_can_be_read_from_a_metre() -> None:
    # figures of the weigh table are set at 15 pt, see sheet.typ and sheet.css
    font = TTFont(FONTS / "AtkinsonHyperlegibleNext-Regular.ttf")
    pen = BoundsPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord("8")]].draw(pen)
    high_em = (pen.bounds[3] - max(pen.bounds[1], 0)) / font["head"].unitsPerEm
    folder = ROOT / "src/slabwright/publish/sheet"
    sizes = re.findall(r"text\((\S+)pt, line.add\)", (folder / "sheet.typ").read_text())
    sizes += re.findall(
        r"td\.n \{ font-size: (\S+)pt", (folder / "sheet.css").read_text()
    )

    assert len(sizes) == 2
    assert all(float(pt) * 25.4 / 72 * high_em >= 3.5 for pt in sizes)


def test_signs_of_the_typesetter_come_out_as_typed() -> None:
    made = sheet(f"slab S {SIGNS}\nlayer L {SIGNS}\n  into bowl {SIGNS}\n"
                 f"  100 g plain flour, {SIGNS}\n  mix {SIGNS}\n"
                 f"  100 g plain flour\nnote {SIGNS}\n")  # fmt: skip

    text = "".join(text_of(opened(made)).split())

    assert text.count("".join(SIGNS.split())) >= 3


@pytest.mark.parametrize(
    "name",
    [
        "לימון חמוץ",
        "ليمون",
        "柠檬挞",
        "🍋🧁",
        "x" * 115,
        "a\u0301\u0323b",
        "\u202eabc",
        "☐",
    ],
)
def test_what_cannot_be_printed_becomes_a_box_and_a_note(name: str) -> None:
    card = f"slab {name}\nlayer {name}\n  100 g {name}\n  pour {name}\n"

    text = text_of(opened(sheet(card)))

    has_box = BOX in shown(name.replace(BOX, ""))
    assert ("stands for a sign" in text) == has_box


@given(st.text(max_size=60))
@settings(max_examples=40)
def test_no_text_breaks_the_sheet(words: str) -> None:
    line = " ".join(words.split())
    card = (
        f"slab A {line}\nlayer B {line}\n  100 g plain flour, {line}\n  pour {line}\n"
    )

    made = sheet(card)

    assert sheet_pdf(made).startswith(b"%PDF")
    assert sheet_html(made).startswith("<!DOCTYPE html>")


def test_the_fonts_have_all_that_is_called_printable() -> None:
    known = [set(TTFont(path).getBestCmap()) for path in FONTS.glob("*.ttf")]
    whole = set().union(*known)

    assert {ord(c) for c in printable()} <= whole
    for style in ("Bold", "SemiBold"):
        able = set(
            TTFont(FONTS / f"AtkinsonHyperlegibleNext-{style}.ttf").getBestCmap()
        )
        dejavu = set(TTFont(FONTS / "DejaVuSans-Bold.ttf").getBestCmap())
        dejavu |= set(TTFont(FONTS / "DejaVuSans.ttf").getBestCmap())
        assert {ord(c) for c in printable()} <= able | dejavu


def test_a_card_with_nothing_known_still_prints() -> None:
    made = sheet("slab X\nlayer A\n  some grunge\n")

    assert "X" in text_of(opened(made))


# --- the HTML --------------------


class Reading(HTMLParser):
    """Tags in balance, attributes, and the words."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] != "style":
            self.words.append(data)


def test_the_page_is_well_formed_and_fetches_nothing() -> None:
    html = sheet_html(demo_sheet("two-tides"))

    reading = Reading()
    reading.feed(html)
    assert reading.open == []
    parsed(html.partition("\n")[2])
    names = {name for name, _ in reading.attributes}
    assert not {"style", "src", "onclick"} & names
    outside = [v for n, v in reading.attributes if n != "xmlns" and "//" in v]
    assert outside == []
    assert all(v.startswith("#") for n, v in reading.attributes if n.endswith("href"))
    assert set(re.findall(r"url\(([a-z]*:?)", html)) <= {"data:", ""}
    assert "@import" not in html
    assert "<script" not in html


def test_page_and_paper_say_the_same() -> None:
    made = demo_sheet("harbour-lamp")
    reading = Reading()
    reading.feed(sheet_html(made))
    words = set(re.findall(r"[\w.,]+", " ".join(reading.words)))

    said = json.dumps(content(made)["jobs"], ensure_ascii=False)
    numbers = set(re.findall(r"\"(\d[\d.,]*)\"", said))
    assert numbers
    assert numbers <= words
    paper = text_of(opened(made))
    assert all(number in paper for number in numbers)


def test_markup_in_a_card_stays_words_on_the_page() -> None:
    card = "slab <b>X</b>\nlayer A <i>\n  into <u>\n  100 g flour, <script>\n"
    html = sheet_html(sheet(card + "  100 g <script>alert(1)\n  stir <script>\n"))

    assert "<script" not in html
    assert "&lt;b&gt;X" in html


# --- rulers and drawings --------------------


def test_a_ruler_is_true_and_goes_on_over_the_pages() -> None:
    marks = (5.0, 285.0, 565.0)

    assert pages(570) == 3
    first, second, third = (ruler(marks, 570, i, at_right=False) for i in range(3))
    root = parsed(first)
    # the user unit is a millimetre: as many of them high as millimetres on paper
    view = [float(one) for one in (root.get("viewBox") or "").split()]
    assert root.get("height") == f"{view[3]:g}mm"
    assert root.get("width") == f"{view[2]:g}mm"
    for svg, number in ((first, "5"), (second, "285"), (third, "565")):
        labels = [e.text for e in parsed(svg).iter() if e.text]
        assert number in labels
    # 285 stands 15 mm below the beginning of the second page, at 270
    knives = re.findall(r'd="M0 ([\d.]+)L[\d.]+ \1" class="k"', second)
    assert knives == ["15"]
    assert ruler(marks, 570, 3, at_right=True) == ""
    assert REACH_MM == 270


def test_the_face_is_as_large_as_life() -> None:
    made = demo_sheet("harbour-lamp")
    data = json.loads(sheet_data(made))
    assert made.spec.cut is not None
    piece = made.spec.cut.piece_length_mm
    assert piece is not None

    # 1.5 px of margin on either side, at 4 px a millimetre
    assert data["face_mm"][0] == pytest.approx(piece.number + 0.75, abs=0.01)
    height = made.spec.height_mm.number
    assert data["face_mm"][1] == pytest.approx(height + 0.75, abs=0.5)


def test_a_plan_stands_where_it_needs_no_page_of_its_own() -> None:
    plan = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20" width="40mm"'
        ' height="20mm"><path d="M0 0h40v20h-40z"/></svg>'
    )
    short = sheet(SHORT)
    full = demo_sheet("two-tides")

    assert plan in sheet_html(short, plan)
    assert sheet_pdf(short, plan) != sheet_pdf(short)
    assert plan not in sheet_html(full, plan)
    assert as_set(full, plan).pages == as_set(full).pages == 1


SHORT = """slab Short
tin 30 x 20 x 5 cm
cut 6 x 4, trim 5 mm
layer Base
  300 g plain flour
  200 g butter
  ends 470 g
"""
