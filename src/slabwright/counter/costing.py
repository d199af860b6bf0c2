"""So many trays of one slab costed: lines, opened packs, by-products, prices."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from slabwright.cost.by_products import ByProduct, by_products
from slabwright.cost.opened import Opened, once_opened
from slabwright.cost.packs import Packs, cheapest
from slabwright.cost.prices import Counted, Price, PriceList, Use, money
from slabwright.counter.needs import Needs, Trays, needs_of
from slabwright.figure import Figure
from slabwright.kitchen import Kitchen
from slabwright.larder.lookup import Larder
from slabwright.spec.costing import uses_of_slab


@dataclass(frozen=True, slots=True)
class LeftOpen:
    """What is left of packs that were bought whole for a making, and opened."""

    larder_id: str
    name: str
    packs: tuple[Packs, ...]
    left_g: Figure
    worth: Figure
    """At what was paid for it."""
    keeps: Opened | None
    """None: not known."""


@dataclass(frozen=True, slots=True)
class Priced:
    """What an ingredient counts at, and why."""

    larder_id: str
    name: str
    counted: Counted
    to_come: tuple[Price, ...]

    @property
    def per_kg(self) -> Decimal:
        """Money for a kilogram."""
        return money(self.counted.price.per_gram * 1000)


@dataclass(frozen=True, slots=True)
class SlabCost:
    """So many trays of a slab, costed."""

    trays: Trays
    whole: Figure | None
    """Ingredients of all trays; None without a price for any."""
    with_waste: Figure | None
    needs: Needs
    left_open: tuple[LeftOpen, ...]
    by_products: tuple[ByProduct, ...]
    priced: tuple[Priced, ...]


def slab_cost(
    trays: Trays, prices: PriceList, larder: Larder, kitchen: Kitchen, on: date
) -> SlabCost:
    """What these trays cost, what is left of opened packs, and of eggs and fruit."""
    needs = needs_of([trays])
    uses = [
        replace(use, grams=use.grams * trays.count, pieces=_many(use, trays.count))
        for use in uses_of_slab(trays.spec, whole_batches=True)
    ]
    return SlabCost(
        trays,
        _times(trays, "ingredients"),
        _times(trays, "with_waste"),
        needs,
        tuple(_left_open(needs, prices, larder, on)),
        tuple(by_products(uses, larder, kitchen.country, kitchen.eggs)),
        tuple(_priced(needs, prices, on)),
    )


def _many(use: Use, count: int) -> float | None:
    return None if use.pieces is None else use.pieces * count


def _times(trays: Trays, what: str) -> Figure | None:
    """A figure of one tray, so many times."""
    cost = trays.spec.cost
    if cost is None:
        return None
    one: Figure = getattr(cost, what)
    if one.value is None or trays.count == 1:
        return one
    value = Decimal(one.value) * trays.count
    said = f"{trays.count} trays × {one.number:.4f} = {value:.4f} {one.unit}"
    return Figure(value, one.unit, said, one.standing)


def _priced(needs: Needs, prices: PriceList, on: date) -> Iterator[Priced]:
    for need in needs.needs:
        counted = prices.counted(need.larder_id, on)
        if counted is not None:
            to_come = prices.to_come(need.larder_id, on)
            yield Priced(need.larder_id, need.name, counted, to_come)


def _left_open(
    needs: Needs, prices: PriceList, larder: Larder, on: date
) -> Iterator[LeftOpen]:
    """What is left if whole packs are bought for this alone, the cheapest way."""
    for need in needs.needs:
        packs = cheapest(need.grams, prices.offers(need.larder_id, on))
        bought = sum((one.grams for one in packs), Fraction(0))
        left = bought - need.grams
        if round(left, 2) <= 0:
            continue
        yield LeftOpen(
            need.larder_id,
            need.name,
            packs,
            _left(packs, bought, need.grams),
            _worth(packs, bought, left, prices.currency),
            once_opened(larder.by_id(need.larder_id)),
        )


def _left(packs: Sequence[Packs], bought: Fraction, used: Fraction) -> Figure:
    value = float(bought - used)
    parts = " + ".join(f"{one.count} × {one.price.pack_g:g}" for one in packs)
    said = f"{parts} - {float(used):.5g} = {value:.5g} g"
    return Figure(value, "g", said)


def _worth(
    packs: Sequence[Packs], bought: Fraction, left: Fraction, currency: str
) -> Figure:
    paid = sum((one.cost for one in packs), Fraction(0))
    value = money(paid * left / bought)
    said = (
        f"{float(left):.5g} of {float(bought):.5g} g × {money(paid):.2f} = "
        f"{value:.4f} {currency}"
    )
    return Figure(value, currency, said)


def worth_of(left_open: Sequence[LeftOpen]) -> Decimal:
    """What all opened packs together are worth."""
    return sum((Decimal(one.worth.value or 0) for one in left_open), Decimal(0))
