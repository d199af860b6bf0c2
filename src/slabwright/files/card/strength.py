"""What a line says of the strength of its gelatine: `8 g leaf gelatine, 180 bloom`."""

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from slabwright.files.card.lines import CardLine
from slabwright.files.card.names import Names
from slabwright.files.card.outcome import Outcome
from slabwright.formula.line import Line

_NUMBER: Final = r"(?<![\d.,/])(?P<low>\d{1,5})(?:\s*(?:[-–—]|to)\s*(?P<high>\d{1,5}))?"
_BEFORE: Final = re.compile(
    rf"{_NUMBER}(?P<g>\s*g)?\s*(?:°|º|degrees?)?\s*-?\s*bloom\b", re.IGNORECASE
)
_BEHIND: Final = re.compile(
    rf"\bbloom(?:\s*(?:strength|value|number|grade|of|is|[:=]))*\s*{_NUMBER}"
    r"(?!\s*(?:g|kg|ml|oz|lb)\b|[.,]?\d)",
    re.IGNORECASE,
)
_AROUND_BEFORE: Final = re.compile(r"[\s,;(]*$")
_AROUND_BEHIND: Final = re.compile(r"\s*\)?")
_GELATINE: Final = re.compile(r"\bgelatine?\b", re.IGNORECASE)


def read_with_strength(
    line: CardLine, names: Names, read: Callable[[CardLine, Names], Outcome]
) -> Outcome:
    """What `read` makes of the line, with the strength that it says of its gelatine.

    The strength is no part of a name: `leaf gelatine, 180 bloom` would else be taken
    for the leaf of the larder that is called nearly so. A name that the larder has with
    its strength stays whole.
    """
    said = _said(line.text)
    whole = read(line, names)
    if said is None:
        return whole
    low = float(said["low"])
    ends = (low, float(said["high"] or low))
    bloom = (min(ends), max(ends))
    if isinstance(whole, tuple) and low == bloom[1]:
        named = [names.larder.find(one.name, names.country) for one in whole]
        if all(match is not None and not match.taken for match in named):
            return tuple(_strong(one, bloom, "") for one in whole)
    bare = read(_without(line, said), names)
    if not isinstance(bare, tuple):
        return whole
    words = said.group().strip(" ,;()")
    return tuple(
        replace(_strong(one, bloom, words), text=line.text, span=line.span())
        for one in bare
    )


def _strong(line: Line, bloom: tuple[float, float], words: str) -> Line:
    if not _GELATINE.search(line.name):
        return line
    notes = (*line.notes, words) if words else line.notes
    return replace(line, bloom=bloom, notes=notes)


def _said(text: str) -> re.Match[str] | None:
    """The one strength that a line with gelatine says; None if it says none, or two."""
    if not _GELATINE.search(text):
        return None
    before = [
        found
        for found in _BEFORE.finditer(text)
        if not (found["g"] and found.start() == 0)  # 8 g bloom 200 gelatine
    ]
    found = before or list(_BEHIND.finditer(text))
    return found[0] if len(found) == 1 else None


def _without(line: CardLine, said: re.Match[str]) -> CardLine:
    """The line with blanks where its strength stood: all else keeps its column."""
    text = line.text
    begin = _AROUND_BEFORE.search(text, 0, said.start())
    end = _AROUND_BEHIND.match(text, said.end())
    start = begin.start() if begin else said.start()
    stop = end.end() if end and "(" in text[start : said.start()] else said.end()
    blank = text[:start] + " " * (stop - start) + text[stop:]
    bare = blank.strip()
    skipped = len(blank) - len(blank.lstrip())
    return replace(line, text=bare, column=line.column + skipped)
