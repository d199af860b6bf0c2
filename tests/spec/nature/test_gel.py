"""What sets a layer: doses, conditions, and what breaks a gel, with mended twins."""

from pathlib import Path

import pytest

from slabwright.finding import Finding
from slabwright.spec.nature.aspect import Aspect
from tests.files.kitchens import worked

CARDS = Path(__file__).parents[3] / "demo/slabs"
HEAD = "slab X\ntin 30 x 20 x 5 cm\n{}layer J\n  kind {}\n"


def aspect(kind: str, block: str, head: str = "") -> Aspect | None:
    lines = "".join(f"  {line.strip()}\n" for line in block.split(";"))
    text = HEAD.format(head, kind) + lines + "  loses 0 g\n  density 1.1 g/ml\n"
    spec = worked(text)
    assert spec.errors == ()
    (nature,) = spec.natures
    return nature.aspect("gel")


def found(kind: str, block: str, head: str = "") -> list[tuple[str, str]]:
    gel = aspect(kind, block, head)
    return (
        [] if gel is None else [(one.code, f"{one.severity}") for one in gel.findings]
    )


def finding(kind: str, block: str, code: str) -> Finding:
    gel = aspect(kind, block)
    assert gel is not None
    (one,) = [each for each in gel.findings if each.code == code]
    return one


JELLY = "300 g orange juice; 50 g caster sugar"
PAIRS = [
    # kind, what goes wrong, code and severity, the smallest change
    ("jelly", f"{JELLY}; 2 g gold leaf gelatine", ("wont_set", "look"),
     f"{JELLY}; 6 g gold leaf gelatine"),
    ("jelly", f"{JELLY}; 4 g gold leaf gelatine", ("wont_set", "note"),
     f"{JELLY}; 6 g gold leaf gelatine"),
    ("jelly", f"{JELLY}; 6 g gold leaf gelatine; boil", ("gel_broken_by", "look"),
     f"{JELLY}; boil; 6 g gold leaf gelatine"),
    ("jelly", "300 g pineapple; 50 g caster sugar; 7 g gold leaf gelatine",
     ("gel_broken_by", "look"),
     "300 g pineapple; heat to 80 C; 50 g caster sugar; 7 g gold leaf gelatine"),
    ("jelly", "300 g pineapple; 50 g caster sugar; 7 g gold leaf gelatine",
     ("gel_broken_by", "look"),
     "300 g pineapple; 50 g caster sugar; 7 g pectin NH; boil"),
    ("jelly", "280 g blackcurrant puree; 170 g caster sugar; 1 g pectin NH; boil",
     ("wont_set", "look"),
     "280 g blackcurrant puree; 170 g caster sugar; 6 g pectin NH; boil"),
    ("jelly",
     "280 g blackcurrant puree; 170 g caster sugar; 6 g pectin NH; warm to 45 C",
     ("wont_set", "look"),
     "280 g blackcurrant puree; 170 g caster sugar; 6 g pectin NH; heat to 95 C"),
    ("jelly", "300 g apple puree; 80 g caster sugar; 5 g yellow pectin; boil",
     ("wont_set", "look"),
     "300 g apple puree; 320 g caster sugar; 8 g yellow pectin; boil"),
    ("jelly", "100 g water; 240 g caster sugar; 5 g yellow pectin; boil",
     ("wont_set", "look"),
     "90 g water; 240 g caster sugar; 5 g yellow pectin; boil; 16 g lemon juice"),
    ("jelly", "300 g water; 80 g caster sugar; 4 g agar; boil", ("weeps", "note"),
     "300 g water; 380 g caster sugar; 6 g agar; boil"),
    ("jelly", "150 g lemon juice; 250 g caster sugar; 4 g agar; boil",
     ("gel_broken_by", "look"),
     "60 g water; 250 g caster sugar; 4 g agar; boil; 150 g lemon juice"),
    ("curd", "300 g lemon juice; 150 g caster sugar; 200 g whole egg; cook to 92 C",
     ("gel_broken_by", "look"),
     "300 g lemon juice; 150 g caster sugar; 200 g whole egg; cook to 83 C"),
    ("curd", "300 g lemon juice; 150 g caster sugar; 200 g whole egg; cook to 65 C",
     ("wont_set", "look"),
     "300 g lemon juice; 150 g caster sugar; 200 g whole egg; cook to 83 C"),
    ("curd", "300 g whole milk; 60 g egg yolk; 22 g cornflour; cook to 82 C",
     ("gel_broken_by", "look"),
     "300 g whole milk; 60 g egg yolk; 22 g cornflour; cook to 96 C"),
    ("curd", "400 g whole milk; 90 g caster sugar; 30 g whole egg; cook to 83 C",
     ("wont_set", "look"),
     "400 g whole milk; 90 g caster sugar; 130 g whole egg; cook to 83 C"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "bad", "raised", "mended"), PAIRS)
def test_a_fault_is_found_and_gone_from_its_mended_twin(
    kind: str, bad: str, raised: tuple[str, str], mended: str
) -> None:
    assert raised in found(kind, bad)
    assert raised not in found(kind, mended)


def test_the_grams_that_it_asks_for_mend_it() -> None:
    one = finding("jelly", f"{JELLY}; 2 g gold leaf gelatine", "wont_set")
    grams = float(one.do.split()[1])

    mended = f"{JELLY}; {2 + grams:.1f} g gold leaf gelatine"
    assert found("jelly", mended) == []
    gel = aspect("jelly", mended)
    assert gel is not None
    assert gel.figures[0].figure.number == pytest.approx(0.015, rel=0.02)


def test_the_sugar_that_it_asks_for_is_enough_dry_matter() -> None:
    block = "300 g apple puree; {} g caster sugar; 5 g yellow pectin; boil"
    one = finding("jelly", block.format(80), "wont_set")
    grams = int(one.do.partition("add ")[2].split()[0])
    gel = aspect("jelly", block.format(80 + grams))

    assert gel is not None
    (solids,) = [f for f in gel.figures if f.name == "soluble_solids_share"]
    assert solids.figure.number == pytest.approx(0.55, abs=0.005)


def test_a_stronger_gelatine_counts_for_more() -> None:
    shares = []
    for grade in ("bronze", "silver", "gold", "platinum"):
        gel = aspect("jelly", f"{JELLY}; 6 g {grade} leaf gelatine")
        assert gel is not None
        figure = gel.figures[0].figure
        assert figure.low is not None
        assert figure.high is not None
        assert figure.low <= figure.number <= figure.high
        shares.append(figure.number)

    assert shares == sorted(shares)


def test_vessels_are_told_apart() -> None:
    # the gelatine soaks in a bowl while the syrup boils in a pan
    apart = (
        "into bowl; 8 g gold leaf gelatine; 40 g water; into small pan; "
        "300 g caster sugar; 90 g water; boil to 118 C; pour"
    )
    together = (
        "into small pan; 8 g gold leaf gelatine; 300 g caster sugar; 130 g water; "
        "boil to 118 C; pour"
    )
    assert "gel_broken_by" not in [code for code, _ in found("marshmallow", apart)]
    assert ("gel_broken_by", "look") in found("marshmallow", together)


def test_starch_and_agar_weep_when_they_thaw() -> None:
    block = "300 g whole milk; 40 g caster sugar; 20 g cornflour; boil"
    frozen = "keep frozen, 20 days\n"

    assert ("weeps", "note") in found("curd", block, frozen)
    assert ("weeps", "note") not in found("curd", block, "keep chilled, 3 days\n")


@pytest.mark.parametrize("name", ["two-tides", "harbour-lamp", "lantern-walk"])
def test_the_demonstration_raises_no_false_alarm(name: str) -> None:
    (path,) = [
        p for p in CARDS.glob("*.card") if p.stem.lower().replace(" ", "-") == name
    ]
    spec = worked(path.read_text("utf-8"))
    for nature in spec.natures:
        gel = nature.aspect("gel")
        assert gel is None or gel.findings == ()


def test_two_tides_is_set_by_pectin_and_egg() -> None:
    (path,) = [p for p in CARDS.glob("*.card") if "ides" in p.stem]
    natures = {one.layer: one for one in worked(path.read_text("utf-8")).natures}
    jelly, curd = natures["Blackcurrant jelly"], natures["Baked lemon curd"]

    share = jelly.figure("pectin_nh_share")
    assert share is not None
    assert share.number == pytest.approx(0.0135, abs=0.0005)
    egg = curd.figure("egg_share")
    assert egg is not None
    assert egg.number == pytest.approx(390 / 1009)
    acid = curd.figure("pH")
    assert acid is not None
    assert acid.low is not None
    assert acid.high is not None
    # lemon filling is listed at 3.09 to 3.24
    assert acid.low < 3.09
    assert acid.high > 3.24


@pytest.mark.parametrize(
    "block",
    [
        "5 g gold leaf gelatine", "300 g water; 5 g agar",
        "5 g pectin NH; 3 g moon dust",
        "? g agar; 100 g water", "0 g agar; 100 g water", "300 g vodka; 8 g agar",
        "100 g butter; 2 g agar",
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["jelly", "curd", "marshmallow", "sponge", "ganache"])
def test_whatever_is_in_it_nothing_breaks(kind: str, block: str) -> None:
    lines = "".join(f"  {line.strip()}\n" for line in block.split(";"))
    spec = worked(HEAD.format("", kind) + lines)

    for nature in spec.natures:
        gel = nature.aspect("gel")
        for one in gel.figures if gel else ():
            assert one.figure.value is None or one.figure.number >= 0


@pytest.mark.parametrize(
    ("fruit", "is_raw"),
    [
        ("fresh figs", True), ("dried figs", False), ("kiwi fruit, peeled", True),
        ("pineapple juice", False), ("fresh pineapple juice", True),
        ("tinned pineapple", False), ("mango puree", False), ("ripe mango", True),
        ("papaya", True), ("raspberries", False),
    ],
)  # fmt: skip
def test_raw_fruit_that_digests_gelatine_is_told_from_what_was_cooked(
    fruit: str, is_raw: bool
) -> None:
    codes = found("jelly", f"300 g {fruit}; 50 g caster sugar; 7 g gold leaf gelatine")

    assert (("gel_broken_by", "look") in codes) is is_raw


def test_a_set_cream_needs_half_the_gelatine_of_a_jelly() -> None:
    cream = "300 g whipping cream 38%; 100 g whole milk; 3.5 g gold leaf gelatine"
    jelly = "300 g apple puree; 100 g water; 3.5 g gold leaf gelatine"

    assert found("plain", cream) == []
    assert [code for code, _ in found("plain", jelly)] == ["wont_set"]


def test_a_marshmallows_gelatine_is_told_for_250_bloom() -> None:
    gel = aspect(
        "marshmallow", "300 g caster sugar; 100 g water; 8 g gold leaf gelatine"
    )
    assert gel is not None
    figure = gel.figures[0].figure

    assert figure.number == pytest.approx(8 * 200 / 250 / 408, rel=0.01)


def test_what_nobody_knows_gives_no_dry_matter() -> None:
    gel = aspect("jelly", "400 g moon dust; 100 g caster sugar; 4 g agar; boil")
    assert gel is not None
    (solids,) = [one for one in gel.figures if one.name == "soluble_solids_share"]

    assert not solids.figure.known
    assert [one.word for one in gel.classes if one.name == "agar_weeps"] == ["assess"]
    assert gel.findings == ()


@pytest.mark.parametrize(
    ("gelatine", "is_open"),
    [("gold leaf gelatine", False), ("leaf gelatine", True), ("gelatine powder", True)],
)
def test_a_grade_tells_how_strong_a_gelatine_is(gelatine: str, is_open: bool) -> None:
    gel = aspect("gelatine jelly", f"{JELLY}; 6 g {gelatine}")

    assert gel is not None
    assert ("strength is not told" in " ".join(gel.notes)) == is_open


@pytest.mark.parametrize(
    ("line", "name", "bloom"),
    [
        ("8 g leaf gelatine, 180 bloom", "leaf gelatine", (180, 180)),
        ("8 g powdered gelatine 150 bloom", "powdered gelatine", (150, 150)),
        ("8 g powdered gelatine (150 bloom)", "powdered gelatine", (150, 150)),
        ("8 g (150-bloom) powdered gelatine", "powdered gelatine", (150, 150)),
        ("8 g 180 bloom gelatine", "gelatine", (180, 180)),
        ("powdered gelatine, 150 bloom, 8 g", "powdered gelatine", (150, 150)),
        ("150 bloom powdered gelatine 8 g", "powdered gelatine", (150, 150)),
        ("3 leaves gelatine, bloom 180 = 8 g", "gelatine", (180, 180)),
        ("8 g gelatin powder, 250g Bloom", "gelatin powder", (250, 250)),
        ("8 g gelatine, 220-200° bloom", "gelatine", (200, 220)),
        ("8 g gelatine, bloom strength: 180", "gelatine", (180, 180)),
        ("8 g powdered gelatine, 7.5 bloom", "powdered gelatine", None),
        ("8 g leaf gelatine, in 40 g water to bloom", "leaf gelatine", None),
        ("8 g powdered gelatine, bloomed in 40 g water", "powdered gelatine", None),
        # the larder's own names stay whole
        ("8 g gelatine 160 bloom", "gelatine 160 bloom", (160, 160)),
        ("8 g bloom 200 gelatine", "bloom 200 gelatine", (200, 200)),
    ],
)
@pytest.mark.parametrize("is_pasted", [False, True])
def test_a_line_says_the_strength_of_its_gelatine(
    line: str, name: str, bloom: tuple[float, float] | None, is_pasted: bool
) -> None:
    card = "slab X\ntin 30 x 20 x 5 cm\nlayer J\n  400 g orange juice\n  " + line
    pasted = f"Orange jelly\n\nIngredients\n400 g orange juice\n{line}\n"
    spec = worked(pasted if is_pasted else card)
    (one,) = spec.card.layers[0].component.lines[1:]

    assert (one.name, one.bloom, one.text) == (name, bloom, line)
    (weighed,) = spec.layers[0].batch.lines[1:]
    assert (weighed.mass_g, weighed.is_unknown) == (8, False)


def test_the_dose_is_of_the_strength_that_the_line_says() -> None:
    def share(line: str) -> tuple[float | None, float | None, float]:
        gel = aspect("jelly", f"192 g orange juice; {line}")
        assert gel is not None
        (one,) = [n.figure for n in gel.figures if n.name == "gelatine_share"]
        return one.low, one.high, one.number

    _, _, told_for = share("8 g powdered gelatine, 200 bloom")
    assert told_for == pytest.approx(0.04, rel=2e-3)  # 8 of 200 g, some of it fat
    # by the ratio of blooms, and by its square root
    low, high, likely = share("8 g powdered gelatine, 150 bloom")
    assert likely == low == pytest.approx(told_for * 0.75)
    assert high == pytest.approx(told_for * 0.75**0.5)
    low, high, likely = share("8 g leaf gelatine, 300 bloom")
    assert likely == high == pytest.approx(told_for * 1.5)
    assert low == pytest.approx(told_for * 1.5**0.5)
    # no gelatine is so strong: as if nothing were said
    assert share("8 g powdered gelatine, 900 bloom") == share("8 g powdered gelatine")


def test_a_strength_that_no_rule_was_tried_for_is_told() -> None:
    untried = "Beyond 50 to 300 bloom neither rule of exchange was tried."
    for bloom, is_told in ((300, False), (320, True), (50, False)):
        gel = aspect("jelly", f"{JELLY}; 6 g leaf gelatine, {bloom} bloom")
        assert gel is not None
        assert (untried in gel.notes) is is_told
        assert not any("strength is not told" in note for note in gel.notes)


@pytest.mark.parametrize(("method", "is_boiled"), [
    ("Soak the gelatine in the water. Boil the sugar and syrup to 121 C. Whisk in "
     "the gelatine.", False),
    ("Boil the sugar, syrup and water to 121 C, then add the gelatine.", False),
    ("Boil the sugar, syrup, water and gelatine to 121 C.", True),
    ("Boil everything to 110 C.", True),
    ("Boil the sugar, syrup and water to 121 C. Add the gelatine. Boil to 110 C.",
     True),
])  # fmt: skip
def test_gelatine_is_boiled_where_the_method_puts_it_into_the_pan(
    method: str, is_boiled: bool
) -> None:
    spec = worked(
        "Jelly\n\n14 g powdered gelatine\n80 g water\n300 g caster sugar\n"
        f"120 g golden syrup\n\nMethod\n{method}\n"
    )

    whats = [one.what for one in spec.findings if one.code == "gel_broken_by"]
    assert whats == (["Heat weakens its gelatine: it is boiled."] * is_boiled)


def word(block: str, name: str) -> str:
    gel = aspect("jelly", block)
    assert gel is not None
    (one,) = [each for each in gel.classes if each.name == name]
    return one.word


@pytest.mark.parametrize(
    ("sugar", "told"),
    [(110, "weeps"), (270, "may"), (480, "hardly")],
    ids=["under half dry", "just over half dry", "two thirds dry"],
)
def test_an_agar_gel_weeps_the_less_the_more_dry_matter(sugar: int, told: str) -> None:
    block = f"300 g orange juice; {sugar} g caster sugar; 4 g agar powder; boil"

    assert word(block, "agar_weeps") == told


def test_agar_holds_in_a_room_where_gelatine_softens() -> None:
    agar = "300 g orange juice; 60 g caster sugar; 3 g agar powder; boil"
    leaf = "300 g orange juice; 60 g caster sugar; 6 g powdered gelatine 200 bloom"

    assert word(agar, "agar_warm") == "holds"
    assert word(leaf, "gelatine_warm") == "softens"
