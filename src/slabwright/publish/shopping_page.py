"""The shopping list as a page to print: A4, black on white, a box to tick for each."""

from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from html import escape
from importlib.resources import files
from typing import Final

from slabwright.cost.packs import Packs
from slabwright.cost.prices import money
from slabwright.counter.shopping import ShoppingList, Wanted
from slabwright.publish import words
from slabwright.publish.shopping import (
    mass_words,
    need_words,
    orders_words,
    other_words,
    pack_words,
    supplier_total,
)

_FONTS: Final = (
    ("Read", "AtkinsonHyperlegibleNext-Regular", 400),
    ("Read", "AtkinsonHyperlegibleNext-Bold", 700),
    ("Name", "Besley-Medium", 500),
)
_STYLE: Final = """
@page { size: A4; margin: 14mm 15mm 14mm 15mm; }
* { box-sizing: border-box; }
html { background: #fff; color: #000; }
body { font: 10.5pt/1.35 "Read", sans-serif; max-width: 180mm; margin: 0 auto;
  padding: 8mm 0; font-variant-numeric: tabular-nums; }
h1 { font: 500 26pt/1.1 "Name", serif; margin: 0 0 2mm; }
h2 { font: 500 14pt/1.2 "Name", serif; margin: 7mm 0 0; border-bottom: 1.5px solid #000;
  padding-bottom: 1mm; display: flex; justify-content: space-between;
  break-after: avoid; }
p { margin: 0 0 1mm; max-width: 140mm; }
table { width: 100%; border-collapse: collapse; table-layout: fixed; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th { font-weight: 400; font-size: 8.5pt; text-align: right; padding: 1mm 0; }
td { border-bottom: 0.5px solid #767676; padding: 1.2mm 0; vertical-align: top;
  text-align: right; }
th:nth-child(2), td:nth-child(2) { text-align: left; }
td:nth-child(2) { overflow-wrap: anywhere; padding-right: 3mm; }
.packs { font-weight: 700; font-size: 12.5pt; }
.tick { width: 9mm; text-align: left; }
col.tick { width: 9mm; } col.packs { width: 42mm; } col.mass { width: 24mm; }
col.money { width: 22mm; }
.tick span { display: inline-block; width: 5mm; height: 5mm; border: 1.2px solid #000; }
.packs, .mass, .money { padding-left: 2mm; }
.mass, .money { white-space: nowrap; }
small { font-size: 8.5pt; display: block; }
.total { font-weight: 700; font-size: 13pt; text-align: right; margin: 5mm 0 0;
  max-width: none; }
footer { margin-top: 8mm; font-size: 8.5pt; }
@media print { body { padding: 0; max-width: none; } }
@media screen and (max-width: 640px) {
  body { padding: 4mm; } table { table-layout: auto; } col { width: auto !important; }
  th:nth-child(5), td:nth-child(5) { display: none; } .packs { font-size: 10.5pt; }
  .packs, .mass, .money { padding-left: 1.5mm; }
}
"""
_COLUMNS: Final = (
    '<colgroup><col class="tick"/><col/><col class="packs"/><col class="mass"/>'
    '<col class="mass"/><col class="money"/></colgroup>'
)


def shopping_page(found: ShoppingList) -> str:
    """A whole HTML page; it fetches nothing, its fonts are inside."""
    kitchen = found.orders[0].spec.kitchen.name if found.orders else ""
    body = "".join(
        (
            f"<header><h1>To buy</h1><p>{escape(kitchen)}</p>" if kitchen
            else "<header><h1>To buy</h1>",
            f"<p>For {escape(orders_words(found))}. Prices of {found.on}.</p>",
            f"<p>{escape(_waste(found))}</p>" if found.waste_share else "",
            "</header>",
            *(_supplier(found, name, rows) for name, rows in found.suppliers),
            _total(found),
            *_lists(found),
            _foot(found),
        )
    )  # fmt: skip
    return (
        '<!DOCTYPE html>\n<html lang="en-GB"><head><meta charset="utf-8"/>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>'
        f"<title>To buy: {escape(orders_words(found))}</title>"
        f"<style>{_faces()}{_STYLE}</style></head>"
        f"<body><main>{body}</main></body></html>\n"
    )


def _waste(found: ShoppingList) -> str:
    share = words.percent(float(found.waste_share))
    return f"The waste allowance of {share} of what is bought is in it."


def _supplier(
    found: ShoppingList, supplier: str, rows: tuple[tuple[Wanted, Packs], ...]
) -> str:
    name = supplier[:1].upper() + supplier[1:] if supplier else "Supplier not said"
    total = words.money(supplier_total(rows), found.currency)
    sign = escape(words.sign_of(found.currency))
    heads = ("got", "what", "packs", "needed", "left after", sign)
    head = "".join(f'<th scope="col">{one}</th>' for one in heads)
    shown: set[int] = set()
    body: list[str] = []
    for one, packs in rows:
        body.append(_row(one, packs, is_first=id(one) not in shown))
        shown.add(id(one))
    return (
        f"<section><h2><span>{escape(name)}</span><span>{escape(total)}</span></h2>"
        f"<table>{_COLUMNS}<thead><tr>{head}</tr></thead><tbody>{''.join(body)}</tbody></table>"
        "</section>"
    )


def _row(one: Wanted, packs: Packs, *, is_first: bool) -> str:
    notes = [part for part in (one.pieces, one.taken_for) if part and is_first]
    if one.stock_g and is_first:
        notes.append(f"{mass_words(one.stock_g)} in stock")
    note = f"<small>{escape('; '.join(notes))}</small>" if notes else ""
    needed = mass_words(one.need.grams) if is_first else ""
    left = mass_words(one.left_g) if is_first else ""
    return (
        f'<tr><td class="tick"><span></span></td><td>{escape(one.need.name)}{note}</td>'
        f'<td class="packs">{escape(pack_words(packs))}</td>'
        f'<td class="mass">{needed}</td><td class="mass">{left}</td>'
        f'<td class="money">{words.bare_money(money(packs.cost))}</td></tr>'
    )


def _total(found: ShoppingList) -> str:
    total = escape(words.money(money(found.total), found.currency))
    return f'<p class="total">In all {total}</p>' if found.to_buy else ""


def _lists(found: ShoppingList) -> Iterator[str]:
    if found.without_pack:
        lines = (f"{one.need.name}: {need_words(one)}" for one in found.without_pack)
        yield "<section><h2>No pack on sale: order it by weight</h2>"
        yield from _ticked(lines)
        yield "</section>"
    if found.in_stock:
        lines = (
            f"{one.need.name}: {need_words(one)} of {mass_words(one.stock_g)}"
            for one in found.in_stock
        )
        yield "<section><h2>In stock: look before you order</h2>"
        yield from _ticked(lines)
        yield "</section>"


def _ticked(lines: Iterator[str]) -> Iterator[str]:
    yield '<table><colgroup><col class="tick"/><col/></colgroup><tbody>'
    for line in lines:
        cell = '<td class="tick"><span></span></td>'
        yield f"<tr>{cell}<td>{escape(line)}</td></tr>"
    yield "</tbody></table>"


def _foot(found: ShoppingList) -> str:
    lines = [*other_words(found), *_notes(found)]
    said = "".join(f"<p>{escape(line)}</p>" for line in lines)
    return f"<footer>{said}</footer>" if said else ""


def _notes(found: ShoppingList) -> Iterator[str]:
    """Notes of the cards that say what they are: worked examples."""
    notes = (note for one in found.orders for note in one.spec.card.notes)
    yield from dict.fromkeys(note for note in notes if "worked example" in note.lower())


@cache
def _faces() -> str:
    """The fonts, inside the page."""
    home = files("slabwright.publish.drawing").joinpath("fonts", "woff2")
    faces = []
    for family, name, weight in _FONTS:
        data = b64encode(home.joinpath(f"{name}.woff2").read_bytes()).decode("ascii")
        faces.append(
            f'@font-face {{ font-family: "{family}"; font-weight: {weight}; '
            f"src: url(data:font/woff2;base64,{data}) format('woff2'); }}"
        )
    return "".join(faces)
