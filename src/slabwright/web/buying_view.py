"""The price list as its page shows it: every row with what it counts for."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from slabwright.cost.prices import SINCE_EVER, Counted, Price, PriceList, money
from slabwright.figure import Figure
from slabwright.files.folder import Folder
from slabwright.files.prices_file import ADAPTER, PriceEntry
from slabwright.files.raw import Text
from slabwright.files.yaml_file import plain_of, read_yaml
from slabwright.larder.ingredient import Ingredient
from slabwright.spec.costing import old_prices
from slabwright.web.counter_view import Counter


@dataclass(frozen=True, slots=True)
class PriceRow:
    """A row of the price list."""

    number: int
    """In the file, from 0."""
    entry: PriceEntry
    price: Price | None
    """None where the row can't be used."""
    state: str
    """What it counts for on the day, in words."""
    is_live: bool
    """Whether it can be had on the day."""

    @property
    def since(self) -> date | None:
        """The day it began; None if the row names none."""
        return None if self.entry.since == SINCE_EVER else self.entry.since


@dataclass(frozen=True, slots=True)
class Priced:
    """An ingredient with its prices."""

    id: str
    """Empty for a name that the larder does not know."""
    name: str
    counted: Counted | None
    rows: tuple[PriceRow, ...]
    """Newest first."""
    stock_g: float
    is_old: bool
    """Whether what counts is over a year old."""
    currency: str
    slabs: tuple[str, ...]
    """Slabs that take it."""

    @property
    def per_kg(self) -> Figure | None:
        """What a kilogram counts at."""
        if self.counted is None:
            return None
        price = self.counted.price
        value = money(price.per_gram * 1000)
        said = (
            f"{price.price:.2f} {self.currency} ÷ {price.pack_g:g} g × 1000 = "
            f"{value:.4f} {self.currency}/kg; {price.words}, {self.counted.why}"
        )
        return Figure(value, self.currency, said)

    @property
    def live(self) -> tuple[PriceRow, ...]:
        """What can be had."""
        return tuple(row for row in self.rows if row.is_live)

    @property
    def others(self) -> tuple[PriceRow, ...]:
        """What is past, to come, or can't be used."""
        return tuple(row for row in self.rows if not row.is_live)


@dataclass(frozen=True, slots=True)
class Missing:
    """An ingredient in use without a price."""

    id: str
    name: str
    slabs: tuple[str, ...]


def entries_of(text: Text) -> Sequence[PriceEntry]:
    """Every row of the price list.

    Raises:
        FileError: if the file is none of its schema.
    """
    return read_yaml(text, ADAPTER, [])


def raw_row(text: Text, number: int) -> dict[str, Any] | None:
    """A row as it stands in the file; None if there is none."""
    rows = plain_of(text)
    if not isinstance(rows, list) or not 0 <= number < len(rows):
        return None
    row = rows[number]
    return row if isinstance(row, dict) else None


def priced_of(
    entries: Sequence[PriceEntry], folder: Folder, counter: Counter, on: date
) -> tuple[Priced, ...]:
    """The list by ingredient: those in use first, each with its history."""
    prices = folder.prices or PriceList(folder.kitchen.currency)
    larder, country = folder.larder, folder.kitchen.country
    rows: dict[tuple[str, str], list[PriceRow]] = {}
    names: dict[tuple[str, str], str] = {}
    for number, entry in enumerate(entries):
        match = larder.find(entry.ingredient, country)
        found = match.ingredient if match else None
        key = (found.id, "") if found else ("", entry.ingredient)
        names[key] = found.name if found else entry.ingredient
        rows.setdefault(key, []).append(_row(number, entry, found, prices, on))
    made = []
    for key, some in rows.items():
        id = key[0]
        slabs = tuple(slab.card.name for slab, _ in counter.using(id)) if id else ()
        counted = prices.counted(id, on) if id else None
        is_old = bool(id and old_prices({id: Fraction(1)}, prices, on))
        some.sort(key=lambda row: (row.entry.since, row.number), reverse=True)
        made.append(
            Priced(
                id, names[key], counted, tuple(some), prices.stock_g(id, on), is_old,
                prices.currency, slabs,
            )
        )  # fmt: skip
    return tuple(sorted(made, key=lambda one: (not one.slabs, one.name.casefold())))


def _row(
    number: int,
    entry: PriceEntry,
    found: Ingredient | None,
    prices: PriceList,
    on: date,
) -> PriceRow:
    every = prices.prices.get(found.id, ()) if found else ()
    price = next((one for one in every if _is_of(one, entry)), None)
    if found is None:
        return PriceRow(
            number, entry, None, "not used: the larder has no such name", False
        )
    if price is None:
        return PriceRow(number, entry, None, "not used: its pack has no weight", False)
    if price.from_day > on:
        return PriceRow(number, entry, price, "to come", False)
    if price.until is not None and price.until < on:
        return PriceRow(number, entry, price, "not to be had any more", False)
    if price not in prices.offers(found.id, on):
        return PriceRow(number, entry, price, "past", False)
    counted = prices.counted(found.id, on)
    is_counted = counted is not None and counted.price == price
    said = f"counts, {counted.why}" if counted and is_counted else "on sale"
    return PriceRow(number, entry, price, said, True)


def _is_of(price: Price, entry: PriceEntry) -> bool:
    return (price.ingredient, price.pack, price.price, price.from_day) == (
        entry.ingredient, entry.pack, entry.price, entry.since,
    ) and (price.supplier, price.until, price.stock_g, price.for_costing) == (
        entry.supplier, entry.until, entry.stock_g, entry.costing,
    )  # fmt: skip


def missing_of(folder: Folder, counter: Counter, on: date) -> Iterator[Missing]:
    """What slabs on the counter take and has no price on the day."""
    prices = folder.prices or PriceList(folder.kitchen.currency)
    slabs: dict[tuple[str, str], dict[str, None]] = {}
    for slab in counter.slabs:
        for use in slab.uses:
            if prices.offers(use.larder_id, on):
                continue
            slabs.setdefault((use.larder_id, use.name), {})[slab.card.name] = None
    for (id, name), taken in slabs.items():
        yield Missing(id, name, tuple(taken))
