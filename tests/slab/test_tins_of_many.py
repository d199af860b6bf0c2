"""Several alike tins, divided tins, and several kinds that share a batch."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from slabwright.errors import GeometryError
from slabwright.files.card.sizes import read_tin
from slabwright.slab.ground import Ground, bands_mm3, depths_mm
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

SLOPING = Tin.rectangular(320, 220, 40, rim=Outline(340, 240))


def test_two_tins_hold_twice_as_much() -> None:
    one, two = SLOPING, SLOPING.times(2)

    assert two.area_mm2(13) == 2 * one.area_mm2(13)
    assert two.volume_mm3(55) == pytest.approx(2 * one.volume_mm3(55), rel=1e-14)
    assert two.depth_mm_of(8e6) == pytest.approx(one.depth_mm_of(4e6), rel=1e-12)
    assert two.depth_mm_of(2e6) == pytest.approx(one.depth_mm_of(1e6), rel=1e-12)
    assert two.one == one


def test_dividers_stand_on_part_of_the_floor() -> None:
    # By hand: 300 × 200 less two walls of 2 × 200 and one of 2 × 300, which cross
    # twice on 2 × 2: 60,000 - 800 - 600 + 8 = 58,608 mm²
    tin = Tin.rectangular(300, 200, 50).parted(3, 2, 2)

    assert tin.area_mm2() == 58_608
    assert tin.depth_mm_of(58_608 * 10) == pytest.approx(10, rel=1e-12)


def test_a_divided_sloping_tin_is_the_integral_of_its_open_area() -> None:
    tin = SLOPING.parted(4, 3, 1.5)

    def open_mm2(height_mm: float) -> float:
        length, width = 320 + 20 * height_mm / 40, 220 + 20 * height_mm / 40
        cells = ((length - 3 * 1.5) / 4) * ((width - 2 * 1.5) / 3)
        return 12 * cells

    assert tin.volume_mm3(40) == pytest.approx(quad(open_mm2, 0, 40)[0], rel=1e-12)


@pytest.mark.parametrize(
    ("words", "tin"),
    [
        ("2 of 30 x 20 x 5 cm", Tin.rectangular(300, 200, 50).times(2)),
        ("3 trays of round 23 cm, 7 cm deep", Tin.round(230, 70).times(3)),
        ("30 x 20 cm, divided 4 x 3", Tin.rectangular(300, 200).parted(4, 3)),
        (
            "30 x 20 x 5 cm, divided into 4 x 3 cells, dividers 2 mm",
            Tin.rectangular(300, 200, 50).parted(4, 3, 2),
        ),
        (
            "2 of 30 x 20 cm, divided 2 x 2, with dividers 3 mm thick, 5 cm deep",
            Tin.rectangular(300, 200, 50).parted(2, 2, 3).times(2),
        ),
    ],
)
def test_their_words_are_read_and_said_again(words: str, tin: Tin) -> None:
    assert read_tin(words) == tin
    assert read_tin(tin.describe().replace("×", "x")) == tin


@pytest.mark.parametrize(
    "words",
    [
        "0 of 30 x 20 cm",
        "100000 of 30 x 20 cm",
        "30 x 20 cm, divided 0 x 3",
        "30 x 20 cm, divided 200 x 3",
        "round 20 cm, divided 2 x 2",
        "30 x 20 cm, divided 4 x 3, dividers 98 mm",
        "30 x 20 cm, divided 4 x 3, dividers nan mm",
        "30 x 20 cm, divided 4 x 3, dividers -1 mm",
    ],
)
def test_what_no_tin_can_be_is_refused(words: str) -> None:
    with pytest.raises(GeometryError):
        read_tin(words)


@given(
    st.lists(
        st.sampled_from([SLOPING, Tin.round(200, 70), Tin.square(230)]), min_size=1
    ),
    st.lists(st.floats(1, 12), min_size=1, max_size=4),
)
def test_depths_in_several_tins_go_there_and_back(
    tins: list[Tin], deep: list[float]
) -> None:
    ground = Ground(tuple(tins))

    assert depths_mm(ground, bands_mm3(ground, deep)) == pytest.approx(deep, rel=1e-9)


def test_volume_in_several_tins_is_the_sum_of_theirs() -> None:
    ground = Ground((SLOPING, Tin.round(200, 70)))
    apart = SLOPING.volume_mm3(25) + Tin.round(200, 70).volume_mm3(25)

    assert ground.volume_mm3(25) == pytest.approx(apart, rel=1e-14)
    assert ground.rim_mm == 40
