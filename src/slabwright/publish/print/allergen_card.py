"""The allergen card of one slab: what is in it, how it got there, what isn't known."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from slabwright.label.allergen.allergens import SlabAllergens, State, Trace
from slabwright.label.allergen.annex import listed, plain_name
from slabwright.label.dates import in_full
from slabwright.label.paper.face import Runs
from slabwright.label.paper.sheet import A4, Size
from slabwright.publish.allergens import FOOT, summary, way_words, ways_of
from slabwright.publish.print.pdf import compiled
from slabwright.publish.print.questions import question_entry
from slabwright.publish.sheet.glyphs import all_shown
from slabwright.spec.face import listed_runs

_TABLES = (
    ("It contains", (State.CONTAINS, State.THROUGH)),
    ("It may contain, by its suppliers' own words", (State.MAY_CONTAIN,)),
    ("Made of it, and exempt by the law's own words", (State.EXEMPT,)),
)


def allergen_card_pdf(
    found: SlabAllergens,
    on: date,
    revisions: Sequence[str],
    called: str = "",
    paper: Size = A4,
) -> bytes:
    """The card as a PDF/UA-1 file.

    Args:
        found: the allergens of the slab.
        on: the day on which it is printed.
        revisions: of the card and of the larder.
        called: the name of the food.
        paper: the size of a page.
    """
    return compiled(
        ("allergens",), allergen_card_task(found, on, revisions, called, paper)
    )


def allergen_card_task(
    found: SlabAllergens,
    on: date,
    revisions: Sequence[str],
    called: str = "",
    paper: Size = A4,
) -> dict[str, Any]:
    """What the template of the card is handed."""
    tables: list[tuple[str, list[tuple[str, list[str]]]]] = []
    known: list[str] = []
    for title, states in _TABLES:
        rows = [
            (plain_name(allergen), _ways(traces, known))
            for allergen, traces in ways_of(found, *states).items()
        ]
        if rows:
            tables.append((title, rows))
    law = listed()["milk"]
    says = [
        FOOT,
        "What else the kitchen works with is not on this paper: slabwright allergens.",
        f"The 14: Reg (EU) No 1169/2011, Annex II, {law.source.seen.value}.",
    ]
    if found.sulphites is not None and found.sulphites.known:
        so2 = found.sulphites
        says.insert(0, f"Sulphites: {so2.number:.1f} mg/kg as SO2; {so2.sum}.")
    task: dict[str, Any] = {
        "title": f"Allergens of {found.slab}",
        "name": found.slab or "A slab without a name",
        "called": called,
        "dated": f"Allergens, printed {in_full(on)}; {', '.join(revisions)}",
        "tables": tables,
        "questions": [question_entry(one) for one in found.questions],
        "foot": f"{found.slab}, {in_full(on)}; {', '.join(revisions)}",
        "sources": [f"[{n}] {one}" for n, one in enumerate(known, start=1)],
        "says": says,
        "page_mm": (paper.width_mm, paper.height_mm),
    }
    shown: dict[str, Any] = all_shown(task)
    shown["summary"] = [(run.text, run.is_emphasised) for run in _summary(found)]
    return shown


def _summary(found: SlabAllergens) -> Runs:
    return listed_runs(summary(found), found.in_it)


def _ways(traces: Sequence[Trace], known: list[str]) -> list[str]:
    """Each way once: from the layer down, what is to be said of it, who says so."""
    said: list[str] = []
    for one in traces:
        words = way_words(one.way) + (f" ({one.why})" if one.why else "")
        if one.source:
            if one.source not in known:
                known.append(one.source)
            words += f" [{known.index(one.source) + 1}]"
        said.append(words)
    return list(dict.fromkeys(said))
