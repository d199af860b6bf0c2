"""Layers on one another: how deep they stand, and what a ruler teaches."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from tests.files.kitchens import worked

from slabwright.slab.tin import Tin
from slabwright.spec.specification import Specification

STRAIGHT = "30 x 20 x 5 cm"
SLOPING = "32 x 22 cm at the base, 34 x 24 cm at the rim, 4 cm deep"
ROUND = "round 20 cm at the base, 24 cm at the rim, 5 cm deep"

grams = st.integers(5, 1500)
densities = st.integers(25, 150).map(lambda n: n / 100)


def layer(name: str, mass_g: float, density: float, more: str = "") -> str:
    return (
        f"layer {name}\n  {mass_g:g} g water\n  loses 0 g, weighed\n"
        f"  density {density:g} g/ml, measured\n{more}"
    )


def slab(tin: str, *layers: str) -> Specification:
    spec = worked(f"slab X\ntin {tin}\n" + "".join(layers))

    assert spec.errors == ()
    return spec


def volume_ml(tin: Tin, low_mm: float, high_mm: float) -> float:
    """Volume between two heights, by SciPy's quadrature of the area."""
    if tin.depth_mm is None:
        return tin.area_mm2() * (high_mm - low_mm) / 1000
    breaks = [tin.depth_mm] if low_mm < tin.depth_mm < high_mm else None
    found, _ = quad(area_at, low_mm, high_mm, args=(tin,), points=breaks)
    return float(found) / 1000


def area_at(height_mm: float, tin: Tin) -> float:
    """Inner area [mm²], from the sizes at base and rim alone."""
    share = min(height_mm / (tin.depth_mm or 1.0), 1.0)
    length_mm = tin.length_mm + share * (tin.rim.length_mm - tin.length_mm)
    width_mm = tin.width_mm + share * (tin.rim.width_mm - tin.width_mm)
    round_share = 3.141592653589793 / 4 if tin.shape == "round" else 1.0
    return length_mm * width_mm * round_share


@given(grams, densities)
def test_depth_times_area_times_density_is_the_mass(mass_g: int, g_ml: float) -> None:
    (only,) = slab(STRAIGHT, layer("A", mass_g, g_ml)).layers

    # 600 cm², a tenth of a millimetre is 0.01 cm
    assert only.depth_mm.number / 10 * 600 * g_ml == pytest.approx(mass_g, rel=1e-9)


@pytest.mark.parametrize("tin", [SLOPING, ROUND])
@given(st.lists(st.tuples(grams, densities), min_size=1, max_size=4))
def test_in_a_sloping_tin_each_layer_fills_its_own_volume(
    tin: str, made: list[tuple[int, float]]
) -> None:
    # Source: scipy.integrate.quad over the area, worked from base and rim here
    layers = [layer(f"L{i}", mass, g_ml) for i, (mass, g_ml) in enumerate(made)]
    spec = slab(tin, *layers)
    assert spec.tin is not None

    low_mm = 0.0
    for found, (mass_g, g_ml) in zip(spec.layers, made, strict=True):
        assert found.from_mm == pytest.approx(low_mm)
        high_mm = low_mm + found.depth_mm.number
        assert volume_ml(spec.tin, low_mm, high_mm) == pytest.approx(
            mass_g / g_ml, rel=1e-6
        )
        low_mm = high_mm


def test_the_same_layer_stands_lower_the_higher_it_lies() -> None:
    twice = slab(SLOPING, layer("A", 700, 1.0), layer("B", 700, 1.0))
    below, above = (found.depth_mm.number for found in twice.layers)

    # 32 x 22 cm are 704 cm², 34 x 24 are 816
    assert 10 * 700 / 816 < above < below < 10 * 700 / 704


@given(st.integers(1, 40), grams)
def test_a_measured_depth_teaches_the_density(depth_mm: int, mass_g: int) -> None:
    spec = worked(
        f"slab X\ntin {STRAIGHT}\nlayer A\n  {mass_g} g water\n  loses 0 g, weighed\n"
        f"  deep {depth_mm} mm\n"
    )
    (only,) = spec.layers

    assert only.depth_mm.number == depth_mm
    # 600 cm² x depth
    assert only.density_g_ml.number == pytest.approx(mass_g / (60 * depth_mm))


def test_a_measured_depth_in_a_sloping_tin_teaches_it_too() -> None:
    spec = worked(
        f"slab X\ntin {SLOPING}\n"
        + layer("A", 700, 1.0)
        + "layer B\n  500 g water\n  loses 0 g, weighed\n  deep 6 mm\n"
    )
    assert spec.tin is not None
    low_mm = spec.layers[0].depth_mm.number

    learned = 500 / volume_ml(spec.tin, low_mm, low_mm + 6)
    assert spec.layers[1].density_g_ml.number == pytest.approx(learned, rel=1e-6)


def test_the_measured_depth_beats_the_density() -> None:
    # 600 g on 600 cm² 10 mm deep: 1.0, not 0.8 g/ml
    (only,) = slab(STRAIGHT, layer("A", 600, 0.8, "  deep 10 mm\n")).layers

    assert only.density_g_ml.number == pytest.approx(1.0)
    assert only.depth_mm.number == 10


@pytest.mark.parametrize(
    ("written", "differs"),
    [(0.96, False), (1.04, False), (0.94, True), (1.06, True)],
)
def test_over_5_percent_apart_the_two_are_told(written: float, differs: bool) -> None:
    spec = slab(STRAIGHT, layer("A", 600, written, "  deep 10 mm\n"))

    assert ("density_differs" in {f.code for f in spec.findings}) is differs


@pytest.mark.parametrize("tin", [STRAIGHT, SLOPING, ROUND])
@given(st.integers(1, 30))
def test_a_wished_depth_is_so_much_of_the_layer(tin: str, wished_mm: int) -> None:
    spec = slab(tin, layer(f"A, {wished_mm} mm", 5000, 1.25))
    (only,) = spec.layers
    assert spec.tin is not None

    assert only.depth_mm.number == wished_mm
    expected_g = volume_ml(spec.tin, 0, wished_mm) * 1.25
    assert only.mass_out_g.number == pytest.approx(expected_g, rel=1e-6)


def test_a_wished_depth_with_a_measured_one_takes_what_that_one_teaches() -> None:
    # 500 g on 600 cm² 10 mm deep is 0.8333 g/ml; 6 mm of it are 300 g
    spec = worked(
        f"slab X\ntin {STRAIGHT}\nlayer A, 6 mm\n  500 g water\n  loses 0 g\n"
        "  deep 10 mm\n"
    )
    (only,) = spec.layers

    assert only.depth_mm.number == 6
    assert only.mass_out_g.number == pytest.approx(300)


@pytest.mark.parametrize(
    ("take", "mass_g", "left_g"),
    [
        (", 400 g", 400, 100),
        (", 6 mm", 360, 140),  # 600 cm² x 0.6 cm x 1.0 g/ml
        (", 0.5 batch", 250, 250),
        ("", 500, 0),
    ],
)
def test_what_a_layer_leaves_of_the_batch_is_told(
    take: str, mass_g: float, left_g: float
) -> None:
    part = (
        "component Curd\n  500 g water\n  loses 0 g, weighed\n"
        "  density 1.0 g/ml, measured\n"
    )
    spec = slab(STRAIGHT, part, f"layer A from Curd{take}\n")

    assert spec.layers[0].mass_out_g.number == pytest.approx(mass_g)
    assert spec.layers[0].depth_mm.number == pytest.approx(mass_g / 60)
    told = [f.what for f in spec.findings if f.code == "left_over"]
    assert told == ([f"{left_g:g} g of Curd is left over."] if left_g else [])


def test_height_head_room_and_rim() -> None:
    # 10 + 15 mm in a tin of 50
    fits = slab(STRAIGHT, layer("A", 600, 1.0), layer("B", 900, 1.0))
    over = slab("30 x 20 x 2 cm", layer("A", 600, 1.0), layer("B", 900, 1.0))

    assert fits.height_mm.number == pytest.approx(25)
    assert fits.head_room_mm.number == pytest.approx(25)
    assert over.head_room_mm.number == pytest.approx(-5)
    (told,) = [f for f in over.findings if f.code == "over_rim"]
    assert told.what == "The slab stands 5.0 mm above the tin's rim."


def test_a_range_of_density_is_a_range_of_depth() -> None:
    # plain: 0.80 to 1.30 g/ml, usually 1.05; 630 g on 600 cm²
    spec = slab(STRAIGHT, "layer A\n  kind plain\n  630 g caster sugar\n  loses 0 g\n")
    depth = spec.layers[0].depth_mm

    assert depth.number == pytest.approx(10)
    assert depth.low == pytest.approx(10.5 / 1.30)
    assert depth.high == pytest.approx(10.5 / 0.80)
    assert spec.head_room_mm.low == pytest.approx(50 - 10.5 / 0.80)


def test_only_a_sloping_tin_must_know_the_layer_below() -> None:
    unknown = "layer A\n  3 plain flour\n"
    sloping = slab(SLOPING, unknown, layer("B", 700, 1.0))
    straight = slab(STRAIGHT, unknown, layer("B", 600, 1.0))

    assert not sloping.layers[1].depth_mm.known
    assert "sloping" in sloping.layers[1].depth_mm.sum
    assert sloping.layers[1].mass_out_g.number == pytest.approx(700)
    assert straight.layers[1].depth_mm.number == pytest.approx(10)
    assert not straight.height_mm.known


def test_an_unknown_layer_that_was_measured_carries_the_next() -> None:
    unknown = "layer A\n  3 plain flour\n  ends 700 g weighed\n  deep 9 mm\n"
    spec = slab(SLOPING, unknown, layer("B", 700, 1.0))

    assert spec.layers[1].from_mm == 9
    assert spec.layers[1].depth_mm.known


def test_without_a_depth_a_tin_gives_no_head_room() -> None:
    spec = slab("30 x 20 cm", layer("A", 600, 1.0))

    assert spec.layers[0].depth_mm.number == pytest.approx(10)
    assert "how deep" in spec.head_room_mm.sum
