"""The whole counter priced: which pieces fall under the maker's line, also then."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from slabwright.cost.change import PriceChange, changed
from slabwright.cost.prices import PriceList
from slabwright.kitchen import Kitchen
from slabwright.spec.offer import Offer
from slabwright.spec.pricing import Pricing, PricingOrder, pricing_of
from slabwright.spec.specification import Specification


@dataclass(frozen=True, slots=True)
class Row:
    """One way of selling one slab: as it is, and after a change of prices."""

    before: Pricing
    offer: Offer
    after: Pricing | None = None
    then: Offer | None = None

    @property
    def last(self) -> Offer:
        """As it would be: after the change, if one is asked about."""
        return self.then or self.offer

    @property
    def is_under(self) -> bool | None:
        """Whether it falls under the line, after the change; None: can't be told."""
        return self.last.against.is_under if self.last.against else None

    @property
    def falls(self) -> bool:
        """Whether it keeps the line now and would not after the change."""
        was = self.offer.against.is_under if self.offer.against else None
        return self.then is not None and was is False and self.is_under is True


@dataclass(frozen=True, slots=True)
class CounterPricing:
    """Every slab in every way in which it is sold; what is left least stands first."""

    on: date
    currency: str
    changes: tuple[PriceChange, ...]
    rows: tuple[Row, ...]

    @property
    def under(self) -> tuple[Row, ...]:
        """What falls under the line."""
        return tuple(row for row in self.rows if row.is_under)

    @property
    def pricings(self) -> tuple[Pricing, ...]:
        """Each slab once."""
        return tuple({id(row.before): row.before for row in self.rows}.values())


def counter_pricing(
    specs: Sequence[Specification],
    prices: PriceList,
    kitchen: Kitchen,
    order: PricingOrder,
    changes: Sequence[PriceChange] = (),
) -> CounterPricing:
    """Price these slabs, now and after changes of ingredient prices.

    Args:
        specs: slabs, worked out.
        prices: packs and their prices.
        kitchen: what they share.
        order: the day, and what is asked beside the cards.
        changes: of ingredient prices, one after the other.
    """
    now = prices.rates(prices.prices, order.on)
    then = None
    if changes:
        later = changed(prices, changes, order.on)
        then = later.rates(later.prices, order.on)
    rows: list[Row] = []
    for spec in specs:
        before = pricing_of(spec, now, kitchen, order)
        if then is None:
            rows += [Row(before, offer) for offer in before.offers]
            continue
        after = pricing_of(spec, then, kitchen, order)
        rows += [
            Row(before, offer, after, later_offer)
            for offer, later_offer in zip(before.offers, after.offers, strict=True)
        ]
    return CounterPricing(
        order.on, kitchen.currency, tuple(changes), tuple(sorted(rows, key=_worst))
    )


def _worst(row: Row) -> tuple[bool, bool, float, str]:
    """Under the line first, then what keeps least; what is not known last."""
    kept = row.last.kept.margin
    known = float(kept.value) if kept.value is not None else 0.0
    return not row.is_under, not kept.known, known, row.before.name
