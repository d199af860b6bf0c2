"""The sugar of a layer: its class, the trade's rule beside, grams that mend it."""

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import ROW, water
from slabwright.finding import Finding
from slabwright.formula.kinds import kinds
from slabwright.formula.step import Band
from slabwright.kitchen import Kitchen
from slabwright.spec.nature.aspect import Aspect
from slabwright.spec.nature.grain import WORDS, rules
from slabwright.spec.nature.subject import Keeping, Subject
from slabwright.spec.nature.sugar import sugar_of
from slabwright.spec.nature.taste import taste_of
from tests.files.kitchens import worked

HEAD = "slab X\ntin 20 x 20 x 5 cm\nkeep at 18 C, {days} days\n"
CARAMEL = """layer Caramel
  kind caramel
  {sugar} g caster sugar
  {syrup} g glucose syrup 42 DE
  250 g double cream 48%
  60 g butter, unsalted
  ends 9 % water
"""


def sugar(card: str, days: int = 5) -> Aspect:
    spec = worked(HEAD.format(days=days) + card)
    assert spec.errors == ()
    found = spec.natures[0].aspect("sugar")
    assert found is not None
    return found


def word(aspect: Aspect, name: str = "graining") -> str:
    return next(one.word for one in aspect.classes if one.name == name)


def number(aspect: Aspect, name: str) -> float:
    return next(one.figure.number for one in aspect.figures if one.name == name)


def codes(aspect: Aspect) -> list[str]:
    return [one.code for one in aspect.findings]


def grams(finding: Finding) -> tuple[float, float]:
    """Syrup in, sugar out, as the first way of the advice has it."""
    said = re.search(r"Weigh (\d+) g [a-zA-Z0-9 ]+ in place of (\d+) g", finding.do)
    assert said is not None
    return float(said[1]), float(said[2])


def test_a_caramel_with_little_syrup_grains_until_the_advice_is_taken() -> None:
    bad = sugar(CARAMEL.format(sugar=300, syrup=60))

    assert word(bad) == "grains"
    (finding,) = bad.findings
    assert finding.code == "grains"
    syrup, out = grams(finding)
    good = sugar(CARAMEL.format(sugar=300 - out, syrup=60 + syrup))
    assert codes(good) == []
    assert number(good, "doctor_ratio") == pytest.approx(1.25, abs=0.02)
    # and not a gram more than it takes
    less = sugar(CARAMEL.format(sugar=300 - 0.8 * out, syrup=60 + 0.8 * syrup))
    assert number(less, "doctor_ratio") < 1.2


def test_rule_and_state_are_told_where_they_differ() -> None:
    held = sugar(CARAMEL.format(sugar=160, syrup=280))

    assert word(held) == "held by its syrups"
    assert number(held, "supersaturation") > 1.3
    why = next(one.why for one in held.classes if one.name == "graining")
    assert "by the trade's rule it does not" in why
    assert "1.25" in why


@pytest.mark.parametrize(("grams", "syrup_g"), [(200, 230), (250, 200), (300, 210)])
def test_of_a_usual_soft_caramel_a_note_is_enough(grams: int, syrup_g: int) -> None:
    # the rule is made for months in store; so much sugar is common practice
    some = sugar(CARAMEL.format(sugar=grams, syrup=syrup_g))

    assert word(some) == "may grain when disturbed"
    assert codes(some) == ["may_grain"]
    assert [one.severity.value for one in some.findings] == ["note"]


def test_a_caramel_of_two_parts_of_sugar_to_one_of_syrup_is_warned_of() -> None:
    assert codes(sugar(CARAMEL.format(sugar=300, syrup=150))) == ["grains"]


BROWN = (
    "layer Caramel\n  kind caramel\n  {sugar} g light brown sugar\n"
    "  {syrup} g golden syrup\n{more}  200 g double cream 48%\n"
    "  80 g butter, unsalted\n  boil to 117 C\n{after}"
)


@pytest.mark.parametrize("after", ["", "  loses 6 % in the pan\n"])
def test_the_grams_mend_it_as_they_are_weighed(after: str) -> None:
    # brown sugar is not all sucrose, and what stays in the pan was weighed too
    bad = sugar(BROWN.format(sugar=250, syrup=60, more="", after=after))
    (finding,) = bad.findings
    ways = re.findall(r"(\d+) g ([a-zA-Z0-9 ]+?) in place of (\d+) g", finding.do)

    assert len(ways) == 3
    for syrup, name, out in ways:
        mended = BROWN.format(
            sugar=250 - int(out), syrup=60, more=f"  {syrup} g {name}\n", after=after
        )
        assert codes(sugar(mended)) == []


def test_water_that_never_was_in_it_is_added_first() -> None:
    card = (
        "layer Caramel\n  kind condensed milk caramel\n{}  397 g condensed milk\n"
        "  100 g butter, unsalted\n  100 g dark brown sugar\n  ends {} g\n"
    )
    (finding,) = sugar(card.format("", 555)).findings
    added, more = re.findall(r"(\d+) g", finding.do)

    assert finding.do.startswith("Add ")
    mended = card.format(f"  {added} g water\n", 555 + int(more))
    assert codes(sugar(mended)) == []


def test_a_thin_syrup_stays_clear_at_any_place() -> None:
    thin = sugar(
        "layer Jelly\n  kind jelly\n  100 g caster sugar\n  200 g water\n  loses 0 g\n"
    )

    assert word(thin) == "stays clear"
    assert codes(thin) == []


def test_fudge_is_meant_to_grain() -> None:
    fudge = sugar(
        "layer Fudge\n  kind fudge\n  400 g caster sugar\n  150 g whole milk\n"
        "  80 g butter\n  ends 8 % water\n"
    )

    assert word(fudge) == "grain as wanted"
    assert codes(fudge) == []
    doctored = sugar(
        "layer Fudge\n  kind fudge\n  150 g caster sugar\n  300 g glucose syrup 42 DE\n"
        "  80 g butter\n  ends 8 % water\n"
    )
    assert word(doctored) == "hardly any grain"


CONDENSED = (
    "layer Caramel\n  kind condensed milk caramel\n  397 g sweetened condensed milk\n"
    "  60 g butter\n  ends 400 g\n"
)


def test_milk_sugar_goes_sandy_only_where_it_has_weeks() -> None:
    long, short = sugar(CONDENSED, days=30), sugar(CONDENSED, days=4)

    assert "lactose_sandy" in codes(long)
    assert "lactose_sandy" not in codes(short)
    assert word(short, "lactose") == "sandy in time"
    # it would take far more water, or most of its milk: then it is not kept so long
    do = next(one.do for one in long.findings if one.code == "lactose_sandy")
    assert do.startswith("Keep it for 7 days")
    assert "lactose_sandy" not in codes(sugar(CONDENSED, days=7))


def test_more_water_or_cream_for_milk_keeps_milk_sugar_dissolved() -> None:
    card = CONDENSED.replace("  60 g", "  40 g water\n  60 g").replace("400 g", "435 g")
    told = next(x for x in sugar(card, days=30).findings if x.code == "lactose_sandy")
    more = re.search(r"with (\d+) g more water", told.do)
    cream = re.search(r"put (\d+) g of double cream in place of as much", told.do)
    assert more is not None
    assert cream is not None
    wetter = card.replace("435 g", f"{435 + int(more[1])} g")
    assert "lactose_sandy" not in codes(sugar(wetter, days=30))
    richer = card.replace("397", f"{397 - int(cream[1])}").replace(
        "60 g butter", f"60 g butter\n  {cream[1]} g double cream 48%"
    )
    mended = richer.replace("435 g", f"{435 + water_g(card) - water_g(richer):.2f} g")
    assert water_g(mended) == pytest.approx(water_g(card), abs=0.1)
    assert "lactose_sandy" not in codes(sugar(mended, days=30))


def water_g(card: str) -> float:
    spec = worked(HEAD.format(days=5) + card)
    return float(water(spec.layers[0].batch.after)[0])


def test_sugar_that_nobody_weighs_is_mended_with_water() -> None:
    told = [one.do for one in sugar(CONDENSED).findings if "grain" in one.code]

    assert told
    assert "more water" in told[0]
    assert "in place of" not in told[0]


def test_fruit_boils_help_and_are_told_so() -> None:
    paste = sugar(
        "layer Paste\n  kind jelly\n  400 g caster sugar\n  300 g raspberry puree\n"
        "  20 g lemon juice\n  ends 500 g\n"
    )

    assert codes(paste) == ["may_grain"]
    assert "acid" in paste.findings[0].why
    assert any("not counted" in one for one in paste.notes)


@pytest.mark.parametrize("kind", ["pressed biscuit", "glaze", "seed paste", "sponge"])
def test_dry_sugar_is_not_judged_and_says_why(kind: str) -> None:
    base = sugar(
        f"layer Base\n  kind {kind}\n  200 g plain flour\n  100 g caster sugar\n"
        "  100 g butter\n  loses 0 g\n"
    )

    assert base.classes == ()
    assert base.findings == ()
    assert not base.figures[0].figure.known
    assert rules()[kind].why in base.notes[0]


def test_a_ganache_has_only_its_lactose_told() -> None:
    ganache = sugar(
        "layer G\n  kind ganache\n  250 g milk chocolate\n  120 g whipping cream\n"
        "  loses 0 g\n"
    )

    assert [one.name for one in ganache.classes] == ["lactose"]
    assert codes(ganache) == []


def test_unknown_make_up_withholds_and_no_sugar_says_nothing() -> None:
    lost = sugar("layer M\n  kind caramel\n  200 g moon dust\n  ends 190 g\n")

    assert not lost.figures[0].figure.known
    assert "moon dust" in lost.notes[0]
    none = worked(
        HEAD.format(days=2) + "layer B\n  kind caramel\n  200 g butter\n  loses 0 g\n"
    )
    assert none.natures[0].aspect("sugar") is None


def test_an_all_but_dry_brittle_is_withheld_not_a_thousandfold() -> None:
    brittle = sugar(
        "layer B\n  kind brittle\n  200 g caster sugar\n  60 g water\n  ends 202 g\n"
    )

    figure = brittle.figures[0].figure
    assert not figure.known
    assert "all but dry" in figure.sum
    assert codes(brittle) == []


def test_every_kind_has_its_rule_and_every_word_its_place() -> None:
    assert set(rules()) == set(kinds())
    assert len(set(WORDS)) == 4


MASSES = st.lists(
    st.one_of(st.just(0.0), st.floats(1e-9, 1e5)), min_size=3 * 24, max_size=3 * 24
)
ANY = worked(HEAD.format(days=9) + CARAMEL.format(sugar=1, syrup=1)).layers[0]


@given(MASSES, st.sampled_from(sorted(kinds())), st.floats(-25, 60))
def test_whatever_lies_in_the_pan_is_told_or_withheld(
    masses: list[float], kind: str, celsius: float
) -> None:
    # warnings are errors: no division by no water, no number out of nothing
    rows = np.array(masses).reshape(3, len(ROW))
    batch = replace(ANY.batch, after=rows, kind=kinds()[kind])
    where = Keeping("cold", Band(celsius, celsius))
    subject = Subject("L", 0, ANY.span, batch, Kitchen(), Band(18.0, 22.0), (where,))

    for aspect in (sugar_of(subject), taste_of(subject)):
        for one in aspect.figures if aspect else ():
            assert not one.figure.known or np.isfinite(one.figure.number)
            assert one.figure.sum
        for found in aspect.findings if aspect else ():
            assert "nan" not in found.do + found.why
            assert "inf" not in found.do + found.why


@pytest.mark.parametrize("end", [1, 2])
def test_a_range_to_no_water_at_all_is_told_in_words(end: int) -> None:
    layer = worked(HEAD.format(days=30) + CONDENSED).layers[0]
    rows = layer.batch.after.copy()
    rows[end, ROW.index("water")] = 0.0
    keeping = Keeping("a shelf", Band(18.0, 18.0), days=30.0)
    subject = Subject(
        "L", 0, layer.span, replace(layer.batch, after=rows), Kitchen(),
        Band(18.0, 22.0), (keeping,),
    )  # fmt: skip

    found = sugar_of(subject)

    assert found is not None
    (one,) = [one for one in found.findings if one.code == "lactose_sandy"]
    assert "and more) what its water holds" in one.why


def test_no_advice_makes_another_layer_of_it() -> None:
    """A caramel slice's: 467 g of syrup on top of 648 g would be another caramel."""
    slice_of = sugar(
        "layer Caramel\n  kind condensed milk caramel\n  397 g condensed milk\n"
        "  150 g butter, unsalted\n  150 g dark brown sugar\n  ends 9 % water\n"
    )
    (finding,) = [one for one in slice_of.findings if "grain" in one.code]

    assert "glucose syrup 42 DE in place of" in finding.do
    assert not re.search(r"[Aa]dd [4-9]\d\d g", finding.do)


def test_what_leans_on_an_assumed_loss_is_a_note() -> None:
    lines = "layer Caramel\n  300 g caster sugar\n  60 g glucose syrup 42 DE\n{}"
    cream = "  200 g double cream 48%\n"
    sure = sugar(lines.format(f"{cream}  ends 9 % water\n"))
    guessed = sugar(lines.format(cream))

    assert [one.severity.value for one in sure.findings] == ["look"]
    assert [one.severity.value for one in guessed.findings] == ["note"]
    assert "is assumed" in guessed.findings[0].why


def test_a_ganache_says_why_its_lactose_is_told_no_stronger() -> None:
    """Far over what makes crystals by itself, if all of it were dissolved."""
    white = sugar(
        "layer White ganache\n  kind ganache\n  300 g white chocolate\n"
        "  120 g double cream 48%\n  loses 0 g\n"
    )
    (lactose,) = [one for one in white.classes if one.name == "lactose"]

    assert lactose.word == "sandy if seeded"
    assert "what of it is dissolved at all is not known" in lactose.why


def test_a_nougat_that_grains_is_noted_and_not_warned_of() -> None:
    # some nougats are short and half grained on purpose: common practice
    spec = worked(
        "slab X\ntin 20 x 20 x 5 cm\nlayer Honey nougat\n  300 g caster sugar\n"
        "  120 g honey\n  90 g water\n  boil to 135 C\n  35 g egg white\n"
        "  150 g roasted almonds\n"
    )
    codes = {one.code for one in spec.findings}

    assert "grains" not in codes
    (noted,) = [one for one in spec.findings if one.code == "may_grain"]
    assert "meant to grain" in noted.why


JAM = """layer Jam
  500 g raspberries
  450 g caster sugar
  20 g lemon juice
  boil to 106 C
"""
MARSHMALLOW = """layer Marshmallow
  14 g powdered gelatine
  60 g water
  300 g caster sugar
  150 g glucose syrup 42 DE
  whip 10 min
"""


@pytest.mark.parametrize(
    ("card", "why"),
    [(JAM, "acid turns some"), (MARSHMALLOW, "water is left is assumed")],
)
def test_the_class_says_no_more_than_the_note_beside_it(card: str, why: str) -> None:
    found = sugar(card)

    assert codes(found) == ["may_grain"]
    assert word(found) == "may grain when disturbed"
    assert why in next(one.why for one in found.classes if one.name == "graining")
    assert why in found.findings[0].why.replace("Its boil", "its boil")


def test_glucose_is_not_told_to_grain_in_a_glass() -> None:
    found = sugar(
        "layer Honeycomb\n  300 g caster sugar\n  150 g golden syrup\n  60 g water\n"
        "  boil to 150 C\n  12 g bicarbonate of soda\n  density 0.4 g/ml\n"
    )

    assert word(found) == "may grain when disturbed"
    assert all(one.name != "glucose" for one in found.classes)


def test_a_condensed_milk_caramel_is_noted_for_its_protein_slows_the_grain() -> None:
    # sold by the tray for years without grain: common practice
    spec = worked(
        "slab X\ntin 30 x 20 x 5 cm\nlayer Caramel\n  kind condensed milk caramel\n"
        "  397 g condensed milk\n  150 g butter, unsalted\n"
        "  150 g light brown sugar\n  ends 640 g\n"
    )
    codes = {one.code for one in spec.findings}

    assert "grains" not in codes
    (noted,) = [one for one in spec.findings if one.code == "may_grain"]
    assert "milk protein" in noted.why
