"""Headings in a pasted recipe: which line names a layer, and what it calls it."""

import re
from typing import Final

from slabwright.files.card.lines import LONGEST_NAME
from slabwright.files.pasted.sheet import PastedLine

_FOR_THE: Final = re.compile(
    r"^for\s+(?:the\s+|a\s+|your\s+)?(?P<name>[^:,.]+):?$", re.IGNORECASE
)
_ASIDE: Final = re.compile(
    r"\s*\((?:makes|enough|see|about|optional)[^)]*\)|\s+[-–—]\s+\d[\d\sx×.]*(?:cm|in|mm)\b.*$",
    re.IGNORECASE,
)
_TAIL: Final = re.compile(
    r"\s*(?:ingredients?|\((?:layer|bottom|top|middle)[^)]*\)|layer\s+\d+)\s*$",
    re.IGNORECASE,
)
_LAYER: Final = re.compile(
    r"^(?:layer\s+\d+|\d+(?:st|nd|rd|th)\s+layer)\s*[:.–-]\s*", re.IGNORECASE
)
_OF_A_LAYER: Final = re.compile(
    r"\b(?:base|topping|layer|filling|crust|coating|glaze|icing|frosting|drizzle"
    r"|ganache|crumble|streusel)$",
    re.IGNORECASE,
)
MOST_WORDS: Final = 8
"""A heading is short."""


def heading_of(line: PastedLine, *, above_ingredient: bool) -> str:
    """What a heading calls its layer; empty if the line is none.

    Args:
        line: the line.
        above_ingredient: whether the next line that says anything is an ingredient.
    """
    text = _ASIDE.sub("", line.line.text.strip()).strip(" -–—=*")
    words = text.split()
    if not words or len(words) > MOST_WORDS or len(text) > LONGEST_NAME:
        return ""
    if found := _FOR_THE.match(text):
        return _named(found["name"]) if not re.search(r"\d", text) else ""
    says_so = _LAYER.match(text) or line.hashes or line.hint == "heading"
    if says_so or text.endswith(":"):
        return _named(text)
    if re.search(r"\d", text) or text.endswith((".", "!", "?", ",")):
        return ""
    letters = [c for c in text if c.isalpha()]
    if letters and all(c.isupper() for c in letters):
        return _named(text)
    if above_ingredient and not line.is_marked:
        return _named(text)
    return ""


def names_a_layer(text: str) -> bool:
    """Whether it ends as layers do and no ingredient does: `Ginger topping`."""
    return _OF_A_LAYER.search(text) is not None


def _named(text: str) -> str:
    plain = _LAYER.sub("", text.strip(" :-–—"))
    plain = _TAIL.sub("", plain).strip(" :-–—")
    if found := _FOR_THE.match(plain):
        plain = found["name"].strip()
    if plain.isupper():
        plain = plain.capitalize()
    return plain[:1].upper() + plain[1:] if plain else ""
