"""One way of selling as the pages of prices show it."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from markupsafe import Markup

from slabwright.cost.tax import Taxed, rate_text
from slabwright.counter.pricing import Row
from slabwright.figure import Figure
from slabwright.publish.drawing.share_bar import swatch_svg
from slabwright.publish.pricing import shown_parts, verdict, way_of_offer
from slabwright.publish.pricing_draw import cost_bar_svg, cost_parts
from slabwright.spec.offer import Offer, line_text
from slabwright.spec.pricing import Pricing
from slabwright.web.shown import drawing


@dataclass(frozen=True, slots=True)
class OfferView:
    """What one way of selling costs and earns."""

    pricing: Pricing
    offer: Offer
    number: int
    """Its own on the page."""

    @property
    def how(self) -> str:
        """In the maker's words."""
        return way_of_offer(self.offer)

    @property
    def bar(self) -> Markup:
        """What it costs, drawn."""
        prefix = f"costs-{self.number}"
        return drawing(cost_bar_svg(self.pricing, self.offer, prefix=prefix))

    @property
    def key(self) -> Iterator[tuple[Markup, str, Figure]]:
        """The key of the bar: a swatch, a part, what it costs."""
        for name, figure, manner in cost_parts(self.pricing, self.offer):
            yield drawing(swatch_svg(manner)), name, figure

    @property
    def parts(self) -> Iterator[tuple[str, Figure, Decimal]]:
        """Each part, exact, and to the penny as it adds up."""
        shown = shown_parts(self.offer)
        for (name, figure), (_, pennies) in zip(
            self.offer.costed.parts, shown, strict=True
        ):
            yield name, figure, pennies

    @property
    def least(self) -> str:
        """What stands before a cost that is not whole."""
        return "at least " if self.offer.costed.lacking else ""

    @property
    def most(self) -> str:
        """What stands before what is left of it."""
        return "at most " if self.offer.costed.lacking else ""

    @property
    def taxed(self) -> Taxed | None:
        """The shop's decision; None where it is asked."""
        tax = self.offer.charged.tax
        return tax if isinstance(tax, Taxed) else None

    @property
    def rate(self) -> str:
        """The rate in words."""
        return rate_text(self.taxed.rule.rate) if self.taxed else "asked"

    @property
    def verdict(self) -> str:
        """How it stands against the line."""
        return verdict(self.offer)

    @property
    def line(self) -> str:
        """The line in words."""
        return line_text(self.pricing.line) if self.pricing.line else ""


@dataclass(frozen=True, slots=True)
class CounterRow:
    """A row of the counter, with the page of its slab."""

    row: Row
    address: str
    number: int

    @property
    def now(self) -> OfferView:
        """As it is."""
        return OfferView(self.row.before, self.row.offer, self.number)

    @property
    def then(self) -> OfferView | None:
        """After the change of prices."""
        if self.row.then is None or self.row.after is None:
            return None
        return OfferView(self.row.after, self.row.then, self.number)

    @property
    def last(self) -> OfferView:
        """What counts."""
        return self.then or self.now
