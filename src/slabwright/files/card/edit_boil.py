"""What pan or refractometer read after a boil, typed beside it: a line of its own."""

from slabwright.files.card.edit import (
    Edit,
    below,
    block_below,
    inset_of,
    over,
    read_at,
    refused,
)
from slabwright.files.card.reader import CardRead
from slabwright.formula.component import Component, Reads
from slabwright.formula.line import Line
from slabwright.formula.step import Step


def boil_reading(text: str, read: CardRead, line: int, value: str) -> Edit:
    """A reading at the end of a boil: `reads 655 g at 118 C` below its step.

    It takes the place of one that stands there already.

    Args:
        text: the card.
        read: the same, read.
        line: where the step of the boil stands, from 1.
        value: what was typed: `655 g`, `655 g at 118 C`, `88 Brix`.

    Raises:
        FileError: for a line that is no step, or words that are no reading.
    """
    if read.is_pasted:
        what = "A pasted recipe has no place for what was read."
        raise refused(what, "Write it as a card first; then it has.")
    block = _block(read, line)
    there = _reading_after(block, line)
    if there is not None and (found := read_at(read, there.span.line)):
        begins = found.line.text.casefold().find("reads") + len("reads ")
        return over(text, found.line.span(begins), value.strip())
    inset = inset_of(read, block_below(read, block.span.line)[:1])
    return below(text, line, f"{inset}reads {value.strip()}")


def _block(read: CardRead, line: int) -> Component:
    card = read.card
    blocks = (*card.components, *(one.component for one in card.layers))
    for block in blocks:
        if any(step.span.line == line for step in block.steps):
            return block
    what = "There is no such step on this card."
    raise refused(what, "Choose the step of a boil.", "line", line)


def _reading_after(block: Component, line: int) -> Reads | None:
    """The reading that belongs to this step: before the next line or step."""
    for event in block.events:
        if event.span.line <= line:
            continue
        if isinstance(event, Reads):
            return event
        if isinstance(event, Line | Step):
            return None
    return None


def is_reading(read: CardRead, edit: Edit) -> bool:
    """Whether the line that a change made is a reading, and not a step."""
    return any(
        isinstance(event, Reads) and event.span.line == edit.line
        for block in (
            *read.card.components,
            *(one.component for one in read.card.layers),
        )
        for event in block.events
    )
