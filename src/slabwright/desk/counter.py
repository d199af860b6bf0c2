"""The counter as a whole: what its slabs cost, what a price does, what to buy."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from slabwright.cost.change import changed
from slabwright.cost.prices import PriceList, exact, moved
from slabwright.counter.costing import slab_cost
from slabwright.counter.costs import Costs
from slabwright.counter.needs import Trays
from slabwright.counter.price_change import effects
from slabwright.counter.shopping import Shelf, ShoppingList, shopping_list
from slabwright.files.folder import Folder
from slabwright.files.price_change import read_price_change
from slabwright.spec.costing import uses_of_slab


def prices_of(folder: Folder) -> PriceList:
    """The kitchen's prices; none at all without a list."""
    return folder.prices or PriceList(folder.kitchen.currency)


def costs_of(
    orders: Sequence[Trays],
    folder: Folder,
    on: date,
    since: date | None = None,
    changes: Sequence[str] = (),
) -> Costs:
    """What these trays cost, which prices moved, and what changes would do.

    Args:
        orders: slabs, worked out at the prices of the day.
        folder: their kitchen.
        on: the day.
        since: the day from which moves of prices are told, if they are.
        changes: changes of prices as a baker types them: `butter +20 %`.

    Raises:
        FileError: if a change can't be read, or hits nothing that has a price.
    """
    prices, kitchen = prices_of(folder), folder.kitchen
    said = []
    now = prices
    for text in changes:
        change = read_price_change(text, now, folder.larder, kitchen.country, on)
        said.append(change)
        now = changed(now, [change], on)
    specs = [one.spec for one in orders]
    used = {use.larder_id for spec in specs for use in uses_of_slab(spec)}
    moves = moved(prices, since, on) if since else ()
    return Costs(
        on,
        kitchen.currency,
        tuple(slab_cost(one, prices, folder.larder, kitchen, on) for one in orders),
        {found.id: found.name for found in folder.larder.ingredients},
        since,
        tuple(one for one in moves if one.larder_id in used),
        tuple(said),
        effects(specs, prices, said, on) if said else (),
    )


def to_buy(
    orders: Sequence[Trays], folder: Folder, on: date, *, with_waste: bool
) -> ShoppingList:
    """What to buy for these trays, net of stock, in the cheapest whole packs.

    Args:
        orders: slabs, and how many trays of each.
        folder: their kitchen.
        on: the day whose prices hold.
        with_waste: adds the kitchen's waste allowance.
    """
    share = exact(folder.kitchen.waste_share) if with_waste else Fraction(0)
    shelf = Shelf(prices_of(folder), folder.larder, folder.kitchen, on, share)
    return shopping_list(orders, shelf)
