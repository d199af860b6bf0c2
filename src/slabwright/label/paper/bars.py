"""The bars over a number of 13 or 8 digits: which are black, how wide, how high.

The patterns of the digits are from memory; a decoder that is not ours reads them back
in the tests.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.label.codes import check_digit
from slabwright.source import Source, sources

_ODD: Final = (
    "0001101 0011001 0010011 0111101 0100011 0110001 0101111 0111011 0110111 0001011"
).split()
"""Left half, odd parity; the right half is its negative, the even its mirror."""
_PARITIES: Final = (
    "OOOOOO OOEOEE OOEEOE OOEEEO OEOOEE OEEOOE OEEEOO OEOEOE OEOEEO OEEOEO"
).split()
"""How the first of 13 digits shows in the parity of the six that follow it."""
_EDGE: Final = "101"
_MIDDLE: Final = "01010"


@dataclass(frozen=True, slots=True)
class BarRule:
    """One size that bars must keep; since when, from memory, is not known."""

    id: str
    symbol: str
    what: str
    value: float
    unit: str
    article: str
    source: Source
    found: str
    words: str


@dataclass(frozen=True, slots=True)
class Bars:
    """A number as bars, in modules; quiet zones left out."""

    digits: str
    modules: str
    """`1` black, `0` white, from the left."""
    guards: tuple[tuple[int, int], ...]
    """Stretches whose bars reach further down: first module, and behind the last."""
    quiet_left: int
    quiet_right: int
    usual_height_mm: float
    """Of the bars, where a module has its usual width."""

    @property
    def width_modules(self) -> int:
        """With both quiet zones."""
        return self.quiet_left + len(self.modules) + self.quiet_right

    @property
    def name(self) -> str:
        """What such bars are called."""
        return f"EAN-{len(self.digits)}"

    def stripes(self) -> tuple[tuple[int, int, bool], ...]:
        """Every black bar: its first module, its width, whether it is a guard."""
        found: list[tuple[int, int, bool]] = []
        at = 0
        while (start := self.modules.find("1", at)) >= 0:
            end = self.modules.find("0", start)
            at = len(self.modules) if end < 0 else end
            is_guard = any(low <= start < high for low, high in self.guards)
            found.append((start, at - start, is_guard))
        return tuple(found)


@cache
def bar_rules() -> tuple[BarRule, ...]:
    """Every row of the table."""
    data = files("slabwright.label").joinpath("data", "bars.csv")
    return tuple(
        BarRule(
            row["id"],
            row["symbol"],
            row["what"],
            float(row["value"]),
            row["unit"],
            row["article"],
            sources()[row["source"]],
            row["found"],
            row["words"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def bar_size(what: str, symbol: str = "both") -> float:
    """One size of the table, in its unit.

    >>> bar_size("module_least"), bar_size("quiet_left", "ean13")
    (0.264, 11.0)
    """
    return next(
        one.value for one in bar_rules() if one.what == what and one.symbol == symbol
    )


def bars_of(digits: str) -> Bars:
    """A number of 13 or 8 digits as bars.

    Args:
        digits: with its check digit.

    Raises:
        FileError: for any other count of digits, or a wrong check digit.
    """
    is_number = digits.isascii() and digits.isdigit() and len(digits) in {8, 13}
    if not is_number or check_digit(digits[:-1]) != digits[-1]:
        what = f"'{digits:.40}' can't stand under bars."
        do = "Give 13 or 8 digits, the last one their check digit."
        raise FileError(Mistake(what, do, Where(field="code")))
    short = len(digits) == 8
    symbol = "ean8" if short else "ean13"
    left = digits[:4] if short else digits[1:7]
    right = digits[4:] if short else digits[7:]
    parity = "OOOO" if short else _PARITIES[int(digits[0])]
    halves = (
        "".join(map(_left, left, parity)),
        "".join(_turned(_ODD[int(digit)]) for digit in right),
    )
    modules = f"{_EDGE}{halves[0]}{_MIDDLE}{halves[1]}{_EDGE}"
    middle = len(_EDGE) + len(halves[0])
    total = len(modules)
    return Bars(
        digits,
        modules,
        (
            (0, len(_EDGE)),
            (middle, middle + len(_MIDDLE)),
            (total - len(_EDGE), total),
        ),
        int(bar_size("quiet_left", symbol)),
        int(bar_size("quiet_right", symbol)),
        bar_size("height_usual", symbol),
    )


def _left(digit: str, parity: str) -> str:
    odd = _ODD[int(digit)]
    return odd if parity == "O" else _turned(odd)[::-1]


def _turned(pattern: str) -> str:
    """Black for white."""
    return pattern.translate(str.maketrans("01", "10"))
