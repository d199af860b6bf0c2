"""A card while it is being read: blocks that fill up line by line."""

from dataclasses import dataclass, field, replace
from datetime import date
from typing import Literal

from slabwright.errors import Mistake, Span
from slabwright.finding import Ask
from slabwright.formula.book import slug
from slabwright.formula.component import Component, Event
from slabwright.kitchen import Told
from slabwright.spec.card import (
    Card,
    CardLayer,
    Dated,
    Keep,
    Pictured,
    SaidCut,
    SaidTin,
    Sold,
    Take,
    UnreadLine,
)


@dataclass
class Block:
    """A layer, a component, the finish, or what stands above the first layer."""

    what: Literal["layer", "component", "finish", "head"]
    name: str
    span: Span
    take: Take = field(default_factory=Take)
    from_name: str = ""
    from_span: Span | None = None
    kind: str = ""
    events: list[Event] = field(default_factory=list)
    is_broken: bool = False
    """Whether a line of it could not be read."""

    def component(self, file: str) -> Component:
        """The block as a value."""
        return Component(
            self.name, tuple(self.events), self.span, self.kind, file, self.is_broken
        )


@dataclass
class Draft:
    """Everything read so far."""

    file: str = ""
    name: str = ""
    is_component: bool = False
    tin: SaidTin | None = None
    cuts: list[SaidCut] = field(default_factory=list)
    keeps: list[Keep] = field(default_factory=list)
    sales: list[Sold] = field(default_factory=list)
    called: str = ""
    pictured: Pictured | None = None
    dated: Dated | None = None
    costs: list[Told] = field(default_factory=list)
    proved: date | None = None
    notes: list[str] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    mistakes: list[Mistake] = field(default_factory=list)
    unread: list[UnreadLine] = field(default_factory=list)
    asks: list[Ask] = field(default_factory=list)
    """What comments ask: questions that an adopted recipe left open."""
    asking_line: int = 0
    """The last line that belongs to a question."""

    @property
    def block(self) -> Block | None:
        """The block that lines go to now; None above the first layer."""
        last = self.blocks[-1] if self.blocks else None
        return None if last is None or last.what == "head" else last

    def open(self, block: Block) -> None:
        """Begin a block."""
        self.blocks.append(block)

    def block_here(self, span: Span, *, is_step: bool = False) -> Block:
        """The block that a line goes to.

        A step above the first layer belongs to the head; any other line there begins
        a layer named for the slab, so that nothing is dropped.
        """
        if self.block is not None:
            return self.block
        what: Literal["layer", "head"] = "head" if is_step else "layer"
        if not self.blocks or self.blocks[-1].what != what:
            self.open(Block(what, self.name, span))
        return self.blocks[-1]

    def has_component(self, name: str) -> bool:
        """Whether the card has a component of this name already."""
        return any(
            block.what == "component" and slug(block.name) == slug(name)
            for block in self.blocks
        )

    def has_event(self, kind: type) -> bool:
        """Whether the block that is open holds an event of this kind."""
        events = self.block.events if self.block else []
        return any(isinstance(event, kind) for event in events)

    def say(self, word: str, said: object) -> bool:
        """Keep what a card word of the head says; False if it was said before."""
        if word == "cut" and isinstance(said, SaidCut):
            self.cuts.append(said)
        elif word == "keep" and isinstance(said, Keep):
            self.keeps.append(said)
        elif isinstance(said, SaidTin) and self.tin is None:
            self.tin = said
        elif isinstance(said, Sold) and self._is_new(said):
            self.sales.append(said)
        elif word == "called" and isinstance(said, str) and not self.called:
            self.called = said
        elif isinstance(said, Pictured) and self.pictured is None:
            self.pictured = said
        elif isinstance(said, Dated) and self.dated is None:
            self.dated = said
        elif isinstance(said, Told) and self._is_new_cost(said):
            self.costs.append(said)
        elif isinstance(said, date) and self.proved is None:
            self.proved = said
        else:
            return False
        return True

    def _is_new(self, said: Sold) -> bool:
        """Whether no line of the same offer begins on the same day."""
        key = (said.offer, said.from_day)
        return all((one.offer, one.from_day) != key for one in self.sales)

    def _is_new_cost(self, said: Told) -> bool:
        """Whether no line tells the same thing already."""
        key = (said.kind, said.per, said.what.casefold())
        return all((c.kind, c.per, c.what.casefold()) != key for c in self.costs)

    def card(self) -> Card:
        """The card as a value, bottom layer first."""
        made = {
            what: [block for block in self.blocks if block.what == what]
            for what in ("layer", "component", "finish", "head")
        }
        return Card(
            self.name,
            self.is_component,
            self.tin,
            tuple(self.cuts),
            tuple(self.keeps),
            tuple(self.sales),
            self.proved,
            tuple(self.notes),
            tuple(
                CardLayer(b.component(self.file), b.take, b.from_name, b.from_span)
                for b in made["layer"]
            ),
            tuple(block.component(self.file) for block in made["component"]),
            self._finish(made["finish"]),
            tuple(block.component(self.file) for block in made["head"]),
            asks=tuple(self.asks),
            unread=tuple(self.unread),
            called=self.called,
            pictured_words=self.pictured,
            dated=self.dated,
            costs=tuple(self.costs),
        )

    def _finish(self, blocks: list[Block]) -> Component | None:
        """What is done to the whole slab, under however many headings."""
        if not blocks:
            return None
        events = [event for block in blocks for event in block.events]
        broken = any(block.is_broken for block in blocks)
        whole = replace(blocks[0], events=events, is_broken=broken)
        return whole.component(self.file)
