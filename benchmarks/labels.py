"""Label and money of a slab: its list, allergens, nutrition, price; the counter's."""

from dataclasses import replace

from benchmarks.cards import DEMO, card
from benchmarks.clock import Taken, side_by_side
from benchmarks.one_slab import DAY
from slabwright.desk.allergens import allergens_of_counter
from slabwright.desk.declaration import list_of
from slabwright.desk.label import Asked, labels_of
from slabwright.desk.nutrition import nutrition_for
from slabwright.desk.pricing import PriceAsked, prices_asked
from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.label.allergen.contents import Contents
from slabwright.label.ingredients.declared import Nation
from slabwright.spec.allergens import allergens_of
from slabwright.spec.declaration import ListOrder
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

_COUNTER = 200


def labels(rounds: int = 20) -> tuple[Taken, ...]:
    """Warm. First: a card of four layers to its specification."""
    home = open_folder(DEMO)
    order = Order(home.kitchen, home.book, home.prices, DAY)
    reads = [home.read(Text(card(number))) for number in range(_COUNTER)]
    specs = [work_out(read.card, order) for read in reads]
    contents = Contents(home.larder, home.kitchen.country)
    asked = Asked(DAY, "packed here", made=DAY)

    where = Nation("United Kingdom", DAY)
    asks = PriceAsked(DAY, "3.20", "margin 60 %", way="loose on the counter")
    shocked = replace(asks, changes=("butter +20 %",))

    def four(number: int) -> object:
        spec = specs[number]
        return (
            list_of(spec, home, ListOrder(where)),
            allergens_of(spec, contents, home.prices, DAY),
            nutrition_for(spec, home, DAY),
            prices_asked([spec], home, asks),
        )

    def worked(number: int) -> Specification:
        return work_out(reads[number].card, order)

    return side_by_side(
        {
            "working it out": worked,
            "allergens": lambda n: allergens_of(specs[n], contents, home.prices, DAY),
            "label, packed here": lambda n: labels_of(specs[n], home, asked),
            "list of ingredients": lambda n: list_of(specs[n], home, ListOrder(where)),
            "nutrition": lambda n: nutrition_for(specs[n], home, DAY),
            "price, with mends": lambda n: prices_asked([specs[n]], home, asks),
            "these four together": four,
            f"matrix of {_COUNTER} slabs": lambda _: allergens_of_counter(
                specs, home, DAY
            ),
            f"butter +20 %, {_COUNTER} slabs": lambda _: prices_asked(
                specs, home, shocked
            ),
        },
        rounds=rounds,
        warm=3,
    )
