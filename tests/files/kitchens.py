"""The kitchen that the tests' cards are read in."""

from datetime import date
from pathlib import Path

from slabwright.files.card.reader import CardRead, LineRead
from slabwright.files.folder import Folder, open_folder
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.raw import Text
from slabwright.larder.load import built_in
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

KITCHEN = """
tins:
  - {name: shop frame, size: 57 x 37 x 4.5 cm}
vessels:
  - {name: wide pan, litres: 12}
rings:
  - {name: small ring}
shelves:
  - {name: larder shelf}
"""

COMPONENTS = """
component Malt caramel
  100 g caster sugar
component Coffee dark ganache
  100 g dark chocolate 60%
component Lemon curd
  100 g lemon juice
"""


def kitchen() -> Folder:
    """A kitchen with the tin, pan, ring and shelf of the card's description."""
    return Folder(None, read_kitchen(Text(KITCHEN)), built_in(), None)


def bare_kitchen() -> Folder:
    """A kitchen of which nothing was said."""
    return open_folder(None)


def read_in(place: str, line: str) -> tuple[CardRead, LineRead]:
    """A card with this line in this place, and how the line was read."""
    if place == "head":
        text = line if line.casefold().startswith("slab ") else f"slab X\n{line}\n"
    else:
        opener = {"layer": "layer A", "component": "component A", "finish": "finish"}
        is_component = line.casefold().startswith("component")
        known = "" if is_component else COMPONENTS
        text = f"slab X\n{known}\n{opener[place]}\n{line}\n"
    read = kitchen().read(Text(text, "x.card"))
    wanted = [one for one in read.lines if one.line.raw == line]
    return read, wanted[-1]


def folder_with(path: Path, **files: str) -> Folder:
    """A kitchen folder with these YAML files; `larder="…"` is larder.yaml."""
    for name, text in files.items():
        (path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return open_folder(path)


def worked(
    card: str, home: Folder | None = None, on: date | None = None
) -> Specification:
    """A card worked out in this kitchen, by default one of which nothing was said."""
    home = home or bare_kitchen()
    read = home.read(Text(card, "x.card"))
    order = Order(home.kitchen, home.book, home.prices, on)
    return work_out(read.card, order, (*home.mistakes, *read.mistakes))
