"""What stands beside every line of a card: what it was taken for, and what it comes to.

Each row is made twice: as text under the typed card, for its rules and wavy lines, and
as words beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from slabwright.desk.worked import Worked
from slabwright.errors import Mistake, Span
from slabwright.figure import Figure, Standing
from slabwright.files.card.answers import answer
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import LineRead
from slabwright.finding import Ask
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.palette import colour_key
from slabwright.spec.specification import LayerFigures, LineFigures, Specification
from slabwright.spec.understood import understood
from slabwright.web.typed import shown

if TYPE_CHECKING:
    from slabwright.web.desk_view import DeskView

Edit = dict[str, Any]
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
    """layer, ingredient, step, word, blank, mistake, ask, or what pasted text has."""
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
    fill: str = ""
    """The colour of its layer's food."""

    @property
    def width(self) -> int:
        """Columns that the typed line takes, in steps, for what stands beside it."""
        columns = sum(len(text.expandtabs(4)) for text, _ in self.runs)
        return min(_WIDEST, -(-columns // _STEP) * _STEP)


def rows_of(view: DeskView) -> Iterator[Row]:
    """A row for every line of the text, in order."""
    now = view.now
    lines = LINE_END.split(now.text.text)
    read = _by_number(now.read.lines)
    said = understood(now.spec)
    weighed = _lines(now.spec)
    layers = {layer.span.line: i for i, layer in enumerate(now.spec.layers)}
    fills = [colour_key(one.texture, one.fill) for one in drawn(now.spec).layers]
    inside = _layer_of_lines(now.spec, len(lines))
    errors = _marks(now.spec.errors, now.text.file)
    doubts = {ask.span.line: ask for ask in now.spec.asks if ask.span}
    for number, raw in enumerate(lines, start=1):
        one = read.get(number)
        layer = inside.get(number)
        row = Row(
            number, _kind(one, number, errors, doubts),
            bool(one and one.word in _HEADS) or number in layers,
            _runs(raw, errors.get(number, ()), doubts.get(number)),
            _short(one, said.get(number, "")), layer=layer,
            fill=fills[layer] if layer is not None else "",
        )  # fmt: skip
        yield _filled(view, row, weighed.get(number), layers, errors, doubts)


def _filled(
    view: DeskView,
    row: Row,
    line: LineFigures | None,
    layers: dict[int, int],
    errors: dict[int, tuple[Mistake, ...]],
    doubts: dict[int, Ask],
) -> Row:
    """The same row with its figures, its cost and its choices."""
    if row.number in layers:
        i = layers[row.number]
        return replace(row, figures=_layer_figures(view, view.spec.layers[i], i))
    if row.number in errors:
        first = errors[row.number][0]
        span = first.where.span
        text = view.now.text.text
        picks = choices_for(text, span, first.nearest) if span else ()
        return replace(row, said=first.what, choices=picks, share="", cost="")
    if line is not None:
        row = replace(row, **_ingredient(view, line))
    if row.number in doubts:
        picks = answers_for(view.now, doubts[row.number])
        return replace(row, choices=picks, said=doubts[row.number].question)
    return row


def _ingredient(view: DeskView, line: LineFigures) -> dict[str, Any]:
    mass = line.mass_g
    share = line.bakers_share or line.share_of_total
    said = f"{words.grams(mass.number)} g" if mass.known else mass.sum
    if line.assumed:
        said += f", {line.assumed}"
    cost = line.cost
    return {
        "said": said,
        "is_assumed": mass.known and mass.standing is Standing.ASSUMED,
        "share": words.percent(share.number, 1) if share and share.known else "",
        "cost": words.bare_money(cost.value) if cost and cost.known else "",
    }


def _layer_figures(
    view: DeskView, layer: LayerFigures, i: int
) -> tuple[Opened, ...]:  # fmt: skip
    name = layer.name
    return (
        (layer.depth_mm, f"depth of the {name}", view.layer_edits(i)),
        (layer.mass_out_g, f"mass of the {name} in the slab", view.mass_edits(i)),
        (layer.share_of_height, f"share of the slab's height, {name}", ()),
    )


def _by_number(read: Sequence[LineRead]) -> dict[int, LineRead]:
    found: dict[int, LineRead] = {}
    for one in read:
        kept = found.get(one.line.number)
        if kept is None or kept.reads_as == "blank":
            found[one.line.number] = one
    return found


def _lines(spec: Specification) -> dict[int, LineFigures]:
    """Ingredient lines of this card by their number; two on one line give the first."""
    found: dict[int, LineFigures] = {}
    own = _own_file(spec)
    for layer in (*spec.layers, *spec.components):
        if layer.batch.component.file != own:
            continue
        for line in layer.lines:
            found.setdefault(line.weighed.line.span.line, line)
    return found


def _own_file(spec: Specification) -> str:
    card = spec.card
    blocks = [layer.component for layer in card.layers] or list(card.components)
    return blocks[0].file if blocks else ""


def _layer_of_lines(spec: Specification, count: int) -> dict[int, int]:
    """Which layer each line belongs to: from its head to the next block's."""
    starts = {layer.span.line: i for i, layer in enumerate(spec.layers)}
    others = {one.span.line for one in spec.components}
    if spec.card.finish is not None:
        others.add(spec.card.finish.span.line)
    found: dict[int, int] = {}
    now: int | None = None
    for number in range(1, count + 1):
        if number in starts:
            now = starts[number]
        elif number in others:
            now = None
        if now is not None:
            found[number] = now
    return found


def _marks(errors: Sequence[Mistake], file: str) -> dict[int, tuple[Mistake, ...]]:
    found: dict[int, list[Mistake]] = {}
    for one in errors:
        if one.where.span is not None and one.where.file == file:
            found.setdefault(one.where.span.line, []).append(one)
    return {line: tuple(some) for line, some in found.items()}


def _kind(
    one: LineRead | None,
    number: int,
    errors: dict[int, tuple[Mistake, ...]],
    doubts: dict[int, Ask],
) -> str:
    if number in errors:
        return "mistake"
    if number in doubts:
        return "ask"
    return one.reads_as if one else "blank"


def _runs(
    raw: str, mistakes: Sequence[Mistake], doubt: Ask | None
) -> tuple[tuple[str, str], ...]:
    """The line in stretches; what is wrong or doubtful is marked."""
    marks = [
        (one.where.span.column - 1, one.where.span.end - 1, "bad")
        for one in mistakes
        if one.where.span is not None
    ]
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


def _short(one: LineRead | None, said: str) -> str:
    """What was understood, without what stands on the line anyway."""
    if one is None or not said:
        return ""
    if one.reads_as == "step":
        clauses = said.split("; ")
        kept = [c for c in clauses if not c.startswith(("step: ", "in your words: "))]
        return ", ".join(kept)
    return "" if said in {"note", f"into {one.line.text[5:]}"} else said


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
