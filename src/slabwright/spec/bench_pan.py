"""What the pan should weigh when a boil is done: a second witness beside the probe."""

from collections.abc import Sequence
from dataclasses import dataclass

from slabwright.composition import total, water
from slabwright.figure import Figure, Standing, leans_of, weakest
from slabwright.formula.batch import Batch
from slabwright.formula.boil import Boil
from slabwright.formula.component import Ends, Event, Into, Loses
from slabwright.formula.heating import is_boil, is_hot, is_oven
from slabwright.formula.line import Line
from slabwright.formula.pot import Happening
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen
from slabwright.physics.boiling import boiling_point_of

_SOME_G = 0.5
"""Less than this beside the pan is none of it."""


@dataclass(frozen=True, slots=True)
class PanWeight:
    """What is in the pan at the end of a boil, and what the scale shows with it."""

    vessel: str
    contents_g: Figure
    """As the card says, else by the boiling point of the mix."""
    empty_g: float | None
    """The pan alone, where the kitchen knows it."""
    reads_g: Figure | None
    """Pan and all; None where the empty pan is to be weighed first."""
    by_boiling_g: Figure | None = None
    """What is in it by the boiling point of the mix, where that can be told."""


def pan_weights(
    batch: Batch, grams: Sequence[float | None], factor: float, kitchen: Kitchen
) -> dict[int, PanWeight]:
    """Weights at the end of boils, by the place of the step among the events.

    From what the card says is left: `ends 671 g`, `ends 9 % water`, `loses 214 g`;
    else from the boiling point of the mix. Lines that go in between boil and `ends` are
    taken off again, and what stands in other vessels. After a bake what is left stands
    in the tin, and no pan weighs it.

    Args:
        batch: the block and what happens in it.
        grams: mass of each line as it is weighed [g].
        factor: so many batches of it are made.
        kitchen: what its vessels weigh empty.
    """
    events = batch.component.events
    told = _told(batch, grams, factor)
    boils = {one.span: one for one in batch.boils if one.left is not None}
    found: dict[int, PanWeight] = {}
    for at, event in enumerate(events):
        boil = boils.get(event.span) if isinstance(event, Step) else None
        by_boiling = _by_boiling(boil, factor) if boil is not None else None
        contents = told.get(at) or by_boiling
        if contents is not None and contents.number > 0:
            vessel = _vessel(events, at)
            found[at] = _on_scale(contents, vessel, kitchen, by_boiling)
    return found


def _told(
    batch: Batch, grams: Sequence[float | None], factor: float
) -> dict[int, Figure]:
    """What the card says is in the pan, by the place of the boil."""
    happened = {one.span: one for one in batch.happenings if one.of == "water"}
    events = batch.component.events
    weights = iter(grams)
    of_line = [next(weights) if isinstance(e, Line) else None for e in events]
    beside = {one.span: float(total(one.rest)[0]) for one in batch.boils}
    found: dict[int, Figure] = {}
    since = 0
    for at, event in enumerate(events):
        if not isinstance(event, Ends | Loses) or event.span not in happened:
            continue
        boil = _last_boil(events, since, at)
        since = at + 1
        if boil is None:
            continue
        added = [of_line[i] for i in range(boil, at) if isinstance(events[i], Line)]
        known = [one for one in added if one is not None]
        if len(known) == len(added):
            step_is_last = not any(isinstance(e, Step) for e in events[boil + 1 : at])
            rest_g = beside.get(events[boil].span, 0.0) * factor
            more = [*known, rest_g] if rest_g > _SOME_G else known
            found[boil] = _weight(
                happened[event.span], more, factor, is_sure=step_is_last
            )
    return found


def _by_boiling(boil: Boil, factor: float) -> Figure:
    """What a boil leaves in the pan, with its likely range."""
    value, low, high = (float(one) * factor for one in boil.left_g)
    off = float(boil.off_g[0]) * factor
    share = float(water(boil.mix if boil.left is None else boil.left)[0]) * factor
    said = (
        f"{value + off:.5g} g - {off:.4g} of water boiled off = {value:.5g} g: at "
        f"{boil.to_C.middle:g} °C {share:.4g} g of water is left"
    )
    if boil.learned is not None:
        said += f" ({boil.learned.words} taught {boil.learned.bias_K:+.1f} K)"
    return Figure(
        value, "g", said, Standing.WORKED_OUT, min(low, value), max(high, value),
        (boiling_point_of.source,),
    )  # fmt: skip


def _last_boil(events: Sequence[Event], since: int, at: int) -> int | None:
    """The boil that water went off in; a mere heating if there is no boil."""
    steps = [
        (i, event)
        for i, event in enumerate(events[since:at], start=since)
        if isinstance(event, Step) and is_hot(event)
    ]
    if not steps or any(is_oven(step) for _, step in steps):
        return None
    boils = [i for i, step in steps if is_boil(step)]
    return boils[-1] if boils else steps[-1][0]


def _weight(
    happening: Happening, added: Sequence[float], factor: float, *, is_sure: bool
) -> Figure:
    end = happening.after_g * factor
    value = end - sum(added)
    said = f"{end:.5g} g ({happening.what})"
    if added:
        parts = " - ".join(f"{one:.4g}" for one in added)
        said += f" - {parts} that go in after the boil = {value:.5g} g"
    if not is_sure:
        said += "; taken that no water goes after the boil"
    leans = leans_of([happening.leans, "given" if is_sure else "assumed"])
    return Figure(value, "g", said, weakest([leans]))


def _vessel(events: Sequence[Event], at: int) -> str:
    named = [event.vessel for event in events[:at] if isinstance(event, Into)]
    return named[-1] if named else ""


def _on_scale(
    contents: Figure, name: str, kitchen: Kitchen, by_boiling: Figure | None
) -> PanWeight:
    vessel = kitchen.vessel(name)
    empty = vessel.empty_g if vessel else None
    if empty is None:
        return PanWeight(name, contents, None, None, by_boiling)
    value = empty + contents.number
    said = f"{empty:,.0f} g empty + {contents.number:,.0f} = {value:,.0f} g"
    reads = Figure(
        value, "g", f"{said}; {contents.sum}", contents.standing,
        None if contents.low is None else empty + contents.low,
        None if contents.high is None else empty + contents.high,
        contents.sources,
    )  # fmt: skip
    return PanWeight(name, contents, empty, reads, by_boiling)
