"""A slab priced in every way in which it is sold on a day."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from slabwright.cost.prices import Rates
from slabwright.cost.tax import Eaten, Sale, TaxAsked, Taxed, tax_on
from slabwright.errors import Span
from slabwright.kitchen import Kitchen, MakersLine, TaxRule
from slabwright.label.ways import Selling
from slabwright.spec.bearing import Bearing, bearing_of
from slabwright.spec.card import Sold
from slabwright.spec.offer import Ground, Offer, offer_of
from slabwright.spec.specification import Specification


@dataclass(frozen=True, slots=True)
class PricingOrder:
    """What is asked beside the card."""

    on: date
    trays: int = 1
    """Made at once, from 1."""
    price: Decimal | None = None
    """In place of the card's."""
    line: MakersLine | None = None
    """In place of the kitchen's."""
    eaten: Eaten = ""
    way: Selling | None = None
    """This way of selling alone."""
    tax: TaxRule | None = None
    """In place of what is decided."""
    is_tax_unread: bool = False
    """Whether a decision about tax stands there and can't be read."""


@dataclass(frozen=True, slots=True)
class Pricing:
    """A slab priced on a day."""

    spec: Specification
    currency: str
    order: PricingOrder
    line: MakersLine | None
    bearing: Bearing
    offers: tuple[Offer, ...]
    other_prices: tuple[Sold, ...]
    """Prices of other days that stand on the card: past, and to come."""

    @property
    def name(self) -> str:
        """The slab's name."""
        return self.spec.name

    @property
    def pieces(self) -> int | None:
        """Pieces of a tray; None without a cut."""
        return self.spec.cut.cutting.pieces if self.spec.cut else None

    @property
    def is_under(self) -> bool:
        """Whether any way of selling falls under the line."""
        return any(one.against and one.against.is_under for one in self.offers)


def pricing_of(
    spec: Specification, rates: Rates, kitchen: Kitchen, order: PricingOrder
) -> Pricing:
    """The slab priced in every way in which it is on sale, or in the one asked for.

    Args:
        spec: the slab, worked out.
        rates: what a gram costs on the day, by larder id.
        kitchen: hours, kWh, waste, tax, the line and the points.
        order: what is asked beside the card.
    """
    bearing = bearing_of(spec, rates, kitchen, order.trays)
    line = order.line or kitchen.shop.line
    ground = Ground(spec, kitchen, bearing, line)
    on_sale = spec.card.sales_on(order.on)
    return Pricing(
        spec,
        kitchen.currency,
        order,
        line,
        bearing,
        tuple(
            offer_of(ground, sold, _tax(spec, kitchen, order, sold))
            for sold in _sales(on_sale, order)
        ),
        tuple(one for one in spec.card.sales if one not in on_sale),
    )


def _sales(on_sale: tuple[Sold, ...], order: PricingOrder) -> list[Sold | None]:
    """What is priced: the card's ways, the one asked for, or a piece."""
    asked = [one for one in on_sale if order.way in {None, one.way}]
    if not asked and order.way is not None:
        asked = [Sold(order.way.value, None, Span(1, 1, 1), order.way)]
    if order.price is None:
        return list(asked) or [None]
    first = asked[0] if asked else Sold("", None, Span(1, 1, 1))
    return [replace(first, price=order.price)]


def _tax(
    spec: Specification, kitchen: Kitchen, order: PricingOrder, sold: Sold | None
) -> Taxed | TaxAsked:
    """The rate that the shop has decided on, or what to ask."""
    if order.tax is None and order.is_tax_unread:
        return TaxAsked(
            "A decision about tax in kitchen.yaml can't be read.", "Mend it first."
        )
    way = sold.way.value if sold and sold.way else ""
    rules = (order.tax,) if order.tax else kitchen.shop.tax
    return tax_on(rules, Sale(spec.name, way, order.eaten), order.on)
