"""prices.yaml: packs, prices with the day they began, suppliers, stock."""

import re
from collections.abc import Sequence
from datetime import date
from typing import Annotated, Final

from pydantic import BeforeValidator, Field, TypeAdapter

from slabwright.cost.prices import SINCE_EVER, Price, PriceList
from slabwright.errors import Mistake, Where
from slabwright.files.card.naming import size_in
from slabwright.files.kitchen_file import Money, Name, Strict, as_text
from slabwright.files.raw import Text
from slabwright.files.yaml_file import joined, read_sound, read_yaml
from slabwright.larder.eggs import measure_name
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Larder
from slabwright.quantity.numbers import Number, number_at
from slabwright.quantity.units import unit_named

_LEAST_G: Final = 0.001
"""A pack of less is none."""
_MOST_G: Final = 1e8
"""A hundred tonnes."""


class PriceEntry(Strict):
    """One price as the file says it."""

    ingredient: Name
    pack: Annotated[str, BeforeValidator(as_text), Field(min_length=1, max_length=60)]
    price: Money
    since: date = Field(SINCE_EVER, alias="from")
    until: date | None = None
    supplier: str = Field("", max_length=120)
    stock_g: float | None = Field(None, ge=0, le=1e8)
    costing: bool = False


ADAPTER: TypeAdapter[list[PriceEntry]] = TypeAdapter(list[PriceEntry])


def read_prices(
    text: Text, larder: Larder, country: str, currency: str
) -> tuple[PriceList, tuple[Mistake, ...]]:
    """The price list in this file, and the packs in it that have no weight.

    Raises:
        FileError: if the file is none of its schema, with every mistake in it.
    """
    entries = read_yaml(text, ADAPTER, [])
    return _listed(entries, text.file, larder, country, currency)


def sound_prices(
    text: Text, larder: Larder, country: str, currency: str
) -> tuple[PriceList, tuple[Mistake, ...]]:
    """The prices of this file that are sound, and what is wrong with the others.

    Raises:
        FileError: if nothing of it can be read.
    """
    entries, unread = read_sound(text, ADAPTER, [])
    found, odd = _listed(entries, text.file, larder, country, currency)
    return found, joined(unread, odd)


def _listed(
    entries: Sequence[PriceEntry],
    file: str,
    larder: Larder,
    country: str,
    currency: str,
) -> tuple[PriceList, tuple[Mistake, ...]]:
    found: dict[str, tuple[Price, ...]] = {}
    mistakes: list[Mistake] = []
    for number, said in enumerate(entries):
        match = larder.find(said.ingredient, country)
        pack_g = _pack_g(said.pack, match.ingredient if match else None, country)
        odd = _odd(said, pack_g, file, number)
        if pack_g is None or odd:
            mistakes.extend(odd)
            continue
        price = Price(
            said.ingredient, pack_g, said.price, said.since, said.supplier,
            said.stock_g, said.pack, said.until, said.costing,
        )  # fmt: skip
        if match is None:
            near = larder.nearest(said.ingredient, country)
            what = f"The larder has no '{said.ingredient}', so its price is not used."
            do = f"If it is {' or '.join(near)}, write that." if near else "Mend it."
            where = Where(file, field=f"{number}.ingredient")
            mistakes.append(Mistake(what, do, where, near))
            continue
        found[match.ingredient.id] = (*found.get(match.ingredient.id, ()), price)
    return PriceList(currency, found), tuple(mistakes)


def _odd(
    said: PriceEntry, pack_g: float | None, file: str, number: int
) -> tuple[Mistake, ...]:
    """What is wrong with its pack or its days."""
    if pack_g is None:
        what = f"The pack '{said.pack}' has no weight that can be read."
        where = Where(file, field=f"{number}.pack")
        return (Mistake(what, "Write its grams: 250 g.", where),)
    if not _LEAST_G <= pack_g <= _MOST_G:
        what = f"The pack '{said.pack}' of {said.ingredient} weighs {pack_g:g} g."
        where = Where(file, field=f"{number}.pack")
        return (Mistake(what, "Write what one pack holds.", where),)
    if said.until is not None and said.until < said.since:
        what = f"The price of {said.ingredient} ends before it begins."
        where = Where(file, field=f"{number}.until")
        return (Mistake(what, "Mend from or until.", where),)
    return ()


def _pack_g(text: str, ingredient: Ingredient | None, country: str) -> float | None:
    """Grams of `250 g`, `6 x 400 g`, `1 l`, `12` (pieces), `6 eggs, medium`."""
    times = re.match(r"\s*(\d+)\s*[x×]\s*", text)
    count = int(times.group(1)) if times else 1
    number = number_at(text, times.end() if times else 0)
    if not isinstance(number, Number) or number.value <= 0:
        return None
    rest = text[number.end :].strip()
    unit = unit_named(rest or "each")
    size = unit.size() if unit else None
    if unit is None or unit.name == "each":
        name = measure_name(size_in(rest) or "medium", country)
        piece = ingredient and (ingredient.measure(name) or ingredient.measure("each"))
        return count * number.value * piece.grams if piece else None
    if unit.kind == "mass" and size:
        return count * number.value * size.value
    name = "ml" if unit.kind in {"volume", "spoon"} else unit.name
    measure = ingredient.measure(name) if ingredient else None
    if measure is None:
        return None
    return count * number.value * measure.grams * (size.value if size else 1.0)
