"""Paths of files in a kitchen folder: which can stand on any disk."""

import unicodedata
from typing import Final

from slabwright.errors import Mistake, Where

MOST_PATH: Final = 240
"""Characters of a path within the folder."""
MOST_DEEP: Final = 8
"""Folders and file of a path."""
_MOST_PART_BYTES: Final = 255
_MOST_SHOWN: Final = 80


def alike(path: str) -> str:
    """The same for paths that differ in case or in how their accents are written."""
    folded = unicodedata.normalize("NFC", path).casefold()
    return unicodedata.normalize("NFC", folded)


def shown(path: str) -> Where:
    """A path as it can be shown: not too long, nothing unseen in it."""
    short = path if len(path) <= _MOST_SHOWN else f"{path[: _MOST_SHOWN - 1]}…"
    return Where(ascii(short)[1:-1] if _is_odd(short) else short)


def wrong_path(path: str) -> Mistake | None:
    """What is wrong with the path of a file, relative to its folder, if anything is."""
    what = _what_is_wrong(path)
    return Mistake(what, "Rename it, or leave it out.", shown(path)) if what else None


def _what_is_wrong(path: str) -> str:
    parts = path.split("/")
    if _is_odd(path):
        return "Its name holds characters that no file's name has."
    if "\\" in path or ":" in path:
        return "Its name holds a backslash or a colon."
    if path.startswith("/"):
        return "Its path doesn't begin in the folder."
    if any(part in {"", ".", ".."} for part in parts):
        return "Its path leaves the folder, or names no file."
    if len(parts) > MOST_DEEP:
        return f"It lies {len(parts)} deep; at most {MOST_DEEP} is taken."
    longest = max(len(part.encode()) for part in parts)
    if len(path) > MOST_PATH or longest > _MOST_PART_BYTES:
        return f"Its path has {len(path)} characters; at most {MOST_PATH} are taken."
    return ""


def _is_odd(path: str) -> bool:
    return any(unicodedata.category(c) in {"Cc", "Cs"} for c in path)
