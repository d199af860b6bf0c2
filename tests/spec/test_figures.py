"""Every figure can be opened: it holds its sum, its range and its standing."""

import re
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from slabwright.figure import Figure, Standing
from slabwright.files.folder import open_folder
from slabwright.files.raw import read_text
from slabwright.publish.figure_json import figure_json
from slabwright.spec.figures import figures_of, find_figures
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out
from tests.files.kitchens import worked

DEMO = Path(__file__).parents[2] / "demo"
CARDS = sorted((DEMO / "slabs").glob("*.card"))
_NUMBER = re.compile(r"[-−]?\d[\d,]*(?:\.\d+)?(?:e[-+]?\d+)?(?P<share>\s?%)?")


@cache
def demo(path: Path) -> Specification:
    home = open_folder(DEMO)
    read = home.read(read_text(path))
    day = date(2026, 11, 25)
    order = Order(home.kitchen, home.book, home.prices, day)
    return work_out(read.card, order, read.mistakes)


def told(figure: Figure) -> bool:
    """Whether the sum says its own result, as closely as its digits go."""
    value = abs(figure.number)
    for found in _NUMBER.finditer(figure.sum):
        text = found.group().rstrip("% ").replace(",", "").replace("−", "-")
        number = abs(float(text)) / (100 if found["share"] else 1)
        last_digit = 10.0 ** -len(text.partition(".")[2])
        rounding = last_digit / (100 if found["share"] else 1) / 2
        if abs(number - value) <= max(rounding * 1.01, 1e-4 * value):
            return True
    return False


@pytest.mark.parametrize("path", CARDS, ids=lambda path: path.stem)
def test_every_sum_says_its_own_result(path: Path) -> None:
    silent = [
        f"{name}: {figure.number} {figure.unit} in '{figure.sum}'"
        for name, figure in figures_of(demo(path))
        if figure.known and not told(figure)
    ]

    assert silent == []


@pytest.mark.parametrize("path", CARDS, ids=lambda path: path.stem)
def test_every_value_lies_in_its_own_range(path: Path) -> None:
    ranged = 0
    for name, figure in figures_of(demo(path)):
        if figure.low is not None:
            ranged += 1
            assert figure.high is not None, name
            assert figure.low < figure.high, name
            slack = 1e-9 * abs(figure.number)
            assert figure.low - slack <= figure.number <= figure.high + slack, name
    assert ranged > 0 or path.stem != "two-tides"


@pytest.mark.parametrize("path", CARDS, ids=lambda path: path.stem)
def test_every_figure_of_the_demonstration_is_known(path: Path) -> None:
    spec = demo(path)
    withheld = {name: f.sum for name, f in figures_of(spec) if not f.known}
    for nature in spec.natures:  # what a layer is like may be beyond all knowledge,
        for aspect in nature.aspects:  # but then it says why
            for one in aspect.figures:
                why = withheld.pop(f"{nature.layer} / {one.name}", None)
                assert why is None or len(why.split()) > 2, one.name

    # vessels and shelves that the shop's kitchen does not tell of, and nothing else
    for name, why in withheld.items():
        assert name.endswith(("/ holds_ml", "/ mixings", "/ loads")), name
        assert why.startswith(("the kitchen has no ", "the kitchen does not say ")), why


@pytest.mark.parametrize("path", CARDS, ids=lambda path: path.stem)
def test_shares_come_to_one(path: Path) -> None:
    spec = demo(path)

    for layers in (spec.layers,):
        assert sum(layer.share_of_mass.number for layer in layers) == pytest.approx(1)
        assert sum(layer.share_of_height.number for layer in layers) == pytest.approx(1)
    for layer in spec.layers:
        lines = sum(line.share_of_total.number for line in layer.lines)
        assert lines == pytest.approx(1)
        for parts in (layer.composition, layer.before):
            summed = [one.number for name, one in parts.items() if name != "saturates"]
            assert sum(summed) == pytest.approx(1, abs=1e-5)
        for share in (layer.water_share, layer.dry_matter_share):
            assert 0 <= share.number <= 1
        dry = 1 - layer.composition["water"].number
        alcohol = layer.composition.get("alcohol")
        dry -= alcohol.number if alcohol else 0
        assert layer.dry_matter_share.number == pytest.approx(dry)


@pytest.mark.parametrize("path", CARDS, ids=lambda path: path.stem)
def test_layers_pieces_and_trim_come_to_the_slab(path: Path) -> None:
    spec = demo(path)
    assert spec.cut is not None

    masses = sum(layer.mass_out_g.number for layer in spec.layers)
    assert spec.mass_g.number == pytest.approx(masses)
    depths = sum(layer.depth_mm.number for layer in spec.layers)
    assert spec.height_mm.number == pytest.approx(depths)
    cut = spec.cut.piece_mass_g.number * spec.cut.pieces.number
    assert cut + spec.cut.trim_g.number == pytest.approx(spec.mass_g.number)
    assert spec.tin is not None
    assert spec.tin.depth_mm is not None
    assert spec.head_room_mm.number == pytest.approx(spec.tin.depth_mm - depths)


def test_two_tides_as_a_baker_would_reckon_it() -> None:
    # 451 g ÷ 600 cm² ÷ 0.75 g/ml = 10.02 mm; 969 + 451 + 446 = 1866 g;
    # 20 pieces of (300 - 10) / 5 = 58 by (200 - 10) / 4 = 47.5 mm;
    # 1866 x 290 x 190 ÷ 60000 ÷ 20 = 85.7 g
    spec = demo(DEMO / "slabs" / "two-tides.card")
    assert spec.cut is not None
    assert spec.cut.piece_length_mm is not None
    assert spec.cut.piece_width_mm is not None

    assert spec.layers[0].depth_mm.number == pytest.approx(10.02, abs=0.005)
    assert spec.mass_g.number == pytest.approx(1866)
    assert spec.cut.piece_length_mm.number == pytest.approx(58)
    assert spec.cut.piece_width_mm.number == pytest.approx(47.5)
    assert spec.cut.piece_mass_g.number == pytest.approx(85.68, abs=0.01)


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("curd depth", "Baked lemon curd / depth_mm"),
        ("how tall", ""),
        ("tall", "slab / height_mm"),
        ("slab height", "slab / height_mm"),
        ("weight of slab", ""),
        ("slab weight", "slab / mass_g"),
        ("pieces", "cut / pieces"),
        ("trim", "cut / trim_g"),
        ("per piece", "cost / ingredients_per_piece"),
        ("jelly water share", "Blackcurrant jelly / water_share"),
        ("jelly after water", "Blackcurrant jelly / after / water"),
        ("JELLY  Depth", "Blackcurrant jelly / depth_mm"),
        ("", ""),
        ("///", ""),
        ("elephant", ""),
    ],
)
def test_a_figure_is_found_by_words_for_it(asked: str, name: str) -> None:
    found = find_figures(demo(DEMO / "slabs" / "two-tides.card"), asked)

    names = [one for one, _ in found]
    assert names[:1] == ([name] if name else []), names


def test_a_whole_name_finds_that_figure_alone() -> None:
    spec = demo(DEMO / "slabs" / "two-tides.card")
    repeated: set[str] = set()
    for name, figure in figures_of(spec):
        if name in repeated:
            continue
        found = find_figures(spec, name)
        assert (name, figure) in found, name
        repeated.add(name)


def test_a_figure_in_json_is_a_plain_number() -> None:
    made = figure_json(Figure(Decimal("8.4"), "GBP", "", Standing.MEASURED))

    assert (made["value"], made["unit"], made["low"]) == (8.4, "GBP", None)
    assert made["standing"] == "measured"


@pytest.mark.parametrize(
    ("lines", "name", "standing"),
    [
        # given grams are worked with; what the card says without weighing is assumed
        ("  90 g honey", "mass_in_g", "worked out"),
        ("  90 g honey = 90 g", "mass_in_g", "assumed"),
        ("  90 g honey\n  loses 0 g", "mass_out_g", "assumed"),
        ("  90 g honey\n  loses 0 g, weighed", "mass_out_g", "worked out"),
        ("  90 g honey\n  ends 88 g", "mass_out_g", "assumed"),
        ("  90 g honey\n  ends 88 g weighed", "mass_out_g", "measured"),
        ("  90 g honey\n  ends 88 g, weighed", "mass_out_g", "measured"),
        ("  90 g honey\n  ends 88 g weighed", "depth_mm", "assumed"),
        (
            "  90 g honey\n  ends 88 g weighed\n  density 1.2 g/ml, measured",
            "depth_mm",
            "worked out",
        ),
        ("  90 g honey\n  deep 3 mm", "depth_mm", "measured"),
        (
            "  90 g honey\n  ends 88 g weighed\n  deep 3 mm",
            "density_g_ml",
            "worked out",
        ),
        ("  90 g honey\n  ends 88 g\n  deep 3 mm", "density_g_ml", "assumed"),
        ("  90 g honey\n  ends 88 g weighed", "water_share", "worked out"),
        ("  1 cup honey\n  loses 0 g, weighed", "mass_out_g", "assumed"),
        ("  80-100 g honey", "mass_in_g", "assumed"),
        ("  90 g honey = 88 g weighed", "mass_in_g", "measured"),
        ("  90 g honey\n  ends 88 g weighed", "lost_g", "worked out"),
    ],
)
def test_a_figure_has_the_weakest_standing_of_what_it_leans_on(
    lines: str, name: str, standing: str
) -> None:
    spec = worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer A\n{lines}\n")

    figure = getattr(spec.layers[0], name)
    assert figure.standing == standing, figure
    assert spec.height_mm.standing == spec.layers[0].depth_mm.standing


def test_a_share_is_no_surer_than_the_whole() -> None:
    spec = worked(
        "slab X\ntin 20 x 20 x 5 cm\nlayer A\n  90 g honey\n  ends 88 g weighed\n"
        "layer B\n  90 g honey\n  ends 88 g\n"
    )

    assert spec.layers[0].mass_out_g.standing is Standing.MEASURED
    assert spec.layers[0].share_of_mass.standing is Standing.ASSUMED
    assert spec.mass_g.standing is Standing.ASSUMED
