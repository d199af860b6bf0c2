"""Cards and prices as values, without a file, for the counter's tests."""

from datetime import date
from fractions import Fraction

from slabwright.cost.prices import PriceList
from slabwright.counter.needs import Trays
from slabwright.counter.shopping import Shelf
from slabwright.files.card.head import Tins
from slabwright.files.card.names import Names
from slabwright.files.card.reader import read_card
from slabwright.files.prices_file import read_prices
from slabwright.files.raw import Text
from slabwright.formula.book import Book
from slabwright.formula.habits import Habits
from slabwright.kitchen import Kitchen
from slabwright.larder.load import built_in
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

DAY = date(2026, 11, 25)
LARDER = built_in()
KITCHEN = Kitchen(waste_share=0.06)

PRICES = """
- ingredient: plain flour
  pack: 16 kg
  price: 12.48
  from: 2026-01-05
  supplier: the mill
- ingredient: plain flour
  pack: 1.5 kg
  price: 1.35
  from: 2026-01-05
  supplier: the shop
- ingredient: butter, unsalted
  pack: 250 g
  price: 1.80
  from: 2026-01-05
  supplier: the mill
- ingredient: caster sugar
  pack: 5 kg
  price: 5.75
  from: 2026-01-05
  supplier: the mill
  stock_g: 900
- ingredient: eggs
  pack: 12
  price: 3.00
  from: 2026-01-05
  supplier: the shop
"""
SHORT = """slab Short
tin 30 x 20 x 5 cm
cut 5 x 4
layer Base
  300 g plain flour
  200 g butter, unsalted
  100 g caster sugar
  ends 580 g
"""
CURD = """slab Curd
tin 30 x 20 x 5 cm
component Lemon curd
  220 g lemon juice
  270 g caster sugar
  120 g butter, unsalted
  5 egg yolks
  100 g water
  butter for greasing
  ends 600 g
layer Base
  200 g plain flour
  150 g butter, unsalted
  ends 340 g
layer Top from Lemon curd, 300 g
"""


def prices(text: str = PRICES) -> PriceList:
    found, mistakes = read_prices(Text(text), LARDER, "GB", "GBP")
    assert not mistakes, mistakes
    return found


def slab(text: str, listed: PriceList | None = None) -> Specification:
    names = Names(LARDER, "GB", frozenset(), (), ())
    read = read_card(text, names, Tins(lambda _: None, ()), "")
    book = Book(LARDER, Habits("GB", "metric", "medium"), {})
    return work_out(read.card, Order(KITCHEN, book, listed or prices(), DAY))


def trays(text: str, count: int = 1) -> Trays:
    return Trays(slab(text), count)


def shelf(text: str = PRICES, waste: str = "0") -> Shelf:
    return Shelf(prices(text), LARDER, KITCHEN, DAY, Fraction(waste))
