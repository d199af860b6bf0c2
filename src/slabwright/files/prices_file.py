"""prices.yaml: packs, prices with the day they began, suppliers, stock."""

import re
from datetime import date
from typing import Annotated, Final

from pydantic import BeforeValidator, Field, TypeAdapter

from slabwright.cost.prices import Price, PriceList
from slabwright.errors import Mistake, Where
from slabwright.files.card.naming import size_in
from slabwright.files.kitchen_file import Money, Name, Strict, as_text
from slabwright.files.raw import Text
from slabwright.files.yaml_file import read_yaml
from slabwright.larder.eggs import measure_name
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Larder
from slabwright.quantity.numbers import Number, number_at
from slabwright.quantity.units import unit_named

_DAWN: Final = date(1970, 1, 1)
"""Since ever, for a price without a day."""


class PriceEntry(Strict):
    """One price as the file says it."""

    ingredient: Name
    pack: Annotated[str, BeforeValidator(as_text), Field(min_length=1, max_length=60)]
    price: Money
    since: date = Field(_DAWN, alias="from")
    supplier: str = Field("", max_length=120)
    stock_g: float | None = Field(None, ge=0, le=1e8)


ADAPTER: TypeAdapter[list[PriceEntry]] = TypeAdapter(list[PriceEntry])


def read_prices(
    text: Text, larder: Larder, country: str, currency: str
) -> tuple[PriceList, tuple[Mistake, ...]]:
    """The price list in this file, and the packs in it that have no weight.

    Raises:
        FileError: if the file is none of its schema, with every mistake in it.
    """
    found: dict[str, tuple[Price, ...]] = {}
    mistakes: list[Mistake] = []
    entries = read_yaml(text, ADAPTER, [])
    for number, said in enumerate(entries):
        match = larder.find(said.ingredient, country)
        pack_g = _pack_g(said.pack, match.ingredient if match else None, country)
        if pack_g is None:
            what = f"The pack '{said.pack}' has no weight that can be read."
            where = Where(text.file, field=f"{number}.pack")
            mistakes.append(Mistake(what, "Write its grams: 250 g.", where))
            continue
        price = Price(
            said.ingredient, pack_g, said.price, said.since, said.supplier,
            said.stock_g, said.pack,
        )  # fmt: skip
        if match is None:
            near = larder.nearest(said.ingredient, country)
            what = f"The larder has no '{said.ingredient}', so its price is not used."
            do = f"If it is {' or '.join(near)}, write that." if near else "Mend it."
            where = Where(text.file, field=f"{number}.ingredient")
            mistakes.append(Mistake(what, do, where, near))
            continue
        found[match.ingredient.id] = (*found.get(match.ingredient.id, ()), price)
    return PriceList(currency, found), tuple(mistakes)


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
