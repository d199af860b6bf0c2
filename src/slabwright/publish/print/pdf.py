"""Labels as PDF: tagged, fonts embedded, the same bytes for the same label."""

import json
from typing import Any

import typst

from slabwright.label.paper.sheet import Laid
from slabwright.publish.fonts import house_fonts
from slabwright.publish.print.fit import Fitted, template


def labels_pdf(made: Fitted, laid: Laid) -> bytes:
    """One label, as often and where it was asked for, as a PDF/UA-1 file.

    Args:
        made: the label, its letters chosen.
        laid: its pages and places.
    """
    return compiled(("face", "pages"), pages_task(made, laid))


def pages_task(made: Fitted, laid: Laid) -> dict[str, Any]:
    """What the template of pages is handed."""
    return {
        **made.task,
        "page_mm": (laid.page.width_mm, laid.page.height_mm),
        "pages": laid.places,
    }


def compiled(templates: tuple[str, ...], task: dict[str, Any]) -> bytes:
    """A tagged PDF of these templates.

    Args:
        templates: by name, one behind the other.
        task: what they are handed.
    """
    made = typst.compile(
        template(*templates),
        font_paths=house_fonts(),
        sys_inputs={"data": json.dumps(task, ensure_ascii=False)},
        pdf_standards=["ua-1"],
    )
    return bytes(made)
