"""Where a file of a kitchen folder lies: which paths are sound, and whose they are."""

import re
from typing import Final

from slabwright.store.papers import NAMES

PHOTOS: Final = "photos"
HISTORY: Final = "history"
CARD_FOLDERS: Final = {"slabs": "slab", "components": "component"}
_OURS: Final = re.compile(rf"{HISTORY}/.*|(?:{'|'.join(CARD_FOLDERS)})/[^/]+\.card")


def is_ours(path: str) -> bool:
    """Whether the store writes such a file itself, from cards, papers or histories."""
    return path in NAMES or _OURS.fullmatch(path) is not None
