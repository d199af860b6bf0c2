"""Calculators in a terminal: what each asks, and an answer with its sum and sources."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from slabwright.figure import Figure, Standing
from slabwright.publish import words
from slabwright.publish.nature_words import likely_words, value_words
from slabwright.publish.terminal import Manner
from slabwright.source import Source
from slabwright.spec.calc.calculator import Answer, Calculator, Input, Shown

Default = float | str | None
Defaults = Mapping[str, Default]
"""What each input is taken for if it is left out, by name."""
PARTS: Final = (
    "a make-up in parts by mass: sugars, polyols, acids, salt, alcohol, water, or what "
    "the larder knows"
)
GRAMS: Final = f"{PARTS}; in grams"
_HEAD, _INPUT, _NAME = 10, 22, 34
_FOOT: Final = "Ask one: slabwright calc NAME key=value …"


def answer_text(calculator: Calculator, answer: Answer, manner: Manner) -> str:
    """The figure first, then its sum, the others, notes, and every source."""
    first = answer.first
    head = textwrap.wrap(f"{first.label}: {_said(first.figure)}", manner.columns)
    rows = [*map(manner.bold, head), *_opened(first.figure, manner)]
    for one in answer.also:
        rows.extend(_also(one, manner))
    for note in answer.notes:
        rows.extend(_row("note", note, manner))
    for source in sources_of(calculator, answer):
        rows.extend(_row("source", source_words(source), manner))
    return _joined(rows)


def list_text(
    listed: Sequence[tuple[Calculator, Defaults]], manner: Manner, foot: str = _FOOT
) -> str:
    """Every calculator with what it asks: units, ranges, what is usual, sources."""
    rows: list[str] = []
    for calculator, defaults in listed:
        rows.extend(_calculator(calculator, defaults, manner))
        rows.append("")
    return _joined([*rows, *textwrap.wrap(foot, manner.columns)])


def range_words(one: Input, default: Default) -> str:
    """What may be given for an input, and what is taken if nothing is.

    >>> range_words(Input("room_C", "°C", "", low=-10.0, high=50.0), 20.0)
    '−10 to 50 °C, else 20'
    >>> range_words(Input("rule", "", "", "word", choices=("old", "new")), "new")
    'old or new, else new'
    """
    said = _may_be(one)
    if default is not None:
        told = f"{default:g}" if isinstance(default, float | int) else default
        told = told.replace("-", "−") if one.kind == "number" else told
        return f"{said}, else {told}" + (", the kitchen's" if one.of_kitchen else "")
    return f"{said}, or nothing" if one.is_optional else f"{said}, must be given"


def _may_be(one: Input) -> str:
    if one.choices:
        return " or ".join((", ".join(one.choices[:-1]), one.choices[-1]))
    kinds = {
        "ingredient": "an ingredient of the larder",
        "tin": "a tin",
        "word": "text",
    }
    if one.kind != "number":
        return kinds[one.kind]
    unit = f" {one.unit}".rstrip()
    low, high = (
        None if end is None else f"{end:,.12g}".replace("-", "−")
        for end in (one.low, one.high)
    )
    if low and high:
        return f"{low} to {high}{unit}"
    if low:
        return f"{low}{unit} or more"
    return f"at most {high}{unit}" if high else f"any{unit}"


def source_words(source: Source) -> str:
    """A source, and how we know what it says."""
    return f"{source.text} ({source.seen.value})"


def sources_of(calculator: Calculator, answer: Answer) -> list[Source]:
    """Every source that an answer leans on, once each."""
    figures = (answer.first.figure, *(one.figure for one in answer.also))
    found = [source for figure in figures for source in figure.sources]
    return list(dict.fromkeys((*found, *calculator.sources)))


def _calculator(
    calculator: Calculator, defaults: Defaults, manner: Manner
) -> Iterator[str]:
    yield manner.bold(f"{calculator.name}: {calculator.title}")
    yield from textwrap.wrap(
        calculator.what, manner.columns, initial_indent="  ", subsequent_indent="  "
    )
    if calculator.takes_parts:
        yield from _row("takes", GRAMS if calculator.parts_are_grams else PARTS, manner)
    for one in calculator.inputs:
        said = f"{one.what}: {range_words(one, defaults.get(one.name))}"
        yield from _row(one.name, said, manner, _INPUT)
    yield from _row("example", f"slabwright {calculator.example}", manner)
    yield from _row("arrays", calculator.python, manner)
    for source in calculator.sources:
        yield from _row("source", source_words(source), manner)


def _said(figure: Figure) -> str:
    said = value_words(figure)
    if figure.known and figure.standing is not Standing.WORKED_OUT:
        said += f" {words.mark(figure.standing)}"
    return said


def _opened(figure: Figure, manner: Manner) -> Iterator[str]:
    if likely := likely_words(figure):
        yield from _row("likely", likely.removeprefix("likely "), manner)
    yield from _row("sum" if figure.known else "because", figure.sum, manner)
    if figure.holds:
        yield from _row("holds", figure.holds, manner)


def _also(one: Shown, manner: Manner) -> Iterator[str]:
    likely = likely_words(one.figure)
    said = _said(one.figure) + (f", {likely}" if likely else "")
    yield from _row(one.label, said, manner, _NAME)
    if one.figure.sum:
        yield from textwrap.wrap(
            one.figure.sum, manner.columns, initial_indent="    ",
            subsequent_indent="    ",
        )  # fmt: skip


def _row(head: str, text: str, manner: Manner, head_room: int = _HEAD) -> Iterator[str]:
    """A head and its text; a head that is too long has a line of its own."""
    room = max(30, manner.columns - head_room - 2)
    lines = textwrap.wrap(text, room) or [""]
    if len(head) >= head_room:
        yield from textwrap.wrap(head, manner.columns - 2, initial_indent="  ",
                                 subsequent_indent="  ")  # fmt: skip
        head = ""
    for i, line in enumerate(lines):
        yield f"  {head if i == 0 else '':<{head_room}}{line}"


def _joined(rows: Sequence[str]) -> str:
    return "\n".join(row.rstrip() for row in rows) + "\n"
