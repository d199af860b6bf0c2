"""Dates on a label: counted by hand, by the calendar, and by the reference rows."""

from calendar import monthrange
from collections.abc import Callable, Mapping
from datetime import date, timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.label.reference import reference

from slabwright.errors import FileError
from slabwright.label.date_rules import chill_of, chills, forms
from slabwright.label.dates import (
    LAST_DAY,
    DateMark,
    Freezer,
    after_freezing,
    counted_words,
    date_mark,
    frozen_words,
    in_full,
    insist_on_order,
    last_day,
    lot_words,
    months_after,
)
from slabwright.label.particulars import table

MADE = date(2026, 11, 26)
DAYS = st.dates(date(1990, 1, 1), date(2100, 1, 1))


def mark(day: date, kind: str = "best before", made: date = MADE) -> DateMark:
    return date_mark(kind, made, day, "")


@pytest.mark.parametrize(
    ("days", "counts", "last"),
    [
        # counted on a wall calendar
        (1, True, date(2026, 11, 26)),
        (3, True, date(2026, 11, 28)),
        (3, False, date(2026, 11, 29)),
        (0, False, date(2026, 11, 26)),
        (5, True, date(2026, 11, 30)),
        (6, True, date(2026, 12, 1)),
        (36, False, date(2027, 1, 1)),
    ],
)
def test_days_are_counted_as_the_card_says(days: int, counts: bool, last: date) -> None:
    assert last_day(MADE, days=days, counts_bake_day=counts) == last


@pytest.mark.parametrize(
    ("made", "months", "last"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2027, 2, 28), 12, date(2028, 2, 28)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2026, 12, 15), 1, date(2027, 1, 15)),
        (date(9999, 12, 1), 1, LAST_DAY),
    ],
)
def test_months_end_on_the_same_day_or_the_last(
    made: date, months: int, last: date
) -> None:
    assert months_after(made, months) == last


@given(DAYS, st.integers(0, 600))
def test_a_month_on_is_that_month(day: date, months: int) -> None:
    later = months_after(day, months)

    assert (later.year - day.year) * 12 + later.month - day.month == months
    assert later.day == min(day.day, monthrange(later.year, later.month)[1])


@given(DAYS, st.integers(1, 3660), st.integers(0, 100), st.booleans())
def test_a_longer_keep_never_gives_an_earlier_date(
    made: date, days: int, more: int, counts: bool
) -> None:
    one = last_day(made, days=days, counts_bake_day=counts)
    other = last_day(made, days=days + more, counts_bake_day=counts)

    assert (other - one).days == more
    assert one >= made


@given(DAYS, st.integers(1, 120), st.integers(0, 24), st.booleans())
def test_more_months_never_give_an_earlier_date(
    made: date, months: int, more: int, counts: bool
) -> None:
    one = last_day(made, months=months, counts_bake_day=counts)

    assert last_day(made, months=months + more, counts_bake_day=counts) >= one
    assert last_day(made, months=months, counts_bake_day=True) < last_day(
        made, months=months, counts_bake_day=False
    )


@pytest.mark.parametrize("days", [10**7, 10**9, 10**12])
def test_the_calendar_ends_without_a_fall(days: int) -> None:
    assert last_day(MADE, days=days, counts_bake_day=False) == LAST_DAY


# --- freezing --------------------


def test_freezing_as_told_by_hand() -> None:
    # made on the 26th, until the 28th; frozen on the 27th: one day is left, and the
    # day of thawing is that day
    freezer = Freezer(date(2026, 11, 27), date(2026, 12, 10))
    day = after_freezing(MADE, date(2026, 11, 28), freezer)

    assert day == date(2026, 12, 10)
    words = frozen_words(MADE, date(2026, 11, 28), freezer)
    assert "with one day left" in words
    assert "never restarts" in words


def test_frozen_on_the_bake_day_it_has_one_day_less() -> None:
    freezer = Freezer(MADE, date(2026, 12, 10))

    assert after_freezing(MADE, date(2026, 11, 28), freezer) == date(2026, 12, 11)


@given(DAYS, st.integers(0, 400), st.integers(0, 400), st.integers(0, 400))
def test_freezing_never_gives_more_days_than_were_left(
    made: date, keeps: int, until_frozen: int, in_freezer: int
) -> None:
    assume(until_frozen < keeps)
    day, frozen = made + timedelta(keeps), made + timedelta(until_frozen)
    freezer = Freezer(frozen, frozen + timedelta(in_freezer))
    later = after_freezing(made, day, freezer)

    left, out = (day - frozen).days, (later - freezer.thawed).days + 1
    assert day <= later  # nothing is lost that the freezer held back
    assert later - day <= timedelta(in_freezer)
    if in_freezer:
        assert out == left  # days out of it, the day of thawing being the first


@given(DAYS, st.integers(1, 400), st.integers(0, 399), st.integers(0, 399))
def test_frozen_later_it_never_keeps_longer(
    made: date, keeps: int, one: int, other: int
) -> None:
    assume(one <= other < keeps)
    day, thawed = made + timedelta(keeps), made + timedelta(500)
    dates = [
        after_freezing(made, day, Freezer(made + timedelta(n), thawed))
        for n in (one, other)
    ]

    assert dates[0] >= dates[1]


@pytest.mark.parametrize(
    ("frozen", "thawed", "says", "field"),
    [
        (date(2026, 11, 25), date(2026, 12, 1), "before it was made", "frozen"),
        (date(2026, 11, 27), date(2026, 11, 26), "before it was frozen", "thawed"),
        (date(2026, 11, 29), date(2026, 12, 1), "was over", "frozen"),
        (date(2026, 11, 28), date(2026, 12, 1), "No day was left", "frozen"),
    ],
)
def test_days_of_freezing_that_cannot_be(
    frozen: date, thawed: date, says: str, field: str
) -> None:
    with pytest.raises(FileError, match=says) as caught:
        after_freezing(MADE, date(2026, 11, 28), Freezer(frozen, thawed))

    assert caught.value.mistakes[0].where.field == field


def test_in_and_out_on_one_day_changes_nothing() -> None:
    day = date(2026, 11, 28)

    for frozen in (MADE, day):
        assert after_freezing(MADE, day, Freezer(frozen, frozen)) == day


def test_days_are_in_order_though_the_bake_day_is_not_known() -> None:
    insist_on_order(None, Freezer(MADE, MADE))
    with pytest.raises(FileError, match="before it was frozen"):
        insist_on_order(None, Freezer(MADE, MADE - timedelta(1)))


def test_thawed_at_the_end_of_the_calendar() -> None:
    freezer = Freezer(MADE, LAST_DAY)

    assert after_freezing(MADE, MADE + timedelta(9), freezer) == LAST_DAY


# --- words --------------------


@pytest.mark.parametrize(
    ("days", "months", "counts", "says"),
    [
        (1, 0, True, "One day, the bake day, 26 November 2026, being the first."),
        (3, 0, False, "Three days after the bake day, 26 November 2026, which is not"),
        (0, 2, False, "Two months after the bake day"),
        (40, 0, True, "40 days, the bake day"),
        (0, 1, True, "One month, the bake day"),
    ],
)
def test_how_days_are_counted_is_told(
    days: int, months: int, counts: bool, says: str
) -> None:
    day = last_day(MADE, days=days, months=months, counts_bake_day=counts)
    words = counted_words(
        days=days, months=months, counts_bake_day=counts, made=MADE, day=day
    )

    assert words.startswith(says)


@given(DAYS, st.integers(0, 4000), st.sampled_from(["best before", "use by"]))
def test_the_shortest_form_never_promises_a_day_more(
    made: date, keeps: int, kind: str
) -> None:
    day = made + timedelta(keeps)
    one = date_mark(kind, made, day, "")
    *_, last = one.least.split()

    assert one.least.startswith(kind.capitalize())
    assert one.words == f"{kind.capitalize()}: {in_full(day)}"
    if one.rule.ends_of == "year":
        assert date(int(last), 12, 31) <= day < date(int(last) + 1, 12, 31)
    elif one.rule.ends_of == "month":
        assert str(day.year) == last or day.month == 1
    else:
        assert f"{day.day} " in one.least


# --- the reference rows --------------------


def up_to_three_months() -> None:
    for day in (MADE, date(2026, 12, 31), date(2027, 2, 26)):
        assert mark(day).rule.id == "DATE-01"
    assert mark(date(2027, 2, 26)).least == "Best before 26 February"


def up_to_eighteen_months() -> None:
    assert mark(date(2027, 2, 27)).least == "Best before end January 2027"
    assert mark(date(2027, 2, 28)).least == "Best before end February 2027"
    assert mark(date(2028, 5, 26)).rule.id == "DATE-02"


def longer() -> None:
    assert mark(date(2028, 5, 27)).least == "Best before end 2027"
    assert mark(date(2028, 12, 31)).least == "Best before end 2028"


def day_month_year() -> None:
    assert mark(date(2026, 12, 5)).words == "Best before: 5 December 2026"


def use_by_to_the_day() -> None:
    for day in (MADE, date(2029, 1, 1)):
        one = mark(day, "use by")
        assert (one.rule.id, one.rule.ends_of) == ("DATE-05", "day")
    assert mark(date(2026, 11, 28), "use by").least == "Use by 28 November"


def storage_is_a_particular() -> None:
    assert {r.rule for r in table() if r.particular == "storage"} >= {"PRE-16"}
    assert all("keeps_anywhere" in r.unless or r.need.value == "may"
               for r in table() if r.particular == "storage")  # fmt: skip


def eaten_within_a_day() -> None:
    for row in table():
        if row.particular == "date" and row.need.value != "may":
            assert "eaten_within_24_h" in row.unless


def named_defrosted() -> None:
    rows = [row for row in table() if row.particular == "defrosted"]

    assert len(rows) == 5
    assert all(row.unless == ("never_frozen", "unharmed_by_thawing") for row in rows)


BY_ROW: Mapping[str, Callable[[], None] | str] = {
    "DATE-01": up_to_three_months,
    "DATE-02": up_to_eighteen_months,
    "DATE-03": longer,
    "DATE-04": day_month_year,
    "DATE-05": use_by_to_the_day,
    "DATE-06": "tests/spec/test_label.py: pieces wrapped one by one",
    "DATE-07": storage_is_a_particular,
    "DATE-08": eaten_within_a_day,
    "DATE-09": "tests/spec/test_label.py: a use by that is over",
    "DATE-10": "tests/label/test_ways.py: PPDS-07",
    "DATE-11": named_defrosted,
    "DATE-13": "no date is ever proposed: which, and how long, is the shop's decision",
}


@pytest.mark.parametrize("row", reference("date_marks.csv"), ids=lambda row: row["id"])
def test_a_row_of_the_reference(row: Mapping[str, str]) -> None:
    tried = BY_ROW[row["id"]]

    if callable(tried):
        tried()
    else:
        assert tried
    for form in forms():
        if form.id == row["id"]:
            assert form.found == row["found"]


def test_a_date_to_the_day_serves_as_the_lot() -> None:
    # GS1-11: L before the lot, unless a date to the day stands on it
    assert lot_words(mark(date(2026, 11, 28)), MADE) == (
        "the date serves: 28 November 2026"
    )
    assert lot_words(None, date(2026, 1, 5)) == "L 20260105"


@pytest.mark.parametrize(
    "row", reference("hygiene_temperatures.csv"), ids=lambda row: row["id"]
)
def test_how_cold_chilled_food_is_held(row: Mapping[str, str]) -> None:
    for nation in ("England", "Wales", "Northern Ireland"):
        (rule,) = chill_of(nation)
        assert (rule.id, rule.most_C) == (row["id"], float(row["value"]))
        assert rule.found == row["found"]
        assert f"{rule.most_C:g} °C" in rule.words
    (scotland,) = chill_of("Scotland")
    assert scotland.most_C is None
    assert [one.most_C for one in chill_of("United Kingdom")] == [8, None]
    assert [one.most_C for one in chill_of("EU")] == [None]
    assert len(chills()) == 3
