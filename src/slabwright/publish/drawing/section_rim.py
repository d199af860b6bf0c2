"""The tin's rim against the slab: the level of it, and how far the slab stands over."""

from slabwright.publish.drawing.drawn import mm
from slabwright.publish.drawing.section_cuts import knife_room
from slabwright.publish.drawing.section_frame import OVERHANG, Frame
from slabwright.publish.drawing.svg import element, line, text

_ABOVE = 14.0
"""From the top of all that stands over the slab to the line of words above it."""


def rim(frame: Frame, chain: float) -> str:
    """The level of the rim; red across a slab that stands above it.

    Args:
        frame: the slab laid out.
        chain: where the chain of dimensions runs [units].
    """
    depth_mm = frame.slab.tin_depth_mm
    if depth_mm is None or not frame.layers:
        return ""
    y = frame.y(depth_mm)
    if frame.over_mm:
        return _over(frame, y)
    clear = frame.y(frame.top_mm) - y > knife_room(frame) + 8
    start = -frame.slope + 12 if clear else frame.right - 2
    if frame.whole and clear:
        end = frame.shown_mm * frame.k + frame.slope - 12
        return element("path", d=line([(start, y), (end, y)]), class_="level")
    return element("path", d=line([(start, y), (chain + 8, y)]), class_="level")


def over_y(frame: Frame) -> float:
    """Baseline of the words about a slab over the rim [units]."""
    return frame.y(frame.top_mm) - knife_room(frame) - _ABOVE


def _over(frame: Frame, y: float) -> str:
    """Rim level through the slab, a dimension beside what stands over, words above."""
    top = frame.y(frame.top_mm)
    x = -frame.slope - OVERHANG - 7
    end = frame.shown_mm * frame.k
    level = line([(-frame.slope - OVERHANG, y), (end, y)])
    words_y = over_y(frame)
    size = line([(x - 5, y), (x + 5, y)]) + line([(x - 5, top), (x + 5, top)])
    size += line([(x, y), (x, words_y - 5), (x + 8, words_y - 5)])
    words = f"{mm(frame.over_mm)} mm over the rim"
    return (
        element("path", d=level, class_="rim", stroke_width=4)
        + element("path", d=level, class_="level-over")
        + element("path", d=size, class_="dim-over")
        + text((x + 13, words_y), words, "over")
    )
