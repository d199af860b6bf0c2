"""What the kitchen's own things make of a formula: scales and vessels."""

from collections.abc import Iterator
from typing import Final

from slabwright.finding import Finding, Severity
from slabwright.formula.batch import Batch, WeighedLine
from slabwright.formula.component import Into
from slabwright.formula.line import Line
from slabwright.kitchen import Kitchen, Vessel

_READS: Final = 0.05
"""Half a step of the scale may be this share of what is weighed. Common practice."""
_UNKNOWN_G_ML: Final = 1.0
_PRACTICE: Final = "common practice, no source"


def findings(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Lines too small for the scales, and vessels too small for the lines."""
    for line in batch.lines:
        yield from _below_scale(batch, line, kitchen)
    yield from _over_vessel(batch, kitchen)


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
            ml += _ml(next(weighed))
    if found := _too_full(batch, vessel, at, ml):
        yield found


def _ml(line: WeighedLine) -> float:
    grams = line.mass_g or 0.0
    measure = line.ingredient.measure("ml") if line.ingredient else None
    return grams / (measure.grams if measure else _UNKNOWN_G_ML)


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
