"""A kitchen of round numbers, so that a price can be worked out by hand."""

from datetime import date
from typing import Any

from slabwright.counter.pricing import CounterPricing
from slabwright.desk.pricing import PriceAsked, prices_asked
from slabwright.files.folder import Folder, folder_from
from slabwright.files.raw import Text
from slabwright.spec.offer import Offer
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

DAY = date(2026, 11, 26)
KITCHEN = """country: GB
labour_per_hour: 15.20
electricity_per_kWh: 0.26
waste_share: 0.06
shop:
  line: margin 60 %
  ends: [0.20, 0.50, 0.95]
  tax:
    - {rate: 0 %, from: 2026-01-01, reason: a cake}
    - {rate: 20 %, from: 2026-01-01, slabs: Dear, reason: a sweet}
"""
PRICES = """
- {ingredient: plain flour, pack: 1 kg, price: 1.00, from: 2026-01-01}
- {ingredient: "butter, unsalted", pack: 1 kg, price: 8.00, from: 2026-01-01}
- {ingredient: hazelnuts, pack: 1 kg, price: 14.00, from: 2026-01-01}
"""
TOLD = (
    "costs 60 min hands", "costs 2 kWh", "costs 0.11 a piece", "costs 4.00 a tray",
)  # fmt: skip
SOLD = "sold loose on the counter, 3.20"


def card(
    *head: str, name: str = "Plain", cut: str = "cut 5 x 4", body: str = ""
) -> str:
    """A tray of 1 kg of flour and half a kilogram of butter: 5.00 of ingredients."""
    lines = body or "  1000 g plain flour\n  500 g butter, unsalted\n"
    top = "\n".join(line for line in (cut, *head) if line)
    return f"slab {name}\ntin 30 x 20 x 5 cm\n{top}\nlayer Base\n{lines}"


def home(kitchen: str = KITCHEN, prices: str = PRICES) -> Folder:
    """The kitchen's folder."""
    texts = {"kitchen.yaml": Text(kitchen, "kitchen.yaml"),
             "prices.yaml": Text(prices, "prices.yaml")}  # fmt: skip
    return folder_from(texts, [])


def worked(folder: Folder, text: str, on: date = DAY) -> Specification:
    """A card of this kitchen, worked out."""
    read = folder.read(Text(text, "test.card"))
    order = Order(folder.kitchen, folder.book, folder.prices, on)
    return work_out(read.card, order, read.mistakes)


def counter(
    *texts: str, folder: Folder | None = None, on: date = DAY, **asked: Any
) -> CounterPricing:
    """These cards priced; what else is asked goes by the names of `PriceAsked`."""
    house = folder or home()
    specs = [worked(house, text, on) for text in texts]
    return prices_asked(specs, house, PriceAsked(on, **asked))


def offer(text: str, folder: Folder | None = None) -> Offer:
    """The first way in which a card sells."""
    return counter(text, folder=folder).rows[0].before.offers[0]
