"""Tables copied from a spreadsheet or saved as CSV: rows become ingredient lines."""

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.files.card.lines import LINE_END
from slabwright.files.pasted.sheet import Hint
from slabwright.quantity.units import unit_named

_NAME: Final = re.compile(r"ingredient|item|name|product|what", re.IGNORECASE)
_AMOUNT: Final = re.compile(
    r"^(?:amount|qty|quantity|weight|wt|mass|grams?|g|kg|ml|oz|how much)\b",
    re.IGNORECASE,
)
_UNIT: Final = re.compile(r"^units?$|^measure$|^uom$", re.IGNORECASE)
_GROUP: Final = re.compile(r"layer|component|section|part|stage", re.IGNORECASE)
_NOTE: Final = re.compile(r"note|prep|comment|remark|method", re.IGNORECASE)
_NUMBER: Final = re.compile(r"[£€$]?\s*[\d.,½¼¾⅓⅔⅛]+(?:\s*[a-zA-Z.]{1,5})?\s*%?$")
_MONEY: Final = re.compile(
    r"[£€$]|price|cost|gbp|eur|usd|%|share|kcal|percent", re.IGNORECASE
)
_TOTAL: Final = re.compile(r"(?:sub-?\s?)?total|sum\b|yield", re.IGNORECASE)
_HEADED: Final = re.compile(r"\(?\b(g|grams?|kg|ml|oz|lb)\b\)?", re.IGNORECASE)

Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Columns:
    name: int
    amount: int
    unit: int | None
    group: int | None
    note: int | None
    headed: str
    """The unit that the amount's heading gives."""


def rows_of(text: str) -> tuple[Row, ...] | None:
    """The cells of a table, if this text is one."""
    every = LINE_END.split(text)
    lines = [line for line in every if line.strip()]
    if len(lines) < len("xyz"):
        return None
    for mark in "\t;|,":
        counts = Counter(line.count(mark) for line in lines)
        usual, many = max(counts.items(), key=lambda pair: (pair[1], pair[0]))
        if usual < 1 or many < 0.6 * len(lines):
            continue
        rows = _cells(every, mark)
        if _is_table([row for row in rows if any(row)], mark):
            return rows
    return None


def _cells(lines: Sequence[str], mark: str) -> tuple[Row, ...]:
    """The cells of each line; nothing where a quote never ends."""
    try:
        found = tuple(csv.reader(lines, delimiter=mark))
    except csv.Error:
        return ()
    return tuple(tuple(cell.strip() for cell in row) for row in found)


def _is_table(rows: Sequence[Row], mark: str) -> bool:
    """Whether these cells are a table's and no text that only has such marks in it."""
    if not rows:
        return False
    head = " ".join(rows[0]).casefold()
    headed = bool(_NAME.search(head)) and len(rows[0]) > 1
    numbers = sum(any(_NUMBER.fullmatch(c) for c in row) for row in rows)
    names = sum(any(re.search(r"[a-zA-Z]{3}", c) for c in row) for row in rows)
    enough = numbers >= 0.5 * len(rows) and names >= 0.5 * len(rows)
    return enough and (headed or mark in "\t|")


def lines_of_table(rows: Sequence[Row]) -> tuple[tuple[str, Hint], ...]:
    """Each row as an ingredient line or a heading, cells put in their usual order."""
    columns = _columns(rows)
    lines: list[tuple[str, Hint]] = []
    group = ""
    for number, row in enumerate(rows):
        cells = [cell for cell in row if cell]
        if not cells:
            lines.append(("", ""))
            continue
        if columns is None or (number == 0 and _is_head(row)):
            lines.append((" ".join(cells), "scrap" if number == 0 else ""))
            continue
        said = _cell(row, columns.group) if columns.group is not None else ""
        if said and said != group:
            group = said
            lines.append((said, "heading"))
        lines.append(_row(row, cells, columns))
    return tuple(lines)


def _row(row: Row, cells: list[str], columns: _Columns) -> tuple[str, Hint]:
    name, amount = _cell(row, columns.name), _cell(row, columns.amount)
    unit = _cell(row, columns.unit) if columns.unit is not None else ""
    if len(cells) == 1:
        return cells[0], "heading" if not re.search(r"\d", cells[0]) else ""
    if any(
        re.match(r"(?:sub-?\s?)?total|sum\b|yield", c, re.IGNORECASE) for c in cells
    ):
        return " ".join(cells), "scrap"
    if not amount:
        return name or " ".join(cells), "ingredient" if name else "scrap"
    if not unit and not re.search(r"[a-zA-Z]", amount):
        unit = columns.headed
    note = _cell(row, columns.note) if columns.note is not None else ""
    text = " ".join(part for part in (amount, unit, name) if part)
    return (f"{text}, {note}" if note else text), "ingredient"


def _cell(row: Row, index: int | None) -> str:
    return row[index] if index is not None and index < len(row) else ""


def _is_head(row: Row) -> bool:
    return not any(_NUMBER.fullmatch(cell) for cell in row if cell)


def _columns(rows: Sequence[Row]) -> _Columns | None:
    """Which column is which: by its heading, else by what stands in it."""
    full = [row for row in rows if sum(bool(cell) for cell in row) > 1]
    if not full:
        return None
    head = full[0] if _is_head(full[0]) else ()
    width = max(len(row) for row in full)
    body = full[1:] if head else full

    def headed(pattern: re.Pattern[str]) -> int | None:
        return next((i for i, cell in enumerate(head) if pattern.search(cell)), None)

    def share(column: int, pattern: re.Pattern[str]) -> float:
        cells = [_cell(row, column) for row in body]
        return sum(bool(pattern.fullmatch(c)) for c in cells) / max(len(cells), 1)

    words = re.compile(r".*[a-zA-Z]{3}.*")
    amount = headed(_AMOUNT)
    if amount is None:
        able = [
            i
            for i in range(width)
            if share(i, _NUMBER) > 0.5
            and not _MONEY.search(_cell(head, i) if head else "")
        ]
        amount = able[0] if able else None
    group, unit, note = headed(_GROUP), headed(_UNIT), headed(_NOTE)
    taken = {amount, group, unit, note}
    name = headed(_NAME)
    if name is None:
        able = [i for i in range(width) if i not in taken and share(i, words) > 0.5]
        name = able[0] if able else None
    if amount is None or name is None:
        return None
    if unit is None and amount + 1 < width and amount + 1 not in {name, group, note}:
        cells = [_cell(row, amount + 1) for row in body if _cell(row, amount + 1)]
        if cells and all(unit_named(cell) for cell in cells):
            unit = amount + 1
    found = _HEADED.search(head[amount]) if head and amount < len(head) else None
    return _Columns(name, amount, unit, group, note, found.group(1) if found else "g")
