"""Friendly amounts of whole slabs: what is counted, how it is weighed, what it does."""

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.kitchen import Kitchen, Scale
from slabwright.slab.distortion import FriendlyError, Weights, score_of
from slabwright.spec.friendly import Friendly, FriendlyChoice, friendly
from slabwright.spec.friendly_lines import Asked, to_weigh
from slabwright.spec.friendly_steps import step_g
from slabwright.spec.scaled_card import reweighed
from slabwright.spec.scaling import scale
from slabwright.spec.specification import Specification
from slabwright.spec.wanted import Wanted
from slabwright.spec.work_out import Order, work_out
from tests.files.kitchens import worked

DEMO = Path(__file__).parents[2] / "demo"
HOME = open_folder(DEMO)
ORDER = Order(HOME.kitchen, HOME.book)
TINS = {
    "20 cm square": 400 / 600, "23 cm square": 529 / 600, "33 x 23 cm": 759 / 600,
    "round 20 cm": 314.159265 / 600, "shop frame": 2109 / 600,
}  # fmt: skip
SLABS = ("two-tides", "harbour-lamp", "lantern-walk")


def demo(slab: str, factor: float) -> Specification:
    """A slab of the demo, so many times as much of it."""
    path = DEMO / "slabs" / f"{slab}.card"
    card = HOME.read(Text(path.read_text("utf-8"), path.name)).card
    return scale(work_out(card, ORDER), Wanted(by=factor), ORDER).making


def grams_of(choice: FriendlyChoice) -> dict[str, float]:
    return {line.asked.line.line.name: line.grams for line in choice.lines}


def of(lines: str, asked: Asked | None = None) -> Friendly:
    return friendly(worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer A\n{lines}"), asked)


@pytest.mark.parametrize(
    ("tin", "name", "eggs_off"),
    [
        # the invented slab's own notes say the same; no check value, a look
        ("20 cm square", "4 eggs + 3 egg yolks", -0.023),
        ("23 cm square", "5 eggs + 5 egg yolks", -0.011),
        ("33 x 23 cm", "8 eggs + 5 egg yolks", -0.007),
        ("shop frame", "21 eggs + 18 egg yolks", 0.002),
    ],
)
def test_eggs_and_yolks_of_a_curd(tin: str, name: str, eggs_off: float) -> None:
    best = friendly(demo("two-tides", TINS[tin])).choices[0]

    assert best.name == name
    assert best.egg_change is not None
    assert best.egg_change.number == pytest.approx(eggs_off, abs=5e-4)


@pytest.mark.parametrize("slab", SLABS)
@pytest.mark.parametrize("tin", TINS)
def test_never_worse_than_rounding_line_by_line(slab: str, tin: str) -> None:
    spec = demo(slab, TINS[tin])
    lines = to_weigh(spec, Asked())
    plain = 0.0
    for number in {line.want.layer for line in lines}:
        wants = [line.want for line in lines if line.want.layer == number]
        sizes = [want.each_g or want.step_g for want in wants]
        rounded = [
            max(1, round(want.grams / size)) * size
            for want, size in zip(wants, sizes, strict=True)
        ]
        plain += score_of(wants, rounded, Weights()).total

    best = friendly(spec).choices[0]
    assert best.distortion.number <= plain + 1e-9


@pytest.mark.parametrize("slab", SLABS)
def test_parts_add_up_and_every_figure_says_its_sum(slab: str) -> None:
    for choice in friendly(demo(slab, 0.882)).choices:
        parts = [part.share.number for part in choice.parts]
        assert sum(parts) == pytest.approx(choice.distortion.number, abs=1e-9)
        assert parts == sorted(parts, reverse=True)
        for part in choice.parts:
            assert "÷" in part.share.sum or "depth" in part.what
        for layer in choice.layers:
            assert abs(layer.change.number) <= 0.06
            assert layer.change.sum
            assert layer.scale.sum


def test_the_card_of_a_choice_weighs_what_the_choice_says() -> None:
    spec = demo("two-tides", 2 / 3)
    choice = friendly(spec).choices[0]
    again = work_out(reweighed(spec.card, choice.weighed()), ORDER)

    got = [line.mass_g.number for layer in again.layers for line in layer.lines]
    assert got == pytest.approx([line.grams for line in choice.lines])
    for layer, was, now in zip(choice.layers, spec.layers, again.layers, strict=True):
        change = now.mass_in_g.number / was.mass_in_g.number - 1
        assert change == pytest.approx(layer.change.number)
        # what a step leaves goes with the mass, and so does the depth
        deeper = now.mass_out_g.number / was.mass_out_g.number - 1
        assert deeper == pytest.approx(layer.change.number)


def test_eggs_may_be_weighed_instead() -> None:
    *_, last = friendly(demo("two-tides", 1.265)).choices

    assert last.weighs_eggs
    assert last.name == "eggs beaten and weighed"
    assert all(line.count is None for line in last.lines)
    # 379.5 g in steps of 5 g, 113.85 g in steps of 1 g
    assert grams_of(last)["eggs"] in {375, 380}
    assert grams_of(last)["egg yolks"] in {113, 114}


def test_what_is_left_of_parted_eggs() -> None:
    (left,) = friendly(demo("two-tides", 1.0)).choices[0].left_over

    # 58 g in the shell, the middle of medium, × 0.585 of white = 33.9 g
    assert (left.what, left.count) == ("egg whites", 5)
    assert left.grams.number == pytest.approx(5 * 33.9)
    assert left.grams.low == pytest.approx(5 * 30.2)


def test_whites_used_elsewhere_are_not_left_over() -> None:
    found = of("  3 egg yolks = 54 g\n  3 egg whites = 99 g\n  60 g caster sugar\n")

    assert found.choices[0].left_over == ()


def test_leaves_are_counted_and_cared_for() -> None:
    best = of("  5 leaves gold gelatine = 10.4 g\n  400 g double cream\n").choices[0]
    leaf = best.lines[0]

    assert leaf.count == 5
    assert leaf.asked.role == "setting"
    assert leaf.asked.want.each_g == pytest.approx(2.08)


def test_grams_are_weighed_unless_whole_ones_are_asked_for() -> None:
    lines = "  104 g whole egg\n  200 g caster sugar\n"
    assert of(lines).choices[0].lines[0].count is None

    # 51.0 g: a medium egg of the kitchen, as the larder has it
    whole = of(lines, Asked(whole=frozenset({"whole-egg"}))).choices[0].lines[0]
    assert whole.count == 2
    assert whole.grams == pytest.approx(102.0, abs=0.2)
    # 2 of them, but the line stays in grams
    spec = worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer A\n{lines}")
    best = friendly(spec, Asked(whole=frozenset({"whole-egg"}))).choices[0]
    (layer,) = reweighed(spec.card, best.weighed()).layers
    assert layer.component.lines[0].text.startswith("102")


def test_what_the_card_counts_may_be_weighed() -> None:
    lines = "  2 eggs, medium = 104 g\n  200 g caster sugar\n"
    asked = Asked(weighed=frozenset({"whole-egg"}))
    (only, *_) = of(lines, asked).choices

    assert only.lines[0].count is None


def test_whole_packs() -> None:
    spec = demo("two-tides", 0.882)
    asked = Asked(packs={"butter-unsalted": 250.0})
    for choice in friendly(spec, asked).choices:
        butter = [
            line.grams
            for line in choice.lines
            if line.asked.want.pack == "butter-unsalted"
        ]
        ((name, packs),) = choice.packs
        assert name == "butter-unsalted"
        assert sum(butter) == pytest.approx(250 * packs)
        assert "pack" in choice.name


@pytest.mark.parametrize(
    ("lines", "name", "role"),
    [
        ("  2 g fine salt", "fine salt", "salt"),
        ("  2 g smoked sea salt", "smoked sea salt", "salt"),
        ("  6 g pectin NH", "pectin NH", "setting"),
        ("  3 g agar powder", "agar powder", "setting"),
        ("  4 g xanthan gum", "xanthan gum", "setting"),
        ("  2 g soya lecithin", "soya lecithin", ""),
        ("  5 g baking powder", "baking powder", "raising"),
        ("  5 g cream of tartar", "cream of tartar", "raising"),
        ("  5 g citric acid", "citric acid", ""),
        ("  20 g cornflour\n  400 g whole milk", "cornflour", "setting"),
        ("  50 g cornflour\n  150 g plain flour", "cornflour", ""),
        ("  150 g plain flour", "plain flour", ""),
        ("  20 g moon dust", "moon dust", ""),
    ],
)
def test_roles(lines: str, name: str, role: str) -> None:
    spec = worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer A\n{lines}\n  100 g honey\n")
    found = {line.line.line.name: line for line in to_weigh(spec, Asked())}

    assert found[name].role == role
    assert found[name].want.care >= (5 if role else 1)


@pytest.mark.parametrize(
    ("scales", "grams", "careful", "step"),
    [
        # 1 g, 5 g above 200 g, the small scale under 10 g
        (((5000, 1), (300, 0.1)), 9.9, False, 0.1),
        (((5000, 1), (300, 0.1)), 10.1, False, 1.0),
        (((5000, 1), (300, 0.1)), 200.0, False, 1.0),
        (((5000, 1), (300, 0.1)), 201.0, False, 5.0),
        (((5000, 1), (300, 0.1)), 30.0, True, 0.1),
        (((5000, 1), (300, 0.01)), 0.35, True, 0.01),
        (((5000, 1),), 3.0, True, 1.0),
        (((5000, 2),), 30.0, False, 2.0),
        (((5000, 2),), 300.0, False, 10.0),
        (((30000, 20),), 300.0, False, 20.0),
        (((5000, 1),), 8000.0, False, 10.0),  # in parts
        (((5000, 1),), 4.4e6, False, 10_000.0),  # three figures, whatever for
        (((5000, 1),), 0.4, True, 0.4),  # a step would be more than twice as much
    ],
)
def test_steps(
    scales: tuple[tuple[float, float], ...], grams: float, careful: bool, step: float
) -> None:
    kitchen = Kitchen(scales=tuple(Scale(*one) for one in scales))

    assert step_g(grams, kitchen, careful=careful) == pytest.approx(step)


def test_a_tenth_of_an_egg_is_weighed() -> None:
    found = of("  0.1 eggs = 5 g\n  30 g caster sugar\n")

    assert [choice.weighs_eggs for choice in found.choices] == [True]
    (finding,) = found.findings
    assert finding.code == "nothing_whole_fits"
    assert "eggs" in finding.what


def test_nobody_counts_a_thousand_eggs() -> None:
    found = friendly(demo("two-tides", 351.5))

    assert found.choices
    assert all(line.count is None for line in found.choices[0].lines)


def test_a_line_without_a_weight_is_left_out() -> None:
    best = of("  3 moon stones\n  90.4 g caster sugar\n").choices[0]

    assert [line.grams for line in best.lines] == [90]


def test_a_component_is_weighed_once_for_all_its_layers() -> None:
    spec = worked(
        "slab X\ntin 20 x 20 x 5 cm\ncomponent Curd\n  101.3 g caster sugar\n"
        "  2 eggs = 101 g\nlayer A from Curd, 60 g\nlayer B from Curd, 90 g\n"
    )
    best = friendly(spec).choices[0]

    assert [line.asked.block for line in best.lines] == ["Curd", "Curd"]
    assert best.lines[1].count == 2


def test_a_slab_without_lines_has_no_choice() -> None:
    found = friendly(worked("slab X\n"))

    assert found == Friendly((), ())


def test_weights_are_the_makers() -> None:
    spec = demo("two-tides", 1.265)
    alone = replace(Weights(), own=0.0)
    best = friendly(spec, Asked(weights=alone)).choices[0]

    # 7 × 50 + 8 × 18 = 494 g against 493.4 g, nearer than 490 g
    assert best.name == "7 eggs + 8 egg yolks"
    with pytest.raises(FriendlyError):
        Weights(limit=2.0)


@pytest.mark.parametrize(
    "bad",
    [{"care": -1.0}, {"coarse_care": math.nan}, {"packs": {"butter-unsalted": 0.0}}],
)
def test_what_cannot_be_asked_is_refused(bad: dict[str, Any]) -> None:
    with pytest.raises(FriendlyError, match="Give"):
        Asked(**bad)
