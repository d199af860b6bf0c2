"""Heat, air and freezing of layers: figures that can be, and a density that can't."""

from pathlib import Path

import pytest

from slabwright.figure import Figure
from slabwright.spec.nature.aspect import Aspect
from tests.files.kitchens import worked

CARDS = sorted((Path(__file__).parents[3] / "demo/slabs").glob("*.card"))


def heat(block: str, kind: str = "jelly", head: str = "") -> Aspect:
    lines = "".join(f"  {line.strip()}\n" for line in block.split(";"))
    spec = worked(f"slab X\ntin 30 x 20 x 5 cm\n{head}layer J\n  kind {kind}\n{lines}")
    assert spec.errors == ()
    (nature,) = spec.natures
    aspect = nature.aspect("heat")
    assert aspect is not None
    return aspect


def figure(aspect: Aspect, name: str) -> Figure:
    (found,) = [one.figure for one in aspect.figures if one.name == name]
    return found


def test_air_follows_from_a_measured_density() -> None:
    aspect = heat("300 g honey; loses 0 g; density 0.7 g/ml")
    air = figure(aspect, "air_share")
    dense = figure(aspect, "density_without_air_g_ml")

    # honey of 17 % water is 1.42 g/ml: from memory, as beekeepers' tables have it
    assert dense.number == pytest.approx(1.42, rel=0.02)
    assert air.number == pytest.approx(1 - 0.7 / dense.number, abs=0.01)
    assert aspect.findings == ()


def test_a_density_that_can_not_be_is_found_and_mended() -> None:
    bad = heat("300 g water; 100 g caster sugar; loses 0 g; density 1.3 g/ml")
    good = heat("300 g water; 100 g caster sugar; loses 0 g; density 1.1 g/ml")

    assert [one.code for one in bad.findings] == ["denser_than_its_mix"]
    assert not figure(bad, "air_share").known
    assert good.findings == ()
    assert figure(good, "air_share").known


@pytest.mark.parametrize("card", CARDS, ids=lambda path: path.stem)
def test_the_demonstration_raises_no_false_alarm(card: Path) -> None:
    for nature in worked(card.read_text("utf-8")).natures:
        aspect = nature.aspect("heat")
        assert aspect is not None
        assert aspect.findings == ()
        for one in aspect.figures:
            value = one.figure
            assert value.sum
            if value.known and value.low is not None and value.high is not None:
                assert value.low <= value.number <= value.high


def test_what_nobody_knows_is_withheld_with_its_reason() -> None:
    for one in heat("300 g water; 100 g moon dust; loses 0 g").figures:
        assert not one.figure.known
        assert "moon dust" in one.figure.sum


def test_chocolate_is_denser_once_its_fat_has_set() -> None:
    dense = figure(
        heat("300 g dark chocolate 60%; loses 0 g; density 1.26 g/ml", "glaze"),
        "density_without_air_g_ml",
    )

    # a book has 1.2 g/ml for liquid chocolate at 40 °C and 1.3 for solid
    assert dense.high is not None
    assert dense.number == pytest.approx(1.2, abs=0.03)
    assert dense.high == pytest.approx(1.3, abs=0.06)
    for measured in (1.25, 1.3):
        block = f"300 g dark chocolate 60%; loses 0 g; density {measured} g/ml"
        assert heat(block, "glaze").findings == ()


def test_ice_is_told_where_the_card_freezes_it() -> None:
    block = "300 g water; 100 g caster sugar; pour at 60 C; loses 0 g"
    frozen = heat(block, head="keep frozen at -18 C, 3 weeks\n")
    fresh = heat(block, head="keep chilled at 4 C, 3 days\n")

    assert 0.75 < figure(frozen, "ice_share_1").number < 0.9
    assert "ice_share_1" not in [one.name for one in fresh.figures]
    out = figure(fresh, "heat_out_kJ").number
    # 400 g, 3.5 kJ/(kg K), 56 K
    assert out == pytest.approx(0.4 * 3.5 * 56, rel=0.05)
    # 0.3 kg x 0.83 x 333.6 kJ/kg more, and some for the cold
    assert figure(frozen, "heat_out_kJ").number > out + 75


@pytest.mark.parametrize(
    "line",
    ["300 g cocoa butter", "300 g water", "10 g fine salt", "? g water", "0 g water",
     "300 g vodka", "300 g citric acid"],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["jelly", "sponge", "marshmallow"])
def test_whatever_is_in_it_nothing_breaks(kind: str, line: str) -> None:
    for keep in ("", "keep frozen, 3 weeks\n"):
        worked(
            f"slab X\ntin 30 x 20 x 5 cm\n{keep}layer J\n  kind {kind}\n  {line}\n"
            "  pour at 90 C\n  density 0.3 g/ml\n"
        )


def test_it_says_how_damp_a_room_makes_it_sweat() -> None:
    block = "300 g honey; loses 0 g"
    chilled = heat(block, head="keep chilled at 4 C, 3 days\n")

    # 0.813 over 2.339 kPa, from steam tables
    found = figure(chilled, "sweats_from_humidity_share")
    assert found.number == pytest.approx(0.348, abs=0.003)
    warm = heat(block, head="keep at room, 3 days\n")
    assert "sweats_from_humidity_share" not in [one.name for one in warm.figures]


def test_ice_is_never_more_than_all_of_the_water() -> None:
    card = (
        "slab X\ntin 30 x 20 x 5 cm\nkeep freezer -18 C, 20 days\nlayer J\n"
        "  kind jelly\n  300 g water\n  2 g caster sugar\n  loses 0 g\n"
    )
    found = worked(card).natures[0].figure("ice_share_1")

    assert found is not None
    assert found.low is not None
    assert found.low < found.number <= 1
    assert found.high == 1  # its error would reach beyond
