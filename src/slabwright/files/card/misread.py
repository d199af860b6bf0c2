"""Steps that may have been meant for something else: say so, and never in silence."""

import re
from typing import Final

from rapidfuzz.distance import DamerauLevenshtein

from slabwright.files.card.amounts import STEP_UNITS
from slabwright.files.card.names import VESSEL_WORDS, Names
from slabwright.files.told import read_told
from slabwright.formula.kinds import is_like_a_kind
from slabwright.quantity.numbers import Number, number_at

_CARD_WORDS: Final = (
    "ends", "loses", "reads", "deep", "density", "kind", "into", "layer", "component",
    "finish", "note", "slab", "tin", "cut", "keep", "sold", "proved", "called",
    "pictured", "dated", "costs",
)  # fmt: skip
_REAL_WORDS: Final = frozenset(
    "bind peel beat melt add cool coat fold pour rest turn trim line lay lift set "
    "spread press dip melts tint cream into keep deep bend level lower find mind wind "
    "sweat steep lace loose dot not no wait prove proves slabs layers keeps notes tins "
    "cuts endless".split()
)
"""Words of the bench that only look like card words."""

_HAS_VALUE: Final = re.compile(
    r"[\w ]{0,12}?\d[\d.,x× ]*"
    r"\s*(?:g|kg|%|mm|cm|in|pieces|wedges|g/ml)?(?:\b|$)(?!\s*min)"
)
_AMOUNT_INSIDE: Final = re.compile(
    r"\d\s?(?:g|kg|ml|l|oz|lb|tsp|tbsp|cups?|grams?)\b", re.IGNORECASE
)
_LIKE_AMOUNT: Final = re.compile(
    r"(?:about |approx\.? ?|~ ?)?[\dlIOo|][\dlIOo|.,]*"
    r"\s?(?:g|kg|ml|oz|tsp|tbsp|cups?)\s+\w"
)
"""`l00 g caster sugar`: letters that a scanner took for figures."""
_STARTS_NUMBER: Final = re.compile(r"[\d½¼¾⅓⅔⅛⅜⅝⅞]")
_NUMBERED: Final = re.compile(r"^\W*\d")


_NUMBERS: Final = frozenset("ends loses reads deep density cut sold proved".split())
"""Card words whose value has a number first."""


def misread(text: str, names: Names) -> str:
    """What a step looks like beside: a card word, or `amount` for an ingredient line.

    Empty for a step that is nothing but a step.
    """
    return _card_word(text) or _amount_unread(text, names)


def _card_word(text: str) -> str:
    """The card word that it looks like: misspelt, or without a value of its own."""
    first, _, rest = text.partition(" ")
    word = first.casefold().strip(".:,")
    value = rest.strip()
    if _looks_weighed(text):
        return "amount"
    if word == "kind":
        return word if is_like_a_kind(value) else ""
    if word in _CARD_WORDS:
        is_block = word in {"layer", "component", "slab"} and bool(value)
        is_size = bool(_HAS_VALUE.match(value)) and word not in {"keep", "into"}
        return word if is_block or is_size else ""
    if len(word) < len("tin") or word in _REAL_WORDS or not word.isalpha():
        return ""
    for card_word in _CARD_WORDS:
        is_short = len(card_word) < len("layers") or card_word == "called"
        allowed = 1 if is_short else 2
        if abs(len(word) - len(card_word)) > allowed or len(card_word) < len("keep"):
            continue
        if DamerauLevenshtein.distance(word, card_word) <= allowed and _fits(
            card_word, value
        ):
            return card_word
    return ""


def _amount_unread(text: str, names: Names) -> str:
    """Whether a step begins with a name or a mark and holds an amount: `amount`."""
    if not _AMOUNT_INSIDE.search(text):
        return ""
    begins = not text[:1].isalpha() or names.length_of_name(text) > 0
    return "amount" if begins else ""


def _looks_weighed(text: str) -> bool:
    """Whether a step begins like an ingredient: a number that is no time or heat."""
    if _LIKE_AMOUNT.match(text):
        return True
    number = number_at(text)
    if not isinstance(number, Number) or not _STARTS_NUMBER.match(text):
        return False
    return STEP_UNITS.match(text, number.end) is None


def _fits(card_word: str, value: str) -> bool:
    """Whether what follows could be a value of this card word."""
    if card_word in _NUMBERS:
        return bool(_NUMBERED.match(value))
    if card_word in {"layer", "component"}:
        return bool(value)
    if card_word == "costs":
        return not isinstance(read_told(value), str)
    if card_word == "dated":
        return bool(re.match(r"best before|use by|none", value, re.IGNORECASE))
    if card_word in {"called", "pictured"}:
        return bool(value)
    if card_word == "kind":
        return is_like_a_kind(value)
    if card_word == "into":
        return not VESSEL_WORDS.isdisjoint(value.casefold().split()[-1:])
    return card_word in {"keep", "note", "slab"} and bool(re.search(r"\d|\w", value))
