"""The density of a layer whose card says none: its kind's, and never what can't be."""

import pytest

from slabwright.composition import INDEX, zeros
from slabwright.formula.bulk import usual_density
from slabwright.physics.bulk import without_air
from slabwright.physics.syrup import syrup_density
from slabwright.spec.specification import Specification
from tests.files.kitchens import worked


def spec_of(kind: str, *lines: str) -> Specification:
    body = "\n".join(f"  {line}" for line in lines)
    return worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer L\n  kind {kind}\n{body}\n")


@pytest.mark.parametrize("sugar_g", [60, 100, 380, 420])
def test_a_jelly_is_as_heavy_as_its_syrup_thin_or_boiled_down(sugar_g: int) -> None:
    """Syrups as handbooks have them; at 50 % what is usual is right too."""
    spec = spec_of(
        "jelly", f"{sugar_g} g caster sugar", f"{500 - sugar_g} g water", "loses 0 g"
    )
    found = usual_density(spec.layers[0].batch)
    syrup = float(syrup_density(sugar_g / 5)) / 1000

    assert found.value == pytest.approx(syrup, abs=0.02)
    assert found.low < syrup < found.high
    assert found.leans == "assumed"


def test_the_depth_goes_with_it() -> None:
    thick = spec_of("jelly", "380 g caster sugar", "120 g water", "loses 0 g")
    (layer,) = thick.layers
    volume_ml = layer.depth_mm.number * 40

    assert volume_ml == pytest.approx(500 / 1.38, rel=0.01)


def test_no_layer_is_heavier_than_its_mix_without_air() -> None:
    # an icing of its kind weighs 1.4 g/ml, one that is mostly butter never does
    spec = spec_of("icing", "300 g butter, unsalted", "100 g icing sugar", "loses 0 g")
    batch = spec.layers[0].batch
    found = usual_density(batch)
    _, hard = without_air(batch.after)

    assert batch.kind.density_g_ml.value > 1.3
    assert found.value <= float(hard[0]) / 1000
    assert "can't be" in found.sum


@pytest.mark.parametrize(
    ("kind", "lines"),
    [
        ("caramel", ("300 g caster sugar", "100 g double cream", "loses 0 g")),
        ("jelly", ("250 g caster sugar", "250 g water", "loses 0 g")),
        ("sponge", ("200 g plain flour", "200 g caster sugar", "loses 0 g")),
        ("jelly", ("300 g moon dust", "100 g water", "loses 0 g")),
    ],
)
def test_what_can_be_or_is_not_known_keeps_what_is_usual(
    kind: str, lines: tuple[str, ...]
) -> None:
    batch = spec_of(kind, *lines).layers[0].batch
    usual = batch.kind.density_g_ml
    found = usual_density(batch)

    assert (found.value, found.low, found.high) == (usual.value, usual.low, usual.high)


@pytest.mark.parametrize(("soda_g", "is_foam"), [(12, True), (3, False)])
def test_soda_makes_honeycomb_of_a_brittle(soda_g: int, is_foam: bool) -> None:
    lines = ("300 g caster sugar", "150 g golden syrup", "boil to 150 C")
    spec = spec_of("brittle", *lines, f"{soda_g} g bicarbonate of soda")
    found = usual_density(spec.layers[0].batch)

    assert (found.value < 0.7) == is_foam
    assert ("honeycomb" in found.sum) == is_foam


def test_cocoa_butter_is_as_dense_as_beckett_has_it_set() -> None:
    """0.96 to 0.99 g/ml solid."""
    butter = zeros()
    butter[INDEX["fat_cocoa"]] = 100
    _, hard = without_air(butter)

    assert 960 <= float(hard) <= 990
