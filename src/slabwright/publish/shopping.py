"""The shopping list as text: by supplier, and what is left after the making."""

import textwrap
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from slabwright.cost.packs import Packs
from slabwright.cost.prices import money
from slabwright.counter.shopping import ShoppingList, Wanted
from slabwright.publish import words
from slabwright.publish.terminal import Manner


def shopping_text(found: ShoppingList, manner: Manner) -> str:
    """What to buy, by supplier; then what is in stock, lacking, and left over."""
    lines = [*_head(found, manner)]
    for supplier, rows in found.suppliers:
        lines += _supplier(found, supplier, rows, manner)
    if found.to_buy:
        total = words.money(money(found.total), found.currency)
        lines += ["", f"{'In all':<20}{total:>{manner.columns - 20}}"]
    lines += _lists(found, manner)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def orders_words(found: ShoppingList) -> str:
    """For what the list is: `2 trays of Harbour Lamp, 1 tray of Two Tides`."""
    return ", ".join(
        f"{words.counted(one.count, 'tray')} of {one.spec.name}" for one in found.orders
    )


def mass_words(grams: Fraction) -> str:
    """A mass as it is ordered: grams, or kilograms from ten of them.

    >>> mass_words(Fraction(1530)), mass_words(Fraction(10_000_000))
    ('1,530 g', '10,000 kg')
    """
    value = float(grams)
    if value >= 10_000:
        return f"{value / 1000:,.1f}".removesuffix(".0") + " kg"
    return f"{words.grams(value)} g"


def need_words(one: Wanted) -> str:
    """What is needed of it, in grams and eggs, and why, where it is bought whole."""
    said = mass_words(one.need.grams)
    extra = [part for part in (one.pieces, one.taken_for) if part]
    return f"{said} ({'; '.join(extra)})" if extra else said


def pack_words(packs: Packs) -> str:
    """`2 × 250 g`; a pack of so many pieces says so."""
    pack = packs.price.pack or f"{packs.price.pack_g:g} g"
    return f"{packs.count:,} × {pack}{' pieces' if pack.isdecimal() else ''}"


def supplier_total(rows: tuple[tuple[Wanted, Packs], ...]) -> Decimal:
    """What all that is bought of one supplier costs."""
    return money(sum((packs.cost for _, packs in rows), Fraction(0)))


def _head(found: ShoppingList, manner: Manner) -> Iterator[str]:
    right = f"prices of {found.on}"
    yield manner.bold("To buy") + f"{right:>{manner.columns - 6}}"
    yield from textwrap.wrap(f"For {orders_words(found)}.", manner.columns)
    if found.waste_share:
        share = words.percent(float(found.waste_share))
        text = f"The waste allowance of {share} of what is bought is in it."
        yield from textwrap.wrap(text, manner.columns)


def _supplier(
    found: ShoppingList,
    supplier: str,
    rows: tuple[tuple[Wanted, Packs], ...],
    manner: Manner,
) -> Iterator[str]:
    total = words.money(supplier_total(rows), found.currency)
    name = supplier[:1].upper() + supplier[1:] if supplier else "Supplier not said"
    name = textwrap.shorten(name, manner.columns - 16, placeholder="…")
    yield ""
    yield manner.bold(name) + f"{total:>{manner.columns - len(name)}}"
    width = manner.columns - 52
    sign = words.sign_of(found.currency)
    yield f"  {'':<{width}}{'packs':>17}{'needed':>11}{'left after':>12}{sign:>10}"
    shown: set[int] = set()
    for one, packs in rows:
        called = textwrap.shorten(one.need.name, width - 1, placeholder="…")
        is_first = id(one) not in shown
        shown.add(id(one))
        needed = mass_words(one.need.grams) if is_first else ""
        left = mass_words(one.left_g) if is_first else ""
        cost = words.bare_money(money(packs.cost))
        yield (
            f"  {called:<{width}}{pack_words(packs):>17}{needed:>11}{left:>12}"
            f" {cost:>9}"
        )
        notes = [part for part in (one.pieces, one.taken_for) if part and is_first]
        if one.stock_g and is_first:
            notes.append(f"{mass_words(one.stock_g)} in stock")
        if notes:
            yield from _item("; ".join(notes), manner)


def _lists(found: ShoppingList, manner: Manner) -> Iterator[str]:
    if found.without_pack:
        yield from ("", manner.bold("No pack on sale") + ": order it by weight")
        for one in found.without_pack:
            stock = f", {mass_words(one.stock_g)} in stock" if one.stock_g else ""
            yield from _item(f"{one.need.name}: {need_words(one)}{stock}", manner)
    if found.in_stock:
        yield from ("", manner.bold("In stock"))
        for one in found.in_stock:
            text = f"{one.need.name}: {need_words(one)} of {mass_words(one.stock_g)}"
            yield from _item(text, manner)
    for text in other_words(found):
        yield from ("", *textwrap.wrap(text, manner.columns))


def other_words(found: ShoppingList) -> Iterator[str]:
    """What else a buyer should know."""
    needs = found.needs
    if needs.unweighed:
        yield f"No weight, so not in the list: {', '.join(needs.unweighed)}."
    if needs.beside:
        yield f"Wanted besides, not weighed: {', '.join(needs.beside)}."
    for name, grams in needs.shared:
        yield f"{name} goes into several slabs: make {words.grams(grams)} g at once."


def _item(text: str, manner: Manner) -> list[str]:
    return textwrap.wrap(
        text, manner.columns, initial_indent="    ", subsequent_indent="      "
    )
