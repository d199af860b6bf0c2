"""Allergens that a supplier's text names, and nobody has written down yet."""

import re
from collections.abc import Collection, Iterator
from typing import Final

from slabwright.errors import Mistake
from slabwright.files.supplier_text import listed
from slabwright.label.allergen.annex import plain_name
from slabwright.label.allergen.part_words import told

_SENTENCE: Final = re.compile(r"(?<=[.;!])\s+|\n(?=\s*\n)")
_MAY: Final = re.compile(
    r"\bmay\b|\btraces?\b|\b(?:made|produced|packed) (?:in|on|where)\b"
    r"|\bhandles?\b|\bsame (?:line|site|factory)\b",
    re.IGNORECASE,
)
_DENIED: Final = re.compile(
    r"\b(?:free (?:from|of)|(?:does not|doesn't) contain|without|no)\s[^,.;]*",
    re.IGNORECASE,
)
"""A denial, as far as its next comma: what follows may name something again."""


def unwritten_allergens(
    text: str, contains: Collection[str], may_contain: Collection[str]
) -> tuple[Mistake, ...]:
    """What the list of ingredients or the advice on allergens names besides.

    Nothing is taken from it by itself: who read the pack writes it down. What it
    denies is not asked after.

    Args:
        text: the supplier's text.
        contains: what was written down as in it, as the larder calls it: `milk`.
        may_contain: what was written down as perhaps in it.
    """
    sure: dict[str, str] = {}
    perhaps: dict[str, str] = {}
    for sentence in _sentences(text):
        found = perhaps if _MAY.search(sentence) else sure
        for word in told(sentence).words:
            for allergen in word.allergens if word.how == "contains" else ():
                found.setdefault(allergen, word.text)
    known = {name.casefold() for name in contains}
    warned = known | {name.casefold() for name in may_contain}
    notes = [_note(one, by, "contains") for one, by in sure.items() if one not in known]
    notes += [
        _note(one, by, "may contain")
        for one, by in perhaps.items()
        if one not in warned and one not in sure
    ]
    return tuple(notes)


def _sentences(text: str) -> Iterator[str]:
    for part in listed(text):
        yield from _SENTENCE.split(_DENIED.sub(" ", part))


def _note(allergen: str, word: str, how: str) -> Mistake:
    what = f"Its text names “{word}” ({plain_name(allergen)}): not written down yet."
    return Mistake(what, f"Read the pack, and say that it {how} it.")
