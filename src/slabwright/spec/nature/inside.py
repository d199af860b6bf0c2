"""What goes into a layer, ingredient by ingredient, and how hot each was made there."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.composition import amount
from slabwright.formula.batch import Batch
from slabwright.formula.component import Into
from slabwright.formula.heating import first_word, hottest, is_boil, is_oven
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.formula.stove import at_hand
from slabwright.formula.weighed import WeighedLine

BOIL_C: Final = 100.0
"""What comes to the boil is at least about so hot."""
_ENDS: Final = frozenset({"pour", "press", "spread", "chill", "cool", "set", "freeze"})
"""After these, nothing more is done on a ring to what went in before."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One ingredient of a layer."""

    ingredient: str
    """Its name in the larder; empty if it is none."""
    name: str
    """As its maker wrote it."""
    grams: float | None
    hot_C: float | None
    """How hot the mix was made after it went in; None if nothing tells."""
    is_baked: bool
    """Whether it was in an oven, however hot its core came."""
    protein_g: float = 0.0
    water_g: float = 0.0
    bloom: tuple[float, float] | None = None
    """Strength of its gelatine as the line says it, low and high [bloom]."""


def things(batch: Batch) -> tuple[Thing, ...]:
    """Everything in a batch, what its own components hold among it."""
    return tuple(_things(batch, 1.0, None, is_baked=False))


def _things(
    batch: Batch, share: float, hot_C: float | None, *, is_baked: bool
) -> Iterator[Thing]:
    events = batch.component.events
    lines = {id(one.line): one for one in batch.lines}
    found = at_hand(events, lines)
    for at, event in enumerate(events):
        if not isinstance(event, Line):
            continue
        weighed = lines[id(event)]
        later = [
            one
            for one in events[at + 1 :]
            if id(event) in found.get(id(one), (id(event),))
            or (isinstance(one, Step) and is_oven(one))
        ]
        own, oven = _heat(later)
        hot = max((one for one in (hot_C, own) if one is not None), default=None)
        grams = None if weighed.mass_g is None else weighed.mass_g * share
        inner = weighed.batch
        if inner is not None:
            out = inner.mass_out.value if inner.mass_out else 0.0
            of = 0.0 if weighed.mass_g is None or not out else weighed.mass_g / out
            yield from _things(inner, share * of, hot, is_baked=is_baked or oven)
        elif not event.aside:
            yield _thing(weighed, grams, hot, is_baked=is_baked or oven)


def _thing(
    weighed: WeighedLine, grams: float | None, hot: float | None, *, is_baked: bool
) -> Thing:
    one = weighed.ingredient
    row = None if one is None else one.composition
    protein = water = 0.0
    if row is not None and grams is not None:
        protein = grams * float(amount(row, "protein"))
        water = grams * float(amount(row, "water"))
    name = "" if one is None else one.id
    return Thing(
        name, weighed.line.name, grams, hot, is_baked, protein, water,
        weighed.line.bloom,
    )  # fmt: skip


def _heat(later: Sequence[object]) -> tuple[float | None, bool]:
    """How hot what is there now gets by what follows, and whether it is baked.

    What stands in one vessel is not heated by what is then done in another, until both
    are poured or baked together: a step on a ring counts only while the vessel stays.
    """
    hot: float | None = None
    is_baked = False
    stays = True
    for event in later:
        if isinstance(event, Into):
            stays = False
        if not isinstance(event, Step):
            continue
        if is_oven(event):
            is_baked = True
            core = event.to_C.high if event.to_C is not None else None
        elif first_word(event) in _ENDS or not stays:
            continue
        else:
            core = hottest(event)
            if core is None and is_boil(event):
                core = BOIL_C
        if core is not None:
            hot = core if hot is None else max(hot, core)
    return hot, is_baked
