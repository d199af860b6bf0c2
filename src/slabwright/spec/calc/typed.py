"""Numbers as they are typed for a calculator: `20`, `0,5`, `1,200 m`, `−5 °C`."""

import re
from math import isfinite
from typing import Final

_SIGN: Final = "−–-"
"""Minus as a keyboard, a phone and a page write it."""
_VALUE: Final = re.compile(
    rf"(?P<sign>[+{_SIGN}]?)\s*"
    r"(?P<number>[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?(?!\d)|\d+(?:[.,]\d*)?|[.,]\d+)"
    r"(?P<power>[eE][-+]?\d{1,4})?\s*(?P<unit>(?:[^\s\d.,].*)?)",
    re.ASCII,
)
_ALSO: Final = {
    "degc": "c", "celsius": "c", "degrees": "c", "percent": "%", "per cent": "%",
    "gram": "g", "grams": "g", "metres": "m", "minutes": "min", "mins": "min",
}  # fmt: skip
"""Other words for a unit. Nothing is converted: that would go unseen."""

_MOST_SHOWN: Final = 60


def number_typed(text: str, unit: str) -> float | None:
    """The number in a text; None if it is none, or is in another unit.

    A comma before exactly three digits is thousands, unless nought stands before it.

    Args:
        text: as typed, its unit behind it or not.
        unit: the unit that is asked for.

    >>> number_typed("20 °C", "°C"), number_typed("0,5", ""), number_typed("1,200", "m")
    (20.0, 0.5, 1200.0)
    >>> number_typed("−5", "°C"), number_typed("68 F", "°C"), number_typed("nan", "")
    (-5.0, None, None)
    """
    found = _VALUE.fullmatch(text.strip())
    if found is None or not _is(found["unit"], unit):
        return None
    number = found["number"]
    is_thousands = re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+(\.\d+)?", number)
    plain = number.replace(",", "" if is_thousands else ".")
    value = float(plain + (found["power"] or ""))
    if not isfinite(value) or (value == 0 and re.search(r"[1-9]", plain)):
        return None  # larger, or smaller, than any number that can be kept
    return -value if found["sign"] and found["sign"] in _SIGN else value


def _is(typed: str, unit: str) -> bool:
    plain = typed.strip().strip("°").casefold()
    return not plain or _ALSO.get(plain, plain) == unit.strip("°").casefold()


def shortened(text: str) -> str:
    """What was typed, as much of it as a message can hold."""
    return text if len(text) <= _MOST_SHOWN else f"{text[: _MOST_SHOWN - 1]}…"
