"""The shopping list: what is needed, less what is there, in whole packs."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from math import ceil

from slabwright.cost.by_products import part_of_one
from slabwright.cost.packs import Packs, cheapest
from slabwright.cost.prices import PriceList, exact
from slabwright.counter.needs import Need, Needs, Trays, needs_of
from slabwright.counter.wholes import from_wholes
from slabwright.kitchen import Kitchen
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Larder

_EGGS = {"whole-egg": "egg", "egg-yolk": "yolk", "egg-white": "white"}
_SAME = Fraction(2, 100)
"""Part of an egg that is no egg more."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """What is handed over beside the slabs: prices, stock, larder, kitchen, day."""

    prices: PriceList
    larder: Larder
    kitchen: Kitchen
    on: date
    waste_share: Fraction = Fraction(0)
    """Allowance: that share of what is bought goes to waste."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One ingredient on the list."""

    need: Need
    ingredient: Ingredient | None
    stock_g: Fraction
    waste_g: Fraction
    """What the allowance adds."""
    packs: tuple[Packs, ...]
    has_offer: bool
    pieces: str = ""
    """The same in eggs."""
    taken_for: str = ""
    """The parts of it that are wanted: `4.8 lemons for juice`."""

    @property
    def to_buy_g(self) -> Fraction:
        """What is needed beyond the stock."""
        return max(Fraction(0), self.need.grams + self.waste_g - self.stock_g)

    @property
    def bought_g(self) -> Fraction:
        """What is in the packs."""
        return sum((packs.grams for packs in self.packs), Fraction(0))

    @property
    def cost(self) -> Fraction:
        """What the packs cost."""
        return sum((packs.cost for packs in self.packs), Fraction(0))

    @property
    def left_g(self) -> Fraction:
        """What is there after the making, stock and all; the waste is gone."""
        rest = self.stock_g + self.bought_g - self.need.grams - self.waste_g
        return max(Fraction(0), rest)


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """What to buy for so many trays of these slabs."""

    orders: tuple[Trays, ...]
    on: date
    currency: str
    waste_share: Fraction
    needs: Needs
    wanted: tuple[Wanted, ...]

    @property
    def to_buy(self) -> tuple[Wanted, ...]:
        """What packs are bought of."""
        return tuple(one for one in self.wanted if one.packs)

    @property
    def in_stock(self) -> tuple[Wanted, ...]:
        """What is there already in plenty."""
        return tuple(one for one in self.wanted if one.to_buy_g == 0)

    @property
    def without_pack(self) -> tuple[Wanted, ...]:
        """What is wanted and has no pack on sale on this day."""
        return tuple(one for one in self.wanted if one.to_buy_g > 0 and not one.packs)

    @property
    def total(self) -> Fraction:
        """What all the packs cost, exactly."""
        return sum((one.cost for one in self.wanted), Fraction(0))

    @property
    def suppliers(self) -> tuple[tuple[str, tuple[tuple[Wanted, Packs], ...]], ...]:
        """Who sells what, by name; those without a name last."""
        rows: dict[str, list[tuple[Wanted, Packs]]] = {}
        for one in self.wanted:
            for packs in one.packs:
                rows.setdefault(packs.price.supplier, []).append((one, packs))
        order = sorted(rows, key=lambda name: (not name, name.casefold()))
        return tuple((name, tuple(rows[name])) for name in order)


def shopping_list(orders: Sequence[Trays], shelf: Shelf) -> ShoppingList:
    """Whole packs for these trays: the cheapest, then the least over; net of stock.

    Egg yolks, whites, juice and zest that have no pack of their own are bought as the
    eggs or fruit that they come from, where those have one.
    """
    needs = needs_of(orders)
    wanted = tuple(_wanted(*one, shelf) for one in _opened(needs.needs, shelf))
    return ShoppingList(
        tuple(orders),
        shelf.on,
        shelf.prices.currency,
        shelf.waste_share,
        needs,
        wanted,
    )


def _opened(needs: Sequence[Need], shelf: Shelf) -> list[tuple[Need, str]]:
    """Needs, with parts bought as wholes where nothing else is on sale."""

    def is_sold(id: str) -> bool:
        return bool(shelf.prices.offers(id, shelf.on))

    kitchen = shelf.kitchen
    return from_wholes(needs, is_sold, shelf.larder, kitchen.country, kitchen.eggs)


def _wanted(taken: Need, taken_for: str, shelf: Shelf) -> Wanted:
    each_g = _egg_g(taken, shelf)
    need = _whole_eggs(taken, each_g)
    offers = shelf.prices.offers(need.larder_id, shelf.on)
    stock = exact(shelf.prices.stock_g(need.larder_id, shelf.on))
    share = shelf.waste_share
    bare = Wanted(
        need,
        shelf.larder.by_id(need.larder_id) if need.larder_id else None,
        stock,
        need.grams * share / (1 - share),
        (),
        bool(offers),
        _in_eggs(need, each_g, shelf.kitchen.eggs),
        taken_for,
    )
    return replace(bare, packs=cheapest(bare.to_buy_g, offers))


def _egg_g(need: Need, shelf: Shelf) -> float:
    """What one egg, yolk or white of the kitchen's class weighs; 0: it is none."""
    if need.larder_id not in _EGGS:
        return 0.0
    kitchen = shelf.kitchen
    one = part_of_one(need.larder_id, shelf.larder, kitchen.country, kitchen.eggs)
    return one.grams if one else 0.0


def _whole_eggs(need: Need, each_g: float) -> Need:
    """As much as so many eggs of the kitchen's class, where a card counts lighter ones.

    A box holds eggs and no grams: thirteen are never bought as a dozen.
    """
    if need.larder_id != "whole-egg" or not each_g:
        return need
    more = need.pieces(each_g) * exact(each_g) / need.grams
    if more <= 1:
        return need
    by_slab = tuple((slab, grams * more) for slab, grams in need.by_slab)
    return replace(need, grams=need.grams * more, by_slab=by_slab)


def _in_eggs(need: Need, each_g: float, size: str) -> str:
    """How many eggs, yolks or whites that is, of the kitchen's class."""
    if not each_g:
        return ""
    pieces = need.pieces(each_g)
    if need.larder_id == "whole-egg":
        pieces = max(pieces, need.grams / exact(each_g))
    number = ceil(pieces - _SAME)
    part = _EGGS[need.larder_id]
    return f"{number:,} {size} {part if number == 1 else part + 's'}"
