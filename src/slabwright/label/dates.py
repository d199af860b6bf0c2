"""The date on a label: counted from the bake day, worded as the law asks, never chosen.

Which date, and how long, is the shop's own decision. Freezing stops the count of days
and never restarts it.
"""

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from slabwright.errors import FileError, Mistake, Where

MONTHS_TO_THE_DAY: Final = 3
"""Up to this long, day and month are enough; DATE-01: Article 24, Annex X 1(c)."""
MONTHS_TO_THE_MONTH: Final = 18
"""Up to this long, month and year are enough, above it the year; DATE-02, -03."""
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
    rule: str
    """Id of the rule of that form."""

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
    try:
        return made + timedelta(days=days) - off
    except OverflowError:
        return LAST_DAY


def date_mark(kind: str, made: date, day: date, counted: str) -> DateMark:
    """This date, and the shortest form that the law takes for so long a time.

    Args:
        kind: `best before` or `use by`.
        made: the bake day.
        day: the last day.
        counted: how its days were counted, in words.
    """
    if kind == "use by":
        return DateMark(kind, day, counted, f"Use by {_short(day)}", "DATE-05")
    if day <= months_after(made, MONTHS_TO_THE_DAY):
        return DateMark(kind, day, counted, f"Best before {_short(day)}", "DATE-01")
    if day <= months_after(made, MONTHS_TO_THE_MONTH):
        is_last = (day + timedelta(days=1)).day == 1 if day < LAST_DAY else True
        end = day if is_last else day.replace(day=1) - timedelta(days=1)
        month = f"{_MONTHS[end.month - 1]} {end.year}"
        return DateMark(kind, day, counted, f"Best before end {month}", "DATE-02")
    year = day.year if (day.month, day.day) == (12, 31) else day.year - 1
    return DateMark(kind, day, counted, f"Best before end {year}", "DATE-03")


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
    frozen, thawed = freezer.frozen, freezer.thawed
    if frozen < made:
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
    return thawed + timedelta(days=left - 1)


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


def _short(day: date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1]}"


def _refused(what: str, do: str, field: str) -> FileError:
    return FileError(Mistake(what, do, Where(field=field)))
