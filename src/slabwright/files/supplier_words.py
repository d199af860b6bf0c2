"""The words of a supplier's specification: names, figures and units on a line."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from slabwright.quantity.numbers import Hostile, number_at

_LABELS: Final = (
    ("other", r"water activity|(?:added|free) sugars?|trans[- ]?fat\w*(?: acids)?"),
    ("other", r"(?:fat|sugar|salt|alcohol)[- ]free\b[^\d<,;|]*"),
    ("other", r"(?:solids[- ])?no[nt][- ]?fat\b[^\d<,;|]*"),
    ("other", r"(?:mono|poly)?[- ]?unsaturat\w*(?:,?\s+fat\w*(?:\s+acids)?)?"),
    ("saturates", r"saturat\w*(?:\s+fat\w*(?:\s+acids)?)?"),
    ("saturates", r"(?:fatty\s+acids|fat),?\s+(?:total\s+)?saturated"),
    ("other", r"fatty\s+acids(?:,?\s+(?:total\s+)?(?:trans|(?:mono|poly)\w*))?"),
    ("energy", r"energy(?:\s+value)?|calorific\s+value"),
    ("polyols", r"polyols?|sugar\s+alcohols?"),
    ("sugars", r"sugars?"),
    ("starch", r"starch(?:es)?"),
    ("carbohydrate", r"carbohydrates?|carbs?"),
    ("fat", r"fats?|lipids?|matières\s+grasses"),
    ("fibre", r"fib(?:re|er)s?"),
    ("protein", r"proteins?"),
    ("salt", r"salt"),
    ("sodium", r"sodium"),
    ("water", r"water|moisture"),
    ("alcohol", r"alcohol|ethanol"),
    ("minerals", r"ash|minerals"),
)
"""What a line is about; `other` has no field in the larder."""
_LABEL: Final = re.compile(
    "|".join(f"(?P<n{i}>{p})(?![a-z])" for i, (_, p) in enumerate(_LABELS)),
    re.IGNORECASE,
)
_UNITS: Final = {
    "g": "g gm gms gram grams gramme grammes",
    "mg": "mg milligram milligrams milligramme milligrammes",
    "kJ": "kj kilojoule kilojoules",
    "kcal": "kcal kcals cal calorie calories kilocalorie kilocalories",
    "%": "% percent",
}
_UNIT: Final = {word: unit for unit, words in _UNITS.items() for word in words.split()}
_JOINERS: Final = frozenset(
    "of which whose and or per thereof including includes incl contains contain with"
    " total dietary available max maximum min minimum typical typically average avg"
    " mean approx approximately about circa ca value values content equivalent by"
    " difference as from in on the for each serving portion is are nutrition"
    " nutritional information declaration expressed crude".split()
)
"""Words that name nothing: they stand between a name and its figure, or behind it."""
_V: Final = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_BEGINS: Final = re.compile(rf"[-−]?(?:\.?\d|[{_V}])")
_BOUND: Final = re.compile(
    r"(?:(?P<under><=?|≤|less than|under|below|up to)"
    r"|(?P<limit>>=?|≥|more than|over|at (?:least|most)|(?:max|min)(?:imum)?\.?))"
    rf"\s*(?=\.?\d|[{_V}])",
    re.IGNORECASE,
)
_LIMIT_BEHIND: Final = re.compile(r"\s*(?:max|min)(?:imum)?\b", re.IGNORECASE)
_NOTHING: Final = re.compile(r"(?:traces?|nil|none|zero)\b", re.IGNORECASE)
_WORD: Final = re.compile(r"[^\W\d_][\w'’-]*|%")
_UNIT_BEHIND: Final = re.compile(
    r"\s*(?P<unit>%(?:\s*(?:vol|v/v|abv|dv|ri|nrv|gda|rda|daily)\b)?|[^\W\d_]+)"
    r"(?P<list>\s*[/|]\s*(?:kj|kcal)\b)?",
    re.IGNORECASE,
)
_TO: Final = re.compile(r"\s*(?:[-–—−]|to\b)\s*(?=\.?\d)", re.IGNORECASE)
_GLUED: Final = re.compile(r"[.,]?\d")

Bound = Literal["", "under", "limit"]


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure as written: its unit is g, mg, kJ, kcal, %, none, or one we refuse."""

    low: float
    high: float
    unit: str = ""
    bound: Bound = ""
    is_wrong: bool = False
    """Whether it is no amount at all: -3, 1e3, 1.2.3."""


@dataclass(frozen=True, slots=True)
class Token:
    """A name, figure, unit or other word, from `start` to `end` on its line."""

    kind: Literal["label", "figure", "unit", "word"]
    text: str
    start: int
    end: int
    name: str = ""
    """The constituent that a label names, or the unit."""
    figure: Figure | None = None

    @property
    def is_joiner(self) -> bool:
        """Whether it is a word that names nothing."""
        return self.kind == "word" and self.text.casefold() in _JOINERS


def tokens(line: str) -> Iterator[Token]:
    """What stands on this line, in order.

    >>> [token.text for token in tokens("Fat: <0.5 g, of which saturates .1 g")]
    ['Fat', '<0.5 g', 'of', 'which', 'saturates', '.1 g']
    """
    at = 0
    while at < len(line):
        token = _label_at(line, at) or _figure_at(line, at) or _word_at(line, at)
        if token:
            yield token
        at = token.end if token else at + 1


def _label_at(line: str, at: int) -> Token | None:
    found = _LABEL.match(line, at)
    if found is None or found.lastgroup is None:
        return None
    name, _ = _LABELS[int(found.lastgroup[1:])]
    return Token("label", found.group().strip(), at, found.end(), name)


def _word_at(line: str, at: int) -> Token | None:
    found = _WORD.match(line, at)
    if found is None:
        return None
    unit = _UNIT.get(found.group().casefold(), "")
    return Token("unit" if unit else "word", found.group(), at, found.end(), unit)


def _figure_at(line: str, at: int) -> Token | None:
    if nothing := _NOTHING.match(line, at):
        trace = nothing.group().casefold().startswith("trace")
        figure = Figure(0.0, 0.0, "g", "limit" if trace else "")
        return Token("figure", nothing.group(), at, nothing.end(), "", figure)
    before = _BOUND.match(line, at)
    start = before.end() if before else at
    number = number_at(line, start) if _BEGINS.match(line, start) else None
    if number is None:
        return None
    end = number.end
    if isinstance(number, Hostile) or _GLUED.match(line, end):
        stop = re.compile(r"\s|$").search(line, end)
        end = stop.start() if stop else end
        figure = Figure(0.0, 0.0, is_wrong=True)
        return Token("figure", line[at:end].rstrip(",;"), at, end, "", figure)
    unit, end = _unit_at(line, end)
    low, high = number.low, number.high
    if (to := _TO.match(line, end)) and low == high:
        second = number_at(line, to.end())
        if second and not isinstance(second, Hostile) and second.low > low:
            unit_behind, after = _unit_at(line, second.end)
            if unit_behind == unit:
                high, end = second.high, after
    bound: Bound = ""
    if before:
        bound = "under" if before["under"] else "limit"
    elif behind := _LIMIT_BEHIND.match(line, end):
        bound, end = "limit", behind.end()
    figure = Figure(low, high, unit, bound)
    return Token("figure", line[at:end].strip(), at, end, "", figure)


def _unit_at(line: str, at: int) -> tuple[str, int]:
    """The unit behind a number, in our spelling, and where it ends.

    A word that is neither a unit of ours, a name nor a joiner is a unit we refuse.
    """
    found = _UNIT_BEHIND.match(line, at)
    if found is None or found["list"]:  # `1850/442 kJ/kcal`: units on their own
        return "", at
    word = " ".join(found["unit"].casefold().split())
    if word in _UNIT:
        return _UNIT[word], found.end("unit")
    begin = found.start("unit")
    if word in _JOINERS or _label_at(line, begin) or _NOTHING.match(line, begin):
        return "", at
    return found["unit"], found.end("unit")
