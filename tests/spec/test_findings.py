"""What stands under Watch: each finding on a card, and gone from its mended twin."""

import re
from datetime import date
from pathlib import Path

import pytest

from slabwright.files.folder import Folder
from slabwright.finding import Finding, Severity
from tests.files.kitchens import bare_kitchen, folder_with, worked

ROOT = Path(__file__).parents[2]
TIN = "slab X\ntin 20 x 20 x 5 cm\n"
BASE = (
    TIN + "layer Base\n  kind plain\n  240 g plain flour\n  ends 236 g\n"
    "  density 1.18 g/ml\n"
)
"""5 mm deep: 236 g ÷ 400 cm² ÷ 1.18 g/ml."""
TOP = "layer Top\n  kind plain\n  {}\n  loses 0 g\n  density 1.18 g/ml\n"
TWO = BASE + TOP.format("236 g honey")
PART = TIN + "component Curd\n  200 g honey\n  loses 0 g\nlayer Top from Curd{}\n"
KITCHEN = """
vessels: [{name: small pan, litres: 1}]
scales: [{to_g: 5000, step_g: 1}]
"""

ELSEWHERE = {
    "no_price", "price_old",  # below: they need a list of prices
    "near_enough", "bake_time_moves", "boil_time_moves",  # test_scaling.py
    "nothing_whole_fits",  # test_friendly.py
    "boils_over", "foams_over", "heavy_pour", "over_shelves",  # test_kit.py
    # test_cutting.py
    "pieces_uneven", "piece_topples", "weight_varies", "left_over_strip",
    "allergen_unknown", "may_contain",  # label/test_hiding.py
    # test_label.py
    "chill_rule", "date_kind", "date_outlives_keep", "date_over", "frozen_too_long",
    "frozen_unplanned", "net_outside", "net_too_high", "net_figures", "many_in_pack",
    "post_reading",
    # label/test_declaration_traps.py, label/test_quid.py
    "order_close", "sugars_together", "threshold_near", "reserved_name",
    "named_not_in_it",
    # test_nutrition.py
    "nutrition_unknown", "nutrition_tolerance", "nutrition_contradicts",
    "boil_disagrees", "boil_burns",  # test_nature_boil.py
    "boil_tells_nothing",  # formula/test_boil.py
    "grains", "may_grain", "lactose_sandy",  # nature/test_sugar.py
    "too_hard_cold", "snaps_cold", "too_soft_to_stand",  # test_nature_glass.py
    "wetter_neighbour", "salt_undissolved",  # test_nature_water.py
    "wont_set", "gel_broken_by", "weeps",  # nature/test_gel.py
    "soft_at_keeping", "lauric_with_cocoa",  # nature/test_fat.py
    "splits", "seizes",  # nature/test_emulsion.py
    "denser_than_its_mix", "soda_left",  # nature/test_heat.py, test_raising.py
}  # fmt: skip
PAIRS = [
    # code, severity, the card that raises it, the same card mended
    ("over_rim", "stop", TWO.replace("5 cm", "9 mm"), TWO),
    # 2 mm are 94.4 g: 400 cm² x 0.2 cm x 1.18 g/ml
    (
        "too_thin",
        "look",
        TIN + TOP.format("94 g honey"),
        TIN + TOP.format("95 g honey"),
    ),
    ("one_layer_leads", "note", BASE + TOP.format("600 g honey"), TWO),
    ("density_assumed", "note", BASE.replace("  density 1.18 g/ml\n", ""), BASE),
    ("loss_assumed", "note", BASE.replace("  ends 236 g\n", ""), BASE),
    ("measure_assumed", "note", BASE + TOP.format("1 cup honey"), TWO),
    (
        "measure_assumed",
        "note",
        BASE + TOP.format("200-240 g honey"),
        BASE + TOP.format("1 cup honey = 300 g weighed"),
    ),
    ("not_whole", "look", BASE + TOP.format("2.5 eggs"), BASE + TOP.format("2 eggs")),
    (
        "not_whole",
        "look",
        BASE + TOP.format("1.5 leaves gelatine"),
        BASE + TOP.format("2 leaves gelatine"),
    ),
    (
        "below_scale",
        "look",
        BASE.replace("240 g plain", "2 g fine salt\n  240 g plain"),
        BASE.replace("240 g plain", "11 g fine salt\n  240 g plain"),
    ),
    (
        "over_vessel",
        "stop",
        BASE + TOP.format("into small pan\n  1200 g water"),
        BASE + TOP.format("into small pan\n  900 g water"),
    ),
    ("unknown_ingredient", "look", BASE + TOP.format("236 g moon dust"), TWO),
    (
        "read_as_step",
        "look",
        BASE + TOP.format("236 g honey\n  end 230 g"),
        BASE + TOP.format("240 g honey\n  ends 236 g"),
    ),
    *(
        (
            "heat_without_unit",
            "look",
            BASE + TOP.format(f"240 g honey\n  {step}\n  ends 236 g"),
            BASE + TOP.format(f"240 g honey\n  {like}\n  ends 236 g"),
        )
        for step, like in (
            ("boil to 118", "boil to 118 C"),
            ("stir to 72, then strain", "stir to 72 C, then strain"),
            ("bake at 160-170   20 min", "bake at 160 C   20 min"),
            ("heat to 60 then pour", "heat to 60 pieces"),
            ("cool to 40", "set to 40"),
        )
    ),
    (
        "named_not_weighed",
        "look",
        BASE + TOP.format("236 g honey\n  dust with icing sugar"),
        BASE + TOP.format("236 g honey\n  5 g icing sugar\n  dust with icing sugar"),
    ),
    (
        "named_not_weighed",
        "look",
        BASE + "finish\n  scatter 30 g flaked almonds\n",
        BASE + "  30 g flaked almonds\nfinish\n  scatter the flaked almonds\n",
    ),
    ("left_over", "note", PART.format(", 150 g"), PART.format("")),
    ("more_than_batch", "look", PART.format(", 450 g"), PART.format(", 200 g")),
    (
        "density_differs",
        "look",
        BASE + "  deep 6 mm\n",  # 236 g in 240 ml is 0.98, not 1.18 g/ml
        BASE + "  deep 5 mm\n",
    ),
    ("name_taken", "note", BASE + TOP.format("236 g chocolate"), TWO),
    (
        "not_weighed",
        "stop",
        BASE + TOP.format("3 plain flour"),
        BASE + TOP.format("3 g plain flour"),
    ),
    (
        "bloom_beyond",
        "look",
        BASE + TOP.format("236 g gelatine, 1800 bloom"),
        BASE + TOP.format("236 g gelatine, 180 bloom"),
    ),
    ("no_tin", "look", BASE.replace("tin 20 x 20 x 5 cm\n", ""), BASE),
    ("no_lines", "stop", BASE + "layer Top\n  cool\n", TWO),
    ("no_layers", "stop", TIN, BASE),
    ("same_name", "look", TWO.replace("layer Top", "layer Base"), TWO),
    (
        "keep_without_days",
        "note",
        BASE.replace("layer", "keep chilled, soon\nlayer"),
        BASE.replace("layer", "keep chilled, 3 days\nlayer"),
    ),
    (
        "unknown_layer",
        "look",
        BASE + "  pour when Bse is under 30 C\n",
        BASE + "  pour when Base is under 30 C\n",
    ),
    (
        "either_or",
        "look",
        BASE + TOP.format("236 g honey or maple syrup"),
        TWO,
    ),
]


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Folder:
    return folder_with(tmp_path_factory.mktemp("home"), kitchen=KITCHEN)


def raised(card: str, home: Folder) -> dict[str, Finding]:
    spec = worked(card, home)

    assert spec.errors == ()
    return {finding.code: finding for finding in spec.findings}


@pytest.mark.parametrize(
    ("code", "severity", "card", "mended"), PAIRS, ids=[pair[0] for pair in PAIRS]
)
def test_a_finding_comes_and_goes_with_its_reason(
    code: str, severity: str, card: str, mended: str, home: Folder
) -> None:
    with_it, without = raised(card, home), raised(mended, home)

    assert with_it[code].severity is Severity(severity)
    assert code not in without
    assert with_it[code].where
    assert with_it[code].what.endswith(".")
    assert with_it[code].why.endswith(".")
    assert with_it[code].do.endswith(".")


def test_a_missing_price_is_a_finding_until_it_is_there(tmp_path: Path) -> None:
    rows = "- {ingredient: plain flour, pack: 1 kg, price: 1.20}\n"
    honey = "- {ingredient: honey, pack: 1 kg, price: 7.00}\n"
    day = date(2026, 3, 14)
    bare = worked(TWO, folder_with(tmp_path, prices=rows), day)
    whole = worked(TWO, folder_with(tmp_path, prices=rows + honey), day)

    assert [f.what for f in bare.findings if f.code == "no_price"] == [
        "No price is known for honey."
    ]
    assert "no_price" not in {finding.code for finding in whole.findings}


@pytest.mark.parametrize(
    ("rows", "is_old"),
    [
        ("from: 2025-03-13", False),
        ("from: 2025-03-12", True),
        ("supplier: the mill", False),  # its day isn't known, nor its age
    ],
)
def test_a_price_over_a_year_old_is_a_finding(
    rows: str, is_old: bool, tmp_path: Path
) -> None:
    flour = f"- {{ingredient: plain flour, pack: 1 kg, price: 1.20, {rows}}}\n"
    spec = worked(TWO, folder_with(tmp_path, prices=flour), date(2026, 3, 14))

    assert ("price_old" in {finding.code for finding in spec.findings}) == is_old


def test_without_any_price_nothing_costs_nothing(tmp_path: Path) -> None:
    day = date(2026, 3, 14)
    for rows in ("# none yet\n", "- {ingredient: tahini, pack: 1 kg, price: 7}\n"):
        spec = worked(TWO, folder_with(tmp_path, prices=rows), day)

        assert spec.cost is None
        assert "no_price" not in {finding.code for finding in spec.findings}


def test_every_finding_of_the_program_is_raised_here() -> None:
    source = "\n".join(
        path.read_text("utf-8") for path in (ROOT / "src" / "slabwright").rglob("*.py")
    )
    codes = set(re.findall(r'"([a-z]+(?:_[a-z]+)*)",\s*Severity\.', source))

    assert codes - ELSEWHERE == {pair[0] for pair in PAIRS}


def test_the_mended_twins_are_sound_in_themselves(home: Folder) -> None:
    # so that a twin does not hide behind another fault
    assert set(raised(TWO, home)) == set()
    assert set(raised(BASE, home)) == set()


def test_what_stops_stands_first() -> None:
    spec = worked(TWO.replace("5 cm", "9 mm").replace("  density 1.18 g/ml\n", "", 1))

    weights = [finding.severity for finding in spec.findings]
    order = [Severity.STOP, Severity.LOOK, Severity.NOTE]
    assert weights == sorted(weights, key=order.index)
    assert weights[0] is Severity.STOP


def test_an_unknown_ingredient_names_its_neighbours() -> None:
    (found,) = [
        f
        for f in worked(BASE + TOP.format("236 g caster sugarr dust")).findings
        if f.code == "unknown_ingredient"
    ]

    assert "caster sugar" in found.do
    assert "larder.yaml" in found.do
    assert found.span is not None
    assert found.span.line == 10


def test_a_slab_just_at_the_rim_is_not_over_it() -> None:
    # 5 + 5 mm in a tin of 10
    at_rim = worked(TWO.replace("5 cm", "1 cm"))
    over = worked(TWO.replace("5 cm", "9.9 mm"))

    assert "over_rim" not in {f.code for f in at_rim.findings}
    assert "over_rim" in {f.code for f in over.findings}
    assert at_rim.head_room_mm.number == pytest.approx(0, abs=1e-9)


def test_one_layer_alone_leads_nothing() -> None:
    assert "one_layer_leads" not in {f.code for f in worked(BASE).findings}


@pytest.mark.parametrize(
    ("grams", "low"),
    [
        # half a step of 1 g may be 5 % of what is weighed: from 10 g on it is enough
        ("9.9", True),
        ("10", False),
    ],
)
def test_a_scale_of_one_gram_weighs_ten(grams: str, low: bool) -> None:
    card = BASE.replace("240 g plain", f"{grams} g fine salt\n  240 g plain")

    assert ("below_scale" in {f.code for f in worked(card).findings}) is low


def test_a_finer_scale_settles_it(tmp_path: Path) -> None:
    home = folder_with(
        tmp_path,
        kitchen="scales: [{to_g: 5000, step_g: 1}, {to_g: 300, step_g: 0.1}]\n",
    )
    card = BASE.replace("240 g plain", "2 g fine salt\n  240 g plain")

    assert "below_scale" in {f.code for f in worked(card, bare_kitchen()).findings}
    assert "below_scale" not in {f.code for f in worked(card, home).findings}


def test_what_two_layers_take_of_one_component_is_counted_together() -> None:
    card = (
        TIN + "component Curd\n  300 g honey\n  loses 0 g\n"
        "layer A from Curd, 200 g\nlayer B\n  50 g Curd\n  70 g water\n"
    )
    (found,) = [f for f in worked(card).findings if f.code == "left_over"]

    # 300 - 200 - 50
    assert found.what == "50 g of Curd is left over."
