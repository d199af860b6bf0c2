"""Components: finished grams, their composition after cooking, one inside another."""

import pytest

from slabwright.composition import amount, water
from slabwright.formula.kinds import guess
from slabwright.spec.specification import Specification
from tests.files.kitchens import worked

SYRUP = "component Syrup\n  100 g caster sugar\n  100 g water\n  ends 125 g\n"
"""100 g of sugar in 125 g: 20 % water."""


def slab(text: str, *, good: bool = True) -> Specification:
    spec = worked(f"slab X\ntin 20 x 20 x 5 cm\n{text}")

    assert (spec.errors == ()) is good
    return spec


@pytest.mark.parametrize(
    ("take", "grams"),
    [
        ("", 125.0), (", 50 g", 50.0), (", 0.5 batch", 62.5), (", ½ batch", 62.5),
        (", 2 batches", 250.0), (", all", 125.0), (", the whole batch", 125.0),
        (", 1 oz", 28.349523125),
        # 6 mm x 400 cm² x 1.25 g/ml
        (", 6 mm", 300.0), (", 0.6 cm", 300.0), (", 6 mm deep", 300.0),
    ],
)  # fmt: skip
def test_a_layer_takes_so_much_of_a_component(take: str, grams: float) -> None:
    spec = slab(f"{SYRUP}  density 1.25 g/ml\nlayer A from Syrup{take}\n")
    (layer,) = spec.layers

    assert layer.mass_out_g.number == pytest.approx(grams)
    # whatever it takes, a fifth of it is water
    assert layer.water_share.number == pytest.approx(0.2, rel=5e-3)
    # and what went in is its share of the batch's 200 g
    assert layer.mass_in_g.number == pytest.approx(200 * grams / 125)
    assert sum(line.mass_g.number for line in layer.lines) == pytest.approx(
        200 * grams / 125
    )


def test_finished_grams_on_a_line_have_their_composition_after_cooking() -> None:
    # 50 g syrup hold 10 g water and 40 g sugar; with 50 g water: 60 and 40
    spec = slab(f"{SYRUP}layer A\n  50 g Syrup\n  50 g water\n  loses 0 g\n")
    after = spec.layers[0].batch.after

    assert water(after)[0] == pytest.approx(60, rel=5e-3)
    assert amount(after, "sucrose")[0] == pytest.approx(40, rel=5e-3)
    assert spec.layers[0].mass_out_g.number == pytest.approx(100)


@pytest.mark.parametrize(
    "line", ["0.5 batch Syrup", "½ batch of Syrup", "62.5 g Syrup"]
)
def test_batches_on_a_line_are_finished_grams(line: str) -> None:
    spec = slab(f"{SYRUP}layer A\n  {line}\n")

    assert spec.layers[0].lines[0].mass_g.number == pytest.approx(62.5)


@pytest.mark.parametrize("name", ["syrup", "SYRUP", "Syrup, warm", "Syrup (warm)"])
def test_a_component_is_known_whatever_its_notes(name: str) -> None:
    spec = slab(f"{SYRUP}layer A\n  40 g {name}\n")

    assert spec.layers[0].lines[0].weighed.batch is not None
    assert "unknown_ingredient" not in {f.code for f in spec.findings}


def test_components_stand_inside_components() -> None:
    # soak: 100 g syrup (80 g sugar, 20 g water) and 60 g water make 80 and 80
    spec = slab(
        f"{SYRUP}component Soak\n  100 g Syrup\n  60 g water\n  loses 0 g\n"
        "component Glaze\n  80 g Soak\n  20 g caster sugar\n  loses 0 g\n"
        "layer A from Glaze\n"
    )
    (layer,) = spec.layers

    # 80 g soak: 40 sugar, 40 water; and 20 g of sugar
    assert layer.mass_out_g.number == pytest.approx(100)
    assert layer.water_share.number == pytest.approx(0.40, rel=5e-3)
    assert layer.sugars_share.number == pytest.approx(0.60, rel=5e-3)


def test_what_a_batch_has_left_is_said() -> None:
    spec = slab(
        f"{SYRUP}layer A from Syrup, 50 g\nlayer B\n  25 g Syrup\n  100 g water\n"
    )

    assert [f.what for f in spec.findings if f.code == "left_over"] == [
        "50 g of Syrup is left over."
    ]


def test_the_unknown_inside_a_component_is_unknown_outside() -> None:
    spec = slab(
        "component Mud\n  100 g moon dust\n  loses 0 g\n"
        "layer A\n  50 g Mud\n  50 g water\n"
    )

    assert spec.layers[0].mass_out_g.number == pytest.approx(99)
    assert not spec.layers[0].water_share.known
    assert "moon dust" in spec.layers[0].water_share.sum


def test_a_component_without_a_weight_withholds_what_takes_of_it_by_batch() -> None:
    part = "component Mud\n  3 plain flour\n"
    by_batch = slab(f"{part}layer A from Mud, 0.5 batch\n")
    by_grams = slab(f"{part}layer A from Mud, 50 g\n")

    assert not by_batch.layers[0].mass_out_g.known
    assert by_grams.layers[0].mass_out_g.number == pytest.approx(50)


def test_a_component_is_no_surer_than_what_stands_in_it() -> None:
    spec = slab(f"{SYRUP}layer A\n  50 g Syrup\n  ends 49 g weighed\n")

    # the 125 g were not weighed, so its water is assumed; the 49 g were
    assert spec.layers[0].mass_out_g.standing == "measured"
    assert spec.layers[0].water_share.standing == "assumed"


def test_the_same_component_twice_is_a_mistake() -> None:
    spec = slab(f"{SYRUP}{SYRUP.replace('Syrup', 'syrup')}", good=False)

    assert [m.where.span.line for m in spec.errors if m.where.span] == [7]


def test_a_layer_gives_its_name_only_where_the_larder_has_none() -> None:
    spec = slab(
        "layer Honey\n  100 g caster sugar\n  loses 0 g\n"
        "layer Grit\n  90 g caster sugar\n  loses 0 g\n"
        "layer Top\n  10 g honey\n  10 g Grit\n"
    )
    honey, grit = spec.layers[2].lines

    assert honey.larder_id == "honey"
    assert grit.weighed.batch is not None


def test_an_unknown_component_is_an_error_with_near_names() -> None:
    spec = slab(f"{SYRUP}layer A from Syrop, 40 g\n  9 g water\n", good=False)

    (only,) = spec.errors
    assert "No component is called 'Syrop'" in only.what
    assert "syrup" in only.nearest
    assert only.where.span is not None
    assert only.where.span.line == 7
    assert not spec.layers[0].mass_out_g.known


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Pastry cream", "curd"),
        ("Confectioners' custard", "curd"),
        ("Caramel panna cotta", "gelatine jelly"),
        ("Shortcrust pastry", "pressed biscuit"),
        ("Custard cream biscuit base", "crumb base"),
    ],
)
def test_a_kind_is_guessed_from_the_whole_of_a_name(name: str, kind: str) -> None:
    assert guess(name, ())[0].name == kind


@pytest.mark.parametrize(
    ("lines", "kind"),
    [
        (("sweetened-condensed-milk", "unsalted-butter"), "condensed milk caramel"),
        (("caster-sugar", "double-cream-48"), "caramel"),
        (("sweetened-condensed-milk", "double-cream-48"), "caramel"),
        ((), "caramel"),
    ],
)
def test_a_caramel_of_condensed_milk_is_one_without_saying_so(
    lines: tuple[str, ...], kind: str
) -> None:
    """The caramel slice: its milk holds it, it is hardly boiled down."""
    assert guess("Caramel", lines)[0].name == kind
