"""What a label asks of a slab: allergens, particulars, the counter's matrix."""

from benchmarks.cards import DEMO, card
from benchmarks.clock import Taken, side_by_side
from benchmarks.one_slab import DAY
from slabwright.desk.allergens import allergens_of_counter
from slabwright.desk.label import Asked, labels_of
from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.label.contents import Contents
from slabwright.spec.allergens import allergens_of
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

    def worked(number: int) -> Specification:
        return work_out(reads[number].card, order)

    return side_by_side(
        {
            "working it out": worked,
            "allergens": lambda n: allergens_of(specs[n], contents, home.prices, DAY),
            "label, packed here": lambda n: labels_of(specs[n], home, asked),
            f"matrix of {_COUNTER} slabs": lambda _: allergens_of_counter(
                specs, home, DAY
            ),
        },
        rounds=rounds,
        warm=3,
    )
