"""What must be shown: the table itself, and how each thing stands."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.label.particulars import (
    ACTS,
    NAMES,
    NATIONS,
    UNITED_KINGDOM,
    UNLESS,
    Facts,
    Need,
    Standing,
    Stated,
    begins,
    particulars,
    rows_of,
    table,
)
from slabwright.label.ways import Selling
from slabwright.source import Seen

DAY = date(2026, 11, 25)
WAYS = list(Selling)
EVERYTHING = {name: Stated(f"the {name}") for name in NAMES}


def standings(
    way: Selling, facts: Facts, nation: str = UNITED_KINGDOM
) -> Mapping[str, Standing]:
    return {one.name: one.standing for one in particulars(way, nation, DAY, facts)}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("nation", NATIONS)
def test_every_way_and_nation_asks_for_name_and_allergens_once(
    way: Selling, nation: str
) -> None:
    names = [row.particular for row in rows_of(way, nation, DAY)]

    assert len(names) == len(set(names))
    assert {"name", "allergens"} <= set(names)
    assert names == sorted(names, key=list(NAMES).index)


def test_every_row_says_its_law_and_how_it_is_known() -> None:
    ids = [row.id for row in table()]

    assert len(ids) == len(set(ids))
    for row in table():
        assert row.article
        assert row.why
        assert row.found in {"stored official", "stored secondary", "from memory"}
        if row.source.seen is Seen.MEMORY:
            assert row.found == "from memory", row.id
        assert (row.need is Need.UNLESS) is bool(row.unless), row.id
        assert set(row.nations) <= set(NATIONS) - {UNITED_KINGDOM}


def test_every_exception_lifts_something() -> None:
    used = {one for row in table() for one in row.unless}

    assert used == set(UNLESS)


@pytest.mark.parametrize("way", WAYS)
def test_the_united_kingdom_asks_what_all_four_ask(way: Selling) -> None:
    four = [
        {row.id for row in rows_of(way, nation, DAY)}
        for nation in ("England", "Wales", "Scotland", "Northern Ireland")
    ]

    assert {row.id for row in rows_of(way, UNITED_KINGDOM, DAY)} == set.intersection(
        *four
    )


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("nation", NATIONS)
def test_nothing_that_must_be_shown_is_passed_over(way: Selling, nation: str) -> None:
    found = standings(way, Facts(), nation)

    for row in rows_of(way, nation, DAY):
        if row.need is Need.MAY:
            assert found[row.particular] is Standing.NOT_ASKED
        elif row.particular in ACTS:
            assert found[row.particular] is Standing.YOURS
        else:
            assert found[row.particular] is Standing.MISSING


@pytest.mark.parametrize("way", WAYS)
def test_what_is_there_is_there_and_what_is_held_is_held(way: Selling) -> None:
    there = standings(way, Facts(EVERYTHING))
    held = standings(way, Facts({n: Stated("x", "a question") for n in NAMES}))

    for name, standing in there.items():
        assert standing is (Standing.YOURS if name in ACTS else Standing.THERE)
        assert held[name] in {Standing.HELD, Standing.YOURS, Standing.NOT_ASKED}
        assert (held[name] is Standing.YOURS) is (name in ACTS)


@pytest.mark.parametrize("way", WAYS)
def test_half_a_declaration_that_nobody_asks_for_is_none(way: Selling) -> None:
    facts = Facts({name: Stated("x", "a question") for name in NAMES})
    for one in particulars(way, UNITED_KINGDOM, DAY, facts):
        is_left = one.name == "nutrition" and one.need is Need.MAY
        if one.name not in ACTS:
            expected = Standing.NOT_ASKED if is_left else Standing.HELD
            assert one.standing is expected, one.name


@given(
    st.sampled_from(WAYS),
    st.sampled_from(NATIONS),
    st.frozensets(st.sampled_from(sorted(UNLESS))),
)
def test_only_its_own_exception_lifts_a_need(
    way: Selling, nation: str, lifted: frozenset[str]
) -> None:
    facts = Facts(lifted=dict.fromkeys(lifted, True))
    for one in particulars(way, nation, DAY, facts):
        is_lifted = one.need is Need.MAY or bool(lifted & set(one.row.unless))
        assert (one.standing is Standing.NOT_ASKED) is is_lifted
        if one.need is Need.UNLESS and is_lifted:
            assert "; here: " in one.why


def test_what_one_of_the_four_asks_is_not_asked_of_them_all() -> None:
    row = replace(table()[0], nations=("Scotland", "EU"))

    assert [nation for nation in NATIONS if row.holds_in(nation)] == ["Scotland", "EU"]
    four = replace(row, nations=("England", "Wales", "Scotland", "Northern Ireland"))
    assert four.holds_in(UNITED_KINGDOM)


def test_what_is_not_known_to_be_lifted_stands() -> None:
    facts = Facts(lifted=dict.fromkeys(UNLESS, False))

    assert standings(Selling.FOR_A_SHOP, facts)["nutrition"] is Standing.MISSING


def test_why_names_every_way_out_once() -> None:
    (one,) = [
        p
        for p in particulars(Selling.FOR_A_SHOP, "EU", DAY, Facts())
        if p.name == "nutrition"
    ]

    assert one.why.count("unless") == 1
    assert "or to a local shop, or its largest surface is under 25 cm²" in one.why
    assert one.law == "Articles 9(1)(l), 30, Annex V 18 and 19 (stored secondary)"


def test_what_to_do_is_told_only_of_what_is_open() -> None:
    facts = Facts({"name": Stated("Slice")}, do=dict.fromkeys(NAMES, "Do it."))
    for one in particulars(Selling.FOR_A_SHOP, "EU", DAY, facts):
        is_open = one.standing in {Standing.MISSING, Standing.YOURS}
        assert one.do == ("Do it." if is_open else "")


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("nation", NATIONS)
def test_before_its_table_begins_nothing_is_claimed(way: Selling, nation: str) -> None:
    first = begins(way, nation)
    is_here = way is Selling.PACKED_HERE and nation != "EU"

    assert first == (date(2021, 10, 1) if is_here else date(2014, 12, 13))


def test_packed_once_ordered_and_posted_keeps_its_allergens() -> None:
    asked = standings(
        Selling.POSTED, Facts(lifted={"packed_to_order": True}), "England"
    )
    left = {name for name, standing in asked.items() if standing != "not asked"}

    assert left == {
        "name", "defrosted", "allergens", "allergens_before", "allergens_on_arrival",
    }  # fmt: skip


def test_a_tray_for_a_caterer_shows_four_things_outside() -> None:
    # Article 8(7): name, date, storage and business on the outer packaging
    outside = {
        row.particular
        for row in rows_of(Selling.TRAY, "EU", DAY)
        if "outer packaging" in row.why
    }

    assert outside == {"name", "date", "storage", "business"}
