"""The date on a label: counted from the bake day, worded as the law asks, never chosen.

Which date, and how long, is the shop's own decision. Freezing stops the count of days
and never restarts it.
"""

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.label.date_rules import Form, forms

_MONTHS: Final = (
    "January February March April May June July August September October November "
    "December"
).split()
_NUMBERS: Final = (
    "no one two three four five six seven eight nine ten eleven twelve".split()
)
LAST_DAY: Final = date(9999, 12, 31)


@dataclass(frozen=True, slots=True)
class Freezer:
    """When a slab went into the freezer and came out of it to thaw."""

    frozen: date
    thawed: date


@dataclass(frozen=True, slots=True)
class DateMark:
    """A date as a label shows it."""

    kind: str
    """`best before` or `use by`."""
    day: date
    """The last day that counts: a use by ends at its midnight."""
    counted: str
    """How its days were counted, in words."""
    least: str
    """The shortest form that the law takes."""
    rule: Form
    """What says that this form is enough."""

    @property
    def words(self) -> str:
        """In full, uncoded: day, month, year."""
        return f"{self.kind.capitalize()}: {in_full(self.day)}"


def in_full(day: date) -> str:
    """A day in full.

    >>> in_full(date(2026, 11, 5))
    '5 November 2026'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def months_after(day: date, months: int) -> date:
    """The same day so many months on, or the last of a month that is too short.

    >>> months_after(date(2026, 11, 30), 3)
    datetime.date(2027, 2, 28)
    """
    index = day.year * 12 + day.month - 1 + months
    year, month = divmod(index, 12)
    if year > LAST_DAY.year:
        return LAST_DAY
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def last_day(
    made: date, *, days: int = 0, months: int = 0, counts_bake_day: bool
) -> date:
    """The last day of a slab made on this day.

    Args:
        made: the bake day.
        days: how many days it has; 0 if it has months.
        months: calendar months in place of days.
        counts_bake_day: whether the bake day is the first of them.
    """
    off = timedelta(days=1 if counts_bake_day else 0)
    if months:
        return months_after(made, months) - off
    return _later(made, days) - off


def date_mark(kind: str, made: date, day: date, counted: str) -> DateMark:
    """This date, and the shortest form that the law takes for so long a time.

    Args:
        kind: `best before` or `use by`.
        made: the bake day.
        day: the last day.
        counted: how its days were counted, in words.
    """
    form = next(
        one
        for one in forms()
        if one.kind == kind
        and (one.up_to_months is None or day <= months_after(made, one.up_to_months))
    )
    least = f"{kind.capitalize()} {_ending(day, form.ends_of)}"
    return DateMark(kind, day, counted, least, form)


def _ending(day: date, of: str) -> str:
    """The last end of a day, month or year that is not later than this day."""
    if of == "day":
        return f"{day.day} {_MONTHS[day.month - 1]}"
    if of == "month":
        is_last = day.day == monthrange(day.year, day.month)[1]
        end = day if is_last else day.replace(day=1) - timedelta(days=1)
        return f"end {_MONTHS[end.month - 1]} {end.year}"
    is_last = (day.month, day.day) == (12, 31)
    return f"end {day.year if is_last else day.year - 1}"


def after_freezing(made: date, day: date, freezer: Freezer) -> date:
    """The last day of what was frozen meanwhile; the count goes on, it never restarts.

    The day of freezing is one of its days, used up; so is the day of thawing. That is
    the stricter way to count.

    Args:
        made: the bake day.
        day: the last day that it would have had unfrozen.
        freezer: when it was frozen and thawed.

    Raises:
        FileError: for days out of order, or if no day was left when it was frozen.
    """
    insist_on_order(made, freezer)
    frozen, thawed = freezer.frozen, freezer.thawed
    if frozen > day:
        raise _refused(
            f"Its date, {in_full(day)}, was over when it was frozen.",
            "Freezing never restarts a date: it can't be sold from the freezer.",
            "frozen",
        )
    if thawed == frozen:
        return day
    left = (day - frozen).days
    if left == 0:
        raise _refused(
            f"No day was left on {in_full(frozen)}: it was the last one.",
            "Freezing never restarts a date. Freeze a slab earlier.",
            "frozen",
        )
    return _later(thawed, left - 1)


def insist_on_order(made: date | None, freezer: Freezer) -> None:
    """See that it was made, then frozen, then thawed.

    Args:
        made: the bake day; None if it isn't known.
        freezer: when it was frozen and thawed.

    Raises:
        FileError: for days out of order.
    """
    frozen, thawed = freezer.frozen, freezer.thawed
    if made is not None and frozen < made:
        raise _refused(
            f"It was frozen on {in_full(frozen)}, before it was made.",
            f"Give the day on or after {in_full(made)}.",
            "frozen",
        )
    if thawed < frozen:
        raise _refused(
            f"It was thawed on {in_full(thawed)}, before it was frozen.",
            f"Give the day on or after {in_full(frozen)}.",
            "thawed",
        )


def counted_words(
    *, days: int, months: int, counts_bake_day: bool, made: date, day: date
) -> str:
    """How its days are counted, in words.

    >>> counted_words(days=3, months=0, counts_bake_day=True,
    ...     made=date(2026, 11, 26), day=date(2026, 11, 28))
    'Three days, the bake day, 26 November 2026, being the first.'
    """
    many, unit = (months, "month") if months else (days, "day")
    number = _NUMBERS[many] if many < len(_NUMBERS) else f"{many}"
    said = f"{number.capitalize()} {unit}{'' if many == 1 else 's'}"
    if counts_bake_day:
        return f"{said}, the bake day, {in_full(made)}, being the first."
    return f"{said} after the bake day, {in_full(made)}, which is not counted."


def frozen_words(made: date, day: date, freezer: Freezer) -> str:
    """What freezing did to the count, in words."""
    left = (day - freezer.frozen).days
    number = _NUMBERS[left] if left < len(_NUMBERS) else f"{left}"
    return (
        f"Unfrozen it had until {in_full(day)}. Frozen on {in_full(freezer.frozen)}, a "
        f"day that counts as used, with {number} day{'' if left == 1 else 's'} left; "
        f"thawed on {in_full(freezer.thawed)}, the first of them. Days in the freezer "
        "add none, and the count never restarts."
    )


def lot_words(mark: DateMark | None, made: date) -> str:
    """The lot: a date to the day serves; else L and the bake day (GS1-11)."""
    if mark is not None:
        return f"the date serves: {in_full(mark.day)}"
    return f"L {made:%Y%m%d}"


def _later(day: date, days: int) -> date:
    """So many days on, but never beyond the calendar."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return LAST_DAY


def _refused(what: str, do: str, field: str) -> FileError:
    return FileError(Mistake(what, do, Where(field=field)))
