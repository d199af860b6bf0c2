"""Prices of packs with their history, and what a gram costs on a day; exact."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Final

SINCE_EVER: Final = date(1970, 1, 1)
"""The day of a price that names none."""

Rates = Mapping[str, Fraction]
"""What a gram costs, by larder id; what has no price is not in it."""


@lru_cache(maxsize=4096)
def exact(number: float) -> Fraction:
    """A number as it was written, without the last digits that floats leave behind.

    Twelve digits stay: a hundredth of a milligram of ten tonnes.

    >>> exact(0.1) * 3, exact(109.99999999999997)
    (Fraction(3, 10), Fraction(110, 1))
    """
    return Fraction(f"{number:.12g}")


def money(value: Fraction) -> Decimal:
    """A sum of money for a figure, still unrounded (28 digits)."""
    return Decimal(value.numerator) / Decimal(value.denominator)


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
    until: date | None = None
    """The last day on which it can be had; None: to be had still."""
    for_costing: bool = False
    """Whether the list marks it as the one that counts."""

    @property
    def per_gram(self) -> Fraction:
        """What a gram of it costs."""
        return Fraction(self.price) / exact(self.pack_g)

    @property
    def offer(self) -> tuple[str, float]:
        """Supplier and pack: a later price of the same takes the place of this one."""
        return self.supplier.casefold(), self.pack_g

    @property
    def words(self) -> str:
        """The pack and who sells it, in words."""
        pack = self.pack or f"{self.pack_g:g} g"
        return f"{pack} from {self.supplier}" if self.supplier else pack


@dataclass(frozen=True, slots=True)
class Counted:
    """The price that counts for costing, and why this one."""

    price: Price
    why: str


@dataclass(frozen=True, slots=True)
class PriceList:
    """Prices by larder id, each with its history."""

    currency: str
    prices: dict[str, tuple[Price, ...]] = field(default_factory=dict)

    def offers(self, larder_id: str, on: date) -> tuple[Price, ...]:
        """What can be had on this day: of each supplier and pack the latest price."""
        latest: dict[tuple[str, float], Price] = {}
        for price in self.prices.get(larder_id, ()):
            if price.from_day > on:
                continue
            held = latest.get(price.offer)
            if held is None or price.from_day >= held.from_day:
                latest[price.offer] = price
        return tuple(p for p in latest.values() if p.until is None or on <= p.until)

    def counted(self, larder_id: str, on: date) -> Counted | None:
        """The price that counts for costing on this day.

        The marked one if the list marks any that can be had; else the cheapest by the
        gram, and of equals the latest.
        """
        offers = self.offers(larder_id, on)
        if not offers:
            return None
        marked = [price for price in offers if price.for_costing]
        best = min(
            marked or offers,
            key=lambda price: (price.per_gram, -price.from_day.toordinal()),
        )
        if len(offers) == 1:
            return Counted(best, "the only price")
        why = "marked for costing" if marked else "the cheapest by the gram"
        return Counted(best, f"{why}, of {len(offers)} packs on sale")

    def price_of(self, larder_id: str, on: date) -> Price | None:
        """The price that counts on this day; None if there is none."""
        found = self.counted(larder_id, on)
        return found.price if found else None

    def to_come(self, larder_id: str, on: date) -> tuple[Price, ...]:
        """Prices that are known already and hold from a later day, soonest first."""
        later = [p for p in self.prices.get(larder_id, ()) if p.from_day > on]
        return tuple(sorted(later, key=lambda price: price.from_day))

    def stock_g(self, larder_id: str, on: date) -> float:
        """What lies on the shelf [g]: of each supplier and pack what was last said."""
        rows = [p for p in self.prices.get(larder_id, ()) if p.stock_g is not None]
        rows.sort(key=lambda price: price.from_day)
        said: dict[tuple[str, float], Price] = {}
        for price in rows:
            if price.from_day <= on:  # a price to come has a stock if no other row says
                said[price.offer] = price
            said.setdefault(price.offer, price)
        return sum(price.stock_g or 0.0 for price in said.values())

    def rates(self, larder_ids: Iterable[str], on: date) -> dict[str, Fraction]:
        """What a gram costs on this day, of all that has a price."""
        found = {id: self.price_of(id, on) for id in dict.fromkeys(larder_ids)}
        return {id: price.per_gram for id, price in found.items() if price is not None}


@dataclass(frozen=True, slots=True)
class Moved:
    """A price that counts otherwise than on an earlier day; None: there was none."""

    larder_id: str
    before: Price | None
    after: Price | None

    @property
    def share(self) -> float | None:
        """By which share it rose; None where either price is missing or was 0."""
        if self.before is None or self.after is None or not self.before.per_gram:
            return None
        return float(self.after.per_gram / self.before.per_gram - 1)


def moved(prices: PriceList, since: date, on: date) -> Iterator[Moved]:
    """What counts at another price by the gram than on an earlier day."""
    for id in prices.prices:
        before, after = prices.price_of(id, since), prices.price_of(id, on)
        was, now = (price and price.per_gram for price in (before, after))
        if was != now:
            yield Moved(id, before, after)


def cost_of_use(pack_price: Decimal, *, used_g: float, pack_g: float) -> Decimal:
    """What this much of a pack costs; exact, to be rounded once, where it is shown.

    Args:
        pack_price: price of one pack, in the kitchen's currency.
        used_g: mass used, of one pack or of several [g].
        pack_g: mass in one pack [g].

    >>> cost_of_use(Decimal("1.80"), used_g=190, pack_g=250)
    Decimal('1.368')
    """
    return money(Fraction(pack_price) * exact(used_g) / exact(pack_g))


@dataclass(frozen=True, slots=True)
class Use:
    """So much of something that a slab takes."""

    larder_id: str
    """Empty where the larder doesn't know it."""
    name: str
    grams: float
    pieces: float | None = None
    """How many eggs, lemons or the like, where the line counts them."""
