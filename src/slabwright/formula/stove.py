"""What boils when: the vessels of a block, and the mix in the one at hand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from slabwright.composition import Masses, total, zeros
from slabwright.figure import Ranged
from slabwright.formula.boil import Boil, Held, Learned, boil, learned_from
from slabwright.formula.component import Component, Ends, Event, Into, Loses, Reads
from slabwright.formula.heating import ends_boil_at, first_word, is_oven
from slabwright.formula.line import Line
from slabwright.formula.step import Band, Step
from slabwright.formula.vessel.loose import Loose, is_loose, whipped
from slabwright.formula.vessel.pours import MOVES, base_of
from slabwright.formula.vessel.vessels import Vessels
from slabwright.formula.weighed import WeighedLine

_ROWS: Final = 3
_FELT_G: Final = 1e-9
_NOT_BOILED: Final = frozenset({"egg", "flour", "chocolate", "raising", "biscuit"})
"""Larder groups that go in off the heat, whatever the order of the lines."""


@dataclass(frozen=True, slots=True)
class _Loss:
    """What went from a vessel: it is missing there, and in no other."""

    gone: Masses
    """Masses of constituents, shape (3, len(ROW)) [g]."""
    shares: Mapping[int, float]
    """How much of each line stood in that vessel."""
    held: Mapping[int, float]
    """The grams of those lines that did."""

    def away(self, shares: Mapping[int, float]) -> float:
        """How much of what was there then is not in the pan now, 0 to 1."""
        whole = sum(self.held.values())
        if not whole > 0:
            return 0.0
        here = sum(
            grams * min(shares.get(key, 0.0) / self.shares[key], 1.0)
            for key, grams in self.held.items()
        )
        return 1 - here / whole


class Stove:
    """Follows a block's events and tells what each boil leaves.

    Args:
        component: the block.
        weighed: its lines, by the identity of the line.
        pressure_kPa: of the air in the kitchen.
    """

    def __init__(
        self,
        component: Component,
        weighed: Mapping[int, WeighedLine],
        pressure_kPa: float,
    ) -> None:
        self._events = component.events
        self._weighed = weighed
        self._pressure_kPa = pressure_kPa
        self._learned, self.doubts = _learn(component, weighed, pressure_kPa)
        self._vessels = _vessels(component.events)
        self._loose = _loose(component.events, weighed)
        self._weighed_in = zeros(_ROWS)
        self._losses: list[_Loss] = []
        self._boiled: Mapping[int, float] = {}
        self.boils: list[Boil] = []

    def follow(self, at: int, now: Masses, lost_track: str) -> Boil | None:
        """Let the event at this place happen; the boil that it is, if it is one.

        Args:
            at: its number among the block's events.
            now: what the block holds then, shape (3, len(ROW)) [g].
            lost_track: why what it holds is not known; empty if it is.
        """
        event = self._events[at]
        if isinstance(event, Line):
            self._weighed_in += _row(self._weighed[id(event)])
        self._note_loss(at, now)
        if not isinstance(event, Step):
            self._move(event)
            return None
        if self._loose:
            self._loose.enter(event, self._vessels)
        pours_first = base_of(first_word(event)) in MOVES
        if pours_first:
            self._move(event)
        to_C = ends_boil_at(event, self._pressure_kPa)
        found = None
        if to_C is not None:
            found = self._boil(at, event, to_C, now, lost_track)
            self.boils.append(found)
        if self._loose:
            self._loose.enter_late(event, self._vessels)
        if not pours_first:
            self._move(event)
        return found

    def _move(self, event: Event) -> None:
        if not (self._loose and isinstance(event, Line)):
            _move(self._vessels, event, self._weighed)

    def _boil(
        self, at: int, step: Step, to_C: Band, now: Masses, lost_track: str
    ) -> Boil:
        inside = self._inside(at)
        rest = zeros(_ROWS)
        silent = lost_track
        is_all_before = not any(isinstance(e, Line) for e in self._events[at:])
        for line, share in inside:
            rest += (1 - share) * _row(line)
            found = line.ingredient
            if share > 0 and is_all_before and found and found.group in _NOT_BOILED:
                silent = silent or (
                    f"the card does not tell what goes in after it, and {found.name} "
                    "is not boiled so far"
                )
        shares = {id(line): share for line, share in inside}
        self._boiled = shares
        for loss in self._losses:
            rest -= loss.away(shares) * loss.gone
        rest = np.maximum(rest, 0.0)
        mix = np.maximum(now - rest, 0.0)
        counts = not any(
            isinstance(e, Ends) or (isinstance(e, Loses) and e.of == "water")
            for e in self._events[at + 1 :]
        )
        held = Held(mix, rest, self._pressure_kPa, silent)
        return boil(step, to_C, held, self._learned, counts=counts)

    def _note_loss(self, at: int, now: Masses) -> None:
        """What went since the event before went from what boiled, or was at hand."""
        boiled, self._boiled = self._boiled, {}
        gone = self._weighed_in - now - sum(one.gone for one in self._losses)
        if not (np.abs(gone) > _FELT_G).any():
            return
        before = [
            self._weighed[id(e)] for e in self._events[:at] if isinstance(e, Line)
        ]
        shares = boiled or {id(one): self._vessels.share_at_hand(one) for one in before}
        grams = {id(one): one.mass_g or 0.0 for one in before}
        held = {key: grams[key] * share for key, share in shares.items() if share > 0}
        self._losses.append(_Loss(gone, shares, held))

    def _inside(self, at: int) -> list[tuple[WeighedLine, float]]:
        """Every line so far, and how much of it stands in the pan."""
        lines = [self._weighed[id(e)] for e in self._events[:at] if isinstance(e, Line)]
        apart = whipped(self._events[:at], self._weighed) if not self._loose else set()
        return [
            (one, 0.0 if id(one) in apart else self._vessels.share_at_hand(one))
            for one in lines
        ]


def at_hand(
    events: Sequence[Event], weighed: Mapping[int, WeighedLine]
) -> Mapping[int, frozenset[int]]:
    """The lines that each step finds in the vessel at hand, where no line's place says.

    Args:
        events: of a block.
        weighed: its lines, by the identity of the line.

    Returns:
        For each step's identity those of its lines; empty for a block that has lines
        between what is done, or vessels. A line that no step ever names is in all.
    """
    loose = _loose(events, weighed)
    if loose is None:
        return {}
    vessels = _vessels(events)
    found: dict[int, frozenset[int]] = {}
    for event in events:
        if isinstance(event, Step):
            loose.enter(event, vessels)
            found[id(event)] = frozenset(
                key for key, one in weighed.items() if vessels.share_at_hand(one) > 0
            )
            loose.enter_late(event, vessels)
            _move(vessels, event, weighed)
    return {step: lines | loose.left for step, lines in found.items()}


def _vessels(events: Sequence[Event]) -> Vessels:
    return Vessels([e.vessel for e in events if isinstance(e, Into)], ())


def _loose(events: Sequence[Event], weighed: Mapping[int, WeighedLine]) -> Loose | None:
    return Loose(events, weighed) if is_loose(events) else None


def _move(vessels: Vessels, event: Event, weighed: Mapping[int, WeighedLine]) -> None:
    """Let lines go in, and pours go where their words say."""
    if isinstance(event, Into):
        vessels.open(event.vessel, event.span)
    elif isinstance(event, Line):
        vessels.add(weighed[id(event)])
    elif isinstance(event, Step):
        vessels.work(event)
        for _ in vessels.pour(event):
            pass  # only where it goes matters here
        if is_oven(event):
            vessels.hand.empty()


def _row(line: WeighedLine) -> Masses:
    """Masses of what a line is made of, shape (3, len(ROW)) [g]."""
    if not isinstance(line.grams, Ranged):
        return zeros(_ROWS)
    grams = np.array([line.grams.value, line.grams.low, line.grams.high])
    if line.batch is not None:
        mixes = line.batch.after
        masses = total(mixes)
        shares = mixes / np.where(masses > 0, masses, 1.0)[:, np.newaxis]
        return grams[:, np.newaxis] * shares
    composition = line.ingredient.composition if line.ingredient else None
    if composition is None:
        return zeros(_ROWS)
    return grams[:, np.newaxis] * composition


def _learn(
    component: Component, weighed: Mapping[int, WeighedLine], pressure_kPa: float
) -> tuple[Learned | None, tuple[tuple[Reads, str], ...]]:
    """What the block's last reading teaches, and why others teach nothing."""
    found: Learned | None = None
    doubts: list[tuple[Reads, str]] = []
    if not any(isinstance(event, Reads) for event in component.events):
        return None, ()
    vessels = _vessels(component.events)
    loose = _loose(component.events, weighed)
    boiled_C: float | None = None
    for event in component.events:
        if loose and isinstance(event, Step):
            loose.enter(event, vessels)
            loose.enter_late(event, vessels)
        if not (loose and isinstance(event, Line)):
            _move(vessels, event, weighed)
        if isinstance(event, Step):
            to_C = ends_boil_at(event, pressure_kPa)
            boiled_C = to_C.middle if to_C is not None else boiled_C
        elif isinstance(event, Reads):
            at_C = event.at_C if event.at_C is not None else boiled_C
            if at_C is None:
                doubts.append((event, "no boil before it says how hot the mix was"))
                continue
            mix = zeros()
            for line in weighed.values():
                mix += vessels.share_at_hand(line) * _row(line)[0]
            words = f"{_read(event)} at {at_C:g} °C"
            told = learned_from(event, at_C, mix, pressure_kPa, words)
            if isinstance(told, Learned):
                found = told
            else:
                doubts.append((event, told))
    return found, tuple(doubts)


def _read(event: Reads) -> str:
    if event.grams is not None:
        return f"{event.grams:g} g"
    if event.brix is not None:
        return f"{event.brix:g} °Brix"
    return f"{(event.water_share or 0.0) * 100:g} % water"
