"""A price that changes: by so many per cent, or to a new price."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from slabwright.cost.prices import Price, PriceList, exact, money


@dataclass(frozen=True, slots=True)
class PriceChange:
    """What changes, and to what: just one of the last three is said."""

    said: str
    larder_ids: tuple[str, ...]
    names: tuple[str, ...]
    """What it hits, by name."""
    factor: Fraction | None = None
    """So many times as dear."""
    pack_price: Decimal | None = None
    """The new price of the pack that counts."""
    per_kg: Decimal | None = None
    """The new price of a kilogram, whatever the pack."""


def changed(prices: PriceList, changes: Iterable[PriceChange], on: date) -> PriceList:
    """The price list as it would be with these changes, one after the other.

    A factor holds for every pack of an ingredient; a new price is that of the one pack
    that counts on this day.
    """
    now = dict(prices.prices)
    for change in changes:
        for id in change.larder_ids:
            if change.factor is not None:
                now[id] = tuple(_times(p, change.factor) for p in now.get(id, ()))
                continue
            counted = PriceList(prices.currency, now).price_of(id, on)
            if counted is not None:
                now[id] = (_at(counted, change),)
    return PriceList(prices.currency, now)


def _times(price: Price, factor: Fraction) -> Price:
    return replace(price, price=money(Fraction(price.price) * factor))


def _at(price: Price, change: PriceChange) -> Price:
    if change.pack_price is not None:
        return replace(price, price=change.pack_price)
    per_kg = Fraction(change.per_kg or 0)
    return replace(price, price=money(per_kg * exact(price.pack_g) / 1000))
