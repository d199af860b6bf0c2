"""Ingredients that a sentence names, as against words that only look like one."""

import re
from collections.abc import Callable, Collection, Iterator
from typing import Final

from slabwright.larder.ingredient import Ingredient
from slabwright.larder.table import words_for
from slabwright.larder.words import plain, plain_word

_TOKEN: Final = re.compile(r"[^\W_]+(?:['’][^\W_]+)*%?")
_GAP: Final = re.compile(r"[ \t]*-?[ \t]*")
"""What may stand between two words of one name."""


def spans(
    text: str,
    known: Callable[[str], Ingredient | None],
    first_words: Collection[str],
    *,
    longest: int,
) -> Iterator[tuple[int, int, Ingredient]]:
    """Start, end and ingredient of each name in a text, the longest that fits.

    Args:
        text: a sentence, as written.
        known: the ingredient of exactly this name.
        first_words: plain words with which a name may begin.
        longest: most words in a name.
    """
    tokens = list(_TOKEN.finditer(text))
    words = [plain(token.group()) for token in tokens]
    i = 0
    while i < len(tokens):
        if plain_word(words[i].rstrip("%")) not in first_words:
            i += 1
            continue
        found = _longest(text, tokens, i, known, longest)
        if found is None or _means_else(text, tokens, words, i, found[0]):
            i += 1
            continue
        end, ingredient = found
        yield tokens[i].start(), tokens[end - 1].end(), ingredient
        i = end


def _longest(
    text: str,
    tokens: list[re.Match[str]],
    start: int,
    known: Callable[[str], Ingredient | None],
    longest: int,
) -> tuple[int, Ingredient] | None:
    end = start + 1
    while end < min(len(tokens), start + longest):
        if not _GAP.fullmatch(text, tokens[end - 1].end(), tokens[end].start()):
            break
        end += 1
    for stop in range(end, start, -1):
        ingredient = known(text[tokens[start].start() : tokens[stop - 1].end()])
        if ingredient:
            return stop, ingredient
    return None


def _means_else(
    text: str, tokens: list[re.Match[str]], words: list[str], start: int, end: int
) -> bool:
    before = words[start - 1] if start else ""
    after = words[end] if end < len(words) else ""
    if after and not _GAP.fullmatch(text, tokens[end - 1].end(), tokens[end].start()):
        after = ""
    if after in words_for("thing") or before in words_for("before no name"):
        return True
    if end > start + 1:
        return False
    if words[start] in words_for("the mix"):
        return True
    verb = words[start] in words_for("verb") and after in words_for("after a verb")
    return verb and _opens(text, tokens, words, start)


def _opens(
    text: str, tokens: list[re.Match[str]], words: list[str], start: int
) -> bool:
    """Whether an order may begin at this word."""
    if start == 0 or words[start - 1] in words_for("before a verb"):
        return True
    gap = text[tokens[start - 1].end() : tokens[start].start()]
    return any(mark in gap for mark in ".;:,!")
