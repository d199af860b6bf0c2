"""Labels read back from their PDF: words, fonts, millimetres, letters and bars."""

from dataclasses import replace
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from pypdf import PdfReader
from tests.publish.faces import LABEL, NUTRITION, TICKET, runs

from slabwright.errors import FileError
from slabwright.label.codes import check_digit
from slabwright.label.paper.face import Face, Paragraph
from slabwright.label.paper.sheet import A4, Laid, Sheet, Size, laid
from slabwright.publish.print.fit import Fitted, Refused, fitted
from slabwright.publish.print.letters import FIGURE_EM, X_EM, figures_pt, size_pt
from slabwright.publish.print.pdf import labels_pdf

ROOT = Path(__file__).parents[2]
FONTS = ROOT / "src/slabwright/publish/drawing/fonts/ttf"
TTFont: Any = import_module("fontTools.ttLib").TTFont  # carries no types
pdfium: Any = import_module("pypdfium2")  # nor does this
BoundsPen: Any = import_module("fontTools.pens.boundsPen").BoundsPen
MM_PT = 72 / 25.4
SIZES = [
    Size(60, 60), Size(100, 70), Size(150, 100), Size(40, 90), Size(200, 287),
]  # fmt: skip
FACES = {
    "label": LABEL,
    "with nutrition": replace(LABEL, nutrition=NUTRITION, piece="70 g"),
    "without bars": replace(LABEL, number=""),
    "ticket": TICKET,
}


def made(face: Face, size: Size) -> Fitted:
    found = fitted(face, size)
    assert isinstance(found, Fitted), found.mistake
    return found


def alone(one: Fitted) -> bytes:
    return labels_pdf(one, laid(one.size, 1))


def words(pdf: bytes) -> str:
    pages = PdfReader(BytesIO(pdf)).pages
    text = " ".join(page.extract_text() for page in pages)
    return " ".join(text.replace("\u200b", "").replace("\u00a0", " ").split())


def pixels(pdf: bytes, dots_per_inch: int, page: int = 0) -> NDArray[np.uint8]:
    """A page in grey, dark is 0."""
    document = pdfium.PdfDocument(pdf)
    picture = document[page].render(scale=dots_per_inch / 72).to_pil().convert("L")
    document.close()
    return np.asarray(picture)


def said_by(face: Face) -> list[str]:
    """Everything that a face says, piece by piece."""
    return [
        face.name, face.net, face.date, face.business, face.price, *face.storage,
        *face.revisions, *(one.text for one in face.paragraphs),
        *(cell for row in face.nutrition
          for cell in (row.name, row.per_100_g, row.per_piece)),
    ]  # fmt: skip


# --- what stands on it --------------------


@pytest.mark.parametrize("name", FACES)
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_label_says_all_that_was_asked_or_says_what_would_fit(
    name: str, size: Size
) -> None:
    found = fitted(FACES[name], size)

    if isinstance(found, Refused):
        assert found.would_fit
        return
    text = words(alone(found))
    for said in said_by(FACES[name]):
        assert said in text


def test_its_words_stand_in_order_name_first_small_print_last() -> None:
    text = words(alone(made(replace(LABEL, number=""), Size(100, 70))))

    assert text == (
        "Two Tides Lemon and blackcurrant slice 70 g "
        f"{LABEL.paragraphs[0].text} {LABEL.paragraphs[1].text} "
        "Best before: 30 November 2026 Keep chilled. "
        f"{LABEL.business} £3.50 card 3f2a91c0, larder 91ab22cd"
    )


@pytest.mark.parametrize("size", [Size(60, 60), Size(101.6, 76.2), Size(150, 99.9)])
def test_a_label_alone_is_a_page_of_its_size_to_a_tenth_of_a_millimetre(
    size: Size,
) -> None:
    reader = PdfReader(BytesIO(labels_pdf(made(LABEL, size), laid(size, 3))))

    assert len(reader.pages) == 3
    for page in reader.pages:
        box = page.mediabox
        assert float(box.width) / MM_PT == pytest.approx(size.width_mm, abs=0.05)
        assert float(box.height) / MM_PT == pytest.approx(size.height_mm, abs=0.05)


def test_it_is_tagged_with_its_bars_told_and_its_fonts_embedded() -> None:
    pdf = alone(made(LABEL, Size(100, 70)))
    reader = PdfReader(BytesIO(pdf))
    root: Any = reader.trailer["/Root"].get_object()

    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-GB"
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()
    tags = [(str(one.get("/S")), str(one.get("/Alt", ""))) for one in _tags(root)]
    assert {"/H1", "/P", "/Figure", "/Strong"} <= {tag for tag, _ in tags}
    assert ("/Figure", "EAN-13 2001234567893") in tags
    fonts: Any = reader.pages[0]["/Resources"]
    for one in fonts["/Font"].values():
        (inner,) = one.get_object()["/DescendantFonts"]
        about = inner.get_object()["/FontDescriptor"].get_object()
        assert {"/FontFile2", "/FontFile3"} & set(about)


def _tags(root: Any) -> list[Any]:
    """Every element of a document's structure."""
    found, waiting = [], [root["/StructTreeRoot"].get_object()]
    while waiting:
        one = waiting.pop().get_object()
        if not hasattr(one, "get"):
            continue
        found.append(one)
        kids = one.get("/K", [])
        kids = kids.get_object() if hasattr(kids, "get_object") else kids
        for kid in kids if isinstance(kids, list) else [kids]:
            if not isinstance(kid, int):
                waiting.append(kid)
    return found


def test_an_allergen_is_set_in_the_bold_font_and_the_rest_is_not() -> None:
    bold: list[str] = []
    plain: list[str] = []

    def seen(text: str, _m: Any, _t: Any, font: Any, _s: Any) -> None:
        if font and text.strip():
            is_bold = str(font["/BaseFont"]).endswith("HyperlegibleNext-Bold")
            (bold if is_bold else plain).append(text.strip())

    bare = replace(LABEL, date="", price="", net="", net_g=None)
    pdf = alone(made(bare, Size(150, 100)))
    PdfReader(BytesIO(pdf)).pages[0].extract_text(visitor_text=seen)

    said = {word for one in bold for word in one.split()}
    assert said == {"egg", "milk", "wheat", "soya"}
    assert "egg" not in " ".join(plain).split()


def test_the_same_label_makes_the_same_bytes() -> None:
    assert alone(made(LABEL, Size(100, 70))) == alone(made(LABEL, Size(100, 70)))


def test_a_character_that_no_font_has_is_refused_not_boxed() -> None:
    with pytest.raises(FileError, match="no font here can print"):
        fitted(replace(LABEL, name="Lemon 🍋 slice"), Size(100, 70))
    listed = (Paragraph("ingredients", runs("Ingredients: 粉, *milk*.")),)
    with pytest.raises(FileError, match="no font here can print"):
        fitted(replace(LABEL, paragraphs=listed), Size(100, 70))


def test_marks_that_nobody_sees_are_left_out() -> None:
    listed = (Paragraph("ingredients", runs("Ingredients:\n\tsalt,\x07 *milk*.")),)
    face = replace(LABEL, name="Lemon\u202e slice", paragraphs=listed)
    text = words(alone(made(face, Size(100, 70))))

    assert "Ingredients: salt, milk." in text
    assert "Lemon slice" in text


def test_markup_in_a_name_is_printed_as_it_was_typed() -> None:
    name = "#[x] *b* _i_ $x$ @ref <a> `c` = -- ~"

    assert name in words(alone(made(replace(TICKET, name=name), Size(150, 100))))


# --- how high the letters stand --------------------


def bounds_em(font: str, character: str) -> float:
    """Height of a character's outline above its line, in em."""
    opened = TTFont(FONTS / f"{font}.ttf")
    glyphs = opened.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[opened.getBestCmap()[ord(character)]].draw(pen)
    return float(pen.bounds[3]) / float(opened["head"].unitsPerEm)


def test_the_heights_that_sizes_follow_from_are_the_fonts_own() -> None:
    text = "AtkinsonHyperlegibleNext-Regular", "AtkinsonHyperlegibleNext-Bold"

    assert {bounds_em(font, "x") for font in text} == {X_EM}
    assert min(bounds_em(text[1], figure) for figure in "0123456789") == FIGURE_EM
    assert bounds_em("Besley-SemiBold", "x") >= X_EM


@pytest.mark.parametrize(("x_mm", "size"), [(1.2, 60), (0.9, 60), (2.0, 90)])
def test_a_small_x_stands_as_high_on_the_page_as_it_was_asked(
    x_mm: float, size: float
) -> None:
    face = Face(
        "label", "", "", "x",
        paragraphs=(Paragraph("ingredients", runs("x x x")),), least_x_mm=x_mm,
    )  # fmt: skip
    one = made(face, Size(size, size))
    one = replace(one, task={**one.task, "size_pt": size_pt(x_mm)})
    page = pixels(alone(one), 1200)
    rows = np.flatnonzero((page < 128).any(axis=1))
    blocks = np.split(rows, np.flatnonzero(np.diff(rows) > 1) + 1)

    assert len(blocks) == 2  # the name, and the text below it
    assert len(blocks[1]) / 1200 * 25.4 == pytest.approx(x_mm, abs=0.03)
    assert len(blocks[0]) / 1200 * 25.4 >= x_mm


@pytest.mark.parametrize("high_mm", [2.0, 3.0, 4.0, 6.0])
def test_the_figures_of_the_net_weight_stand_as_high_as_the_law_asks(
    high_mm: float,
) -> None:
    face = replace(
        LABEL, slab="", name="nn", net="1", least_figures_mm=high_mm, number=""
    )
    one = made(face, Size(120, 90))
    assert one.task["face"]["figures_pt"] == pytest.approx(figures_pt(high_mm))
    one = replace(one, task={**one.task, "size_pt": size_pt(1.2)})
    page = pixels(alone(one), 1200)
    corner = page[: round(12 / 25.4 * 1200), -round(20 / 25.4 * 1200) :]
    rows = np.flatnonzero((corner < 128).any(axis=1))

    high = rows[: 1 + np.argmax(np.append(np.diff(rows) > 1, True))]
    assert len(high) / 1200 * 25.4 >= high_mm - 0.03


@pytest.mark.parametrize("name", FACES)
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_nothing_is_printed_beyond_the_white_around_it(name: str, size: Size) -> None:
    found = fitted(FACES[name], size)
    if isinstance(found, Refused):
        return
    assert found.x_mm >= FACES[name].least_x_mm
    page = pixels(alone(found), 300)
    dark = page < 200
    edge = round(1.2 / 25.4 * 300)

    for side in (dark[:edge], dark[-edge:], dark[:, :edge], dark[:, -edge:]):
        assert not side.any()


# --- what doesn't fit --------------------


@settings(deadline=None, max_examples=25)
@given(
    count=st.integers(1, 120),
    width_mm=st.floats(10, 150),
    height_mm=st.floats(10, 150),
)
def test_each_size_that_a_refusal_names_does_take_the_label(
    count: int, width_mm: float, height_mm: float
) -> None:
    listed = ", ".join(f"thing {n} (*milk*)" for n in range(count))
    face = replace(LABEL, paragraphs=(Paragraph("ingredients", runs(listed)),))
    found = fitted(face, Size(width_mm, height_mm))

    if isinstance(found, Refused):
        assert found.would_fit
        for size in found.would_fit:
            assert isinstance(fitted(face, size), Fitted), size
    else:
        assert found.high_mm <= height_mm


def test_300_ingredients_on_60_mm_are_refused_with_what_takes_the_room() -> None:
    listed = ", ".join(f"ingredient {n} (*milk*)" for n in range(300))
    face = replace(LABEL, paragraphs=(Paragraph("ingredients", runs(listed)),))
    found = fitted(face, Size(60, 60))

    assert isinstance(found, Refused)
    assert found.parts[0][0] == "ingredients"
    assert found.parts[0][1] > 300
    assert found.would_fit[0].words in found.mistake.do
    assert "1.2 mm" in found.mistake.what


def test_the_smallest_label_is_told_what_would_take_the_longest_list() -> None:
    listed = ", ".join(f"ingredient {n} (*milk*)" for n in range(300))
    face = replace(LABEL, paragraphs=(Paragraph("ingredients", runs(listed)),))
    found = fitted(face, Size(10, 10))

    assert isinstance(found, Refused)
    for size in found.would_fit:
        assert isinstance(fitted(face, size), Fitted)
    assert found.would_fit


def test_a_word_wider_than_the_label_is_never_cut_off() -> None:
    found = fitted(replace(LABEL, name="Blackcurrantandlemonslice"), Size(30, 200))

    assert isinstance(found, Refused)
    assert min(size.width_mm for size in found.would_fit) > 30


def test_bars_wider_than_the_label_are_refused() -> None:
    narrow = Size(30, 290)  # 113 modules of 0.264 mm take 29.8 mm, and 4 mm of white

    assert isinstance(fitted(LABEL, narrow), Refused)
    assert isinstance(fitted(replace(LABEL, number=""), narrow), Fitted)


# --- the bars --------------------


def decoded(pdf: bytes, page: int = 0) -> list[str]:
    """Numbers read from bars; a line of text that looks like some is too low."""
    found = zxingcpp.read_barcodes(pixels(pdf, 300, page), try_downscale=False)
    least = 4 / 25.4 * 300
    return [
        one.text
        for one in found
        if one.position.bottom_left.y - one.position.top_left.y >= least
    ]


@pytest.mark.parametrize("size", [Size(60, 60), Size(100, 70), Size(150, 100)])
@pytest.mark.parametrize(
    "digits",
    ["5012345678900", "2001234567893", "0212345678903", "96385074", "9771234567898"],
)
def test_bars_are_read_back_from_the_page(digits: str, size: Size) -> None:
    number = digits[:-1] + check_digit(digits[:-1])

    assert decoded(alone(made(replace(LABEL, number=number), size))) == [number]


def test_every_check_digit_is_read_back_from_a_page() -> None:
    bodies = {check_digit(f"29000000{n:04}"): f"29000000{n:04}" for n in range(40)}
    assert len(bodies) == 10

    for last, body in bodies.items():
        face = replace(LABEL, number=body + last)
        assert decoded(alone(made(face, Size(100, 70)))) == [body + last]


def test_a_module_is_as_wide_on_the_page_as_it_was_said_to_be() -> None:
    one = made(LABEL, Size(150, 100))
    assert one.module_mm == 0.33
    page = pixels(alone(one), 2400)
    right = page[:, page.shape[1] // 2 :]
    # a row through the bars, above their figures: between the outer guards 95 modules
    row = right[-round(12 / 25.4 * 2400)] < 128
    dark = np.flatnonzero(row)

    assert (dark[-1] - dark[0] + 1) / 2400 * 25.4 == pytest.approx(95 * 0.33, abs=0.03)
    assert (
        np.count_nonzero(np.diff(row.astype(int)) == 1) == 30
    )  # 24 digits', 6 guards'
    quiet = np.flatnonzero(~row[dark[-1] + 1 :])
    assert len(quiet) / 2400 * 25.4 >= 7 * 0.33


# --- sheets --------------------


def test_labels_stand_on_a_sheet_where_it_was_measured() -> None:
    face = replace(LABEL, number="")
    size, sheet = Size(60, 60), Sheet(A4, 3, 4, 7.5, 12.0, 5.0, 3.0)
    pages = laid(size, 15, sheet, first=11)
    pdf = labels_pdf(made(face, size), pages)
    reader = PdfReader(BytesIO(pdf))

    assert [len(page) for page in pages.places] == [2, 12, 1]
    assert [page.extract_text().count("70") for page in reader.pages] == [2, 12, 1]
    assert pages.places[0] == ((72.5, 201.0), (137.5, 201.0))
    box = reader.pages[0].mediabox
    assert float(box.width) / MM_PT == pytest.approx(210, abs=0.05)
    first = pixels(pdf, 300)
    rows, columns = np.nonzero(first < 128)
    assert columns.min() / 300 * 25.4 == pytest.approx(72.5 + 2, abs=0.4)
    assert rows.min() / 300 * 25.4 == pytest.approx(201 + 2, abs=0.8)


def test_each_label_of_a_sheet_has_bars_that_are_read_back() -> None:
    size = Size(60, 60)
    pdf = labels_pdf(made(LABEL, size), laid(size, 12, Sheet(A4, 3, 4)))

    assert decoded(pdf) == [LABEL.number] * 12


def test_a_page_of_labels_overlaps_nowhere() -> None:
    pages = laid(Size(50, 30), 27, Sheet(A4, 3, 9, gap_across_mm=2.0))

    assert isinstance(pages, Laid)
    places = sorted(pages.places[0])
    assert len(set(places)) == 27
    for x, y in places:
        others = [1 for a, b in places if abs(a - x) < 50 and abs(b - y) < 30]
        assert len(others) == 1
