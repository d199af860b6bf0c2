"""The five ways in which a slab is sold, each understood from plain words."""

import re
from difflib import get_close_matches
from enum import StrEnum
from typing import Final


class Selling(StrEnum):
    """How a slab reaches who eats it; what must be shown depends on it."""

    LOOSE = "loose on the counter"
    """Not packed, or packed only when it has been asked for."""
    PACKED_HERE = "packed here"
    """On the premises where it is sold, before anybody has chosen it."""
    FOR_A_SHOP = "packed for another shop"
    POSTED = "sent by post"
    TRAY = "catering tray"
    """For somebody who serves it: a café, a canteen."""


_AFTER_CHOICE: Final = re.compile(
    r"\b(?:packed|wrapped|boxed|bagged)\b.*\b(?:to order|when (?:it is |they are )?"
    r"(?:ordered|chosen|asked)|(?:after|once|on)\b.*\b(?:order\w*|chos\w*|choice))",
    re.IGNORECASE,
)
_WORDS: Final = (
    (Selling.POSTED, re.compile(
        r"\b(?:by|in the) (?:post|mail|courier)\b|\bpost(?:ed|al)\b"
        r"|\bmail(?:ed| order)\b|\bonline\b|\bcourier\b", re.IGNORECASE)),
    (Selling.TRAY, re.compile(
        r"\bcater(?:ing|ers?|ed)\b|\bfor (?:a |the )?(?:caf[eé]s?|canteens?)\b",
        re.IGNORECASE)),
    (Selling.FOR_A_SHOP, re.compile(
        r"\b(?:for|to|in|by) (?:an)?other (?:shops?|business\w*|sellers?)\b"
        r"|\bwholesale\b|\bstockists?\b"
        r"|\b(?:pre-?)?packed for (?!our |my |own )(?:a |the )?\w*\s?shops?\b",
        re.IGNORECASE)),
    (Selling.PACKED_HERE, re.compile(
        r"\b(?:pre-?)?(?:packed|wrapped|boxed|bagged)\b.*?"
        r"\b(?:here|on the premises|in the shop|on site|by us|for direct sale)\b"
        r"|\b(?:here|on site)\b.*\b(?:packed|wrapped|boxed|bagged)\b", re.IGNORECASE)),
    (Selling.LOOSE, re.compile(
        r"\bloose\b|\bunwrapped\b|\bunpacked\b|\b(?:on|over|at|from) the counter\b"
        r"|\bby the (?:piece|slice)\b", re.IGNORECASE)),
)  # fmt: skip
_IN_THE_SHOP: Final = {Selling.LOOSE, Selling.PACKED_HERE}
_DOUBT: Final = re.compile(r"\b(?:not|never|no|or|neither|nor)\b", re.IGNORECASE)
_PACKED: Final = re.compile(r"\b(?:packed|wrapped|boxed|bagged)\b", re.IGNORECASE)


def way_of(words: str) -> Selling | None:
    """The way that these words say; None where they say none, or more than one.

    >>> way_of("loose on the counter").value, way_of("wrapped here, box of 2").value
    ('loose on the counter', 'packed here')
    >>> way_of("boxed when ordered").value, way_of("in boxes of 4")
    ('loose on the counter', None)
    >>> way_of("boxed to order, sent by post").value
    'sent by post'
    """
    if _DOUBT.search(words):
        return None
    found = [way for way, pattern in _WORDS if pattern.search(words)]
    if _AFTER_CHOICE.search(words) and not set(found) - _IN_THE_SHOP:
        return Selling.LOOSE  # what is packed once it is chosen is sold loose
    if Selling.LOOSE in found and _PACKED.search(words):
        return None  # loose, and packed as well
    return found[0] if len(found) == 1 else None


def nearest_ways(words: str) -> tuple[Selling, ...]:
    """Ways that these words could mean, the likeliest first; all five if any could."""
    plain = words.casefold()
    found = [way for way, pattern in _WORDS if pattern.search(words)]
    if not found and re.search(r"\bbox|\bpack|\bwrap|\bbag|\btub", plain):
        found = [Selling.PACKED_HERE, Selling.FOR_A_SHOP]
    near = get_close_matches(plain, [way.value for way in Selling], 3, 0.5)
    return tuple(dict.fromkeys([*found, *map(Selling, near)])) or tuple(Selling)
