"""What is weighed, in order of use, and what the scale shows after each line.

The bowl is never tared: after every line the scale shows all that is in it. What goes
in once the pan is hot or gone from the scale is weighed apart, beginning from 0.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from math import ceil
from typing import Final

from slabwright.formula.batch import Batch
from slabwright.formula.component import Event, Into
from slabwright.formula.heating import takes_away
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen, Scale
from slabwright.quantity.amount import Amount
from slabwright.spec.specification import LineFigures

SMALL_G: Final = 10.0
"""Less than this is weighed on the small scale. Common practice, no source."""
_FINE_G: Final = Decimal("0.1")
_GAP: Final = re.compile(r"\s{2,}|,\s")
_SHORT: Final = 40


@dataclass(frozen=True, slots=True)
class Weighing:
    """One line: tick it, add so much, and the scale reads so much."""

    name: str
    count: str
    """How many, where the card counts: `6`, `2 tbsp`; empty where it weighs."""
    notes: tuple[str, ...]
    add_g: Decimal | None
    """As the scale shows it; None where it is not known or has no weight."""
    reads_g: Decimal | None
    """As the scale shows it after this line; the adds above it come to just this."""
    is_small: bool = False
    is_on_small: bool = False
    """Whether nothing heavier is in it yet, so that the small scale shows it."""
    says: str = ""
    """In place of a reading, where there is none."""


@dataclass(frozen=True, slots=True)
class Group:
    """Lines that go into one vessel on the scale, from 0 upwards."""

    vessel: str
    after: str
    """The step after which they go in, where they are kept aside; else empty."""
    lines: tuple[Weighing, ...]
    is_again: bool = False
    """Whether the vessel is weighed anew, since the scale carries no more."""


@dataclass
class _Bowl:
    """A vessel on the scale while it fills."""

    vessel: str = ""
    after: str = ""
    is_again: bool = False
    on_it: Decimal = Decimal(0)
    lines: list[Weighing] | None = None

    def group(self) -> Group:
        return Group(self.vessel, self.after, tuple(self.lines or ()), self.is_again)


def groups(
    batch: Batch, lines: Sequence[LineFigures], kitchen: Kitchen
) -> tuple[Group, ...]:
    """The lines of a block by the vessel that they are weighed in.

    Args:
        batch: the block, for the order of its lines, vessels and steps.
        lines: its lines as they are to be weighed.
        kitchen: scales and vessels.
    """
    return tuple(g for g in _groups(batch.component.events, lines, kitchen) if g.lines)


def _groups(
    events: Sequence[Event], lines: Sequence[LineFigures], kitchen: Kitchen
) -> Iterator[Group]:
    following = iter(lines)
    big = max(kitchen.scales, key=lambda scale: scale.to_g, default=Scale(5000, 1))
    bowl = _Bowl()
    for event in events:
        if isinstance(event, Into):
            yield bowl.group()
            bowl = _Bowl(event.vessel)
        elif isinstance(event, Step) and takes_away(event):
            yield bowl.group()
            bowl = _Bowl(bowl.vessel, _short(event))
        elif isinstance(event, Line):
            line = next(following)
            grams = line.mass_g.number if line.mass_g.known else None
            if grams and _is_over(bowl, grams, big, kitchen):
                yield bowl.group()
                bowl = _Bowl(bowl.vessel, bowl.after, is_again=True)
            bowl.lines = [*(bowl.lines or ()), _weighing(line, grams, bowl, big)]
    yield bowl.group()


def _short(step: Step) -> str:
    """A step's first words, up to the first gap or comma."""
    return _GAP.split(step.text, maxsplit=1)[0][:_SHORT]


def _is_over(bowl: _Bowl, grams: float, big: Scale, kitchen: Kitchen) -> bool:
    vessel = kitchen.vessel(bowl.vessel)
    empty = vessel.empty_g if vessel and vessel.empty_g else 0.0
    return bool(bowl.lines) and float(bowl.on_it) + grams + empty > big.to_g


def _weighing(
    line: LineFigures, grams: float | None, bowl: _Bowl, big: Scale
) -> Weighing:
    said = line.weighed.line
    notes = tuple(dict.fromkeys(note for note in (said.size, *said.notes) if note))
    count = _count(line, grams)
    if grams is None:
        says = said.aside or "weight not known: weigh it, then zero the scale"
        if not said.aside:
            bowl.on_it = Decimal(0)
        return Weighing(line.name, count, notes, None, None, says=says)
    is_small = 0 < grams < SMALL_G or line.small_scale
    step = _FINE_G if is_small else Decimal(str(big.step_g))
    add = shown(grams, step)
    bowl.on_it += add
    on_small = is_small and all(one.is_small for one in bowl.lines or ())
    reads = shown(bowl.on_it, step if on_small else Decimal(str(big.step_g)))
    goes = ceil(grams / big.to_g)
    says = f"in {goes} goes" if goes > 1 else ""
    return Weighing(line.name, count, notes, add, reads, is_small, on_small, says)


def shown(grams: float | Decimal, step_g: Decimal) -> Decimal:
    """Grams as a scale with such steps shows them.

    >>> shown(598.4, Decimal(1)), shown(2.25, Decimal("0.1")), shown(7, Decimal(5))
    (Decimal('598'), Decimal('2.3'), Decimal('5'))
    """
    exact = Decimal(str(grams)) / step_g
    return exact.to_integral_value(ROUND_HALF_UP) * step_g


def _count(line: LineFigures, grams: float | None) -> str:
    """How many of it, where the card counts or spoons and does not weigh."""
    of_line = line.weighed.mass_g
    factor = grams / of_line if grams and of_line else 1.0
    amounts = [a for a in line.weighed.line.amounts if a.grams is None]
    return " ".join(_times(amount, factor) for amount in amounts)


def _times(amount: Amount, factor: float) -> str:
    if abs(factor - 1) < 1e-9:
        return amount.in_words()
    unit = "" if amount.unit.name == "each" else f" {amount.unit.name}"
    return f"{amount.value * factor:.3g}{unit}"
