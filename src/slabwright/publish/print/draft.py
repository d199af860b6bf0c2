"""What is no label yet, on paper: as far as it is there, and what it waits for."""

from collections.abc import Sequence
from typing import Any, Final

from slabwright.label.face import Face
from slabwright.label.particulars import Particular, Standing
from slabwright.label.sheet import A4, Size
from slabwright.publish.print.fit import Fitted
from slabwright.publish.print.pdf import compiled
from slabwright.publish.print.questions import Entry, question_entry
from slabwright.publish.sheet.glyphs import all_shown
from slabwright.spec.face import waited_for
from slabwright.spec.label import FOOT, Label

_ROOM: Final = Size(178.0, 190.0)
"""What a draft may take of its page."""


def draft_pdf(
    label: Label,
    face: Face,
    made: Fitted | None,
    refused: str = "",
    mistakes: Sequence[str] = (),
) -> bytes:
    """A draft on A4 as a PDF/UA-1 file; nothing on it can be taken for a label.

    Args:
        label: what it waits for.
        face: what is there of it.
        made: its letters; None if it doesn't fit its size.
        refused: why it doesn't, in words.
        mistakes: what is wrong in the card or the kitchen, in words.
    """
    more = draft_task(label, face, made, refused, mistakes)
    task = {**(made.task if made else {}), **more}
    return compiled(("face", "draft") if made else ("bare", "draft"), task)


def draft_task(
    label: Label,
    face: Face,
    made: Fitted | None,
    refused: str = "",
    mistakes: Sequence[str] = (),
) -> dict[str, Any]:
    """What the template of drafts is handed, beside the face."""
    is_shown = (
        made is not None
        and made.size.width_mm <= _ROOM.width_mm
        and made.size.height_mm <= _ROOM.height_mm
    )
    waited = waited_for(label, face.kind)
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
    lists.append(("To put right", [(one, ()) for one in mistakes]))
    if refused:
        lists.append(("It would not fit as it is", [(refused, ())]))
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
