"""What each layer of a slab will be, as text: figures, classes, where layers touch."""

import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from slabwright.figure import Standing
from slabwright.publish import words
from slabwright.publish.money_rows import title
from slabwright.publish.nature_words import (
    likely_words,
    pair_name,
    scale_words,
    value_words,
)
from slabwright.publish.terminal import Manner, watch_text
from slabwright.spec.nature.aspect import Aspect, Classed, Named, Touching
from slabwright.spec.nature.sheet import LayerSheet, Natured

NOTHING: Final = "Nothing is known of what it will be like."
FOOT: Final = (
    "Figures and classes are worked out from the card; they are to be checked on the "
    "bench. [?] assumed. Any figure opens: slabwright why CARD FIGURE"
)
_NAME: Final = 34


def layers_text(sheet: LayerSheet, manner: Manner) -> str:
    """Every layer that was asked for, bottom first, then what to watch."""
    beside = f", beside {sheet.beside.name}" if sheet.beside else ""
    parts = [
        *title(sheet.spec.name, f"layers, bottom first{beside}", manner),
        *(line for one in sheet.natured for line in _layer(sheet, one, manner)),
        *_touching(sheet.touching, manner),
        *_common(sheet.common, manner),
        *_tastes(sheet, manner),
        *watch_text(
            [finding for _, finding in sheet.findings],
            manner,
            [number for number, _ in sheet.findings],
            sheet.spec.layer_names,
        ),
        "",
        *textwrap.wrap(FOOT, manner.columns),
    ]
    return "\n".join(line.rstrip() for line in parts) + "\n"


def _layer(sheet: LayerSheet, one: Natured, manner: Manner) -> Iterator[str]:
    twin = sheet.twin(one)
    yield ""
    apart = ", in no slab by itself" if one.nature.number is None else ""
    yield from textwrap.wrap(f"{one.name}{apart}", manner.columns) or [""]
    if sheet.beside is not None:
        held = f"beside {twin.name}" if twin else "nothing to hold it against"
        yield from textwrap.wrap(f"  {held}", manner.columns)
    if not one.nature.aspects:
        yield f"  {NOTHING}"
    for aspect in one.nature.aspects:
        other = twin.nature.aspect(aspect.name) if twin else None
        yield from _aspect(aspect, other, sheet.common, manner)


def _aspect(
    aspect: Aspect, other: Aspect | None, common: Sequence[str], manner: Manner
) -> Iterator[str]:
    notes = [note for note in aspect.notes if note not in common]
    if not (aspect.figures or aspect.classes or notes):
        return
    yield f"  {manner.bold(aspect.title)}"
    figures = {one.name: one for one in other.figures} if other else {}
    classes = {one.name: one for one in other.classes} if other else {}
    for figure in aspect.figures:
        yield from _figure(figure, figures.get(figure.name), manner)
    for class_ in aspect.classes:
        yield from _class(class_, classes.get(class_.name), manner)
    for note in notes:
        yield from textwrap.wrap(
            note, manner.columns, initial_indent="    ", subsequent_indent="    "
        )


def _figure(one: Named, other: Named | None, manner: Manner) -> Iterator[str]:
    figure = one.figure
    said = value_words(figure)
    if figure.known and figure.standing is not Standing.WORKED_OUT:
        said += f" {words.mark(figure.standing)}"
    if other is not None:
        said += f", there {value_words(other.figure)}"
    if likely := likely_words(figure):
        said += f"   {likely}"
    yield from _row(one.label, said, manner)
    if not figure.known:
        yield from _under(figure.sum, manner)


def _class(one: Classed, other: Classed | None, manner: Manner) -> Iterator[str]:
    said = one.word
    if one.standing is Standing.ASSUMED:
        said += f" {words.mark(one.standing)}"
    if other is not None:
        said += f", there {other.word}"
    yield from _row(one.label, said, manner)
    if scale := scale_words(one):
        yield from _under(scale, manner)
    yield from _under(one.why, manner)


def _common(notes: Sequence[str], manner: Manner) -> Iterator[str]:
    if not notes:
        return
    yield ""
    yield manner.bold("To know") + " of several of these layers"
    for note in notes:
        yield from textwrap.wrap(
            note, manner.columns, initial_indent="  ", subsequent_indent="    "
        )


def _row(name: str, said: str, manner: Manner) -> Iterator[str]:
    """A name and what stands beside it; what has no room goes on below."""
    room = max(20, manner.columns - _NAME - 4)
    names = textwrap.wrap(name, _NAME - 2) or [""]
    rows = textwrap.wrap(said, room) or [""]
    for i in range(max(len(names), len(rows))):
        left = names[i] if i < len(names) else ""
        right = rows[i] if i < len(rows) else ""
        yield f"    {left:<{_NAME}}{right}"


def _under(text: str, manner: Manner) -> Iterator[str]:
    yield from textwrap.wrap(
        text, manner.columns, initial_indent="      ", subsequent_indent="      "
    )


def _tastes(sheet: LayerSheet, manner: Manner) -> Iterator[str]:
    if sheet.beside is None or not sheet.tastes:
        return
    yield ""
    yield manner.bold("How it tastes") + f" beside {sheet.beside.name}"
    for line in sheet.tastes:
        yield from textwrap.wrap(
            line, manner.columns, initial_indent="  ", subsequent_indent="    "
        )


def _touching(pairs: Sequence[Touching], manner: Manner) -> Iterator[str]:
    if not pairs:
        return
    yield ""
    yield manner.bold("Where they touch")
    last = ""
    for pair in pairs:
        if not pair.figures and not pair.classes:
            continue
        if pair_name(pair) != last:
            last = pair_name(pair)
            yield from textwrap.wrap(
                last, manner.columns, initial_indent="  ", subsequent_indent="  "
            )
        for figure in pair.figures:
            yield from _figure(figure, None, manner)
        for class_ in pair.classes:
            yield from _class(class_, None, manner)
