"""The blocks of a card side by side: what each says, in the order of work."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar

from slabwright.formula.book import slug
from slabwright.formula.component import (
    Component,
    Ends,
    Event,
    Into,
    Loses,
    Note,
    Reads,
)
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.formula.vessel.whereabouts import key_of
from slabwright.quantity.units import Regime
from slabwright.spec.card import CardLayer
from slabwright.spec.compare_meaning import (
    loss_in_words,
    meaning,
    of_amounts,
    of_step,
    plain,
    reading_in_words,
)
from slabwright.spec.compare_pairs import Pair
from slabwright.spec.compare_twins import Entry, Twin, twins
from slabwright.spec.specification import LayerFigures, LineFigures, Specification

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Block:
    """What one block of a card says itself, without what it takes from a component."""

    name: str
    component: Component
    work: tuple[tuple[Entry, LineFigures | None], ...] = ()
    """Lines, vessels, losses and steps in their order; figures for the lines."""
    figures: LayerFigures | None = None
    layer: CardLayer | None = None
    """The layer of the card, if it is one."""

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Lines, vessels, losses and steps in their order."""
        return tuple(entry for entry, _ in self.work)

    @property
    def notes(self) -> tuple[Entry, ...]:
        """The maker's own words in it."""
        events = (e for e in self.component.events if isinstance(e, Note))
        return tuple(note_entry(event.text) for event in events)

    def last(self, wanted: type[T]) -> T | None:
        """The last event of this kind, which is the one that counts."""
        found = [one for one in self.component.events if isinstance(one, wanted)]
        return found[-1] if found else None


@dataclass(frozen=True)
class Blocks:
    """One block in two versions; None where there is none."""

    before: Block | None
    after: Block | None
    what: str = field(default="layer")
    """layer, component, finish, head."""

    @property
    def name(self) -> str:
        """Its name now, or the one that it had."""
        one = self.after or self.before
        return one.name if one else ""

    @cached_property
    def twins(self) -> tuple[Twin, ...]:
        """Which of its entries is which."""
        sides = (one.entries if one else () for one in (self.before, self.after))
        return twins(*sides)


def note_entry(text: str) -> Entry:
    """A note, to be compared."""
    return Entry("note", plain(text), plain(text))


def line_key(line: LineFigures) -> str:
    """What a line is of: the larder's id, or its name."""
    return line.larder_id or plain(line.name).casefold()


def blocks_of(
    before: Specification,
    after: Specification,
    layers: Sequence[Pair],
    components: Sequence[Pair],
) -> Iterator[Blocks]:
    """Every block that either card holds, as the layers were paired.

    A component that stands in a file of its own is no block of the card: it is
    compared where both slabs use it, and not where one of them does.
    """
    for pair in layers:
        yield Blocks(_layer(before, pair.before), _layer(after, pair.after))
    for pair in components:
        made = Blocks(
            _component(before, pair.before), _component(after, pair.after), "component"
        )
        both = pair.before is not None and pair.after is not None
        sides = ((before, pair.before), (after, pair.after))
        if both or any(one and stands_on(spec, one.name) for spec, one in sides):
            yield made
    for what in ("head", "finish"):
        ends = [_loose(spec, what) for spec in (before, after)]
        if any(ends):
            yield Blocks(ends[0], ends[1], what)


def stands_on(spec: Specification, name: str) -> bool:
    """Whether the card itself holds a component of this name."""
    return any(slug(one.name) == slug(name) for one in spec.card.components)


def _layer(spec: Specification, figures: LayerFigures | None) -> Block | None:
    if figures is None:
        return None
    at = next(n for n, one in enumerate(spec.layers) if one is figures)
    layer = spec.card.layers[at]
    work = _work(layer.component, figures.lines, spec.kitchen.spoons)
    return Block(figures.name, layer.component, work, figures, layer)


def _component(spec: Specification, figures: LayerFigures | None) -> Block | None:
    if figures is None:
        return None
    component = figures.batch.component
    work = _work(component, figures.lines, spec.kitchen.spoons)
    return Block(figures.name, component, work, figures)


def _loose(spec: Specification, what: str) -> Block | None:
    """What stands above the first layer, or is done to the whole slab."""
    parts = spec.card.head if what == "head" else (spec.card.finish,)
    events = [event for part in parts if part for event in part.events]
    if not events:
        return None
    name = "above the layers" if what == "head" else "finish"
    whole = Component(name, tuple(events), events[0].span)
    return Block(name, whole, _work(whole, (), spec.kitchen.spoons))


def _work(
    component: Component, lines: Sequence[LineFigures], spoons: Regime
) -> tuple[tuple[Entry, LineFigures | None], ...]:
    own = len(component.lines)
    weighed = iter(lines[len(lines) - own :])  # what a component brings stands first
    found: list[tuple[Entry, LineFigures | None]] = []
    for event in component.events:
        line = next(weighed, None) if isinstance(event, Line) else None
        entry = _entry(event, line, spoons)
        if entry is not None:
            found.append((entry, line))
    return tuple(found)


def _entry(event: Event, line: LineFigures | None, spoons: Regime) -> Entry | None:
    """One event at its place; None for what has no place in the order of work."""
    if isinstance(event, Line):
        if line is None:
            return None
        key = line_key(line)
        return Entry("line", (key, line_says(line, spoons)), line.name, key)
    if isinstance(event, Step):
        return Entry("step", of_step(event.text), plain(event.text))
    if isinstance(event, Into):
        return Entry("into", key_of(event.vessel), plain(event.vessel))
    if isinstance(event, Ends | Loses):
        said = (type(event).__name__, meaning(event))
        return Entry("loss", said, loss_in_words(event))
    if isinstance(event, Reads):
        return Entry("loss", ("Reads", meaning(event)), reading_in_words(event))
    return None


def line_says(line: LineFigures, spoons: Regime) -> tuple[object, ...]:
    """What a line says of its amount, by its meaning."""
    said = line.weighed.line
    other = (
        meaning(said.second.in_words())
        if line.weighed.disagrees and said.second
        else None
    )
    return (of_amounts(said, spoons), other)
