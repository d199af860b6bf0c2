"""The allergens of one slab as text: what is in it, what is not known, and the ways."""

import textwrap
from collections.abc import Iterable, Iterator
from datetime import date
from typing import Final

from slabwright.counter.allergen_matrix import Row
from slabwright.label.allergen.allergens import (
    Question,
    SlabAllergens,
    State,
    Trace,
    Way,
)
from slabwright.label.allergen.annex import listed, plain_name
from slabwright.publish import words
from slabwright.publish.money_rows import item, title
from slabwright.publish.terminal import Manner
from slabwright.spec.allergens import allergen_words, reasons

FOOT: Final = (
    "Worked out from the card and the larder; the suppliers' specifications and local "
    "law decide."
)
_HEADS: Final = {
    State.CONTAINS: "Contains",
    State.THROUGH: "Contains through a sub-ingredient",
    State.MAY_CONTAIN: "May contain, by its supplier",
    State.EXEMPT: "Made of it, and exempt",
}


def slab_text(row: Row, on: date, manner: Manner) -> str:
    """Everything that is known of one slab's allergens, and what must be asked."""
    found = row.found
    lines = [
        *title(found.slab, f"allergens on {on}", manner),
        "",
        *textwrap.wrap(summary(found), manner.columns),
    ]
    for state, head in _HEADS.items():
        lines += _ways(head, found, state, manner)
    lines += kitchen_lines(row, manner)
    lines += question_lines([(one, ()) for one in found.questions], manner)
    lines += foot_lines(manner)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def summary(found: SlabAllergens) -> str:
    """What it contains in one sentence, and whether it is held.

    What is only not known to be in it is never said to be absent.
    """
    open_ones = len(found.questions)
    asked = f"{words.counted(open_ones, 'question')} open" if open_ones else ""
    if not found.in_it:
        said = "None of the 14 is known to be in it"
        return f"{said}; {asked}: held." if asked else f"{said}; no question open."
    names = allergen_words(found.in_it, "and")
    return f"Contains {names}." + (f" Held: {asked}." if asked else "")


def way_words(way: Way) -> str:
    """The way in which it got there, from the layer down."""
    return " > ".join(way)


def _ways(
    head: str, found: SlabAllergens, state: State, manner: Manner
) -> Iterator[str]:
    by_allergen = ways_of(found, state)
    if not by_allergen:
        return
    yield ""
    yield manner.bold(head)
    for allergen, traces in by_allergen.items():
        yield from item(f"{plain_name(allergen)}: {traces_words(traces)}", manner)


def ways_of(found: SlabAllergens, *states: State) -> dict[str, list[Trace]]:
    """Traces of these states by allergen, in the order of the law."""
    by: dict[str, list[Trace]] = {}
    warned = states == (State.MAY_CONTAIN,)
    for allergen in found.may_contain if warned else listed():
        traces = [t for t in found.traces if t.allergen == allergen]
        chosen = [trace for trace in traces if trace.state in states]
        if chosen:
            by[allergen] = chosen
    return by


def traces_words(traces: Iterable[Trace]) -> str:
    """Ways, each with what is to be said of it."""
    said = [
        f"{way_words(one.way)} ({one.why})" if one.why else way_words(one.way)
        for one in traces
    ]
    return "; ".join(dict.fromkeys(said))


def kitchen_lines(row: Row, manner: Manner) -> Iterator[str]:
    """What the kitchen works with in other slabs, apart from any supplier's words."""
    if not row.in_kitchen:
        return
    yield ""
    yield manner.bold("Worked with in your own kitchen")
    by_slabs: dict[tuple[str, ...], list[str]] = {}
    for one in row.in_kitchen:
        by_slabs.setdefault(one.slabs, []).append(plain_name(one.allergen))
    for slabs, names in by_slabs.items():
        yield from item(f"{', '.join(names)}: {', '.join(slabs)}", manner)


def question_lines(
    asked: Iterable[tuple[Question, tuple[str, ...]]], manner: Manner
) -> Iterator[str]:
    """Questions to answer before a label is printed, and the slabs that wait."""
    for number, (one, slabs) in enumerate(asked, start=1):
        if number == 1:
            yield ""
            yield manner.bold("To ask before a label is printed")
        packs = f" The pack: {'; '.join(one.packs)}." if one.packs else ""
        held = f" Held: {', '.join(slabs)}." if slabs else ""
        ways = dict.fromkeys(way_words(doubt.way) for doubt in one.doubts)
        where = "" if slabs else f" {'; '.join(ways)}."
        said = (
            f"{number}. {one.about}: does it hold {allergen_words(one.allergens)}? "
            f"{reasons(one.doubts)}.{where}{held} Ask {one.who}.{packs}"
        )
        yield from item(said, manner)
        yield from (f"    {line}" for line in _wrapped(one.do, manner.columns - 4))


def foot_lines(manner: Manner) -> Iterator[str]:
    """Whose word counts, and which list it is."""
    law = listed()["milk"]
    yield ""
    yield from textwrap.wrap(FOOT, manner.columns)
    seen = f"Annex II, {law.source.seen.value}"
    yield from textwrap.wrap(f"The 14: Reg (EU) No 1169/2011, {seen}.", manner.columns)


def _wrapped(text: str, columns: int) -> list[str]:
    return textwrap.wrap(text, columns, break_on_hyphens=False)
