"""Amounts that no scale knows: a scanner's slips, scoops and mugs; what they may be."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from slabwright.files.card.ingredient import read_ingredient
from slabwright.files.card.lines import CardLine
from slabwright.files.card.names import Names
from slabwright.finding import Reading
from slabwright.formula.line import Line

_DIGITS: Final = str.maketrans("lI|OoSB", "1110058")
_SCANNED: Final = re.compile(r"^[\dlI|OoSB]*\d[\dlI|OoSB]*(?=\s?(?:g|kg|ml|oz|lb)\b)")
_OF_A_VESSEL: Final = re.compile(
    r"^(?P<n>an?|one|two|three|[\d½¼¾⅓⅔./ ]+?)\s*(?P<unit>[^\W\d_]{3,})\s+(?:of\s+)?",
    re.IGNORECASE,
)
_WEIGHED: Final = re.compile(
    r"^(?P<n>\d{1,2})\s+(?P<name>[^(),\d]{3,80}?)\s*[(,]\s*"
    r"(?:about|approx(?:imately|\.)?|around|roughly|ca?\.?|~|weighing)?\s*"
    r"(?P<mass>\d[\d.,]*\s?(?:g|kg|oz|lb)\b)(?P<each>\s+each)?"
    r"(?:\s+(?:in all|in total|total|altogether))?\s*\)?(?P<rest>(?:\s*,.*)?)$",
    re.IGNORECASE,
)
_UNREAD: Final = re.compile(r"^\S*[\d?_…]\S*\s?(?:g|kg|ml|oz|lb)\b\s*(?=\S)")
_MORE: Final = re.compile(
    r"(?:[+&]|\bplus\b|\band\b)\s*(?P<more>(?:a further |another |extra )?"
    r"\d[\d.,]*\s?(?:g|kg|ml|oz|lb|tbsp|tsp|cups?)\b.*)",
    re.IGNORECASE,
)
_ONE: Final = frozenset({"1", "a", "an", "one", "½", "1/2", "¼", "1/4", "¾", "3/4"})
_OF_A_CUP: Final = frozenset({"mug", "scoop", "glass", "beaker", "teacup", "tumbler"})


@dataclass(frozen=True, slots=True)
class Odd:
    """An ingredient whose amount has no sense as it stands."""

    name: str
    question: str
    readings: tuple[Reading, ...]
    """What it may be, the likeliest first; without `left out`."""


def more_of(lines: Sequence[Line]) -> str:
    """What a note says is taken besides: `30g for the base`; empty if nothing is."""
    notes = (note for line in lines for note in line.notes)
    found = (_MORE.search(note) for note in notes)
    return next((one["more"] for one in found if one), "")


def weighed_aside(text: str) -> str:
    """`4 ripe pears (about 600 g), peeled` with its weight first; '' if it has none.

    The weight counts even if nobody here knows what the pears weigh apiece.
    """
    found = _WEIGHED.match(text)
    if found is None:
        return ""
    mass, name = found["mass"], found["name"].strip()
    if found["each"]:
        return f"{found['n']} x {mass} {name}{found['rest']}"
    return f"{mass} {name}, {found['n']} of them{found['rest']}"


def odd_amount(line: CardLine, names: Names) -> Odd:
    """What `1OOg plain flour` or `3 scoops oats` may mean, to be asked."""
    text = line.text
    question = f"How much is '{text}'?"
    scanned = _SCANNED.match(text)
    if scanned:
        digits = scanned.group().translate(_DIGITS)
        likely_text = digits + text[scanned.end() :]
        if name := _name_of(line, likely_text, names):
            misread = Reading(likely_text, "if a scanner misread it: write it so")
            return Odd(name, question, (misread,))
    vessel = _OF_A_VESSEL.match(text)
    if vessel and names.length_of_name(text[vessel.end() :]):
        name, unit, count = text[vessel.end() :], vessel["unit"], vessel["n"].strip()
        cups = f"{count} {'cup' if count.casefold() in _ONE else 'cups'} {name}"
        one = re.sub("(?<=s)es$|(?<!s)s$", "", unit.casefold())
        likely = Reading(cups, "as much as a cup: write it so")
        question = f"How much is {count} {unit} of {name}?"
        return Odd(name, question, (likely,) if one in _OF_A_CUP else ())
    unread = _UNREAD.match(text)
    return Odd(text[unread.end() :] if unread else "", question, ())


def _name_of(line: CardLine, text: str, names: Names) -> str:
    read = read_ingredient(replace(line, text=text), names)
    return read[0].name if isinstance(read, tuple) and read else ""
