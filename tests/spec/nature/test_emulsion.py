"""Fat and water in a ganache, and what seizes, with mended twins."""

import re
from pathlib import Path

import pytest

from slabwright.finding import Finding
from slabwright.spec.nature.aspect import Aspect
from tests.files.kitchens import worked

CARDS = Path(__file__).parents[3] / "demo/slabs"


def aspect(kind: str, block: str, lost: str = "0 g") -> Aspect | None:
    lines = "".join(f"  {line.strip()}\n" for line in block.split(";"))
    text = (
        f"slab X\ntin 30 x 20 x 5 cm\nlayer J\n  kind {kind}\n{lines}  loses {lost}\n"
    )
    spec = worked(text)
    assert spec.errors == ()
    (nature,) = spec.natures
    return nature.aspect("emulsion")


def codes(kind: str, block: str, lost: str = "0 g") -> list[str]:
    found = aspect(kind, block, lost)
    return [] if found is None else [one.code for one in found.findings]


def finding(kind: str, block: str, code: str, lost: str = "0 g") -> Finding:
    found = aspect(kind, block, lost)
    assert found is not None
    (one,) = [each for each in found.findings if each.code == code]
    return one


RICH = "200 g dark chocolate 60%; 180 g double cream 48%"


@pytest.mark.parametrize("lost", ["0 g", "25 % in the bowl"])
def test_the_grams_that_are_told_mend_a_ganache_and_two_less_do_not(lost: str) -> None:
    # what stays in the bowl was weighed too
    told = finding("ganache", RICH, "splits", lost)
    wet, milk = (int(one) for one in re.findall(r"(\d+) g of warm", told.do))

    for grams, name in ((wet, "water"), (milk, "whole milk")):
        assert codes("ganache", f"{RICH}; {grams} g {name}", lost) == []
        assert codes("ganache", f"{RICH}; {grams - 2} g {name}", lost) == ["splits"]
    assert f"{told.severity}" == "look"
    assert told.layer == 0


def test_classes_stand_in_order_of_fat() -> None:
    words = []
    for cream in (60, 150, 200):
        block = f"200 g dark chocolate 60%; {cream} g double cream 48%; 55 g whole milk"
        found = aspect("ganache", block)
        assert found is not None
        (one,) = found.classes
        assert one.word in one.words
        assert "% fat in all" in one.why
        assert one.sources
        words.append(one.words.index(one.word))
    assert words == sorted(words)
    assert words[0] < words[-1]


def test_the_demonstration_ganache_has_the_worked_shares() -> None:
    spec = worked((CARDS / "harbour-lamp.card").read_text("utf-8"))
    found = spec.natures[2].aspect("emulsion")
    assert found is not None
    figures = {one.name: one.figure.number for one in found.figures}

    # worked on paper with rounded compositions: 19 % water, 38 % fat
    assert figures["water_share"] == pytest.approx(0.19, abs=0.01)
    # 250 g of 60 % chocolate with 22 % dry cocoa, in 410 g
    assert figures["dry_cocoa_share"] == pytest.approx(0.22 * 250 / 410, abs=0.01)
    assert found.findings == ()
    for card in CARDS.glob("*.card"):
        for nature in worked(card.read_text("utf-8")).natures:
            other = nature.aspect("emulsion")
            assert other is None or other.findings == ()


@pytest.mark.parametrize(("block", "seizes"), [
    ("200 g dark chocolate 60%; 8 g water", True),
    ("200 g dark chocolate 60%; 20 g honey", True),
    ("200 g dark chocolate 60%; 20 g whole milk", True),
    ("200 g dark chocolate 60%; 30 g clotted cream", True),
    ("200 g dark chocolate 60%", False),
    ("200 g dark chocolate 60%; 40 g unsalted butter", False),
    ("200 g dark chocolate 60%; 20 g coconut oil", False),
    ("200 g dark chocolate 60%; 30 g raisins", False),
    ("200 g dark chocolate 60%; 50 g whole milk", False),
    ("40 g dark chocolate 60%; 100 g roasted hazelnuts; 4 g water", False),
])  # fmt: skip
def test_a_little_water_seizes_chocolate(block: str, seizes: bool) -> None:
    assert ("seizes" in codes("glaze", block)) is seizes


def test_what_loosens_seized_chocolate_is_told_in_grams() -> None:
    told = finding("glaze", "200 g dark chocolate 60%; 8 g water", "seizes")
    more = int(re.findall(r"stir in (\d+) g more", told.do)[0])
    assert 32 <= more <= 33  # tap water is not all water
    assert codes("glaze", f"200 g dark chocolate 60%; {8 + more} g water") == []


def test_a_paste_of_seeds_thickens_with_a_little_water() -> None:
    thick = aspect("seed paste", "260 g tahini; 120 g maple syrup; 40 g coconut oil")
    assert thick is not None
    assert any("thickens" in note for note in thick.notes)
    assert aspect("seed paste", "260 g tahini; 30 g icing sugar") is None


@pytest.mark.parametrize(("kind", "block"), [
    ("brownie", "200 g dark chocolate 60%; 150 g butter; 3 eggs; 100 g plain flour"),
    ("caramel", "200 g caster sugar; 200 g double cream 48%"),
    ("mousse", "60 g dark chocolate 60%; 400 g egg white"),
    ("jelly", "200 g water"),
    ("ganache", "200 g moonshine paste; 100 g double cream 48%"),
])  # fmt: skip
def test_what_is_no_ganache_is_told_none(kind: str, block: str) -> None:
    assert aspect(kind, block) is None


def test_a_baked_ganache_is_another_thing() -> None:
    assert aspect("plain", f"{RICH}; bake 160 C fan 20 min") is None


def test_a_little_chocolate_in_a_cream_of_butter_makes_no_ganache() -> None:
    butter = "100 g butter, unsalted; 60 g water; 300 g caster sugar"

    assert aspect("cream", f"10 g dark chocolate 60%; {butter}") is None
    assert aspect("cream", f"150 g dark chocolate 60%; {butter}") is not None
