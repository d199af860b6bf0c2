"""Something to begin with: a commented card, a kitchen folder."""

import json
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.card.form import CardForm
from slabwright.files.card.lines import LONGEST_NAME
from slabwright.files.card.printer import card_text
from slabwright.files.raw import read_text

_CARD = """\
slab {name}
tin 30 x 20 x 5 cm            # inner sizes; or: tin round 23 cm, 7 cm deep
cut 5 x 4, trim 5 mm          # or: cut 20 pieces, cut 58 x 47.5 mm, cut 12 wedges
# keep chilled, 3 days
note Worked out on paper, not baked yet.

layer Shortbread              # layers from the bottom up
  190 g   plain flour
  50 g    fine semolina
  170 g   butter, unsalted, cold
  85 g    caster sugar
  2 g     fine salt
  rub in and press   20 min hands
  bake 160 C fan     20-23 min, until gold at the edge
  # ends 451 g weighed        # what it weighs when baked: makes every figure truer
  # deep 10 mm                # what a ruler says: its density follows

layer Dark ganache
  250 g   dark chocolate 60%
  125 g   double cream 48%
  heat to 80 C
  pour at 34-36 C
  # loses 4 g in the bowl

finish                        # what happens to the whole slab
  trim, cut, box     22 min hands
"""

_KITCHEN = """\
# Everything here can be left out. Its schema: slabwright schema kitchen
name: {name}
country: GB                   # whose names, eggs, pints; where it is sold
currency: GBP
eggs: medium
spoons: metric                # or US, AU
altitude_m: 0
# probe_in_boiling_water_C: 101.0
scales:
  - {{to_g: 5000, step_g: 1}}
# tins:
#   - {{name: shop frame, size: 57 x 37 x 4.5 cm}}
# vessels:
#   - {{name: wide pan, litres: 12, across_cm: 32, empty_g: 2100}}
"""

_LARDER = """\
# Your own ingredients; they lie over ours. Its schema: slabwright schema larder
# - name: rye crisp, from our miller
#   like: wholemeal rye flour
#   per_100g: {water: 12.1, fat: 1.9}
#   contains: [rye]
#   source: specification 2026-02
"""

_PRICES = """\
# Packs and prices. Its schema: slabwright schema prices
# - ingredient: butter, unsalted
#   pack: 250 g
#   price: 1.80
#   from: 2026-10-01
#   supplier: the dairy
#   stock_g: 1200
"""


def blank_card(name: str) -> str:
    """A card to begin with, every word of it explained.

    Raises:
        FileError: if the name can't stand on a card.
    """
    plain = " ".join(name.split())
    if not plain or len(plain) > LONGEST_NAME or "#" in plain:
        what = f"'{plain[:40]}' can't be a slab's name."
        raise FileError(Mistake(what, f"Take 1 to {LONGEST_NAME} characters, no #."))
    return _CARD.format(name=plain)


@dataclass(frozen=True, slots=True)
class Begun:
    """A file of a kitchen folder that was begun."""

    path: Path
    is_new: bool
    """Whether it was written now; else it was there, and stays as it is."""


def begin_kitchen(folder: Path) -> tuple[Begun, ...]:
    """Write a kitchen folder's first files; what is there already stays as it is.

    Raises:
        FileError: if the folder can't be written to.
    """
    texts = {
        "kitchen.yaml": _KITCHEN.format(
            name=folder.name.replace("-", " ") or "kitchen"
        ),
        "larder.yaml": _LARDER,
        "prices.yaml": _PRICES,
        "slabs/first.card": blank_card("First slab"),
    }
    begun = tuple(
        Begun(folder / name, is_new=not (folder / name).exists()) for name in texts
    )
    for one, text in zip(begun, texts.values(), strict=True):
        if one.is_new:
            write_new(one.path, text)
    return begun


def write_new(path: Path, text: str, *, replace: bool = False) -> None:
    """Write a new file and the folders above it.

    Raises:
        FileError: if it is there already, or can't be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("w" if replace else "x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError as error:
        what = f"'{path}' is there already."
        raise FileError(Mistake(what, "Take another name.")) from error
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        raise FileError(Mistake(what, "Name another place.")) from error


def card_from_form(path: Path) -> str:
    """The text of a card whose JSON form is in this file.

    Raises:
        FileError: with every mistake in the form.
    """
    text = read_text(path)
    if _is_reading(text.text):
        what = "This is a whole reading: a card and how each line was taken."
        do = "Give its `card` part alone."
        raise FileError(Mistake(what, do, Where(str(path), field="card")))
    try:
        form = CardForm.model_validate_json(text.text)
    except ValidationError as error:
        raise FileError(
            *(
                Mistake(
                    f"{one['msg']}.",
                    "Write it as the schema has it: slabwright schema card.",
                    Where(str(path), field=".".join(map(str, one["loc"]))),
                )
                for one in error.errors(include_url=False, include_context=False)
            )
        ) from error
    return card_text(form)


def _is_reading(text: str) -> bool:
    """Whether this is all that `read --json` printed."""
    try:
        value = json.loads(text)
    except (ValueError, RecursionError):
        return False
    return isinstance(value, dict) and "slab" not in value and "card" in value
