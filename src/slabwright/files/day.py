"""A day as it is typed."""

from datetime import date

from slabwright.errors import FileError, Mistake, Where


def read_day(typed: str, field: str = "on") -> date | None:
    """The day that was typed, as 2026-11-26; None if nothing was.

    Args:
        typed: what was typed.
        field: what a mistake calls it.

    Raises:
        FileError: for what is no day.

    >>> read_day(" 2026-11-26 "), read_day(" ")
    (datetime.date(2026, 11, 26), None)
    """
    said = typed.strip()
    try:
        return date.fromisoformat(said) if said else None
    except ValueError:
        what = f"'{said:.40}' is no day."
        do = "Write it so: 2026-11-26."
        raise FileError(Mistake(what, do, Where(field=field))) from None
