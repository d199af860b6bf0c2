"""What is left of eggs and lemons of which only a part goes in."""

import pytest

from slabwright.cost.by_products import ByProduct, by_products
from slabwright.cost.prices import Use
from slabwright.figure import Standing
from slabwright.larder.load import built_in


def left(*uses: Use, eggs: str = "medium", country: str = "GB") -> list[ByProduct]:
    return list(by_products(uses, built_in(), country, eggs))


def test_whites_of_five_yolks() -> None:
    # the middle of medium is 58 g in shell (Regulation (EC) No 589/2008), of which
    # 58.5 % is white: 33.9 g each
    (white,) = left(Use("egg-yolk", "yolk", 90.0, pieces=5))

    assert (white.larder_id, white.whole) == ("egg-white", "5 medium eggs")
    assert white.left_g.value == pytest.approx(5 * 33.9)
    assert white.left_g.standing is Standing.ASSUMED
    assert white.left_g.low is not None
    assert white.left_g.high is not None
    # the class runs from 53 to 63 g, the white from 57 to 60 %
    assert white.left_g.low == pytest.approx(5 * 53 * 0.57, abs=0.5)
    assert white.left_g.high == pytest.approx(5 * 63 * 0.60, abs=0.5)


def test_yolks_by_weight_are_so_many_of_the_middle() -> None:
    # 58 x 29.5 % = 17.1 g of yolk
    (white,) = left(Use("egg-yolk", "yolk", 171.0))

    assert white.whole == "10 medium eggs"


def test_yolks_are_left_where_whites_go_in() -> None:
    (yolk,) = left(Use("egg-white", "white", 33.9 * 4))

    assert yolk.name == "egg yolk"
    assert yolk.left_g.value == pytest.approx(4 * 17.1)


def test_whites_that_are_used_are_not_left() -> None:
    (white,) = left(
        Use("egg-yolk", "yolk", 100.0, pieces=6), Use("egg-white", "white", 33.9 * 2)
    )

    assert white.left_g.value == pytest.approx(33.9 * 4)
    assert "67.8 g of it used" in white.left_g.sum


def test_whole_eggs_and_equal_parts_leave_nothing() -> None:
    assert left(Use("whole-egg", "egg", 300.0)) == []
    pair = Use("egg-yolk", "y", 1.0, pieces=2), Use("egg-white", "w", 1.0, pieces=2)
    assert left(*pair) == []


def test_zest_of_squeezed_lemons() -> None:
    # 240 g are the juice of 5 (48 g each, USDA SR28), with 6 g of zest on each
    (zest,) = left(Use("lemon-juice", "juice", 240.0), Use("lemon-zest", "zest", 12.0))

    assert zest.whole == "5 lemons"
    assert zest.left_g.value == pytest.approx(18.0)


def test_juice_of_a_zested_lemon() -> None:
    (juice,) = left(Use("lemon-zest", "zest", 6.0, pieces=1))

    assert (juice.name, juice.whole) == ("lemon juice", "1 lemon")
    assert juice.left_g.value == pytest.approx(48.0)


def test_eggs_of_another_country_weigh_what_its_classes_say() -> None:
    (british,) = left(Use("egg-yolk", "yolk", 90.0, pieces=5), eggs="large")
    (american,) = left(
        Use("egg-yolk", "yolk", 90.0, pieces=5), eggs="large", country="US"
    )

    assert british.left_g.number > american.left_g.number
