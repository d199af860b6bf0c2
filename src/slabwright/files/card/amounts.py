"""Amounts at the start or end of a line: `1 lb 2 oz`, `2 x 250 g packs`, `½ tsp`."""

import re
from dataclasses import dataclass, replace
from typing import Final

from slabwright.errors import Span
from slabwright.files.card.lines import CardLine
from slabwright.quantity.amount import Amount
from slabwright.quantity.numbers import Hostile, Number, number_at
from slabwright.quantity.units import (
    PACK_WORDS,
    Regime,
    Unit,
    aliases,
    unit_named,
    units,
)

_UNIT: Final = re.compile(
    r"(?:fl\.?\s*oz|"
    + "|".join(re.escape(a) for a in aliases())
    + r")(?:\.(?=[\s)]|$))?(?![\w'’])",
    re.IGNORECASE,
)
_BLANK: Final = re.compile(r"[\s-]*")
_OR_SO: Final = re.compile(r"\s+or\s+so\b|-?ish\b", re.IGNORECASE)
_BRACKET_PART: Final = re.compile(r"[^;,/\s][^;,/]*")
_SPLIT: Final = re.compile(r"\d{1,3}[ \u00a0\u202f](?P<three>\d{3})(?!\d)")
_ABOUT: Final = re.compile(
    r"(?:about|approx\.?|approximately|around|roughly|circa|ca?\.|~|a?\s*scant"
    r"|generous|up\s+to|at\s+least|just\s+(?:under|over)|almost|nearly)\s*",
    re.IGNORECASE,
)
_ABOUT_SHARE: Final = 0.05
"""About 100 g may be this share more or less. Common practice, no source."""
_LONGEST: Final = 60
"""No amount is written in more characters."""
_SPACE: Final = re.compile(r"\s+")
_BEFORE_DIGIT: Final = re.compile(r"\s+(?=\d)")
_AMOUNT_BEGINS: Final = re.compile(
    r"(?:(?<![\w.,/])|(?<=\.\.))[\d½¼¾⅓⅔⅛⅜⅝⅞]|(?<![\w.,/])\.(?=\d)"
    r"|\b(?:an?|half)\s(?=[a-z])",
    re.IGNORECASE,
)
_TIMES: Final = re.compile(r"\s*[x×]\s*(?=[\d½¼¾⅓⅔])", re.IGNORECASE)
_MODIFIER: Final = re.compile(
    r"\s*(heaped|heaping|rounded|level|scant|generous|good|large|small|big)\s+",
    re.IGNORECASE,
)
_HEAPED: Final = frozenset({"heaped", "heaping", "rounded"})
_REGIME: Final = re.compile(
    r"\s*(US|American|UK|imperial|metric|AU|Australian)\s+", re.IGNORECASE
)
_REGIMES: Final[dict[str, Regime]] = {
    "us": "US", "american": "US", "uk": "metric", "imperial": "metric",
    "metric": "metric", "au": "AU", "australian": "AU",
}  # fmt: skip
_OF: Final = re.compile(r"\s+of\s+", re.IGNORECASE)
_PLUS: Final = re.compile(r"\s*(?:\+|\bplus\b|\band\b|&)\s*", re.IGNORECASE)
_SLASH: Final = re.compile(r"\s*/\s*|\s+[-–—]\s+(?=\d)")
_DASH: Final = re.compile(r"\s+[-–—]\s+")
_RANGE_ON: Final = re.compile(r"\s*[-–—]\s*(?=\d)|\s+to\s+(?=\d)")
_ARTICLE: Final = re.compile(r"an?\s+(?=\w)", re.IGNORECASE)
_BRACKET: Final = re.compile(r"\s*\(([^()]*)\)")

STEP_UNITS: Final = re.compile(
    r"\s*(?:min\b|mins\b|minutes?\b|h\b|hr\b|hrs\b|hours?\b|s\b|secs?\b|seconds?\b"
    r"|days?\b|weeks?\b|°|º|C\b|F\b|cm\b|mm\b|%|degrees?\b|times\b)"
)
"""What makes a number the beginning of a step."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Amounts that were read, from `start` to `end` of the line's text."""

    amounts: tuple[Amount, ...]
    second: Amount | None
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Odd:
    """A number in an amount's place that can't be one."""

    hostile: Hostile


def amount_at(line: CardLine, at: int = 0) -> Reading | Odd | None:
    """The amounts that start here, with their units; None if there are none.

    A bare number gives no amount here: whether it counts things is for the line to say.
    """
    first = _one(line, at)
    if first is None or isinstance(first, Odd):
        return first
    amounts, end, second = [first[0]], first[1], None
    while (more := _next(line, amounts, end)) is not None:
        amounts.append(more[0])
        end = more[1]
    beside, end, inside = _beside(line, amounts[0], end)
    if inside and beside:
        amounts = [sized(amounts[0], beside), *amounts[1:]]
    else:
        second = beside
    if or_so := _OR_SO.match(line.text, end):
        end, first_one = or_so.end(), amounts[0]
        spread = _ABOUT_SHARE * first_one.value
        amounts[0] = replace(
            first_one, low=first_one.low - spread, high=first_one.high + spread
        )
    of = _OF.match(line.text, end)
    start = of.end() if of else end
    if of and amounts[0].unit.name in PACK_WORDS and amounts[0].size is None:
        each = _plain(line, start)  # 2 tins of 397 g condensed milk
        if each:
            amounts[0], start = sized(amounts[0], each[0]), each[1]
    return Reading(tuple(amounts), second, at, start)


def _beside(line: CardLine, first: Amount, end: int) -> tuple[Amount | None, int, bool]:
    """Another measure of the same: after a slash, in a bracket or just behind it.

    Gives it, where it ends, and whether it is the size of a pack.
    """
    slash = _SLASH.match(line.text, end)
    if slash and (found := _plain(line, slash.end())):
        third = _SLASH.match(line.text, found[1])
        more = _plain(line, third.end()) if third else None
        end = more[1] if more else found[1]
        dash = _DASH.match(line.text, end)
        return found[0], dash.end() if dash else end, False
    blank = _SPACE.match(line.text, end)
    behind = _plain(line, blank.end()) if blank else None
    if behind and {behind[0].unit.kind, first.unit.kind} == {"mass"}:
        return behind[0], behind[1], False  # 170g 6oz
    bracket = _BRACKET.match(line.text, end)
    size = _all_of(line, bracket) if bracket else None
    if bracket is None or size is None:
        return None, end, False
    return size, bracket.end(), first.unit.name in PACK_WORDS


def _all_of(line: CardLine, bracket: re.Match[str]) -> Amount | None:
    """The amount that a bracket holds, if it holds nothing else."""
    at = bracket.start(1)
    spans = [part.span() for part in _BRACKET_PART.finditer(bracket.group(1))]
    parts = [_all_between(line, at + start, at + end) for start, end in spans]
    found = [part for part in parts if part is not None]
    if not found or len(found) < len(parts):
        return None
    masses = [amount for amount in found if amount.grams is not None]
    return masses[0] if masses else found[0]


def _all_between(line: CardLine, start: int, end: int) -> Amount | None:
    about = _ABOUT.match(line.text, start)
    number = number_at(line.text, about.end() if about else start)
    found = _with_unit(line, number) if isinstance(number, Number) else None
    if found is None:
        return None
    rest = line.text[found[1] : end].strip().casefold()
    return found[0] if rest in {"", "each"} else None


def amount_ending(line: CardLine, stop: int) -> Reading | None:
    """The amount that ends at `stop`: `butter 170 g`, `salt, a pinch`; the longest."""
    for found in _AMOUNT_BEGINS.finditer(line.text, max(0, stop - _LONGEST), stop):
        reading = amount_at(line, found.start())
        if isinstance(reading, Reading) and line.text[reading.end : stop].strip() == "":
            return reading
    return None


def bare_number_at(line: CardLine, at: int = 0) -> Number | Hostile | None:
    """A number, or an article that stands for one."""
    number = number_at(line.text, at)
    article = _ARTICLE.match(line.text, at) if number is None else None
    if article:
        return Number(1.0, 1.0, 1.0, at, article.end())
    return number


def counted(line: CardLine, number: Number) -> Amount:
    """So many things: the amount of `6 eggs`."""
    return _amount(line, number, units()["each"], number.end)


def with_unit(line: CardLine, number: Number, unit: str, end: int) -> Amount:
    """So many of the unit with this one name."""
    return _amount(line, number, units()[unit], end)


def split_number(line: CardLine, number: Number) -> str:
    """`1 200` in `1 200 g flour`, where nobody can say if it is one number or two."""
    found = _SPLIT.match(line.text, number.start)
    if found is None or not _plain(line, found.start("three")):
        return ""
    return found.group()


def sized(amount: Amount, size: Amount) -> Amount:
    """This many packs of this size."""
    return Amount(amount.value, amount.unit, amount.span, amount.low, amount.high, size)


def _one(line: CardLine, at: int) -> tuple[Amount, int] | Odd | None:
    about = _ABOUT.match(line.text, at)
    if about and (found := _plain(line, about.end())):
        amount = found[0]
        spread = _ABOUT_SHARE * amount.value
        low, high = amount.low - spread, amount.high + spread
        return replace(amount, low=low, high=high), found[1]
    number = bare_number_at(line, at)
    if number is None:
        unit = _unit_at(line.text, at)  # "pinch of salt"
        if unit is None or unit[0].kind not in {"volume", "portion"}:
            return None
        if unit[0].is_exact:
            return None
        one = Number(1.0, 1.0, 1.0, at, at)
        return _amount(line, one, unit[0], unit[1]), unit[1]
    if isinstance(number, Hostile):
        return Odd(number)
    times = _TIMES.match(line.text, number.end)
    if times and (size := _plain(line, times.end())):
        return _packs(line, number, size)
    if size := _nested_size(line, number):
        return _packs(line, number, size)
    found = _with_unit(line, number)
    return found and (_one_pack(line, found) or found)


def _one_pack(line: CardLine, found: tuple[Amount, int]) -> tuple[Amount, int] | None:
    """`397g tin condensed milk`: one pack of that size."""
    amount, end = found
    if amount.unit.kind == "count" or amount.heaped:
        return None
    blank = _BLANK.match(line.text, end)
    unit = _unit_at(line.text, blank.end() if blank else end)
    if unit is None or unit[0].name not in PACK_WORDS:
        return None
    one = Number(1.0, 1.0, 1.0, amount.span.column - line.column, end)
    return sized(_amount(line, one, unit[0], unit[1]), amount), unit[1]


def _packs(
    line: CardLine, number: Number, size: tuple[Amount, int]
) -> tuple[Amount, int]:
    """`2 x 250 g packs`, `1 (397 g) tin`: the pack word is no more than a word."""
    blank = _BLANK.match(line.text, size[1])
    at = blank.end() if blank else size[1]
    unit = _unit_at(line.text, at)
    if unit and unit[0].name in PACK_WORDS:
        return sized(_amount(line, number, unit[0], unit[1]), size[0]), unit[1]
    each = counted(line, number)
    return sized(each, size[0]), size[1]


def _nested_size(line: CardLine, number: Number) -> tuple[Amount, int] | None:
    """The size in `1 (397 g) tin` or `1 397g tin`, if a pack word follows it."""
    bracket = _BRACKET.match(line.text, number.end)
    if bracket:
        found = _plain(line, bracket.start(1))
        end = bracket.end()
    else:
        blank = _BEFORE_DIGIT.match(line.text, number.end - _ended_blank(line, number))
        found = _plain(line, blank.end()) if blank else None
        end = found[1] if found else 0
    if found is None:
        return None
    follow = _BLANK.match(line.text, end)
    unit = _unit_at(line.text, follow.end() if follow else end)
    is_pack = unit is not None and unit[0].name in PACK_WORDS
    return (found[0], end) if is_pack else None


def _ended_blank(line: CardLine, number: Number) -> int:
    """1 if an article was the number, and its blank is taken already."""
    return int(line.text[number.end - 1 : number.end].isspace())


def _with_unit(line: CardLine, number: Number) -> tuple[Amount, int] | None:
    text, at = line.text, number.end
    heaped = False
    regime: Regime | None = None
    if modifier := _MODIFIER.match(text, at):
        unit = _unit_at(text, modifier.end())
        if unit and unit[0].kind != "count":
            heaped = modifier.group(1).casefold() in _HEAPED
            at = modifier.end()
    if whose := _REGIME.match(text, at):
        unit = _unit_at(text, whose.end())
        if unit and unit[0].kind == "spoon":
            regime = _REGIMES[whose.group(1).casefold()]
            at = whose.end()
    blank = _BLANK.match(text, at)
    unit = _unit_at(text, blank.end() if blank else at)
    if unit is None:
        return None
    amount = _amount(line, number, unit[0], unit[1])
    if on := _RANGE_ON.match(text, unit[1]):  # 100 g - 120 g
        top = number_at(text, on.end())
        if isinstance(top, Number) and top.value > number.value:
            again = _BLANK.match(text, top.end)
            same = _unit_at(text, again.end() if again else top.end)
            if same and same[0] is unit[0]:
                middle = (number.value + top.value) / 2
                whole = Number(middle, number.value, top.value, number.start, same[1])
                return _amount(line, whole, unit[0], same[1]), same[1]
    return (
        Amount(
            amount.value, amount.unit, amount.span, amount.low, amount.high,
            regime=regime, heaped=heaped,
        ),
        unit[1],
    )  # fmt: skip


def _plain(line: CardLine, at: int) -> tuple[Amount, int] | None:
    """A number with a mass, volume or spoon unit, nothing more."""
    number = number_at(line.text, at)
    if not isinstance(number, Number):
        return None
    found = _with_unit(line, number)
    return found if found and found[0].unit.kind != "count" else None


def _next(line: CardLine, amounts: list[Amount], end: int) -> tuple[Amount, int] | None:
    """A further amount that belongs to the same line: `1 lb 2 oz`, `1 cup + 2 tbsp`."""
    if amounts[-1].unit.kind == "count" or amounts[-1].size is not None:
        return None
    plus = _PLUS.match(line.text, end)
    blank = _SPACE.match(line.text, end)
    for joint in (plus, blank):
        found = _plain(line, joint.end()) if joint else None
        if found and (joint is plus or _goes_with(amounts[-1].unit, found[0].unit)):
            return found
    return None


_FAMILIES: Final = (
    ("lb", "oz"), ("kg", "g"), ("cup", "tbsp", "tsp"), ("l", "dl", "cl", "ml"),
    ("quart", "pint", "cup", "fl oz"), ("tbsp", "dessertspoon", "tsp"),
)  # fmt: skip


def _goes_with(larger: Unit, smaller: Unit) -> bool:
    """Whether the second unit counts on from the first: pounds and ounces."""
    return any(
        larger.name in family
        and smaller.name in family
        and family.index(larger.name) < family.index(smaller.name)
        for family in _FAMILIES
    )


def _unit_at(text: str, at: int) -> tuple[Unit, int] | None:
    found = _UNIT.match(text, at)
    unit = unit_named(found.group()) if found else None
    return (unit, found.end()) if found and unit else None


def _amount(line: CardLine, number: Number, unit: Unit, end: int) -> Amount:
    return Amount(
        number.value, unit, line.span(number.start, end), number.low, number.high
    )


def span_of(line: CardLine, reading: Reading) -> Span:
    """Where these amounts stand."""
    last = (reading.second or reading.amounts[-1]).span
    return Span(line.number, reading.amounts[0].span.column, last.end)
