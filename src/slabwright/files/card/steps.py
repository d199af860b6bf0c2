"""Steps: first words say what is done, the clauses say how far, how long and where."""

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Final

from slabwright.files.card.lines import CardLine
from slabwright.files.card.misread import misread
from slabwright.files.card.names import Names
from slabwright.formula.step import Band, Step, When, Within
from slabwright.quantity.numbers import Number, number_at

_NUM: Final = r"(?:\d[\d.,]*(?:\s?[½¼¾⅓⅔⅛])?|[½¼¾⅓⅔⅛])"
_BAND: Final = rf"{_NUM}(?:\s*(?:-|–|—|to)\s*{_NUM})?"
_DEG: Final = r"\s*(?:°|º|degrees?|deg)?\s*(?P<scale>C|F|Celsius|Fahrenheit)(?![a-z])"
_SIGNED: Final = rf"(?:between\s+{_NUM}\s+and\s+{_NUM}|(?:[-−]\s?)?{_BAND})"
_TIME: Final = (
    rf"(?P<n>{_BAND})\s*(?P<unit>minutes?|mins?|hours?|hrs?|h|seconds?|secs?|s|days?|d"
    rf"|weeks?)(?![a-z])(?:(?<=[hrs])\s*(?:and\s+)?(?P<n2>\d{{1,2}})(?![\d.,]*\s*(?:°|C\b|g\b"
    r"|h|cm|mm|%))\s*(?:minutes?|mins?\b)?)?"
)
_MINUTES: Final = {"m": 1.0, "h": 60.0, "s": 1 / 60, "d": 1440.0, "w": 10080.0}

_FROM: Final = re.compile(r"\bfrom\s+$", re.IGNORECASE)
"""`straight from 4 C`: where it comes from, and no temperature to reach."""
_BETWEEN: Final = re.compile(r"between\s+(\S+)\s+and\s+", re.IGNORECASE)
_GAP: Final = re.compile(r"\s{2,}")


@dataclass
class _Scan:
    """A step's text, and the clauses found in it so far."""

    text: str
    free: list[bool]
    found: dict[str, Any] = field(default_factory=dict)
    starts: list[int] = field(default_factory=list)

    def is_free(self, match: re.Match[str]) -> bool:
        """Whether no clause has any of this stretch yet."""
        return all(self.free[match.start() : match.end()])

    def take(self, match: re.Match[str]) -> None:
        """Claim a stretch of the text."""
        start, end = match.span()
        self.free[start:end] = [False] * (end - start)
        self.starts.append(start)


def read_step(line: CardLine, names: Names) -> Step:
    """What was understood of a step; what wasn't stays the maker's words."""
    scan = _Scan(line.text, [True] * len(line.text))
    for pattern, note in _CLAUSES:
        for match in pattern.finditer(scan.text):
            comes_from = _FROM.search(scan.text, 0, match.start())
            if comes_from and note is _temperature:
                continue
            if scan.is_free(match) and note(match, scan.found):
                scan.take(match)
    places = _places(scan, names)
    does, rest = _words_left(scan)
    rest = tuple(words for words in rest if words.casefold() not in places)
    return Step(
        line.text,
        line.span(),
        does or line.text,
        places=places,
        rest=rest,
        misread=misread(line.text, names),
        **scan.found,
    )


def celsius(text: str, scale: str) -> Band:
    """A temperature or a range of them [°C]."""
    sign = -1.0 if text.lstrip().startswith(("-", "−")) else 1.0
    band = _band(text.lstrip(" -−"))
    values = sorted((sign * band.low, sign * band.high))
    if scale.upper().startswith("F"):
        values = [(value - 32) / 1.8 for value in values]
    return Band(values[0], values[1])


def minutes(match: re.Match[str]) -> Band:
    """A length of time [min]."""
    band = _band(match["n"])
    factor = _MINUTES[match["unit"][0].lower()]
    extra = _band(match["n2"]).low if match["n2"] else 0.0
    return Band(band.low * factor + extra, band.high * factor + extra)


def _band(text: str) -> Band:
    plain = _BETWEEN.sub(r"\1-", text.strip())
    number = number_at(plain)
    if not isinstance(number, Number):
        return Band(0.0, 0.0)
    return Band(number.low, number.high)


# --- clauses, in the order in which they are looked for -----------------------------
# Each says whether it found a place for its words; what has none stays the maker's.

Found = dict[str, Any]


def _within(match: re.Match[str], found: Found) -> bool:
    of = (match["of"] or "").strip(" ,.")
    step, joint, layer = of.partition(" of ")
    if not joint:
        step, layer = of, ""
    found["within"] = Within(minutes(match).high, step.strip(), layer.strip())
    return True


def _when(match: re.Match[str], found: Found) -> bool:
    layer = (match["layer"] or "").strip()
    side = "under" if match["side"].lower() in {"under", "below"} else "over"
    found["when"] = When(layer, side, celsius(match["t"], match["scale"]).middle)
    return True


def _hands(match: re.Match[str], found: Found) -> bool:
    found["hands_minutes"] = minutes(match)
    if match["tray"]:
        found["hands_a_tray_minutes"] = _band(match["tray"]).low
    return True


def _until(match: re.Match[str], found: Found) -> bool:
    words = match["words"].strip(" ,.")
    found["until"] = words
    end = re.search(
        rf"(?P<side>under|below|over|above)?\s*(?P<t>{_SIGNED}){_DEG}", words
    )
    if end is None:
        return True
    band = celsius(end["t"], end["scale"])
    side = (end["side"] or "").lower()
    if side in {"under", "below"}:
        found["under_C"] = band.middle
    elif side:
        found["over_C"] = band.middle
    else:
        found["to_C"] = band
    return True


def _then(match: re.Match[str], found: Found) -> bool:
    found["then"] = match["words"].strip(" ,.")
    return True


def _temperature(match: re.Match[str], found: Found) -> bool:
    side = (match["side"] or "").lower()
    band = celsius(match["t"], match["scale"])
    if side in {"over", "above"}:
        return _once(found, "over_C", band.middle)
    if side in {"under", "below"}:
        return _once(found, "under_C", band.middle)
    has_fan = bool(match["fan"])
    oven_to = "to_C" in found and "until" not in found and "at_C" not in found
    if has_fan and side != "to" and oven_to:
        found["at_C"], found["fan_C"] = (
            found.pop("to_C"),
            band,
        )  # the oven to 180/160 fan
        return True
    if side == "to" and not has_fan:
        return _once(found, "to_C", band)
    if "at_C" in found and has_fan != found.get("fan", False):
        if has_fan:  # 180 C/160 C fan: the setting without a fan first
            return _once(found, "fan_C", band)
        found["fan_C"], found["at_C"], found["fan"] = found["at_C"], band, False
        return True
    if not _once(found, "at_C", band):
        return False
    found["fan"] = has_fan
    return True


def _duration(match: re.Match[str], found: Found) -> bool:
    return _once(found, "minutes", minutes(match))


def _once(found: Found, name: str, value: object) -> bool:
    """Keep a value unless there is one; False where there was."""
    if name in found:
        return False
    found[name] = value
    return True


_I: Final = re.IGNORECASE
_Clause = tuple[re.Pattern[str], Callable[[re.Match[str], Found], bool]]
_CLAUSES: Final[tuple[_Clause, ...]] = (
    (re.compile(rf"\bwithin\s+{_TIME}(?:\s+of\s+(?P<of>[^,;]+))?", _I), _within),
    (
        re.compile(
            rf"\bwhen\s+(?:(?P<layer>[^,;]+?)\s+is\s+)?(?P<side>under|over|below|above)"
            rf"\s+(?P<t>{_SIGNED})(?-i:{_DEG})",
            _I,
        ),
        _when,
    ),
    (re.compile(r"\bthen\s+(?P<words>.+)$", _I), _then),
    (
        re.compile(
            rf"{_TIME}\s+(?:of\s+)?hands\b(?:\s*\+\s*(?P<tray>{_NUM})\s*(?:min\s+)?"
            r"(?:a|per|each)\s+tray)?",
            _I,
        ),
        _hands,
    ),
    (
        re.compile(
            r"\buntil\s+(?P<words>.+?)(?=,\s*(?:then|when|within|straight)\b"
            rf"|,?\s+\d[\d-]*\s*min\s+hands|,\s*{_NUM}|$)",
            _I,
        ),
        _until,
    ),
    (
        re.compile(
            rf"(?:\b(?P<side>to|over|above|under|below|at)\s+)?(?<![\w.])(?P<t>{_SIGNED})"
            rf"(?-i:{_DEG})(?P<fan>\s*fan\b)?",
            _I,
        ),
        _temperature,
    ),
    (re.compile(rf"(?<![\w.])(?:for\s+)?{_TIME}", _I), _duration),
)


def _places(scan: _Scan, names: Names) -> tuple[str, ...]:
    """Places and tools named; they stay in the words of the step too."""
    pattern = _places_pattern((*names.vessels, *names.places))
    found = (match.group().casefold() for match in pattern.finditer(scan.text))
    return tuple(dict.fromkeys(found))


@lru_cache(maxsize=64)
def _places_pattern(places: tuple[str, ...]) -> re.Pattern[str]:
    """One pattern for every place, the longest name first."""
    longest_first = sorted(set(places), key=len, reverse=True)
    any_of = "|".join(re.escape(place) for place in longest_first)
    return re.compile(rf"(?<!\w)(?:{any_of})(?!\w)", re.IGNORECASE)


def _words_left(scan: _Scan) -> tuple[str, tuple[str, ...]]:
    """What is done (the words before the first clause), and words left over."""
    gap = _GAP.search(scan.text)
    first = min([*scan.starts, gap.start() if gap else len(scan.text)])
    does = scan.text[:first].strip(" ,.;")
    kept = "".join(
        c if free else "\0"
        for c, free in zip(scan.text[first:], scan.free[first:], strict=True)
    )
    words = [part.strip(" .;+()") for part in re.split(r"\0+|,|\s{2,}", kept)]
    return does, tuple(word for word in words if len(word) > 1)
