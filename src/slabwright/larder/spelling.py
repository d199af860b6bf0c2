"""Words that a slip of the finger may have meant."""

from collections.abc import Collection, Iterator
from itertools import islice, product
from typing import Final

from rapidfuzz import process
from rapidfuzz.distance import OSA

_SHORTEST: Final = 4
_LONG: Final = 8
_MOST: Final = 64
"""Combinations that are tried for one name."""


def corrections(
    words: tuple[str, ...], known: Collection[str]
) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The same number of known words, nearest first, with the slips they take.

    A word of 4 to 7 letters may hold one slip, a longer one two; its first letter is
    right or has changed places with the second. A known word is never changed, so that
    `salted` cannot become `unsalted`, or `rye` rice.
    """
    choices = [((0, word),) if word in known else _near(word, known) for word in words]
    if not all(choices) or all(word in known for word in words):
        return
    combined = islice(product(*choices), _MOST)
    slips = [(sum(n for n, _ in c), tuple(word for _, word in c)) for c in combined]
    yield from sorted(slips)


def _near(word: str, known: Collection[str]) -> tuple[tuple[int, str], ...]:
    if len(word) < _SHORTEST or not word.isalpha():
        return ()
    most = 2 if len(word) >= _LONG else 1
    close = process.extract(
        word, known, scorer=OSA.distance, score_cutoff=most, limit=8
    )
    return tuple(
        (int(apart), other)
        for other, apart, _ in close
        if other[0] == word[0] or other[:2] == word[1::-1]
    )
