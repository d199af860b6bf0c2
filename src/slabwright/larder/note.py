"""Words around a name on a line: how it is handled, and where notes on it begin."""

from collections.abc import Sequence
from typing import Final

from slabwright.larder.table import words_for
from slabwright.larder.words import parse, plain_word

HANDLING: Final = frozenset(map(plain_word, words_for("handling")))
"""Words that say how a thing is bought or handled, not what it is."""


def strength(words: Sequence[str]) -> int:
    """How many words at the start are a strength: `72 %`, `42 DE`."""
    for count in (1, 2):
        parsed = parse(" ".join(words[:count]))
        if "," not in words[:count] and parsed.numbers and not parsed.words:
            return count
    return 0


def begins_note(words: Sequence[str]) -> bool:
    """Whether these words behind a name can be a note on it."""
    if not words or not words[0][0].isalpha():
        return True
    first = plain_word(words[0].casefold().rstrip(".;:"))
    if first == "and":
        second = plain_word(words[1].casefold()) if len(words) > 1 else ""
        return second in HANDLING or second in {"zest", "juice", "rind"}
    if first in words_for("note") or first in HANDLING:
        return True
    return first.endswith(("ed", "ly")) and first not in words_for("telling")
