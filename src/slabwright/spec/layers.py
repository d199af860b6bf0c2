"""Layer by layer: lines, masses, depth and composition as figures."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from slabwright.composition import (
    CONSTITUENTS,
    INDEX,
    Masses,
    amount,
    dry_matter,
    fat,
    sugars,
    total,
)
from slabwright.cost.prices import Rates
from slabwright.figure import Figure, Ranged, Standing, leans_of, weakest, withheld
from slabwright.formula.batch import Batch
from slabwright.formula.component import Into
from slabwright.formula.line import Line
from slabwright.formula.percent import Base
from slabwright.formula.weigh import Unweighable
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Kitchen
from slabwright.slab.stack import Stacked
from slabwright.spec.card import CardLayer
from slabwright.spec.costing import cost_of_line
from slabwright.spec.specification import LayerFigures, LineFigures

_STEPS = 10
"""What weighs fewer steps of a scale than this belongs on a finer one."""
_TINY = 5e-7
"""A share below this is not in it."""


def layer_figures(
    layer: CardLayer | None,
    stacked: Stacked,
    mass_g: Ranged | None,
    height_mm: Ranged | None,
    base: Base | None,
    kitchen: Kitchen,
    costs: Rates,
) -> LayerFigures:
    """Everything about one layer that a person may ask for.

    Args:
        layer: what the card says of it; None for a component on its own.
        stacked: where it lies and how much of it.
        mass_g: mass of the whole slab [g], where it is known.
        height_mm: height of the whole slab [mm], where it is known.
        base: what counts as 100 % of its lines.
        kitchen: the scales.
        costs: cost of a gram by larder id.
    """
    batch = stacked.batch
    out = _figure(stacked.mass, "g", stacked.withheld or batch.withheld)
    depth = _figure(stacked.depth, "mm", stacked.withheld or batch.withheld)
    component = batch.component
    shares = _shares(batch)
    factor = 1.0
    if layer is not None and layer.from_name and stacked.batches is not None:
        factor = stacked.batches  # its share of a batch that stands elsewhere
    return LayerFigures(
        name=stacked.name,
        kind=batch.kind.name,
        kind_told=batch.kind_told,
        texture=batch.kind.texture,
        span=layer.component.span if layer else component.span,
        from_component=layer.from_name if layer else "",
        mass_in_g=_times(batch.mass_in, factor).figure("g"),
        batch_out_g=_figure(batch.mass_out, "g", batch.withheld),
        mass_out_g=out,
        lost_g=_lost(batch, factor),
        depth_mm=depth,
        from_mm=stacked.from_mm,
        density_g_ml=stacked.density.figure("g/ml"),
        share_of_mass=_share_of(out, mass_g, "of the slab's mass"),
        share_of_height=_share_of(depth, height_mm, "of its height"),
        percent_base=base.words if base else "",
        lines=line_figures(batch, base, kitchen, costs, factor),
        steps=component.steps,
        happenings=batch.happenings,
        left_over_g=None if layer and layer.from_name else _left_over(stacked),
        batch=batch,
        water_share=shares.water,
        fat_share=shares.fat,
        sugars_share=shares.sugars,
        dry_matter_share=shares.dry_matter,
        composition=shares.after,
        before=shares.before,
    )


def _figure(value: Ranged | None, unit: str, why: str) -> Figure:
    return withheld(unit, why or "not known") if value is None else value.figure(unit)


def _times(value: Ranged, factor: float) -> Ranged:
    """So many times as much."""
    if factor == 1.0:
        return value
    more = value.value * factor
    said = f"{factor:.4g} batches × {value.value:.5g} g = {more:.5g} g"
    return replace(
        value, value=more, low=value.low * factor, high=value.high * factor, sum=said
    )


def _lost(batch: Batch, factor: float) -> Figure:
    if batch.mass_out is None or batch.in_withheld:
        return withheld("g", batch.withheld or batch.in_withheld)
    lost = (batch.mass_in.value - batch.mass_out.value) * factor
    parts = " + ".join(f"{h.lost_g:.4g} ({h.what})" for h in batch.happenings)
    times = "" if factor == 1.0 else f", {factor:.4g} times"
    said = f"{parts or 'nothing'}{times} = {lost:.4g} g"
    standing = weakest([batch.mass_in.leans, batch.mass_out.leans, "given"])
    return Figure(lost, "g", said, standing)


def _share_of(part: Figure, whole: Ranged | None, words: str) -> Figure:
    if part.value is None or whole is None or not whole.value > 0:
        return withheld(
            "share", part.sum if part.value is None else "a layer is unknown"
        )
    value = part.number / whole.value
    said = f"{part.number:.5g} ÷ {whole.value:.5g} {part.unit} = {value:.1%} {words}"
    standing = weakest([part.standing, whole.leans, "given"])
    return Figure(value, "share", said, standing, sources=part.sources)


def _left_over(stacked: Stacked) -> Figure | None:
    batch, used = stacked.batch, stacked.mass
    if used is None or batch.mass_out is None:
        return None
    left = batch.mass_out.value - used.value
    said = f"{batch.mass_out.value:.5g} - {used.value:.5g} = {left:.4g} g"
    return Figure(left, "g", said, weakest([used.leans, batch.mass_out.leans]))


# --- composition --------------------


@dataclass(frozen=True, slots=True)
class _Shares:
    """What the finished mass is made of."""

    water: Figure
    fat: Figure
    sugars: Figure
    dry_matter: Figure
    after: dict[str, Figure]
    before: dict[str, Figure]


def _shares(batch: Batch) -> _Shares:
    """Water, fat, sugars, dry matter and every constituent of the finished mass."""
    why = batch.composition_withheld or batch.withheld
    mass = float(total(batch.after)[0])
    before = _by_constituent(batch.before, Standing.WORKED_OUT, batch.mass_in.leans)
    if why or not mass > 0:
        none = withheld("share", why or "there is nothing in it")
        known = {} if batch.composition_withheld else before
        return _Shares(none, none, none, none, {}, known)
    standing = weakest([leans_of(list(batch.composition_leans)), "given"])
    mixes = batch.after
    return _Shares(
        _share("water", amount(mixes, "water"), mixes, standing),
        _share("fat", fat(mixes), mixes, standing),
        _share("sugars", sugars(mixes), mixes, standing),
        _share("dry matter", dry_matter(mixes), mixes, standing),
        _by_constituent(mixes, standing, "given"),
        before,
    )


def _share(name: str, part: NDArray[np.float64], mixes: Masses,
           standing: Standing) -> Figure:  # fmt: skip
    masses = total(mixes)
    shares = part / np.where(masses > 0, masses, 1.0)
    said = f"{part[0]:.4g} g {name} ÷ {masses[0]:.5g} g = {shares[0]:.1%}"
    low, high = float(shares.min()), float(shares.max())
    wide = high - low > 5e-4
    return Figure(
        float(shares[0]), "share", said, standing,
        low if wide else None, high if wide else None,
    )  # fmt: skip


def _by_constituent(mixes: Masses, standing: Standing, leans: str) -> dict[str, Figure]:
    mass = float(total(mixes)[0])
    if not mass > 0:
        return {}
    if leans == "assumed":
        standing = Standing.ASSUMED
    found: dict[str, Figure] = {}
    for name in (*CONSTITUENTS, "saturates"):
        part = float(mixes[0, INDEX[name]])
        if part / mass > _TINY:
            said = f"{part:.4g} ÷ {mass:.5g} g = {part / mass:.2%}"
            found[name] = Figure(part / mass, "share", said, standing)
    return found


# --- lines --------------------


def line_figures(
    batch: Batch,
    base: Base | None,
    kitchen: Kitchen,
    costs: Rates,
    factor: float = 1.0,
) -> tuple[LineFigures, ...]:
    """The lines of so many batches in order of use, and what the scale reads."""
    weighed = iter(batch.lines)
    whole = batch.mass_in.value
    vessel, running = "", 0.0
    found: list[LineFigures] = []
    for event in batch.component.events:
        if isinstance(event, Into):
            vessel, running = event.vessel, 0.0
        if not isinstance(event, Line):
            continue
        line = next(weighed)
        grams = None if line.mass_g is None else line.mass_g * factor
        running += grams or 0.0
        found.append(
            LineFigures(
                weighed=line,
                text=event.text,
                name=line.ingredient.name
                if event.part and line.ingredient
                else event.name,
                larder_id=line.ingredient.id if line.ingredient else None,
                mass_g=_mass(line, factor),
                share_of_total=_line_share(line, whole, "of all that goes in"),
                bakers_share=_line_share(line, base.mass_g, f"on {base.words}")
                if base
                else None,
                running_g=running if grams is not None else None,
                vessel=vessel,
                small_scale=_small(grams, kitchen),
                assumed=_assumed(line),
                cost=cost_of_line(line, grams, kitchen.currency, costs),
            )
        )
    return tuple(found)


def _mass(line: WeighedLine, factor: float) -> Figure:
    if line.grams is None:
        return withheld("g", f"not in the slab: {line.line.aside}")
    if isinstance(line.grams, Unweighable):
        return withheld("g", line.grams.what)
    return _times(line.grams, factor).figure("g")


def _line_share(line: WeighedLine, whole_g: float, words: str) -> Figure:
    grams = line.mass_g
    if grams is None or not whole_g > 0:
        return withheld("share", "its weight is not known")
    said = f"{grams:.5g} ÷ {whole_g:.5g} g = {grams / whole_g:.1%} {words}"
    leans = line.grams.leans if isinstance(line.grams, Ranged) else "assumed"
    return Figure(grams / whole_g, "share", said, weakest([leans]))


def _assumed(line: WeighedLine) -> str:
    parts = [line.match.taken] if line.match and line.match.taken else []
    if isinstance(line.grams, Ranged) and line.grams.assumed:
        parts.append(line.grams.assumed)
    return "; ".join(parts)


def _small(grams: float | None, kitchen: Kitchen) -> bool:
    """Whether the coarsest scale is too coarse for it and a finer one is there."""
    if grams is None or not kitchen.scales:
        return False
    coarse = max(scale.step_g for scale in kitchen.scales)
    finest = kitchen.scale_for(grams)
    return finest is not None and finest.step_g < coarse and grams < coarse * _STEPS


def sum_of(figures: Sequence[Figure], unit: str, why: str) -> Figure:
    """The figures added up; withheld if one of them is."""
    if not figures:
        return withheld(unit, why)
    missing = next((figure for figure in figures if figure.value is None), None)
    if missing is not None:
        return withheld(unit, missing.sum)
    values = [figure.number for figure in figures]
    lows = [f.number if f.low is None else f.low for f in figures]
    highs = [f.number if f.high is None else f.high for f in figures]
    is_wide = sum(highs) - sum(lows) > 1e-9
    parts = " + ".join(f"{value:.5g}" for value in values)
    return Figure(
        sum(values),
        unit,
        f"{parts} = {sum(values):.5g} {unit}",
        weakest([figure.standing for figure in figures]),
        sum(lows) if is_wide else None,
        sum(highs) if is_wide else None,
        tuple(dict.fromkeys(s for figure in figures for s in figure.sources)),
    )
