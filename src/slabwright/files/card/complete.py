"""What can be written where the caret stands: ingredients, tins, card words."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from rapidfuzz import fuzz, process

from slabwright.files.card.lines import lines_of
from slabwright.files.card.opening import names_on
from slabwright.files.folder import Folder
from slabwright.formula.kinds import kinds
from slabwright.larder.index import words_of
from slabwright.larder.lookup import Larder
from slabwright.slab.presets import preset_names

MOST: Final = 8
_LEAST: Final = 2
"""Letters of an ingredient before any is offered."""
_NEAR: Final = 78.0
"""How alike, 0 to 100, a misspelt name must be. Our own limit."""
_AMOUNT: Final = re.compile(
    r"\s*(?:(?:\d+(?:[.,/]\d+)?|\d*\s?[½¼¾⅓⅔⅛])(?:\s*[-–]\s*\d+(?:[.,]\d+)?)?\s*"
    r"(?:(?:kg|g|ml|l|oz|lb|tsp|tbsp|cups?)\b\.?)?)\s*",
    re.IGNORECASE,
)
_HEAD_WORDS: Final = {
    "slab": "name of the slab", "tin": "its inner sizes, or a name",
    "cut": "5 x 4, trim 5 mm", "keep": "where, and how many days",
    "sold": "how, and the price", "note": "your own words",
    "proved": "the day it was baked and tasted",
    "layer": "the next layer up", "component": "a formula of its own",
}  # fmt: skip
_BLOCK_WORDS: Final = {
    "kind": "what it is like", "into": "the vessel for the lines below",
    "ends": "what it weighs now", "loses": "what goes",
    "deep": "depth by the ruler", "density": "g/ml", "note": "your own words",
    "layer": "the next layer up", "finish": "what happens to the whole slab",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Completion:
    """A text that can stand in place of what was begun."""

    start: int
    end: int
    text: str
    label: str
    note: str


def completions(text: str, at: int, folder: Folder) -> tuple[Completion, ...]:
    """What can be written at this place; the likeliest first, at most eight.

    Args:
        text: the card or pasted recipe, lines ended by newlines.
        at: where the caret stands, in characters.
        folder: the kitchen, whose names are offered.
    """
    at = max(0, min(at, len(text)))
    start = text.rfind("\n", 0, at) + 1
    typed = text[start:at]
    if re.search(r"(?:^|\s)#", typed):
        return ()
    found = _for_line(typed, text[:start], text, folder)
    once = {one.text: one for one in reversed([*found][: 4 * MOST])}
    offers = list(reversed(once.values()))[:MOST]
    return tuple(
        Completion(start + one.start, at, one.text, one.label, one.note)
        for one in offers
        if typed[one.start :] != one.text
    )


def _for_line(
    typed: str, before: str, text: str, folder: Folder
) -> Iterator[Completion]:
    bare = typed.lstrip()
    inset = len(typed) - len(bare)
    word, gap, rest = bare.partition(" ")
    value = inset + len(word) + len(gap) + len(rest) - len(rest.lstrip())
    begun = rest.lstrip()
    in_block = bool(re.search(r"(?im)^\s*(?:layer|component|finish)\b", before))
    match word.casefold() if gap else "":
        case "tin":
            yield from _among(begun, value, _tins(folder))
        case "cut" if " in " in begun:
            name = begun.rpartition(" in ")[2]
            own = ((name, "tin") for name, _ in folder.kitchen.tins)
            yield from _among(name, value + len(begun) - len(name), own)
        case "into":
            vessels = [(one.name, "vessel") for one in folder.kitchen.vessels]
            usual = (("bowl", "vessel"), ("pan", "vessel"), ("mixer", "vessel"))
            yield from _among(begun, value, (*vessels, *usual))
        case "kind":
            yield from _among(begun, value, ((name, "kind") for name in kinds()))
        case "layer" if " from " in begun:
            name = begun.rpartition(" from ")[2]
            yield from _among(
                name, value + len(begun) - len(name), _components(text, folder)
            )
        case _:
            yield from _free(typed, text, folder, in_block=in_block)


def _free(
    typed: str, text: str, folder: Folder, *, in_block: bool
) -> Iterator[Completion]:
    """A line that no card word opens: a word, an ingredient or a step."""
    amount = _AMOUNT.match(typed)
    begun = typed[amount.end() :] if amount else typed.lstrip()
    at = len(typed) - len(begun)
    tail = re.search(r"(?:\bof|\bwhen)\s+(?P<name>[^,]*)$", begun)
    if tail and amount is None:
        layers = ((name, "layer") for name in _layers(text))
        yield from _among(tail["name"], at + tail.start("name"), layers)
        return
    if amount is None and begun and " " not in begun:
        said = _BLOCK_WORDS if in_block else _HEAD_WORDS
        for word, note in said.items():
            if word.startswith(begun.casefold()):
                yield Completion(at, 0, f"{word} ", word, note)
    if "," in begun or len(begun.strip()) < _LEAST:
        return
    if amount is not None or in_block or not _has_card_head(text):
        yield from _ingredients(begun, at, text, folder)


def _has_card_head(text: str) -> bool:
    return bool(re.match(r"\s*(?:slab|component)\s", text, re.IGNORECASE))


def _ingredients(
    begun: str, at: int, text: str, folder: Folder
) -> Iterator[Completion]:
    asked = " ".join(begun.casefold().split())
    for name, note in _components(text, folder):
        if name.casefold().startswith(asked):
            yield Completion(at, 0, name, name, note)
    known = _called(folder.larder, folder.kitchen.country)
    if asked in known:
        return
    words = asked.split()
    fits = [
        name
        for name in known
        if all(any(part.startswith(word) for part in known[name][1]) for word in words)
    ]
    fits.sort(key=lambda name: (not name.startswith(words[0]), len(name), name))
    for name in fits[: 2 * MOST]:
        yield Completion(at, 0, known[name][0], known[name][0], known[name][2])
    if fits or len(asked) < 4:
        return
    near = process.extract(
        asked, known.keys(), scorer=fuzz.WRatio, limit=4, score_cutoff=_NEAR
    )
    for name, _, _ in near:
        yield Completion(at, 0, known[name][0], known[name][0], known[name][2])


@lru_cache(maxsize=8)
def _called(
    larder: Larder, country: str
) -> dict[str, tuple[str, tuple[str, ...], str]]:
    """Every name of this country: as written, its words, and what it is a name of."""
    here = set(words_of(country))
    found: dict[str, tuple[str, tuple[str, ...], str]] = {}
    for one in larder.ingredients:
        for called in one.names:
            key = called.text.casefold()
            if called.country in here and key not in found:
                note = "" if key == one.name.casefold() else one.name
                parts = tuple(re.findall(r"[^\W_]+%?", key))
                found[key] = (called.text, parts, note)
    return found


def _among(
    begun: str, at: int, offered: Iterable[tuple[str, str]]
) -> Iterator[Completion]:
    """Those in which every word that was begun begins a word."""
    words = begun.casefold().split()
    every = list(dict.fromkeys(offered))
    fits = [
        (name, note)
        for name, note in every
        if all(
            any(
                part.startswith(word)
                for part in re.findall(r"[^\W_]+", name.casefold())
            )
            for word in words
        )
    ]
    fits.sort(key=lambda one: not one[0].casefold().startswith(begun.casefold()))
    for name, note in fits:
        yield Completion(at, 0, name, name, note)


def _tins(folder: Folder) -> Iterator[tuple[str, str]]:
    for name, tin in folder.kitchen.tins:
        yield name, tin.describe()
    yield from ((name, "usual tin") for name in preset_names())


def _components(text: str, folder: Folder) -> tuple[tuple[str, str], ...]:
    kept = dict.fromkeys(one.name for one in folder.components.values())
    own = names_on(lines_of(text))
    return tuple((name, "component") for name in dict.fromkeys((*own, *kept)))


def _layers(text: str) -> tuple[str, ...]:
    found = re.findall(r"(?im)^\s*layer\s+([^,\n#]+?)(?:\s+from\s.*|,.*)?\s*$", text)
    return tuple(dict.fromkeys(found))
