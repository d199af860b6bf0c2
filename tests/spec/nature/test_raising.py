"""What raises a layer: gas, and soda against acid, with mended twins."""

import pytest

from slabwright.spec.nature.aspect import Aspect
from tests.files.kitchens import worked

CAKE = "300 g plain flour; 200 g caster sugar; 100 g butter; {}; bake 170 C"


def raising(block: str, kind: str = "sponge") -> Aspect | None:
    lines = "".join(f"  {line.strip()}\n" for line in block.split(";"))
    spec = worked(f"slab X\ntin 30 x 20 x 5 cm\nlayer J\n  kind {kind}\n{lines}")
    assert spec.errors == ()
    (nature,) = spec.natures
    return nature.aspect("raising")


@pytest.mark.parametrize(
    ("with_it", "word"),
    [
        ("2 g bicarbonate of soda; 240 g buttermilk", "balanced"),
        ("6 g bicarbonate of soda; 240 g buttermilk", "soda left"),
        ("1 g bicarbonate of soda; 400 g buttermilk", "acid left"),
        (
            "4.5 g bicarbonate of soda; 10 g cream of tartar; 200 g whole milk",
            "balanced",
        ),
        ("5 g bicarbonate of soda; 200 g whole milk", "soda left"),
    ],
)
def test_soda_is_set_against_acid(with_it: str, word: str) -> None:
    aspect = raising(CAKE.format(with_it))
    assert aspect is not None
    (balance,) = aspect.classes

    assert balance.word == word
    codes = [one.code for one in aspect.findings]
    assert codes == (["soda_left"] if word == "soda left" else [])


def test_the_grams_that_it_asks_for_mend_it() -> None:
    aspect = raising(CAKE.format("6 g bicarbonate of soda; 240 g buttermilk"))
    assert aspect is not None
    (one,) = aspect.findings
    less = float(one.do.split()[1])
    tartar = float(one.do.partition("add ")[2].split()[0])

    for mended in (
        f"{6 - less:.1f} g bicarbonate of soda; 240 g buttermilk",
        f"6 g bicarbonate of soda; {tartar:.1f} g cream of tartar; 240 g buttermilk",
    ):
        found = raising(CAKE.format(mended))
        assert found is not None
        assert found.findings == ()


def test_powder_needs_no_balance_and_tells_its_gas() -> None:
    aspect = raising(CAKE.format("10 g baking powder; 200 g whole milk"))
    assert aspect is not None
    (gas,) = aspect.figures

    assert aspect.classes == ()
    assert gas.figure.low is not None
    # at least 12 % of a powder, as law has it in the United States
    assert gas.figure.low > 1.2
    assert gas.figure.number == pytest.approx(1.55, abs=0.1)


def test_honeycomb_is_meant_to_keep_its_soda() -> None:
    syrup = "300 g caster sugar; 100 g golden syrup; boil to 150 C"
    aspect = raising(f"{syrup}; 10 g bicarbonate of soda", "brittle")

    assert aspect is not None
    assert aspect.findings == ()


def test_without_a_raising_agent_nothing_is_said() -> None:
    assert raising(CAKE.format("200 g buttermilk")) is None


def test_soda_that_meets_no_acid_gives_half_its_gas() -> None:
    """2 NaHCO3 give Na2CO3, water and one CO2; with acid, each gives its own."""
    alone = raising(CAKE.format("4 g bicarbonate of soda; 200 g water"))
    met = raising(CAKE.format("4 g bicarbonate of soda; 14 g cream of tartar"))
    assert alone is not None
    assert met is not None
    half, whole = alone.figures[0], met.figures[0]

    soda_mol = 4 / (22.990 + 1.008 + 12.011 + 3 * 15.999)
    assert half.figure.number == pytest.approx(44.009 * soda_mol / 2, rel=1e-3)
    assert whole.figure.number == pytest.approx(44.009 * soda_mol, rel=1e-3)
