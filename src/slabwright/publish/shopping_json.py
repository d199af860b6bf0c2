"""The shopping list as JSON, and its schema."""

from fractions import Fraction
from typing import Final

from slabwright.cost.prices import money
from slabwright.counter.shopping import ShoppingList, Wanted
from slabwright.figure import Figure
from slabwright.publish.figure_json import Json, figure_json
from slabwright.publish.json_schema import (
    FIGURE,
    STRING,
    STRINGS,
    WORDS,
    array_of,
    object_of,
)
from slabwright.publish.money_json import PACKS, packs_json


def shopping_json(found: ShoppingList) -> Json:
    """Everything that is needed, what to buy of it and what is left."""
    total = money(found.total)
    said = " + ".join(f"{money(one.cost):.2f}" for one in found.to_buy) or "nothing"
    return {
        "day": found.on.isoformat(),
        "currency": found.currency,
        "slabs": [{"slab": one.spec.name, "trays": one.count} for one in found.orders],
        "waste_share": float(found.waste_share),
        "wanted": [_wanted(one, found) for one in found.wanted],
        "total": figure_json(Figure(total, found.currency, f"{said} = {total:.2f}")),
        "unweighed": list(found.needs.unweighed),
        "beside": list(found.needs.beside),
        "shared": [
            {"component": name, "mass_g": grams} for name, grams in found.needs.shared
        ],
    }


def _wanted(one: Wanted, found: ShoppingList) -> Json:
    parts = " + ".join(f"{float(g):.5g} ({slab})" for slab, g in one.need.by_slab)
    needed = float(one.need.grams)
    packs = " + ".join(f"{p.count} × {p.price.price:f}" for p in one.packs) or "nothing"
    cost = money(one.cost)
    return {
        "larder_id": one.need.larder_id or None,
        "name": one.need.name,
        "needed_g": figure_json(Figure(needed, "g", f"{parts} = {needed:.6g} g")),
        "waste_g": _grams(one.waste_g),
        "stock_g": _grams(one.stock_g),
        "to_buy_g": _grams(one.to_buy_g),
        "pieces": one.pieces or None,
        "taken_for": one.taken_for or None,
        "packs": packs_json(one.packs),
        "left_g": figure_json(_left(one)),
        "cost": figure_json(
            Figure(cost, found.currency, f"{packs} = {cost:.2f} {found.currency}")
        ),
        "has_pack": one.has_offer,
        "by_slab": [
            {"slab": slab, "mass_g": _grams(grams)} for slab, grams in one.need.by_slab
        ],
    }


def _left(one: Wanted) -> Figure:
    said = (
        f"{float(one.stock_g):.6g} in stock + {float(one.bought_g):.6g} bought "
        f"- {float(one.need.grams + one.waste_g):.6g} = {float(one.left_g):.6g} g"
    )
    return Figure(float(one.left_g), "g", said)


def _grams(value: Fraction) -> float:
    return float(f"{float(value):.12g}")


_GRAMS: Final = {"type": "number", "minimum": 0}
SHOPPING: Final = object_of(
    day=STRING,
    currency=STRING,
    slabs=array_of(object_of(slab=STRING, trays={"type": "integer", "minimum": 1})),
    waste_share=_GRAMS,
    wanted=array_of(
        object_of(
            larder_id=WORDS,
            name=STRING,
            needed_g=FIGURE,
            waste_g=_GRAMS,
            stock_g=_GRAMS,
            to_buy_g=_GRAMS,
            pieces=WORDS,
            taken_for=WORDS,
            packs=PACKS,
            left_g=FIGURE,
            cost=FIGURE,
            has_pack={"type": "boolean"},
            by_slab=array_of(object_of(slab=STRING, mass_g=_GRAMS)),
        )
    ),
    total=FIGURE,
    unweighed=STRINGS,
    beside=STRINGS,
    shared=array_of(object_of(component=STRING, mass_g=_GRAMS)),
)
"""What `buy --json` prints."""
