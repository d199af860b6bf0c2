"""What the kitchen's own things make of a formula: scales, vessels, shelves."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from slabwright.finding import Finding, Severity
from slabwright.formula.batch import Batch, WeighedLine
from slabwright.formula.component import Into
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen, Vessel
from slabwright.slab.tin import Tin
from slabwright.spec.bench_words import is_oven
from slabwright.spec.loads import loads
from slabwright.spec.vessel_use import VesselUse, volume_ml

_READS: Final = 0.05
"""Half a step of the scale may be this share of what is weighed. Common practice."""
_PRACTICE: Final = "common practice, no source"


def findings(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Lines too small for the scales, and vessels too small for the lines."""
    for line in batch.lines:
        yield from _below_scale(batch, line, kitchen)
    yield from _over_vessel(batch, kitchen)


def use_findings(uses: Iterable[VesselUse]) -> Iterator[Finding]:
    """What rises over the rim of its vessel, and what is too heavy for one to pour."""
    for use in uses:
        if use.mix != "plain" and use.is_over:
            yield _rises_over(use)
        if use.is_heavy:
            yield _heavy(use)


def shelf_findings(
    name: str, tin: Tin | None, steps: Sequence[Step], kitchen: Kitchen
) -> Iterator[Finding]:
    """Tins that do not go into the oven or the fridge at once.

    Args:
        name: the slab's.
        tin: one of its tins, and how many.
        steps: everything that is done.
        kitchen: its places; those that do not say their shelves give nothing.
    """
    if tin is None:
        return
    named = " ".join(step.text.casefold() for step in steps)
    bakes = any(map(is_oven, steps))
    counts = {
        place.name: loads(tin, place)
        for place in kitchen.places
        if (place.what == "oven" and bakes) or place.name.casefold() in named
    }
    ovens = {place.name for place in kitchen.places if place.what == "oven"}
    most = {n: c for n, c in counts.items() if c is not None}
    fits_one = any(c == 1 for n, c in most.items() if n in ovens)
    for place, count in most.items():
        if count == 1 or (place in ovens and fits_one):
            continue
        yield Finding(
            "over_shelves", Severity.LOOK, name,
            f"{tin.count} tins take {count} loads of the {place}."
            if count
            else f"The tin does not lie on a shelf of the {place}.",
            "One shelf holds only so many, laid flat.",
            "Plan the loads one after the other." if count else "Take a smaller tin.",
            "the tin's rim against the kitchen's shelves",
        )  # fmt: skip


def _rises_over(use: VesselUse) -> Finding:
    goes = int(use.mixings.number)
    able = [name for name in use.would_do if name != use.vessel]
    other = f"Take the {able[0]}, or make it" if able else "Make it"
    what = (
        f"{use.filled_ml.number / 1000:.1f} l in the {use.vessel} may rise to "
        f"{use.rises_to_ml.number / 1000:.1f} l; it holds "
        f"{use.holds_ml.number / 1000:g} l."
    )
    if use.mix == "boil":
        return Finding(
            "boils_over", Severity.STOP, use.layer, what,
            "A boil with sugar, milk or cream may rise to three times its depth.",
            f"{other} in {goes} boils.", use.rises_to_ml.sum, span=use.span,
        )  # fmt: skip
    return Finding(
        "foams_over", Severity.STOP, use.layer, what,
        "A foam must stay below the rim at its finished volume.",
        f"{other} in {goes} mixings.", use.rises_to_ml.sum, span=use.span,
    )  # fmt: skip


def _heavy(use: VesselUse) -> Finding:
    return Finding(
        "heavy_pour", Severity.LOOK, use.layer,
        f"{use.filled_g / 1000:.1f} kg of hot sugar is poured from the {use.vessel}.",
        "So heavy a pan is hard to hold level by one.",
        "Pour it with two people, or make it in parts.", _PRACTICE, span=use.span,
    )  # fmt: skip


def _below_scale(
    batch: Batch, line: WeighedLine, kitchen: Kitchen
) -> Iterator[Finding]:
    grams = line.mass_g
    counted = any(a.grams is None for a in line.line.amounts) and not line.line.stated_g
    if grams is None or grams <= 0 or counted:
        return
    scale = kitchen.scale_for(grams)
    if scale is None or scale.step_g / 2 <= _READS * grams:
        return
    share = scale.step_g / 2 / grams
    yield Finding(
        "below_scale", Severity.LOOK, f"{batch.component.name}: {line.line.name}",
        f"{grams:.3g} g is too little for a scale that shows {scale.step_g:g} g.",
        f"It may be {share:.0%} off either way.",
        "Weigh it on a finer scale, or weigh ten times as much and take a tenth.",
        _PRACTICE, span=line.line.span,
    )  # fmt: skip


def _over_vessel(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """The lines in a vessel, by what they fill; before anything rises or boils up."""
    weighed = iter(batch.lines)
    vessel: Vessel | None = None
    at: Into | None = None
    ml = 0.0
    for event in batch.component.events:
        if isinstance(event, Into):
            if found := _too_full(batch, vessel, at, ml):
                yield found
            vessel, at, ml = kitchen.vessel(event.vessel), event, 0.0
        elif isinstance(event, Line):
            ml += volume_ml(next(weighed))
    if found := _too_full(batch, vessel, at, ml):
        yield found


def _too_full(
    batch: Batch, vessel: Vessel | None, at: Into | None, ml: float
) -> Finding | None:
    if vessel is None or at is None or vessel.litres is None:
        return None
    if ml <= vessel.litres * 1000:
        return None
    return Finding(
        "over_vessel", Severity.STOP, batch.component.name,
        f"About {ml / 1000:.1f} l goes into the {vessel.name}, which holds "
        f"{vessel.litres:g} l.",
        "It would run over before anything rises or boils up.",
        "Take a larger vessel, or make it in parts.",
        "each line's grams over its density; what has none as water", span=at.span,
    )  # fmt: skip
