"""Figures in words: rounded to what a scale, a ruler or a till can show."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from math import floor, inf, isfinite, log10
from typing import Final

from slabwright.figure import Figure, Standing
from slabwright.finding import Finding, Severity

NOT_KNOWN = "not known"

_MARKS = {Standing.ASSUMED: "[?]", Standing.WORKED_OUT: "[ ]", Standing.MEASURED: "[=]"}
_SIGNS = {"GBP": "£", "EUR": "€", "USD": "$"}


def counted(number: int, what: str) -> str:
    """So many of them.

    >>> counted(1, "note"), counted(3, "note")
    ('1 note', '3 notes')
    """
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def to_watch(findings: Sequence[Finding]) -> str:
    """How many findings are there to look at, and how many notes."""
    notes = sum(one.severity is Severity.NOTE for one in findings)
    look = len(findings) - notes
    said = f"{counted(look, 'finding') if look else 'nothing'} to look at"
    return f"{said}, {counted(notes, 'note')}" if notes else said


def grams(value: float | None) -> str:
    """A mass as a scale shows it.

    >>> grams(1599.2), grams(53.96), grams(4.25), grams(0.0021), grams(None)
    ('1,599', '54', '4.2', '0.0021', 'not known')
    """
    if value is None:
        return NOT_KNOWN
    if 0 < abs(value) < 0.05:
        return f"{value:.2g}"  # what there is never reads as nought
    if abs(value) < 10:
        return f"{value:.1f}".removesuffix(".0")
    return f"{value:,.0f}"


def places_of(figure: Figure) -> int:
    """Decimals of a worked-out number: as many as its likely range leaves sense.

    Without a range three figures, a temperature to a tenth.

    >>> places_of(Figure(0.5834, "", "", low=0.55, high=0.62))
    2
    >>> places_of(Figure(0.9534, "", "", low=0.951, high=0.956))
    3
    >>> places_of(Figure(118.2, "°C", "")), places_of(Figure(118.2, "°C", "", low=110.0,
    ... high=125.0))
    (1, 0)
    """
    value = abs(float(figure.value or 0.0))
    if not isfinite(value):
        return 0
    usual = 2 if value < 10 else 1 if value < 100 else 0
    if figure.unit in _DEGREES:
        usual = 1
    if figure.low is None or figure.high is None:
        return 0 if value.is_integer() else usual
    half = abs(figure.high - figure.low) / 2
    if not (0 < half < inf):
        return usual
    return min(max(-floor(log10(half)), 0), usual + 1)


_DEGREES: Final = ("°C", "K")
BARE: Final = (
    "", *_DEGREES, "kJ", "kW", "min", "kPa", "pH", "kJ/(kg K)", "W/(m K)", "°Bx", "%",
    "x", "ml", "kg/m³",
)  # fmt: skip
"""Units whose decimals follow from the likely range."""


def mm(value: float | None) -> str:
    """A depth to a tenth of a millimetre."""
    return NOT_KNOWN if value is None else f"{value:.1f}"


def length(value_mm: float) -> str:
    """A size on the cutting plan.

    >>> length(58.0), length(47.5), length(46.6667)
    ('58', '47.5', '46.7')
    """
    return f"{value_mm:.1f}".removesuffix(".0")


def percent(value: float | None, places: int = 0) -> str:
    """A share as per cent, without a space before the sign."""
    return NOT_KNOWN if value is None else f"{value * 100:.{places}f}%"


def money(value: float | Decimal | None, currency: str, places: int = 2) -> str:
    """A sum of money, rounded once, here.

    >>> money(Decimal("8.465"), "GBP"), money(Decimal("3.2"), "SEK")
    ('£8.47', '3.20 SEK')
    """
    if value is None:
        return NOT_KNOWN
    exact = Decimal(str(value)).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    sign = _SIGNS.get(currency)
    return f"{sign}{exact:,}" if sign else f"{exact:,} {currency}"


def bare_money(value: float | Decimal | None) -> str:
    """A sum of money without its currency, for a column that is headed by it.

    >>> bare_money(Decimal("1.005")), bare_money(1234.5)
    ('1.01', '1,234.50')
    """
    return NOT_KNOWN if value is None else money(value, "").rstrip()


def sign_of(currency: str) -> str:
    """What heads a column of money."""
    return _SIGNS.get(currency, currency)


def mark(standing: Standing) -> str:
    """The mark of a standing in a text."""
    return _MARKS[standing]


def short(figure: Figure, value: str) -> str:
    """A value with its likely range behind it, where there is one."""
    if figure.low is None or figure.high is None:
        return value
    shown = mm if figure.unit == "mm" else grams
    low, high = shown(figure.low), shown(figure.high)
    return value if low == high else f"{value} (likely {low} to {high})"
