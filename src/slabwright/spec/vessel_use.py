"""What each vessel is filled with, how far that rises, and what the vessel holds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import ceil, pi
from typing import Final, Literal

from slabwright.errors import Span
from slabwright.figure import Figure, Standing, withheld
from slabwright.formula.batch import Batch
from slabwright.formula.component import Ends, Into, Loses
from slabwright.formula.heating import hottest, is_oven
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.formula.vessel.contents import Content
from slabwright.formula.vessel.vessels import Vessels
from slabwright.formula.vessel.whereabouts import key_of
from slabwright.kitchen import Kitchen, Vessel
from slabwright.spec.cautions import HEAVY_PAN_G, HOT_SUGAR_C
from slabwright.spec.fills import fills
from slabwright.spec.foams import boils, foams_of, rise, whips

_PANS: Final = frozenset(
    "pan saucepan stewpan pot stockpot kettle casserole cauldron boiler".split()
)
_NO_PANS: Final = frozenset("baking cake loaf muffin roasting sheet tart".split())
"""A pan of these is a tin."""
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
    """Vessels of the kitchen that take it in one go, the smallest first: only pans
    for a boil, no pans for a foam."""
    step: str = ""
    """What is done at that moment; empty where nothing makes it rise."""
    filled_g: float = 0.0
    hottest_C: float = 0.0
    fullest_ml: float = 0.0
    """The most that stands in it before anything rises, at any moment."""
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


def is_pan(name: str) -> bool:
    """Whether a vessel of this name goes on a ring: the kitchen says only its name.

    >>> is_pan("wide pan"), is_pan("Saucepan, small"), is_pan("kettle")
    (True, True, True)
    >>> is_pan("mixer"), is_pan("large bowl"), is_pan("sheet pan")
    (False, False, False)
    """
    words = set(name.casefold().replace(",", " ").replace("-", " ").split())
    return bool(words & _PANS) and not words & _NO_PANS


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
    fullest: dict[str, float] = {}
    for use in _moments(batch, kitchen):
        key = key_of(use.vessel)
        fullest[key] = max(fullest.get(key, 0.0), use.filled_ml.number)
        kept = best.get(key)
        if kept is None or use.rises_to_ml.number > kept.rises_to_ml.number:
            best[key] = use
    for key, use in best.items():
        if use.filled_ml.number > 0:
            yield replace(use, fullest_ml=fullest[key])


def _moments(batch: Batch, kitchen: Kitchen) -> Iterator[VesselUse]:
    weighed = iter(batch.lines)
    happened = {o.span: o for o in batch.happenings if not o.is_assumed_usual}
    events = batch.component.events
    vessels = Vessels(
        [event.vessel for event in events if isinstance(event, Into)],
        [vessel.name for vessel in kitchen.vessels],
    )
    for event, after in zip(events, (*events[1:], None), strict=False):
        if isinstance(event, Into):
            vessels.open(event.vessel, event.span)
        elif isinstance(event, Line):
            vessels.add(next(weighed))
            if not isinstance(after, Line):  # the last one fills it most
                yield from _use(batch, vessels.hand, None, kitchen)
        elif isinstance(event, Step):
            off_g = happened[event.span].lost_g if event.span in happened else 0.0
            yield from _step(batch, vessels, event, kitchen, off_g)
        elif isinstance(event, Ends | Loses) and event.span in happened:
            place = event.place if isinstance(event, Loses) else ""
            vessels.lose(happened[event.span].lost_g, place)


def _step(
    batch: Batch, vessels: Vessels, step: Step, kitchen: Kitchen, off_g: float
) -> Iterator[VesselUse]:
    """What is at hand when a step begins, and what it then pours elsewhere.

    `off_g` is the water that boils off before anything is poured.
    """
    yield from _use(batch, vessels.hand, step, kitchen)
    vessels.work(step)
    if off_g > 0:
        vessels.boil_off(off_g)
    for into in vessels.pour(step):
        yield from _use(batch, into, step, kitchen, is_poured_in=True)
    if is_oven(step):
        vessels.hand.empty()


def _mix(step: Step | None, content: Content, batch: Batch, *, is_in: bool) -> Mix:
    """What the mix does in this step; a foam stays one until it is boiled."""
    portions = content.portions
    if step is not None and boils(step, content, is_poured_in=is_in):
        for one in portions:
            one.is_dissolved, one.foam = True, ""
        return "boil"
    texture = batch.kind.texture
    if step is not None and whips(step, content, texture, is_poured_in=is_in):
        kinds = foams_of(portions, texture)
        for number, one in enumerate(portions):
            one.foam = kinds.get(number, one.foam)
    return "foam" if any(one.foam for one in portions) else "plain"


def _use(
    batch: Batch,
    content: Content,
    step: Step | None,
    kitchen: Kitchen,
    *,
    is_poured_in: bool = False,
) -> Iterator[VesselUse]:
    """A vessel at one moment; none where it is empty or has no name."""
    if not content.name or not content.portions:
        return
    vessel = kitchen.vessel(content.name)
    mix = _mix(step, content, batch, is_in=is_poured_in)
    filled = _filled(content, vessel)
    rises = _rises(filled, content, mix)
    holds = _holds(vessel, content.name)
    yield VesselUse(
        vessel.name if vessel else content.name, batch.component.name, mix, filled,
        rises, holds, _mixings(rises, holds), _would_do(mix, rises, kitchen),
        step.text if step and mix != "plain" else "", content.grams,
        (hottest(step) or 0.0) if step else 0.0, span=content.at,
    )  # fmt: skip


def _mixings(rises: Figure, holds: Figure) -> Figure:
    if not holds.known:
        return withheld("mixings", holds.sum)

    def goes(ml: float) -> int:
        return max(1, ceil(ml / holds.number - 1e-9))

    number = goes(rises.number)
    said = f"{rises.number:,.0f} ÷ {holds.number:,.0f} ml, rounded up = {number}"
    low, high = goes(rises.low or rises.number), goes(rises.high or rises.number)
    return Figure(
        number, "mixings", said, rises.standing, low if low < high else None,
        high if low < high else None, rises.sources,
    )  # fmt: skip


def _would_do(mix: Mix, rises: Figure, kitchen: Kitchen) -> tuple[str, ...]:
    able = sorted(
        (one.litres, one.name)
        for one in kitchen.vessels
        if one.litres is not None
        and one.litres * 1000 >= rises.number
        and (mix == "plain" or is_pan(one.name) == (mix == "boil"))
    )
    return tuple(name for _, name in able)


def _filled(content: Content, vessel: Vessel | None) -> Figure:
    value = sum(one.ml for one in content.portions)
    said = f"{content.grams:,.0f} g, each line over its density = {value:,.0f} ml"
    if any(one.is_dissolved for one in content.portions):
        said += "; sugar dissolved"
    unknown = [p.line.line.name for p in content.portions if p.line.mass_g is None]
    if unknown:
        said += f"; without {', '.join(unknown)}"
    if vessel is not None and vessel.across_cm:
        deep = value / (pi * vessel.across_cm**2 / 4)
        said += f"; {deep:.1f} cm deep in {vessel.across_cm:g} cm across"
    return Figure(value, "ml", said, Standing.ASSUMED)


def _rises(filled: Figure, content: Content, mix: Mix) -> Figure:
    ml = filled.number
    if mix == "plain":
        return Figure(ml, "ml", f"{ml:,.0f} ml; it does not rise", filled.standing)
    if mix == "boil":
        fill = fills()["boil"]
        value = ml * fill.times
        said = f"{ml:,.0f} × {fill.times:g} = {value:,.0f} ml: {fill.why}"
        return Figure(value, "ml", said, Standing.ASSUMED, sources=(fill.source,))
    value, low, high, said, leans = rise(content.portions)
    return Figure(value, "ml", said, Standing.ASSUMED, low, high, tuple(leans))


def _holds(vessel: Vessel | None, name: str) -> Figure:
    if vessel is None:
        return withheld("ml", f"the kitchen has no {name}")
    if vessel.litres is None:
        return withheld("ml", f"the kitchen does not say how much the {name} holds")
    ml = vessel.litres * 1000
    return Figure(ml, "ml", f"{vessel.litres:g} litres = {ml:,.0f} ml")
