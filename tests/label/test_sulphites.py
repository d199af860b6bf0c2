"""Sulphites by calculation: worked out by hand, against the 10 mg/kg of Annex II 12."""

import pytest
from tests.label.kitchen import counter, folder, slab

from slabwright.label.allergen.allergens import SlabAllergens, State


def fruit(so2_mg_kg: float, extra: str = "") -> str:
    return (
        f"- {{name: q fruit, like: sultanas, so2_mg_kg: {so2_mg_kg}, "
        f"contains: [sulphites], source: spec{extra}}}\n"
    )


def states(found: SlabAllergens) -> set[State]:
    return {one.state for one in found.traces if one.allergen == "sulphites"}


@pytest.mark.parametrize(
    ("so2_mg_kg", "grams", "expected_mg_kg", "is_declared"),
    [
        # 200 g of sugar and the fruit: 50 g × 1,000 mg/kg = 50 mg in 250 g
        (1000, 50, 200.0, True),
        (50, 50, 10.0, False),  # at the limit, not above it
        (50.01, 50, 10.002, True),
        (10, 50, 2.0, False),
        (0, 50, 0.0, False),
    ],
)
def test_the_sum_decides(
    so2_mg_kg: float, grams: int, expected_mg_kg: float, is_declared: bool
) -> None:
    found = slab(fruit(so2_mg_kg), f"{grams} g q fruit", "ends 250 g")

    assert found.sulphites is not None
    assert found.sulphites.number == pytest.approx(expected_mg_kg, rel=1e-9)
    assert ("sulphites" in found.in_it) == is_declared
    assert not found.is_held


def test_what_dries_in_the_oven_counts_by_what_is_left() -> None:
    # 3.36 mg in 350 g is 9.6 mg/kg; in the 270 g that are left, 12.4
    lines = ("70 g q fruit", "80 g water")

    assert "sulphites" not in slab(fruit(48), *lines, "ends 350 g").in_it
    assert "sulphites" in slab(fruit(48), *lines, "ends 270 g").in_it


def test_several_sources_add_up() -> None:
    larder = fruit(40) + fruit(40).replace("q fruit", "q peel")
    one = slab(larder, "50 g q fruit", "ends 300 g")
    two = slab(larder, "50 g q fruit", "50 g q peel", "ends 300 g")

    assert "sulphites" not in one.in_it  # 2 mg in 0.3 kg: 6.7
    assert "sulphites" in two.in_it  # 4 mg: 13.3


def test_a_component_taken_in_part_brings_its_share() -> None:
    # 100 mg in 100 g of jam; 20 g of it bring 20 mg into 220 g
    home = folder(
        fruit(2000),
        ["component Jam\n  50 g q fruit\n  50 g caster sugar\n  ends 100 g\n"],
    )
    text = (
        "slab S\ntin 20 x 20 x 5 cm\nlayer A\n  200 g caster sugar\n"
        "  20 g Jam\n  ends 220 g\n"
    )
    (row,) = counter(home, text).rows

    assert row.found.sulphites is not None
    assert row.found.sulphites.number == pytest.approx(20 / 0.220, rel=1e-6)


def test_without_a_figure_it_is_declared_or_asked() -> None:
    said = "- {name: q fruit, contains: [sulphites], source: spec}\n"

    assert slab(said, "1 g q fruit").in_it == ("sulphites",)
    assert slab("[]\n", "1 g sultanas").unknown == ("sulphites",)
    assert slab("[]\n", "1 g sultanas").in_it == ()


def test_a_figure_without_a_weight_is_asked() -> None:
    found = slab(fruit(1000), "2 q fruit")

    assert found.sulphites is None
    assert "sulphites" in found.unknown


def test_under_the_limit_the_sum_is_shown_and_nothing_else_is_lost() -> None:
    found = slab(fruit(10, ", may_contain: [milk]"), "50 g q fruit", "ends 250 g")

    assert states(found) == {State.EXEMPT}
    (trace,) = [t for t in found.traces if t.allergen == "sulphites"]
    assert "2 mg/kg, not above 10 mg/kg: Annex II 12" in trace.why
    assert found.may_contain == ("milk",)
