"""Words and numbers of an ingredient's name, so that two spellings of one name meet."""

import re
import unicodedata
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

_WRITTEN: Final = {
    "gelatin": "gelatine",
    "yogurt": "yoghurt",
    "yoghourt": "yoghurt",
    "soy": "soya",
    "castor": "caster",
    "fiber": "fibre",
    "flavor": "flavour",
    "flavored": "flavoured",
    "sulfured": "sulphured",
    "cacao": "cocoa",
    "whiskey": "whisky",
    "desicated": "desiccated",
    "dessicated": "desiccated",
    "bicarb": "bicarbonate",
    "choc": "chocolate",
    "crystallized": "crystallised",
    "pasteurized": "pasteurised",
    "homogenized": "homogenised",
    "caramelized": "caramelised",
    "stabilized": "stabilised",
    "mum": "mum",
}
"""American and shortened spellings, as written here."""

_SINGULAR: Final = {
    "leaves": "leaf",
    "halves": "half",
    "loaves": "loaf",
    "cookies": "cookie",
    "brownies": "brownie",
    "pies": "pie",
    "molasses": "molasses",
    "hundreds": "hundreds",
    "thousands": "thousands",
    "swiss": "swiss",
    "couscous": "couscous",
    "citrus": "citrus",
    "speculoos": "speculoos",
}

_KINDS: Final = {"%": "%", "percent": "%", "per cent": "%", "pc": "%"}
_AMOUNT = r"(\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?"
_BEFORE = re.compile(rf"\b(de|bloom)\s*{_AMOUNT}(?![\d%])", re.ASCII)
_AFTER = re.compile(
    rf"(?<![\w.]){_AMOUNT}\s*(%|per ?cent\b|pc\b|de\b|bloom\b)"
    r"(?P<of>(?:\s+(?:cocoa|solids?|fat|butterfat|milkfat|protein|minimum|min)\b)*)",
    re.ASCII,
)
_WORD = re.compile(r"[a-z0-9]+")
_FREE_RANGE = re.compile(r"free[ -]range")  # gluten-free is quite another free
_DIGIT = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class Number:
    """A strength that is part of a name: `60 %`, `42 DE`, `200 bloom`."""

    kind: str
    low: float
    high: float

    def apart(self, other: "Number") -> float:
        """How far two ranges lie apart; 0 if they overlap."""
        return max(0.0, self.low - other.high, other.low - self.high)

    def __str__(self) -> str:
        span = (
            f"{self.low:g}" if self.low == self.high else f"{self.low:g}-{self.high:g}"
        )
        if self.kind == "%":
            return f"{span} %"
        return f"{span} {'DE' if self.kind == 'de' else self.kind}"


@dataclass(frozen=True, slots=True)
class Parsed:
    """A name as words in their plain form, and its numbers."""

    words: tuple[str, ...]
    numbers: tuple[Number, ...] = ()
    fillers: tuple[str, ...] = ()
    """Words behind a number that may only explain it: `60 % cocoa`."""
    commas: bool = False

    @property
    def key(self) -> str:
        """One text for all that is written alike."""
        return " ".join((*self.words, *map(str, self.numbers)))

    @property
    def loose(self) -> tuple[str, ...]:
        """The same for every order of the words."""
        return tuple(sorted((*self.words, *map(str, self.numbers))))

    @property
    def joined(self) -> str:
        """The same however the words are run together."""
        return "".join((*self.words, *map(str, self.numbers)))

    def with_words(self, words: tuple[str, ...]) -> "Parsed":
        """The same with other words."""
        return replace(self, words=words)

    def without_fillers(self) -> "Parsed":
        """The same without the words that explain its numbers."""
        left = list(self.words)
        for filler in self.fillers:
            left.remove(filler)
        return replace(self, words=tuple(left), fillers=())


def plain(text: str) -> str:
    """Small letters without accents or apostrophes.

    >>> plain("Crème fraîche")
    'creme fraiche'
    """
    text = text.casefold()
    if not text.isascii():
        decomposed = unicodedata.normalize("NFKD", text.replace("–", "-"))
        text = "".join(c for c in decomposed if not unicodedata.combining(c))
        text = text.replace("’", "'").replace("‘", "'").replace("œ", "oe")
    text = text.replace("'", "").replace("&", " and ")
    return _FREE_RANGE.sub("freerange", text)


@lru_cache(maxsize=4096)
def plain_word(word: str) -> str:
    """Singular and spelt as the larder spells it.

    >>> [plain_word(w) for w in ("cherries", "leaves", "oats", "gelatin", "molasses")]
    ['cherry', 'leaf', 'oat', 'gelatine', 'molasses']
    """
    if word in _SINGULAR:
        word = _SINGULAR[word]
    elif len(word) > 3 and word.endswith("s") and word[-2] not in "sui":
        word = _without_plural(word)
    return _WRITTEN.get(word, word)


def _without_plural(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1]


def key_of(text: str) -> str:
    """The key of a name, without taking apart one that holds no number."""
    text = plain(text)
    if _DIGIT.search(text):
        return parse(text).key
    return " ".join(map(plain_word, _WORD.findall(text)))


@lru_cache(maxsize=4096)
def parse(text: str) -> Parsed:
    """Take a name apart.

    >>> parse("Dark chocolate, 60% cocoa").key
    'dark chocolate cocoa 60 %'
    >>> parse("glucose syrup DE 42").key == parse("Glucose Syrup 42DE").key
    True
    """
    numbers: list[Number] = []
    fillers: list[str] = []

    def keep(match: re.Match[str]) -> str:
        if match.re is _BEFORE:
            kind, low, high = match.group(1, 2, 3)
            behind = ""
        else:
            low, high, kind = match.group(1, 2, 3)
            behind = match.group("of")
        start = float(low.replace(",", "."))
        end = float(high.replace(",", ".")) if high else start
        numbers.append(
            Number(_KINDS.get(kind.replace("percent", "%"), kind), start, end)
        )
        fillers.extend(map(plain_word, _WORD.findall(behind)))
        return f" {behind} "

    text = plain(text)
    commas = "," in text
    if _DIGIT.search(text):
        text = _BEFORE.sub(keep, _AFTER.sub(keep, text))
    words = tuple(map(plain_word, _WORD.findall(text)))
    return Parsed(words, tuple(numbers), tuple(fillers), commas)
