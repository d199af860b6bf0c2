"""What stands beside every line of a card: what it was taken for, and what it comes to.

Each row is made twice: as text under the typed card, for its rules and wavy lines, and
as words beside it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from slabwright.desk.worked import Worked
from slabwright.errors import Span
from slabwright.figure import Figure
from slabwright.files.card.answers import answer
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import LineRead
from slabwright.finding import Ask
from slabwright.publish.line_notes import LineMistake, LineNote, line_notes
from slabwright.spec.specification import LayerFigures
from slabwright.web.beside import Edit, depth_edits, mass_edits
from slabwright.web.typed import shown

Opened = tuple[Figure, str, tuple[Edit, ...]]

_STEP: Final = 4
_WIDEST: Final = 72
_HEADS: Final = {"slab", "component", "layer", "finish"}


@dataclass(frozen=True, slots=True)
class Choice:
    """A reading that can be put into the text at a press."""

    label: str
    does: str
    start: int
    """Where it goes, in characters of the text as the page shows it."""
    end: int
    value: str


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the card."""

    number: int
    kind: str
    """As in a `LineNote`."""
    opens: bool
    """Whether it opens a block."""
    runs: tuple[tuple[str, str], ...]
    """The line in stretches, each with its mark: bad, doubt, or none."""
    said: str = ""
    is_assumed: bool = False
    share: str = ""
    cost: str = ""
    figures: tuple[Opened, ...] = ()
    choices: tuple[Choice, ...] = ()
    layer: int | None = None
    """From the bottom, from 0; None for what is in no layer."""

    @property
    def width(self) -> int:
        """Columns that the typed line takes, in steps, for what stands beside it."""
        columns = sum(len(text.expandtabs(4)) for text, _ in self.runs)
        return min(_WIDEST, -(-columns // _STEP) * _STEP)


def rows_of(now: Worked) -> Iterator[Row]:
    """A row for every line of the text, in order."""
    lines = LINE_END.split(now.text.text)
    read = _by_number(now.read.lines)
    reads_as = {number: one.reads_as for number, one in read.items()}
    layers = {layer.span.line: i for i, layer in enumerate(now.spec.layers)}
    doubts = {ask.span.line: ask for ask in now.spec.asks if ask.span}
    for note in line_notes(lines, reads_as, now.spec, now.text.file):
        number, doubt = note.number, doubts.get(note.number)
        one = read.get(number)
        row = Row(
            number, note.kind, bool(one and one.word in _HEADS) or number in layers,
            _runs(lines[number - 1], note.mistakes, doubt), note.said,
            note.is_assumed, note.share, note.cost, layer=note.layer,
        )  # fmt: skip
        yield _with_figures(now, row, note, layers, doubt)


def _with_figures(
    now: Worked,
    row: Row,
    note: LineNote,
    layers: dict[int, int],
    doubt: Ask | None,
) -> Row:
    """The same row with what opens and what can be pressed."""
    if note.mistakes:
        return replace(row, choices=_nearest(now, note))
    if row.number in layers:
        i = layers[row.number]
        return replace(row, figures=_layer_figures(now.spec.layers[i], i))
    if doubt is not None:
        return replace(row, choices=answers_for(now, doubt))
    return row


def _nearest(now: Worked, note: LineNote) -> tuple[Choice, ...]:
    first = note.mistakes[0]
    span = Span(note.number, first.column, first.end)
    return choices_for(now.text.text, span, first.nearest)


def _layer_figures(layer: LayerFigures, i: int) -> tuple[Opened, ...]:
    name = layer.name
    return (
        (layer.depth_mm, f"depth of the {name}", depth_edits(i)),
        (layer.mass_out_g, f"mass of the {name} in the slab", mass_edits(i, layer)),
        (layer.share_of_height, f"share of the slab's height, {name}", ()),
    )


def _by_number(read: Sequence[LineRead]) -> dict[int, LineRead]:
    found: dict[int, LineRead] = {}
    for one in read:
        kept = found.get(one.line.number)
        if kept is None or kept.reads_as == "blank":
            found[one.line.number] = one
    return found


def _runs(
    raw: str, mistakes: Sequence[LineMistake], doubt: Ask | None
) -> tuple[tuple[str, str], ...]:
    """The line in stretches; what is wrong or doubtful is marked."""
    marks = [(one.column - 1, one.end - 1, "bad") for one in mistakes]
    if not marks and doubt is not None and doubt.span is not None:
        marks = [(doubt.span.column - 1, doubt.span.end - 1, "doubt")]
    runs: list[tuple[str, str]] = []
    at = 0
    for start, end, mark in sorted(marks):
        begin, stop = max(at, start), min(max(end, start + 1), len(raw))
        if begin >= stop:
            continue
        runs += [(raw[at:begin], ""), (raw[begin:stop], mark)]
        at = stop
    runs.append((raw[at:], ""))
    return tuple(run for run in runs if run[0])


# --- what may be put in place of something --------------------


def offset_of(text: str, span: Span) -> tuple[int, int]:
    """Where a span begins and ends in a text as a page shows it."""
    lines = LINE_END.split(text)
    before = sum(len(line) + 1 for line in lines[: span.line - 1])
    return before + span.column - 1, before + span.end - 1


def choices_for(
    text: str, span: Span, nearest: Sequence[str]
) -> tuple[Choice, ...]:  # fmt: skip
    """The nearest readings of what is wrong, each to be put there at a press."""
    start, end = offset_of(text, span)
    return tuple(Choice(one, "", start, end, one) for one in nearest[:3])


def answers_for(now: Worked, ask: Ask) -> tuple[Choice, ...]:
    """The readings of a doubt that can be written into the text."""
    text = shown(now.text.text)
    found = ((one, answer(text, now.read, ask, one)) for one in ask.readings)
    return tuple(
        Choice(reading.text, reading.does, edit.start, edit.end, edit.value)
        for reading, edit in found
        if edit is not None
    )
