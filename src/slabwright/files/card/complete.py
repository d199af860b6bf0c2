"""What can be written where the caret stands: ingredients, tins, card words, places."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from slabwright.files.card.complete_names import names_begun
from slabwright.files.card.lines import LINE_END, lines_of
from slabwright.files.card.names import PLACES
from slabwright.files.card.opening import names_on
from slabwright.files.card.reader import is_card
from slabwright.files.folder import Folder
from slabwright.formula.kinds import kinds
from slabwright.label.ways import Selling
from slabwright.quantity.numbers import Number, number_at
from slabwright.quantity.units import aliases
from slabwright.slab.presets import preset, preset_names

MOST: Final = 8
_LONGEST: Final = 400
"""Characters of a line beyond which nothing is offered."""
_LEAST: Final = 2
"""Letters of an ingredient or a place before any is offered."""
_COMMENT: Final = re.compile(r"(?:^|\s)#")
_MARK: Final = re.compile(r"\s*(?:[•·*▪●○◦‣☐☑✓✔–—-]\s+|\[[ xX]?\]\s*)?")
_UNIT: Final = re.compile(
    rf"\s*(?:heaped\s+)?(?:{'|'.join(map(re.escape, aliases()))})\.?(?![^\W_])",
    re.IGNORECASE,
)
_TIMES: Final = re.compile(r"\s*[x×+]\s*(?=[\d½¼¾])")
_OF: Final = re.compile(r"\s*(?:of\s+)?", re.IGNORECASE)
_SOME: Final = re.compile(
    r"(?:an?\s+)?(?:pinch|knob|handful|splash|dash|drizzle)\s+of\s+"
    r"|(?:(?:juice|zest)(?:\s+and\s+)?){1,2}\s+of\s+(?:\d+\s+)?",
    re.IGNORECASE,
)
_IN_BLOCK: Final = re.compile(
    r"(?:layer\b.*|component\s+\S.*|finish\s*:?\s*)", re.IGNORECASE
)
_LAYER: Final = re.compile(
    r"\s*layer\s+(?P<name>\S.*?)(?:\s+from\s.*|\s*,\s*[\d.½¼¾].*)?\s*", re.IGNORECASE
)
_WITHIN: Final = re.compile(r"\bwithin\s[^,]*?\bof\s+(?P<begun>[^,]*)$", re.IGNORECASE)
_WHEN: Final = re.compile(r"\bwhen\s+(?P<begun>[^,]*)$", re.IGNORECASE)
_WHERE: Final = re.compile(
    r"(?:,|\b(?:in|on|into|onto|at|to))\s+(?:the\s+)?(?P<begun>[^\W\d_][^,\d]*)$",
    re.IGNORECASE,
)
_NO_STEP: Final = frozenset(
    "kind into ends loses deep density note layer component finish slab tin cut keep "
    "sold called pictured dated costs proved".split()
)
_VESSELS: Final = ("bowl", "mixer", "small pan", "large pan", "food processor")
_HEAD_WORDS: Final = {
    "tin": "its inner sizes, or a name", "cut": "5 x 4, trim 5 mm",
    "keep": "where, and how many days", "sold": "how, and the price",
    "called": "what it is, for the label", "pictured": "what the pack stresses",
    "dated": "which date, and its days",
    "costs": "24 min hands, 3.6 kWh or 0.11 a piece",
    "note": "your own words", "proved": "the day it was baked and tasted",
    "layer": "the next layer up", "component": "a formula of its own",
    "finish": "what happens to the whole slab",
}  # fmt: skip
_CHOICES: Final = {
    "keep": ("chilled", "frozen"), "sold": tuple(way.value for way in Selling),
    "dated": ("best before", "use by", "none"),
}  # fmt: skip
_BLOCK_WORDS: Final = {
    "kind": "what it is like", "into": "the vessel for the lines below",
    "ends": "what it weighs now", "loses": "what goes",
    "reads": "what pan or refractometer read after a boil",
    "deep": "depth by the ruler", "density": "g/ml", "note": "your own words",
    "layer": "the next layer up", "component": "a formula of its own",
    "finish": "what happens to the whole slab",
}  # fmt: skip
_FIRST_WORDS: Final = {"slab": "name of the slab", "component": "a formula of its own"}


@dataclass(frozen=True, slots=True)
class Completion:
    """A text that can stand in place of what was begun."""

    start: int
    """In characters of the whole text."""
    end: int
    text: str
    label: str
    note: str
    """What it is: `larder`, `card word`, the size of a tin."""


@dataclass(frozen=True, slots=True)
class _Offer:
    """A text for the place where the caret stands, from a column of its line on."""

    at: int
    text: str
    note: str


@dataclass(frozen=True, slots=True)
class _Caret:
    """The line that is typed, as far as the caret, and what it stands in."""

    typed: str
    before: tuple[str, ...]
    """The lines above it."""
    text: str
    folder: Folder


def completions(text: str, offset: int, folder: Folder) -> tuple[Completion, ...]:
    """What can be written at this place; the likeliest first, at most eight.

    Args:
        text: the card or pasted recipe.
        offset: where the caret stands, in characters.
        folder: the kitchen, whose names are offered.
    """
    at = max(0, min(offset, len(text)))
    *above, typed = LINE_END.split(text[:at])
    if len(typed) > _LONGEST or _COMMENT.search(typed):
        return ()
    start = at - len(typed)
    found: dict[str, Completion] = {}
    for one in _offers(_Caret(typed, tuple(above), text, folder)):
        if typed[one.at :] != one.text:
            made = Completion(start + one.at, at, one.text, one.text.strip(), one.note)
            found.setdefault(one.text, made)
        if len(found) == MOST:
            break
    return tuple(found.values())


def _offers(caret: _Caret) -> Iterator[_Offer]:
    bare = caret.typed.lstrip()
    word, gap, rest = bare.partition(" ")
    value = len(caret.typed) - len(rest.lstrip())
    by_word = _after_word(caret, word.casefold(), rest.lstrip()) if gap else None
    if by_word is not None:
        begun, offered = by_word
        yield from _among(begun, value + len(rest.lstrip()) - len(begun), offered)
        return
    at = _after_amount(caret.typed)
    if at is not None:
        yield from _ingredients(caret, at)
    elif not gap:
        yield from _card_words(caret, bare)
    elif word.casefold() not in _NO_STEP:
        yield from _in_step(caret)


Offered = Iterable[tuple[str, str]]
"""Texts, each with its note."""


def _after_word(caret: _Caret, word: str, value: str) -> tuple[str, Offered] | None:
    """What was begun after a card word, and what may stand there; None for others."""
    folder = caret.folder
    if word == "tin":
        return value, (*_own_tins(folder), *_usual_tins())
    if word == "cut" and (joint := re.search(r"\bin\s+(?=[^\d]*$)", value)):
        return value[joint.end() :], (*_own_tins(folder), *_usual_tins())
    if word == "into":
        own = (vessel.name for vessel in folder.kitchen.vessels)
        return value, ((name, "vessel") for name in (*own, *_VESSELS))
    if word == "kind":
        return value, ((name, "kind") for name in kinds())
    if word in _CHOICES and "," not in value:
        return value, ((name, _HEAD_WORDS[word]) for name in _CHOICES[word])
    if word == "layer" and (joint := re.search(r"\sfrom\s+", f" {value}")):
        return f" {value}"[joint.end() :], _components(caret)
    return None


def _after_amount(typed: str) -> int | None:
    """Where a name begins after an amount; None if the line begins with none."""
    mark = _MARK.match(typed)
    at = mark.end() if mark else 0
    if some := _SOME.match(typed, at):
        return some.end()
    first, is_pack = at, False
    while isinstance(number := number_at(typed, at), Number):
        at = number.end
        if unit := _UNIT.match(typed, at):
            at = unit.end()
        if is_pack and (pack := _UNIT.match(typed, at)):
            at = pack.end()  # 2 x 250 g packs
        if times := _TIMES.match(typed, at):
            at, is_pack = times.end(), True
        else:
            blank = _OF.match(typed, at)
            at = blank.end() if blank else at
    return at if at > first else None


def _ingredients(caret: _Caret, at: int) -> Iterator[_Offer]:
    begun = caret.typed[at:]
    if len(begun.strip()) < _LEAST or not begun[:1].isalpha():
        return
    if caret.before or is_card(caret.text):
        for name, note in _components(caret):
            if _fits(begun, name):
                yield _Offer(at, name, note)
    names = names_begun(caret.folder.larder, caret.folder.kitchen.country)
    for known in names.beginning(begun):
        if "," not in begun or known.text.casefold().startswith(begun.casefold()):
            yield _Offer(at, known.text, known.note)
            continue
        *others, last = known.text.split()
        turned = f"{last}, {' '.join(others)}"  # butter, unsalted
        is_begun = turned.casefold().startswith(begun.casefold())
        if is_begun and caret.folder.names.is_known(turned):
            yield _Offer(at, turned, known.note)


def _card_words(caret: _Caret, begun: str) -> Iterator[_Offer]:
    """Words that may open this line; nothing in a pasted recipe."""
    at = len(caret.typed) - len(begun)
    words = _FIRST_WORDS
    if is_card(caret.text) and any(line.strip() for line in caret.before):
        inside = any(_IN_BLOCK.fullmatch(line.strip()) for line in caret.before)
        words = _BLOCK_WORDS if inside else _HEAD_WORDS
    elif any(line.strip() for line in caret.before):
        return
    for word, what in words.items():
        if word.startswith(begun.casefold()):
            is_alone = word == "finish"
            yield _Offer(at, word if is_alone else f"{word} ", f"card word: {what}")


def _in_step(caret: _Caret) -> Iterator[_Offer]:
    """A layer or its step after `when` or `within N min of`; else a place or tool."""
    typed, folder = caret.typed, caret.folder
    if within := _WITHIN.search(typed):
        begun = within["begun"]
        named = re.search(r"\bof\s+(?P<layer>.*)$", begun, re.IGNORECASE)
        at = within.start("begun") + (named.start("layer") if named else 0)
        offered = _layers(caret) if named else (*_steps(caret), *_layers(caret))
        yield from _among(typed[at:], at, offered)
    elif when := _WHEN.search(typed):
        yield from _among(when["begun"], when.start("begun"), _layers(caret))
    elif (where := _WHERE.search(typed)) and len(where["begun"]) >= _LEAST:
        own = (place.name for place in folder.kitchen.places)
        pans = (vessel.name for vessel in folder.kitchen.vessels)
        every = (*own, *pans, *PLACES)
        places = ((name, "place or tool") for name in every)
        yield from _among(where["begun"], where.start("begun"), places)


def _among(begun: str, at: int, offered: Offered) -> Iterator[_Offer]:
    """Those in which every word that was begun begins a word."""
    every = list(offered)
    if begun.strip() and any(
        n.casefold() == begun.strip().casefold() for n, _ in every
    ):
        return
    fits = [one for one in every if _fits(begun, one[0])]
    fits.sort(key=lambda one: not one[0].casefold().startswith(begun.casefold()))
    for name, note in fits:
        yield _Offer(at, name, note)


def _fits(begun: str, name: str) -> bool:
    parts = re.findall(r"[^\W_]+", name.casefold())
    words = re.findall(r"[^\W_]+", begun.casefold())
    return all(any(part.startswith(word) for part in parts) for word in words)


def _own_tins(folder: Folder) -> tuple[tuple[str, str], ...]:
    return tuple((name, tin.describe()) for name, tin in folder.kitchen.tins)


def _usual_tins() -> tuple[tuple[str, str], ...]:
    found = ((name, preset(name)) for name in preset_names())
    return tuple((name, tin.describe() if tin else "") for name, tin in found)


def _components(caret: _Caret) -> Offered:
    own = names_on(lines_of(caret.text))
    kept = (one.name for one in caret.folder.components.values())
    return [(name, "component") for name in dict.fromkeys((*own, *kept))]


def _layers(caret: _Caret) -> Offered:
    found = (_LAYER.fullmatch(line.text[:_LONGEST]) for line in lines_of(caret.text))
    return [(one["name"], "layer") for one in found if one]


def _steps(caret: _Caret) -> Offered:
    """What is done to each layer, as `bake of Shortbread`, the last step first."""
    layer, done = "", dict[str, str]()
    for line in lines_of(caret.text):
        if opened := _LAYER.fullmatch(line.text[:_LONGEST]):
            layer = opened["name"]
            continue
        word = line.text.partition(" ")[0].casefold()
        if word in _NO_STEP:
            layer = "" if word in {"component", "finish"} else layer
        elif layer and word.isalpha() and line.text.strip() != caret.typed.strip():
            done[f"{word} of {layer}"] = "step"
    return [(name, done[name]) for name in reversed(done)]
