"""Fat of a layer: what it does where it is kept, with mended twins."""

import re
from pathlib import Path

import numpy as np
import pytest

from slabwright.composition import FATS
from slabwright.finding import Finding
from slabwright.physics.fat import temperature_of_solid
from slabwright.physics.species import Array
from slabwright.spec.nature.aspect import Aspect
from slabwright.spec.nature.fat_bands import SOFT_SHARE
from slabwright.spec.nature.fat_findings import cocoa_butter_to_hold
from slabwright.spec.nature.sheet import layer_sheet
from tests.files.kitchens import worked

CARDS = Path(__file__).parents[3] / "demo/slabs"
TAHINI = "260 g tahini; {}; 40 g icing sugar"
COAT = "200 g dark chocolate 60%; {} g coconut oil; melt to 45 C"


def aspect(kind: str, block: str, keep: str = "shelf, 20 C, 4 days") -> Aspect | None:
    lines = "".join(f"  {line.strip()}\n" for line in block.split(";"))
    text = (
        f"slab X\ntin 30 x 20 x 5 cm\nkeep {keep}\nlayer J\n  kind {kind}\n{lines}"
        f"{'' if 'loses' in block else '  loses 0 g'}\n  density 1.1 g/ml\n"
    )
    spec = worked(text)
    assert spec.errors == ()
    (nature,) = spec.natures
    return nature.aspect("fat")


def told(kind: str, block: str, keep: str = "shelf, 20 C, 4 days") -> Aspect:
    found = aspect(kind, block, keep)
    assert found is not None
    return found


def numbers(found: Aspect) -> dict[str, float | None]:
    return {
        one.name: one.figure.number if one.figure.known else None
        for one in found.figures
    }


def words(found: Aspect) -> dict[str, str]:
    return {one.name: one.word for one in found.classes}


def finding(found: Aspect, code: str) -> Finding:
    (one,) = [each for each in found.findings if each.code == code]
    return one


def fats(**grams: float) -> Array:
    return np.array([grams.get(name.removeprefix("fat_"), 0.0) for name in FATS])


def test_cocoa_butter_mends_a_seed_layer_by_the_grams_that_are_told() -> None:
    """As in the third demonstration slab: coconut oil alone smears, both hold."""
    soft = told(
        "seed paste", TAHINI.format("70 g coconut oil"), "shelf at 17 C, 9 days"
    )
    one = finding(soft, "soft_at_keeping")
    grams = int(re.findall(r"Melt (\d+) g of cocoa butter", one.do)[0])

    mended = TAHINI.format(f"70 g coconut oil; {grams} g cocoa butter")
    short = TAHINI.format(f"70 g coconut oil; {grams - 6} g cocoa butter")
    keep = "shelf at 17 C, 9 days"
    assert told("seed paste", mended, keep).findings == ()
    assert finding(told("seed paste", short, keep), "soft_at_keeping")
    assert one.layer == 0
    assert one.span is not None
    assert one.source


def test_what_no_end_of_its_range_holds_is_to_look_at() -> None:
    surely = told("seed paste", "300 g tahini; 30 g icing sugar")
    perhaps = told("seed paste", TAHINI.format("70 g coconut oil"))

    assert f"{finding(surely, 'soft_at_keeping').severity}" == "look"
    assert f"{finding(perhaps, 'soft_at_keeping').severity}" == "note"
    assert "at any temperature" in finding(surely, "soft_at_keeping").what
    assert numbers(surely)["soft_above_C"] is None


@pytest.mark.parametrize(("coconut", "word", "noted"), [
    (4, "little", False), (15, "softens it", False),
    (60, "near the softest mix", True),
])  # fmt: skip
def test_coconut_fat_in_chocolate(coconut: int, word: str, noted: bool) -> None:
    found = told("glaze", COAT.format(coconut), "shelf at 15 C, 9 days")

    assert words(found)["lauric_in_cocoa"] == word
    codes = [one.code for one in found.findings]
    assert ("lauric_with_cocoa" in codes) is noted
    if noted:
        out = re.findall(r"Leave out (\d+) g", finding(found, "lauric_with_cocoa").do)
        fewer = told("glaze", COAT.format(coconut - int(out[0])), "shelf at 15 C")
        assert "lauric_with_cocoa" not in [one.code for one in fewer.findings]


def test_grams_are_told_as_they_are_weighed() -> None:
    """A quarter stays in the bowl, of what is put in to mend it too."""
    for kind, block, code in (
        ("glaze", COAT.format(60), "lauric_with_cocoa"),
        ("seed paste", TAHINI.format("10 g cocoa butter"), "soft_at_keeping"),
    ):
        grams = []
        for lost in ("", ";loses 25 % in the bowl"):
            do = finding(told(kind, f"{block}{lost}"), code).do
            grams.append(int(re.findall(r"(\d+) g", do)[0]))
        # each is rounded up by itself
        assert grams[0] >= 8
        assert grams[1] == pytest.approx(grams[0], abs=1)


def test_milk_chocolate_has_temperatures_of_its_own() -> None:
    dark = told("glaze", "200 g dark chocolate 60%; melt to 50 C")
    milk = told("glaze", "200 g milk chocolate 35%; melt to 45 C")
    white = told("glaze", "200 g white chocolate; melt to 45 C")

    for found, works in ((dark, "31 to 32"), (milk, "30 to 31"), (white, "29 to 30")):
        assert any(works in note for note in found.notes)


def test_milk_fat_softens_chocolate_and_a_temper_narrows_the_band() -> None:
    loose = told("glaze", "200 g dark chocolate 60%; melt to 50 C")
    kept = told("glaze", "200 g dark chocolate 60%; melt to 50 C; temper")
    butter = told("glaze", "200 g dark chocolate 60%; 40 g clarified butter; melt")
    soft = {
        name: next(f.figure for f in found.figures if f.name == "soft_above_C")
        for name, found in (("loose", loose), ("kept", kept), ("butter", butter))
    }

    assert soft["butter"].number < soft["loose"].number
    assert soft["loose"].low is not None
    assert soft["kept"].low is not None
    assert soft["loose"].low < soft["kept"].low
    assert soft["loose"].number == soft["kept"].number
    assert soft["loose"].holds
    assert "ideal-solubility" in {one.key for one in soft["butter"].sources}


@pytest.mark.parametrize(("step", "tempered"), [
    ("temper", True), ("melt to 50 C, temper to 31 C", True), ("use tempered", True),
    ("leave at room temperature", False), ("use untempered", False),
    ("melt without tempering", False), ("melt to 45 C", False),
])  # fmt: skip
def test_a_temper_is_read_as_it_is_meant(step: str, tempered: bool) -> None:
    found = told("glaze", f"200 g dark chocolate 60%; {step}")
    (figure,) = [one.figure for one in found.figures if one.name == "soft_above_C"]
    assert figure.low is not None
    assert (figure.low > 26) is tempered


def test_an_oil_without_a_name_of_its_own_is_an_oil() -> None:
    plain_ = told("glaze", "200 g dark chocolate 60%; melt to 50 C")
    ends = {}
    for name in ("sunflower oil", "olive oil", "hazelnut oil"):
        found = told("glaze", f"200 g dark chocolate 60%; 40 g {name}; melt to 50 C")
        ends[name] = numbers(found)["soft_above_C"] or 0
        assert ends[name] < (numbers(plain_)["soft_above_C"] or 0)
    assert ends["sunflower oil"] == pytest.approx(ends["hazelnut oil"], abs=0.5)
    assert ends["olive oil"] == pytest.approx(ends["hazelnut oil"], abs=0.5)


def test_what_is_firm_by_flour_sugar_or_water_tells_its_fats_only() -> None:
    base = told(
        "pressed biscuit", "200 g plain flour; 150 g unsalted butter; 80 g caster sugar"
    )
    caramel = told("caramel", "200 g caster sugar; 200 g double cream 48%")

    for found in (base, caramel):
        assert "soft_above_C" not in numbers(found)
        assert found.findings == ()
        assert found.charts[0].name == "solid_fat"
        assert any("does not decide" in note for note in found.notes)


@pytest.mark.parametrize("block", [
    "200 g water", "200 g caster sugar", "20 g egg white", "200 g moonshine paste",
])  # fmt: skip
def test_without_fat_or_knowledge_there_is_nothing_to_tell(block: str) -> None:
    lines = f"slab X\ntin 20 x 20 x 5 cm\nlayer J\n  kind plain\n  {block}\n"
    (nature,) = worked(lines).natures
    assert nature.aspect("fat") is None


def test_a_frozen_slab_is_not_called_soft() -> None:
    found = told(
        "seed paste", TAHINI.format("45 g cocoa butter"), "frozen at -18 C, 8 weeks"
    )
    assert found.findings == ()
    assert "fat_kept_1" not in words(found)
    only_oil = told("seed paste", "300 g tahini", "frozen at -18 C, 8 weeks")
    assert only_oil.findings == ()


def test_some_chocolate_among_nuts_is_no_coat_to_temper() -> None:
    nuts = told("pressed nut", "300 g roasted hazelnuts; 60 g dark chocolate 60%")
    coat = told("glaze", "60 g dark chocolate 60%; 20 g roasted hazelnuts")

    assert not any("worked at" in note for note in nuts.notes)
    assert any("worked at" in note for note in coat.notes)


def test_the_chart_says_what_it_shows() -> None:
    (chart,) = told("ganache", "200 g dark chocolate 60%; 100 g cream 48%").charts
    (curve,) = chart.curves

    assert curve.x[0] == 2
    assert curve.x[-1] == 37
    assert list(curve.y) == sorted(curve.y, reverse=True)
    for low, value, high in zip(curve.low, curve.y, curve.high, strict=True):
        assert low <= value <= high
    assert "at 18 °C" in chart.words


def test_layers_and_versions_are_held_against_each_other() -> None:
    spec = worked((CARDS / "lantern-walk.card").read_text("utf-8"))
    (pair,) = [
        one for one in spec.touching
        if any(two.name == "same_solid_fat_C" for two in one.figures)
    ]  # fmt: skip
    (figure,) = [one.figure for one in pair.figures if one.name == "same_solid_fat_C"]
    assert figure.number > 17  # a coat of chocolate is the harder of the two
    assert "oil" in [one.label for one in pair.classes]


def test_a_version_is_as_solid_as_another_at_a_temperature() -> None:
    """`As v2 at 16 °C`: the same at the same, with butter cooler, with less warmer."""
    card = (CARDS / "harbour-lamp.card").read_text("utf-8")
    spec = worked(card)
    temperatures = {}
    for butter in (20, 60, 0):
        version = card.replace(
            "  20 g    butter, unsalted, at 38 C", f"  {butter} g butter"
        )
        if butter == 0:
            version = card.replace("  20 g    butter, unsalted, at 38 C\n", "")
        assert butter == 20 or version != card
        other = spec if butter == 20 else worked(version)
        sheet = layer_sheet(other, "ganache", spec)
        (one,) = sheet.natured
        found = one.nature.figure("same_solid_fat_C")
        assert found is not None
        assert "Coffee dark ganache" in found.sum
        temperatures[butter] = found.number
    assert temperatures[20] == pytest.approx(18, abs=0.05)  # up to 20 °C on the card
    assert temperatures[60] < temperatures[20] < temperatures[0]

    sheet = layer_sheet(spec, "", spec)
    named = [one.name for one in sheet.natured if one.nature.figure("same_solid_fat_C")]
    assert named == ["Coffee dark ganache"]  # no crumb, no caramel
    alone = layer_sheet(spec).natured[2].nature
    assert alone.figure("same_solid_fat_C") is None


def test_no_finding_of_fat_stands_on_a_demonstration_slab() -> None:
    for card in CARDS.glob("*.card"):
        for nature in worked(card.read_text("utf-8")).natures:
            fat = nature.aspect("fat")
            assert fat is not None or nature.layer == "Blackcurrant jelly"
            assert fat is None or fat.findings == ()


def test_cocoa_butter_that_holds_is_the_least() -> None:
    start = fats(lauric=70, nut=140)
    grams = cocoa_butter_to_hold(start, 20.0)
    assert grams is not None
    enough, short = start.copy(), start.copy()
    enough[FATS.index("fat_cocoa")] = grams
    short[FATS.index("fat_cocoa")] = grams - 3
    assert temperature_of_solid(enough, SOFT_SHARE).value >= 20
    assert temperature_of_solid(short, SOFT_SHARE).value < 20
    assert cocoa_butter_to_hold(start, 40.0) is None
    assert cocoa_butter_to_hold(fats(cocoa=1), 20.0) == 0


def test_cold_is_told_only_where_it_would_firm_a_layer() -> None:
    """Oil alone stays soft in any fridge; a softer layer, under where it turns soft."""
    oil = finding(
        told("seed paste", "300 g tahini; 30 g icing sugar"), "soft_at_keeping"
    )
    some = told("seed paste", TAHINI.format("70 g coconut oil"))
    soft_C = numbers(some)["soft_above_C"]
    cold = re.findall(r"keep it under (\d+) °C", finding(some, "soft_at_keeping").do)

    assert "keep it under" not in oil.do
    assert "cold alone will not firm it" in oil.do
    assert soft_C is not None
    assert [int(one) for one in cold] == [int(soft_C)]


def test_two_layers_of_fat_are_compared_though_no_oil_moves() -> None:
    ganache = (
        "layer {}\n  kind ganache\n  250 g dark chocolate 60%\n"
        "  {} g double cream 48%\n  loses 0 g\n"
    )
    head = "slab X\ntin 30 x 20 x 5 cm\nkeep shelf, 18 C, 4 days\n"
    spec = worked(head + ganache.format("A", 125) + ganache.format("B", 160))
    (figure,) = [
        one.figure
        for pair in spec.touching
        for one in pair.figures
        if one.name == "same_solid_fat_C"
    ]

    assert figure.number < 18  # B holds more of the softer fat
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low <= figure.number < figure.high
