"""What the words of a part tell: `whey powder` is of milk, `cocoa butter` is not."""

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal

from slabwright.label.allergen.annex import Exemption, exemptions
from slabwright.larder.words import parse
from slabwright.source import Source, sources

_DOUBTED: Final = frozenset(
    "or free no not without vegan flavour flavoured flavouring style imitation".split()
)
"""Beside these a word names an allergen and yet may not mean it."""
_LINKS: Final = frozenset({"from", "of", "based", "base", "made", "as", "and", "for"})


@dataclass(frozen=True, slots=True)
class Word:
    """A word or phrase, and the allergens that it stands for."""

    text: str
    allergens: tuple[str, ...]
    how: Literal["contains", "may hide", "not of it", "filler"]
    note: str
    source: Source


@dataclass(frozen=True, slots=True)
class Told:
    """What a name tells of itself."""

    words: tuple[Word, ...]
    """Words that stand for allergens, in order."""
    is_all: bool
    """Whether it names what it is, and no word is left that could be something else."""


def told(name: str) -> Told:
    """Allergens that this name names, the longest phrase first.

    >>> [word.text for word in told("whey powder, cocoa butter").words]
    ['whey']
    """
    words = parse(name).words
    doubted = not _DOUBTED.isdisjoint(words)
    phrases, fillers = _table()
    found: list[Word] = []
    is_all, is_hit, at = True, False, 0
    while at < len(words):
        hit = _longest(words, at, phrases)
        if hit is None:
            is_all = is_all and words[at] in fillers
            at += 1
            continue
        is_hit = True
        at += len(parse(hit.text).words)
        if hit.how == "contains" and doubted:
            note = f"“{name}” can be read in two ways"
            hit = Word(hit.text, hit.allergens, "may hide", note, hit.source)
        if hit.allergens:
            found.append(hit)
    return Told(tuple(found), is_all and is_hit)


def exemption_of(name: str) -> Exemption | None:
    """The exemption that covers this name and nothing beside it.

    >>> found = exemption_of("dried glucose syrup (wheat)")
    >>> found and found.article
    'Annex II 1(a)'
    """
    words = frozenset(parse(name).words)
    if "," in name:
        return None
    for one in exemptions():
        origin = frozenset(one.of)
        if not words & origin:
            continue
        for phrase in one.phrases:
            said = frozenset(parse(phrase).words)
            if said <= words <= said | origin | _LINKS:
                return one
    return None


def exemptions_called(name: str) -> tuple[Exemption, ...]:
    """Exemptions that cover what it is called, whatever of the listed it is made of."""
    plain = " ".join(split_parts(name)[0].casefold().split())
    return tuple(one for one in exemptions() if plain in one.phrases)


def is_only_doubted(name: str) -> bool:
    """Whether its words alone leave open of what it is: a bare `lecithin`."""
    words = told(name)
    return (
        bool(words.words)
        and words.is_all
        and all(word.how == "may hide" for word in words.words)
    )


def split_parts(text: str) -> tuple[str, tuple[str, ...]]:
    """A part's own name, and what stands in brackets behind it.

    >>> split_parts("chips (sugar, emulsifier (soya lecithin))")
    ('chips', ('sugar', 'emulsifier (soya lecithin)'))
    """
    start = text.find("(")
    end = text.rfind(")")
    if not 0 < start < end:
        return text.strip(), ()
    name = f"{text[:start].strip()} {text[end + 1 :].strip()}".strip()
    return name, tuple(_listed(text[start + 1 : end]))


def _listed(text: str) -> Iterator[str]:
    """Parts between commas, those in deeper brackets left whole."""
    depth, begun = 0, 0
    for at, letter in enumerate(text):
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if letter in ",;" and depth <= 0:
            yield from _named(text[begun:at])
            begun = at + 1
    yield from _named(text[begun:])


def _named(text: str) -> Iterator[str]:
    if re.search(r"[^\W\d_]", text):
        yield text.strip()


def _longest(
    words: tuple[str, ...], at: int, phrases: dict[tuple[str, ...], Word]
) -> Word | None:
    for length in range(min(3, len(words) - at), 0, -1):
        hit = phrases.get(words[at : at + length])
        if hit is not None:
            return hit
    return None


@cache
def _table() -> tuple[dict[tuple[str, ...], Word], frozenset[str]]:
    data = files("slabwright.label").joinpath("data", "words.csv")
    phrases: dict[tuple[str, ...], Word] = {}
    fillers: set[str] = set()
    for row in csv.DictReader(data.read_text("utf-8").splitlines()):
        key = parse(row["words"]).words
        if row["how"] == "filler":
            fillers.update(key)
            continue
        phrases[key] = Word(
            row["words"],
            tuple(row["allergens"].split()),
            _how(row["how"]),
            row["note"],
            sources()[row["source"]],
        )
    return phrases, frozenset(fillers)


def _how(text: str) -> Literal["contains", "may hide", "not of it"]:
    if text == "contains":
        return "contains"
    return "may hide" if text == "may hide" else "not of it"
