"""What is made of a slab: scaled, weighed, cut, printed, bought."""

from fractions import Fraction

from benchmarks.cards import DEMO, card
from benchmarks.clock import Taken, side_by_side
from benchmarks.one_slab import DAY
from slabwright.counter.needs import Trays
from slabwright.counter.shopping import Shelf, shopping_list
from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.publish.sheet.html import sheet_html
from slabwright.publish.sheet.pdf import sheet_pdf
from slabwright.slab.tin import Tin
from slabwright.spec.bench import Making, bench_sheet
from slabwright.spec.friendly_lines import Asked
from slabwright.spec.scaled_choices import offers
from slabwright.spec.scaling import scale
from slabwright.spec.wanted import NamedTin, Wanted
from slabwright.spec.work_out import Order, work_out

_FORTY = (
    "slab Forty lines\ntin 30 x 20 x 5 cm\ncut 5 x 4\n"
    + "layer {}\n"
    + "".join(f"  {37 + 13 * n} g  caster sugar\n" for n in range(10))
    + "  loses 4 g in the bowl\n"
)


def making(rounds: int = 10) -> tuple[Taken, ...]:
    """Warm. First: a slab of 40 lines scaled, with its friendly choices worked out."""
    home = open_folder(DEMO)
    order = Order(home.kitchen, home.book, home.prices, DAY)
    head, layer = _FORTY.split("layer {}\n")
    text = head + "".join(f"layer L{n}\n{layer}" for n in range(4))
    forty = work_out(home.read(Text(text)).card, order)
    slabs = [work_out(home.read(Text(card(n))).card, order) for n in range(50)]
    if home.prices is None:
        message = "the demonstration has no prices"
        raise RuntimeError(message)
    shelf = Shelf(home.prices, home.larder, home.kitchen, DAY, Fraction(0))

    def tin(number: int) -> Wanted:
        square = Tin.square(200 + number, 50)
        return Wanted((NamedTin("square", square),))

    def chosen(number: int) -> object:
        return offers(scale(forty, tin(number), order).making, Asked(), order)

    sheet = bench_sheet(slabs[0], Making(DAY))
    return side_by_side(
        {
            "scaled, 40 lines, with choices": chosen,
            "  scaled exactly alone": lambda n: scale(forty, tin(n), order),
            "bench sheet as PDF": lambda _: sheet_pdf(sheet),
            "bench sheet as a page": lambda _: sheet_html(sheet),
            "shopping list of 50 slabs": lambda n: shopping_list(
                [Trays(one, 1 + n % 3) for one in slabs], shelf
            ),
        },
        rounds=rounds,
        warm=1,
    )
