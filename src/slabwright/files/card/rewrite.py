"""Changing one value of a card: its span alone, every other character as it was."""

import os
import re
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.places import place_called
from slabwright.files.card.reader import CardRead
from slabwright.files.raw import Text, read_text

_IN_BOWL: Final = re.compile(r"\s+(?:in|on)\s.*$", re.IGNORECASE)
_WEIGHED: Final = re.compile(r"[ \t,]*\b(?:weighed|measured)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Change:
    """A card before and after one value was written over."""

    before: Text
    text: Text
    span: Span
    was: str
    value: str


def replaced(text: Text, span: Span, value: str) -> Change:
    """The text with `value` in this span and nothing else changed.

    Raises:
        FileError: if the value would break the line or the span lies outside.
    """
    if LINE_END.search(value) or "#" in value:
        what = "A value stands on one line and holds no #."
        raise FileError(Mistake(what, "Write it without.", Where(text.file, span)))
    start = _offset(text.text, span.line) + span.column - 1
    end = start + span.end - span.column
    if not 0 <= start <= end <= len(text.text):
        what = "There is no such place in the card."
        raise FileError(Mistake(what, "Read it again.", Where(text.file, span)))
    was = text.text[start:end]
    new = Text(text.text[:start] + value + text.text[end:], text.file, text.has_bom)
    return Change(text, new, span, was, value)


def amended(text: Text, read: CardRead, what: str, value: str) -> Change:
    """The card with one value changed.

    Args:
        text: the card.
        read: the same, read.
        what: a word of the card (`tin`, `ends`), an ingredient (its amount), either
            with `LAYER/` before it where it stands in several, or a line's number.
        value: what is to stand there.

    Raises:
        FileError: if nothing on the card is called so, or several things are, or
            the value is empty.
    """
    if not value.strip():
        wrong = f"The new value of '{what}' is empty."
        do = "Write what it is to say; to take a line out, change the card itself."
        raise FileError(Mistake(wrong, do, Where(text.file)))
    return replaced(text, _span(text, read, what, value), value.strip(" \t"))


def changed_line(change: Change) -> str:
    """The line before and after, for a look at what was done."""
    number = change.span.line
    old = LINE_END.split(change.before.text)[number - 1]
    new = LINE_END.split(change.text.text)[number - 1]
    return f"line {number}\n- {old}\n+ {new}"


def write_back(path: Path, change: Change) -> None:
    """Write the changed card, whole or not at all.

    Raises:
        FileError: if the file was changed by somebody else since it was read, or
            can't be written.
    """
    if read_text(path) != Text(change.before.text, str(path), change.before.has_bom):
        what = f"'{path}' was changed meanwhile."
        raise FileError(Mistake(what, "Read it again, then change it."))
    try:
        _put(path, change)
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        do = "It is as it was. Make room, or let the folder be written to."
        raise FileError(Mistake(what, do)) from error


def _put(path: Path, change: Change) -> None:
    """Put a whole new file in the old one's place; no trace is left if that fails."""
    mode = path.stat().st_mode
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(change.text.encoded(change.text.text))
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(mode)
        Path(name).replace(path)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise


def _offset(text: str, line: int) -> int:
    """Where a line begins."""
    ends = [match.end() for match in LINE_END.finditer(text)]
    starts = [0, *ends]
    if not 1 <= line <= len(starts):
        what = f"The card has no line {line}."
        raise FileError(Mistake(what, f"It has {len(starts)}."))
    return starts[line - 1]


def _span(text: Text, read: CardRead, what: str, value: str) -> Span:
    """Where the value stands that is called so, or the line of that number."""
    if what.isdecimal():
        found = next((one for one in read.lines if one.line.number == int(what)), None)
        if found is not None and found.line.text:
            return found.line.span()
    place = place_called(read, what)
    if place.span is None:
        wrong = f"'{place}' has no amount that could be changed."
        do = f"Write the line's number and all that it is to say: {place.line}."
        raise FileError(Mistake(wrong, do, Where(text.file)))
    if place.name == "loses" and not _IN_BOWL.search(value):
        return _without_bowl(text, place.span)
    return _with_weighed(text, place.span, value)


def _without_bowl(text: Text, span: Span) -> Span:
    """The span without `in the bowl`: a new amount still goes at that place."""
    start = _offset(text.text, span.line) + span.column - 1
    said = text.text[start : start + span.end - span.column]
    bowl = _IN_BOWL.search(said)
    return Span(span.line, span.column, span.column + bowl.start()) if bowl else span


def _with_weighed(text: Text, span: Span, value: str) -> Span:
    """The span and the `weighed` after it, where the value says that itself."""
    start = _offset(text.text, span.line) + span.end - 1
    after = _WEIGHED.match(text.text, start)
    if after is None or not _WEIGHED.search(value):
        return span
    return Span(span.line, span.column, span.end + after.end() - start)
