"""Two versions of a slab: every edit is found, and nothing else is."""

import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.spec.compare import Comparison, compare
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

DEMO = Path(__file__).parents[2] / "demo"
HOME = open_folder(DEMO)
ORDER = Order(HOME.kitchen, HOME.book)
CARDS = {
    path.stem: path.read_text("utf-8")
    for path in sorted((DEMO / "slabs").glob("*.card"))
}
_GRAMS = re.compile(r"^  (\d+) g +(\S.*)$")


@cache
def worked(text: str) -> Specification:
    read = HOME.read(Text(text))
    return work_out(read.card, ORDER, read.mistakes)


def against(before: str, after: str) -> Comparison:
    return compare(worked(before), worked(after))


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


TIDES = CARDS["two-tides"]


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
    assert made.lines == ()


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
