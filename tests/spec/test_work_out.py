"""From a card to a specification: what is withheld, what is worked out all the same."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from slabwright.files.folder import Folder
from tests.files.kitchens import folder_with, worked

TIN = "slab X\ntin 20 x 20 x 5 cm\ncut 4 x 4\n"
GOOD = "layer Good\n  236 g honey\n  loses 0 g\n  density 1.18 g/ml\n"
DAY = date(2026, 3, 14)


@pytest.mark.parametrize(
    "bad",
    [
        "ends 500 g", "loses 300 g", "-5 g caster sugar", "nan g honey",
        "5 wibbles caster sugar", "density 9 g/ml", "x" * 10_001,
    ],
)  # fmt: skip
def test_an_error_in_one_layer_leaves_the_other_worked_out(bad: str) -> None:
    spec = worked(f"{TIN}{GOOD}layer Bad\n  90 g caster sugar\n  {bad}\n")
    good, wrong = spec.layers

    assert len(spec.errors) == 1
    # 236 g ÷ 400 cm² ÷ 1.18 g/ml
    assert good.depth_mm.number == pytest.approx(5.0)
    assert good.fat_share.known
    for figure in (wrong.mass_out_g, wrong.depth_mm, wrong.water_share):
        assert figure.value is None
        assert figure.sum
    assert wrong.mass_in_g.number == pytest.approx(90)
    # the slab's own figures lean on both
    assert not spec.height_mm.known
    assert not spec.mass_g.known
    # a cut leans on the tin alone, its weight on the slab
    assert spec.cut is not None
    assert spec.cut.pieces.value == 16
    assert not spec.cut.piece_mass_g.known


def test_a_wrong_tin_leaves_the_weights() -> None:
    spec = worked(f"slab X\ntin 3 x 2\n{GOOD}")

    assert len(spec.errors) == 1
    assert spec.layers[0].mass_out_g.number == pytest.approx(236)
    assert not spec.layers[0].depth_mm.known
    assert not spec.head_room_mm.known


def test_grams_of_the_unknown_still_have_depth_and_cut() -> None:
    # 236 g of anything at 1.18 g/ml on 400 cm² stand 5 mm
    spec = worked(TIN + GOOD.replace("honey", "moon dust"))
    (layer,) = spec.layers

    assert spec.errors == ()
    assert layer.depth_mm.number == pytest.approx(5)
    assert spec.cut is not None
    assert spec.cut.piece_mass_g.number == pytest.approx(236 / 16)
    for figure in (layer.water_share, layer.fat_share, layer.sugars_share):
        assert figure.value is None
        assert "moon dust" in figure.sum
    assert layer.composition == {}


def test_a_line_without_a_weight_withholds_the_layer_alone() -> None:
    spec = worked(f"{TIN}{GOOD}layer B\n  3 plain flour\n  90 g water\n")

    assert spec.layers[0].depth_mm.known
    assert not spec.layers[1].mass_out_g.known
    assert not spec.height_mm.known


def test_a_weight_at_the_end_mends_a_line_without_one() -> None:
    # whatever went in, 236 g came out
    spec = worked(
        f"{TIN}layer B\n  3 plain flour\n  ends 236 g weighed\n  density 1.18 g/ml\n"
    )

    assert spec.layers[0].depth_mm.number == pytest.approx(5)
    assert not spec.layers[0].lost_g.known
    assert not spec.layers[0].water_share.known


def test_without_a_tin_weights_and_composition_are_there() -> None:
    spec = worked(f"slab X\n{GOOD}")

    assert spec.mass_g.number == pytest.approx(236)
    assert spec.layers[0].water_share.known
    assert "names no tin" in spec.layers[0].depth_mm.sum
    assert "names no tin" in spec.area_cm2.sum


def test_a_cut_in_another_tin_weighs_by_its_area() -> None:
    # 40 x 40 cm is four times 20 x 20: 944 g in 16 pieces of 59 g
    spec = worked(TIN.replace("cut 4 x 4", "cut 4 x 4, in square 40 cm") + GOOD)

    assert spec.errors == ()
    assert spec.cut is None
    (other,) = spec.other_cuts
    assert other.piece_mass_g.number == pytest.approx(59)


# --- cost --------------------


@pytest.fixture
def priced(tmp_path: Path) -> Folder:
    return folder_with(
        tmp_path,
        prices=(
            "- {ingredient: plain flour, pack: 1.5 kg, price: 1.20}\n"
            "- {ingredient: 'butter, unsalted', pack: 250 g, price: 1.80}\n"
            "- {ingredient: caster sugar, pack: 1 kg, price: 0.10, from: 2027-01-01}\n"
        ),
    )


def test_the_cost_is_exact_to_the_last_penny(priced: Folder) -> None:
    # 200 g of 1.20 for 1500 g = 0.16; 190 g of 1.80 for 250 g = 1.368; 1.528 ÷ 16
    spec = worked(
        f"{TIN}layer A\n  200 g plain flour\n  190 g butter, unsalted\n", priced, DAY
    )

    assert spec.cost is not None
    assert spec.cost.ingredients.value == Decimal("1.528")
    assert spec.cost.ingredients_per_piece is not None
    assert spec.cost.ingredients_per_piece.value == Decimal("0.0955")
    assert spec.cost.missing == ()
    lines = [line.cost.value for line in spec.layers[0].lines if line.cost]
    assert lines == [Decimal("0.16"), Decimal("1.368")]


def test_what_has_no_price_is_named_and_never_nothing(priced: Folder) -> None:
    # the sugar's price begins next year, honey has none; water costs nothing
    card = f"{TIN}layer A\n  200 g plain flour\n  9 g {{}}\n  50 g water\n"
    for name in ("caster sugar", "honey", "moon dust"):
        spec = worked(card.format(name), priced, DAY)
        assert spec.cost is not None
        assert len(spec.cost.missing) == 1
        assert spec.cost.missing[0].startswith(name.split()[0])
        assert spec.cost.missing[0] in spec.cost.ingredients.sum
        assert spec.layers[0].lines[1].cost is None
        assert spec.cost.ingredients.value == Decimal("0.16")


def test_a_component_costs_what_its_share_of_a_batch_costs(priced: Folder) -> None:
    # a batch: 250 g butter 1.80, loses half: 125 g cost 1.80. 50 g of it 0.72
    card = (
        f"{TIN}component Brown butter\n  250 g butter, unsalted\n  loses 50 % in pan\n"
        "layer A\n  50 g Brown butter\n  200 g plain flour\n"
        "layer B from Brown butter, 25 g\n"
    )
    spec = worked(card, priced, DAY)

    assert spec.cost is not None
    assert [round(one.number, 9) for one in spec.cost.by_layer] == [0.88, 0.36]
    line = spec.layers[0].lines[0]
    assert line.cost is not None
    assert line.cost.number == pytest.approx(0.72)


def test_without_a_price_list_there_is_no_cost() -> None:
    assert worked(TIN + GOOD, on=DAY).cost is None


def test_costs_of_layers_come_to_the_whole(priced: Folder) -> None:
    spec = worked(
        f"{TIN}layer A\n  7 g plain flour\nlayer B\n  13 g butter, unsalted\n",
        priced,
        DAY,
    )

    assert spec.cost is not None
    parts = [one.value for one in spec.cost.by_layer]
    # 7 x 1.20 ÷ 1500 = 0.0056; 13 x 1.80 ÷ 250 = 0.0936
    assert parts == [Decimal("0.0056"), Decimal("0.0936")]
    assert spec.cost.ingredients.value == Decimal("0.0992")


@pytest.mark.parametrize(
    ("tin", "area_cm2"),
    [
        # 30 x 20; 57 x 37; π x 11.5²; a sloping tin by its base
        ("30 x 20 x 5 cm", 600),
        ("57 x 37 x 4.5 cm", 2109),
        ("round 23 cm, 7 cm deep", 415.4756),
        ("32 x 22 cm at the base, 34 x 24 cm at the rim, 4 cm deep", 704),
    ],
)
def test_the_area_of_the_tin_is_a_figure(tin: str, area_cm2: float) -> None:
    area = worked(f"slab X\ntin {tin}\n{GOOD}").area_cm2

    assert area.number == pytest.approx(area_cm2, rel=1e-6)
    assert area.unit == "cm²"


def test_what_the_knife_takes_is_counted_with_the_trim() -> None:
    # 20 x 20 cm, 4 x 4, the knife 2 mm: three cuts each way leave (200 - 6) / 4 =
    # 48.5 mm a side; 16 x 48.5² ÷ 40000 = 94.09 % is kept, 5.91 % of 236 g is not
    spec = worked(TIN.replace("4 x 4", "4 x 4, knife 2 mm") + GOOD)
    assert spec.cut is not None
    assert spec.cut.piece_length_mm is not None

    assert spec.cut.piece_length_mm.number == pytest.approx(48.5)
    assert spec.cut.trim_g.number == pytest.approx(236 * 0.0591)
    assert spec.cut.piece_mass_g.number == pytest.approx(236 * 0.9409 / 16)
