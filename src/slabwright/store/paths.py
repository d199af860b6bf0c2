"""Where a file of a kitchen folder lies: which paths are sound, and whose they are."""

import re
import unicodedata
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.store.papers import NAMES

MOST_PATH: Final = 240
"""Characters of a path within the folder."""
MOST_DEEP: Final = 8
"""Folders and file of a path."""
_MOST_PART_BYTES: Final = 255

PHOTOS: Final = "photos"
HISTORY: Final = "history"
CARD_FOLDERS: Final = {"slabs": "slab", "components": "component"}
_OURS: Final = re.compile(rf"{HISTORY}/.*|(?:{'|'.join(CARD_FOLDERS)})/[^/]+\.card")


def is_ours(path: str) -> bool:
    """Whether the store writes such a file itself, from cards, papers or histories."""
    return path in NAMES or _OURS.fullmatch(path) is not None


def key(path: str) -> str:
    """The same for paths that a file system might take for one another."""
    folded = unicodedata.normalize("NFC", path).casefold()
    return unicodedata.normalize("NFC", folded)


def wrong(path: str) -> Mistake | None:
    """What is wrong with this path, if anything is."""
    shown = path if len(path) <= 80 else f"{path[:77]}…"
    where = Where(ascii(shown)[1:-1] if _is_odd(path) else shown)
    what = _what_is_wrong(path)
    return Mistake(what, "Rename or leave out this file.", where) if what else None


def _what_is_wrong(path: str) -> str:
    parts = path.split("/")
    if _is_odd(path):
        return "The path holds characters that no file's name has."
    if "\\" in path or ":" in path:
        return "The path holds a backslash or a colon."
    if path.startswith("/"):
        return "The path doesn't begin in the kitchen's folder."
    if any(part in {"", ".", ".."} for part in parts):
        return "The path leaves its folder or names no file."
    if len(parts) > MOST_DEEP:
        return f"The file lies {len(parts)} deep; at most {MOST_DEEP} is taken."
    if len(path) > MOST_PATH or _longest(parts) > _MOST_PART_BYTES:
        return f"The path has {len(path)} characters; at most {MOST_PATH} are taken."
    return ""


def _longest(parts: list[str]) -> int:
    return max(len(part.encode("utf-8")) for part in parts)


def _is_odd(path: str) -> bool:
    return any(unicodedata.category(c) in {"Cc", "Cs"} for c in path)
