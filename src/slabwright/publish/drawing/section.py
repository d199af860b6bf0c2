"""The section: one end of a slab in its tin, to scale, beside a millimetre ruler.

The heart of every screen and sheet. `section_svg` gives a whole SVG document without
any reference to the outside; several of them may stand in one page.
"""

from slabwright.publish.drawing.bodies import View, body
from slabwright.publish.drawing.drawn import DrawnLayer, DrawnSlab, Mark
from slabwright.publish.drawing.lettering import cleaned, width, wrapped
from slabwright.publish.drawing.palette import Theme
from slabwright.publish.drawing.picture import (
    Box,
    Picture,
    document,
    fingerprint,
    style_of,
)
from slabwright.publish.drawing.section_chain import chain, range_top, sum_line, words
from slabwright.publish.drawing.section_cuts import knife, knife_room
from slabwright.publish.drawing.section_frame import PAPER_MM, Frame, framed
from slabwright.publish.drawing.section_labels import Column, column
from slabwright.publish.drawing.section_marks import finding_marks
from slabwright.publish.drawing.section_rim import over_y, rim
from slabwright.publish.drawing.section_tin import (
    THICK,
    lining,
    ruler,
    ruler_end_mm,
    ruler_x,
    tin,
)
from slabwright.publish.drawing.section_words import described, notes
from slabwright.publish.drawing.style import SMALL_SIZE
from slabwright.publish.drawing.svg import number, text

__all__ = ["DrawnLayer", "DrawnSlab", "Mark", "Theme", "section_svg"]

_MARGIN = 10.0
_SLACK = 26.0
"""Free at the right: other fonts, where ours are missing, run wider."""
_NOTE_LINE = 18.0


def section_svg(
    slab: DrawnSlab,
    *,
    theme: Theme = "light",
    prefix: str | None = None,
    compact: bool = False,
) -> str:
    """The section of a slab as a whole SVG document.

    Its user unit is a quarter of a millimetre on paper; its scale is said in `<desc>`.

    Args:
        slab: what to draw.
        theme: colours for a light or dark screen, or black on white for paper.
        prefix: its id and the beginning of every id in it, to be unlike the others on
            one page; made from the slab and the theme if None.
        compact: at life size at most, and not much of it: for a narrow place.
    """
    id_ = prefix or fingerprint("section", slab, theme)
    frame = framed(slab, compact=compact)
    placed = column(frame)
    said = _notes(frame, placed)
    view = _view(frame, placed, len(said))
    drawing = (
        ruler(frame)
        + tin(frame)
        + _layers(frame, id_, theme)
        + knife(frame)
        + lining(frame)
        + rim(frame, placed.chain)
        + chain(frame, placed)
        + words(placed)
        + sum_line(frame, placed)
        + finding_marks(frame)
        + "".join(text((0, _notes_y(i)), note, "small") for i, note in enumerate(said))
    )
    wide, high = (f"{number(size * PAPER_MM)}mm" for size in view.size)
    return document(
        Picture(
            id_,
            title=f"Section of {cleaned(slab.name)}",
            desc=described(frame),
            style=style_of(slab, theme, id_),
            view=view,
            size=(wide, high),
            drawing=drawing,
        )
    )


def _layers(frame: Frame, id_: str, theme: Theme) -> str:
    view = View(frame.k, frame.wall, frame.other_end, id_, on_paper=theme == "paper")
    return body(frame.layers, view)


def _view(frame: Frame, placed: Column, note_count: int) -> Box:
    """What must be seen: everything, and a margin."""
    figures = width(f"{ruler_end_mm(frame):,.0f}", SMALL_SIZE)
    above = [frame.y(mm) - 14 for mm in (frame.wall_mm, ruler_end_mm(frame))]
    above += [placed.top, range_top(frame) - 4]
    above.append(frame.y(frame.top_mm) - max(knife_room(frame), 14))
    if frame.over_mm:
        above.append(over_y(frame) - 16)
    below = [THICK + 16, placed.sum_y + 6]
    if note_count:
        below.append(_notes_y(note_count - 1) + 6)
    return Box(
        ruler_x(frame) - 18 - figures - _MARGIN,
        min(above) - _MARGIN,
        placed.right + _SLACK,
        max(below) + _MARGIN,
    )


def _notes(frame: Frame, placed: Column) -> list[str]:
    """Notes in lines that end before the sum does."""
    room = placed.start - 30
    return [
        line for note in notes(frame) for line in wrapped(note, room, 4, SMALL_SIZE)
    ]


def _notes_y(i: int) -> float:
    return THICK + 28 + i * _NOTE_LINE
