"""Which layer, and which line, is which: in cards of any size."""

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from slabwright.spec.compare import compare
from slabwright.spec.compare_pairs import same_keyed
from slabwright.spec.compare_twins import Entry, twins
from tests.spec.compare_cards import against, worked

BEGINS = "slab A\ntin 20 x 20 x 5 cm\n"
KEYS = st.lists(st.sampled_from("abc"), max_size=5)


@given(KEYS, KEYS)
def test_as_many_of_one_key_pair_as_there_are_on_both_sides(
    old: list[str], new: list[str]
) -> None:
    pairs = list(same_keyed(old, new, lambda i, j: abs(i - j)))

    assert all(old[i] == new[j] for i, j in pairs)
    assert len({i for i, _ in pairs}) == len({j for _, j in pairs}) == len(pairs)
    assert len(pairs) == sum(min(old.count(k), new.count(k)) for k in "abc")


@given(st.lists(st.integers(0, 9), min_size=1, max_size=4), st.data())
def test_the_least_apart_are_one(weights: list[int], data: st.DataObject) -> None:
    turned = data.draw(st.sampled_from(list(permutations(weights))))

    pairs = same_keyed(
        ["x"] * len(weights), ["x"] * len(weights),
        lambda i, j: abs(weights[i] - turned[j]),
    )  # fmt: skip

    assert all(weights[i] == turned[j] for i, j in pairs)


def test_too_many_of_one_key_pair_in_their_order() -> None:
    many = ["x"] * 200

    assert list(same_keyed(many, many[:150], lambda _i, j: -j)) == [
        (n, n) for n in range(150)
    ]


@given(st.lists(st.integers(0, 5), max_size=8), st.lists(st.integers(0, 5), max_size=8))
def test_every_entry_is_told_once(old: list[int], new: list[int]) -> None:
    before, after = (
        [Entry("step", n, f"step {n}") for n in side] for side in (old, new)
    )

    found = twins(before, after)

    assert sorted(t.before for t in found if t.before is not None) == list(
        range(len(old))
    )
    assert sorted(t.after for t in found if t.after is not None) == list(
        range(len(new))
    )
    moved = [t for t in found if t.has_moved]
    assert all(
        old[t.before] == new[t.after]
        for t in moved
        if t.before is not None and t.after is not None
    )


def test_a_layer_of_a_name_that_stands_twice_is_told_by_what_is_in_it() -> None:
    sugar, butter = "  10 g caster sugar\n", "  20 g butter, unsalted\n"
    one = f"{BEGINS}layer B\n{sugar}layer B\n{butter}"
    other = f"{BEGINS}layer B\n{butter}layer B\n{sugar}"

    made = against(one, other)

    assert (made.lines, [said.what for said in made.said]) == ((), ["order of layers"])


def test_lines_of_two_layers_of_one_name_do_not_move_between_them() -> None:
    salt = "  5 g fine salt\n"
    one = f"{BEGINS}layer B\n  90 g caster sugar\n{salt}layer B\n  80 g tahini\n"
    other = one.replace(salt, "") + salt

    assert sorted(line.what for line in against(one, other).lines) == ["added", "gone"]


def test_a_layer_that_is_unlike_is_no_other_version() -> None:
    one = f"{BEGINS}layer Crust\n  90 g plain flour\n"
    other = f"{BEGINS}layer Mousse\n  90 g double cream 48%\n"

    assert [pair.kind for pair in against(one, other).pairs] == ["gone", "added"]


def test_one_layer_becomes_one_other_only() -> None:
    one = (
        f"{BEGINS}layer Lemon cream\n  90 g tahini\nlayer Lemon crisp\n  80 g tahini\n"
    )
    other = f"{BEGINS}layer Lemon creams\n  90 g tahini\n"

    pairs = against(one, other).pairs

    assert [(pair.name, pair.kind) for pair in pairs] == [
        ("Lemon creams", "changed"), ("Lemon crisp", "gone"),
    ]  # fmt: skip


def test_of_two_that_came_the_nearest_in_weight_has_moved() -> None:
    salt = "  {} g fine salt\n"
    parts = [
        f"layer {name}\n  {grams} g {of}\n"
        for name, grams, of in (("B", 90, "tahini"), ("C", 80, "plain flour"),
                                ("D", 70, "whole milk"))
    ]  # fmt: skip
    one = BEGINS + parts[0] + salt.format(9) + parts[1] + parts[2]
    other = BEGINS + parts[0] + parts[1] + salt.format(2) + parts[2] + salt.format(8)

    found = {(line.what, line.where, line.was_in) for line in against(one, other).lines}

    assert found == {("added", "C", ""), ("moved", "D", "B")}


def test_a_line_moves_past_a_layer_of_its_own_name() -> None:
    salt, tahini = "  5 g fine salt\n", "  80 g tahini\n"
    sugar, milk = "  90 g caster sugar\n", "  70 g whole milk\n"
    one = f"{BEGINS}layer B\n{sugar}{salt}layer B\n{tahini}layer C\n{milk}"
    other = f"{BEGINS}layer B\n{sugar}layer B\n{tahini}{salt}layer C\n{milk}{salt}"

    moved = [line for line in against(one, other).lines if line.what == "moved"]

    assert [(line.where, line.was_in) for line in moved] == [("C", "B")]


def test_hundreds_of_layers_under_new_names_are_gone_and_new() -> None:
    text = BEGINS + "".join(f"layer L{n}\n  {n + 1} g tahini\n" for n in range(400))
    before, after = worked(text), worked(text.replace("layer L", "layer M"))

    made = compare(before, after)

    assert {pair.kind for pair in made.pairs} == {"added", "gone"}


def test_a_long_layer_written_anew_is_compared_line_by_line() -> None:
    steps = "".join(f"  {n + 1} g tahini\n  stir for {n} min\n" for n in range(900))
    before, after = (
        worked(f"{BEGINS}layer B\n{text}")
        for text in (steps, steps.replace("stir", "whisk").replace("1 g ", "2 g "))
    )

    made = compare(before, after)

    assert not [line for line in made.lines if line.what != "changed"]
