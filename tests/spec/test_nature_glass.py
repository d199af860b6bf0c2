"""How hard cooked sugar is in its layer, and what it says when it is wrong."""

import re

import pytest

from slabwright.finding import Finding, Severity
from slabwright.formula.kinds import kinds
from slabwright.spec.nature.aspect import Aspect
from slabwright.spec.nature.phase import phases
from tests.files.kitchens import worked

CARAMEL = """slab X
tin 20 x 20 x 5 cm
{keep}
layer Caramel
  kind {kind}
  195 g caster sugar
  250 g glucose syrup 42 DE
  170 g double cream 48%
  120 g whole milk
  ends {ends} % water
"""


def aspect(card: str) -> Aspect:
    (nature,) = worked(card).natures
    found = nature.aspect("glass")
    assert found is not None
    return found


def caramel(ends: float, kind: str = "caramel", keep: str = "") -> Aspect:
    return aspect(CARAMEL.format(ends=ends, kind=kind, keep=keep))


def words(found: Aspect) -> dict[str, str]:
    return {one.name: one.word for one in found.classes}


def codes(found: Aspect) -> dict[str, Finding]:
    return {one.code: one for one in found.findings}


@pytest.mark.parametrize(
    ("ends", "word"),
    # 1 to 3 % are toffee and brittle, 8 to 12 % are caramels: the trade's ranges
    [(1, "brittle"), (8, "chewy"), (10, "chewy"), (12, "chewy"), (24, "flows")],
)
def test_a_caramel_is_as_hard_as_its_water_makes_it(ends: float, word: str) -> None:
    assert words(caramel(ends))["texture_eaten"] == word


def test_it_is_harder_where_it_is_colder_and_says_where_that_is() -> None:
    found = caramel(9, keep="keep chilled, 3 days\nkeep frozen, 28 days")

    assert words(found) == {
        "texture_eaten": "chewy",
        "texture_kept_1": "hard",
        "texture_kept_2": "brittle",
    }
    assert "chilled" in found.classes[1].label
    assert all(one.why and one.words and one.sources for one in found.classes)


def test_the_range_embraces_the_value_and_the_chart_has_its_mark_on_the_curve() -> None:
    found = caramel(10)
    figure = found.figures[0].figure
    (chart,) = found.charts
    curve, mark = chart.curves[0], chart.marks[0]

    assert figure.low is not None
    assert figure.high is not None
    assert figure.low < figure.number < figure.high
    near = min(range(len(curve.x)), key=lambda at: abs(curve.x[at] - mark.x))
    assert curve.y[near] == pytest.approx(mark.y, abs=5)
    assert list(curve.y) == sorted(curve.y, reverse=True)
    assert chart.words


def test_more_water_moves_it_by_what_it_says() -> None:
    # ends 10 % of about 500 g: a percent of its syrup more moves it so far
    first, per = (one.figure.number for one in caramel(10).figures)
    assert -8 < per < -2
    assert caramel(11).figures[0].figure.number < first


def test_too_hard_a_caramel_is_told_with_the_water_that_mends_it() -> None:
    found = codes(caramel(3))["too_hard_cold"]

    grams = float(re.search(r"([\d.]+) g more water", found.do)[1])  # type: ignore[index]
    # 615 g in the batch of sugar, syrup and cream: 3 % of what is left is mended by
    # the water that brings it to chewy
    solids = 195 + 250 * 0.805 + 170 * 0.527 + 120 * 0.125
    now = solids / 0.97 * 0.03
    mended = caramel(100 * (now + grams) / (solids + now + grams))
    assert "too_hard_cold" not in codes(mended)
    assert words(mended)["texture_eaten"] == "chewy"


def test_a_caramel_that_runs_is_told_with_the_water_to_boil_off() -> None:
    found = codes(caramel(27))["too_soft_to_stand"]

    grams = float(re.search(r"Boil ([\d.]+) g", found.do)[1])  # type: ignore[index]
    solids = 195 + 250 * 0.805 + 170 * 0.527 + 120 * 0.125
    now = solids / 0.73 * 0.27
    mended = caramel(100 * (now - grams) / (solids + now - grams))
    assert codes(mended) == {}


def test_a_caramel_boiled_to_a_sauce_is_noted_and_mended_by_its_grams() -> None:
    # 109 °C is a sauce in every kitchen, though the range of its glass is wide
    card = (
        "slab X\ntin 20 x 20 x 5 cm\nlayer Caramel\n  kind caramel\n"
        "  250 g caster sugar\n  300 g glucose syrup 42 DE\n"
        "  250 g double cream 48%\n  40 g butter, unsalted\n  boil to {} C\n{}"
    )
    sauce = worked(card.format(109, ""))
    (nature,) = sauce.natures
    glass = nature.aspect("glass")
    assert glass is not None
    found = codes(glass)["too_soft_to_stand"]
    assert found.severity is Severity.NOTE
    assert "may run" in found.what

    (grams,) = re.findall(r"Boil (\d+) g", found.do)
    left = sauce.layers[0].mass_out_g.number - float(grams)
    assert codes(aspect(card.format(109, f"  ends {left:.1f} g\n"))) == {}
    assert codes(aspect(card.format(118, ""))) == {}


def test_a_good_caramel_raises_nothing_also_in_the_fridge() -> None:
    for ends in (9, 10, 11, 12):
        assert codes(caramel(ends, keep="keep chilled, 3 days")) == {}


def test_a_brittle_may_be_brittle_and_a_soft_one_is_told() -> None:
    assert codes(caramel(1.5, "brittle")) == {}
    assert "too_soft_to_stand" in codes(caramel(12, "brittle"))


def test_what_is_all_but_a_glass_in_the_fridge_snaps_under_the_knife() -> None:
    cold = codes(caramel(7.5, keep="keep chilled, 3 days"))["snaps_cold"]

    assert cold.severity is Severity.NOTE
    assert "room" in cold.do
    # in the room it chews, and nougat may be hard
    assert codes(caramel(7.5)) == {}
    assert codes(caramel(7.5, "nougat", keep="keep chilled, 3 days")) == {}


@pytest.mark.parametrize(
    ("kind", "why"),
    [
        ("ganache", "fat of chocolate"),
        ("pressed biscuit", "crumbs"),
        ("curd", "water"),
    ],
)
def test_what_is_no_syrup_says_why_and_gives_no_figure(kind: str, why: str) -> None:
    found = caramel(10, kind)

    assert found.figures == ()
    assert found.classes == ()
    assert why in found.notes[0]


def test_a_gel_holds_its_soft_syrup() -> None:
    found = caramel(25, "jelly")

    assert words(found)["texture_eaten"] == "held by its gel"
    assert "its gel holds it up" in " ".join(found.notes)
    assert codes(found) == {}


def test_fudge_is_held_by_its_crystals_whatever_its_syrup_does() -> None:
    card = (
        "slab X\ntin 20 x 20 x 5 cm\nlayer Fudge\n  kind fudge\n  450 g caster sugar\n"
        "  170 g condensed milk\n  100 g whole milk\n  100 g butter, unsalted\n"
        "  ends 9 % water\n"
    )
    found = aspect(card)
    caramel_like = aspect(card.replace("kind fudge", "kind caramel"))

    assert words(found)["texture_eaten"] == "held by its crystals"
    assert "its crystals hold it up" in " ".join(found.notes)
    # what has grained is no part of the syrup, which is thinner for it
    first, other = (x.figures[0].figure for x in (found, caramel_like))
    assert first.number < other.number - 20
    assert codes(found) == {}
    assert words(caramel_like)["texture_eaten"] == "chewy"


def test_every_kind_of_layer_has_its_phase() -> None:
    assert set(phases()) == set(kinds())
    for phase in phases().values():
        assert bool(phase.why_no_syrup) != phase.is_syrup
        assert bool(phase.hardest) == phase.is_syrup
        for low, likely, high in (phase.dissolved, phase.crumb):
            assert 0 <= low <= likely <= high <= 1


def test_a_wet_jelly_has_no_glass_worth_telling() -> None:
    card = "slab X\ntin 20 x 20 x 5 cm\nlayer Jelly\n  kind jelly\n  {}\n  loses 0 g\n"
    found = aspect(card.format("100 g sugar\n  120 g water\n  6 g pectin NH"))

    assert found.figures == ()
    assert " % water, far too much" in found.notes[0]


def test_a_layer_without_sugar_or_composition_is_no_trouble() -> None:
    bare = "slab X\ntin 20 x 20 x 5 cm\nlayer A\n  kind caramel\n  {}\n  loses 0 g\n"
    (butter,) = worked(bare.format("100 g butter")).natures
    found = butter.aspect("glass")
    assert found is not None
    assert found.figures == ()
    (unknown,) = worked(bare.format("100 g moon dust")).natures
    assert unknown.aspect("glass") is None


def test_a_brittle_of_isomalt_gets_no_word_by_another_polyol() -> None:
    """Isomalt makes a glass at 64 °C, sorbitol at -2 °C; the larder knows polyols."""
    card = (
        "slab X\ntin 20 x 20 x 5 cm\nlayer Brittle\n  kind brittle\n  300 g isomalt\n"
        "  30 g water\n  boil to 165 C\n"
    )
    found = aspect(card)

    assert found.classes == ()
    assert codes(found) == {}
    assert "polyols" in found.notes[0]
