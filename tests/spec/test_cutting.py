"""The cut with its figures: what is promised, left over, at the edge; what to watch."""

from pathlib import Path

import pytest

from slabwright.figure import Standing
from slabwright.finding import Severity
from slabwright.spec.cut_sheet import cut_sheet, tried
from slabwright.spec.figures import find_figures
from slabwright.spec.specification import CutFigures, Specification
from tests.files.kitchens import folder_with, worked

SLAB = (
    "slab X\ntin {tin}\ncut {cut}\nlayer Base\n  kind plain\n  {g} g plain flour\n"
    "  loses 0 g\n  density 1 g/ml\n"
)
"""1 g/ml: as many grams as millilitres, so 600 g on 600 cm² stand 10 mm high."""


def spec_of(cut: str, tin: str = "30 x 20 x 5 cm", g: float = 1800) -> Specification:
    return worked(SLAB.format(cut=cut, tin=tin, g=g))


def figures(cut: str, tin: str = "30 x 20 x 5 cm", g: float = 1800) -> CutFigures:
    spec = spec_of(cut, tin, g)
    assert spec.errors == ()
    assert spec.cut is not None
    return spec.cut


def test_what_is_left_over_and_trimmed_by_hand() -> None:
    # 296 = 6 × 48 + 8, 196 = 4 × 48 + 4; 1800 g on 600 cm² are 3 g/cm²
    cut = figures("squares 48 mm, trim 2 mm")

    assert cut.trim_g.number == pytest.approx(1800 - 24 * 4.8**2 * 3)
    assert cut.left_over_g.number == pytest.approx((29.6 * 19.6 - 24 * 4.8**2) * 3)
    assert cut.piece_mass_g.number == pytest.approx(4.8**2 * 3)
    # at the left and the near edge; strips lie at the other two
    assert cut.edge_pieces.number == 6 + 4 - 1


def test_the_promise_leans_on_how_level_and_how_true(tmp_path: Path) -> None:
    card = SLAB.format(cut="5 x 4, trim 5 mm", tin="30 x 20 x 5 cm", g=1800)
    card = card.replace("loses 0 g", "ends 1800 g weighed")
    usual = worked(card).cut
    home = folder_with(tmp_path, kitchen="level_mm: 0\nknife_off_mm: 0\n")
    true = worked(card, home).cut
    assert usual is not None
    assert true is not None

    assert usual.promised_g.standing is Standing.ASSUMED
    assert "1 mm out of level" in usual.promised_g.sum
    assert usual.promised_g.number < 0.95 * usual.piece_mass_g.number
    assert true.promised_g.number == pytest.approx(true.piece_mass_g.number)
    assert true.promised_g.standing is true.piece_mass_g.standing
    assert true.promised_g.standing is not Standing.ASSUMED


def test_the_promise_keeps_the_range_of_the_slab() -> None:
    spec = worked(
        "slab X\ntin 20 x 20 x 5 cm\ncut 4 x 4\nlayer A\n  kind plain\n"
        "  5 eggs, medium\n  loses 0 g\n  density 1 g/ml\n"
    )
    cut = spec.cut
    assert cut is not None
    assert cut.promised_g.low is not None
    assert cut.promised_g.high is not None
    assert cut.promised_g.low < cut.promised_g.number < cut.promised_g.high


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("slab X\ntin 20 x 20 cm\ncut 4 x 4\nlayer A\n  moon dust\n", "not"),
        (
            "slab X\ntin 20 x 20 cm, divided 2 x 2, dividers 2 mm\ncut 2 x 2\nlayer A\n"
            "  kind plain\n  400 g plain flour\n  loses 0 g\n",
            "cells are filled",
        ),
    ],
)
def test_what_cannot_be_promised_is_withheld(text: str, why: str) -> None:
    cut = worked(text).cut

    assert cut is not None
    assert not cut.promised_g.known
    assert why in cut.promised_g.sum


def test_a_piece_beyond_a_rounded_corner_promises_nothing() -> None:
    # a corner of radius 10 cm leaves nothing of a square of 2 cm in it
    cut = figures("squares 20 mm", "30 x 20 x 5 cm, corners 10 cm")

    assert cut.cutting.spread_low == 0
    assert not cut.promised_g.known
    assert "trim it off" in cut.promised_g.sum


def test_every_tin_of_several_counts() -> None:
    one, two = figures("5 x 4"), figures("5 x 4", "2 of 30 x 20 x 5 cm", 3600)

    assert two.pieces.number == 40
    assert two.piece_mass_g.number == pytest.approx(one.piece_mass_g.number)
    assert two.promised_g.number == pytest.approx(one.promised_g.number)
    assert two.edge_pieces.number == 28


def test_its_figures_can_be_opened_by_name() -> None:
    spec = spec_of("squares 48 mm")

    for words in ("cut promised", "cut left over", "cut edge"):
        ((_, figure),) = find_figures(spec, words)
        assert figure.known
        assert figure.sum


def test_a_slab_of_unknown_height_is_cut_all_the_same() -> None:
    spec = worked(
        "slab X\ntin 20 x 20 cm\ncut 60-75 g pieces\nlayer A\n  1000 g moon dust\n"
    )

    assert spec.errors == ()
    assert spec.cut is not None
    assert spec.cut.pieces.number in range(14, 17)


# --- what to watch --------------------


@pytest.mark.parametrize(
    ("code", "severity", "cut", "mended", "tin", "g"),
    [
        ("piece_topples", "look", "strips 25 mm", "5 x 4", "30 x 20 x 5 cm", 1800),
        ("left_over_strip", "note", "squares 8 cm", "5 x 4", "30 x 20 x 5 cm", 1800),
        (
            "pieces_uneven", "look", "9 x 6", "9 x 6, trim 9 mm",
            "30 x 20 x 5 cm, corners 3 cm", 600,
        ),
        ("weight_varies", "look", "16 x 11", "5 x 4", "30 x 20 x 5 cm", 600),
    ],
)  # fmt: skip
def test_a_finding_and_its_mended_twin(
    code: str, severity: str, cut: str, mended: str, tin: str, g: float
) -> None:
    found = {one.code: one for one in spec_of(cut, tin, g).findings}
    twin = {one.code for one in spec_of(mended, tin, g).findings}

    assert found[code].severity is Severity(severity)
    assert code not in twin
    for part in (found[code].what, found[code].why, found[code].do):
        assert part.endswith(".")
    assert found[code].span is not None


def test_what_to_watch_in_another_tin_says_which() -> None:
    card = SLAB.format(cut="5 x 4", tin="30 x 20 x 5 cm", g=1800)
    card = card.replace(
        "cut 5 x 4\n", "cut 5 x 4\ncut 20 mm squares, in 23 cm square\n"
    )
    found = [one for one in worked(card).findings if one.code == "piece_topples"]

    assert [one.where for one in found] == ["X in 23 cm square"]


# --- in full --------------------


def test_many_slabs_cut_on_paper_reach_what_is_promised() -> None:
    sheet = tried(cut_sheet(spec_of("5 x 4, trim 5 mm")))

    assert sheet.tried is not None
    assert sheet.slab_g == pytest.approx(1800)
    reached_g = sheet.tried.reached_by() * 1800
    assert reached_g == pytest.approx(sheet.cut.promised_g.number, rel=0.006)


def test_the_choices_stand_with_the_best_first() -> None:
    sheet = cut_sheet(spec_of("60-75 g pieces, at least 30 mm, trim 5 mm"))

    assert len(sheet.options) > 1
    first = sheet.options[0]
    assert first.pieces == sheet.cut.cutting.pieces
    shares = [round(one.in_range, 2) for one in sheet.options]
    assert shares == sorted(shares, reverse=True)
    assert cut_sheet(spec_of("5 x 4")).options == ()
