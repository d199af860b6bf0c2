"""The counter against the 14, for a terminal and for a spreadsheet."""

import csv
import io
import textwrap
from collections.abc import Iterator
from typing import Final

from slabwright.counter.allergen_matrix import AllergenMatrix, Cell, Row
from slabwright.label.allergen.allergens import IN_IT, Question, State
from slabwright.label.allergen.annex import GROUPS, families, plain_name
from slabwright.publish import words
from slabwright.publish.allergens import (
    foot_lines,
    kitchen_lines,
    question_lines,
    traces_words,
    ways_of,
)
from slabwright.publish.money_rows import item, title
from slabwright.publish.shopping_csv import harmless
from slabwright.publish.terminal import Manner

_CELL: Final = 4
_LETTERS: Final = {
    State.CONTAINS: "C",
    State.THROUGH: "S",
    State.UNKNOWN: "?",
    State.MAY_CONTAIN: "M",
}
"""In the order in which a cell shows them."""
_KITCHEN: Final = "K"
_KEY: Final = (
    "C contains   S contains through a sub-ingredient   M may contain, says a supplier"
    "   K worked with in your own kitchen   ? not known: held   - not known to be in it"
)


def matrix_text(matrix: AllergenMatrix, manner: Manner) -> str:
    """The table, the way of each entry, and everything that is still to be asked."""
    held = sum(row.found.is_held for row in matrix.rows)
    lines = [
        *title("Allergens of the counter", f"on {matrix.on}", manner),
        "",
        *_table(matrix, manner),
        "",
        *textwrap.wrap(_KEY, manner.columns),
        *textwrap.wrap(_heads(), manner.columns),
    ]
    for row in matrix.rows:
        lines += ["", *_slab(row, manner)]
    lines += question_lines(_asked(matrix), manner)
    if held:
        lines += ["", f"Held: {words.counted(held, 'slab')} of {len(matrix.rows)}."]
    lines += foot_lines(manner)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def matrix_csv(matrix: AllergenMatrix) -> str:
    """One row for each slab, a column for each of the 14, then ways and questions."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(("day", "slab", *GROUPS, "held", "ways", "questions"))
    for row in matrix.rows:
        writer.writerow(
            (
                matrix.on.isoformat(),
                harmless(row.found.slab),
                *(cell_words(cell, row) for cell in row.cells),
                "held" if row.found.is_held else "",
                harmless(" | ".join(_way_lines(row))),
                harmless(" | ".join(one.about for one in row.found.questions)),
            )
        )
    return out.getvalue()


def cell_letters(cell: Cell) -> str:
    """How one of the 14 stands, in letters; `-` if it is not known to be in it.

    What the kitchen works with is left to the list below where the cell is full.
    """
    states = list(cell.states)
    if State.CONTAINS in states and State.THROUGH in states:
        states.remove(State.THROUGH)
    letters = "".join(sign for state, sign in _LETTERS.items() if state in states)
    if cell.in_kitchen and len(letters) < _CELL - 1:
        letters += _KITCHEN
    return letters or "-"


def cell_words(cell: Cell, row: Row) -> str:
    """The same in words, with the very cereals and nuts."""
    found = row.found
    parts = []
    if cell.in_it:
        parts.append(f"contains {_names(cell.in_it)}")
    of_group = [n for n in found.may_contain if n.partition(":")[0] == cell.group]
    if of_group:
        parts.append(f"may contain {_names(of_group)} (supplier)")
    kitchen = [
        one.allergen
        for one in row.in_kitchen
        if one.allergen.partition(":")[0] == cell.group
    ]
    if kitchen:
        parts.append(f"own kitchen works with {_names(kitchen)}")
    unknown = [n for n in found.unknown if n.partition(":")[0] == cell.group]
    if unknown or State.UNKNOWN in cell.states:
        parts.append(f"not known: {_names(unknown)}" if unknown else "more not known")
    return "; ".join(parts) or "not known to be in it"


def _names(allergens: list[str] | tuple[str, ...]) -> str:
    return ", ".join(map(plain_name, allergens))


def _heads() -> str:
    return ", ".join(f"{group[:3]} {family}" for group, family in families().items())


def _table(matrix: AllergenMatrix, manner: Manner) -> Iterator[str]:
    width = manner.columns - _CELL * len(GROUPS)
    yield " " * width + "".join(f"{group[:3]:>{_CELL}}" for group in GROUPS)
    for row in matrix.rows:
        name = row.found.slab
        name = name if len(name) < width else f"{name[: width - 2]}…"
        cells = "".join(f"{cell_letters(cell):>{_CELL}}" for cell in row.cells)
        yield f"{name:<{width}}{cells}"


def _slab(row: Row, manner: Manner) -> Iterator[str]:
    yield manner.bold(textwrap.shorten(row.found.slab, manner.columns, placeholder="…"))
    lines = list(_way_lines(row))
    if not lines:
        lines = ["None of the 14 is known to be in it"]
    for line in lines:
        yield from item(line, manner)
    yield from kitchen_lines(row, manner)


def _way_lines(row: Row) -> Iterator[str]:
    for allergen, traces in ways_of(row.found, *IN_IT).items():
        yield f"{plain_name(allergen)}: {traces_words(traces)}"
    for allergen, traces in ways_of(row.found, State.MAY_CONTAIN).items():
        yield f"may contain {plain_name(allergen)}: {traces_words(traces)}"
    for allergen, traces in ways_of(row.found, State.EXEMPT).items():
        yield f"exempt, {plain_name(allergen)}: {traces_words(traces)}"
    asked = row.found.questions
    if asked:
        names = ", ".join(dict.fromkeys(one.about for one in asked))
        yield f"{words.counted(len(asked), 'question')} open: {names}"


def _asked(matrix: AllergenMatrix) -> list[tuple[Question, tuple[str, ...]]]:
    """Each question once, with the slabs that wait for it."""
    found: dict[tuple[str, str], tuple[Question, list[str]]] = {}
    for row in matrix.rows:
        for one in row.found.questions:
            by_words = "" if one.larder_id else one.about
            key = (one.larder_id, by_words or one.do)
            found.setdefault(key, (one, []))[1].append(row.found.slab)
    return [(one, tuple(dict.fromkeys(slabs))) for one, slabs in found.values()]
