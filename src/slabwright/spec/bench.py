"""The bench sheet: a slab as jobs in order of work, for floury hands at the bench.

It stands on any specification: a slab scaled to another tin is a card again that was
worked out, and is printed like its first.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from slabwright.figure import Figure
from slabwright.formula.batch import Batch, all_batches
from slabwright.formula.book import slug
from slabwright.formula.component import Event
from slabwright.formula.heating import is_boil, is_oven
from slabwright.formula.step import Band, Step
from slabwright.spec.bench_pan import PanWeight, pan_weights
from slabwright.spec.bench_weigh import Group, groups
from slabwright.spec.cautions import (
    Caution,
    Said,
    about,
    at_first,
    at_step,
    is_cut,
    is_hot_sugar,
)
from slabwright.spec.layers import line_figures
from slabwright.spec.probe import Reading, lower_here, probe_error, reading
from slabwright.spec.specification import LayerFigures, LineFigures, Specification
from slabwright.spec.usage import taken


@dataclass(frozen=True, slots=True)
class Making:
    """What is made this time; today's date comes from the door."""

    day: date | None = None
    trays: int = 1
    words: str = ""
    """How it came about: `card × 3.515`; empty for the slab as its card says."""
    revision: str = ""
    """Which text of the card this is, in a few words."""


@dataclass(frozen=True, slots=True)
class BenchStep:
    """A step in its maker's words, with what the hand must know at that moment."""

    step: Step | None
    """None where there is only a caution."""
    cautions: tuple[Caution, ...] = ()
    ends_at: Reading | None = None
    """Temperature of the mix that ends it, on this kitchen's probe."""
    is_at: Reading | None = None
    """Temperature of the mix while it is done; an oven's is none of the probe's."""
    over: Reading | None = None
    """Temperature that the mix must still have."""
    pan: PanWeight | None = None
    lower_here_C: Figure | None = None
    """For a sugar boil high above the sea: how much lower it ends there."""


@dataclass(frozen=True, slots=True)
class Job:
    """One layer or component, or the finish: what is weighed, what is done."""

    name: str
    groups: tuple[Group, ...]
    steps: tuple[BenchStep, ...]
    takes: str = ""
    """So much of a component that has a job of its own."""
    is_finish: bool = False


@dataclass(frozen=True, slots=True)
class Contents:
    """Allergens by our larder, for the reader's eye: the packs have the last word."""

    contains: tuple[str, ...]
    may_hide: tuple[str, ...]
    unknown: tuple[str, ...]
    """Lines of which nobody here knows what is in them."""


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """Everything that stands on the sheet, in order of work."""

    spec: Specification
    making: Making
    jobs: tuple[Job, ...]
    contents: Contents

    @property
    def line_count(self) -> int:
        """How many lines are weighed."""
        return sum(len(group.lines) for job in self.jobs for group in job.groups)


def bench_sheet(spec: Specification, making: Making) -> BenchSheet:
    """The sheet of a slab, or of a component alone."""
    said = Said()
    tins = max(making.trays, spec.tin.count if spec.tin else 1, 1)
    slab_g = (spec.mass_g.number if spec.mass_g.known else 0.0) / tins
    jobs = [_job(spec, part, said, slab_g) for part in _parts(spec)]
    finish = _finish(spec, said)
    if finish is not None:
        jobs.append(finish)
    return BenchSheet(spec, making, tuple(jobs), _contents(spec))


# --- what is made, in order --------------------


_WHOLE = 0.999
"""A layer that takes less than this of a batch leaves some of it."""


@dataclass(frozen=True, slots=True)
class _Part:
    """A block to be made, so many times over."""

    name: str
    batch: Batch
    factor: float
    lines: tuple[LineFigures, ...]
    events: tuple[Event, ...]
    """What happens to it here: not what was done to a component made apart."""
    water_share: float | None = None
    takes: str = ""
    is_taken: bool = False
    """Whether layers take from it, that may bake or boil it further."""


def _parts(spec: Specification) -> Iterator[_Part]:
    """Components that several take from first, then the layers from the bottom up."""
    shared = _shared(spec)
    for batch, factor in shared.values():
        lines = line_figures(batch, None, spec.kitchen, {}, factor)
        events = batch.component.events
        name = batch.component.name
        taken_by = any(_source(spec, one) is batch for one in spec.layers)
        yield _Part(name, batch, factor, lines, events, is_taken=taken_by)
    for said, layer in zip(spec.card.layers, spec.layers, strict=True):
        batch, name = layer.batch, _source(spec, layer).component.name
        factor = _factor(layer.mass_out_g, batch) if layer.from_component else 1.0
        water = layer.water_share.number if layer.water_share.known else None
        if layer.from_component and name in shared:
            grams = layer.mass_out_g
            some = f"{grams.number:,.0f} g" if grams.known else "some"
            own = said.component.events
            yield _Part(layer.name, batch, factor, (), own, water, f"{some} of {name}")
        else:
            events = batch.component.events
            yield _Part(layer.name, batch, factor, layer.lines, events, water)
    if not spec.layers:
        for part in spec.components:
            water = part.water_share.number if part.water_share.known else None
            if part.batch.component.name not in shared:
                events = part.batch.component.events
                yield _Part(part.name, part.batch, 1.0, part.lines, events, water)


def _source(spec: Specification, layer: LayerFigures) -> Batch:
    """The batch that a layer takes from: a component's of this card, or its own."""
    own = {slug(one.name) for one in spec.card.components}
    wanted = slug(layer.from_component)
    if wanted not in own:
        return layer.batch
    batches = (one.batch for one in spec.components)
    return next((b for b in batches if slug(b.component.name) == wanted), layer.batch)


def _shared(spec: Specification) -> dict[str, tuple[Batch, float]]:
    """Components that are made apart, innermost first, and how many batches."""
    blocks = spec.layers or spec.components
    made = [(b.batch, _factor(b.mass_out_g, b.batch)) for b in blocks]
    on_lines = taken(made)
    own = {slug(one.name) for one in spec.card.components}
    users: dict[str, list[float]] = {}
    sources = {layer.name: _source(spec, layer) for layer in spec.layers}
    for layer in spec.layers:
        if layer.from_component:
            part = layer.mass_out_g.number if layer.mass_out_g.known else 0.0
            users.setdefault(sources[layer.name].component.name, []).append(part)
    found: dict[str, tuple[Batch, float]] = {}
    for block in blocks:
        for batch in all_batches(sources.get(block.name, block.batch)):
            name = batch.component.name
            layers = users.get(name, [])
            whole = sum(layers) + on_lines.get(name, (batch, 0.0))[1]
            out = batch.mass_out.value if batch.mass_out else 0.0
            is_own = slug(name) in own and bool(layers)
            leaves_some = is_own and whole < _WHOLE * out
            if name in on_lines or len(layers) > 1 or leaves_some:
                times = whole / out if out > 0 else 1.0
                # a batch that stands on the card is made whole, and some is left
                found.setdefault(name, (batch, max(times, 1.0) if is_own else times))
    return found


def _factor(grams: Figure, batch: Batch) -> float:
    out = batch.mass_out.value if batch.mass_out else 0.0
    return grams.number / out if grams.known and out > 0 else 1.0


# --- jobs --------------------


def _job(spec: Specification, part: _Part, said: Said, slab_g: float) -> Job:
    batch, kitchen = part.batch, spec.kitchen
    layer = about(batch, part.water_share, slab_g)
    masses = [one.mass_g.number if one.mass_g.known else None for one in part.lines]
    pans = {} if part.takes else pan_weights(batch, masses, part.factor, kitchen)
    kg = f"{slab_g / 1000:.0f}"
    steps: list[BenchStep] = []
    # a dough made apart is baked where it lies: there the layer tells what stays raw
    first = () if part.is_taken else said.once(at_first(layer))
    is_after_syrup = False
    for at, event in enumerate(part.events):
        if not isinstance(event, Step):
            continue
        wanted = at_step(event, layer, is_after_syrup=is_after_syrup)
        cautions = (*first, *said.once(wanted, kg=kg))
        first = ()
        is_after_syrup = is_after_syrup or is_hot_sugar(event)
        steps.append(_step(spec, event, cautions, pans.get(at)))
    if first:
        steps.insert(0, BenchStep(None, first))
    weigh = () if part.takes else groups(batch, part.lines, kitchen)
    return Job(part.name, weigh, tuple(steps), part.takes)


def _step(
    spec: Specification,
    step: Step,
    cautions: tuple[Caution, ...] = (),
    pan: PanWeight | None = None,
) -> BenchStep:
    kitchen = spec.kitchen
    is_sugar_boil = is_boil(step) and step.to_C is not None and step.to_C.low > 100
    return BenchStep(
        step,
        cautions,
        reading(step.to_C, kitchen) if step.to_C else None,
        reading(step.at_C, kitchen) if step.at_C and not is_oven(step) else None,
        None
        if step.over_C is None
        else reading(Band(step.over_C, step.over_C), kitchen),
        pan,
        lower_here(kitchen) if is_sugar_boil else None,
    )


def _finish(spec: Specification, said: Said) -> Job | None:
    """The last job: what happens to the whole slab, and the cut."""
    finish = spec.card.finish
    own = finish.steps if finish else ()
    if not own and spec.cut is None:
        return None
    steps: list[BenchStep] = []
    for step in own:
        knife = said.once(iter(("hot_knife",))) if is_cut(step) else ()
        steps.append(_step(spec, step, knife))
    if spec.cut is not None:
        knife = said.once(iter(("hot_knife",)))
        if knife:
            steps.append(BenchStep(None, knife))
    return Job(_finish_name(own, spec), (), tuple(steps), is_finish=True)


def _finish_name(steps: Sequence[Step], spec: Specification) -> str:
    if spec.cut is None:
        return "Finish"
    trims = spec.cut.cutting.trim_share > 0 or any("trim" in s.text for s in steps)
    return "Trim and cut" if trims else "Cut"


# --- what is in it --------------------


def _contents(spec: Specification) -> Contents:
    contains: dict[str, None] = {}
    hides: dict[str, None] = {}
    unknown: dict[str, None] = {}
    for block in (*spec.layers, *spec.components):
        for batch in all_batches(block.batch):
            for line in batch.lines:
                if line.is_unknown and not line.line.aside:
                    unknown[line.line.name] = None
                for one in line.ingredient.allergens if line.ingredient else ():
                    name = one.name.rpartition(":")[2]
                    (contains if one.how == "contains" else hides)[name] = None
    may = tuple(name for name in hides if name not in contains)
    return Contents(tuple(contains), may, tuple(unknown))


def bench_figures(spec: Specification) -> Iterator[tuple[str, Figure]]:
    """Figures of the sheet by name: what pan and probe show at the end of a boil."""
    error = probe_error(spec.kitchen)
    if error.known:
        yield "kitchen / probe_error_C", error
    for job in bench_sheet(spec, Making()).jobs:
        for bench in job.steps:
            words = bench.step.text.split() if bench.step else ()
            here = f"{job.name} / {' '.join(words)}"
            if bench.pan is not None:
                yield f"{here} / pan_contents_g", bench.pan.contents_g
                if bench.pan.reads_g is not None:
                    yield f"{here} / pan_reads_g", bench.pan.reads_g
            if bench.ends_at is not None and bench.ends_at.figure is not None:
                yield f"{here} / probe_C", bench.ends_at.figure
