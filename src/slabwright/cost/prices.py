"""Prices of packs, and what the grams of a line cost by them; exact until shown."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """What a pack of an ingredient costs from a day on."""

    ingredient: str
    """Its name as the price list has it."""
    pack_g: float
    price: Decimal
    from_day: date
    supplier: str = ""
    stock_g: float | None = None
    pack: str = ""
    """The pack in words."""


@dataclass(frozen=True, slots=True)
class PriceList:
    """Prices by larder id, each with its history."""

    currency: str
    prices: dict[str, tuple[Price, ...]] = field(default_factory=dict)

    def price_of(self, larder_id: str, on: date) -> Price | None:
        """The price that holds on this day: the latest one from before it."""
        known = [p for p in self.prices.get(larder_id, ()) if p.from_day <= on]
        return max(known, key=lambda price: price.from_day, default=None)


def cost_of_use(pack_price: Decimal, *, used_g: float, pack_g: float) -> Decimal:
    """What this much of a pack costs; exact, to be rounded once, where it is shown.

    Args:
        pack_price: price of one pack, in the kitchen's currency.
        used_g: mass used, of one pack or of several [g].
        pack_g: mass in one pack [g].

    >>> cost_of_use(Decimal("1.80"), used_g=190, pack_g=250)
    Decimal('1.368')
    """
    return pack_price * Decimal(str(used_g)) / Decimal(str(pack_g))


@dataclass(frozen=True, slots=True)
class Use:
    """So much of something that a slab takes."""

    larder_id: str
    name: str
    grams: float


@dataclass(frozen=True, slots=True)
class Costed:
    """A use and what it costs; None where there is no price."""

    use: Use
    price: Price | None
    cost: Decimal | None


def cost_uses(uses: Iterable[Use], prices: PriceList, on: date) -> tuple[Costed, ...]:
    """Each use at the price of this day."""
    costed: list[Costed] = []
    for use in uses:
        price = prices.price_of(use.larder_id, on)
        cost = None
        if price is not None:
            cost = cost_of_use(price.price, used_g=use.grams, pack_g=price.pack_g)
        costed.append(Costed(use, price, cost))
    return tuple(costed)
