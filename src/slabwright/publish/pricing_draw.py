"""What a sold thing costs as a bar: its layers in their colours, all else in ink."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from slabwright.figure import Figure
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.palette import colour_key
from slabwright.publish.drawing.share_bar import BarPart, share_bar_svg
from slabwright.spec.bearing import Likely
from slabwright.spec.costed import PART_NAMES, UNSOLD, money_figure
from slabwright.spec.offer import Offer
from slabwright.spec.pricing import Pricing

_MANNERS: Final = {
    PART_NAMES["left over"]: "clear", PART_NAMES["hands"]: "rising",
    PART_NAMES["energy"]: "upright", PART_NAMES["packaging"]: "level",
    PART_NAMES["overheads"]: "falling", UNSOLD: "crossed",
}  # fmt: skip


def cost_parts(pricing: Pricing, offer: Offer) -> Iterator[tuple[str, Figure, str]]:
    """Each part of what is sold: its name, its money, how it is drawn.

    The ingredients are told layer by layer, from the bottom.
    """
    bears = offer.costed.bears
    share = Fraction(bears.in_sale, bears.pieces)
    fills = [colour_key(one.texture, one.fill) for one in drawn(pricing.spec).layers]
    for name, figure in offer.costed.parts:
        if name != PART_NAMES["ingredients"]:
            yield name, figure, _MANNERS[name]
            continue
        for i, (layer, cost) in enumerate(pricing.bearing.layers):
            each = cost * share
            said = (
                f"{float(cost):.4f} {pricing.currency} a tray × {bears.in_sale} of "
                f"{bears.pieces} pieces"
            )
            likely = Likely(each, each, each)
            fill = fills[i] if i < len(fills) else "plain"
            yield layer, money_figure(likely, pricing.currency, said), fill


def cost_bar_svg(
    pricing: Pricing, offer: Offer, *, prefix: str, scale: float = 1.0
) -> str:
    """The bar; empty where nothing of the cost is known.

    Args:
        pricing: the slab.
        offer: the way in which it is sold.
        prefix: of its ids, its own on its page.
        scale: share of the whole width that it takes, to stand under others.
    """
    parts = list(cost_parts(pricing, offer))
    whole = sum(figure.number for _, figure, _ in parts)
    if not whole > 0:
        return ""
    shares = [BarPart(name, f.number / whole, manner) for name, f, manner in parts]
    title = f"What {offer.costed.unit} of {pricing.name} costs"
    return share_bar_svg(shares, prefix=prefix, title=title, scale=scale)
