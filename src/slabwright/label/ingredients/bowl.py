"""What goes into the mixing bowls of a slab: every line in grams of this slab.

Components inside components are followed down to bought things. A line's grams are
those that were weighed in, as Article 18(1) of Regulation (EU) No 1169/2011 asks; of
alcohol only what is left counts, as Annex VII A 1 asks of what is volatile.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.composition import INDEX, dry_matter
from slabwright.errors import Span
from slabwright.formula.batch import Batch
from slabwright.formula.weigh import Unweighable
from slabwright.formula.weighed import WeighedLine
from slabwright.larder.ingredient import Ingredient

WATER_ID: Final = "water"
_ALCOHOL: Final = INDEX["alcohol"]
_EXACT: Final = 1e-6
"""What sums of floats leave behind."""


@dataclass(frozen=True, slots=True)
class Poured:
    """A layer as it goes into the slab."""

    name: str
    from_component: str
    batch: Batch
    batches: float | None
    """How many batches of it lie in the slab; None if that is not known."""
    out: tuple[float, float, float] | None
    """Grams of it that lie in the finished slab: value, low, high."""


@dataclass(frozen=True, slots=True)
class Weight:
    """Grams, with their likely range."""

    g: float
    low_g: float
    high_g: float

    def __add__(self, other: "Weight") -> "Weight":
        return Weight(
            self.g + other.g, self.low_g + other.low_g, self.high_g + other.high_g
        )

    def times(self, factor: float) -> "Weight":
        """So many times as much."""
        return Weight(self.g * factor, self.low_g * factor, self.high_g * factor)


NOTHING = Weight(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class InBowl:
    """A line of a layer, with what of it counts in a list of ingredients."""

    layer: int
    """Number of the layer, bottom first."""
    layer_name: str
    way: tuple[str, ...]
    name: str
    ingredient: Ingredient | None
    weight: Weight | None
    """Grams that were weighed in, in this slab; None if that is not known."""
    why_not: str
    """Why they are not known, or why it has no weight in the slab."""
    is_aside: bool
    """Whether it stands among the lines without a weight: for greasing, to taste."""
    gone_g: float
    """Alcohol of it that is driven off [g]."""
    span: Span

    @property
    def counted(self) -> Weight | None:
        """What decides its place: grams weighed in, less alcohol that has gone."""
        if self.weight is None or not self.gone_g:
            return self.weight
        left = max(1 - self.gone_g / self.weight.g, 0.0) if self.weight.g > 0 else 1.0
        return self.weight.times(left)

    @property
    def is_water(self) -> bool:
        """Whether it is water that is added as such."""
        return self.ingredient is not None and self.ingredient.id == WATER_ID


def in_bowls(layers: Sequence[Poured]) -> tuple[InBowl, ...]:
    """Every line of every layer, in the card's order."""
    return tuple(
        line
        for number, one in enumerate(layers)
        for line in _lines(number, one, one.batch, one.batches, _way(one), 1.0)
    )


def grams_by_layer(group: Sequence[InBowl], weight: Weight | None) -> str:
    """Grams by layer in words, with what of them has gone.

    Args:
        group: lines of one name.
        weight: what they come to; None if that is not known.
    """
    by_layer: dict[tuple[int, str], list[str]] = {}
    for one in group:
        if one.weight is None:
            said = f"({one.why_not.rstrip('.') or 'not known'})"
        else:
            said = f"{one.weight.g:.5g}"
            if one.gone_g > 5e-4:
                said = f"({said} - {one.gone_g:.3g} of alcohol)"
        by_layer.setdefault((one.layer, one.layer_name), []).append(said)
    weighed = {(one.layer, one.layer_name) for one in group if one.weight is not None}
    parts = [
        f"{place[1]} {' + '.join(said)}{' g' if place in weighed else ''}"
        for place, said in by_layer.items()
    ]
    whole = " + ".join(parts)
    return whole if weight is None or len(group) == 1 else f"{whole} = {weight.g:.5g} g"


def _way(one: Poured) -> tuple[str, ...]:
    return (one.name, one.from_component) if one.from_component else (one.name,)


def _lines(
    number: int,
    layer: Poured,
    batch: Batch,
    batches: float | None,
    way: tuple[str, ...],
    alcohol_left: float,
) -> Iterator[InBowl]:
    left = alcohol_left * _alcohol_left(batch)
    for weighed in batch.lines:
        here = (*way, weighed.line.name)
        inner = weighed.batch
        if inner is None:
            yield _line(number, layer, weighed, batches, here, left)
            continue
        taken, out = weighed.mass_g, inner.mass_out
        part = None
        if batches is not None and taken is not None and out and out.value > 0:
            part = batches * taken / out.value
        yield from _lines(number, layer, inner, part, here, left)


def _line(
    number: int,
    layer: Poured,
    weighed: WeighedLine,
    batches: float | None,
    way: tuple[str, ...],
    alcohol_left: float,
) -> InBowl:
    grams, line = weighed.grams, weighed.line
    weight, why = None, ""
    if grams is None:
        why = line.aside
    elif isinstance(grams, Unweighable):
        why = grams.what
    elif batches is None:
        why = f"how much of {way[-2]} lies in the slab is not known"
    else:
        weight = Weight(grams.value, grams.low, grams.high).times(batches)
    gone = 0.0
    known = weighed.ingredient
    if weight is not None and known is not None and known.composition is not None:
        alcohol_g = weight.g * float(known.composition[_ALCOHOL])
        gone = alcohol_g * (1 - alcohol_left)
    return InBowl(
        number, layer.name, way, line.name, known, weight, why, grams is None, gone,
        line.span,
    )  # fmt: skip


def _alcohol_left(batch: Batch) -> float:
    """Share of a batch's alcohol that is not driven off; all if that isn't known.

    What stays on a bowl takes alcohol with it and drives none off: alcohol is held
    against the dry matter, which only leaves with the mix.
    """
    if batch.composition_withheld or batch.withheld:
        return 1.0
    before, after = batch.before[0], batch.after[0]
    dry_before, dry_after = float(dry_matter(before)), float(dry_matter(after))
    if not (before[_ALCOHOL] > 0 and dry_before > 0 and dry_after > 0):
        return 1.0
    kept = float(after[_ALCOHOL] / before[_ALCOHOL]) * dry_before / dry_after
    return 1.0 if kept > 1 - _EXACT else kept
