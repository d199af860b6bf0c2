"""What is known of a slab's allergens, and the questions that are still open."""

from dataclasses import dataclass
from enum import StrEnum

from slabwright.errors import Span
from slabwright.figure import Figure
from slabwright.label.allergen.annex import GROUPS
from slabwright.larder.ingredient import ALLERGENS


class State(StrEnum):
    """How an allergen stands to a slab; never just absent."""

    CONTAINS = "contains"
    THROUGH = "contains through a sub-ingredient"
    MAY_CONTAIN = "may contain"
    """By the supplier's own words."""
    UNKNOWN = "unknown"
    EXEMPT = "exempt"
    """Made of it, and need not be declared by the law's own words."""


IN_IT = (State.CONTAINS, State.THROUGH)

Way = tuple[str, ...]
"""From the layer down: layer, component, line, compound, part."""


@dataclass(frozen=True, slots=True)
class Trace:
    """One allergen, how it stands, and the way in which it got there."""

    allergen: str
    state: State
    way: Way
    why: str
    about: str
    """The bought ingredient that brings it."""
    larder_id: str
    source: str
    """Where this is known from, and how."""
    span: Span | None = None

    @property
    def group(self) -> str:
        """Which of the 14."""
        return self.allergen.partition(":")[0]


@dataclass(frozen=True, slots=True)
class Doubt:
    """Allergens that may be in it, and why that is not known."""

    allergens: tuple[str, ...]
    why: str
    way: Way


@dataclass(frozen=True, slots=True)
class Question:
    """What must be answered before a label may be printed, by whom, from which pack."""

    about: str
    larder_id: str
    """Empty where the larder has no such ingredient."""
    doubts: tuple[Doubt, ...]
    who: str
    """Who may answer it."""
    packs: tuple[str, ...]
    """The packs to read, as the price list has them."""
    do: str
    span: Span | None = None

    @property
    def allergens(self) -> tuple[str, ...]:
        """All that it is about, once."""
        return tuple(dict.fromkeys(a for one in self.doubts for a in one.allergens))


@dataclass(frozen=True, slots=True)
class SlabAllergens:
    """The allergens of one slab."""

    slab: str
    traces: tuple[Trace, ...]
    questions: tuple[Question, ...]
    sulphites: Figure | None = None
    """Total SO2 of all that it is known of [mg/kg]; None if of nothing."""

    @property
    def is_held(self) -> bool:
        """Whether a label of it must wait for an answer."""
        return bool(self.questions)

    @property
    def in_it(self) -> tuple[str, ...]:
        """Allergens that it contains, whichever way, in the order of the law."""
        return self._of(*IN_IT)

    @property
    def may_contain(self) -> tuple[str, ...]:
        """Allergens that a supplier warns of and that it does not contain."""
        there = set(self.in_it)
        return tuple(a for a in self._of(State.MAY_CONTAIN) if a not in there)

    @property
    def unknown(self) -> tuple[str, ...]:
        """Allergens with a question open that it is not known to contain."""
        there = set(self.in_it)
        asked = {a for one in self.questions for a in one.allergens} - there
        return tuple(sorted(asked, key=ALLERGENS.index))

    def states(self) -> dict[str, tuple[State, ...]]:
        """How each of the 14 stands, the surest first; nothing if nothing is known.

        What it contains it no longer `may contain`.
        """
        found: dict[str, set[State]] = {group: set() for group in GROUPS}
        there = set(self.in_it)
        for trace in self.traces:
            if trace.state is not State.MAY_CONTAIN or trace.allergen not in there:
                found[trace.group].add(trace.state)
        for question in self.questions:
            for allergen in question.allergens:
                found[allergen.partition(":")[0]].add(State.UNKNOWN)
        return {
            group: tuple(state for state in State if state in states)
            for group, states in found.items()
        }

    def _of(self, *states: State) -> tuple[str, ...]:
        found = {one.allergen for one in self.traces if one.state in states}
        return tuple(sorted(found, key=ALLERGENS.index))
