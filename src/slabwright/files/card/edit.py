"""One stretch of a card that becomes another, and where in the text it stands."""

from dataclasses import dataclass

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead, LineRead

_HEADS = ("layer", "component", "finish")
_INSET = "  "
"""How far a line of a block stands in where no other line shows it."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One stretch of a text, and what is to stand there instead."""

    start: int
    """In characters from the text's beginning."""
    end: int
    value: str
    line: int = 0
    """Where the new words then stand, from 1."""
    note: str = ""
    """What else was done, in words; empty if nothing."""

    def applied(self, text: str) -> str:
        """The text with it."""
        return text[: self.start] + self.value + text[self.end :]


def refused(what: str, do: str, field: str = "value", line: int = 0) -> FileError:
    """The error for something that was typed beside the card."""
    span = Span(line, 1, 1) if line else None
    return FileError(Mistake(what, do, Where(span=span, field=field)))


def over(text: str, span: Span, value: str) -> Edit:
    """These words in the place of others on one line.

    Raises:
        FileError: if the text has no such place, or the words would break the line.
    """
    check_words(value)
    start, end = line_bounds(text, span.line)
    begins, stops = start + span.column - 1, start + span.end - 1
    if not start <= begins <= stops <= end:
        raise refused("There is no such place in the text.", "Read it again.")
    return Edit(begins, stops, value, span.line)


def below(text: str, number: int, value: str) -> Edit:
    """A line of its own below another, with the line end that stands there."""
    start, end = line_bounds(text, number)
    return Edit(end, end, f"{_end_near(text, start, end)}{value}", number + 1)


def above(text: str, number: int, value: str) -> Edit:
    """A line of its own above another."""
    start, end = line_bounds(text, number)
    return Edit(start, start, f"{value}{_end_near(text, start, end)}", number)


def without_lines(text: str, first: int, last: int) -> Edit:
    """The text without these lines and their line ends."""
    start, _ = line_bounds(text, first)
    _, end = line_bounds(text, last)
    if after := LINE_END.match(text, end):
        return Edit(start, after.end(), "", first)
    before = LINE_END.findall(text[:start])
    return Edit(start - len(before[-1]) if before else start, end, "", first)


def joined(text: str, one: Edit, other: Edit) -> Edit:
    """Two changes of a text as one; what stands between them stays."""
    first, second = sorted((one, other), key=lambda edit: edit.start)
    between = text[first.end : second.start]
    value = f"{first.value}{between}{second.value}"
    return Edit(first.start, second.end, value, first.line)


def check_words(value: str) -> None:
    """Refuse words that would not stay on their line, or that would be a comment."""
    if LINE_END.search(value) or "#" in value:
        raise refused("It stands on one line and holds no #.", "Write it without.")


def read_at(read: CardRead, number: int) -> LineRead | None:
    """What the line of this number was read as; one that says something first."""
    found = [one for one in read.lines if one.line.number == number]
    return next((one for one in found if one.line.text), next(iter(found), None))


def opens_block(one: LineRead) -> bool:
    """Whether a line opens a layer, a component or the finish, well or badly."""
    first = first_word(one)
    opened = {"word", "mistake"} if first == "layer" else {"word"}
    return first in _HEADS and (one.word == first or one.reads_as in opened)


def head_lines(read: CardRead) -> tuple[LineRead, ...]:
    """Lines above the first block and the first thing that is weighed."""
    found: list[LineRead] = []
    for one in read.lines:
        if opens_block(one) or one.reads_as == "ingredient":
            break
        found.append(one)
    return tuple(found)


def first_word(one: LineRead) -> str:
    """The word with which a line begins, without capitals and its colon."""
    return one.line.text.casefold().partition(" ")[0].rstrip(":")


def block_below(read: CardRead, first: int) -> tuple[LineRead, ...]:
    """The lines of a block that say something, without the one that opens it."""
    found: list[LineRead] = []
    for one in read.lines:
        if one.line.number > first and one.line.text:
            if opens_block(one):
                break
            found.append(one)
    return tuple(found)


def inset_of(read: CardRead, own: tuple[LineRead, ...]) -> str:
    """How far the last of these lines stands in; else as the card's others do."""
    blocks = (one for one in read.lines if one.reads_as in {"ingredient", "step"})
    line = own[-1] if own else next(blocks, None)
    return line.line.raw[: line.line.column - 1] if line else _INSET


def is_verbatim(text: str, one: LineRead) -> bool:
    """Whether a line stands in the text as it was read: not so on a pasted page."""
    lines = LINE_END.split(text)
    number, column = one.line.number, one.line.column
    if not 1 <= number <= len(lines):
        return False
    return lines[number - 1][column - 1 :].startswith(one.line.text)


def line_bounds(text: str, number: int) -> tuple[int, int]:
    """Where a line begins and ends in a text, without its line end.

    Raises:
        FileError: if the text has no such line.
    """
    start = 0
    for count, found in enumerate(LINE_END.finditer(text), start=1):
        if count == number:
            return start, found.start()
        start = found.end()
    last = len(LINE_END.findall(text)) + 1
    if number != last:
        raise refused(f"The text has no line {number}.", f"It has {last}.")
    return start, len(text)


def _end_near(text: str, start: int, end: int) -> str:
    """The line end after a line, else the one before it."""
    if after := LINE_END.match(text, end):
        return after.group()
    before = LINE_END.findall(text[:start])
    return before[-1] if before else "\n"
