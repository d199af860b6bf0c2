"""What the editor shows beside every line of a card: what it reads as and comes to."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from slabwright.errors import Mistake
from slabwright.figure import Figure, Standing
from slabwright.formula.component import (
    Component,
    Deep,
    Density,
    Ends,
    Event,
    Into,
    Loses,
)
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.publish import line_words as say
from slabwright.publish import words
from slabwright.spec.specification import LayerFigures, LineFigures, Specification

Kind = Literal[
    "layer", "ingredient", "step", "word", "blank", "comment", "mistake", "ask"
]
"""What a line is, for its look."""

_KINDS: Final[Mapping[str, Kind]] = {
    "ingredient": "ingredient", "step": "step", "word": "word", "blank": "blank",
    "mistake": "mistake", "tin": "word", "yield": "word", "keep": "word",
}  # fmt: skip
"""Kinds by what a line was read as; any other words of a pasted text are a comment."""


@dataclass(frozen=True, slots=True)
class LineMistake:
    """What is wrong on a line, from one column to another, and what may stand there."""

    column: int
    end: int
    what: str
    do: str
    nearest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LineNote:
    """One line of the text, as it was understood."""

    number: int
    """From 1."""
    reads_as: str
    """The ingredient, what a step does, a layer's kind, or the card word."""
    kind: Kind
    said: str = ""
    """What it comes to, in few words."""
    is_assumed: bool = False
    share: str = ""
    """Of the layer's base, or of its whole; for a layer, of the slab's mass."""
    cost: str = ""
    mistakes: tuple[LineMistake, ...] = ()
    layer: int | None = None
    """From the bottom, from 0; None in none."""


def line_notes(
    lines: Sequence[str], reads_as: Mapping[int, str], spec: Specification, file: str
) -> tuple[LineNote, ...]:
    """A note for every line, in order.

    Args:
        lines: the text's lines, without their ends.
        reads_as: what each was read as, by its number: `ingredient`, `step`, `word`.
        spec: the same card, worked out.
        file: its name in the places of mistakes.
    """
    said = _Said(spec)
    wrong = _mistakes(spec.errors, file)
    asked = {ask.span.line: ask.question for ask in spec.asks if ask.span}
    inside = _inside(spec, len(lines))
    found: list[LineNote] = []
    for number, raw in enumerate(lines, start=1):
        note = said.of(number, raw, reads_as.get(number, "blank"))
        note = replace(note, layer=inside.get(number))
        mistakes, question = wrong.get(number, ()), asked.get(number, "")
        found.append(_finished(note, mistakes, question))
    return tuple(found)


def _finished(
    note: LineNote, mistakes: tuple[LineMistake, ...], question: str
) -> LineNote:
    """The same with what is wrong or doubtful, which is said before all else."""
    if mistakes:
        what = mistakes[0].what
        return replace(note, kind="mistake", said=what, share="", cost="",
                       is_assumed=False, mistakes=mistakes)  # fmt: skip
    if question:
        mass = note.said.split(", ")[0] if note.kind == "ingredient" else ""
        said = f"{mass}. {question}" if mass else question
        return replace(note, kind="ask", said=said)
    return note


class _Said:
    """What was understood, line by line."""

    def __init__(self, spec: Specification) -> None:
        self._spec = spec
        self._currency = spec.cost.currency if spec.cost else spec.kitchen.currency
        self.notes: dict[int, LineNote] = {}
        self._heads: set[int] = set()
        for note in (*self._head(), *self._blocks()):
            before = self.notes.get(note.number)
            self.notes[note.number] = _both(before, note) if before else note

    def of(self, number: int, raw: str, reads_as: str) -> LineNote:
        """A line's note, whether anything was worked out of it or not."""
        first = raw.strip().casefold().partition(" ")[0].rstrip(":")
        kind = self._kind(number, raw, reads_as)
        is_word = kind == "word" and number not in self.notes
        plain = LineNote(number, first if is_word else "", kind)
        if is_word and first == "slab":
            return replace(plain, said=say.slab_words(self._spec))
        return replace(self.notes.get(number, plain), kind=kind)

    def _kind(self, number: int, raw: str, reads_as: str) -> Kind:
        """What a line is, in view of what was worked out of it."""
        if number in self._heads:
            return "layer"
        if reads_as == "blank":
            return "comment" if raw.strip() else "blank"
        return _KINDS.get(reads_as, "comment")

    def _head(self) -> Iterator[LineNote]:
        spec = self._spec
        card = spec.card
        if card.tin is not None:
            yield LineNote(
                card.tin.span.line, "tin", "word", say.tin_words(card.tin.tin)
            )
        for cut in (spec.cut, *spec.other_cuts):
            if cut is not None:
                assumed = cut.piece_mass_g.standing is Standing.ASSUMED
                said = say.cut_words(cut)
                yield LineNote(cut.said.span.line, "cut", "word", said, assumed)
        for keep in card.keeps:
            yield LineNote(
                keep.span.line, "keep", "word", say.keep_words(keep, keep.text)
            )
        for block in (*card.head, *([card.finish] if card.finish else [])):
            for step in block.steps:
                yield _step(step)

    def _blocks(self) -> Iterator[LineNote]:
        spec = self._spec
        costs = spec.cost.by_layer if spec.cost and spec.layers else ()
        worked = {layer.span: layer for layer in spec.components}
        done: set[int] = set()
        for block in spec.card.components:
            found = worked.get(block.span)
            if found is not None:
                yield LineNote(block.span.line, found.kind, "word",
                               say.component_words(found))  # fmt: skip
                yield from self._block(block, found, done)
        pairs = zip(spec.card.layers, spec.layers, strict=True)
        for i, (card_layer, layer) in enumerate(pairs):
            self._heads.add(layer.span.line)
            yield LineNote(
                layer.span.line, layer.kind, "layer", say.layer_words(layer),
                layer.depth_mm.known and layer.depth_mm.standing is Standing.ASSUMED,
                _share(layer.share_of_mass),
                self._cost(layer, costs[i]) if i < len(costs) else "",
            )  # fmt: skip
            yield from self._block(card_layer.component, layer, done)

    def _block(
        self, block: Component, layer: LayerFigures, done: set[int]
    ) -> Iterator[LineNote]:
        """Events that stand in this very block, each once."""
        lines = {id(line.weighed.line): line for line in layer.lines}
        for at, event in enumerate(block.events):
            if id(event) in done:
                continue
            done.add(id(event))
            if isinstance(event, Line):
                if (line := lines.get(id(event))) is not None:
                    yield self._line(line)
            elif isinstance(event, Step):
                yield _step(event)
            else:
                yield self._word(block, at, event, layer, lines)

    def _line(self, line: LineFigures) -> LineNote:
        found = line.weighed.ingredient
        share = line.bakers_share or line.share_of_total
        return LineNote(
            line.weighed.line.span.line, found.name if found else line.name,
            "ingredient", say.line_words(line), say.is_assumed(line), _share(share),
            self._money(line.cost),
        )  # fmt: skip

    def _word(
        self,
        block: Component,
        at: int,
        event: Event,
        layer: LayerFigures,
        lines: Mapping[int, LineFigures],
    ) -> LineNote:
        name = type(event).__name__.casefold()
        note = LineNote(event.span.line, name, "word")
        if isinstance(event, Ends | Loses):
            found = [one for one in layer.happenings if one.span == event.span]
            said = say.loss_words(found[-1], block, event) if found else ""
            return replace(note, said=said, is_assumed=not event.is_measured)
        if isinstance(event, Density):
            said = "measured" if event.is_measured else "assumed"
            return replace(note, said=said, is_assumed=not event.is_measured)
        if isinstance(event, Deep) and layer.density_g_ml.known:
            said = f"{layer.density_g_ml.number:.3g} g/ml follows"
            return replace(note, said=said)
        if isinstance(event, Into):
            return replace(note, said=say.into_words(event, _filled(block, at, lines)))
        return note

    def _cost(self, layer: LayerFigures, cost: Figure) -> str:
        """Of a layer; where a price is missing, it costs more than that."""
        said = self._money(cost)
        missing = self._spec.cost.missing if self._spec.cost else ()
        bare = [one.weighed.ingredient for one in layer.lines if one.cost is None]
        if not any(one is not None and one.name in missing for one in bare):
            return said
        return f"over {said}" if cost.known and cost.number > 0 else ""

    def _money(self, figure: Figure | None) -> str:
        if figure is None or not figure.known:
            return ""
        return words.money(figure.value, self._currency)


def _filled(
    block: Component, at: int, lines: Mapping[int, LineFigures]
) -> float | None:
    """What the scale reads when the last line of a vessel is in it [g]."""
    reading: float | None = None
    for event in block.events[at + 1 :]:
        if isinstance(event, Into):
            break
        if isinstance(event, Line) and (line := lines.get(id(event))) is not None:
            reading = line.running_g if line.running_g is not None else reading
    return reading


def _step(step: Step) -> LineNote:
    return LineNote(step.span.line, step.does, "step", say.step_words(step))


def _both(first: LineNote, second: LineNote) -> LineNote:
    """Two things that one line says."""
    said = "; ".join(dict.fromkeys(s for s in (first.said, second.said) if s))
    assumed = first.is_assumed or second.is_assumed
    shares = dict.fromkeys(s for s in (first.share, second.share) if s)
    costs = dict.fromkeys(s for s in (first.cost, second.cost) if s)
    return replace(first, said=said, is_assumed=assumed, share=" + ".join(shares),
                   cost=" + ".join(costs))  # fmt: skip


def _share(figure: Figure | None) -> str:
    return words.percent(figure.number, 1) if figure and figure.known else ""


def _mistakes(
    errors: Sequence[Mistake], file: str
) -> dict[int, tuple[LineMistake, ...]]:
    found: dict[int, list[LineMistake]] = {}
    for one in errors:
        span = one.where.span
        if span is not None and one.where.file == file:
            made = LineMistake(span.column, span.end, one.what, one.do, one.nearest)
            found.setdefault(span.line, []).append(made)
    return {
        line: tuple(sorted(some, key=lambda m: m.column))
        for line, some in found.items()
    }


def _inside(spec: Specification, count: int) -> dict[int, int]:
    """Which layer each line belongs to.

    On a card, from its head to the next block's; in a pasted recipe, whose method
    stands apart, by what was read of each line.
    """
    card = spec.card
    starts = {layer.component.span.line: i for i, layer in enumerate(card.layers)}
    found: dict[int, int] = {}
    if card.is_pasted:
        for i, layer in enumerate(card.layers):
            events = layer.component.events
            found.update({e.span.line: i for e in events if e.span.line not in found})
        return found | starts
    others = {block.span.line for block in card.components}
    if card.finish is not None:
        others.add(card.finish.span.line)
    now: int | None = None
    for number in range(1, count + 1):
        if number in starts:
            now = starts[number]
        elif number in others:
            now = None
        if now is not None:
            found[number] = now
    return found
