"""Prices as JSON, and their schema."""

from datetime import date
from fractions import Fraction
from typing import Final

from slabwright.cost.tax import TaxAsked
from slabwright.cost.tax_reading import Treated, tax_reading
from slabwright.counter.pricing import CounterPricing, Row
from slabwright.publish.figure_json import Json, figure_json
from slabwright.publish.json_schema import (
    FIGURE,
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.pricing import shown_parts, verdict, way_of_offer
from slabwright.spec.card import Sold
from slabwright.spec.mending import Mend
from slabwright.spec.offer import Against, Offer, line_text
from slabwright.spec.pricing import Pricing


def pricing_json(found: CounterPricing) -> Json:
    """Everything that `price` worked out."""
    kitchens = [one.spec.kitchen for one in found.pricings[:1]]
    country = kitchens[0].country if kitchens else ""
    return {
        "day": found.on.isoformat(),
        "currency": found.currency,
        "changes": [{"said": c.said, "hits": list(c.names)} for c in found.changes],
        "slabs": [_slab(found, pricing) for pricing in found.pricings],
        "under": [
            {"slab": row.before.name, "sold": way_of_offer(row.offer)}
            for row in found.under
        ],
        "tax_reading": [_treated(row) for row in tax_reading(country)],
    }


def _slab(found: CounterPricing, pricing: Pricing) -> Json:
    bearing = pricing.bearing
    mine = [row for row in found.rows if row.before is pricing]
    return {
        "slab": pricing.name,
        "pieces": pricing.pieces,
        "trays": pricing.order.trays,
        "line": line_text(pricing.line) if pricing.line else None,
        "hands_min": figure_json(bearing.hands_min),
        "oven_min": figure_json(bearing.oven_min),
        "layers": [
            {"name": name, "ingredients_a_tray": _number(cost)}
            for name, cost in bearing.layers
        ],
        "lines": [
            {"name": name, "cost_a_tray": _number(cost)} for name, cost in bearing.lines
        ],
        "offers": [_row(row) for row in mine],
        "other_prices": [_sold(one) for one in pricing.other_prices],
    }


def _number(value: Fraction) -> float:
    return float(f"{float(value):.12g}")


def _row(row: Row) -> Json:
    then = _offer(row.then) if row.then else None
    return {"now": _offer(row.offer), "then": then, "falls": row.falls}


def _offer(offer: Offer) -> Json:
    costed, charged, kept = offer.costed, offer.charged, offer.kept
    shown = dict(shown_parts(offer))
    return {
        "sold": way_of_offer(offer),
        "way": offer.sold.way.value if offer.sold and offer.sold.way else None,
        "unit": costed.unit,
        "pieces": costed.bears.in_sale,
        "parts": [
            {"part": name, "cost": figure_json(figure), "shown": float(shown[name])}
            for name, figure in costed.parts
        ],
        "cost": figure_json(costed.cost),
        "is_at_least": bool(costed.lacking),
        "not_told": [
            {"part": one.key, "what": one.what, "do": one.do} for one in costed.lacking
        ],
        "floor": figure_json(costed.floor),
        "floor_with_tax": figure_json(charged.floor_price),
        "price": figure_json(charged.price),
        "tax": _tax(offer),
        "tax_in_it": figure_json(charged.tax_in_it),
        "price_without_tax": figure_json(charged.net),
        "price_of_100g": figure_json(charged.per_100g),
        "margin": figure_json(kept.margin),
        "mark_up": figure_json(kept.mark_up),
        "left": figure_json(kept.left),
        "left_a_tray": figure_json(kept.left_a_tray),
        "left_an_hour_of_hands": figure_json(kept.left_an_hour),
        "left_an_oven_hour": figure_json(kept.left_an_oven_hour),
        "line": _against(offer.against, verdict(offer)) if offer.against else None,
    }


def _tax(offer: Offer) -> Json:
    tax = offer.charged.tax
    if isinstance(tax, TaxAsked):
        return {"decided": False, "rate": None, "registered": None, "from": None,
                "reason": None, "asked": tax.why, "do": tax.do}  # fmt: skip
    return {
        "decided": True,
        "rate": float(tax.rate),
        "registered": tax.is_registered,
        "from": tax.rule.from_day.isoformat(),
        "reason": tax.rule.reason,
        "asked": None,
        "do": None,
    }


def _against(against: Against, said: str) -> Json:
    return {
        "says": said,
        "is_under": against.is_under,
        "may_be_under": against.may_be_under,
        "may_keep": against.may_keep,
        "price_without_tax": figure_json(against.net),
        "price": figure_json(against.price),
        "point": figure_json(against.point),
        "mends": [_mend(one) for one in against.mends],
    }


def _mend(mend: Mend) -> Json:
    return {"kind": mend.kind, "says": mend.says, "to": figure_json(mend.figure)}


def _sold(sold: Sold) -> Json:
    day: date | None = sold.from_day
    return {
        "sold": sold.how,
        "price": None if sold.price is None else float(sold.price),
        "from": day.isoformat() if day else None,
    }


def _treated(row: Treated) -> Json:
    return {
        "product": row.product, "treated": row.treated, "why": row.why,
        "nation": row.nation, "from": row.from_day.isoformat(),
        "article": row.article, "source": row.source.text, "found": row.found,
    }  # fmt: skip


_YES: Final = {"type": "boolean"}
_MAYBE_YES: Final = {"type": ["boolean", "null"]}
_TAX: Final = object_of(
    decided=_YES, rate=NUMBER, registered=_MAYBE_YES, reason=WORDS, asked=WORDS,
    do=WORDS, **{"from": WORDS},
)  # fmt: skip
_LINE: Final = object_of(
    says=STRING,
    is_under=_MAYBE_YES,
    may_be_under=_YES,
    may_keep=_YES,
    price_without_tax=FIGURE,
    price=FIGURE,
    point=FIGURE,
    mends=array_of(
        object_of(
            kind={"enum": ["price", "pieces", "ingredient"]}, says=STRING, to=FIGURE
        )
    ),
)
_OFFER: Final = object_of(
    sold=STRING,
    way=WORDS,
    unit=STRING,
    pieces={"type": "integer"},
    parts=array_of(object_of(part=STRING, cost=FIGURE, shown={"type": "number"})),
    cost=FIGURE,
    is_at_least=_YES,
    not_told=array_of(object_of(part=STRING, what=STRING, do=STRING)),
    floor=FIGURE,
    floor_with_tax=FIGURE,
    price=FIGURE,
    tax=_TAX,
    tax_in_it=FIGURE,
    price_without_tax=FIGURE,
    price_of_100g=FIGURE,
    margin=FIGURE,
    mark_up=FIGURE,
    left=FIGURE,
    left_a_tray=FIGURE,
    left_an_hour_of_hands=FIGURE,
    left_an_oven_hour=FIGURE,
    line=or_null(_LINE),
)
PRICING: Final = object_of(
    day=STRING,
    currency=STRING,
    changes=array_of(object_of(said=STRING, hits=STRINGS)),
    slabs=array_of(
        object_of(
            slab=STRING,
            pieces=WHOLE,
            trays={"type": "integer"},
            line=WORDS,
            hands_min=FIGURE,
            oven_min=FIGURE,
            layers=array_of(
                object_of(name=STRING, ingredients_a_tray={"type": "number"})
            ),
            lines=array_of(object_of(name=STRING, cost_a_tray={"type": "number"})),
            offers=array_of(object_of(now=_OFFER, then=or_null(_OFFER), falls=_YES)),
            other_prices=array_of(
                object_of(sold=STRING, price=NUMBER, **{"from": WORDS})
            ),
        )
    ),
    under=array_of(object_of(slab=STRING, sold=STRING)),
    tax_reading=array_of(
        object_of(
            product=STRING, treated=STRING, why=STRING, nation=STRING, article=STRING,
            source=STRING, found=STRING, **{"from": STRING},
        )
    ),
)  # fmt: skip
"""What `price --json` prints."""
