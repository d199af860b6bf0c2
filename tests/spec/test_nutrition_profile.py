"""The nutrient profile of whole slabs: by hand, and how much fruit may count."""

from datetime import date

import pytest

from slabwright.publish.nutrition import profile_points
from slabwright.spec.nutrition import nutrition_of
from slabwright.spec.nutrition_profile import most_fruit
from tests.label.kitchen import folder, worked

DAY = date(2026, 11, 25)
CARD = "slab Tried\ntin 20 x 20 x 5 cm\ncut 4 x 4\nlayer Base\n{}"


def slab(*lines: str) -> str:
    return CARD.format("".join(f"  {line}\n" for line in lines))


def fruit(*lines: str, larder: str = "") -> float | None:
    home = folder(larder)
    return most_fruit(worked(home, slab(*lines)), home.larder)


def about(percent: float) -> object:
    """What stays in the bowl, one part in a hundred, counts for none."""
    return pytest.approx(percent, rel=0.02)


def test_nuts_and_fruit_count_once_and_dried_fruit_twice() -> None:
    assert fruit("100 g caster sugar") == 0
    assert fruit("60 g hazelnuts", "140 g caster sugar") == about(30)
    # (2 x 60) ÷ (2 x 60 + 80)
    assert fruit("60 g dates", "80 g caster sugar") == about(60)
    own = "- {name: our nuts, like: hazelnuts}\n"
    assert fruit("50 g our nuts", "50 g butter", larder=own) == about(50)


def test_a_slab_without_a_mass_has_no_share() -> None:
    assert fruit() is None


def test_butter_and_sugar_by_hand() -> None:
    home = folder("")
    spec = worked(home, slab("200 g caster sugar"))
    found = nutrition_of(spec, home.larder, "England", DAY).profile
    assert found is not None
    # 100 g sugar: 1,700 kJ (5 points) and 100 g sugars (10), nothing else
    assert found.points["energy_kj"] == (5, 5)
    assert found.points["sugars_g"] == (10, 10)
    assert (found.low, found.high) == (15, 15)
    assert "protein -0 (not counted)" in profile_points(found)
    few = nutrition_of(
        worked(home, slab("150 g whole milk")), home.larder, "England", DAY
    ).profile
    assert few is not None
    # 3.2 to 4.8 g of protein are 2 points, and count
    assert "protein -2" in profile_points(few)
    assert "not counted" not in profile_points(few)


def test_it_is_a_british_model_and_needs_every_figure() -> None:
    home = folder("")
    spec = worked(home, slab("200 g caster sugar"))
    assert nutrition_of(spec, home.larder, "EU", DAY).profile is None
    unknown = worked(home, slab("200 g caster sugar", "50 g moon dust"))
    assert nutrition_of(unknown, home.larder, "England", DAY).profile is None
