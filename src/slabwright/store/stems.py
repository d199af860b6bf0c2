"""What a card's file is called: a name that every file system can keep."""

import re
import unicodedata
from collections.abc import Container
from typing import Final

from slabwright.errors import Mistake
from slabwright.store import sound
from slabwright.store.errors import StoreError

MOST_STEM: Final = 80
"""Characters of a file's name without `.card`."""
_MOST_BYTES: Final = 200
_ROOM_FOR_NUMBER: Final = MOST_STEM - 10

_LETTERS: Final = str.maketrans(
    {"ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"}
)
"""Those that Unicode doesn't take apart into a plain letter and its accent."""
_RESERVED: Final = re.compile(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\.|$)")
_UNSOUND: Final = re.compile(r'[/\\:*?"<>|\x00-\x1f\x7f]|^[. ]|[. ]$')
_LIKE_OURS: Final = re.compile(r"(?i)\.(card|yaml)$")
"""Ends of the files in a history: a stem with one could clash with them."""


def made(name: str, otherwise: str) -> str:
    """A stem for this name: small ASCII letters, digits and hyphens.

    Args:
        name: of the card.
        otherwise: what to call it if no letter of its name is left.
    """
    plain = unicodedata.normalize("NFKD", name.casefold().translate(_LETTERS))
    words = re.findall(r"[a-z0-9]+", re.sub(r"[^\x00-\x7f]|['’]", "", plain))
    stem = "-".join(words)[:_ROOM_FOR_NUMBER].rstrip("-") or otherwise
    return f"{otherwise}-{stem}" if _RESERVED.match(stem) else stem


def numbered(stem: str, taken: Container[str]) -> str:
    """This stem with the first number behind it that makes it another.

    Args:
        stem: as `made` gives it.
        taken: keys (`key`) of the others.
    """
    number = 2
    while f"{stem}-{number}" in taken:
        number += 1
    return f"{stem}-{number}"


def key(stem: str) -> str:
    """The same for stems that a file system might take for one another."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", stem).casefold())


def checked(stem: str) -> str:
    """This very stem, if a file can have it.

    Raises:
        StoreError: if some file system can't keep it.
    """
    sound.words(stem, "The file's name", MOST_STEM)
    if (
        _UNSOUND.search(stem)
        or _RESERVED.match(stem)
        or _LIKE_OURS.search(stem)
        or not 0 < len(stem.encode("utf-8")) <= _MOST_BYTES
    ):
        raise StoreError(
            Mistake(
                f"A card's file can't be called {stem!r}.",
                "Rename it: letters, digits and hyphens will do.",
            )
        )
    return stem
