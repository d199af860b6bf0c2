"""Which ingredient lies in a finished batch with how much of itself.

Solids stay: what of a line is left is what no bowl kept back. Water that boils or bakes
off is no part of a declaration's values, so it is only seen in the batch's mass.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from slabwright.composition import INDEX, UNKNOWN, amount, total
from slabwright.errors import Span
from slabwright.figure import Ranged
from slabwright.formula.batch import Batch
from slabwright.formula.line import Line
from slabwright.formula.weighed import WeighedLine
from slabwright.larder.ingredient import Ingredient


@dataclass(frozen=True, slots=True)
class Part:
    """So much of an ingredient that went into what is there in the end."""

    name: str
    ingredient: Ingredient | None
    """None if nobody knows what it is or how much of what it holds."""
    grams: float
    """As it was weighed, less its share of what stayed behind [g]."""
    low_g: float
    high_g: float
    way: tuple[str, ...]
    """The components that it lies in, outermost first."""
    span: Span | None
    why: str = ""
    """Why it is not known."""
    alcohol_left: float = 1.0
    """Share of its alcohol that is still there, as worked out."""
    alcohol_low: float = 1.0
    """The least share: none, if it was heated."""

    def times(self, factor: float) -> "Part":
        """So many times as much."""
        return replace(
            self, grams=self.grams * factor, low_g=self.low_g * factor,
            high_g=self.high_g * factor,
        )  # fmt: skip


def parts_of(batch: Batch, way: tuple[str, ...] = ()) -> tuple[Part, ...]:
    """What lies in the whole of a finished batch, line by line.

    Where lines can't be weighed or read, all that came out is one part of which nobody
    knows anything: its mass, where it was weighed, is all there is to say.

    Args:
        batch: worked out.
        way: the components that it is a part of.
    """
    here = (*way, batch.component.name)
    if batch.in_withheld:
        return (_whole(batch, here, batch.in_withheld),)
    found: list[Part] = []
    weighed, happened = iter(batch.lines), iter(batch.happenings)
    changes = {one.span for one in batch.happenings if not one.is_assumed_usual}
    for event in batch.component.events:
        if isinstance(event, Line):
            found += _of_line(next(weighed), here)
        elif event.span in changes:
            one = next(happened)
            found = _left(found, one.before_g, one.after_g, one.of)
    for one in happened:  # the kind's usual loss comes last
        found = _left(found, one.before_g, one.after_g, one.of)
    return tuple(_with_alcohol(batch, found))


def _whole(batch: Batch, way: tuple[str, ...], why: str) -> Part:
    out = batch.mass_out
    if out is None:
        return Part(batch.component.name, None, 0.0, 0.0, 0.0, way, None, why)
    return Part(
        batch.component.name, None, out.value, out.low, out.high, way,
        batch.component.span, why,
    )  # fmt: skip


def _of_line(line: WeighedLine, way: tuple[str, ...]) -> Iterator[Part]:
    grams = line.grams
    if not isinstance(grams, Ranged):
        return
    inner = line.batch
    if inner is None:
        why = "" if line.ingredient else f"nobody here knows '{line.line.name}'"
        yield Part(
            line.ingredient.name if line.ingredient else line.line.name,
            line.ingredient, grams.value, grams.low, grams.high, way,
            line.line.span, why,
        )  # fmt: skip
        return
    out = inner.mass_out
    if out is None or not out.value > 0:
        why = f"what comes out of {inner.component.name} is not known"
        yield Part(
            line.line.name, None, grams.value, grams.low, grams.high, way,
            line.line.span, why,
        )  # fmt: skip
        return
    for part in parts_of(inner, way):
        each = part.times(1 / out.value)
        yield replace(
            each, grams=each.grams * grams.value, low_g=each.low_g * grams.low,
            high_g=each.high_g * grams.high, span=line.line.span,
        )  # fmt: skip


def _left(parts: list[Part], before_g: float, after_g: float, of: str) -> list[Part]:
    """What is left of each after mix stayed behind, or water went."""
    if of == "mix":
        share = after_g / before_g if before_g > 0 else 1.0
        return [part.times(share) for part in parts]
    if before_g - after_g > 0:  # alcohol goes with the water, nobody knows how much
        return [replace(part, alcohol_low=0.0) for part in parts]
    return parts


def _with_alcohol(batch: Batch, parts: list[Part]) -> Iterator[Part]:
    """The share of alcohol that is left: what boils dry loses it too."""
    there = sum(_alcohol_g(part) for part in parts)
    left_g = float(amount(batch.after, "alcohol")[0])
    share = min(left_g / there, 1.0) if there > 0 and not _is_unknown(batch) else 1.0
    is_heated = any(
        step.at_C is not None or step.to_C is not None for step in batch.component.steps
    )
    for part in parts:
        least = 0.0 if is_heated else part.alcohol_low
        yield replace(
            part,
            alcohol_left=part.alcohol_left * share,
            alcohol_low=min(least, part.alcohol_left * share),
        )


def _alcohol_g(part: Part) -> float:
    row = None if part.ingredient is None else part.ingredient.composition
    if row is None:
        return 0.0
    return part.grams * float(row[INDEX["alcohol"]]) * part.alcohol_left


def _is_unknown(batch: Batch) -> bool:
    return float(batch.after[0, INDEX[UNKNOWN]]) > 0


def solids_share(batch: Batch) -> tuple[float, float, float]:
    """Share of a finished batch that is not water: as worked out, and at both ends.

    All 1 where the composition is not known.
    """
    masses = total(batch.after)
    if batch.composition_withheld or not (masses > 0).all():
        return 1.0, 1.0, 1.0
    value, low, high = 1 - amount(batch.after, "water") / masses
    return float(value), float(low), float(high)
