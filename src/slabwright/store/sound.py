"""What may go into the store: sizes, and characters that every engine can keep."""

from typing import Final

from slabwright.errors import Mistake
from slabwright.store.errors import StoreError

MOST_TEXT_BYTES: Final = 1024 * 1024
"""Of a card or a paper, in UTF-8: some hundred times a long card."""
MOST_NAME: Final = 120
"""Characters of a name: a kitchen's, a slab's, a person's."""
MOST_NOTE: Final = 10_000
"""Characters of a note or a caption."""


def text(value: str, what: str) -> str:
    """This very text, if the store can keep it.

    Raises:
        StoreError: if it is too long, or holds what no text file does.
    """
    size = len(_encoded(value, what))
    if size > MOST_TEXT_BYTES:
        raise _error(
            f"{what} has {size / MOST_TEXT_BYTES:.1f} MiB; at most 1 is kept.",
            "Take out what doesn't belong there.",
        )
    return value


def name(value: str, what: str) -> str:
    """This very name, if it is one.

    Raises:
        StoreError: if it is blank, too long, or not text.
    """
    if not value.strip():
        raise _error(f"{what} has no name.", "Give it one.")
    return words(value, f"The name of {what[:1].lower()}{what[1:]}", MOST_NAME)


def words(value: str, what: str, most: int = MOST_NOTE) -> str:
    """These very words, if they are few enough.

    Raises:
        StoreError: if they are too many, or not text.
    """
    _encoded(value, what)
    if len(value) > most:
        raise _error(
            f"{what} has {len(value):,} characters; at most {most:,} are kept.",
            "Shorten it.",
        )
    return value


def is_text(value: str) -> bool:
    """Whether every engine can keep these characters."""
    return "\0" not in value and not any("\ud800" <= c <= "\udfff" for c in value)


def _encoded(value: str, what: str) -> bytes:
    if not is_text(value):
        raise _error(
            f"{what} holds characters that are not text.", "Type or paste it again."
        )
    return value.encode("utf-8")


def _error(what: str, do: str) -> StoreError:
    return StoreError(Mistake(what, do))
