"""What slabs and trays take together, ingredient by ingredient."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from slabwright.cost.prices import exact
from slabwright.formula.batch import Batch, all_batches
from slabwright.spec.costing import WATER, unweighed_in, uses_of_slab
from slabwright.spec.specification import Specification


@dataclass(frozen=True, slots=True)
class Trays:
    """So many trays of a slab, as its card has it."""

    spec: Specification
    count: int = 1


@dataclass(frozen=True, slots=True)
class Need:
    """So much of an ingredient, over all slabs and trays."""

    larder_id: str
    """Empty where the larder doesn't know it."""
    name: str
    grams: Fraction
    by_slab: tuple[tuple[str, Fraction], ...]
    """Slabs that take it, and how much [g]."""
    counted: Fraction = Fraction(0)
    """Pieces, of the lines that count them."""
    uncounted_g: Fraction = Fraction(0)
    """Grams, of the lines that weigh it."""

    def pieces(self, each_g: float) -> Fraction:
        """How many pieces that is, where what is weighed comes in such [g]."""
        return self.counted + self.uncounted_g / exact(each_g)


@dataclass(frozen=True, slots=True)
class Needs:
    """Everything that is needed, in the order of the cards."""

    needs: tuple[Need, ...]
    unweighed: tuple[str, ...]
    """Lines whose grams nobody knows."""
    beside: tuple[str, ...]
    """What a card names but no slab weighs: butter for greasing."""
    shared: tuple[tuple[str, float], ...]
    """Components that more than one slab takes, made once: how many grams in all."""


def needs_of(orders: Sequence[Trays]) -> Needs:
    """What these trays take together; components are opened, water is left out."""
    grams: dict[tuple[str, str], dict[str, Fraction]] = {}
    counted: dict[tuple[str, str], Fraction] = defaultdict(Fraction)
    weighed: dict[tuple[str, str], Fraction] = defaultdict(Fraction)
    for order in orders:
        slab = order.spec.name
        for use in uses_of_slab(order.spec, whole_batches=True):
            key = (use.larder_id, "" if use.larder_id else use.name.casefold())
            by_slab = grams.setdefault(key, {})
            more = exact(use.grams) * order.count
            by_slab[slab] = by_slab.get(slab, Fraction(0)) + more
            if use.pieces is None:
                weighed[key] += more
            else:
                counted[key] += exact(use.pieces) * order.count
    names = _names(orders)
    needs = tuple(
        Need(
            key[0],
            names[key],
            sum(by.values(), Fraction(0)),
            tuple(by.items()),
            counted[key],
            weighed[key],
        )
        for key, by in grams.items()
        if sum(by.values()) > 0
    )
    batches = [batch for order in orders for batch in _batches(order.spec)]
    return Needs(
        needs,
        tuple(dict.fromkeys(name for b in batches for name in unweighed_in(b))),
        tuple(dict.fromkeys(_beside(batches))),
        _shared(orders),
    )


def _names(orders: Sequence[Trays]) -> dict[tuple[str, str], str]:
    """What each need is called: as the larder has it, else as first written."""
    names: dict[tuple[str, str], str] = {}
    for order in orders:
        for use in uses_of_slab(order.spec, whole_batches=True):
            key = (use.larder_id, "" if use.larder_id else use.name.casefold())
            names.setdefault(key, use.name)
    return names


def _batches(spec: Specification) -> tuple[Batch, ...]:
    return tuple(layer.batch for layer in spec.layers or spec.components)


def _beside(batches: Sequence[Batch]) -> Iterator[str]:
    """Lines without a weight in the slab."""
    for batch in batches:
        for inner in all_batches(batch):
            for line in inner.lines:
                is_water = line.ingredient and line.ingredient.id == WATER
                if line.grams is None and not is_water:
                    name = line.ingredient.name if line.ingredient else line.line.name
                    aside = line.line.aside
                    yield f"{name}, {aside}" if aside else name


def _shared(orders: Sequence[Trays]) -> tuple[tuple[str, float], ...]:
    taken: dict[str, dict[str, float]] = {}
    for order in orders:
        for layer in order.spec.layers:
            if layer.from_component and layer.mass_out_g.known:
                by_slab = taken.setdefault(layer.batch.component.name, {})
                grams = layer.mass_out_g.number * order.count
                name = order.spec.name
                by_slab[name] = by_slab.get(name, 0.0) + grams
    return tuple(
        (name, sum(by_slab.values()))
        for name, by_slab in taken.items()
        if len(by_slab) > 1
    )
