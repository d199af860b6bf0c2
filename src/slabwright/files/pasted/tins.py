"""The tin that a pasted text speaks of, wherever it does."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from slabwright.errors import GeometryError
from slabwright.files.card.sizes import read_tin
from slabwright.slab.tin import Tin

_N: Final = r"\d+(?:[.,]\d+)?(?:\s?[½¼¾])?"
_U: Final = r"(?:\s*-?\s*(?:cm|mm|inches|inch|in\b|\"|''|”|″))"
_SIZE: Final = re.compile(
    rf"(?P<size>{_N}{_U}?\s*(?:x|×|by)\s*{_N}{_U}?(?:\s*(?:x|×|by)\s*{_N}{_U})?|{_N}{_U})"
    r"(?P<other>\s*(?:/|\()[^)\w]*[\d½].{0,24}?(?:inch|in\b|cm|\"|”)[^)]{0,12}\)?)?"
    r"(?P<words>(?:[\s,-]+(?!tin\b|pan\b|tray\b|dish\b|frame\b|mould\b)[a-z-]+){0,6}?)"
    r"\s+(?P<what>tins?|pans?|trays?|dish|frame|mould|mold|traybake tin|cake tin)\b",
    re.IGNORECASE,
)
_SHAPE: Final = re.compile(
    rf"(?P<shape>square|round)\s+(?:[a-z-]+\s+){{0,2}}?(?:tin|pan|tray)[^.;\d]{{0,20}}?(?P<size>{_N}{_U})",
    re.IGNORECASE,
)
_LABELLED: Final = re.compile(
    r"^\W*(?:tin|pan|tray|equipment|you(?:'|’)?ll need|frame)\b[^:\d]*[:\s]\s*"
    r"(?:an?\s+)?"
    rf"(?P<size>{_N}{_U}?\s*(?:x|×|by)\s*{_N}{_U}(?:\s*(?:x|×|by)\s*{_N}{_U})?|{_N}{_U})"
    r"\s*(?P<words>[a-z -]{0,30})",
    re.IGNORECASE,
)
_DEEP: Final = re.compile(rf"(?P<deep>{_N}{_U})\s+deep\b", re.IGNORECASE)
_BAKING: Final = re.compile(r"muffin|saucepan|frying|loaf", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class TinSeen:
    """A tin that the text names, in the words of a card."""

    text: str
    tin: Tin
    start: int
    end: int


@lru_cache(maxsize=4096)
def tins_in(text: str) -> tuple[TinSeen, ...]:
    """Every tin in this line, with the words of a card for it."""
    found: list[TinSeen] = []
    labelled = _LABELLED.search(text)
    found_in = [*_SIZE.finditer(text), *_SHAPE.finditer(text)]
    if labelled and not found_in:
        found_in = [labelled]
    for match in found_in:
        words = match.groupdict()
        said = f"{words.get('words') or ''} {words.get('shape') or ''}".casefold()
        if _BAKING.search(match.group()):
            continue
        size = re.sub(r"''", '"', words["size"]).replace("-", " ")
        shape = next((s for s in ("square", "round") if s in said), "")
        deep = _DEEP.search(text, match.start())
        depth = f", {deep['deep']} deep" if deep and "x" not in size[-6:] else ""
        card = f"{shape} {size}{depth}".strip()
        try:
            tin = read_tin(card)
        except (GeometryError, ValueError):
            continue
        if tin is not None:
            found.append(TinSeen(_words(card, tin), tin, match.start(), match.end()))
    return tuple(found)


def _words(card: str, tin: Tin) -> str:
    """Words that a card reads as just this tin."""
    try:
        again = read_tin(card)
    except (GeometryError, ValueError):
        again = None
    return card if again == tin else tin.describe().replace("×", "x")
