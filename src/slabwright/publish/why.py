"""A figure or a finding, opened: the sum, the range, the standing, the source."""

import textwrap
from collections.abc import Iterator
from decimal import Decimal

from slabwright.figure import Figure
from slabwright.publish.words import BARE, mark, places_of
from slabwright.spec.nature.aspect import Classed
from slabwright.spec.told import Told


def figure_text(name: str, figure: Figure, columns: int = 80) -> str:
    """A figure with everything that it leans on."""
    return "".join(f"{line}\n" for line in _figure(name, figure, columns))


def _figure(name: str, figure: Figure, columns: int) -> Iterator[str]:
    if figure.value is None:
        yield f"{name}: withheld"
        yield from _row("because", figure.sum, columns)
        return
    places = places_of(figure)
    yield f"{name}: {number(figure.value, figure.unit, places)}"
    yield from _row("sum", figure.sum, columns)
    if figure.low is not None and figure.high is not None:
        low, high = (
            number(end, figure.unit, places) for end in (figure.low, figure.high)
        )
        yield from _row("likely", f"{low} to {high}", columns)
    yield from _row("standing", f"{mark(figure.standing)} {figure.standing}", columns)
    for source in figure.sources:
        yield from _row("source", f"{source.text} ({source.seen.value})", columns)
    if figure.holds:
        yield from _row("holds", figure.holds, columns)


def class_text(name: str, one: Classed, columns: int = 80) -> str:
    """A class with the rule that gave it, and every class that there is."""
    rows = [f"{name}: {one.word}", *_row("why", one.why, columns)]
    if one.words:
        rows.extend(_row("one of", ", ".join(one.words), columns))
    rows.extend(_row("standing", f"{mark(one.standing)} {one.standing}", columns))
    for source in one.sources:
        rows.extend(_row("source", f"{source.text} ({source.seen.value})", columns))
    return "".join(f"{row}\n" for row in rows)


def number(value: float | Decimal, unit: str, places: int = 2) -> str:
    """A value with its unit, rounded for reading.

    Args:
        value: the value.
        unit: its unit.
        places: decimals of a bare number or a temperature; what is weighed and
            measured has two at most.

    >>> number(0.4738, "share"), number(14.8165, "mm"), number(0.0021, "g")
    ('47.4%', '14.82 mm', '0.0021 g')
    """
    exact = float(value)
    if unit == "share":
        places = 1 if exact == 0 or abs(exact) >= 0.0005 else 3
        return f"{exact * 100:.{places}f}%"
    if 0 < abs(exact) < 0.095:
        return f"{exact:.2g} {unit}".rstrip()  # what there is never reads as nought
    if unit in BARE:
        return f"{exact:,.{places}f} {unit}".rstrip().replace("-", "−")
    plain = f"{exact:,.2f}".rstrip("0").rstrip(".")
    return f"{plain} {unit}".rstrip()


def finding_text(told: Told, columns: int = 80) -> str:
    """A finding with its reason and what would mend it, and every place of it."""
    finding = told.finding
    rows = [f"{finding.severity.value.upper()} {told.number}  {told.where}"]
    if len(told.every) > 1:
        places = ", ".join(dict.fromkeys(one.where for one in told.every))
        rows.extend(_row("of", places, columns))
    rows.extend(_row("what", finding.what, columns))
    rows.extend(_row("why", finding.why, columns))
    rows.extend(_row("do", finding.do, columns))
    if finding.source:
        rows.extend(_row("source", finding.source, columns))
    rows.extend(_row("code", finding.code, columns))
    lines = dict.fromkeys(str(one.span.line) for one in told.every if one.span)
    if lines:
        head = "on line" if len(lines) == 1 else "on lines"
        rows.extend(_row(head, ", ".join(lines), columns))
    return "".join(f"{row}\n" for row in rows)


def _row(head: str, text: str, columns: int) -> Iterator[str]:
    lines = textwrap.wrap(text, max(30, columns - 12)) or [""]
    for i, line in enumerate(lines):
        yield f"  {head if i == 0 else '':<10}{line}"
