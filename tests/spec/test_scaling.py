"""Scaling: there and back, exact in sloping tins, and what it may not do."""

import csv
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from slabwright.files.folder import open_folder
from slabwright.files.raw import Text, read_text
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin
from slabwright.spec.scaled_card import Weighed, reweighed
from slabwright.spec.scaling import Scaled, scale
from slabwright.spec.specification import Specification
from slabwright.spec.wanted import NamedTin, ScalingError, Wanted
from slabwright.spec.work_out import Order, work_out

DEMO = Path(__file__).parents[2] / "demo"
TRADE = Path(__file__).parents[1] / "reference/trade/tins_and_pieces.csv"
HOME = open_folder(DEMO)
ORDER = Order(HOME.kitchen, HOME.book)
SLOPING = Tin.rectangular(320, 220, 40, rim=Outline(340, 240))


def worked(text: str) -> Specification:
    read = HOME.read(Text(text))
    return work_out(read.card, ORDER, read.mistakes)


def demo(name: str) -> Specification:
    return worked(read_text(DEMO / "slabs" / f"{name}.card").text)


TIDES = demo("two-tides")


def to(*tins: Tin, of: Specification = TIDES, **wanted: Any) -> Scaled:
    named = tuple(NamedTin(tin.describe(), tin) for tin in tins)
    return scale(of, replace(Wanted(named), **wanted), ORDER)


def depths(spec: Specification) -> list[float]:
    return [layer.depth_mm.number for layer in spec.layers]


def weights(spec: Specification) -> list[float]:
    return [line.mass_g.number for layer in spec.layers for line in layer.lines]


@pytest.mark.parametrize(
    ("row_id", "own", "other"),
    [
        ("CP017", Tin.rectangular(300, 200), Tin.rectangular(570, 370)),
        ("CP007", Tin.square(8 * 25.4), Tin.rectangular(13 * 25.4, 9 * 25.4)),
        ("CP008", Tin.square(9 * 25.4), Tin.square(8 * 25.4)),
    ],
)
def test_multipliers_between_usual_tins(row_id: str, own: Tin, other: Tin) -> None:
    # Source: rows of tests/reference/trade, each with its own
    with TRADE.open(encoding="utf-8", newline="") as file:
        known = next(row for row in csv.DictReader(file) if row["id"] == row_id)
    card = f"slab A\ntin {own.describe()}\nlayer B\n  100 g caster sugar\n"

    scaled = to(other, of=worked(card))

    digits = len(known["value_low"].partition(".")[2])
    assert round(scaled.multiplier.number, digits) == float(known["value_low"])


def test_equal_depth_in_a_sloping_tin_by_another_integral() -> None:
    scaled = to(SLOPING)
    there = scaled.tins[0].spec

    assert depths(there) == pytest.approx(depths(TIDES), rel=1e-9)

    def area_mm2(height_mm: float) -> float:
        slope = min(height_mm, 40.0) / 40
        return (320 + 20 * slope) * (220 + 20 * slope)

    bottom_mm = 0.0
    for layer in there.layers:
        top_mm = bottom_mm + layer.depth_mm.number
        volume_mm3 = quad(area_mm2, bottom_mm, top_mm, points=[40.0])[0]
        mass_g = volume_mm3 / 1000 * layer.density_g_ml.number
        assert layer.mass_out_g.number == pytest.approx(mass_g, rel=1e-8)
        bottom_mm = top_mm


@given(st.floats(150, 500), st.floats(120, 400), st.floats(0, 30), st.integers(1, 4))
def test_there_and_back(
    length_mm: float, width_mm: float, flare_mm: float, count: int
) -> None:
    rim = Outline(length_mm + flare_mm, width_mm + flare_mm)
    other = Tin.rectangular(length_mm, width_mm, 45, rim=rim).times(count)

    there = to(other).tins[0].spec
    back = to(Tin.rectangular(300, 200, 50), of=there).tins[0].spec

    assert weights(back) == pytest.approx(weights(TIDES), rel=1e-9)
    assert depths(back) == pytest.approx(depths(TIDES), rel=1e-9)


def test_shares_of_the_formula_stay_in_a_straight_tin() -> None:
    there = to(Tin.round(200, 70)).tins[0].spec

    for was, now in zip(TIDES.layers, there.layers, strict=True):
        assert now.water_share.number == pytest.approx(was.water_share.number)
        assert now.lost_g.number / was.lost_g.number == pytest.approx(0.5236, rel=1e-4)


def test_several_kinds_of_tin_share_one_weighing() -> None:
    square, frame = Tin.square(230, 50), Tin.rectangular(570, 370, 45)
    scaled = to(square, frame, SLOPING)

    apart = [weights(place.spec) for place in scaled.tins]
    assert weights(scaled.making) == pytest.approx(
        [sum(column) for column in zip(*apart, strict=True)], rel=1e-9
    )
    for place in scaled.tins:
        assert depths(place.spec) == pytest.approx(depths(TIDES), rel=1e-9)
    assert not any(one.code == "no_tin" for one in scaled.making.findings)


def test_a_mass_for_several_tins_stands_equally_deep_in_all() -> None:
    scaled = to(Tin.square(230, 50), SLOPING, mass_g=3000.0)

    masses = [place.spec.mass_g.number for place in scaled.tins]
    assert sum(masses) == pytest.approx(3000, rel=1e-9)
    first, second = (depths(place.spec) for place in scaled.tins)
    assert first == pytest.approx(second, rel=1e-9)


def test_trays_and_pieces_come_in_whole_trays() -> None:
    assert to(trays=3).multiplier.number == pytest.approx(3)
    forty, one_more = to(pieces=40), to(pieces=41)

    assert [s.tins[0].named.tin.count for s in (forty, one_more)] == [2, 3]
    assert weights(forty.making) == pytest.approx([2 * g for g in weights(TIDES)])


def test_a_height_keeps_the_layers_in_proportion() -> None:
    there = to(height_mm=40.0).tins[0].spec

    assert there.height_mm.number == pytest.approx(40, rel=1e-9)
    ratios = [n / w for n, w in zip(depths(there), depths(TIDES), strict=True)]
    assert max(ratios) == pytest.approx(min(ratios), rel=1e-9)


def test_one_layer_alone_changes() -> None:
    scaled = to(layers_mm=(("curd", 12.0),))
    was, now = depths(TIDES), depths(scaled.tins[0].spec)

    assert now == pytest.approx([was[0], 12, was[2]], rel=1e-9)
    assert [m.number for m in scaled.multipliers] == pytest.approx(
        [1, 12 / was[1], 1], rel=1e-9
    )


@pytest.mark.parametrize("tin", [Tin.rectangular(300, 200, 50), SLOPING])
def test_as_much_as_the_rim_allows(tin: Tin) -> None:
    full = to(tin, head_room_mm=3.0).tins[0].spec

    assert full.head_room_mm.number == pytest.approx(3, abs=1e-9)


def test_the_whole_batch_in_another_tin_tells_the_depth() -> None:
    there = to(Tin.square(230, 50), whole_batch=True).tins[0].spec

    assert weights(there) == pytest.approx(weights(TIDES))
    assert there.height_mm.number == pytest.approx(
        TIDES.height_mm.number * 600 / 529, rel=1e-9
    )


def test_a_measured_depth_leaves_its_density_behind() -> None:
    card = "slab A\ntin 30 x 20 cm\nlayer B\n  600 g caster sugar\n  ends 600 g\n"
    measured = worked(card + "  deep 12.5 mm\n")  # 600 ÷ 600 cm² ÷ 12.5 mm: 0.8 g/ml
    there = to(Tin.square(200), of=measured).tins[0].spec

    assert there.layers[0].density_g_ml.number == pytest.approx(0.8)
    assert there.layers[0].depth_mm.number == pytest.approx(12.5)


COMPONENTS = """\
slab A
tin 30 x 20 cm
component Curd
  300 g lemon juice
  300 g caster sugar
  ends 500 g
component Cream
  200 g Curd
  200 g double cream 48%
  loses 0 %
layer One from Curd, 200 g
layer Two from Cream, 0.5 batch
layer Three
  100 g Curd
  200 g plain flour
"""


def test_components_grow_with_what_is_taken_of_them() -> None:
    card = worked(COMPONENTS)
    twice = to(trays=2, of=card).making

    was = {one.name: one for one in card.components}
    for one in twice.components:
        before = was[one.name]
        grown = [n.mass_g.number / w.mass_g.number
                 for n, w in zip(one.lines, before.lines, strict=True)]  # fmt: skip
        assert grown == pytest.approx([2] * len(grown)), one.name
    for before, after in zip(card.layers, twice.layers, strict=True):
        assert after.mass_out_g.number == pytest.approx(2 * before.mass_out_g.number)


def test_lines_that_take_batches_and_components_inside_components_grow_once() -> None:
    text = COMPONENTS.replace("100 g Curd", "0.2 batch Curd")
    card = worked(text)
    twice = to(trays=2, of=card).making

    for before, after in zip(card.layers, twice.layers, strict=True):
        assert after.mass_out_g.number == pytest.approx(2 * before.mass_out_g.number)
    was, now = (
        {f.what for f in spec.findings if f.code in {"left_over", "more_than_batch"}}
        for spec in (card, twice)
    )
    assert len(was) == len(now)  # as much is left over of each, and no more is missing


def test_a_component_under_another_name_grows_too() -> None:
    text = COMPONENTS.replace(
        "layer One from Curd, 200 g", "layer One from Curd, 200 g\n  chill 20 min"
    )
    card = worked(text)
    curd = {c.name: c for c in to(trays=3, of=card).making.components}["Curd"]

    assert curd.lines[0].mass_g.number == pytest.approx(900)


def test_a_component_grows_with_the_layer_that_takes_it_and_no_other() -> None:
    card = worked(
        "slab A\ntin 30 x 20 cm\ncomponent Curd\n  300 g lemon juice\n  ends 300 g\n"
        "layer One from Curd, 200 g\n  chill 20 min\nlayer Two\n  400 g honey\n"
    )
    deep = card.layers[0].depth_mm.number
    scaled = to(of=card, layers_mm=(("One", 2 * deep),)).making

    (curd,) = scaled.components
    assert curd.lines[0].mass_g.number == pytest.approx(600, rel=1e-6)


@pytest.mark.parametrize(
    "cut",
    [
        "fingers 100 x 25 mm",
        "diamonds 40 mm, 60 deg",
        "strips 30 mm",
        "squares 40 mm, each into 2 triangles",
    ],
)
def test_pieces_of_a_size_are_as_large_in_another_tin(cut: str) -> None:
    card = worked(f"slab A\ntin 30 x 20 cm\ncut {cut}\nlayer B\n  900 g honey\n")
    there = to(Tin.square(230), of=card).tins[0].spec

    assert there.cut is not None
    assert there.cut.said.text == cut
    assert there.cut.cutting.shape == card.cut.cutting.shape if card.cut else False
    assert there.errors == ()


def test_a_divided_tin_gives_its_cells_as_pieces() -> None:
    card = worked("slab A\ntin 30 x 20 cm, divided 4 x 3\nlayer B\n  900 g honey\n")

    assert card.cut is not None
    assert card.cut.pieces.number == 12
    assert card.cut.piece_mass_g.number == pytest.approx(card.mass_g.number / 12)
    assert card.errors == ()


def test_two_tins_of_the_card_and_one_of_them_keep_its_cut() -> None:
    card = worked("slab A\ntin 2 of 30 x 20 cm\ncut 5 x 4\nlayer B\n  900 g honey\n")
    cut = to(Tin.rectangular(300, 200), of=card).tins[0].spec.cut

    assert cut is not None
    assert cut.said.text == "5 x 4"
    assert cut.pieces.number == 20


def test_a_wished_depth_stays_a_wish() -> None:
    card = worked(
        "slab A\ntin 30 x 20 cm\nlayer B, 8 mm\n  600 g caster sugar\n  ends 600 g\n"
    )

    assert depths(to(Tin.square(200), of=card).tins[0].spec) == pytest.approx([8.0])
    assert depths(to(height_mm=12.0, of=card).tins[0].spec) == pytest.approx([12.0])


def test_a_proved_card_is_not_proved_in_another_tin() -> None:
    proved = worked(
        "slab A\ntin 30 x 20 cm\nproved 2026-03-14\nlayer B\n  90 g honey\n"
    )

    assert proved.card.proved is not None
    assert to(Tin.square(200), of=proved).making.card.proved is None


def test_the_lowest_rim_of_several_tins_counts() -> None:
    low, high = Tin.square(230, 40), Tin.square(230, 60)

    scaled = to(low, high, head_room_mm=2.0)

    heights = [place.spec.height_mm.number for place in scaled.tins]
    assert heights == pytest.approx([38, 38])


def test_trays_of_a_tin_that_is_several_multiply() -> None:
    scaled = to(Tin.square(230, 50).times(2), trays=3)

    assert scaled.multiplier.number == pytest.approx(6 * 529 / 600)


def test_the_own_tin_several_times_keeps_the_own_cut() -> None:
    cut = to(trays=3).tins[0].spec.cut

    assert cut is not None
    assert cut.said.text == "5 x 4, trim 5 mm"


def test_a_whole_batch_of_unknown_depth_is_shared_by_area() -> None:
    card = worked(
        "slab A\ntin 20 x 20 cm\nlayer B\n  1 jar of moonlight\n  80 g flour\n"
    )
    shared = to(Tin.square(200), Tin.rectangular(400, 300), of=card, by=3.0)

    factors = [place.factors[0] for place in shared.tins]
    assert factors == pytest.approx([3 * 400 / 1600, 3 * 1200 / 1600])


def test_a_whole_batch_of_a_component_is_not_doubled_twice() -> None:
    text = COMPONENTS.replace("layer Two from Cream, 0.5 batch", "layer Two from Cream")
    card = worked(text)
    twice = to(trays=2, of=card).making

    assert twice.mass_g.number == pytest.approx(2 * card.mass_g.number)


def test_what_a_cut_leaves_of_its_pieces_in_another_tin() -> None:
    frame = Tin.rectangular(570, 370, 45)  # the card says how it is cut there
    square = to(Tin.square(230, 50)).tins[0].spec.cut
    in_frame = to(frame).tins[0].spec.cut
    own = TIDES.cut

    assert square is not None
    assert in_frame is not None
    assert own is not None
    assert in_frame.said.text == "12 x 6, trim 5 mm"
    assert (in_frame.cutting.along, in_frame.cutting.across) == (12, 6)
    assert square.piece_mass_g.number == pytest.approx(
        own.piece_mass_g.number, rel=0.15
    )


@pytest.mark.parametrize(
    ("wanted", "says"),
    [
        ({"by": 2.0, "mass_g": 900.0}, "can't all be had"),
        ({"trays": 2, "pieces": 40}, "both given"),
        ({"pieces": 40, "mass_g": 900.0}, "size of a piece open"),
        ({"pieces": 0}, "number of pieces is 0"),
        ({"trays": 2000}, "number of tins"),
        ({"mass_g": float("nan")}, "mass is nan"),
        ({"height_mm": -3.0}, "height is -3"),
        ({"head_room_mm": 60.0}, "leave nothing to fill"),
        ({"layers_mm": (("caramel", 8.0),)}, "No layer is called"),
        ({"layers_mm": (("l", 8.0),)}, "Several layers are"),
        ({"by": 1e9}, "times a layer"),
        ({"mass_g": 1e12}, "times a layer"),
    ],
)
def test_what_can_not_be_had_is_said(wanted: dict[str, Any], says: str) -> None:
    with pytest.raises(ScalingError, match=says):
        to(**wanted)


def test_a_card_without_a_tin_is_scaled_by_mass_alone() -> None:
    bare = worked("slab A\nlayer B\n  100 g caster sugar\n  ends 100 g\n")

    assert to(of=bare, mass_g=250.0).multiplier.number == pytest.approx(2.5)
    assert to(Tin.square(200), of=bare, by=1.0).tins[0].spec.height_mm.known
    with pytest.raises(ScalingError, match="names no tin"):
        to(of=bare, trays=2)


def test_a_layer_of_unknown_depth_goes_by_area() -> None:
    card = worked(
        "slab A\ntin 20 x 20 cm\nlayer B\n  1 jar of moonlight\n  80 g flour\n"
    )
    twice = to(Tin.rectangular(400, 200), of=card)

    assert twice.multiplier.number == pytest.approx(2)
    with pytest.raises(ScalingError, match="not known"):
        to(SLOPING, of=card)


def test_minutes_of_the_card_are_doubted_where_the_depth_changes() -> None:
    moved = to(height_mm=40.0).findings
    deeper = {one.code for one in moved}
    same = {one.code for one in to(Tin.square(230, 50)).findings}

    assert "bake_time_moves" in deeper
    assert "bake_time_moves" not in same
    near = to(Tin.rectangular(310, 210, 50)).findings
    assert "near_enough" in {one.code for one in near}

    # by hand: 22-28 min, 14.814 mm and 40 ÷ 30.932 of it: 22 × 1.293 to 28 × 1.293²
    curd = next(one for one in moved if one.where == "Baked lemon curd")
    assert "likely 28 to 47 min" in curd.what
    shallower = to(height_mm=20.0).findings  # × 0.6466: 22 × 0.418 to 28 × 0.6466
    curd = next(one for one in shallower if one.where == "Baked lemon curd")
    assert "likely 9 to 18 min" in curd.what


def test_minutes_that_a_boil_is_held_do_not_grow_with_the_batch() -> None:
    codes = {one.code for one in to(trays=4).findings}  # its jelly boils 1 min
    caramel = scale(demo("harbour-lamp"), Wanted(trays=2), ORDER).findings

    assert "boil_time_moves" not in codes
    assert (
        "16 to 44 min" in next(c for c in caramel if c.code == "boil_time_moves").what
    )


def test_new_weights_take_what_a_step_leaves_along() -> None:
    lines = [line.weighed.line for layer in TIDES.layers for line in layer.lines]
    new = {
        line.name_span: Weighed(2 * grams, grams)
        for line, grams in zip(lines, weights(TIDES), strict=True)
    }
    spec = work_out(reweighed(TIDES.card, new), ORDER)

    assert spec.mass_g.number == pytest.approx(2 * TIDES.mass_g.number)


def test_new_weights_of_pieces_are_said_in_pieces() -> None:
    eggs = next(
        line.weighed.line for line in TIDES.layers[1].lines if line.name == "eggs"
    )
    spec = work_out(
        reweighed(TIDES.card, {eggs.name_span: Weighed(400, 300, 8)}), ORDER
    )
    line = next(line for line in spec.layers[1].lines if line.name == "eggs")

    assert line.mass_g.number == 400
    assert line.text == "8 eggs, medium = 400 g"
