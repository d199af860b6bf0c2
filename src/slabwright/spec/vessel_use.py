"""What each vessel is filled with, how far that rises, and what the vessel holds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil, pi
from typing import Final, Literal

from slabwright.errors import Span
from slabwright.figure import Figure, Standing, withheld
from slabwright.formula.batch import Batch, WeighedLine
from slabwright.formula.component import Into
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen, Vessel
from slabwright.source import Source
from slabwright.spec.bench_words import first_word, hottest, is_boil, is_hot, is_oven
from slabwright.spec.bench_words import says as _says
from slabwright.spec.cautions import HEAVY_PAN_G, HOT_SUGAR_C
from slabwright.spec.fills import fills

DISSOLVED_G_ML: Final = 1.59
"""Sugar in a boil takes the room of its crystals, without air. From memory."""
UNKNOWN_G_ML: Final = 1.0
"""What has no density in the larder is taken as water."""
BOILS_C: Final = 95.0
"""A mix that is brought to less does not boil. Common practice, no source."""
_RISING: Final = {"sugar", "syrup", "dairy", "plant drink"}
_RISING_NAMES: Final = ("sugar", "syrup", "milk", "cream", "honey")
_WHIPS: Final = {"whisk", "whip", "beat"}
_AIRY: Final = ("peaks", "peak", "foam", "frothy", "ribbon", "volume", "whip")
_EMPTIES: Final = {"pour", "press", "spread", "tip", "scrape"}
Mix = Literal["boil", "foam", "plain"]


@dataclass(frozen=True, slots=True)
class VesselUse:
    """A vessel in one block of the card, at the moment when it is fullest."""

    vessel: str
    layer: str
    mix: Mix
    filled_ml: Figure
    """What is in it before it rises."""
    rises_to_ml: Figure
    holds_ml: Figure
    mixings: Figure
    """In how many goes it is made, so that none runs over."""
    would_do: tuple[str, ...]
    """Vessels of the kitchen that take it in one go, the smallest first."""
    step: str = ""
    """What is done at that moment; empty where nothing makes it rise."""
    filled_g: float = 0.0
    hottest_C: float = 0.0
    span: Span | None = field(default=None, compare=False)

    @property
    def is_over(self) -> bool:
        """Whether it runs over the rim."""
        if not self.holds_ml.known:
            return False
        return self.rises_to_ml.number > self.holds_ml.number * (1 + 1e-9)

    @property
    def is_heavy(self) -> bool:
        """Whether two people should pour it: hot sugar of so many kilograms."""
        is_hot = self.mix == "boil" and self.hottest_C >= HOT_SUGAR_C
        return is_hot and self.filled_g >= HEAVY_PAN_G


@dataclass
class _Content:
    """What stands in a vessel: lines, and the share of them that is left."""

    lines: list[WeighedLine] = field(default_factory=list)
    left: float = 1.0
    is_hot: bool = False

    def empty(self) -> None:
        self.lines, self.left, self.is_hot = [], 1.0, False


def volume_ml(line: WeighedLine, *, is_dissolved: bool = False) -> float:
    """A line's grams over its density [ml]; sugar of a boil without its air."""
    grams = line.mass_g or 0.0
    if is_dissolved and line.ingredient and line.ingredient.group == "sugar":
        return grams / DISSOLVED_G_ML
    measure = line.ingredient.measure("ml") if line.ingredient else None
    return grams / (measure.grams if measure else UNKNOWN_G_ML)


def vessel_uses(batches: Sequence[Batch], kitchen: Kitchen) -> tuple[VesselUse, ...]:
    """Every vessel that the blocks of a card name, in their order.

    Args:
        batches: the blocks as they are made.
        kitchen: its vessels, and how much they hold.
    """
    once = {id(batch): batch for batch in batches}.values()
    return tuple(use for batch in once for use in _uses(batch, kitchen))


def _uses(batch: Batch, kitchen: Kitchen) -> Iterator[VesselUse]:
    """The fullest moment of each vessel."""
    best: dict[str, VesselUse] = {}
    for use in _moments(batch, kitchen):
        kept = best.get(use.vessel.casefold())
        if kept is None or use.rises_to_ml.number > kept.rises_to_ml.number:
            best[use.vessel.casefold()] = use
    yield from (use for use in best.values() if use.filled_ml.number > 0)


def _moments(batch: Batch, kitchen: Kitchen) -> Iterator[VesselUse]:
    weighed = iter(batch.lines)
    happened = {one.span: one for one in batch.happenings}
    contents: dict[str, _Content] = {}
    vessel, at = "", None
    content = _Content()
    events = batch.component.events
    for event, after in zip(events, (*events[1:], None), strict=False):
        if isinstance(event, Into):
            vessel, at = event.vessel, event.span
            content = contents.setdefault(vessel.casefold(), _Content())
        elif isinstance(event, Line):
            content.lines.append(next(weighed))
            if vessel and not isinstance(after, Line):  # the last one fills it most
                yield _use(batch, vessel, content, None, at, kitchen)
        elif isinstance(event, Step):
            if vessel and content.lines:
                yield _use(batch, vessel, content, event, event.span, kitchen)
            content.is_hot = content.is_hot or is_hot(event)
            if first_word(event) in _EMPTIES or is_oven(event):
                content.empty()
        elif (one := happened.get(event.span)) is not None and one.before_g > 0:
            content.left *= one.after_g / one.before_g


def _mix(step: Step | None, content: _Content, batch: Batch) -> Mix:
    if step is None or is_oven(step):
        return "plain"
    top = hottest(step)
    if is_boil(step) and (top is None or top >= BOILS_C) and any(
        map(_may_rise, content.lines)
    ):  # fmt: skip
        return "boil"
    is_whipped = first_word(step) in _WHIPS and (
        batch.kind.texture in {"foam", "sponge"}
        or first_word(step) == "whip"
        or _says(step, *_AIRY)
    )
    if is_whipped and any(_foam(line, batch) for line in content.lines):
        return "foam"
    return "plain"


def _may_rise(line: WeighedLine) -> bool:
    if line.ingredient is not None:
        return line.ingredient.group in _RISING
    return any(word in line.line.name.casefold() for word in _RISING_NAMES)


def _foam(line: WeighedLine, batch: Batch) -> str:
    """The kind of foam that a line is whipped to; empty for none."""
    key = line.ingredient.id if line.ingredient else ""
    if key.startswith("egg-white"):
        return "egg-white"
    if key.endswith(("cream-48", "cream-38", "cream-36", "cream-30")):
        return "cream"
    is_airy = batch.kind.texture in {"foam", "sponge"}
    return "egg" if key in {"whole-egg", "egg-yolk"} and is_airy else ""


def _use(
    batch: Batch,
    name: str,
    content: _Content,
    step: Step | None,
    span: Span | None,
    kitchen: Kitchen,
) -> VesselUse:
    vessel = kitchen.vessel(name)
    mix = _mix(step, content, batch)
    filled = _filled(content, vessel, is_boil=mix == "boil")
    rises = _rises(filled, content, mix, batch)
    holds = _holds(vessel, name)
    goes = withheld("mixings", holds.sum)
    if holds.known:
        number = max(1, ceil(rises.number / holds.number - 1e-9))
        said = f"{rises.number:,.0f} ÷ {holds.number:,.0f} ml, rounded up = {number}"
        goes = Figure(number, "mixings", said, rises.standing, sources=rises.sources)
    able = sorted(
        (v.litres, v.name)
        for v in kitchen.vessels
        if v.litres is not None and v.litres * 1000 >= rises.number
    )
    return VesselUse(
        vessel.name if vessel else name, batch.component.name, mix, filled, rises,
        holds, goes, tuple(name for _, name in able),
        step.text if step and mix != "plain" else "",
        sum(line.mass_g or 0.0 for line in content.lines) * content.left,
        (hottest(step) or 0.0) if step else 0.0, span,
    )  # fmt: skip


def _filled(content: _Content, vessel: Vessel | None, *, is_boil: bool) -> Figure:
    volumes = (volume_ml(line, is_dissolved=is_boil) for line in content.lines)
    value = sum(volumes) * content.left
    grams = sum(line.mass_g or 0.0 for line in content.lines) * content.left
    said = f"{grams:,.0f} g, each line over its density = {value:,.0f} ml"
    if is_boil:
        said += "; sugar dissolved"
    unknown = [line.line.name for line in content.lines if line.mass_g is None]
    if unknown:
        said += f"; without {', '.join(unknown)}"
    if vessel is not None and vessel.across_cm:
        deep = value / (pi * vessel.across_cm**2 / 4)
        said += f"; {deep:.1f} cm deep in {vessel.across_cm:g} cm across"
    return Figure(value, "ml", said, Standing.ASSUMED)


def _rises(filled: Figure, content: _Content, mix: Mix, batch: Batch) -> Figure:
    ml = filled.number
    if mix == "plain":
        return Figure(ml, "ml", f"{ml:,.0f} ml; it does not rise", filled.standing)
    if mix == "boil":
        fill = fills()["boil"]
        value = ml * fill.times
        said = f"{ml:,.0f} × {fill.times:g} = {value:,.0f} ml: {fill.why}"
        return Figure(value, "ml", said, Standing.ASSUMED, sources=(fill.source,))
    grown, parts = 0.0, []
    leans: dict[Source, None] = {}
    for line in content.lines:
        own = volume_ml(line) * content.left
        fill = fills()[_foam(line, batch) or "plain"]
        grown += own * fill.times
        if fill.times > 1:
            leans[fill.source] = None
            parts.append(f"{line.line.name} {own:,.0f} × {fill.times:g}")
    said = f"{' + '.join(parts)}, the rest as it is = {grown:,.0f} ml"
    return Figure(grown, "ml", said, Standing.ASSUMED, sources=tuple(leans))


def _holds(vessel: Vessel | None, name: str) -> Figure:
    if vessel is None:
        return withheld("ml", f"the kitchen has no {name}")
    if vessel.litres is None:
        return withheld("ml", f"the kitchen does not say how much the {name} holds")
    ml = vessel.litres * 1000
    return Figure(ml, "ml", f"{vessel.litres:g} litres = {ml:,.0f} ml")
