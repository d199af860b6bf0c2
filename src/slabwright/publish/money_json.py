"""What slabs cost, as JSON, and its schema."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Final

from slabwright.cost.by_products import ByProduct
from slabwright.cost.change import PriceChange
from slabwright.cost.packs import Packs
from slabwright.cost.prices import SINCE_EVER, Moved, Price
from slabwright.counter.costing import LeftOpen, Priced, SlabCost
from slabwright.counter.costs import Costs
from slabwright.counter.price_change import Effect
from slabwright.figure import Figure
from slabwright.publish.figure_json import Json, figure_json
from slabwright.publish.json_form import cost_json
from slabwright.publish.json_schema import (
    FIGURE,
    MAYBE,
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    Schema,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.spec_schema import COST
from slabwright.spec.specification import LayerFigures


def costs_json(costs: Costs) -> Json:
    """Everything that `cost` worked out."""
    return {
        "day": costs.on.isoformat(),
        "currency": costs.currency,
        "slabs": [_slab(one) for one in costs.slabs],
        "prices": [_priced(one) for one in costs.priced],
        "since": _day(costs.since),
        "moved": [_moved(one, costs) for one in costs.moved],
        "changes": [_change(one) for one in costs.changes],
        "effects": [_effect(one) for one in costs.effects],
    }


def packs_json(packs: Sequence[Packs]) -> list[Json]:
    """Packs of each size and how many."""
    return [{**price_json(one.price), "count": one.count} for one in packs]


def price_json(price: Price) -> Json:
    """A pack and its price."""
    return {
        "supplier": price.supplier or None,
        "pack": price.pack,
        "pack_g": price.pack_g,
        "price": float(price.price),
        "from": _day(price.from_day),
        "until": _day(price.until),
    }


def _day(day: date | None) -> str | None:
    return None if day is None or day == SINCE_EVER else day.isoformat()


def _maybe(figure: Figure | None) -> Json | None:
    return figure_json(figure) if figure else None


def _slab(one: SlabCost) -> Json:
    spec = one.trays.spec
    return {
        "slab": spec.name,
        "trays": one.trays.count,
        "pieces": spec.cut.cutting.pieces if spec.cut else None,
        "cost": cost_json(spec.cost) if spec.cost else None,
        "all_trays": _maybe(one.whole),
        "all_trays_with_waste": _maybe(one.with_waste),
        "trim_g": figure_json(spec.cut.trim_g) if spec.cut else None,
        "layers": [_layer(layer) for layer in spec.layers or spec.components],
        "opened": [_left_open(left) for left in one.left_open],
        "by_products": [_by_product(left) for left in one.by_products],
        "beside": list(one.needs.beside),
    }


def _layer(layer: LayerFigures) -> Json:
    return {
        "name": layer.name,
        "lines": [
            {
                "name": line.name,
                "larder_id": line.larder_id,
                "mass_g": figure_json(line.mass_g),
                "cost": _maybe(line.cost),
            }
            for line in layer.lines
        ],
    }


def _left_open(left: LeftOpen) -> Json:
    keeps = left.keeps
    return {
        "larder_id": left.larder_id,
        "name": left.name,
        "packs": packs_json(left.packs),
        "left_g": figure_json(left.left_g),
        "worth": figure_json(left.worth),
        "keeps_low_days": keeps.low_days if keeps else None,
        "keeps_high_days": keeps.high_days if keeps else None,
        "keeps_where": keeps.where if keeps else None,
        "keeps_note": keeps.note if keeps else None,
        "keeps_how_known": keeps.source.seen.value if keeps else None,
    }


def _by_product(left: ByProduct) -> Json:
    return {
        "larder_id": left.larder_id,
        "name": left.name,
        "left_g": figure_json(left.left_g),
        "from": left.whole,
    }


def _priced(one: Priced) -> Json:
    return {
        "larder_id": one.larder_id,
        "name": one.name,
        **price_json(one.counted.price),
        "per_kg": _number(one.per_kg),
        "why": one.counted.why,
        "to_come": [price_json(price) for price in one.to_come],
    }


def _moved(one: Moved, costs: Costs) -> Json:
    return {
        "larder_id": one.larder_id,
        "name": costs.names.get(one.larder_id, one.larder_id),
        "before": price_json(one.before) if one.before else None,
        "after": price_json(one.after) if one.after else None,
        "rise_share": one.share,
    }


def _number(value: Decimal) -> float:
    return float(f"{value:.12g}")


def _change(change: PriceChange) -> Json:
    return {"said": change.said, "hits": list(change.names)}


def _effect(one: Effect) -> Json:
    return {
        "slab": one.slab,
        "pieces": one.pieces,
        "before": figure_json(one.before),
        "after": figure_json(one.after),
        "before_per_piece": _maybe(one.before_per_piece),
        "after_per_piece": _maybe(one.after_per_piece),
        "rise": figure_json(one.rise),
        "rise_share": one.rise_share,
    }


_PACK: Final[dict[str, Schema]] = {
    "supplier": WORDS,
    "pack": STRING,
    "pack_g": {"type": "number"},
    "price": {"type": "number"},
    "from": WORDS,
    "until": WORDS,
}
PACKS: Final = array_of(object_of(**_PACK, count={"type": "integer"}))
_PRICE: Final = object_of(**_PACK)
_LINE: Final = object_of(name=STRING, larder_id=WORDS, mass_g=FIGURE, cost=MAYBE)
_SLAB: Final = object_of(
    slab=STRING,
    trays={"type": "integer"},
    pieces=WHOLE,
    cost=or_null(COST),
    all_trays=MAYBE,
    all_trays_with_waste=MAYBE,
    trim_g=MAYBE,
    layers=array_of(object_of(name=STRING, lines=array_of(_LINE))),
    opened=array_of(
        object_of(
            larder_id=STRING,
            name=STRING,
            packs=PACKS,
            left_g=FIGURE,
            worth=FIGURE,
            keeps_low_days=WHOLE,
            keeps_high_days=WHOLE,
            keeps_where=WORDS,
            keeps_note=WORDS,
            keeps_how_known=WORDS,
        )
    ),
    by_products=array_of(
        object_of(larder_id=STRING, name=STRING, left_g=FIGURE, **{"from": STRING})
    ),
    beside=STRINGS,
)
COSTING: Final = object_of(
    day=STRING,
    currency=STRING,
    slabs=array_of(_SLAB),
    prices=array_of(
        object_of(
            larder_id=STRING,
            name=STRING,
            **_PACK,
            per_kg={"type": "number"},
            why=STRING,
            to_come=array_of(_PRICE),
        )
    ),
    since=WORDS,
    moved=array_of(
        object_of(
            larder_id=STRING,
            name=STRING,
            before=or_null(_PRICE),
            after=or_null(_PRICE),
            rise_share=NUMBER,
        )
    ),
    changes=array_of(object_of(said=STRING, hits=STRINGS)),
    effects=array_of(
        object_of(
            slab=STRING,
            pieces=WHOLE,
            before=FIGURE,
            after=FIGURE,
            before_per_piece=MAYBE,
            after_per_piece=MAYBE,
            rise=FIGURE,
            rise_share=NUMBER,
        )
    ),
)
"""What `cost --json` prints."""
