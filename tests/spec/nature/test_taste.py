"""Sweet, rich and salt, of a layer and of a slab beside one that its maker knows."""

import re

import pytest

from slabwright.spec.compare import compare
from slabwright.spec.nature.beside import taste_beside
from slabwright.spec.nature.taste import taste_of_slab
from slabwright.spec.specification import Specification
from tests.files.kitchens import worked

HEAD = "slab {}\ntin 20 x 20 x 5 cm\n"
LAYER = (
    "layer A\n  kind plain\n  {sugar} g caster sugar\n  {flour} g cornflour\n"
    "  {butter} g butter, unsalted\n  {salt} g fine salt\n  loses 0 g\n"
)


def slab(
    name: str, sugar: float, butter: float = 100, salt: float = 2
) -> Specification:
    """1,000 g of a layer, so that grams are tenths of a per cent."""
    flour = 1000 - sugar - butter - salt
    block = LAYER.format(sugar=sugar, flour=flour, butter=butter, salt=salt)
    return worked(HEAD.format(name) + block)


def test_a_layer_is_as_sweet_as_its_sugar_as_sucrose() -> None:
    aspect = slab("X", 300).natures[0].aspect("taste")
    assert aspect is not None
    found = {one.name: one.figure for one in aspect.figures}

    # all of it is sucrose: 99.8 % of caster sugar in the larder
    assert found["sweetness"].number == pytest.approx(0.3, abs=0.002)
    assert found["fat_share"].number == pytest.approx(0.082, abs=0.003)
    assert found["salt_share"].number == pytest.approx(0.002, abs=0.0002)


def test_the_sodium_of_soda_is_told_apart_from_salt() -> None:
    # 15 g of soda with 68.4 g of salt by its sodium in 100 g: 10.3 g
    card = HEAD.format("X") + (
        "layer Honeycomb\n  300 g caster sugar\n  150 g golden syrup\n"
        "  50 g water\n  boil to 150 C\n  15 g {}\n"
    )
    foamed = worked(card.format("bicarbonate of soda")).natures[0].aspect("taste")
    salted = worked(card.format("fine salt")).natures[0].aspect("taste")

    assert foamed is not None
    assert salted is not None
    assert any(one.startswith("10 g of its salt are") for one in foamed.notes)
    assert not any("sodium" in one for one in salted.notes)


def test_it_is_told_in_words_as_a_maker_would() -> None:
    lines = taste_beside(slab("New", 324, salt=2), slab("Harbour Lamp", 300, salt=4))

    assert lines[0].startswith("Beside Harbour Lamp, gram for gram: 8 % sweeter")
    assert any(line.startswith("Half the salt") for line in lines)
    assert any(line.startswith("As much fat") for line in lines)
    assert "noticed by few" in lines[-1]


def test_either_way_round_says_the_opposite() -> None:
    one, other = slab("One", 200, butter=150), slab("Other", 300, butter=100)
    there, back = taste_beside(one, other), taste_beside(other, one)

    assert "33 % less sweet" in there[0]
    assert "50 % sweeter" in back[0]
    assert there[1].startswith("49 % more fat")
    assert back[1].startswith("33 % less fat")


def test_a_range_that_crosses_says_so() -> None:
    honey = worked(HEAD.format("H") + "layer A\n  500 g honey\n  loses 0 g\n")
    sugar = worked(
        HEAD.format("S") + "layer A\n  400 g caster sugar\n  100 g water\n  loses 0 g\n"
    )
    said = taste_beside(honey, sugar)[0]

    assert "do not agree" in said
    ends = [int(one) for one in re.findall(r"([+−]\d+) %", said.replace("−", "-"))]
    assert ends == sorted(ends)


def test_each_layer_counts_by_what_lies_in_the_slab() -> None:
    part = (
        "component Syrup\n  300 g caster sugar\n  loses 0 g\n"
        "layer Sweet from Syrup, 100 g\n"
        "layer Plain\n  100 g cornflour\n  loses 0 g\n"
    )
    taste = taste_of_slab(worked(HEAD.format("X") + part))

    assert taste.sweetness.number == pytest.approx(0.5, abs=0.002)


def test_what_is_not_known_is_withheld_with_its_layer() -> None:
    lost = worked(HEAD.format("X") + "layer Lost\n  200 g moon dust\n  loses 0 g\n")
    (said,) = taste_beside(slab("Y", 300), lost)

    assert "Lost" in said
    assert "moon dust" in said
    assert not taste_of_slab(lost).sweetness.known
    (empty,) = taste_beside(slab("Y", 300), worked(HEAD.format("Z")))
    assert "no layer" in empty


def test_without_any_sugar_nobody_is_sweeter() -> None:
    none = worked(HEAD.format("N") + "layer A\n  200 g butter\n  loses 0 g\n")

    assert "hardly any sugar" in taste_beside(slab("Y", 300), none)[0]
    assert (
        "2.0 times as sweet (2.0 to 2.0)"
        in taste_beside(slab("Y", 450), slab("Z", 223))[0]
    )


def test_a_comparison_tells_taste_only_where_it_moved() -> None:
    old, sweeter = slab("X", 300), slab("X", 330)
    moved = compare(old, sweeter)

    assert "10 % sweeter" in moved.taste[0]
    assert "sweetness" in {one.name for one in moved.moved}
    assert compare(old, old).taste == ()


def test_salt_is_told_in_grams_of_a_hundred() -> None:
    spec = slab("New", 324, salt=2)
    (line,) = [
        one for one in taste_beside(spec, slab("Old", 300, salt=4)) if "salt:" in one
    ]
    told = [float(one) for one in re.findall(r"([\d.]+) g", line)]

    grams = spec.mass_g.number
    # the salt of butter, flour and the like is a few tenths of a gram here
    assert 200 / grams <= told[0] <= 260 / grams
