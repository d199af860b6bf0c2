"""What steps say is poured from vessel to vessel, what is lost there, what foams."""

import pytest

from slabwright.formula.vessel.pours import Pour, base_of, pours
from slabwright.formula.vessel.whereabouts import vessel_of
from slabwright.spec.fills import fills
from slabwright.spec.specification import Specification
from slabwright.spec.vessel_use import VesselUse, is_pan
from tests.spec.test_kit import alone, codes

PAN = "  into small pan\n  300 g double cream 48%\n  heat to 80 C\n"
BOWL = "  into bowl\n  500 g dark chocolate 60%\n"
SYRUP = "  into small pan\n  200 g caster sugar\n  60 g water\n  boil to 118 C\n"
OFF_G = 32.5
"""Of its 60 g of water: 118 °C leaves 27.5 g, 12 % of the syrup. Tables of the boiling
points of sucrose go from 11 to 13 % there (tests/reference/physics)."""
WHITES = "  into mixer\n  100 g egg white\n"
GELATINE = "  into mixer\n  12 g leaf gelatine\n  60 g water\n"
MALLOW = "  60 g water\n  200 g golden syrup\n  8 g leaf gelatine\n"
AGAIN = "  into small pan\n  7 g fine salt\n"


def layer(*blocks: str) -> Specification:
    return alone("layer M\n" + "".join(blocks))


def grams(spec: Specification) -> dict[str, float]:
    """What each vessel holds when it is fullest [g]."""
    return {use.vessel: round(use.filled_g, 6) for use in spec.kit}


def use(spec: Specification, vessel: str) -> VesselUse:
    return next(one for one in spec.kit if one.vessel == vessel)


@pytest.mark.parametrize(
    "said",
    [
        "pour over the chocolate",
        "pour the cream over the chocolate",
        "pour the hot cream on, wait 1 min",
        "pour over the hot cream",
        "pour over the cream",
        "pour in the cream and stir",
        "tip the contents of the small pan into the bowl",
        "add the cream in three goes",
        "stir in the cream",
        "stir the cream into the chocolate",
        "strain the cream onto the chocolate",
        "wait 2 min, then onto the chocolate",
        "heat gently, then pour the cream into the bowl",
    ],
)
def test_cream_from_a_pan_stands_on_the_chocolate_in_the_bowl(said: str) -> None:
    # 300 + 500 = 800 g; the pan is empty, so that 7 g of salt are alone in it
    spec = layer(PAN, BOWL, f"  {said}\n", AGAIN)

    assert grams(spec) == {"small pan": 300, "bowl": 800}


@pytest.mark.parametrize(
    "said",
    [
        "heat to 80 C, then over the chocolate in three goes",
        "pour over the chocolate",
        "pour into the bowl",
        "scrape into the bowl",
        "pour onto the dark chocolate",
        "transfer to the bowl",
        "stir into the chocolate",
        "stir and pour into the bowl",
    ],
)
def test_a_pan_at_hand_is_poured_into_the_bowl(said: str) -> None:
    # what goes in next goes where the mix is: 300 + 500 + 20 g
    spec = layer(BOWL, PAN, f"  {said}\n  20 g fine salt\n", AGAIN)

    assert grams(spec) == {"small pan": 300, "bowl": 820}


@pytest.mark.parametrize(
    "said",
    ["stir", "pour", "leave in the bowl", "pour over the base", "add to taste",
     "stir in the salt", "scrape down the sides", "pour off some fat",
     "pour the ganache into the tin", "wait for the cream", "whisk in the bowl",
     "press film on the chocolate", "pour a little over the chocolate"],
)  # fmt: skip
def test_what_is_not_said_stays_in_the_pan(said: str) -> None:
    spec = layer(PAN, BOWL, f"  {said}\n", AGAIN)

    assert grams(spec) == {"small pan": 307, "bowl": 500}


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("pour", 0), ("pour over the base", 0), ("pour into the tin", 0),
        ("pour at 34-36 C", 0), ("tip over the shortbread layer", 0), ("bake 160 C", 0),
        ("spread over the base", 0), ("scrape into the tin", 0), ("press hard", 0),
        ("stir and pour into the frame", 0), ("transfer to the tin", 0),
        ("pour half over the base", 150), ("pour a third into the tin", 200),
        ("scrape down the pan", 300), ("press through a sieve", 300),
        ("pour off some fat", 300), ("stir in the cream", 300), ("chill", 300),
        ("pour in the cream", 300), ("pour into the small pan", 300),
        ("stir half an hour", 300),
    ],
)  # fmt: skip
def test_a_pour_into_the_tin_empties_the_vessel(said: str, left: float) -> None:
    spec = layer(PAN, f"  {said}\n  400 g water\n")

    assert grams(spec)["small pan"] == pytest.approx(400 + left)


def test_a_mixer_bowl_holds_what_was_poured_into_it_before_it_is_named() -> None:
    spec = layer(
        PAN, "  pour into the mixer bowl\n  into mixer bowl\n  20 g fine salt\n", AGAIN
    )

    assert grams(spec) == {"small pan": 300, "mixer bowl": 320}
    assert use(spec, "mixer bowl").holds_ml.sum == "the kitchen has no mixer bowl"


def test_half_goes_to_the_yolks_and_back() -> None:
    # 250 of 500 g go onto 100 g; all 350 g come back to the other 250 g
    spec = layer(
        "  into small pan\n  500 g whole milk\n  heat to 90 C\n",
        "  into bowl\n  100 g egg yolk\n  pour half the milk onto the yolks, whisk\n",
        "  return to the pan and cook to 84 C\n",
    )

    assert grams(spec) == {"small pan": 600, "bowl": 350}


def test_a_loose_line_goes_alone_and_a_mix_goes_whole() -> None:
    loose = "  into bowl\n  90 g whole milk\n  200 g plain flour\n"
    mixed = loose + "  stir\n"
    then = PAN + "  pour in the milk\n"

    assert grams(layer(loose, then))["small pan"] == 390
    assert grams(layer(mixed, then))["small pan"] == 590


def test_two_vessels_that_fit_alike_are_not_guessed_between() -> None:
    jug = "  into jug\n  400 g dark chocolate 60%\n"

    assert grams(layer(BOWL, jug, PAN, "  add to the dark chocolate\n")) == {
        "bowl": 500, "jug": 400, "small pan": 300,
    }  # fmt: skip
    poured = layer(PAN, jug, BOWL, "  pour over the mix\n  9 g fine salt\n")
    assert grams(poured)["bowl"] == 500  # it went over something else
    assert vessel_of(["pan"], ["small pan", "wide pan"], []) is None


def test_the_milk_and_not_the_milk_chocolate_is_what_is_poured() -> None:
    spec = layer(
        "  into small pan\n  300 g whole milk\n  20 g butter, unsalted\n",
        "  into bowl\n  500 g milk chocolate 35%\n",
        "  into small pan\n  pour over the milk chocolate\n",
    )

    assert grams(spec) == {"small pan": 320, "bowl": 820}
    named = layer(
        "  into small pan\n  300 g whole milk\n  boil\n",
        "  into bowl\n  500 g milk chocolate 35%\n",
        "  pour the milk over\n",
    )
    assert grams(named)["bowl"] == 800


def test_another_bowl_is_not_the_one_at_hand() -> None:
    spec = layer(BOWL, "  pour into a clean bowl\n  into bowl\n  9 g fine salt\n")

    assert grams(spec) == {"bowl": 500, "clean bowl": 500}


def test_chocolate_that_stands_in_no_named_vessel_takes_the_cream() -> None:
    # as the ganache of the demonstration: 20 g butter no longer go into the pan
    spec = layer(
        "  500 g dark chocolate 60%\n", PAN,
        "  heat to 80 C, then over the chocolate\n  20 g butter, unsalted\n",
    )  # fmt: skip

    assert grams(spec) == {"small pan": 300}


def test_what_is_poured_together_may_be_too_much_for_its_vessel() -> None:
    # 2.5 + 1 litres of water into 3 litres
    pan = "  into small pan\n  2500 g water\n"
    jug = "  into jug\n  1000 g water\n  heat to 50 C\n"
    spec = layer(pan, jug, "  pour into the small pan\n")

    found = next(f for f in spec.findings if f.code == "over_vessel")
    assert found.what.startswith("About 3.5 l goes into the small pan, which holds 3 l")
    assert found.span is not None
    assert found.span.line == 10
    assert "over_vessel" not in codes(layer(pan, jug))
    # in goes of its own, twice 2 litres poured away in between are not too much
    once = "  into small pan\n  2000 g water\n  pour\n"
    assert "over_vessel" not in codes(layer(once, once))
    assert "over_vessel" in codes(layer(once.replace("  pour\n", ""), once))


def test_a_loss_takes_only_what_stood_in_the_vessel_then() -> None:
    # 1000 g of milk boil down to 400 g, by 600 g; 500 g of cream come after: 900 g
    boiled = "  into wide pan\n  1000 g whole milk\n  boil 20 min\n  ends 400 g\n"
    spec = layer(boiled, "  500 g double cream 48%\n  bring to the boil\n  2 g salt\n")

    assert use(spec, "wide pan").filled_g == pytest.approx(1000)
    more = layer(boiled, "  700 g double cream 48%\n  bring to the boil\n")
    assert use(more, "wide pan").filled_g == pytest.approx(1100)


def test_a_loss_in_one_vessel_leaves_the_others_as_they_are() -> None:
    # 1000 g water in the bowl stay; 600 of 1000 g milk boil off in the pan
    bowl = "  into bowl\n  1000 g water\n"
    pan = "  into wide pan\n  1000 g whole milk\n  boil\n  loses 600 g\n"
    spec = layer(bowl, pan, "  pour into the bowl\n")

    assert grams(spec) == {"bowl": 1400, "wide pan": 1000}
    # a share is of all that is there: 30 % of 2000 g are the same 600 g
    share = layer(bowl, pan.replace("600 g", "30 %"), "  pour into the bowl\n")
    assert grams(share)["bowl"] == 1400


def test_a_loss_falls_on_the_vessel_that_it_names() -> None:
    pan = "  into small pan\n  500 g water\n  heat to 50 C\n"
    bowl = "  into bowl\n  100 g plain flour\n  loses 50 g in the pan\n"

    assert grams(layer(pan, bowl, "  pour in the water\n"))["bowl"] == 550
    # an emptied pan loses nothing more: what was left on it is lacking in the bowl
    after = bowl.replace("  loses", "  pour in the water\n  loses")
    spec = layer(pan, after, "  600 g water\n  stir\n")
    assert grams(spec)["bowl"] == 1150


def test_a_loss_after_the_tin_is_filled_takes_nothing_from_a_vessel() -> None:
    pan = "  into small pan\n  500 g water\n"
    tin = "  into bowl\n  600 g plain flour\n  300 g water\n  press\n  bake 160 C\n"
    spec = layer(pan, tin, "  ends 1200 g\n  into small pan\n  1 g fine salt\n")

    assert grams(spec)["small pan"] == 501


@pytest.mark.parametrize(
    "said",
    [
        "pour onto the whites, whisk until cool",
        "pour onto the meringue, whisk until cool",
        "pour over the whites in a thin stream, whisking",
        "pour into the mixer\n  whisk until cool",
    ],
)
def test_italian_meringue_is_whites_seven_times_over_and_the_syrup(said: str) -> None:
    # 100 g white rise to seven times their room; 200 g sugar dissolved are
    # 200 ÷ 1.59 = 125.8 ml, the water that is left as it is, and those do not grow
    spec = layer(WHITES, SYRUP, f"  {said}\n")
    made = use(spec, "mixer")
    syrup_ml = 200 / 1.59 + 60 - OFF_G
    white_ml = made.filled_ml.number - syrup_ml

    assert made.mix == "foam"
    assert made.filled_g == pytest.approx(360 - OFF_G, abs=1)
    assert white_ml == pytest.approx(100 / 1.03, rel=0.02)
    likely = 7 * white_ml + syrup_ml
    assert made.rises_to_ml.number == pytest.approx(likely, rel=2e-3)
    assert made.rises_to_ml.low == pytest.approx(likely - white_ml, rel=2e-3)
    assert made.rises_to_ml.high == pytest.approx(likely + white_ml, rel=2e-3)
    # finished meringue: 0.15 to 0.45 g/ml (formula/kinds.csv, from memory)
    assert 0.15 < made.filled_g / made.rises_to_ml.number < 0.45


@pytest.mark.parametrize(
    "said",
    [
        "pour in the syrup in a thin stream, whisking",
        "pour in a thin stream, whisking",
        "whisk in the hot syrup",
        "pour in the syrup\n  whisk 8 min",
        "pour the syrup in a thin stream",
    ],
)
def test_syrup_that_was_boiled_first_is_whisked_into_the_whites(said: str) -> None:
    spec = layer(SYRUP, WHITES, f"  whisk to soft peaks\n  {said}\n", AGAIN)

    assert grams(spec) == {
        "small pan": 260, "mixer": pytest.approx(360 - OFF_G, abs=1)
    }  # fmt: skip
    assert use(spec, "mixer").mix == "foam"


@pytest.mark.parametrize(
    "said",
    [
        "pour into the mixer\n  whisk 10 min",
        "pour over the gelatine, whisk to a ribbon",
        "pour onto the gelatine\n  beat until cool",
        "pour over the bloomed gelatine and whip until thick",
    ],
)
def test_marshmallow_comes_to_three_times_its_syrup(said: str) -> None:
    # 12 + 60 + 200 + 60 g, less what boils off: only gelatine, water and sugars, so
    # all of it rises alike
    spec = layer(GELATINE, SYRUP, f"  {said}\n")
    made = use(spec, "mixer")

    assert made.mix == "foam"
    assert made.filled_g == pytest.approx(332 - OFF_G, abs=1)
    assert made.rises_to_ml.number == pytest.approx(3 * made.filled_ml.number)
    assert made.rises_to_ml.low == pytest.approx(2 * made.filled_ml.number)
    assert made.rises_to_ml.high == pytest.approx(4 * made.filled_ml.number)
    assert [source.key for source in made.rises_to_ml.sources] == ["trade"]
    # hand made: 0.35 to 0.55 g/ml (formula/kinds.csv, from memory)
    assert 0.35 < made.filled_g / made.rises_to_ml.number < 0.55


def test_gelatine_does_not_raise_what_only_stands_in_it() -> None:
    nuts = "  50 g roasted hazelnuts\n  whip until thick\n"
    spec = layer(GELATINE, SYRUP, "  pour into the mixer\n", nuts)
    plain = layer(GELATINE, SYRUP, "  pour into the mixer\n  whip until thick\n")
    made, thin = use(spec, "mixer"), use(plain, "mixer")
    nut_ml = made.filled_ml.number - thin.filled_ml.number

    assert nut_ml > 50
    assert made.rises_to_ml.number == pytest.approx(3 * thin.filled_ml.number + nut_ml)


@pytest.mark.parametrize(
    "body",
    [
        # sugars under half of it: 60 of 368 g
        "  300 g water\n  60 g caster sugar\n  8 g leaf gelatine\n  heat to 60 C\n"
        "  whisk well\n",
        f"{MALLOW}  whisk until smooth\n",
        f"{MALLOW}  stir well\n",
        "  60 g water\n  200 g golden syrup\n  whisk well\n",
        "  60 g water\n  200 g caster sugar\n  8 g leaf gelatine\n  whisk well\n",
        "  60 g water\n  200 g caster sugar\n  8 g leaf gelatine\n  whisk to peaks\n",
        "  300 g whole egg\n  whisk until frothy\n",
        "  100 g egg white\n  400 g icing sugar\n  beat well\n",
        f"{MALLOW}  whisk in the cold\n",
    ],
)
def test_what_is_only_stirred_is_no_foam(body: str) -> None:
    spec = layer("  kind glaze\n  into mixer\n", body)

    assert use(spec, "mixer").mix == "plain"


def test_sugars_are_half_of_a_foam_with_gelatine_and_no_less() -> None:
    def made(water_g: int) -> str:
        body = f"  {water_g} g water\n  200 g golden syrup\n  10 g leaf gelatine\n"
        return use(layer("  into mixer\n", body, "  whisk well\n"), "mixer").mix

    assert (made(190), made(191)) == ("foam", "plain")  # 200 of 400, of 401 g


def test_a_foam_keeps_its_room_where_it_is_folded_in() -> None:
    # 100 g white at seven times its room, and the chocolate as it is
    spec = layer(BOWL, WHITES, "  whip to stiff peaks\n  fold into the chocolate\n")
    made, whites = use(spec, "bowl"), use(spec, "mixer")
    chocolate_ml = made.filled_ml.number - whites.filled_ml.number

    assert (made.mix, made.filled_g) == ("foam", 600)
    assert made.rises_to_ml.number == pytest.approx(
        7 * whites.filled_ml.number + chocolate_ml
    )


def test_a_foam_that_is_whisked_again_with_more_in_it_stays_one() -> None:
    more = "  400 g roasted hazelnuts\n  whisk well\n"  # under half is sugar now
    more += "  10 g fine salt\n"
    whipped = ("  pour into the mixer\n", "  whisk to a ribbon\n", more)
    made = use(layer(GELATINE, SYRUP, *whipped), "mixer")
    foam = use(layer(GELATINE, SYRUP, *whipped[:2]), "mixer")

    nut_ml = made.filled_ml.number - foam.filled_ml.number
    assert made.mix == "foam"
    assert made.filled_g == pytest.approx(742 - OFF_G, abs=1)
    assert made.rises_to_ml.number == pytest.approx(foam.rises_to_ml.number + nut_ml)


def test_cream_that_is_whipped_into_a_foam_leaves_it_one() -> None:
    foam = (GELATINE, SYRUP, "  pour into the mixer\n  whisk to a ribbon\n")
    cream = "  400 g double cream 48%\n  whip to peaks\n"
    before, after = use(layer(*foam), "mixer"), use(layer(*foam, cream), "mixer")

    cream_ml = after.filled_ml.number - before.filled_ml.number
    assert after.rises_to_ml.number == pytest.approx(
        3 * before.filled_ml.number + 2 * cream_ml
    )


def test_a_foam_that_is_boiled_is_one_no_more() -> None:
    cream = "  into wide pan\n  500 g double cream 48%\n  whip to soft peaks\n"
    spec = layer(cream, "  boil\n  pour into the mixer\n")

    assert use(spec, "wide pan").mix == "boil"
    assert use(spec, "mixer").mix == "plain"


def test_a_syrup_that_is_poured_hot_boils_no_more() -> None:
    spec = layer(SYRUP, "  pour into the mixer at 118 C\n")

    assert use(spec, "mixer").mix == "plain"
    back = layer(PAN, BOWL, "  pour in the cream\n  return to the pan and boil\n")
    assert use(back, "small pan").mix == "boil"
    warm = layer(PAN, BOWL, "  pour in the cream\n  return to the pan\n")
    assert use(warm, "small pan").mix == "plain"


def test_a_foam_is_offered_bowls_and_a_boil_pans() -> None:
    # the demonstration's wide pan holds 12 l, its small pan 3 l, its mixer 7 l
    boil = layer("  into small pan\n  1500 g whole milk\n  boil\n")
    foam = layer("  into small pan\n  500 g egg white\n  whip to peaks\n")
    plain = layer("  into small pan\n  4000 g water\n")

    assert use(boil, "small pan").would_do == ("wide pan",)  # 4.5 l, not the mixer
    assert use(foam, "small pan").would_do == ("mixer",)
    assert use(plain, "small pan").would_do == ("mixer", "wide pan")
    found = next(f for f in boil.findings if f.code == "boils_over")
    assert found.do.startswith("Take the wide pan")


@pytest.mark.parametrize(
    ("name", "is_one"),
    [("wide pan", True), ("Saucepan", True), ("jam kettle", True), ("stock-pot", True),
     ("pot, small", True), ("mixer", False), ("bowl", False), ("panettone tub", False),
     ("sheet pan", False), ("baking pan", False)],
)  # fmt: skip
def test_pans_are_told_by_their_names(name: str, is_one: bool) -> None:
    assert is_pan(name) == is_one


def test_the_range_of_a_foam_gives_the_range_of_its_mixings() -> None:
    # about 971 ml of white: 5.8 to 7.8 l in 7 l, so one go, perhaps two
    made = use(layer(WHITES.replace("100", "1000"), "  whip to peaks\n"), "mixer")

    assert made.mixings.number == 1
    assert (made.mixings.low, made.mixings.high) == (1, 2)
    small = use(layer(WHITES, "  whip to peaks\n"), "mixer")
    assert (small.mixings.low, small.mixings.high) == (None, None)


def test_every_fill_lies_in_its_range_and_says_what_it_leans_on() -> None:
    for mix, fill in fills().items():
        assert 1 <= fill.low <= fill.times <= fill.high, mix
        assert fill.source.key == "trade"


def test_verbs_and_parts_of_a_sentence() -> None:
    assert [base_of(w) for w in ("whisked", "stirring", "ring")] == [
        "whisk", "stir", "ring",
    ]  # fmt: skip
    both = pours("stir well and pour into the tin, then onto the rack")
    assert [one.verb for one in both] == ["stir", "pour", "pour"]
    assert pours("pour two thirds of the milk over")[0].share == pytest.approx(2 / 3)
    assert pours("pour a little at a time over the eggs")[0].places
    assert pours("pour over the base with a ladle")[0].places == (("over", ("base",)),)
    assert pours("pour the mix into the bowl") == (
        Pour("pour", ("mix",), (("into", ("bowl",)),)),
    )


def test_cold_cream_that_is_called_hot_is_poured_over() -> None:
    cold = PAN.replace("  heat to 80 C\n", "")

    assert grams(layer(cold, BOWL, "  pour over the hot cream\n"))["bowl"] == 800


def test_what_was_poured_together_goes_on_together() -> None:
    jug = "  into jug\n  9 g fine salt\n  pour in the chocolate\n"
    spec = layer(PAN, BOWL, "  pour over the chocolate\n", jug)

    assert grams(spec)["jug"] == 809
    turned = layer(BOWL, PAN, "  pour over the chocolate\n", jug)
    assert grams(turned)["jug"] == 809


def test_lines_in_an_emptied_bowl_lie_loose_again() -> None:
    first = "  into bowl\n  90 g whole milk\n  stir\n  pour\n"
    then = "  90 g whole milk\n  200 g plain flour\n"

    assert grams(layer(first, then, PAN, "  pour in the milk\n"))["small pan"] == 390


def test_a_pour_that_could_come_from_two_vessels_is_left_out() -> None:
    jug = "  into jug\n  400 g water\n"

    assert grams(layer(PAN, jug, BOWL, "  pour into the bowl\n"))["bowl"] == 500
    two = "  into jug\n  400 g dark chocolate 60%\n"
    assert grams(layer(BOWL, two, PAN, "  strain onto the dark chocolate\n")) == {
        "bowl": 500, "jug": 400, "small pan": 300,
    }  # fmt: skip


def test_chocolate_over_chocolate_is_a_layer_where_nothing_else_stands() -> None:
    spec = layer(BOWL, "  pour over the dark chocolate\n  9 g fine salt\n")

    assert grams(spec)["bowl"] == 500


def test_cold_sugar_is_no_syrup_and_yolks_are_a_yolk() -> None:
    sugar = "  into bowl\n  90 g caster sugar\n"
    spec = layer(sugar, SYRUP, WHITES, "  pour the hot syrup over\n")
    yolk = layer("  into bowl\n  90 g egg yolk\n", PAN, "  pour over the yolks\n")

    assert grams(spec) == {
        "bowl": 90,
        "small pan": 260,
        "mixer": pytest.approx(360 - OFF_G, abs=1),
    }
    assert grams(yolk) == {"bowl": 390, "small pan": 300}


def test_losses_one_after_another() -> None:
    # 1000 to 800 to 400 g of milk, and 900 g of water: 1300 g
    spec = layer(
        "  into wide pan\n  1000 g whole milk\n  heat to 60 C\n  ends 800 g\n",
        "  heat to 70 C\n  ends 400 g\n  900 g water\n",
    )

    assert grams(spec) == {"wide pan": 1300}
    # the pan that lost 50 g holds 450 g, and 100 g more
    pan, bowl = (
        "  into small pan\n  500 g water\n",
        "  into bowl\n  100 g plain flour\n",
    )
    named = layer(pan, bowl, "  loses 50 g in the pan\n", pan.replace("500", "100"))
    assert grams(named)["small pan"] == 550


def test_sugar_that_is_too_much_before_it_dissolves() -> None:
    # 2700 g are over 3 litres as they lie, and 2700 ÷ 1.59 = 1698 ml in the boil
    pan = "  into small pan\n  2700 g caster sugar\n"
    spec = layer(pan, "  100 g water\n  boil\n")
    found = next(f for f in spec.findings if f.code == "over_vessel")

    assert use(spec, "small pan").filled_ml.number == pytest.approx(2700 / 1.59 + 100)
    assert found.span is not None


def test_too_much_is_shown_where_the_vessel_is_named() -> None:
    spec = layer("  into small pan\n  3100 g water\n")

    found = next(f for f in spec.findings if f.code == "over_vessel")
    assert found.span is not None
    assert found.span.line == 5


def test_what_is_poured_at_a_boil_does_not_boil_up() -> None:
    spec = layer("  into wide pan\n  900 g golden syrup\n  pour at 118 C\n")

    assert use(spec, "wide pan").mix == "plain"


def test_cream_that_is_whipped_as_it_is_poured() -> None:
    spec = layer(PAN, "  pour into the mixer, whipping 3 min\n")

    assert use(spec, "mixer").mix == "foam"


def test_the_longest_name_of_a_vessel_counts() -> None:
    assert vessel_of(["small", "pan"], ["pan", "small pan"], []) == "small pan"
    assert vessel_of(["small", "pan"], [], ["pan", "small pan"]) == "small pan"
