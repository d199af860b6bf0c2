"""Numbers as a cook writes them: 1½, 1 1/2, 0,5, 1,200, 100-120, a dozen."""

import re
from dataclasses import dataclass
from math import isfinite
from typing import Final

_VULGAR: Final = {
    "½": 1 / 2, "⅓": 1 / 3, "⅔": 2 / 3, "¼": 1 / 4, "¾": 3 / 4, "⅕": 1 / 5,
    "⅖": 2 / 5, "⅗": 3 / 5, "⅘": 4 / 5, "⅙": 1 / 6, "⅚": 5 / 6, "⅛": 1 / 8,
    "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8,
}  # fmt: skip
_WORDS: Final = {
    "half a dozen": 6.0, "a dozen": 12.0, "dozen": 12.0, "a couple of": 2.0,
    "half of a": 0.5, "half a": 0.5, "half an": 0.5, "a half": 0.5, "half": 0.5,
    "quarter of a": 0.25, "a quarter of a": 0.25, "a quarter": 0.25, "quarter": 0.25,
    "three quarters of a": 0.75, "three-quarters of a": 0.75, "three quarters": 0.75,
    "three-quarters": 0.75, "one and a half": 1.5, "two and a half": 2.5,
    "a third of a": 1 / 3, "a third": 1 / 3, "two thirds of a": 2 / 3,
    "two thirds": 2 / 3, "one": 1.0, "two": 2.0, "three": 3.0,
    "four": 4.0, "five": 5.0, "six": 6.0, "seven": 7.0, "eight": 8.0, "nine": 9.0,
    "ten": 10.0, "eleven": 11.0, "twelve": 12.0,
}  # fmt: skip
_V: Final = "".join(_VULGAR)
_PLAIN: Final = r"(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?(?!\d)|\d+[.,]\d+|\d+|\.\d+)"
_ONE: Final = re.compile(
    rf"""
    (?P<whole>\d+)(?:[ \u00a0\u202f-]+|\s(?:and|&)\s)
        (?P<top>\d+)\s?[/⁄]\s?(?P<low>\d+)(?![\d/])
  | (?P<ftop>\d+)\s?[/⁄]\s?(?P<flow>\d+)(?![\d/])
  | (?P<mixed>\d+)\s?(?P<vulgar>[{_V}])
  | (?P<alone>[{_V}])
  | (?P<plain>{_PLAIN})
    """,
    re.VERBOSE,
)
_WORD: Final = re.compile(
    r"(?:" + "|".join(sorted(_WORDS, key=len, reverse=True)) + r")(?=\s)",
    re.IGNORECASE,
)
_TO: Final = re.compile(r"\s*(?:-|–|—|−|\bto\b|\bor\b)\s*", re.IGNORECASE)
_BETWEEN: Final = re.compile(r"between\s+(?=[\d½¼¾])", re.IGNORECASE)
_AND: Final = re.compile(r"\s+and\s+", re.IGNORECASE)
_DOZEN: Final = re.compile(r"\s+dozen\b", re.IGNORECASE)
_BY_ZERO: Final = re.compile(r"\d+\s?[/⁄]\s?0+(?![\d.,])")
_BLANK: Final = re.compile(r"\s|$")
_HOSTILE: Final = re.compile(
    r"(?P<sign>[-−]\s?(?=[\d.½¼¾⅓⅔⅛]))|(?P<no>[+-]?(?:nan|inf|infinity|∞)\b|∞)"
    r"|(?P<exp>\d+(?:\.\d+)?e[+-]?\d+)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Number:
    """A number or a range as written, from `start` to `end` in its text."""

    value: float
    low: float
    high: float
    start: int
    end: int

    @property
    def is_range(self) -> bool:
        """Whether two numbers were written."""
        return self.low != self.high


@dataclass(frozen=True, slots=True)
class Hostile:
    """Something in a number's place that no kitchen weighs: -5, nan, inf, 1e9."""

    text: str
    start: int
    end: int


def number_at(text: str, at: int = 0) -> Number | Hostile | None:
    """The number, or the range, that starts just here; None if none does.

    A comma and exactly three digits is thousands unless the whole part is 0.

    >>> number_at("1 1/2 cups").value, number_at("0,5 l").value
    (1.5, 0.5)
    >>> number_at("100-120 g").value, number_at("1,200 g").value
    (110.0, 1200.0)
    """
    hostile = _HOSTILE.match(text, at)
    if hostile is None and (zero := _BY_ZERO.match(text, at)):
        return Hostile(zero.group(), zero.start(), zero.end())
    if hostile:
        blank = _BLANK.search(text, hostile.end())
        stop = blank.start() if blank else len(text)
        return Hostile(text[hostile.start() : stop], hostile.start(), stop)
    if between := _BETWEEN.match(text, at):
        at = between.end()
    first = _single(text, at)
    if first is None:
        return None
    value, end = first
    if dozen := _DOZEN.match(text, end):
        value, end = value * 12, dozen.end()
    dash = (_AND if between else _TO).match(text, end)
    second = _single(text, dash.end()) if dash else None
    if dash is None or second is None or not _joins(text, dash, value, second[0]):
        return Number(value, value, value, at, end)
    low, high = value, second[0]
    return Number((low + high) / 2, low, high, at, second[1])


def _joins(text: str, dash: re.Match[str], low: float, high: float) -> bool:
    """Whether this dash makes a range: rising, and no size such as `1 12-inch`."""
    return low < high and isfinite(high) and not text[dash.start() :].startswith("—-")


def _single(text: str, at: int) -> tuple[float, int] | None:
    found = _ONE.match(text, at)
    if found is None:
        word = _WORD.match(text, at)
        if word is None:
            return None
        return _WORDS[" ".join(word.group().casefold().split())], word.end()
    part = found.groupdict()
    if part["top"]:
        bottom = float(part["low"])
        value = float(part["whole"]) + float(part["top"]) / bottom if bottom else None
    elif part["ftop"]:
        bottom = float(part["flow"])
        value = float(part["ftop"]) / bottom if bottom else None
    elif part["vulgar"]:
        value = float(part["mixed"]) + _VULGAR[part["vulgar"]]
    elif part["alone"]:
        value = _VULGAR[part["alone"]]
    else:
        value = _plain(part["plain"])
    return None if value is None else (value, found.end())


def _plain(text: str) -> float:
    whole, comma, tail = text.partition(",")
    if comma and "." not in text and "," not in tail:
        is_thousands = len(tail) == len("000") and whole.strip("0")
        return float(whole + tail) if is_thousands else float(f"{whole}.{tail}")
    return float(text.replace(",", ""))
