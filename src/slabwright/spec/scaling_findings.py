"""What to look out for in a scaled slab: times, and whether it was worth scaling."""

from collections.abc import Iterator, Sequence
from typing import Final

from slabwright.figure import Figure
from slabwright.finding import Finding, Severity
from slabwright.formula.step import Band, Step
from slabwright.spec.specification import LayerFigures, Specification

_LEAVE_IT: Final = 0.10
_LEAVE_IT_SOURCE: Final = (
    "a miller's baking page of 2014: tins within about 10 % of one another's area are "
    "used for each other as they are; home bar tins"
)
_DEEPER: Final = 0.05
"""A depth further from the card's than this changes the bake. Our own limit."""
_MORE: Final = 0.10
"""Further from the card's batch than this a boil takes otherwise long. Our own."""
_TIME_BY_DEPTH: Final = (
    "time as depth to the power 1 to 2; the upper end is heat that is only conducted "
    "(from memory)"
)


def findings(
    was: Specification, now: Specification, factors: Sequence[float]
) -> Iterator[Finding]:
    """Minutes that the card gives for another depth or mass, and a needless sum.

    Args:
        was: the slab as its card says.
        now: the scaled one, in the first of its tins.
        factors: what each layer was multiplied by, for all tins together.
    """
    near = [abs(factor - 1) for factor in factors]
    if near and 1e-6 < max(near) <= _LEAVE_IT:
        yield Finding(
            "near_enough", Severity.NOTE, was.name,
            "This is within 10% of the card's own batch.",
            "Bakers use tins as near as that for each other without weighing anew.",
            "Leave the batch as it is, if the depth suits you.", _LEAVE_IT_SOURCE,
        )  # fmt: skip
    layers = zip(was.layers, now.layers, factors, strict=True)
    for number, (before, after, factor) in enumerate(layers):
        for step in before.steps:
            if step.minutes is None:
                continue
            if _starts(step, "bake"):
                yield from _bake(step, step.minutes, before, after, number)
            elif step.to_C and _starts(step, "boil", "simmer", "cook"):
                yield from _boil(step, step.minutes, before, factor, number)


def _starts(step: Step, *words: str) -> bool:
    return step.does.casefold().startswith(words)


def _bake(
    step: Step, said: Band, before: LayerFigures, after: LayerFigures, number: int
) -> Iterator[Finding]:
    old, new = before.depth_mm, after.depth_mm
    if not _both(old, new) or abs(new.number / old.number - 1) <= _DEEPER:
        return
    ratio = new.number / old.number
    powers = (1, 2) if ratio > 1 else (2, 1)
    low, high = said.low * ratio ** powers[0], said.high * ratio ** powers[1]
    yield Finding(
        "bake_time_moves", Severity.LOOK, before.name,
        f"It is {new.number:.1f} mm deep, on the card {old.number:.1f} mm: its bake of "
        f"{_minutes(said.low, said.high)} is likely {_minutes(low, high)} here.",
        f"The depth is {ratio:.2f} times the card's.",
        f"Look at {low:.0f} min, and go by its cue or its core, not by the clock.",
        _TIME_BY_DEPTH, span=step.span, layer=number,
    )  # fmt: skip


def _boil(
    step: Step, said: Band, before: LayerFigures, factor: float, number: int
) -> Iterator[Finding]:
    if abs(factor - 1) <= _MORE:
        return
    low, high = sorted((said.low, said.low * factor))[0], said.high * max(factor, 1)
    yield Finding(
        "boil_time_moves", Severity.LOOK, before.name,
        f"There is {factor:.2f} times the card's batch in the pan: its "
        f"{_minutes(said.low, said.high)} may be {_minutes(low, high)} here.",
        "On the same ring the minutes go with the water to boil off; a stronger ring "
        "or a wider pan shortens them.",
        "Go by the thermometer and the pan's weight.",
        "energy balance: the same power drives off water in proportion to time",
        span=step.span, layer=number,
    )  # fmt: skip


def _both(old: Figure, new: Figure) -> bool:
    return old.known and new.known and old.number > 0


def _minutes(low: float, high: float) -> str:
    low, high = round(low), round(high)
    return f"{low} min" if low == high else f"{low} to {high} min"
