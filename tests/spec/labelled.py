"""A slab of three plain lines, and its labels as a kitchen gets them."""

from datetime import date

from slabwright.desk.label import Asked, Labels, labels_of
from slabwright.files.folder import folder_from
from slabwright.files.raw import Text
from slabwright.finding import Finding
from slabwright.label.particulars import Particular
from slabwright.spec.label import Label
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

DAY = date(2026, 11, 25)
KITCHEN = "name: Gannet Steps Bakehouse\naddress: 1 Long Stair, Tarrowmouth\n"
LAYER = """layer Base
  400 g plain flour
  300 g butter, unsalted
  100 g caster sugar
  ends 760 g weighed
  deep 12 mm
"""


def card(*head: str, cut: str = "cut 5 x 4, trim 5 mm", layer: str = LAYER) -> str:
    """The slab with these lines in its head."""
    lines = ("slab Short", "tin 30 x 20 x 5 cm", cut, *head)
    return "\n".join(line for line in lines if line) + f"\n{layer}"


def worked_out(text: str) -> Specification:
    """This card worked out in that kitchen."""
    home = folder_from({"kitchen.yaml": Text(KITCHEN, "kitchen.yaml")}, [])
    read = home.read(Text(text, "short.card"))
    return work_out(read.card, Order(home.kitchen, home.book, None, DAY), read.mistakes)


def labels(text: str, asked: Asked, kitchen: str = KITCHEN) -> Labels:
    """Every label of this card."""
    home = folder_from({"kitchen.yaml": Text(kitchen, "kitchen.yaml")}, [])
    read = home.read(Text(text, "short.card"))
    assert not read.mistakes, read.mistakes
    order = Order(home.kitchen, home.book, None, asked.on)
    return labels_of(work_out(read.card, order, read.mistakes), home, asked)


def label(text: str, asked: Asked, kitchen: str = KITCHEN) -> Label:
    """The one label of this card."""
    (one,) = labels(text, asked, kitchen).labels
    return one


def particular(one: Label, name: str) -> Particular:
    """One of its particulars."""
    return next(found for found in one.particulars if found.name == name)


def finding(one: Label, code: str) -> Finding | None:
    """What stands under Watch by this code; None if it doesn't."""
    return next((found for found in one.findings if found.code == code), None)
