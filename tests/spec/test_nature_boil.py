"""The boil of a layer: two witnesses, and the card's word beside them."""

import re

import pytest

from slabwright.figure import Standing
from slabwright.files.folder import Folder
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.raw import Text
from slabwright.larder.load import built_in
from slabwright.spec.nature.aspect import Aspect
from slabwright.spec.specification import Specification
from tests.files.kitchens import worked

CARAMEL = """slab X
tin 20 x 20 x 5 cm
layer Malt caramel
  into wide pan
  195 g caster sugar
  250 g glucose syrup 42 DE
  220 g double cream 48%
  120 g whole milk
  50 g butter, unsalted
  boil to {to} C, 16-22 min, large ring
{more}"""
KITCHEN = """
altitude_m: {altitude}
probe_in_boiling_water_C: {probe}
vessels: [{{name: wide pan, litres: 12, empty_g: 2100}}]
rings: [{{name: large ring, power_kW: 3.5}}, {{name: small ring, power_kW: 2}}]
"""


def spec_of(
    to: float = 118, more: str = "", altitude: float = 0, probe: float = 101.0
) -> Specification:
    text = KITCHEN.format(altitude=altitude, probe=probe)
    home = Folder(None, read_kitchen(Text(text)), built_in(), None)
    return worked(CARAMEL.format(to=to, more=more), home)


def aspect(spec: Specification) -> Aspect:
    found = spec.natures[0].aspect("boil")
    assert found is not None
    return found


def figures(spec: Specification) -> dict[str, float]:
    return {
        one.name: one.figure.number for one in aspect(spec).figures if one.figure.known
    }


def test_both_witnesses_stand_side_by_side() -> None:
    found = figures(spec_of())
    contents = found["pan_by_boiling_g"]

    # the probe reads 1.0 high in boiling water at the sea
    assert found["probe_reads_C"] == pytest.approx(119.0, abs=0.03)
    assert found["pan_reads_g"] == pytest.approx(2100 + contents)
    assert found["water_off_g"] == pytest.approx(835 - contents, abs=0.01)
    # published dairy caramels: 10 % at 116.7 °C, 8 % at 121.1 °C
    assert 0.08 < found["water_left_share"] < 0.10


def test_what_the_card_says_stands_beside_and_agrees_within_the_range() -> None:
    by = figures(spec_of())["pan_by_boiling_g"]
    spec = spec_of(more=f"  ends {by + 4:.1f} g\n")
    found = figures(spec)

    assert found["pan_told_g"] == pytest.approx(by + 4, abs=0.06)
    assert found["pan_by_boiling_g"] == pytest.approx(by)
    assert found["water_told_share"] > found["water_left_share"]
    assert "boil_disagrees" not in {one.code for one in spec.findings}


@pytest.mark.parametrize("off_g", [-40.0, 60.0])
def test_a_card_beyond_the_range_is_told_what_would_agree(off_g: float) -> None:
    by = figures(spec_of())["pan_by_boiling_g"]
    spec = spec_of(more=f"  ends {by + off_g:.1f} g\n")
    (found,) = [one for one in spec.findings if one.code == "boil_disagrees"]
    ends_C = float(found.do.split("Boil to ")[1].split(" ")[0])
    again = figures(spec_of(to=ends_C))["pan_by_boiling_g"]

    assert f"{by:.0f} g" in found.do
    # less water boils hotter, and boiling just there leaves what the card says
    assert (ends_C > 118) == (off_g < 0)
    assert again == pytest.approx(by + off_g, abs=0.5)
    assert found.layer == 0


def test_minutes_follow_from_the_ring_that_the_step_names() -> None:
    (minutes,) = [
        one.figure for one in aspect(spec_of()).figures if one.name == "boil_minutes"
    ]
    useful = figures(spec_of())["useful_kW"]

    assert minutes.low is not None
    assert minutes.high is not None
    assert minutes.standing is Standing.ASSUMED
    assert "large ring" in minutes.sum
    # 3.5 kW, of which 40 to 90 % gets into the pan; the card's 16-22 min need less
    heat_kJ = minutes.low * 60 * 3.5 * 0.9
    assert minutes.high == pytest.approx(minutes.low * 90 / 40, rel=0.01)
    assert useful == pytest.approx(heat_kJ / 19 / 60, rel=0.01)


def test_a_ring_that_nobody_names_gives_no_minutes() -> None:
    spec = worked(CARAMEL.format(to=118, more=""))
    (minutes,) = [
        one.figure for one in aspect(spec).figures if one.name == "boil_minutes"
    ]

    assert not minutes.known
    assert "ring" in minutes.sum


def test_the_stage_is_named_as_at_the_sea() -> None:
    (sea,) = aspect(spec_of(to=118)).classes
    # water boils 4.9 K lower at 1,500 m: 113.1 °C there is the same stage
    (high,) = aspect(spec_of(to=113.1, altitude=1500, probe=95)).classes

    assert "firm ball" in sea.word
    assert high.word == sea.word
    assert sea.sources


def test_the_chart_goes_through_the_boil_and_keeps_its_band() -> None:
    (chart,) = aspect(spec_of(more="  ends 700 g\n")).charts
    (curve,) = chart.curves
    here, told = chart.marks
    assert here.label == "you are here: 118 °C"

    assert list(curve.y) == sorted(curve.y, reverse=True)
    for low, middle, high in zip(curve.low, curve.y, curve.high, strict=True):
        assert low <= middle <= high
    assert curve.x[0] < here.x < curve.x[-1]
    near = min(range(len(curve.x)), key=lambda i: abs(curve.x[i] - here.x))
    assert curve.y[near] == pytest.approx(here.y, abs=0.6)
    assert told.y > here.y
    assert chart.words


def test_a_reading_is_told_with_what_it_taught() -> None:
    spec = spec_of(to=121, more="  reads 655 g at 118 C\n")
    found = aspect(spec)

    assert any("655 g at 118 °C" in note for note in found.notes)
    assert "taught" in next(
        one.figure.sum for one in found.figures if one.name == "pan_by_boiling_g"
    )


def test_two_boils_are_told_apart() -> None:
    spec = spec_of(more="  100 g double cream 48%\n  boil to 120 C\n")
    names = [one.name for one in aspect(spec).figures]

    assert "water_left_share_1" in names
    assert "water_left_share" in names
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("to", "word"),
    [
        (117, "between soft ball and firm ball"),
        (145, "between soft crack and hard crack"),
        (155, "hard crack"),
    ],
)
def test_a_boil_in_a_gap_of_the_books_is_named_too(to: float, word: str) -> None:
    (stage,) = aspect(spec_of(to=to)).classes

    assert stage.word == word
    assert stage.word in stage.words
    assert f"{to} °C" in stage.why


def test_every_boil_tells_its_own_stage() -> None:
    more = "  into small pan\n  300 g caster sugar\n  100 g water\n  boil to 145 C\n"
    one, two = aspect(spec_of(more=more)).classes

    assert one.label == "boil 1: what cooks call it"
    assert two.label == "boil 2: what cooks call it"
    assert "crack" in two.word


@pytest.mark.parametrize(("to", "burns"), [(240, True), (118, False), (190, False)])
def test_a_boil_that_only_fahrenheit_explains_is_asked_about(
    to: float, burns: bool
) -> None:
    found = [one for one in spec_of(to=to).findings if one.code == "boil_burns"]

    assert bool(found) == burns
    assert [one for one in found if "write 240 F" in one.do] == found


def test_sugar_melted_dry_has_nothing_to_boil_off() -> None:
    card = "slab X\ntin 20 x 20 x 5 cm\nlayer Caramel\n  into wide pan\n{}"
    dry = worked(card.format("  300 g caster sugar\n  heat to 180 C\n"))
    wet = worked(card.format("  300 g honey\n  heat to 103 C\n"))

    assert "boil_tells_nothing" not in {one.code for one in dry.findings}
    assert "boil_tells_nothing" in {one.code for one in wet.findings}


def of_lines(*lines: str) -> Specification:
    body = "\n".join(f"  {line}" for line in lines)
    text = KITCHEN.format(altitude=0, probe=100)
    home = Folder(None, read_kitchen(Text(text)), built_in(), None)
    return worked(f"slab X\ntin 20 x 20 x 5 cm\nlayer Syrup\n{body}\n", home)


def test_minutes_of_a_boil_with_much_alcohol_are_withheld() -> None:
    boozy = of_lines(
        "into wide pan", "200 g caster sugar", "100 g rum", "50 g water",
        "boil to 110 C, 5 min, large ring",
    )  # fmt: skip
    named = {one.name: one.figure for one in aspect(boozy).figures}

    for name in ("boil_minutes", "useful_kW"):
        assert not named[name].known
        assert "alcohol goes off first" in named[name].sum


def test_a_little_alcohol_takes_heat_as_water_does() -> None:
    plain = of_lines(
        "into wide pan", "200 g caster sugar", "150 g water",
        "boil to 110 C, large ring",
    )  # fmt: skip
    flavoured = of_lines(
        "into wide pan", "200 g caster sugar", "142 g water", "8 g rum",
        "boil to 110 C, large ring",
    )  # fmt: skip
    minutes = [figures(one)["boil_minutes"] for one in (plain, flavoured)]

    assert minutes[1] == pytest.approx(minutes[0], rel=0.01)


@pytest.mark.parametrize(
    ("solid", "has_stage"),
    [("caster sugar", True), ("glucose syrup 42 DE", True), ("erythritol", False),
     ("fine salt", False)],
)  # fmt: skip
def test_only_a_syrup_of_sugars_has_a_stage(solid: str, has_stage: bool) -> None:
    spec = of_lines(
        "into wide pan", f"30 g {solid}", "200 g water", "boil to 103 C, large ring"
    )
    found = aspect(spec)

    assert found.figures[-1].figure.known  # it boils and loses water
    assert any(one.name == "stage" for one in found.classes) is has_stage


def test_a_book_that_names_one_degree_is_told_so() -> None:
    for to in (110, 112, 115, 118, 121, 125):
        for one in aspect(spec_of(to=to)).classes:
            for low, high in re.findall(r"(\d+)-(\d+) °C", one.why):
                assert low != high


def test_the_only_ring_needs_no_name_and_one_of_two_does() -> None:
    card = CARAMEL.format(to=118, more="").replace(", large ring", "")
    known = []
    for rings in (
        "{name: large ring, power_kW: 3.5}",
        "{name: large ring, power_kW: 3.5}, {name: small ring, power_kW: 2}",
    ):
        text = f"altitude_m: 0\nrings: [{rings}]\n"
        home = Folder(None, read_kitchen(Text(text)), built_in(), None)
        found = aspect(worked(card, home)).figures
        known += [one.figure.known for one in found if one.name == "boil_minutes"]

    assert known == [True, False]


def test_what_the_ring_puts_in_is_more_the_shorter_the_boil() -> None:
    (useful,) = [
        one.figure for one in aspect(spec_of()).figures if one.name == "useful_kW"
    ]

    assert useful.low is not None
    assert useful.high is not None
    assert useful.low * 22 == pytest.approx(useful.number * 19)  # 16 to 22 min
    assert useful.high * 16 == pytest.approx(useful.number * 19)
