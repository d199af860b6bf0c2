"""Finding cards by the words in them, in any language's capitals."""

import unicodedata
from typing import Final

import sqlalchemy as sa

from slabwright.store import sound
from slabwright.store.schema import CARD

MOST_FIND: Final = 200
"""Characters that are looked for; what goes beyond is left out."""


def words_in(name: str, text: str) -> str:
    """What is kept for searching: each word once, without capitals."""
    return " ".join(dict.fromkeys(_folded(f"{name} {text}").split()))


def having(find: str) -> sa.ColumnElement[bool]:
    """That a card holds each of these words, or a word with it inside."""
    if not sound.is_text(find):
        return sa.false()
    words = _folded(find[:MOST_FIND]).split()
    found = (CARD.c.search.contains(word, autoescape=True) for word in words)
    return sa.and_(sa.true(), *found)


def _folded(text: str) -> str:
    folded = unicodedata.normalize("NFC", text).casefold()
    return unicodedata.normalize("NFC", folded)
