"""The section: one end of a slab in its tin, to scale, beside a millimetre ruler.

The heart of every screen and sheet. `section_svg` gives a whole SVG document without
any reference to the outside; several of them may stand in one page.
"""

from hashlib import blake2s
from math import ceil

from slabwright.publish import section_labels
from slabwright.publish.bodies import View, body
from slabwright.publish.drawn import (
    NOMINAL_MM,
    DrawnLayer,
    DrawnSlab,
    Mark,
    mark_mm,
    mm,
)
from slabwright.publish.lettering import cleaned, width, wrapped
from slabwright.publish.marks import RADIUS, finding_mark
from slabwright.publish.palette import Theme, colour_key
from slabwright.publish.section_cuts import ROOM, cuts, knife
from slabwright.publish.section_frame import PAPER_MM, Frame, framed
from slabwright.publish.section_labels import Column, column
from slabwright.publish.section_tin import THICK, lining, ruler, ruler_x, tin
from slabwright.publish.style import FIGURE_SIZE, SMALL_SIZE, drawing_css
from slabwright.publish.svg import element, line, number, text

__all__ = ["DrawnLayer", "DrawnSlab", "Mark", "Theme", "section_svg"]

_MARGIN = 10.0
_SLACK = 26.0
"""Free at the right: other fonts, where ours are missing, run wider."""


def section_svg(
    slab: DrawnSlab, *, theme: Theme = "light", prefix: str | None = None
) -> str:
    """The section of a slab as a whole SVG document.

    Its user unit is a quarter of a millimetre on paper, its scale is said in `<desc>`.

    Args:
        slab: what to draw.
        theme: colours for a light or dark screen, or black on white for paper.
        prefix: begins every id in it, to be unlike others on one page; made from the
            slab and the theme if None.
    """
    prefix = prefix or "section-" + fingerprint(slab, theme)
    frame = framed(slab)
    placed = column(frame)
    drawing = (
        ruler(frame)
        + tin(frame)
        + _slab(frame, prefix, theme)
        + lining(frame)
        + knife(frame)
        + _rim(frame, placed)
        + section_labels.chain(frame, placed)
        + section_labels.words(placed)
        + section_labels.sum_line(frame, placed)
        + _marks(frame)
    )
    notes = _notes(frame)
    left = ruler_x(frame) - 18 - width(f"{frame.wall_mm:,.0f}", SMALL_SIZE) - _MARGIN
    top = _top(frame, placed) - _MARGIN
    right = placed.right + _SLACK
    bottom = max(THICK + 20, placed.sum_y + 8) + _MARGIN
    note_y = THICK + 30
    for note in notes:
        drawing += text((0, note_y), note, "small")
        note_y += 18
        bottom = max(bottom, note_y)
    box = (left, top, right - left, bottom - top)
    return document(
        box,
        drawing,
        title=f"Section of {cleaned(slab.name)}",
        desc=_sentence(frame),
        prefix=prefix,
        css=drawing_css(theme, f"#{prefix}", _colours(slab)),
        size=(f"{number(box[2] * PAPER_MM)}mm", f"{number(box[3] * PAPER_MM)}mm"),
    )
