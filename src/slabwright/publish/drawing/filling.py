"""Work that goes on, drawn as a layer that fills its tin from the left."""

from typing import Final

from slabwright.publish.drawing.bodies import View, body, upright
from slabwright.publish.drawing.drawn import DrawnLayer, standing
from slabwright.publish.drawing.picture import Box, Picture, document
from slabwright.publish.drawing.svg import box, element, number

WIDE: Final = 420.0
_HIGH: Final = 24.0
_LEAST: Final = 3.0
"""A layer narrower than this is not drawn: its outline would be all of it."""


def filling_svg(share: float, *, prefix: str, texture: str = "caramel") -> str:
    """How far work has come, for a page that has the drawings' style.

    Args:
        share: what is done, 0 to 1.
        prefix: its id and the beginning of every id in it.
        texture: of the layer that fills.
    """
    done = min(max(share, 0.0), 1.0)
    filled = done * WIDE
    room = element("path", d=box(0, -_HIGH, WIDE, _HIGH), class_="unknown")
    layer = ""
    if filled >= _LEAST:
        one = standing((DrawnLayer("done", texture, _HIGH),))
        layer = body(one, View(1.0, upright(0.0), upright(filled), prefix, weave=0.5))
    seen = Box(-1.5, -_HIGH - 1.5, WIDE + 1.5, 1.5)
    wide, high = (number(size) for size in seen.size)
    words = f"{done * 100:.0f} of 100 done"
    return document(
        Picture(prefix, words, f"{words}.", "", seen, (wide, high), room + layer)
    )
