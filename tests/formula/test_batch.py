"""A batch from its lines to what is there in the end, in the order of the card."""

from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.composition import INDEX, amount, total, water
from slabwright.formula.batch import Batch
from slabwright.formula.kinds import kinds
from tests.files.kitchens import worked

FOODS = (
    "plain flour", "caster sugar", "butter, unsalted", "whole milk", "honey", "rum",
    "double cream 48%", "lemon juice", "fine salt", "water", "eggs",
)  # fmt: skip


def batch(*lines: str, name: str = "A", more: str = "") -> Batch:
    body = "\n".join(f"  {line}" for line in lines)
    spec = worked(f"slab X\ntin 20 x 20 x 5 cm\n{more}layer {name}\n{body}\n")

    assert spec.errors == ()
    return spec.layers[0].batch


def out_g(made: Batch) -> float:
    assert made.mass_out is not None
    return made.mass_out.value


def test_ends_is_what_is_there_and_later_lines_go_on_from_it() -> None:
    # 300 g boiled down to 250 g, then 50 g: 300 g, and the water of the 50 g stays
    made = batch("100 g caster sugar", "200 g water", "ends 250 g", "50 g water")

    assert out_g(made) == pytest.approx(300)
    # 200 - 50 + 50
    assert water(made.after)[0] == pytest.approx(200, abs=0.2)
    assert made.mass_in.value == pytest.approx(350)


def test_a_share_is_of_what_is_there_at_that_moment() -> None:
    # 200 - 10 % = 180; + 100 = 280; - 10 % = 252
    made = batch("200 g water", "loses 10 %", "100 g water", "loses 10 %")

    assert out_g(made) == pytest.approx(252)


def test_losses_happen_in_written_order() -> None:
    # (200 - 50) x 0.9 = 135, but 200 x 0.9 - 50 = 130
    first = batch("200 g water", "loses 50 g", "loses 10 %")
    last = batch("200 g water", "loses 10 %", "loses 50 g")

    assert (out_g(first), out_g(last)) == pytest.approx((135, 130))


@pytest.mark.parametrize(
    "place",
    [
        "in the bowl",
        "on the sheet",
        "in the pan",
        "in bowl",
        "on the whisk",
        "in the tin",
    ],
)
def test_what_is_left_in_the_bowl_is_mix_as_it_is(place: str) -> None:
    # a tenth of 150 g water and 50 g sugar, which is 99.8 % sucrose
    made = batch("50 g caster sugar", "150 g water", f"loses 20 g {place}")

    assert water(made.after)[0] == pytest.approx(135, rel=3e-3)
    assert amount(made.after, "sucrose")[0] == pytest.approx(45, rel=3e-3)


@pytest.mark.parametrize("place", ["", "in the oven", "on the hob", "on cooling"])
def test_any_other_loss_is_water(place: str) -> None:
    made = batch("50 g caster sugar", "150 g water", f"loses 20 g {place}")

    assert water(made.after)[0] == pytest.approx(130, rel=3e-3)
    assert amount(made.after, "sucrose")[0] == pytest.approx(50, rel=3e-3)


def test_so_much_water_in_it_is_what_is_there_in_the_end() -> None:
    # 100 g sugar hold 25 % water in 133.3 g
    made = batch("100 g caster sugar", "200 g water", "ends 25 % water")

    assert out_g(made) == pytest.approx(100 / 0.75, rel=2e-3)
    assert water(made.after)[0] / out_g(made) == pytest.approx(0.25)


def test_nothing_is_lost_where_the_card_says_so() -> None:
    for nothing in ("loses 0 g", "loses 0 %"):
        made = batch("100 g caster sugar", "200 g water", nothing)
        assert out_g(made) == pytest.approx(300)
        assert made.assumed_loss is None


@pytest.mark.parametrize("kind", kinds().values(), ids=lambda kind: kind.name)
def test_the_usual_loss_is_taken_only_when_nothing_is_said(kind: object) -> None:
    name = getattr(kind, "name", "")
    lines = ("100 g caster sugar", "60 g butter, unsalted", "100 g water")
    silent = batch(f"kind {name}", *lines)
    said = batch(f"kind {name}", *lines, "loses 1 g")

    assert silent.assumed_loss is not None
    assert said.assumed_loss is None
    assert out_g(said) == pytest.approx(259)
    assert silent.mass_out is not None
    assert silent.mass_out.low <= out_g(silent) <= silent.mass_out.high <= 260 + 1e-9
    assert silent.mass_out.leans == "assumed"


def test_the_usual_biscuit_bakes_to_three_percent_of_water() -> None:
    # kinds.csv: common practice, 2 to 5 %. 100 g of solids weigh 100 / 0.97
    made = batch("kind pressed biscuit", "100 g caster sugar", "60 g water")

    assert out_g(made) == pytest.approx(100 / 0.97, rel=3e-3)
    assert made.mass_out is not None
    assert made.mass_out.low == pytest.approx(100 / 0.98, rel=3e-3)
    assert made.mass_out.high == pytest.approx(100 / 0.95, rel=3e-3)


def test_a_usual_loss_of_water_takes_no_more_than_there_is() -> None:
    made = batch("kind sponge", "100 g caster sugar")

    # a sponge usually loses 11 %, this one has 0.2 % of water
    assert out_g(made) == pytest.approx(100, abs=0.3)
    assert water(made.after)[0] == pytest.approx(0)


def test_grams_of_the_unknown_are_kept_exactly() -> None:
    made = batch("100 g moon dust", "50 g water", "loses 10 g")

    assert out_g(made) == pytest.approx(140)
    assert "moon dust" in made.composition_withheld
    assert amount(made.after, "unknown")[0] == pytest.approx(100)


def test_the_water_of_the_unknown_is_not_known() -> None:
    spec = worked("slab X\nlayer A\n  100 g moon dust\n  9 g water\n  ends 3 % water\n")

    assert spec.layers[0].mass_out_g.value is None
    assert "moon dust" in spec.layers[0].mass_out_g.sum


def test_butter_for_greasing_is_not_in_the_slab() -> None:
    made = batch("100 g caster sugar", "butter for greasing", "loses 0 g")

    assert out_g(made) == pytest.approx(100)
    assert made.lines[1].grams is None


@given(
    st.lists(
        st.tuples(st.integers(1, 500), st.sampled_from(FOODS)), min_size=2, max_size=6
    ),
    st.randoms(use_true_random=False),
)
def test_the_order_of_lines_between_two_steps_changes_nothing(
    lines: list[tuple[int, str]], shuffle: Random
) -> None:
    other = list(lines)
    shuffle.shuffle(other)
    made, again = (
        batch(*(f"{g} g {food}" for g, food in one), "loses 1 % in the bowl")
        for one in (lines, other)
    )

    assert out_g(again) == pytest.approx(out_g(made), rel=1e-9)
    assert np.allclose(again.after, made.after, rtol=1e-9, atol=1e-9)


@given(st.lists(st.integers(1, 500), min_size=3, max_size=3), st.integers(1, 99))
def test_what_goes_in_is_what_comes_out_and_what_goes(
    grams: list[int], percent: int
) -> None:
    made = batch(
        f"{grams[0]} g caster sugar", f"{grams[1]} g water",
        f"loses {percent / 10} % on the sheet", f"{grams[2]} g plain flour",
        f"loses {percent / 20} % in the bowl",
    )  # fmt: skip

    gone = sum(happening.lost_g for happening in made.happenings)
    assert made.mass_in.value == pytest.approx(sum(grams))
    assert out_g(made) + gone == pytest.approx(sum(grams))
    assert total(made.after)[0] == pytest.approx(out_g(made))


@pytest.mark.parametrize("factor", [0.5, 3, 1000])
def test_a_batch_of_so_many_times_gives_so_many_times(factor: float) -> None:
    def made(times: float) -> Batch:
        return batch(
            f"{100 * times:g} g caster sugar", f"{200 * times:g} g whole milk",
            "loses 10 %", f"{50 * times:g} g butter, unsalted", "ends 9 % water",
        )  # fmt: skip

    assert out_g(made(factor)) == pytest.approx(factor * out_g(made(1)), rel=1e-9)


def test_a_range_on_a_line_is_a_range_in_the_end() -> None:
    # 100 to 120 g and 50 g, of which a tenth goes
    made = batch("100-120 g caster sugar", "50 g water", "loses 10 % in the bowl")

    assert made.mass_out is not None
    ends = made.mass_out.low, made.mass_out.value, made.mass_out.high
    assert ends == pytest.approx((135, 144, 153))
    assert made.mass_out.leans == "assumed"


def test_a_weight_at_the_end_takes_the_range_away() -> None:
    made = batch("100-120 g caster sugar", "50 g water", "ends 140 g weighed")

    assert made.mass_out is not None
    ends = made.mass_out.low, made.mass_out.value, made.mass_out.high
    assert set(ends) == {140}
    assert made.mass_out.leans == "measured"


def test_saturates_go_with_the_fat_and_not_with_the_water() -> None:
    made = batch("100 g butter, unsalted", "100 g water", "loses 50 g")
    bowl = batch("100 g butter, unsalted", "100 g water", "loses 50 % in the bowl")

    fat = made.before[0, INDEX["saturates"]]
    assert made.after[0, INDEX["saturates"]] == pytest.approx(fat)
    assert bowl.after[0, INDEX["saturates"]] == pytest.approx(fat / 2)


def test_a_spoon_of_starch_is_no_base_of_a_custard() -> None:
    """Our choice: under a tenth of the whole nothing counts as 100 %."""
    custard = worked("slab X\nlayer A\n  40 g cornflour\n  600 g whole milk\n")
    dough = worked("slab X\nlayer A\n  100 g plain flour\n  600 g whole milk\n")

    assert custard.layers[0].percent_base == "the whole"
    assert dough.layers[0].percent_base == "flour"
