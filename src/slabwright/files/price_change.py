"""`butter +20 %`, `plain flour = 13.20`: a change of prices as a baker types it."""

import re
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Final

from slabwright.cost.change import PriceChange
from slabwright.cost.prices import PriceList
from slabwright.errors import FileError, Mistake
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Larder

_NUMBER: Final = r"(?P<number>\d{1,9}(?:[.,]\d{1,9})?)"
_NAME: Final = r"[^\s+=\-−–](?:.*?[^\s+=\-−–])?"
_SHARE: Final = re.compile(
    rf"(?P<name>{_NAME})\s*(?P<sign>[+\-−–])\s*{_NUMBER}\s*(?:%|per\s*cent)"
)
_PRICE: Final = re.compile(
    rf"(?P<name>{_NAME})\s*=\s*[£€$]?\s*{_NUMBER}\s*"
    r"(?P<per_kg>(?:/|an?\s|per\s)\s*(?:kg|kilo))?",
    re.IGNORECASE,
)
_DO: Final = "Write butter +20 %, butter -5 %, plain flour = 13.20 or = 0.85/kg."
_MOST: Final = 100_000
_LONGEST: Final = 200


def read_price_change(
    text: str, prices: PriceList, larder: Larder, country: str, on: date
) -> PriceChange:
    """The change that this text asks for.

    A group of the larder (`butter`, `flour`, `nuts`) hits all of it that has a price;
    a name hits the ingredient of that name, or all whose names hold its words.

    Raises:
        FileError: if it can't be read, or hits nothing that has a price.
    """
    said = text.strip()[:_LONGEST]
    share, price = _SHARE.fullmatch(said), _PRICE.fullmatch(said)
    found = share or price
    if found is None or len(text) > _LONGEST:
        raise _wrong(f"'{text:.80}' is no change of a price.", _DO)
    number = Decimal(found["number"].replace(",", "."))
    if number > _MOST:
        raise _wrong(f"{number:,} is beyond any price.", _DO)
    hits = _hits(found["name"].strip(" ,"), prices, larder, country)
    hits = [one for one in hits if prices.offers(one.id, on)]
    if not hits:
        name = found["name"].strip()
        near = larder.nearest(name, country)
        do = f"If it is {' or '.join(near)}, write that. " if near else ""
        what = f"Nothing called '{name}' has a price on {on}."
        raise _wrong(what, f"{do}Prices stand in prices.yaml.")
    ids, names = tuple(one.id for one in hits), tuple(one.name for one in hits)
    if share is not None:
        return PriceChange(text.strip(), ids, names, factor=_factor(text, share))
    if len(hits) > 1:
        what = f"'{found['name'].strip()}' is several things: {', '.join(names)}."
        raise _wrong(what, "Give the new price of one of them.")
    if found["per_kg"]:
        return PriceChange(text.strip(), ids, names, per_kg=number)
    return PriceChange(text.strip(), ids, names, pack_price=number)


def _factor(text: str, share: re.Match[str]) -> Fraction:
    number = Fraction(share["number"].replace(",", ".")) / 100
    factor = 1 + (number if share["sign"] == "+" else -number)
    if factor < 0:
        raise _wrong("A price can't fall by more than 100 %.", _DO)
    return factor


def _hits(
    name: str, prices: PriceList, larder: Larder, country: str
) -> list[Ingredient]:
    """Everything with a price that the name may mean."""
    priced = [found for id in prices.prices if (found := larder.by_id(id))]
    plain = " ".join(name.casefold().split())
    groups = {plain, plain.removesuffix("s"), plain.removesuffix("es")}
    of_group = [one for one in priced if one.group in groups]
    if of_group:
        return of_group
    match = larder.find(name, country)
    exact = [one for one in priced if match and one.id == match.ingredient.id]
    if exact and match and match.how == "name":
        return exact
    words = set(re.findall(r"\w+", plain))
    holding = [
        one for one in priced if words <= set(re.findall(r"\w+", one.name.casefold()))
    ]
    return holding or exact


def _wrong(what: str, do: str) -> FileError:
    return FileError(Mistake(what, do))
