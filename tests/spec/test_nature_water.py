"""How wet a layer is, what may grow on it, and what it does to its neighbour."""

import re

import numpy as np
import pytest

from slabwright.finding import Severity
from slabwright.spec.nature.aspect import Aspect, Touching
from slabwright.spec.nature.water import ASSESS, PATHOGENS
from slabwright.spec.specification import Specification
from tests.files.kitchens import worked

TIN = "slab X\ntin 30 x 20 x 5 cm\n"
CURD = """layer Curd
  kind curd
  220 g lemon juice
  270 g caster sugar
  120 g butter, unsalted
  390 g whole eggs
  ends 969 g
"""
SHORTBREAD = """layer Shortbread
  kind pressed biscuit
  240 g plain flour
  85 g caster sugar
  170 g butter, unsalted
  ends 3 % water
"""
GANACHE = """layer Ganache
  kind ganache
  250 g dark chocolate 60%
  125 g double cream 48%
  loses 0 g
"""
CARAMEL = """layer Caramel
  kind caramel
  195 g caster sugar
  250 g glucose syrup 42 DE
  170 g double cream 48%
  ends 10 % water
"""
CHOCOLATE = """layer Chocolate
  kind glaze
  80 g dark chocolate 60%
  loses 0 g
"""
ANY = "layer {}\n  kind {}\n  {}\n  loses 0 g\n"


def aspect(spec: Specification, layer: str) -> Aspect:
    (nature,) = [one for one in spec.natures if one.layer == layer]
    found = nature.aspect("water")
    assert found is not None
    return found


def alone(layer: str) -> Aspect:
    spec = worked(TIN + layer)
    return aspect(spec, spec.natures[0].layer)


def words(found: Aspect | Touching) -> dict[str, str]:
    return {one.name: one.word for one in found.classes}


def between(lower: str, upper: str) -> Touching:
    (found,) = [
        one
        for one in worked(TIN + lower + upper).touching
        if any(named.name == "activity_difference" for named in one.figures)
    ]
    return found


@pytest.mark.parametrize(
    ("layer", "low", "high"),
    [
        # ranges that bakers meet with a meter: common practice, no source
        (SHORTBREAD, 0.05, 0.35),
        (CARAMEL, 0.45, 0.65),
        (GANACHE, 0.80, 0.92),
        (CURD, 0.93, 0.97),
        (CHOCOLATE, 0.10, 0.50),
    ],
    ids=["shortbread", "caramel", "ganache", "curd", "chocolate"],
)
def test_layers_are_as_wet_as_bakers_find_them(
    layer: str, low: float, high: float
) -> None:
    figure = alone(layer).figures[0].figure

    assert low <= figure.number <= high
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low < figure.number < figure.high
    assert figure.sources
    assert figure.holds


@pytest.mark.parametrize(
    ("water", "word"),
    # 3 % is a snapping shortbread, 9 % a soft one: common practice, no source
    [(2, "crisp"), (3, "crisp"), (9, "soft")],
)
def test_a_crisp_layer_says_whether_its_water_lets_it_be(water: int, word: str) -> None:
    found = alone(SHORTBREAD.replace("3 % water", f"{water} % water"))

    assert words(found)["crispness"] == word
    assert "crispness" not in words(alone(CURD))
    assert "crispness" not in words(alone(CARAMEL))


def test_what_may_grow_is_named_only_where_the_range_leaves_no_doubt() -> None:
    assert words(alone(CARAMEL)) == {
        "growth": "no growth told",
        "time_and_temperature": "no limit by its water",
    }
    # both ends of a ganache lie in one class here, but reach the limit of pathogens
    assert words(alone(GANACHE)) == {
        "growth": "most moulds",
        "time_and_temperature": ASSESS,
    }
    thin = GANACHE.replace("125 g", "150 g")
    assert words(alone(thin))["growth"] == ASSESS
    curd = alone(CURD)
    assert words(curd)["time_and_temperature"] == ASSESS
    assert "pH" in curd.classes[1].why
    assert all(one.words and one.sources and one.why for one in curd.classes)


def test_a_range_across_the_limit_is_assessed_though_its_value_is_under_it() -> None:
    for water in range(24, 36):
        layer = ANY.format("Jam", "jam", "100 g raspberry jam").replace(
            "loses 0 g", f"ends {water} % water"
        )
        found = alone(layer)
        figure = found.figures[0].figure
        assert figure.high is not None
        is_under = figure.high < PATHOGENS
        told = words(found)["time_and_temperature"]
        assert told == ("no limit by its water" if is_under else ASSESS)


def test_it_promises_nothing_and_sends_to_law_and_to_the_shop() -> None:
    for layer in (SHORTBREAD, CARAMEL, GANACHE, CURD):
        found = alone(layer)
        said = " ".join(
            [*found.notes, *(f"{c.word} {c.why} {c.label}" for c in found.classes)]
        )
        assert "safe" not in said
        assert "law" in said
        assert "HACCP" in said


def test_the_syrup_has_its_brix_and_a_crumb_has_none() -> None:
    curd = {one.name: one.figure for one in alone(CURD).figures}
    # 270 g of sugar and 220 g of juice in a little under 465 g of water
    assert curd["syrup_brix"].number == pytest.approx(39, abs=3)
    assert "syrup_brix" not in {one.name for one in alone(SHORTBREAD).figures}


@pytest.mark.parametrize(
    ("layer", "value"),
    [
        (ANY.format("Water", "plain", "100 g water"), 1.0),
        (ANY.format("Oil", "plain", "100 g sunflower oil"), None),
        (ANY.format("Dust", "plain", "100 g moon dust"), None),
        (ANY.format("Sugar", "brittle", "100 g caster sugar"), None),
    ],
    ids=["water", "oil", "unknown", "sugar"],
)
def test_edges_say_what_they_know(layer: str, value: float | None) -> None:
    figure = alone(layer).figures[0].figure

    if value is None:
        assert not figure.known
        assert figure.sum
    else:
        assert figure.number == pytest.approx(value, abs=0.15)
    assert "nan" not in figure.sum


def test_water_moves_from_the_curd_into_the_shortbread_and_softens_it() -> None:
    found = between(SHORTBREAD, CURD)

    assert words(found) == {
        "water_gap": "far apart",
        "water_moves": "moves",
        "suffers_first": "goes soft",
    }
    assert "from Curd into Shortbread" in found.classes[1].label
    (finding,) = found.findings
    assert finding.code == "wetter_neighbour"
    assert finding.severity is Severity.LOOK
    assert finding.where == "Shortbread"
    # 0.6 mm of chocolate at 1.25 g/ml over 30 x 20 cm
    grams = float(re.search(r"Smear (\d+) g", finding.do)[1])  # type: ignore[index]
    assert grams == pytest.approx(0.06 * 1.25 * 600, rel=0.02)


def test_left_to_themselves_both_end_between_the_two_and_nearer_the_bigger() -> None:
    found = between(SHORTBREAD, CURD)
    rest = {one.name: one.figure for one in found.figures}["activity_at_rest"]
    spec = worked(TIN + SHORTBREAD + CURD)
    dry, wet = (
        aspect(spec, one).figures[0].figure.number for one in ("Shortbread", "Curd")
    )

    assert rest.low is not None
    assert rest.high is not None
    assert dry < rest.low < rest.number < rest.high < wet + 0.01
    assert wet - rest.number < 0.06
    # a part of the batch counts as that part: a thin curd gives less
    part = CURD.replace("layer Curd", "component Curd") + "layer Top from Curd, 60 g\n"
    (thin,) = worked(
        TIN + part.split("layer Top")[0] + SHORTBREAD + "layer Top from Curd, 60 g\n"
    ).touching[:1]
    little = {one.name: one.figure for one in thin.figures}["activity_at_rest"]
    assert little.number < rest.number - 0.03


def test_it_is_the_same_upside_down() -> None:
    one, other = between(SHORTBREAD, CURD), between(CURD, SHORTBREAD)

    assert words(one) == words(other)
    assert one.figures[0].figure.number == other.figures[0].figure.number
    assert [f.where for f in other.findings] == ["Shortbread"]


def test_a_film_of_chocolate_between_mends_it() -> None:
    spec = worked(TIN + SHORTBREAD + CHOCOLATE + CURD)

    assert "wetter_neighbour" not in {one.code for one in spec.findings}
    moves = [words(one).get("water_moves") for one in spec.touching]
    assert "held back" in moves


def test_a_well_made_caramel_shortbread_is_left_alone() -> None:
    spec = worked(TIN + SHORTBREAD + CARAMEL + GANACHE)

    assert "wetter_neighbour" not in {one.code for one in spec.findings}


def test_a_crumb_base_under_a_cheesecake_is_only_a_note() -> None:
    crumb = ANY.format(
        "Base", "crumb base", "200 g digestive biscuits\n  70 g coconut oil"
    )
    (finding,) = between(crumb, CURD).findings

    assert finding.severity is Severity.NOTE


def test_layers_alike_hardly_change_and_doubt_is_told() -> None:
    jelly = ANY.format("Jelly", "jelly", "100 g caster sugar\n  120 g water")
    assert words(between(CURD, jelly))["water_moves"] == "hardly"
    nut = ANY.format("Nut", "pressed nut", "200 g hazelnuts\n  180 g pitted dates")
    seed = ANY.format("Other", "pressed nut", "200 g hazelnuts\n  150 g pitted dates")
    assert words(between(nut, seed))["water_moves"] in ("hardly", "not sure")


def test_fondant_on_curd_melts_and_weeps_and_caramel_turns_sticky() -> None:
    fondant = ANY.format("Top", "fondant", "100 g fondant")

    assert words(between(CURD, fondant))["suffers_first"] == "melts and weeps"
    assert words(between(CARAMEL, GANACHE))["suffers_first"] == "turns sticky"
    sponge = ANY.format("Cake", "sponge", "100 g plain flour\n  100 g caster sugar\n")
    sponge = sponge.replace("loses 0 g", "100 g whole eggs\n  ends 25 % water")
    assert words(between(sponge, CURD))["suffers_first"] == "dries where they touch"


def test_where_one_is_not_known_nothing_is_said_between() -> None:
    dust = ANY.format("Dust", "plain", "100 g moon dust")
    found = worked(TIN + dust + CURD).touching

    assert all(
        named.name != "activity_difference" for t in found for named in t.figures
    )


def test_the_range_of_a_layer_holds_the_ends_of_what_its_lines_leave_open() -> None:
    # a loss that is assumed leaves the water open, and so the activity
    loose = CARAMEL.replace("  ends 10 % water\n", "")
    figure = alone(loose).figures[0].figure
    tight = alone(CARAMEL).figures[0].figure

    assert figure.high is not None
    assert figure.low is not None
    assert tight.high is not None
    assert tight.low is not None
    assert figure.high - figure.low > tight.high - tight.low
    assert np.isfinite(figure.number)


@pytest.mark.parametrize("water_g", range(20, 200, 6))
def test_a_limit_is_never_printed_on_its_wrong_side(water_g: int) -> None:
    found = alone(
        f"layer Jelly\n  kind jelly\n  200 g caster sugar\n  {water_g} g water\n"
        "  10 g powdered gelatine\n  loses 0 g\n"
    )
    classes = {one.name: one for one in found.classes}
    why = classes["time_and_temperature"].why
    ends = [float(one) for one in re.findall(r"0\.\d+|1\.0+", why.split(":")[0])]

    if "lies under" in why:
        assert max(ends[:-1]) < PATHOGENS
    else:
        assert max(ends[:-1]) >= PATHOGENS
    assert not re.search(r"(\d\.\d+) to \1\b", why + classes["growth"].why)


@pytest.mark.parametrize(
    ("layer", "is_told"),
    [
        ("  kind jelly\n  200 g water\n  60 g fine salt\n", False),  # it holds 72 g
        ("  kind jelly\n  200 g water\n  100 g fine salt\n", True),
        ("  kind caramel\n  200 g caster sugar\n  200 g double cream 48%\n"
         "  8 g fine salt\n", False),
        ("  kind caramel\n  200 g caster sugar\n  200 g double cream 48%\n"
         "  80 g fine salt\n", True),
        # as good as dry: flakes are meant to lie in it
        ("  kind glaze\n  100 g dark chocolate 60%\n  3 g fine salt\n", False),
        ("  kind jelly\n  200 g water\n  50 g wibble\n  100 g fine salt\n", False),
    ],
)  # fmt: skip
def test_salt_that_the_water_can_not_dissolve_is_told(
    layer: str, is_told: bool
) -> None:
    spec = worked(f"{TIN}layer A\n{layer}  loses 0 g\n")

    assert ("salt_undissolved" in {one.code for one in spec.findings}) is is_told


def test_the_grams_that_salt_is_too_much_by_mend_it() -> None:
    card = TIN + "layer A\n  kind jelly\n  {} g water\n  {} g fine salt\n  loses 0 g\n"
    spec = worked(card.format(200, 100))
    (found,) = [one for one in spec.findings if one.code == "salt_undissolved"]
    said = re.search(r"Leave out ([\d.]+) g of salt, or keep ([\d.]+) g", found.do)
    assert said is not None
    less, more = float(said[1]), float(said[2])

    def is_told(water: float, salt: float) -> bool:
        mended = worked(card.format(f"{water:.2f}", f"{salt:.2f}"))
        return "salt_undissolved" in {one.code for one in mended.findings}

    # fine salt is not salt alone, so that the last gram decides
    assert is_told(200, 100 - 0.9 * less)
    assert not is_told(200, 100 - 1.1 * less)
    assert is_told(200 + 0.9 * more, 100)
    assert not is_told(200 + 1.1 * more, 100)
