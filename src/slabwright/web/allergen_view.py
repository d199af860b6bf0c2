"""The allergens of slabs as their pages show them: the 14, the ways, the questions."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from slabwright.counter.allergen_matrix import AllergenMatrix, Cell, Row
from slabwright.label.allergen.allergens import IN_IT, Question, State
from slabwright.label.allergen.annex import GROUPS, families, plain_name
from slabwright.larder.ingredient import ALLERGENS
from slabwright.publish.allergen_matrix import cell_words
from slabwright.publish.allergens import summary, traces_words, way_words, ways_of
from slabwright.spec.allergens import allergen_words, reasons

_HEADS: Final = (
    ("Contains", (State.CONTAINS,)),
    ("Contains through a sub-ingredient", (State.THROUGH,)),
    ("May contain, by its supplier", (State.MAY_CONTAIN,)),
    ("Made of it, and exempt", (State.EXEMPT,)),
)
_SIGNS: Final = (
    (State.CONTAINS, "in", "contains"),
    (State.THROUGH, "in", "contains, through a sub-ingredient"),
    (State.UNKNOWN, "ask", "not known: held"),
    (State.MAY_CONTAIN, "may", "may contain, says a supplier"),
)


@dataclass(frozen=True, slots=True)
class Sign:
    """One mark in a cell of the table."""

    kind: str
    """`in`, `ask`, `may` or `kit`: how it is drawn."""
    words: str


@dataclass(frozen=True, slots=True)
class CellView:
    """How one of the 14 stands to a slab."""

    signs: tuple[Sign, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Way:
    """An allergen, and every way in which it got there."""

    name: str
    ways: str


@dataclass(frozen=True, slots=True)
class QuestionView:
    """A question to answer before a label is printed."""

    question: Question
    number: int

    @property
    def asks(self) -> str:
        """What is not known."""
        return allergen_words(self.question.allergens)

    @property
    def why(self) -> str:
        """Why it is not known."""
        return f"{reasons(self.question.doubts)}."

    @property
    def ways(self) -> str:
        """Where it lies in the slab."""
        ways = dict.fromkeys(way_words(one.way) for one in self.question.doubts)
        return "; ".join(ways)

    @property
    def is_of_a_pack(self) -> bool:
        """Whether a pack answers it; else the card must be mended."""
        return bool(self.question.larder_id)

    @property
    def ticks(self) -> tuple[tuple[str, str], ...]:
        """The allergens to tick, those that it asks about first."""
        first = [one for one in self.question.allergens if one in ALLERGENS]
        rest = [one for one in ALLERGENS if one not in first]
        return tuple((one, plain_name(one)) for one in (*first, *rest))


@dataclass(frozen=True)
class SlabAllergensView:
    """One slab."""

    row: Row

    @property
    def summary(self) -> str:
        """What it contains, and whether it is held."""
        return summary(self.row.found)

    @property
    def parts(self) -> Iterator[tuple[str, tuple[Way, ...]]]:
        """What is known of it, by how it got there."""
        for head, states in _HEADS:
            ways = tuple(
                Way(plain_name(allergen), traces_words(traces))
                for allergen, traces in ways_of(self.row.found, *states).items()
            )
            if ways:
                yield head, ways

    @property
    def kitchen(self) -> Iterator[Way]:
        """What the kitchen works with in other slabs."""
        by_slabs: dict[tuple[str, ...], list[str]] = {}
        for one in self.row.in_kitchen:
            by_slabs.setdefault(one.slabs, []).append(plain_name(one.allergen))
        for slabs, names in by_slabs.items():
            yield Way(", ".join(names), ", ".join(slabs))

    @cached_property
    def questions(self) -> tuple[QuestionView, ...]:
        """Questions, in the card's order."""
        return tuple(
            QuestionView(one, number)
            for number, one in enumerate(self.row.found.questions, start=1)
        )

    def known_in(self, question: Question) -> tuple[str, ...]:
        """Allergens that the ingredient of a question is known to contain."""
        there = {
            trace.allergen
            for trace in self.row.found.traces
            if trace.larder_id == question.larder_id and trace.state in IN_IT
        }
        return tuple(one for one in ALLERGENS if one in there)

    def may_be_in(self, question: Question) -> tuple[str, ...]:
        """Allergens that its supplier warns of."""
        there = {
            trace.allergen
            for trace in self.row.found.traces
            if trace.larder_id == question.larder_id
            and trace.state is State.MAY_CONTAIN
        }
        return tuple(one for one in ALLERGENS if one in there)


@dataclass(frozen=True)
class MatrixView:
    """Slabs against the 14."""

    matrix: AllergenMatrix
    addresses: Sequence[str]
    """Of each slab's own page."""

    @property
    def heads(self) -> tuple[str, ...]:
        """The 14, as the law has them."""
        names = families()
        return tuple(names[group] for group in GROUPS)

    @property
    def rows(self) -> Iterator[tuple[str, SlabAllergensView, tuple[CellView, ...]]]:
        """Address, slab and cells."""
        for row, address in zip(self.matrix.rows, self.addresses, strict=True):
            cells = tuple(_cell(cell, row) for cell in row.cells)
            yield address, SlabAllergensView(row), cells

    @property
    def held(self) -> int:
        """Slabs that wait for an answer."""
        return sum(row.found.is_held for row in self.matrix.rows)


def _cell(cell: Cell, row: Row) -> CellView:
    signs: list[Sign] = []
    for state, kind, words in _SIGNS:
        is_said = kind == "in" and any(one.kind == "in" for one in signs)
        if state in cell.states and not is_said:
            signs.append(Sign(kind, words))
    if cell.in_kitchen:
        signs.append(Sign("kit", "worked with in your own kitchen"))
    return CellView(tuple(signs), cell_words(cell, row))
