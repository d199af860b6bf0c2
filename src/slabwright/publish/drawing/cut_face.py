"""One piece on its cut face, to scale: for shelves, lists, labels and tickets."""

from slabwright.publish.drawing.bodies import View, body, upright
from slabwright.publish.drawing.drawn import (
    DrawnLayer,
    DrawnSlab,
    mark_mm,
    mm,
    standing,
)
from slabwright.publish.drawing.lettering import cleaned
from slabwright.publish.drawing.palette import Theme
from slabwright.publish.drawing.picture import (
    Box,
    Picture,
    document,
    fingerprint,
    style_of,
)
from slabwright.publish.drawing.svg import number

SAMPLE_MM = 60.0
"""So much of a slab that is not cut is shown."""
_MARGIN = 1.5
_FULL_WEAVE = 4.0
"""At so many pixels a millimetre textures have their own size; smaller below."""
_LEAST_WEAVE = 0.5


def cut_face_svg(
    slab: DrawnSlab,
    *,
    width_px: float = 120,
    theme: Theme = "light",
    prefix: str | None = None,
) -> str:
    """One piece as a whole SVG document, upright to the same scale as across.

    Pieces side by side are at one scale if their widths are as those of the pieces.

    Args:
        slab: what it is a piece of.
        width_px: width of the drawing; its height follows.
        theme: colours for a light or dark screen, or black on white for paper.
        prefix: its id and the beginning of every id in it; made from all the above
            if None.
    """
    id_ = prefix or fingerprint("face", slab, theme, width_px)
    wide_mm = slab.piece_mm or SAMPLE_MM
    k = (width_px - 2 * _MARGIN) / wide_mm
    layers = standing(slab.layers)
    high = layers[-1].top_mm * k if layers else 0.0
    view = View(
        units_per_mm=k,
        left=upright(0.0),
        right=upright(wide_mm),
        prefix=id_,
        weave=max(_LEAST_WEAVE, min(1.0, k / _FULL_WEAVE)),
        on_paper=theme == "paper",
    )
    seen = Box(-_MARGIN, -high - _MARGIN, wide_mm * k + _MARGIN, _MARGIN)
    wide_px, high_px = (number(size) for size in seen.size)
    return document(
        Picture(
            id_,
            title=f"A piece of {cleaned(slab.name)}",
            desc=_sentence(slab.layers, wide_mm),
            style=style_of(slab, theme, id_),
            view=seen,
            size=(wide_px, high_px),
            drawing=body(layers, view),
        )
    )


def _sentence(layers: tuple[DrawnLayer, ...], wide_mm: float) -> str:
    if not layers:
        return "Nothing lies in the tin yet."
    names = ", ".join(
        f"{cleaned(layer.name)}, depth not known"
        if layer.depth_mm is None
        else f"{mm(layer.depth_mm)} mm {cleaned(layer.name)}"
        for layer in layers
    )
    return f"From the bottom: {names}; {mark_mm(wide_mm)} mm wide."
