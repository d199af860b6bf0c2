"""The shopping list as a table for a spreadsheet."""

import csv
import io
from decimal import Decimal
from typing import Final

from slabwright.cost.packs import Packs
from slabwright.cost.prices import money
from slabwright.counter.shopping import ShoppingList, Wanted

_HEAD: Final = (
    "supplier", "ingredient", "needed_g", "waste_g", "stock_g", "to_buy_g", "packs",
    "pack", "pack_g", "price", "sum", "left_g", "note",
)  # fmt: skip
_BEGINS_A_FORMULA: Final = tuple("=+-@\t\r\n＝＋－＠")


def shopping_csv(found: ShoppingList) -> str:
    """One row for each pack size; what has no pack, and what is in stock, last.

    Amounts that belong to an ingredient stand in its first row alone, so that columns
    can be added up.
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow((*_HEAD[:9], f"price_{found.currency}", f"sum_{found.currency}",
                     *_HEAD[11:]))  # fmt: skip
    shown: set[int] = set()
    for _, rows in found.suppliers:
        for one, packs in rows:
            writer.writerow(_row(one, packs, is_first=id(one) not in shown))
            shown.add(id(one))
    for one in found.without_pack:
        writer.writerow(_row(one, None, note="no pack on sale"))
    for one in found.in_stock:
        writer.writerow(_row(one, None, note="in stock"))
    return out.getvalue()


def harmless(text: str) -> str:
    """A cell that no spreadsheet takes for a formula.

    >>> harmless("=1+1"), harmless("butter")
    ("'=1+1", 'butter')
    """
    begins = text.lstrip(" \xa0").startswith(_BEGINS_A_FORMULA)
    return f"'{text}" if begins or text.startswith(_BEGINS_A_FORMULA) else text


def _row(
    one: Wanted, packs: Packs | None, *, is_first: bool = True, note: str = ""
) -> list[str]:
    notes = [part for part in (one.pieces, one.taken_for, note) if part]
    grams = (one.need.grams, one.waste_g, one.stock_g, one.to_buy_g)
    price = packs.price if packs else None
    return [
        harmless(price.supplier if price else ""),
        harmless(one.need.name),
        *(_number(float(value)) if is_first else "" for value in grams),
        str(packs.count) if packs else "",
        harmless(price.pack if price else ""),
        _number(price.pack_g) if price else "",
        _money(price.price) if price else "",
        _money(money(packs.cost)) if packs else "",
        _number(float(one.left_g)) if is_first else "",
        harmless("; ".join(notes) if is_first else ""),
    ]


def _money(value: Decimal) -> str:
    """All its digits, and pennies at least."""
    return f"{value:f}" if -int(value.as_tuple().exponent) > 2 else f"{value:.2f}"


def _number(value: float) -> str:
    """A number as every spreadsheet reads it: to a milligram, no thousands."""
    return f"{value:.3f}".rstrip("0").rstrip(".")
