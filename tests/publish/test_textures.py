"""Textures, colours and lettering: what every drawing is made with."""

import csv
import re
from importlib import import_module
from importlib.resources import files
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from slabwright.publish.drawing import textures
from slabwright.publish.drawing.lettering import cleaned, shortened, width, wrapped
from slabwright.publish.drawing.palette import (
    TOKENS,
    Theme,
    colour_key,
    colour_keys,
    food,
)
from slabwright.publish.drawing.texture_tiles import Chance
from slabwright.publish.drawing.textures import (
    TEXTURES,
    strokes,
    tile_paths,
    tile_reach,
)

FONTS = Path(str(files("slabwright.publish.drawing") / "fonts"))
FACES = {
    "name": "Besley-Medium",
    "text": "AtkinsonHyperlegibleNext-Regular",
    "bold": "AtkinsonHyperlegibleNext-SemiBold",
}


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of relative luminance."""
    shares = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (
        s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares
    )
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio. Source: WCAG 2.2, definition of contrast ratio."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_what_is_known_of_it() -> None:
    # WCAG: black on white is 21:1; the grey #767676 is the palest that passes AA
    # on white, at 4.54 (from memory)
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", ["light", "dark", "paper"])
def test_text_is_read_on_its_ground(theme: Theme) -> None:
    # WCAG 2.2, success criterion 1.4.3
    tokens = TOKENS[theme]

    for ink in (tokens.ink, tokens.ink_2, tokens.ink_3, tokens.stop):
        assert contrast(ink, tokens.paper) >= 4.5


@pytest.mark.parametrize("theme", ["light", "dark", "paper"])
@pytest.mark.parametrize("key", colour_keys())
def test_a_texture_is_seen_on_its_fill(key: str, theme: Theme) -> None:
    # WCAG 2.2, success criterion 1.4.11: parts of a graphic, 3:1
    colour = food(key, theme)

    assert contrast(colour.ink, colour.fill) >= 3.0


def test_every_texture_has_a_colour_of_its_own_name() -> None:
    assert {colour_key(name, None) for name in TEXTURES} == set(TEXTURES)


def test_an_unknown_kind_is_drawn_plain_and_an_unknown_fill_as_the_kind() -> None:
    assert colour_key("slate", None) == "plain"
    assert colour_key("crumb", "no such food") == "crumb"


def test_chance_is_splitmix64() -> None:
    # first outputs for the seed 1234567 as published with the algorithm's common
    # test; from memory
    chance = Chance(1234567)

    assert [chance.word() for _ in range(5)] == [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]


@pytest.mark.parametrize("name", TEXTURES)
def test_a_texture_is_drawn_the_same_every_time(name: str) -> None:
    once = strokes(name)
    textures._drawn.cache_clear()

    assert strokes(name) == once


@pytest.mark.parametrize("name", TEXTURES)
def test_strokes_stay_within_the_reach_of_their_tile(name: str) -> None:
    (wide, high), reach = TEXTURES[name].size, tile_reach(name)

    for _, path in strokes(name):
        for x, y in on_curve(path):
            assert -reach <= x <= wide + reach
            assert -reach <= y <= high + reach


def on_curve(path: str) -> list[tuple[float, float]]:
    """Points that a stroke goes through; of a circle its start."""
    found = []
    for command, rest in re.findall(r"([MLC])([^MLCaz]*)", path):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", rest)]
        assert len(numbers) == (6 if command == "C" else 2)
        found.append((numbers[-2], numbers[-1]))
    return found


def test_no_two_textures_look_alike_without_colour() -> None:
    drawn = {name: tile_paths(name, on_paper=True) for name in TEXTURES}

    for one, other in combinations(drawn, 2):
        assert drawn[one] != drawn[other]


@pytest.mark.parametrize("name", ["ganache", "glaze"])
def test_dark_kinds_stay_darker_on_paper(name: str) -> None:
    def ink(on_paper: bool) -> float:
        paths = tile_paths(name, on_paper=on_paper)
        return max(float(w) for w in re.findall(r'stroke-width="([\d.]+)"', paths))

    assert ink(True) >= 1.8 * ink(False)


@pytest.mark.parametrize("face", FACES)
def test_the_widths_are_those_of_the_fonts(face: str) -> None:
    # Source: the advance widths in the font files themselves
    # the library carries no types
    font = import_module("fontTools.ttLib").TTFont(FONTS / "ttf" / f"{FACES[face]}.ttf")
    expected = advances(font)

    with (FONTS / "widths.csv").open(encoding="utf-8", newline="") as file:
        table = {
            chr(int(row["code"], 16)): int(row[face])
            for row in csv.DictReader(file)
            if row[face]
        }

    assert table == expected


def advances(font: Any) -> dict[str, int]:
    """Thousandths of an em for each character, figures as tabular figures."""
    tabular: dict[str, str] = {}
    gsub = font["GSUB"].table
    for record in gsub.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for index in record.Feature.LookupListIndex:
                for sub in gsub.LookupList.Lookup[index].SubTable:
                    tabular |= getattr(sub, "ExtSubTable", sub).mapping
    em = font["head"].unitsPerEm
    return {
        chr(code): round(1000 * font["hmtx"][tabular.get(glyph, glyph)][0] / em)
        for code, glyph in font.getBestCmap().items()
    }


def test_figures_are_all_of_one_width() -> None:
    assert len({width(figure, 16, "bold") for figure in "0123456789"}) == 1


def test_every_font_comes_in_both_forms_with_a_licence() -> None:
    ttf = {path.stem for path in (FONTS / "ttf").glob("*.ttf")}
    woff2 = {path.stem for path in (FONTS / "woff2").glob("*.woff2")}

    assert ttf == woff2
    assert len(ttf) == 10
    licences = [path.read_text(encoding="utf-8") for path in FONTS.glob("OFL-*.txt")]
    assert len(licences) == 3
    assert all("SIL Open Font License, Version 1.1" in text for text in licences)
    assert (FONTS / "LICENSE-dejavu.txt").exists()


def test_a_name_too_long_is_cut_with_an_ellipsis_within_its_room() -> None:
    name = "Pressed hazelnut and date base with buckwheat"
    short = shortened(name, 150, 16, "name")

    assert short.endswith("…")
    assert name.startswith(short[:-1])
    assert width(short, 16, "name") <= 150


def test_a_name_is_parted_between_words_first() -> None:
    lines = wrapped("Lemon semolina shortbread", 150, 2, 16, "name")

    assert lines == ("Lemon semolina", "shortbread")


def test_a_letter_keeps_its_accent_when_a_name_is_cut() -> None:
    # e and a combining acute, many times: no cut may fall between the two
    name = "e\u0301" * 40
    short = shortened(name, 100, 16)

    assert short.endswith("\u0301…")


def test_what_a_terminal_would_obey_is_taken_out_of_names() -> None:
    assert cleaned("lemon\x1b[31m\u202e\n curd") == "lemon [31m curd"
