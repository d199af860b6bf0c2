"""Every edit of a card is reported at its place, and nothing else is."""

from collections import Counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from slabwright.spec.compare import Comparison
from tests.spec.compare_cards import BASES, Sheet, against
from tests.spec.compare_edits import ANY, EDITORS, Claim
from tests.spec.compare_spellings import SPELLINGS, Spelling, places, written

SHEETS = {name: Sheet(text) for name, text in BASES.items()}
FEW = settings(max_examples=max(8, settings().max_examples // 12))
"""For a test that is there once for every kind of edit."""
SHEET = st.sampled_from(sorted(SHEETS)).map(SHEETS.__getitem__)
BACK = {"added": "gone", "gone": "added"}


def holds(made: Comparison, claim: Claim) -> None:
    """The comparison reports what was done, and nothing else."""
    left = list(claim.said)
    for one in made.said:
        what = "place" if one.what.startswith("place of ") else one.what
        found = (one.where, what, one.before, one.after)
        fits = [
            said for said in left
            if all(b in {a, ANY} for a, b in zip(found, said, strict=True))
        ]  # fmt: skip
        assert fits, f"{found} is none of {left}"
        left.remove(fits[0])
    assert not left
    assert Counter(
        (o.what, o.where, o.name, o.before_g, o.after_g) for o in made.lines
    ) == Counter(claim.lines)
    unread = [one for one in made.unread if "is no unit" in one.what]
    assert len(unread) == claim.unread  # others follow: more ends than there is
    assert not made.same


def turned(claim: Claim) -> Claim:
    """What the edit taken back must report."""
    return Claim(
        tuple((where, what, b, a) for where, what, a, b in claim.said),
        tuple(
            (BACK.get(what, what), where, name, b, a)
            for what, where, name, a, b in claim.lines
        ),
        claim.unread,
    )


@pytest.mark.parametrize("kind", EDITORS)
@FEW
@given(SHEET, st.data())
def test_an_edit_is_reported_at_its_place_and_nothing_else(
    kind: str, sheet: Sheet, data: st.DataObject
) -> None:
    edit = EDITORS[kind](sheet, data)
    assume(edit is not None)
    assert edit is not None

    holds(against(sheet.text, "\n".join(edit.lines)), edit.claim)


_STAYS = [kind for kind in EDITORS if kind not in {"name", "layer_name",
          "line_to_another_layer"}]  # fmt: skip


@pytest.mark.parametrize("kind", _STAYS)
@FEW
@given(SHEET, st.data())
def test_an_edit_taken_back_is_reported_the_other_way_round(
    kind: str, sheet: Sheet, data: st.DataObject
) -> None:
    edit = EDITORS[kind](sheet, data)
    assume(edit is not None)
    assert edit is not None

    holds(against("\n".join(edit.lines), sheet.text), turned(edit.claim))


@pytest.mark.parametrize("spelling", SPELLINGS, ids=lambda one: one[0])
@FEW
@given(SHEET, st.data())
def test_another_spelling_says_and_comes_to_the_same(
    spelling: Spelling, sheet: Sheet, data: st.DataObject
) -> None:
    able = places(sheet, spelling)
    assume(able)
    chosen = data.draw(st.sets(st.sampled_from(able), min_size=1))
    lines = [
        written(text, spelling) if n in chosen else text
        for n, text in enumerate(sheet.lines)
    ]
    made = against(sheet.text, "\n".join(lines))

    assert "\n".join(lines) != sheet.text
    assert (made.said, made.lines, made.taken, made.moved) == ((), (), (), ())
    assert (made.found, made.settled, made.unread) == ((), (), ())
    assert made.same


@given(SHEET, st.data())
def test_several_edits_at_once_are_all_reported(
    sheet: Sheet, data: st.DataObject
) -> None:
    lines, unread = list(sheet.lines), 0
    said: list[tuple[str, str, str, str]] = []
    changed: list[tuple[str, str, str, float | None, float | None]] = []
    touched: set[int] = set()
    for kind in data.draw(st.lists(st.sampled_from(sorted(EDITORS)), min_size=2)):
        edit = EDITORS[kind](sheet, data)
        if edit is None or not edit.touched or touched & edit.touched:
            continue
        (n,) = edit.touched
        touched.add(n)
        lines[n] = edit.lines[n]
        said += edit.claim.said
        changed += edit.claim.lines
        unread += edit.claim.unread
    assume(len(touched) > 1)

    holds(
        against(sheet.text, "\n".join(lines)),
        Claim(tuple(said), tuple(changed), unread),
    )
