"""An ingredient with the source of every value, as text and as JSON."""

import textwrap
from collections.abc import Iterator
from typing import Any

from slabwright.larder.ingredient import Cited, Ingredient


def ingredient_text(found: Ingredient, columns: int = 80) -> str:
    """Everything that the larder knows of it."""
    return "".join(f"{line.rstrip()}\n" for line in _lines(found, columns))


def _lines(found: Ingredient, columns: int) -> Iterator[str]:
    yield f"{found.name}  ({found.id})"
    own = "your own larder" if found.own else found.group
    yield f"  {own}" + (f"; like {found.like}" if found.like else "")
    if not found.values:
        yield "  what it is made of is not known"
    else:
        yield "Per 100 g"
    for name, cited in found.values.items():
        yield from _value(name, cited, columns)
    if found.rest_is:
        yield f"  the rest is: {found.rest_is}"
    if found.energy:
        e = found.energy
        yield f"  energy {e.kcal:g} kcal, {e.kJ:g} kJ ({e.how}; {_source(e)})"
    yield from _block(
        "Measures",
        [f"{m.what}: {m.grams:g} g ({m.low_g:g} to {m.high_g:g}; {m.source.key})"
         for m in found.measures],
        columns,
    )  # fmt: skip
    yield from _block(
        "Allergens", [f"{a.name}, {a.how} {a.note}" for a in found.allergens], columns
    )
    yield from _block(
        "Made of",
        [p.name + (f" {p.share:.0%}" if p.share else "") for p in found.parts],
        columns,
    )
    yield from _block(
        "Packs", [f"{p.what}: {p.grams:g} g {p.country}" for p in found.packs], columns
    )
    names = [f"{n.text}{f' ({n.country})' if n.country else ''}" for n in found.names]
    yield from _block("Names", [", ".join(names)], columns)
    if found.note:
        yield from _block("Note", [found.note], columns)


def _value(name: str, cited: Cited, columns: int) -> Iterator[str]:
    head = f"  {name.replace('_', ' '):<20}{cited.value:>8.4g} g   "
    words = _source(cited) + (f": {cited.note}" if cited.note else "")
    lines = textwrap.wrap(words, max(20, columns - len(head))) or [""]
    yield head + lines[0]
    yield from (" " * len(head) + line for line in lines[1:])


def _source(cited: Any) -> str:
    record = f" {cited.record}" if cited.record else ""
    return f"{cited.source.key}{record}"


def _block(title: str, rows: list[str], columns: int) -> Iterator[str]:
    if not any(rows):
        return
    yield title
    for row in rows:
        yield from textwrap.wrap(
            row, columns, initial_indent="  ", subsequent_indent="    "
        )


def ingredient_json(found: Ingredient) -> dict[str, Any]:
    """The same for another program."""
    return {
        "id": found.id,
        "name": found.name,
        "group": found.group,
        "own": found.own,
        "like": found.like or None,
        "per_100g": {
            name: {
                "g": cited.value,
                "source": cited.source.key,
                "record": cited.record,
                "how_known": cited.source.seen.value,
                "note": cited.note,
            }
            for name, cited in found.values.items()
        },
        "rest_is": found.rest_is or None,
        "energy": None
        if found.energy is None
        else {
            "kcal": found.energy.kcal,
            "kJ": found.energy.kJ,
            "how": found.energy.how,
        },
        "measures": [
            {
                "measure": m.name,
                "g": m.grams,
                "low_g": m.low_g,
                "high_g": m.high_g,
                "what": m.what,
                "source": m.source.key,
                "record": m.record,
            }
            for m in found.measures
        ],
        "allergens": [
            {"allergen": a.name, "how": a.how, "note": a.note} for a in found.allergens
        ],
        "made_of": [{"part": p.name, "share": p.share} for p in found.parts],
        "packs": [
            {"pack": p.what, "g": p.grams, "country": p.country} for p in found.packs
        ],
        "names": [
            {"name": n.text, "country": n.country, "sense": n.sense}
            for n in found.names
        ],
        "edible_share": found.edible_share,
        "note": found.note,
    }
