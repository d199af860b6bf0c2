"""Where a name ends and its notes begin, and what words of size mean."""

import re
from typing import Final

from slabwright.files.card.names import Names

_SIZES: Final = re.compile(
    r"\b(extra[- ]large|very[- ]large|XL|large|lge|lrg|medium|med|small|sml|jumbo)\b",
    re.IGNORECASE,
)
_SIZE_NAMES: Final = {
    "extra large": "very large", "xl": "very large", "lge": "large", "lrg": "large",
    "med": "medium", "sml": "small",
}  # fmt: skip
HANDLING: Final = re.compile(
    r"(?:(?:US|UK|British|Irish|English|American|local|free[- ]range|organic|fresh"
    r"|freshly|ripe|unwaxed|whole|raw|cold|chilled|warm|hot|melted|softened|soft|firm"
    r"|good|plump|big|finely|roughly|coarsely|chopped|grated|diced|cubed|sifted|beaten"
    r"|extra[- ]large|very[- ]large|large|lge|lrg|medium|medium[- ]sized|med|small"
    r"|sml|XL|jumbo|very)"
    r"(?:\s*,\s*|\s+))+",
    re.IGNORECASE,
)
"""Words before a name that say how big it is and what is done to it."""
_NOTE_JOINT: Final = re.compile(r"\s*(?:,|;|\(|\)|\s[-–—]\s)\s*")
_RUNS_ON: Final = re.compile(
    r"\s+(?=(?:or|for|soaked|cut|at\s+room|straight\s+from|from\s+the|in\s+their|in\s+its"
    r"|plus|with|to\s+(?:finish|decorate|dust|serve|taste)|as\s+needed)\b)",
    re.IGNORECASE,
)
_MAIN: Final = re.compile(r"[,(;:]")


def name_and_notes(text: str, names: Names) -> tuple[str, tuple[str, ...], int]:
    """The name, its notes, and where in the text the name begins."""
    start, known = 0, names.length_of_name(text)
    handling = HANDLING.match(text)
    if not known and handling and names.length_of_name(text[handling.end() :]):
        start = handling.end()
        known = names.length_of_name(text[start:])
    if not known and (runs_on := _RUNS_ON.search(text)):
        known = names.length_of_name(text[: runs_on.start()])
    slash = text.find("/")
    if not known and slash > 0 and names.is_known(text[:slash]):
        return text[:slash].strip(), (f"or {text[slash + 1 :].strip()}",), 0
    rest = text[start:]
    joints = [
        found.start()
        for found in (_NOTE_JOINT.search(rest, known), _RUNS_ON.search(rest, known))
        if found
    ]
    end = min(joints, default=len(rest))
    name = rest[:end].strip(" ,")
    before = text[:start].strip(" ,")
    notes = [before, *_NOTE_JOINT.split(rest[end:])]
    kept = tuple(note.strip() for note in notes if note.strip())
    return name or text.strip(), kept, start


def main_words(text: str) -> str:
    """What stands before the first comma or bracket, for a quick look."""
    return _MAIN.split(text.strip(), maxsplit=1)[0].strip()


def is_known(text: str, names: Names) -> bool:
    """Whether these words begin with a name that is known here."""
    rest = text.strip()
    if names.length_of_name(rest) or names.is_known(main_words(rest)):
        return True
    runs_on = _RUNS_ON.search(rest)
    return bool(runs_on and names.is_known(rest[: runs_on.start()]))


def size_in(text: str) -> str:
    """The size that these words say, by its one name: medium, very large; or empty."""
    found = _SIZES.search(text)
    if found is None:
        return ""
    plain = found.group(1).casefold().replace("-", " ")
    return _SIZE_NAMES.get(plain, plain)
