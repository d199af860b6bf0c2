"""What is no label yet, on paper: as far as it is there, and what it waits for."""

from dataclasses import dataclass
from typing import Any, Final

from slabwright.label.paper.face import Face
from slabwright.label.paper.sheet import A4, Size
from slabwright.label.particulars import Particular, Standing
from slabwright.publish.print.fit import Fitted
from slabwright.publish.print.pdf import compiled
from slabwright.publish.print.questions import Entry, question_entry
from slabwright.publish.sheet.glyphs import all_shown
from slabwright.spec.label import FOOT, Label

_ROOM: Final = Size(178.0, 190.0)
"""What a draft may take of its page."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What is no label yet, and all that it waits for."""

    label: Label
    face: Face
    """What is there of it."""
    waited: tuple[Particular, ...]
    """Particulars that are held or missing."""
    mistakes: tuple[str, ...] = ()
    """What is wrong in the card or the kitchen, in words."""
    asks: tuple[tuple[str, str], ...] = ()
    """Questions of the list of ingredients: what is open, what to do."""
    made: Fitted | None = None
    """Its letters; None if it doesn't fit its size."""
    refused: str = ""
    """Why it doesn't, in words."""


def draft_pdf(draft: Draft) -> bytes:
    """A draft on A4 as a PDF/UA-1 file; nothing on it can be taken for a label."""
    made = draft.made
    task = {**(made.task if made else {}), **draft_task(draft)}
    return compiled(("face", "draft") if made else ("bare", "draft"), task)


def draft_task(draft: Draft) -> dict[str, Any]:
    """What the template of drafts is handed, beside the face."""
    label, face, made, waited = draft.label, draft.face, draft.made, draft.waited
    is_shown = (
        made is not None
        and made.size.width_mm <= _ROOM.width_mm
        and made.size.height_mm <= _ROOM.height_mm
    )
    lists: list[tuple[str, list[Entry]]] = [
        (title, [_entry(one) for one in waited if one.standing is standing])
        for title, standing in (
            ("Missing", Standing.MISSING),
            ("Held", Standing.HELD),
        )
    ]
    lists.append(
        (
            "To ask before it is printed",
            [question_entry(one) for one in label.allergens.questions],
        )
    )
    lists.append(("To ask of the list", [(what, (do,)) for what, do in draft.asks]))
    lists.append(("To put right", [(one, ()) for one in draft.mistakes]))
    if draft.refused:
        lists.append(("It would not fit as it is", [(draft.refused, ())]))
    size = f" of {made.size.words}" if made else ""
    said = (
        f"This is no {face.kind}{size}: it is not complete. What stands below must "
        "be answered first; nothing of it may go on a pack or a counter."
    )
    task: dict[str, Any] = {
        "title": f"Draft: {label.slab}, {label.order.way}",
        "heading": f"Draft, no {face.kind}: {label.slab}, {label.order.way}",
        "says": said,
        "shows": is_shown,
        "page_mm": (A4.width_mm, A4.height_mm),
        "lists": [one for one in lists if one[1]],
        "foot": ", ".join((*face.revisions, f"{label.order.nation}, {label.order.on}")),
    }
    shown: dict[str, Any] = all_shown(task)
    shown["says_last"] = FOOT
    return shown


def _entry(one: Particular) -> Entry:
    why = f"{one.why[:1].upper()}{one.why[1:]}. {one.law}."
    said = [one.what] if one.what else []
    return one.title[:1].upper() + one.title[1:], (*said, why, *filter(None, [one.do]))
