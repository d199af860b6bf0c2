"""Friendly amounts of a slab: choices to weigh and count, and what each one does."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from slabwright.errors import Span
from slabwright.figure import Figure, Standing
from slabwright.finding import Finding, Severity
from slabwright.larder.eggs import egg_measures, measure_name
from slabwright.larder.ingredient import Measure
from slabwright.slab.distortion import Score, Weights, terms
from slabwright.slab.friendly import Choice, choices
from slabwright.spec.friendly_lines import Asked, ToWeigh, pieces_said, to_weigh
from slabwright.spec.scaled_card import Weighed
from slabwright.spec.specification import Specification

_OTHER = {"egg-yolk": "egg-white", "egg-white": "egg-yolk"}
_NAMES = {"egg-yolk": "egg yolks", "egg-white": "egg whites"}


@dataclass(frozen=True, slots=True)
class FriendlyLine:
    """A line as it is weighed or counted."""

    asked: ToWeigh
    grams: float
    count: int | None
    """Pieces, where it is counted."""
    change: float
    """Against its exact grams: 0.01 is 1 % more."""


@dataclass(frozen=True, slots=True)
class LayerChange:
    """What a choice does to a layer, or to a component's batch."""

    name: str
    change: Figure
    """Of what goes in, and of the depth with it [share]."""
    scale: Figure
    """The layer's own scale, by which its lines are judged."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a choice's distortion."""

    where: str
    what: str
    share: Figure


@dataclass(frozen=True, slots=True)
class LeftOver:
    """What is left of eggs that were parted."""

    what: str
    count: float
    grams: Figure


@dataclass(frozen=True, slots=True)
class FriendlyChoice:
    """One way to weigh and count the slab."""

    name: str
    """What is counted, in words."""
    lines: tuple[FriendlyLine, ...]
    distortion: Figure
    parts: tuple[Part, ...]
    """What adds to the distortion, the most first."""
    layers: tuple[LayerChange, ...]
    egg_change: Figure | None
    """Of the mass of eggs and their parts; None without eggs."""
    left_over: tuple[LeftOver, ...]
    packs: tuple[tuple[str, int], ...]
    weighs_eggs: bool

    def weighed(self) -> Mapping[Span, Weighed]:
        """What each line weighs, by the span of its name, for `reweighed`.

        A line that the card gives in grams stays in grams, whole pieces or not.
        """
        return {
            line.asked.line.line.name_span: Weighed(
                line.grams,
                line.asked.want.grams,
                line.count if pieces_said(line.asked.line) else None,
            )
            for line in self.lines
        }


@dataclass(frozen=True, slots=True)
class Friendly:
    """The choices, the best first, then the one that weighs the eggs."""

    choices: tuple[FriendlyChoice, ...]
    findings: tuple[Finding, ...]


def friendly(spec: Specification, asked: Asked | None = None) -> Friendly:
    """Ways to weigh and count a slab that is scaled exactly.

    Args:
        spec: the scaled slab, worked out.
        asked: what is to be whole, and what counts how much.

    Raises:
        FriendlyError: for weights out of their range, or too many packs.
    """
    asked = asked or Asked()
    lines = to_weigh(spec, asked)
    found = list(_choices(lines, asked))
    failed = () if found or not lines else tuple(_failed(lines, asked))
    if any(line.egg_part and line.want.counted for line in lines):
        beaten = replace(asked, weighs_eggs=True, how_many=1)
        found += _choices(to_weigh(spec, beaten), beaten)
    named = [_opened(spec, here, choice, how) for here, choice, how in found]
    return Friendly(tuple(named), failed)


def _choices(
    lines: Sequence[ToWeigh], asked: Asked
) -> Iterator[tuple[Sequence[ToWeigh], Choice, Asked]]:
    if not lines:
        return
    wants = [line.want for line in lines]
    for choice in choices(wants, asked.weights, asked.how_many):
        yield lines, choice, asked


def _failed(lines: Sequence[ToWeigh], asked: Asked) -> Iterator[Finding]:
    """The layers that nothing whole fits."""
    for block in dict.fromkeys(line.block for line in lines):
        here = [line for line in lines if line.block == block]
        if choices([line.want for line in here], asked.weights, 1):
            continue
        whole = [line for line in here if line.want.counted or line.want.pack]
        names = " and ".join(line.line.line.name for line in whole)
        limit = f"{asked.weights.limit:.0%}"
        yield Finding(
            "nothing_whole_fits", Severity.LOOK, block,
            f"No whole number of {names} keeps {block} within {limit}."
            if whole
            else f"The scale's steps are too coarse to keep {block} within {limit}.",
            f"More than {limit} either way is another depth.",
            "Beat the eggs and weigh them, make a larger batch, or allow more change."
            if whole
            else "Weigh it on a finer scale, or make a larger batch.",
            "our own limit; it can be set",
        )  # fmt: skip


# --- a choice, opened --------------------


def _opened(
    spec: Specification, lines: Sequence[ToWeigh], choice: Choice, asked: Asked
) -> FriendlyChoice:
    done = tuple(
        FriendlyLine(line, grams, count, grams / line.want.grams - 1.0)
        for line, grams, count in zip(
            lines, choice.amounts_g, choice.counts, strict=True
        )
    )
    parts: list[Part] = []
    layers: list[LayerChange] = []
    for number, score in choice.scores:
        here = [line for line in done if line.asked.want.layer == number]
        parts += _parts(here, score, asked.weights)
        layers.append(_change(here, score))
    said = " + ".join(f"{part.share.number:.3%}" for part in parts)
    total = Figure(choice.total, "share", f"{said or '0 %'} = {choice.total:.3%}")
    return FriendlyChoice(
        _name(done, choice, asked),
        done,
        total,
        tuple(sorted(parts, key=lambda part: -part.share.number)),
        tuple(layers),
        _egg_change(done),
        tuple(_left_over(spec, done)),
        choice.packs,
        asked.weighs_eggs,
    )


def _parts(
    here: Sequence[FriendlyLine], score: Score, weights: Weights
) -> Iterator[Part]:
    """What a layer's lines, its groups and its depth add to the distortion."""
    wants = [line.asked.want for line in here]
    grams = [line.grams for line in here]
    whole_g = sum(want.grams for want in wants)
    where = here[0].asked.block
    for term in terms(wants, weights):
        share = term.weight * term.off_g(wants, grams, score.scale) / whole_g
        if share <= 1e-9:
            continue
        names = " + ".join(here[i].asked.line.line.name for i in term.members)
        got_g = sum(grams[i] for i in term.members)
        exact_g = sum(wants[i].grams for i in term.members) * score.scale
        said = (
            f"{got_g:.5g} g for {exact_g:.5g} g, × {term.weight:.3g} "
            f"÷ {whole_g:.5g} g = {share:.3%}"
        )
        yield Part(where, names, Figure(share, "share", said))
    if score.from_depth > 1e-9:
        said = (
            f"{sum(grams):.5g} g for {whole_g:.5g} g, × {weights.depth:.3g} "
            f"= {score.from_depth:.3%}"
        )
        yield Part(where, "depth", Figure(score.from_depth, "share", said))


def _change(here: Sequence[FriendlyLine], score: Score) -> LayerChange:
    whole_g = sum(line.asked.want.grams for line in here)
    got_g = sum(line.grams for line in here)
    said = f"{got_g:.5g} g ÷ {whole_g:.5g} g - 1 = {score.depth_change:+.2%}"
    scale = f"its lines are nearest to {score.scale:.4f} times their exact grams"
    return LayerChange(
        here[0].asked.block,
        Figure(score.depth_change, "share", said),
        Figure(score.scale, "×", scale),
    )


def _name(lines: Sequence[FriendlyLine], choice: Choice, asked: Asked) -> str:
    """`8 eggs + 5 egg yolks`; what is weighed says so."""
    counts: dict[tuple[str, str], int] = {}
    for line in lines:
        if line.count is not None:
            said_line = line.asked.line.line
            unit = said_line.amounts[0].unit.name if said_line.amounts else "each"
            key = (said_line.name, unit)
            counts[key] = counts.get(key, 0) + line.count
    said = [_counted(*key, count) for key, count in counts.items()]
    named = {_id(line): line.asked.line.line.name for line in lines}
    said += [
        f"{count} {'pack' if count == 1 else 'packs'} {named[id]}"
        for id, count in choice.packs
    ]
    if asked.weighs_eggs:
        said.append("eggs beaten and weighed")
    if said:
        return " + ".join(said)
    change = sum(score.depth_change for _, score in choice.scores)
    return f"all weighed, {change / max(len(choice.scores), 1):+.1%}"


def _counted(name: str, unit: str, count: int) -> str:
    """`1 egg yolk`, `5 egg yolks`, `15 leaves gelatine`."""
    if unit == "leaf":
        return f"{count} {'leaf' if count == 1 else 'leaves'} {name}"
    one = name.removesuffix("s")
    return f"{count} {one if count == 1 or one.endswith('gelatine') else one + 's'}"


def _id(line: FriendlyLine) -> str:
    found = line.asked.line.ingredient
    return found.id if found else ""


# --- eggs --------------------


def _egg_change(lines: Sequence[FriendlyLine]) -> Figure | None:
    eggs = [line for line in lines if line.asked.egg_part]
    exact_g = sum(line.asked.want.grams for line in eggs)
    if not exact_g > 0:
        return None
    got_g = sum(line.grams for line in eggs)
    change = got_g / exact_g - 1.0
    said = f"{got_g:.5g} g of egg ÷ {exact_g:.5g} g - 1 = {change:+.1%}"
    return Figure(change, "share", said)


def _left_over(
    spec: Specification, lines: Sequence[FriendlyLine]
) -> Iterator[LeftOver]:
    """Whites of the eggs whose yolks were taken, or the other way round."""
    taken = dict.fromkeys(_OTHER, 0.0)
    for line in lines:
        part = line.asked.egg_part
        if part in taken:
            each_g = line.asked.want.each_g or _measure(spec, part).grams
            taken[part] += line.grams / each_g if line.count is None else line.count
    for part, other in _OTHER.items():
        left = taken[part] - taken[other]
        if left < 0.5:
            continue
        measure = _measure(spec, other)
        said = f"{left:.3g} × {measure.grams:.3g} g = {left * measure.grams:.3g} g"
        grams = Figure(
            left * measure.grams, "g", said, Standing.ASSUMED,
            left * measure.low_g, left * measure.high_g, (measure.source,),
        )  # fmt: skip
        yield LeftOver(_NAMES[other], left, grams)


def _measure(spec: Specification, part: str) -> Measure:
    """One white or yolk of the kitchen's eggs."""
    wanted = measure_name(spec.kitchen.eggs, spec.kitchen.country)
    measures = egg_measures(part)
    usual = measure_name("large", spec.kitchen.country)
    by_name = {measure.name: measure for measure in measures}
    return by_name.get(wanted) or by_name.get(usual) or measures[0]
