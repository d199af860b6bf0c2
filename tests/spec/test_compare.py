"""Two versions of a slab: every edit is found, and nothing else is."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.files.raw import Text
from slabwright.spec.compare import compare
from slabwright.spec.work_out import work_out
from tests.spec.compare_cards import (
    CARDS,
    HOME,
    ORDER,
    TIDES,
    WITH_COMPONENTS,
    against,
    worked,
)

_GRAMS = re.compile(r"^  (\d+) g +(\S.*)$")


def grams_lines(text: str) -> list[int]:
    return [n for n, line in enumerate(text.split("\n")) if _GRAMS.match(line)]


@pytest.mark.parametrize("text", CARDS.values(), ids=CARDS)
def test_a_slab_does_not_differ_from_itself(text: str) -> None:
    made = against(text, text)

    assert made.same
    assert all(pair.before is pair.after for pair in made.pairs)


@given(st.sampled_from(sorted(CARDS)), st.data())
def test_every_changed_weight_is_found_and_nothing_else(
    name: str, data: st.DataObject
) -> None:
    lines = CARDS[name].split("\n")
    chosen = data.draw(
        st.lists(st.sampled_from(grams_lines(CARDS[name])), min_size=1, unique=True)
    )
    changes: dict[str, float] = {}
    for n in chosen:
        found = _GRAMS.match(lines[n])
        assert found is not None
        by = data.draw(st.sampled_from([-1, 1, 3, 0.5]))
        was = float(found[1])
        if was + by <= 0:
            by = 1
        lines[n] = f"  {was + by:g} g  {found[2]}"
        changes[f"{n}"] = by
    made = against(CARDS[name], "\n".join(lines))

    assert sorted(one.by_g for one in made.lines if one.by_g is not None) == (
        pytest.approx(sorted(changes.values()))
    )
    assert {one.what for one in made.lines} == {"changed"}
    assert made.said == ()


@given(st.sampled_from(sorted(CARDS)), st.data())
def test_a_line_that_goes_is_gone_and_one_that_comes_is_added(
    name: str, data: st.DataObject
) -> None:
    lines = CARDS[name].split("\n")
    n = data.draw(st.sampled_from(grams_lines(CARDS[name])))
    found = _GRAMS.match(lines[n])
    assert found is not None
    less = "\n".join(lines[:n] + lines[n + 1 :])

    gone, added = against(CARDS[name], less), against(less, CARDS[name])

    assert [(o.what, o.before_g, o.after_g) for o in gone.lines] == [
        ("gone", float(found[1]), None)
    ]
    assert [(o.what, o.before_g, o.after_g) for o in added.lines] == [
        ("added", None, float(found[1]))
    ]


@given(st.sampled_from(sorted(CARDS)), st.sampled_from(sorted(CARDS)))
def test_the_other_way_round_is_the_mirror(one: str, other: str) -> None:
    there, back = against(CARDS[one], CARDS[other]), against(CARDS[other], CARDS[one])

    turn = {"added": "gone", "gone": "added"}
    assert sorted(
        (turn.get(o.what, o.what), o.name, o.before_g, o.after_g) for o in there.lines
        if o.what in turn
    ) == sorted(
        (o.what, o.name, o.after_g, o.before_g) for o in back.lines if o.what in turn
    )  # fmt: skip
    assert {(m.where, m.name) for m in there.moved if m.where in {"slab", "cut"}} == {
        (m.where, m.name) for m in back.moved if m.where in {"slab", "cut"}
    }
    for m in there.moved:
        twin = next(
            (x for x in back.moved if (x.where, x.name) == (m.where, m.name)), None
        )
        if twin is not None and m.by is not None:
            assert twin.by == pytest.approx(-m.by)
    assert set(there.found) == set(back.settled)


def test_other_spelling_of_the_same_is_no_change() -> None:
    same = TIDES.replace("190 g   plain flour", "0.19 kg flour, plain")
    same = same.replace("220 g   lemon juice", "220g lemon juice")

    made = against(TIDES, same)

    assert made.lines == ()
    assert made.moved == ()


def test_a_line_that_moves_to_another_layer_is_seen_as_moved() -> None:
    less = TIDES.replace("  8 g     lemon zest\n", "").replace(
        "  280 g   blackcurrant", "  8 g     lemon zest\n  280 g   blackcurrant"
    )

    (moved,) = against(TIDES, less).lines

    assert (moved.what, moved.was_in, moved.where) == (
        "moved", "Baked lemon curd", "Blackcurrant jelly",
    )  # fmt: skip
    assert moved.by_g == 0


def test_the_same_name_twice_is_told_by_its_order() -> None:
    (first,) = against(TIDES, TIDES.replace("30 g    caster", "33 g    caster")).lines
    (second,) = against(TIDES, TIDES.replace("100 g   caster", "90 g   caster")).lines

    assert (first.before_g, first.after_g) == (30, 33)
    assert (second.before_g, second.after_g) == (100, 90)


def test_a_layer_under_a_new_name_is_the_same_layer() -> None:
    made = against(TIDES, TIDES.replace("layer Baked lemon curd", "layer Lemon set"))

    assert made.lines == ()
    assert [(p.before.name, p.after.name) for p in made.pairs if p.before and p.after][
        1
    ] == ("Baked lemon curd", "Lemon set")
    assert any(s.what == "name" and s.after == "Lemon set" for s in made.said)


def test_a_layer_that_comes_and_one_that_goes() -> None:
    more = TIDES.replace("finish", "layer Glaze\n  90 g  dark chocolate 60%\n\nfinish")
    came, went = against(TIDES, more), against(more, TIDES)

    assert [p.kind for p in came.pairs].count("added") == 1
    assert [p.kind for p in went.pairs].count("gone") == 1
    assert [o.name for o in came.lines] == ["dark chocolate 60%"]
    assert any(m.name == "height_mm" and m.by and m.by > 0 for m in came.moved)


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("tin 30 x 20 x 5 cm", "tin 30 x 22 x 5 cm", "tin"),
        ("cut 5 x 4, trim 5 mm", "cut 5 x 5, trim 5 mm", "cut"),
        ("5 mm, in shop frame", "5 mm, in development tin", "cut"),
        ("keep chilled, 3 days", "keep chilled, 2 days", "keep"),
        ("sold loose on the counter, 3.50", "sold loose on the counter, 3.60", "sold"),
        ("20-23 min, until gold", "22-24 min, until gold", "step"),
        ("  ends 451 g", "  ends 440 g", "loss"),
        ("  density 0.75 g/ml", "  density 0.80 g/ml", "density"),
        (
            "butter, unsalted, cold",
            "butter, unsalted, soft",
            "note on butter, unsalted",
        ),
        ("kind pressed biscuit", "kind sponge", "kind"),
        ("straight from 4 C", "straight from 5 C", "step"),
    ],
)
def test_what_the_card_says_otherwise_is_named(old: str, new: str, what: str) -> None:
    assert old in TIDES
    made = against(TIDES, TIDES.replace(old, new, 1))

    assert [one.what for one in made.said] == [what]
    assert (made.lines, made.taken) == ((), ())


def test_layers_in_another_order_are_named() -> None:
    head, *blocks = TIDES.split("\n\nlayer ")
    *layers, last = blocks
    tail = last.split("\n\nfinish")
    text = "\n\nlayer ".join([head, tail[0], *layers]) + "\n\nfinish" + tail[1]

    said = against(TIDES, text).said

    assert [one.what for one in said] == ["order of layers"]


def test_a_finding_that_comes_is_told_and_one_that_is_settled() -> None:
    low = TIDES.replace("30 x 20 x 5 cm", "30 x 20 x 3 cm")

    assert "over_rim" in {one.code for one in against(TIDES, low).found}
    assert "over_rim" in {one.code for one in against(low, TIDES).settled}


def test_what_moved_most_leads() -> None:
    made = against(TIDES, TIDES.replace("220 g   lemon", "260 g   lemon"))

    shares = [abs(m.share) for m in made.moved if m.share is not None]
    assert shares == sorted(shares, reverse=True)


def test_unknown_amounts_are_compared_as_written() -> None:
    card = "slab A\ntin 20 x 20 cm\nlayer B\n  1 jar of moonlight\n"

    assert against(card, card).same
    (one,) = against(card, card.replace("1 jar", "2 jars")).lines
    assert one.by_g is None


def test_an_amount_by_count_is_told_as_it_was_said() -> None:
    (one,) = against(TIDES, TIDES.replace("yolks = 90 g", "yolks = 100 g")).lines
    (other,) = against(TIDES, TIDES.replace("120 g   butter", "130 g   butter")).lines

    assert (one.said_before, one.said_after) == ("5 = 90 g", "5 = 100 g")
    assert (other.said_before, other.said_after) == ("", "")


def test_what_a_component_changes_is_told_once() -> None:
    more = WITH_COMPONENTS.replace("250 g   dark", "270 g   dark")

    assert [(o.where, o.by_g) for o in against(WITH_COMPONENTS, more).lines] == [
        ("Dark ganache", 20)
    ]


def test_half_a_batch_that_weighs_more_is_no_edit_of_its_line() -> None:
    text = WITH_COMPONENTS.replace(
        "  5 g     smoked", "  0.1 batch Spare ganache\n  5 g     smoked"
    )
    more = text.replace("260 g   dark", "280 g   dark")

    assert [o.where for o in against(text, more).lines] == ["Spare ganache"]


def test_another_kitchen_weighs_eggs_otherwise_though_the_card_says_the_same() -> None:
    text = TIDES.replace("eggs, medium = 300 g", "eggs")
    read = HOME.read(Text(text))
    habits = replace(ORDER.book.habits, eggs="large")
    other = work_out(read.card, replace(ORDER, book=replace(ORDER.book, habits=habits)))
    made = compare(worked(text), other)

    assert [(o.what, o.name) for o in made.lines] == [("changed", "eggs")]
    assert made.said == ()


def test_a_kind_that_nobody_says_is_told_apart_from_what_the_card_says() -> None:
    text = TIDES.replace("  kind pressed biscuit\n", "")
    made = against(
        text, text.replace("layer Lemon semolina shortbread", "layer Sponge")
    )

    assert [(s.what, s.before, s.after) for s in made.taken] == [
        ("kind", "pressed biscuit", "sponge")
    ]
    assert [s.what for s in made.said] == ["name"]


def test_a_new_name_brings_no_findings_and_settles_none() -> None:
    low = TIDES.replace("30 x 20 x 5 cm", "30 x 20 x 3 cm")
    named = low.replace("layer Blackcurrant jelly", "layer Jelly")
    made = against(low, named.replace("slab Two Tides", "slab Tides"))

    assert worked(low).findings
    assert (made.found, made.settled) == ((), ())


def test_a_finding_with_another_number_is_neither_new_nor_settled() -> None:
    low, lower = (TIDES.replace("20 x 5 cm", f"20 x {n} cm") for n in (3, 2.9))
    made = against(low, lower)

    assert "over_rim" in {one.code for one in made.after.findings}
    assert "over_rim" not in {one.code for one in (*made.found, *made.settled)}


def test_a_line_that_could_not_be_read_is_named_with_its_number() -> None:
    odd = TIDES.replace("220 g   lemon juice", "220 qq  lemon juice")
    came, went = against(TIDES, odd), against(odd, TIDES)
    at = odd.split("\n").index("  220 qq  lemon juice") + 1

    assert [(u.before, u.after) for u in came.unread] == [(None, at)]
    assert [(u.before, u.after) for u in went.unread] == [(at, None)]
    assert "qq" in came.unread[0].what
    assert not came.same


def test_a_line_that_could_not_be_read_differs_though_nothing_else_does() -> None:
    odd = TIDES.replace("keep chilled", "cut into seashells\nkeep chilled")
    made = against(TIDES, odd)

    assert (made.said, made.lines, len(made.unread)) == ((), (), 1)
    assert not made.same


def test_two_cards_with_the_same_odd_line_are_the_same_as_far_as_they_were_read() -> (
    None
):
    odd = TIDES.replace("220 g   lemon juice", "220 qq  lemon juice")
    made = against(odd, odd.replace("slab Two Tides\n", "slab Two Tides\n\n"))

    assert [u.after - u.before for u in made.unread if u.before and u.after] == [1]
    assert made.same


def test_two_layers_of_one_name_are_told_by_what_is_in_them() -> None:
    more = TIDES.replace(
        "layer Blackcurrant jelly",
        "layer Blackcurrant jelly\n  90 g dark chocolate 60%\n\n"
        "layer Blackcurrant jelly",
    )

    assert [(o.what, o.name) for o in against(more, TIDES).lines] == [
        ("gone", "dark chocolate 60%")
    ]


def test_layers_swapped_and_renamed_are_in_another_order_too() -> None:
    head, *blocks = WITH_COMPONENTS.split("\n\nlayer ")
    blocks[0], blocks[1] = blocks[1], blocks[0].replace("Lemon semo", "Semo")
    said = against(WITH_COMPONENTS, "\n\nlayer ".join([head, *blocks])).said

    assert [one.what for one in said] == ["order of layers", "name"]


def test_a_line_in_another_place_is_told_by_what_stands_before_it() -> None:
    text = TIDES.replace("  8 g     lemon zest\n", "").replace(
        "  heat to 60 C\n", "  heat to 60 C\n  8 g     lemon zest\n"
    )
    (one,) = against(TIDES, text).said

    assert (one.where, one.what) == ("Baked lemon curd", "place of lemon zest")
    assert (one.before, one.after) == ("after lemon juice", "after heat to 60 C")


def test_a_second_measure_counts_where_it_says_something_else() -> None:
    text = TIDES.replace("120 g   butter", "120 g/4 oz butter")

    assert against(TIDES, text.replace("4 oz", "4¼ oz")).same
    (one,) = against(TIDES, text.replace("4 oz", "9 oz")).said
    assert one.what == "amount of butter, unsalted"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("1 tbsp whole milk", "1 tablespoon of whole milk"),
        ("1 tbsp honey", "1 tablespoon of honey"),
        ("6 eggs, med", "6 medium eggs"),
        ("1½ lemons", "1 1/2 lemons"),
        ("0.5 l whole milk", "500 ml whole milk"),
    ],
)
def test_other_words_for_one_amount_are_no_change(old: str, new: str) -> None:
    before, after = (f"slab A\nlayer B\n  {text}\n" for text in (old, new))

    assert against(before, after).same


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("6 eggs, medium", "6 eggs, large", "lines"),
        ("1 tsp fine salt", "1 heaped tsp fine salt", "lines"),
        ("300 g eggs", "6 eggs = 300 g", "said"),
        ("300 g eggs", "300 g eggs = 300 g", "said"),
        ("6 eggs = 300 g", "6 eggs = 300 g, weighed", "said"),
        ("1 tsp salt = 6 g", "1 heaped tsp salt = 6 g", "said"),
        ("butter for greasing", "butter to serve", "lines"),
        ("20 g butter", "20 g butter for greasing", "lines"),
    ],
)
def test_another_amount_is_told_once(old: str, new: str, what: str) -> None:
    before, after = (
        f"slab A\nlayer B\n  90 g sugar\n  {text}\n" for text in (old, new)
    )
    made = against(before, after)

    assert (len(made.lines), len(made.said)) == ((1, 0) if what == "lines" else (0, 1))


@pytest.mark.parametrize(("goes", "stays"), [(30, 100), (100, 30)])
def test_of_two_lines_of_one_name_the_one_that_went_is_gone(
    goes: int, stays: int
) -> None:
    card = "slab A\nlayer B\n  5 g {}\n{}  7 g {}\n"
    two = "  30 g caster sugar\n  100 g caster sugar\n"
    one = f"  {stays} g caster sugar\n"
    made = against(
        card.format("fine salt", two, "cocoa butter"),
        card.format("plain flour", one, "whole milk"),
    )

    assert [(o.what, o.before_g) for o in made.lines if o.name == "caster sugar"] == [
        ("gone", goes)
    ]


def test_a_card_of_a_component_is_no_slab() -> None:
    slab = "slab A\ncomponent A\n  30 g caster sugar\n"
    made = against(slab, slab.replace("slab A\n", ""))

    assert [(s.what, s.before, s.after) for s in made.said] == [
        ("card", "slab", "component")
    ]


def test_a_line_says_otherwise_in_the_layer_that_it_moved_to() -> None:
    less = TIDES.replace("  8 g     lemon zest\n", "").replace(
        "  280 g   blackcurrant",
        "  8 g     lemon zest, chopped\n  280 g   blackcurrant",
    )
    made = against(TIDES, less)

    assert [one.what for one in made.lines] == ["moved"]
    assert [(s.where, s.what, s.after) for s in made.said] == [
        ("Blackcurrant jelly", "note on lemon zest", "chopped")
    ]


def test_a_component_in_a_file_of_its_own_is_no_line_of_the_card() -> None:
    book = ORDER.book.with_components(worked(WITH_COMPONENTS).card.components)
    card = HOME.read(Text(WITH_COMPONENTS)).card
    first, second = (
        work_out(
            replace(
                card,
                layers=(replace(card.layers[-1], from_name=name),),
                components=(),
            ),
            replace(ORDER, book=book),
        )
        for name in ("Dark ganache", "Spare ganache")
    )
    made = compare(first, second)

    assert [s.what for s in made.said] == ["made from"]
    assert made.lines == ()
