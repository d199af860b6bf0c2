"""What the bench sheet tells the hand: order, running totals, probe, pan, cautions."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.figure import Standing
from slabwright.files.folder import open_folder
from slabwright.formula.step import Band
from slabwright.kitchen import Kitchen
from slabwright.publish.sheet.steps import paragraphs
from slabwright.spec.bench import BenchSheet, BenchStep, Making, bench_sheet
from slabwright.spec.bench_weigh import Weighing
from slabwright.spec.cautions import cautions
from slabwright.spec.probe import NOT_CHECKED, lower_here, probe_error, reading
from tests.files.kitchens import folder_with, worked

DEMO = Path(__file__).parents[2] / "demo"
SCALES = "scales: [{to_g: 5000, step_g: 1}, {to_g: 300, step_g: 0.1}]"


def sheet(card: str, tmp_path: Path | None = None, kitchen: str = "") -> BenchSheet:
    home = folder_with(tmp_path, kitchen=kitchen) if tmp_path and kitchen else None
    return bench_sheet(worked(card, home), Making())


def demo_sheet(name: str) -> BenchSheet:
    card = (DEMO / "slabs" / f"{name}.card").read_text("utf-8")
    return bench_sheet(worked(card, open_folder(DEMO)), Making())


def lines(made: BenchSheet) -> list[Weighing]:
    return [one for job in made.jobs for group in job.groups for one in group.lines]


def steps(made: BenchSheet) -> list[BenchStep]:
    return [step for job in made.jobs for step in job.steps]


def keys(made: BenchSheet) -> list[str]:
    return [caution.key for step in steps(made) for caution in step.cautions]


# --- what the scale reads --------------------


@pytest.mark.parametrize("name", ["harbour-lamp", "two-tides", "lantern-walk"])
def test_a_pencil_finds_every_running_total_right(name: str) -> None:
    for job in demo_sheet(name).jobs:
        for group in job.groups:
            on_it = Decimal(0)
            for one in group.lines:
                assert one.add_g is not None
                assert one.reads_g is not None
                on_it += one.add_g
                assert abs(one.reads_g - on_it) <= Decimal("0.5")


@given(st.lists(st.floats(10, 400), min_size=1, max_size=10))
def test_whole_grams_add_up_to_the_gram(grams: list[float]) -> None:
    card = "slab X\nlayer A\n  into bowl\n"
    card += "".join(f"  {g:.3f} g plain flour\n" for g in grams)

    (group,) = sheet(card).jobs[0].groups

    adds = [one.add_g for one in group.lines]
    for count, one in enumerate(group.lines, start=1):
        assert one.reads_g == sum(add for add in adds[:count] if add is not None)


def test_half_a_step_of_the_scale_is_rounded_up() -> None:
    card = "slab X\nlayer A\n  99.5 g plain flour\n  99.4 g sugar\n  2.25 g salt\n"

    adds = [str(one.add_g) for one in lines(sheet(card))]

    assert [float(add) for add in adds] == [100, 99, 2.3]


def test_what_goes_in_after_a_boil_is_weighed_apart_from_0() -> None:
    caramel = demo_sheet("harbour-lamp").jobs[1]

    first, aside = caramel.groups
    assert [str(one.reads_g) for one in first.lines][-1] == "885.0"
    assert aside.after == "boil to 118 C"
    assert [(one.name, str(one.reads_g)) for one in aside.lines] == [
        ("smoked sea salt", "5.0")
    ]


def test_small_lines_are_marked_and_in_the_total_that_the_bowl_shows() -> None:
    base = demo_sheet("two-tides").jobs[0].groups[0]

    zest, salt = base.lines[-2:]
    assert (zest.is_small, salt.is_small) == (True, True)
    assert (zest.add_g, zest.reads_g) == (Decimal("4.0"), Decimal(499))
    assert salt.reads_g == Decimal(501)


def test_a_bowl_that_outgrows_the_scale_begins_again() -> None:
    card = "slab X\nlayer A\n  into bowl\n  3000 g plain flour\n  2500 g caster sugar\n"

    first, again = sheet(card).jobs[0].groups

    assert (first.is_again, again.is_again) == (False, True)
    assert [one.reads_g for one in again.lines] == [Decimal(2500)]


def test_a_line_too_heavy_for_the_scale_goes_in_parts() -> None:
    card = "slab X\nlayer A\n  12 kg plain flour\n"

    assert lines(sheet(card))[0].says == "in 3 goes"


def test_a_line_without_a_weight_has_no_reading_and_the_scale_begins_anew() -> None:
    card = "slab X\nlayer A\n  into bowl\n  100 g plain flour\n  3 jars grunge\n"
    card += "  50 g caster sugar\n  butter for greasing\n"

    flour, grunge, sugar, butter = lines(sheet(card))

    assert flour.reads_g == 100
    assert (grunge.add_g, grunge.reads_g) == (None, None)
    assert "zero the scale" in grunge.says
    assert sugar.reads_g == 50
    assert (butter.reads_g, butter.says) == (None, "for greasing")


def test_eggs_are_counted_beside_their_grams() -> None:
    curd = demo_sheet("two-tides").jobs[1]

    eggs = next(one for g in curd.groups for one in g.lines if one.name == "eggs")
    assert (eggs.count, eggs.add_g, eggs.notes) == ("6", Decimal(300), ("medium",))


def test_a_component_of_two_layers_is_made_once_for_both() -> None:
    card = """slab X
tin 30 x 20 x 5 cm
component Curd
  into pan
  100 g lemon juice
  100 g caster sugar
layer A from curd, 300 g
layer B
  200 g plain flour
layer C from curd, 100 g
"""
    made = sheet(card)

    names = [(job.name, job.takes) for job in made.jobs]
    assert names[0] == ("Curd", "")
    assert ("A", "300 g of Curd") in names
    total = sum(one.add_g or 0 for one in made.jobs[0].groups[0].lines)
    batch = made.spec.components[0].batch.mass_out
    assert batch is not None
    assert float(total) == pytest.approx(200 * 400 / batch.value, abs=1)


def test_a_component_on_a_line_is_made_first() -> None:
    card = """slab X
component Curd
  100 g lemon juice
  100 g caster sugar
layer Cream
  50 g Curd
  200 g double cream 48%
"""
    assert [job.name for job in sheet(card).jobs] == ["Curd", "Cream"]


def test_a_batch_that_stands_on_the_card_is_made_whole_and_some_is_left() -> None:
    card = """slab X
component Curd
  100 g lemon juice
  100 g caster sugar
layer A from curd, 0.5 batch
"""
    curd, layer = sheet(card).jobs

    assert [one.add_g for one in curd.groups[0].lines] == [Decimal(100), Decimal(100)]
    assert layer.takes.endswith(" g of Curd")
    assert layer.groups == ()


def test_a_dough_that_is_baked_in_its_layer_is_not_called_raw() -> None:
    card = """slab X
component Dough
  100 g plain flour
  50 g butter
layer A from Dough, 120 g
"""
    baked = sheet(card + "  bake 170 C 20 min\n")
    raw = sheet(card)

    def keys(made: BenchSheet) -> set[str]:
        return {c.key for job in made.jobs for s in job.steps for c in s.cautions}

    assert [step.step.text for step in baked.jobs[1].steps if step.step] == [
        "bake 170 C 20 min"
    ]
    assert "raw_flour" not in keys(baked)
    assert "raw_flour" in keys(raw)


# --- the probe --------------------


def test_a_probe_that_reads_high_is_met_halfway() -> None:
    # 101.0 in boiling water at 5 m, where water boils at 99.96: 1.04 high, so
    # 118 true is 119 on it
    found = reading(Band(118, 118), Kitchen(altitude_m=5, probe_in_boiling_water_C=101))

    assert found.probe_C is not None
    assert found.probe_C.low == pytest.approx(119.04, abs=0.01)
    assert found.figure is not None
    assert found.figure.sources


def test_a_true_probe_in_the_mountains_is_not_taken_for_a_wrong_one() -> None:
    # water boils at about 95.0 °C at 1500 m
    kitchen = Kitchen(altitude_m=1500, probe_in_boiling_water_C=95.0)

    assert probe_error(kitchen).number == pytest.approx(0, abs=0.1)
    lower = lower_here(kitchen)
    assert lower is not None
    assert lower.number == pytest.approx(5.0, abs=0.1)
    assert lower_here(Kitchen()) is None


def test_without_a_reading_the_sheet_says_so() -> None:
    found = reading(Band(118, 118), Kitchen())

    assert (found.probe_C, found.says) == (None, NOT_CHECKED)


def test_the_cold_is_not_corrected_by_boiling_water() -> None:
    found = reading(Band(8, 8), Kitchen(probe_in_boiling_water_C=103))

    assert (found.probe_C, found.says) == (None, "")


def test_an_oven_is_no_probe() -> None:
    bake = next(
        one for one in steps(demo_sheet("two-tides"))
        if one.step and one.step.text.startswith("bake 130")
    )  # fmt: skip

    assert bake.is_at is None
    assert bake.ends_at is not None
    assert bake.ends_at.probe_C is not None
    assert bake.ends_at.probe_C.low == pytest.approx(83.04, abs=0.01)


# --- the pan --------------------

CARAMEL = """slab X
layer Caramel
  into wide pan
  195 g caster sugar
  200 g whole milk
  boil to 118 C
  {end}
  5 g fine salt
  pour
"""


def test_the_pan_and_all_is_told_where_the_kitchen_knows_it(tmp_path: Path) -> None:
    kitchen = "vessels: [{name: wide pan, litres: 12, empty_g: 2100}]\n"

    made = sheet(CARAMEL.format(end="ends 240 g"), tmp_path, kitchen)

    (pan,) = [one.pan for one in steps(made) if one.pan]
    assert pan.contents_g.number == 240
    assert pan.reads_g is not None
    assert pan.reads_g.number == 2340
    assert pan.reads_g.sum.startswith("2,100 g empty + 240 = 2,340 g")


def test_the_pan_is_left_blank_where_nobody_weighed_it() -> None:
    (pan,) = [o.pan for o in steps(sheet(CARAMEL.format(end="ends 240 g"))) if o.pan]

    assert (pan.empty_g, pan.reads_g) == (None, None)
    assert pan.contents_g.standing is Standing.ASSUMED


def test_a_share_of_water_gives_the_pan_weight_too() -> None:
    made = sheet(CARAMEL.format(end="loses 100 g"))

    (pan,) = [one.pan for one in steps(made) if one.pan]
    assert pan.contents_g.number == pytest.approx(295)


def test_what_stands_in_another_bowl_is_not_in_the_pan() -> None:
    # 12 g of gelatine and 60 g of water wait in the bowl: 300 - 72 g in the pan
    card = (
        "slab X\nlayer Mallow\n  into bowl\n  12 g leaf gelatine\n  60 g water\n"
        "  into small pan\n  200 g caster sugar\n  80 g water\n  boil to 118 C\n"
        "  ends 300 g\n"
    )
    (pan,) = [one.pan for one in steps(sheet(card)) if one.pan]

    assert pan.vessel == "small pan"
    assert pan.contents_g.number == pytest.approx(228, abs=0.1)


def test_a_boil_alone_tells_the_pan_with_its_likely_range(tmp_path: Path) -> None:
    kitchen = "vessels: [{name: wide pan, litres: 12, empty_g: 2100}]\n"
    made = sheet(CARAMEL.format(end="note no weight"), tmp_path, kitchen)
    (pan,) = [one.pan for one in steps(made) if one.pan]
    (boiled,) = [one for one in steps(made) if one.pan]
    said = " ".join(run[1] for part in paragraphs(boiled) for run in part)

    assert pan.contents_g is pan.by_boiling_g
    assert pan.reads_g is not None
    assert pan.reads_g.low is not None
    assert pan.reads_g.high is not None
    assert pan.reads_g.low < pan.reads_g.number < pan.reads_g.high
    low, high = round(pan.reads_g.low), round(pan.reads_g.high)
    assert f"likely {low:,} to {high:,}" in said.replace("\u202f", ",")


def test_what_goes_in_after_the_boil_is_taken_off_again() -> None:
    # the jelly ends at 446 g, of which 10 g of lemon juice went in off the heat
    pans = [one.pan for one in steps(demo_sheet("two-tides")) if one.pan]

    assert [pan.contents_g.number for pan in pans] == [436]


def test_a_bake_leaves_no_pan_to_weigh() -> None:
    card = "slab X\nlayer A\n  100 g plain flour\n  50 g whole milk\n"

    made = sheet(card + "  cook\n  bake 160 C\n  ends 130 g\n")

    assert [one.pan for one in steps(made) if one.pan] == []


# --- cautions --------------------


def test_the_demo_has_each_caution_once_at_its_step() -> None:
    lamp = demo_sheet("harbour-lamp")

    assert keys(lamp) == ["hot_sugar", "hot_knife"]
    (boil,) = [
        s for s in steps(lamp) if s.cautions and s.cautions[0].key == "hot_sugar"
    ]
    assert boil.step is not None
    assert boil.step.text.startswith("boil to 118")
    assert keys(demo_sheet("two-tides")) == ["cooling", "hot_knife"]
    assert keys(demo_sheet("lantern-walk")) == ["hot_knife"]


def test_two_sugar_boils_burn_only_once() -> None:
    layer = "layer {}\n  200 g caster sugar\n  90 g whole milk\n  boil to 118 C\n"

    made = sheet("slab X\n" + layer.format("A") + layer.format("B"))

    assert keys(made).count("hot_sugar") == 1


@pytest.mark.parametrize(
    ("body", "wanted"),
    [
        ("2 eggs, medium\n  100 g caster sugar\n  whisk", "raw_egg"),
        ("100 g plain flour\n  60 g butter\n  press", "raw_flour"),
        ("100 g egg white\n  200 g caster sugar\n  boil to 118 C\n  whisk in",
         "hot_syrup_whisk"),
        ("4 kg caster sugar\n  1 kg whole milk\n  boil to 118 C\n  pour", "heavy_pan"),
        ("200 g double cream 48%\n  chill 2 h", "cooling"),
        ("6 kg plain flour\n  2 kg butter\n  bake 160 C", "lifting"),
        ("100 g caster sugar\n  flame with a torch", "hot_knife"),
    ],
)  # fmt: skip
def test_each_caution_comes_where_its_hazard_is(body: str, wanted: str) -> None:
    assert wanted in keys(sheet(f"slab X\nlayer A\n  {body}\n"))


@pytest.mark.parametrize(
    ("body", "unwanted"),
    [
        ("2 eggs, medium\n  100 g caster sugar\n  bake 160 C", "raw_egg"),
        ("2 eggs, medium\n  stir to 82 C", "raw_egg"),
        ("100 g plain flour\n  60 g butter\n  bake 160 C", "raw_flour"),
        ("100 g cornflour\n  60 g butter\n  press", "raw_flour"),
        ("100 g caster sugar\n  60 g water\n  boil to 104 C", "hot_sugar"),
        ("100 g plain flour\n  bake 180 C", "hot_sugar"),
        ("200 g dark chocolate 60%\n  chill 2 h", "cooling"),
        (
            "200 g plain flour\n  2 eggs, medium\n  kind sponge\n  bake 160 C\n  cool",
            "cooling",
        ),
        ("600 g plain flour\n  bake 160 C", "lifting"),
    ],
)
def test_no_caution_without_its_hazard(body: str, unwanted: str) -> None:
    assert unwanted not in keys(sheet(f"slab X\nlayer A\n  {body}\n"))


def test_cautions_are_short_and_sourced() -> None:
    for caution in cautions().values():
        assert len(caution.text) < 230
        assert caution.source.text
        assert "safe" not in caution.text.casefold()


# --- what is in it --------------------


def test_allergens_come_by_our_larder_and_the_unknown_is_named() -> None:
    card = (
        "slab X\nlayer A\n  100 g plain flour\n  50 g grunge\n  20 g dark chocolate 60%"
    )

    contents = sheet(card).contents

    assert contents.contains == ("wheat",)
    assert "soya" in contents.may_hide
    assert contents.unknown == ("grunge",)
