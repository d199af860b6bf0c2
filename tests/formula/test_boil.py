"""A boil to a temperature: what it leaves, and what wins over it."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import INDEX, dry_matter, total, water
from slabwright.files.raw import Text
from slabwright.formula.batch import Batch
from slabwright.formula.boil import Boil
from slabwright.formula.book import Book
from slabwright.larder.load import built_in
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out
from tests.files.kitchens import bare_kitchen, worked

PAIRS = Path(__file__).parents[1] / "reference" / "trade" / "cooked_caramel.csv"
CARAMEL = (
    "195 g caster sugar", "250 g glucose syrup 42 DE", "220 g double cream 48%",
    "120 g whole milk", "50 g butter, unsalted",
)  # fmt: skip
"""Much as the demonstration's: sugar, as much syrup and more, cream and butter."""


def spec_of(*lines: str, name: str = "Malt caramel") -> Specification:
    body = "\n".join(f"  {line}" for line in lines)
    return worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer {name}\n{body}\n")


def batch(*lines: str, name: str = "Malt caramel") -> Batch:
    spec = spec_of(*lines, name=name)

    assert spec.errors == ()
    return spec.layers[0].batch


def boil_of(*lines: str, name: str = "Malt caramel") -> Boil:
    (found,) = batch(*lines, name=name).boils
    return found


def out_g(made: Batch) -> float:
    assert made.mass_out is not None
    return made.mass_out.value


def pairs() -> list[tuple[float, float, str]]:
    with PAIRS.open(encoding="utf-8") as file:
        return [
            (float(row["fact"].split("to ")[1].split(" C")[0]),
             float(row["value_low"]) / 100, row["source"])
            for row in csv.DictReader(file)
        ]  # fmt: skip


@pytest.mark.parametrize(("to_C", "share", "source"), pairs())
def test_a_dairy_caramel_keeps_the_water_that_is_published(
    to_C: float, share: float, source: str
) -> None:
    # the pairs are for dairy caramel with corn syrup, their make-up is not told
    assert source
    boil = boil_of(*CARAMEL, f"boil to {to_C} C")
    assert boil.left is not None
    shares = water(boil.left) / total(boil.left)

    assert shares[0] == pytest.approx(share, abs=0.015)
    assert shares[1] - 0.003 < share < shares[2] + 0.003


def test_water_mass_and_depth_of_the_layer_follow() -> None:
    spec = spec_of(*CARAMEL, "boil to 118 C")
    (layer,) = spec.layers
    dry_g = float(dry_matter(layer.batch.before)[0])
    share = layer.water_share.number

    assert layer.mass_out_g.number == pytest.approx(dry_g / (1 - share), rel=1e-6)
    assert layer.mass_out_g.number < 0.85 * layer.mass_in_g.number
    assert layer.mass_out_g.low is not None
    assert layer.mass_out_g.high is not None
    assert layer.mass_out_g.low < layer.mass_out_g.number < layer.mass_out_g.high
    # 400 cm² of tin
    depth = layer.mass_out_g.number / layer.density_g_ml.number / 400 * 10
    assert layer.depth_mm.number == pytest.approx(depth)
    assert "boils to 118 °C" in layer.mass_out_g.sum
    assert "assumed_loss" not in {one.code for one in spec.findings}


def test_what_the_card_says_is_left_wins() -> None:
    for said in ("ends 700 g", "ends 12 % water", "loses 120 g"):
        made = batch(*CARAMEL, "boil to 118 C", said)
        (boil,) = made.boils

        assert not boil.counts
        assert boil.left is not None
        assert [one.what for one in made.happenings if "boils" in one.what] == []
    assert out_g(batch(*CARAMEL, "boil to 118 C", "ends 700 g")) == pytest.approx(700)


def test_mix_that_stays_in_the_bowl_leaves_the_boil_its_say() -> None:
    made = batch(*CARAMEL, "boil to 118 C", "loses 10 g in the pan")

    assert made.boils[0].counts
    assert out_g(made) == pytest.approx(float(made.boils[0].left_g[0]) - 10)


def test_salt_that_goes_in_after_the_boil_is_not_boiled() -> None:
    before = boil_of(*CARAMEL, "20 g fine salt", "boil to 118 C")
    after = batch(*CARAMEL, "boil to 118 C", "20 g fine salt")
    plain = boil_of(*CARAMEL, "boil to 118 C")

    assert float(after.boils[0].left_g[0]) == pytest.approx(float(plain.left_g[0]))
    assert out_g(after) == pytest.approx(float(plain.left_g[0]) + 20, abs=0.1)
    # salt holds water back: more is left at the same temperature
    assert before.left is not None
    assert plain.left is not None
    assert float(water(before.left)[0]) > float(water(plain.left)[0])


def test_only_what_stands_in_the_pan_boils() -> None:
    gelatine = ("into bowl", "12 g leaf gelatine", "60 g water")
    syrup = ("into small pan", "200 g caster sugar", "60 g water", "boil to 118 C")
    made = batch(*gelatine, *syrup, "pour over the gelatine", name="Marshmallow")
    alone = boil_of(*syrup[1:], name="Syrup")

    (boil,) = made.boils
    assert float(boil.left_g[0]) == pytest.approx(float(alone.left_g[0]), rel=1e-6)
    assert float(total(boil.rest)[0]) == pytest.approx(72, abs=0.1)
    # marshmallow leaves some in the bowl, as usual for it
    lost = 332 - out_g(made)
    assert lost > float(boil.off_g[0])


def test_a_pasted_recipe_boils_what_its_step_names() -> None:
    recipe = (
        "Nougat\n\n200 g caster sugar\n100 g honey\n60 g water\n80 g almonds\n"
        "35 g egg whites\n\nBoil the sugar, honey and water to 140 C. Whisk the egg "
        "whites. Fold in the almonds.\n"
    )
    folder = bare_kitchen()
    read = folder.read(Text(recipe))
    assert read.is_pasted
    spec = work_out(read.card, Order(folder.kitchen, folder.book))
    boils = [one for layer in spec.layers for one in layer.batch.boils]

    (boil,) = boils
    assert boil.left is not None
    # sugar and honey, hardly any water: the almonds and the whites stand beside
    assert float(total(boil.rest)[0]) == pytest.approx(115, abs=1)
    assert 0.01 < float(water(boil.left)[0] / total(boil.left)[0]) < 0.09


@pytest.mark.parametrize(
    ("lines", "why"),
    [
        (("200 g cocoa butter", "boil to 118 C"), "no water in it"),
        (("200 g moon dust", "100 g water", "boil to 118 C"), "moon dust"),
        (("200 g caster sugar", "10 g water", "boil to 104 C"), "loses no water"),
        (("200 g caster sugar", "90 g water", "boil to 400 C"), "so hot as 400 °C"),
        (("500 g water", "boil to 118 C"), "hardly anything but water"),
        (
            ("200 g caster sugar", "90 g water", "2 eggs", "boil to 118 C"),
            "does not tell what goes in after it",
        ),
    ],
)
def test_a_boil_that_tells_nothing_says_why(lines: tuple[str, ...], why: str) -> None:
    spec = spec_of(*lines)
    (boil,) = spec.layers[0].batch.boils

    assert boil.left is None
    assert not boil.counts
    assert why in boil.silent
    found = [one for one in spec.findings if one.code == "boil_tells_nothing"]
    assert len(found) == 1
    assert found[0].do


def test_what_only_comes_to_the_boil_is_no_such_boil() -> None:
    for step in ("boil", "boil 1 min", "heat to 80 C", "boil to 100 C", "bake 160 C"):
        assert batch(*CARAMEL, step).boils == ()


def test_alcohol_is_gone_at_the_end() -> None:
    boil = boil_of("200 g caster sugar", "100 g water", "40 g rum", "boil to 112 C")

    assert boil.left is not None
    assert boil.mix[0, INDEX["alcohol"]] > 5
    assert boil.left[0, INDEX["alcohol"]] == 0


def test_a_bake_after_a_boil_still_loses_what_is_usual() -> None:
    lines = ("100 g golden syrup", "100 g butter", "80 g caster sugar", "30 g water")
    oats = ("250 g porridge oats",)
    boiled = batch(
        *lines, "boil to 108 C", *oats, "bake 150 C, 20 min", name="Flapjack"
    )
    plain = batch(*lines, "boil to 108 C", *oats, name="Flapjack")

    assert boiled.assumed_loss is not None
    assert plain.assumed_loss is None
    assert out_g(boiled) < out_g(plain)


def test_no_end_of_the_range_keeps_more_water_than_went_in() -> None:
    # 70 g hardly boil at 107 °C: a degree cooler, more would be kept than there is
    boil = boil_of("200 g caster sugar", "70 g water", "boil to 107 C", name="Syrup")
    assert boil.left is not None

    assert float(water(boil.left)[0]) < 70
    assert float(boil.left_g[2]) == pytest.approx(270, abs=0.5)
    assert (water(boil.left) <= water(boil.mix) + 1e-9).all()


# --- what a reading teaches --------------------


def test_a_weighing_is_met_exactly_and_moves_the_other_temperatures() -> None:
    plain = boil_of(*CARAMEL, "boil to 118 C")
    less = float(plain.left_g[0]) - 10
    taught = boil_of(*CARAMEL, "boil to 118 C", f"reads {less:.3f} g at 118 C")
    hotter = boil_of(*CARAMEL, "boil to 121 C", f"reads {less:.3f} g at 118 C")
    untaught = boil_of(*CARAMEL, "boil to 121 C")

    assert float(taught.left_g[0]) == pytest.approx(less, abs=0.05)
    assert taught.learned is not None
    assert taught.learned.bias_K > 0  # so little water boils hotter by the relation
    assert float(hotter.left_g[0]) < float(untaught.left_g[0]) - 4
    # a reading says more than the relation: its range is narrower
    wide, narrow = plain.left_g, taught.left_g
    assert narrow[2] - narrow[1] < wide[2] - wide[1]


def test_brix_and_water_teach_the_same_as_the_weight_that_they_mean() -> None:
    lines = ("300 g caster sugar", "100 g water", "boil to 112 C")
    solids = 300 * 0.9998
    by_mass = boil_of(*lines, f"reads {solids / 0.85:.4f} g")
    by_water = boil_of(*lines, "reads 15 % water")
    by_brix = boil_of(*lines, "reads 85 Brix")

    grams = [float(one.left_g[0]) for one in (by_mass, by_water, by_brix)]
    assert grams == pytest.approx([solids / 0.85] * 3, rel=2e-3)


def test_fat_is_no_part_of_what_a_refractometer_reads() -> None:
    with_fat = boil_of(
        "300 g caster sugar", "100 g water", "200 g cocoa butter", "boil to 112 C",
        "reads 85 Brix",
    )  # fmt: skip
    assert with_fat.left is not None

    assert float(water(with_fat.left)[0]) == pytest.approx(300 * 15 / 85, rel=0.01)


def test_a_reading_that_can_not_be_right_is_a_mistake() -> None:
    for line in ("reads 100 g at 118 C", "reads 100 g"):
        spec = spec_of(*CARAMEL, "boil to 118 C", line)

        (mistake,) = spec.errors
        assert "less than the" in mistake.what
        assert mistake.where.span is not None
    (mistake,) = spec_of(*CARAMEL, "reads 700 g", "boil").errors
    assert "no boil before it" in mistake.what


@pytest.mark.parametrize(
    "line",
    ["reads 9000 g at 118 C", "reads 900 g", "reads 20 Brix", "reads 80 % water"],
)
def test_a_pan_never_holds_more_water_than_went_in(line: str) -> None:
    (mistake,) = spec_of(*CARAMEL, "boil to 118 C", line).errors

    assert "went in" in mistake.what
    assert mistake.where.span is not None


def test_a_slip_of_the_scale_over_all_the_water_is_no_mistake() -> None:
    went_in = 300 + 300
    slip, more = went_in + 300 * 0.03, went_in + 300 * 0.08
    syrup = ("300 g caster sugar", "300 g water", "boil to 104 C")

    assert spec_of(*syrup, f"reads {slip:g} g at 100.5 C").errors == ()
    assert len(spec_of(*syrup, f"reads {more:g} g at 100.5 C").errors) == 1


# --- the place --------------------


def test_the_same_temperature_leaves_less_water_high_above_the_sea() -> None:
    folder = bare_kitchen()
    body = "\n".join(f"  {line}" for line in (*CARAMEL, "boil to 113 C"))
    card = folder.read(Text(f"slab X\nlayer A caramel\n{body}\n")).card

    def left(pressure_kPa: float) -> Boil:
        book = Book(built_in(), pressure_kPa=pressure_kPa)
        (layer,) = work_out(card, Order(folder.kitchen, book)).layers
        return layer.batch.boils[0]

    sea, high = left(101.325), left(84.556)  # 1,500 m of the standard atmosphere
    assert float(high.left_g[0]) < float(sea.left_g[0]) - 5
    # water boils at 95.0 °C there, so 113 °C is as 118 °C by the sea (demo: "about
    # 113 °C for 118"), within what the rise grows with temperature
    as_sea = boil_of(*CARAMEL, "boil to 118 C", name="A caramel")
    assert float(high.left_g[0]) == pytest.approx(float(as_sea.left_g[0]), rel=0.01)


def test_high_above_the_sea_a_boil_under_100_drives_water_off() -> None:
    # water boils at 95.0 °C at 1,500 m, and by the sea at 100 °C
    folder = bare_kitchen()
    text = "slab X\nlayer A\n  200 g caster sugar\n  200 g water\n  boil to 99 C\n"
    card = folder.read(Text(text)).card

    def boils(pressure_kPa: float) -> tuple[Boil, ...]:
        book = Book(built_in(), pressure_kPa=pressure_kPa)
        return work_out(card, Order(folder.kitchen, book)).layers[0].batch.boils

    (high,) = boils(84.556)
    assert high.counts
    assert float(high.left_g[0]) < 390
    assert boils(101.325) == ()


@given(
    sugar=st.integers(50, 500), syrup=st.integers(0, 300), cream=st.integers(0, 300),
    wet=st.integers(20, 300), hot=st.floats(103, 150), more=st.floats(0.5, 20),
)  # fmt: skip
def test_hotter_leaves_less_and_solids_stay(
    sugar: int, syrup: int, cream: int, wet: int, hot: float, more: float
) -> None:
    lines = (
        f"{sugar} g caster sugar", f"{syrup + 1} g glucose syrup 42 DE",
        f"{cream + 1} g double cream 48%", f"{wet} g water",
    )  # fmt: skip
    first = boil_of(*lines, f"boil to {hot:.2f} C")
    second = boil_of(*lines, f"boil to {hot + more:.2f} C")
    for boil in (first, second):
        if boil.left is None:
            assert "loses no water" in boil.silent
            continue
        assert np.allclose(dry_matter(boil.left), dry_matter(boil.mix))
        assert float(boil.left_g[1]) <= float(boil.left_g[0]) <= float(boil.left_g[2])
        assert float(boil.left_g[0]) <= float(total(boil.mix)[0])
    assert float(second.left_g[0]) <= float(first.left_g[0]) + 1e-9


SYRUP = ("300 g caster sugar", "100 g water")


@pytest.mark.parametrize("first", [("boil to 118 C",), ("boil to 118 C", "ends 620 g")])
def test_what_boiled_off_in_one_pan_is_not_missing_in_the_next(
    first: tuple[str, ...],
) -> None:
    """As a honey nougat: two syrups boiled apart, each loses its own water."""
    both = batch(
        "into wide pan", *CARAMEL, *first, "into small pan", *SYRUP, "boil to 145 C"
    )
    alone = batch("into small pan", *SYRUP, "boil to 145 C")
    one, two = both.boils
    (same,) = alone.boils

    assert two.mix[0] == pytest.approx(same.mix[0], abs=1e-6)
    assert two.left_g[0] == pytest.approx(same.left_g[0])
    assert total(two.rest)[0] == pytest.approx(
        620 if len(first) > 1 else one.left_g[0], abs=1e-6
    )
    assert out_g(both) == pytest.approx(total(two.rest)[0] + same.left_g[0])


def test_what_boiled_off_before_a_pour_is_missing_where_it_was_poured() -> None:
    poured = batch(
        "into small pan", *SYRUP, "boil to 120 C", "into wide pan", "200 g water",
        "pour the syrup from the small pan in", "boil to 110 C",
    )  # fmt: skip
    alone = batch("into wide pan", *SYRUP, "200 g water", "boil to 110 C")

    assert poured.boils[-1].left_g[0] == pytest.approx(alone.boils[0].left_g[0])


NOUGAT = (
    "60 g egg whites\n250 g honey\n350 g caster sugar\n80 g glucose syrup 42 DE\n"
    "90 g water\n150 g pistachios\n"
)
PASTED = [
    # lines, method, what each boil holds [g]
    (  # whites first, honey and sugar boiled after
        NOUGAT,
        "Whisk the egg whites to soft peaks.\nBoil the honey to 121 C.\nPour the honey "
        "onto the whites while whisking.\nBoil the sugar, glucose and water to 148 C.\n"
        "Pour the syrup over the whites and whisk.\nFold in the pistachios.\n",
        [250, 520],
    ),
    (  # honey first, the whites meanwhile
        NOUGAT,
        "1. Heat the honey to 121 C.\n2. Meanwhile whip the egg whites until stiff, "
        "then pour in the hot honey in a thin stream.\n3. In a clean pan boil the "
        "sugar, glucose and water to 148 C, then pour onto the meringue.\n4. Fold in "
        "the nuts.\n",
        [250, 520],
    ),
    (  # both in one sentence
        NOUGAT,
        "Whisk the egg whites and boil the honey to 121 C. Pour the honey onto the "
        "whites.\nBoil the sugar, glucose and water to 148 C.\n",
        [250, 520],
    ),
    (  # nothing is named: what is added later does not boil
        NOUGAT,
        "Boil to 140 C.\nWhisk the egg whites and pour in the syrup.\nFold in the "
        "pistachios.\n",
        [770],
    ),
    (  # water twice, gelatine that soaks, whites
        "12 g powdered gelatine\n60 g water\n300 g caster sugar\n150 g glucose syrup\n"
        "90 g water\n70 g egg whites\n",
        "Soak the gelatine in the water.\nWhisk the egg whites in the mixer.\nBoil the "
        "sugar, glucose and water to 121 C.\nPour the syrup onto the whites.\n",
        [540],
    ),
    (  # gelatine that soaks, no whites
        "12 g powdered gelatine\n60 g water\n300 g caster sugar\n90 g water\n",
        "Soak the gelatine in the water.\nBoil the sugar and water to 121 C.\nWhisk in "
        "the gelatine.\n",
        [390],
    ),
    (  # two sugars, one of them named in full
        "250 g caster sugar\n80 g water\n50 g icing sugar\n",
        "Boil the caster sugar and water to 121 C.\nDust with the icing sugar.\n",
        [330],
    ),
    (  # sugar twice, once for the whites
        "250 g caster sugar\n80 g water\n150 g egg whites\n50 g caster sugar\n",
        "Boil 250 g of the sugar with the water to 121 C. Meanwhile whisk the whites "
        "with the remaining sugar. Trickle in the syrup.\n",
        [330],
    ),
    (  # two pans poured together before the boil
        "200 g caster sugar\n100 g glucose syrup\n250 g double cream\n60 g butter\n",
        "Cook the sugar and glucose to a dark caramel.\nHeat the cream in a small pan "
        "and pour it over the caramel.\nBoil to 118 C.\nStir in the butter.\n",
        [550],
    ),
    (
        "200 g caster sugar\n100 g butter\n60 g water\n50 g almonds\n",
        "Boil everything to 140 C.\nPour over the almonds.\n",
        [360],
    ),
    (  # a tool and a bath are called after what they are for
        "400 g caster sugar\n100 g glucose syrup\n200 g double cream\n60 g water\n"
        "10 g powdered gelatine\n",
        "Boil the sugar, glucose and cream until a sugar thermometer reads 118 C. "
        "Stand the pan in a bowl of cold water. Soak the gelatine in the water and "
        "stir it in.\n",
        [700],
    ),
    (  # fudge, as it is often written
        "450 g light brown sugar\n400 g condensed milk\n150 ml milk\n115 g butter\n"
        "100 g milk chocolate\n",
        "Put the sugar, condensed milk, milk and butter into a pan.\nCook until it "
        "reaches 115 C.\nBeat until thick, then stir in the milk chocolate.\n",
        [1119.7],
    ),
    (  # said first, `cream` is done and not poured
        "100 g butter\n100 g caster sugar\n150 g double cream\n80 g golden syrup\n",
        "Cream the butter. Add the sugar and syrup and boil to 125 C.\nStir in the "
        "double cream.\n",
        [280],
    ),
]


@pytest.mark.parametrize(("lines", "method", "holds"), PASTED)
def test_a_boil_holds_what_the_method_has_put_in_its_pan(
    lines: str, method: str, holds: list[float]
) -> None:
    spec = worked(f"Sweet\n\n{lines}\nMethod\n{method}")
    (layer,) = spec.layers
    boils = layer.batch.boils

    assert [float(total(one.mix)[0]) for one in boils] == pytest.approx(holds, abs=0.5)
    assert all(one.left is not None and one.counts for one in boils)
    # what no boil held keeps its water
    off = sum(float(one.off_g[0]) for one in boils)
    happened = [h for h in layer.batch.happenings if not h.is_assumed_usual]
    assert sum(h.lost_g for h in happened) == pytest.approx(off)


def test_whipped_whites_are_in_no_pan_that_boils_after() -> None:
    card = (
        "slab X\ntin 30 x 20 x 5 cm\nlayer Nougat\n  kind nougat\n  60 g egg whites\n"
        "  {}\n  250 g honey\n  boil to 121 C, pour onto the whites\n"
    )
    held = [
        float(total(worked(card.format(step)).layers[0].batch.boils[0].mix)[0])
        for step in ("whisk to soft peaks", "leave at room temperature")
    ]

    assert held == pytest.approx([250, 310])
