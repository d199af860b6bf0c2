"""What the kitchen's own things make of a formula: scales, vessels, shelves."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from slabwright.finding import Finding, Severity
from slabwright.formula.batch import Batch
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Kitchen
from slabwright.spec.loads import PlaceLoads
from slabwright.spec.vessel_use import VesselUse

_READS: Final = 0.05
"""Half a step of the scale may be this share of what is weighed. Common practice."""
_PRACTICE: Final = "common practice, no source"


def findings(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Lines too small for the scales."""
    for line in batch.lines:
        yield from _below_scale(batch, line, kitchen)


def use_findings(uses: Iterable[VesselUse]) -> Iterator[Finding]:
    """What does not go into its vessel or rises over its rim, and heavy pours."""
    for use in uses:
        if use.holds_ml.known and use.fullest_ml > use.holds_ml.number * (1 + 1e-9):
            yield _over_vessel(use)
        if use.mix != "plain" and use.is_over:
            yield _rises_over(use)
        if use.is_heavy:
            yield _heavy(use)


def shelf_findings(name: str, places: Sequence[PlaceLoads]) -> Iterator[Finding]:
    """Tins that do not go into the oven or the fridge at once.

    Args:
        name: the slab's.
        places: where its tins go; those that do not say their shelves give nothing.
    """
    one_oven_does = any(
        one.what == "oven" and one.loads.known and one.loads.number == 1
        for one in places
    )
    for one in places:
        if one.tins_a_load is None or (one.what == "oven" and one_oven_does):
            continue
        fits = one.tins_a_load > 0
        if fits and one.loads.number == 1:
            continue
        yield Finding(
            "over_shelves", Severity.LOOK, name,
            f"{one.tins} tins take {one.loads.number:g} loads of the {one.place}."
            if fits
            else f"The tin does not lie on a shelf of the {one.place}.",
            "One shelf holds only so many, laid flat.",
            "Plan the loads one after the other." if fits else "Take a smaller tin.",
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


def _over_vessel(use: VesselUse) -> Finding:
    """Too much for the vessel, before anything rises or boils up."""
    return Finding(
        "over_vessel", Severity.STOP, use.layer,
        f"About {use.fullest_ml / 1000:.1f} l goes into the {use.vessel}, which holds "
        f"{use.holds_ml.number / 1000:g} l.",
        "It would run over before anything rises or boils up.",
        "Take a larger vessel, or make it in parts.",
        "each line's grams over its density; what has none as water", span=use.span,
    )  # fmt: skip
