"""Prices of a kitchen's slabs, asked from the terminal or the app."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from slabwright.cost.change import changed
from slabwright.cost.tax import Eaten
from slabwright.counter.pricing import CounterPricing, counter_pricing
from slabwright.desk.counter import prices_of
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.folder import Folder
from slabwright.files.kitchen_shop import rate_asked
from slabwright.files.makers_line import line_asked, price_asked
from slabwright.files.price_change import read_price_change
from slabwright.kitchen import TaxRule
from slabwright.label.ways import nearest_ways, way_of
from slabwright.spec.pricing import PricingOrder
from slabwright.spec.specification import Specification

MOST_TRAYS: Final = 10_000
_EATEN: Final[dict[str, Eaten]] = {"": "", "here": "here", "away": "away"}


@dataclass(frozen=True, slots=True)
class PriceAsked:
    """What somebody asks about prices, as it was typed."""

    on: date
    piece_price: str = ""
    line: str = ""
    eaten: str = ""
    way: str = ""
    tax: str = ""
    trays: int = 1
    changes: tuple[str, ...] = ()


def prices_asked(
    specs: Sequence[Specification], folder: Folder, asked: PriceAsked
) -> CounterPricing:
    """These slabs priced as asked.

    Raises:
        FileError: with everything in the question that can't be.
    """
    order = order_of(folder, asked)
    prices, kitchen = prices_of(folder), folder.kitchen
    changes = []
    now = prices
    for text in asked.changes:
        change = read_price_change(text, now, folder.larder, kitchen.country, asked.on)
        changes.append(change)
        now = changed(now, [change], asked.on)
    return counter_pricing(specs, prices, kitchen, order, changes)


def order_of(folder: Folder, asked: PriceAsked) -> PricingOrder:
    """What was typed, read.

    Raises:
        FileError: with everything in it that can't be.
    """
    wrong: list[Mistake] = []
    price = line = tax = way = None
    try:
        price = price_asked(asked.piece_price) if asked.piece_price.strip() else None
    except FileError as error:
        wrong += error.mistakes
    try:
        line = line_asked(asked.line) if asked.line.strip() else None
    except FileError as error:
        wrong += error.mistakes
    try:
        tax = _tax(asked)
    except FileError as error:
        wrong += error.mistakes
    eaten = _EATEN.get(asked.eaten.strip().casefold())
    if eaten is None:
        what = f"'{asked.eaten:.40}' is neither here nor away."
        wrong.append(Mistake(what, "Write here or away.", Where(field="eaten")))
    if asked.way.strip():
        way = way_of(asked.way)
        if way is None:
            near = tuple(one.value for one in nearest_ways(asked.way))
            what = f"'{asked.way:.60}' is none of the five ways to sell."
            do = f"Write {' or '.join(near)}."
            wrong.append(Mistake(what, do, Where(field="way"), near))
    if not 1 <= asked.trays <= MOST_TRAYS:
        what = f"{asked.trays:,} trays are made at once."
        do = f"Give a whole number from 1 to {MOST_TRAYS:,}."
        wrong.append(Mistake(what, do, Where(field="trays")))
    if wrong:
        raise FileError(*wrong)
    is_unread = any(
        one.where.field.startswith("shop.tax") or one.where.field == "shop"
        for one in folder.mistakes
    )
    return PricingOrder(
        asked.on, asked.trays, price, line, eaten or "", way, tax, is_unread
    )


def _tax(asked: PriceAsked) -> TaxRule | None:
    """The rate that is asked for, in place of what is decided."""
    if not asked.tax.strip():
        return None
    return TaxRule(rate_asked(asked.tax), asked.on, "asked for, not decided")
