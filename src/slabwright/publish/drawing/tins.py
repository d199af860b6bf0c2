"""A slab standing in several tins, side by side, all drawn to one scale."""

from collections.abc import Sequence
from typing import Final

from slabwright.publish.drawing.bodies import View, body
from slabwright.publish.drawing.drawn import DrawnSlab, mm, standing
from slabwright.publish.drawing.lettering import cleaned, width
from slabwright.publish.drawing.palette import Theme
from slabwright.publish.drawing.picture import Box, Picture, document, style_of
from slabwright.publish.drawing.section_frame import Frame, Scale
from slabwright.publish.drawing.section_rim import over_y, rim
from slabwright.publish.drawing.section_tin import (
    THICK,
    lining,
    ruler,
    ruler_end_mm,
    ruler_x,
    tin,
)
from slabwright.publish.drawing.style import SMALL_SIZE
from slabwright.publish.drawing.svg import element, line, number

_HIGHEST: Final = 260.0
"""So many units may the highest tin or slab stand; else the scale is reduced."""
_WIDE: Final = 330.0
"""So many units of a slab are shown."""
_MARGIN: Final = 8.0
_BEYOND: Final = 34.0
"""Free at the right of the slabs, for levels to be seen on plain ground."""
_FULL_WEAVE: Final = 4.0
"""At so many units a millimetre textures have their own size; smaller below."""
_LEAST_WEAVE: Final = 0.5


def tins_svg(
    slabs: Sequence[DrawnSlab],
    *,
    prefix: str,
    theme: Theme = "page",
    was_mm: float | None = None,
) -> tuple[str, ...]:
    """Each slab in its tin as a whole SVG document, all as wide and to one scale.

    Args:
        slabs: what stands in the tins.
        prefix: begins every id; a number follows for each.
        theme: colours of the page's own, of a screen or of paper.
        was_mm: a height that is marked in all of them, such as the card's own [mm].
    """
    frames = _frames(slabs)
    if not frames:
        return ()
    left, right = (
        min(map(_left, frames)),
        max(frame.right for frame in frames) + _BEYOND,
    )
    return tuple(
        _drawn(frame, f"{prefix}-{i}", theme, was_mm, (left, right + _MARGIN))
        for i, frame in enumerate(frames, start=1)
    )


def _frames(slabs: Sequence[DrawnSlab]) -> list[Frame]:
    layers = [standing(slab.layers) for slab in slabs]
    highest_mm = max(
        (
            max(slab.tin_depth_mm or 0.0, here[-1].top_mm if here else 0.0)
            for slab, here in zip(slabs, layers, strict=True)
        ),
        default=0.0,
    )
    scale = _scale(highest_mm)
    k = scale.units_per_mm
    return [_frame(slab, scale, _WIDE / k) for slab in slabs]


def _scale(highest_mm: float) -> Scale:
    """The largest step of a technical drawing at which that has room."""
    ten = 1
    while True:
        for step in (1, 2, 5):
            scale = Scale(1, step * ten)
            if highest_mm * scale.units_per_mm <= _HIGHEST:
                return scale
        ten *= 10


def _frame(slab: DrawnSlab, scale: Scale, room_mm: float) -> Frame:
    length_mm = slab.tin_length_mm
    whole = length_mm is not None and length_mm <= room_mm
    shown_mm = length_mm if whole and length_mm else room_mm
    return Frame(slab, standing(slab.layers), scale, shown_mm, whole)


def _left(frame: Frame) -> float:
    figures = width(f"{ruler_end_mm(frame):,.0f}", SMALL_SIZE)
    return ruler_x(frame) - 18 - figures - _MARGIN


def _drawn(
    frame: Frame,
    id_: str,
    theme: Theme,
    was_mm: float | None,
    across: tuple[float, float],
) -> str:
    weave = max(_LEAST_WEAVE, min(1.0, frame.k / _FULL_WEAVE))
    view = View(frame.k, frame.wall, frame.other_end, id_, weave, theme == "paper")
    left, right = across
    drawing = (
        ruler(frame)
        + tin(frame)
        + body(frame.layers, view)
        + lining(frame)
        + rim(frame, right - _MARGIN - 8)
        + _was(frame, was_mm, right - _MARGIN)
    )
    top = min(frame.y(mm_) for mm_ in (frame.wall_mm, ruler_end_mm(frame))) - 14
    top = min(top, frame.y(was_mm or 0.0) - 6)
    if frame.over_mm:
        top = min(top, over_y(frame) - 16)
    seen = Box(left, top - _MARGIN, right, THICK + _MARGIN)
    wide, high = (number(size) for size in seen.size)
    return document(
        Picture(
            id_,
            title=f"{cleaned(frame.slab.name)} in its tin, {frame.scale}",
            desc=_words(frame),
            style=style_of(frame.slab, theme, id_),
            view=seen,
            size=(wide, high),
            drawing=drawing,
        )
    )


def _was(frame: Frame, was_mm: float | None, right: float) -> str:
    """A dotted line where the slab stood before."""
    if was_mm is None:
        return ""
    y = frame.y(was_mm)
    level = line([(0.0, y), (right, y)])
    under = element("path", d=level, class_="rim", stroke_width=4)
    return under + element("path", d=level, class_="was")


def _words(frame: Frame) -> str:
    layers = frame.slab.layers
    if not layers:
        return "Nothing lies in the tin yet."
    said = "; ".join(
        f"{cleaned(layer.name)}, "
        + ("depth not known" if layer.depth_mm is None else f"{mm(layer.depth_mm)} mm")
        for layer in layers
    )
    depth_mm, over_mm = frame.slab.tin_depth_mm, frame.over_mm
    rim_words = ""
    if depth_mm is not None:
        room = f"{mm(depth_mm - frame.top_mm)} mm below the rim"
        rim_words = f" It ends {f'{mm(over_mm)} mm over the rim' if over_mm else room}."
    return f"From the bottom: {said}.{rim_words}"
