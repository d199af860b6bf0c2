"""What can be typed beside the drawing, where a figure opens, to change the card."""

from typing import Any, Final

from slabwright.formula.boil import Boil
from slabwright.spec.specification import LayerFigures

Edit = dict[str, Any]
"""As `static/opened.js` takes it: what is changed, its label, its unit."""

CUT: Final[tuple[Edit, ...]] = (
    {"what": "pieces", "label": "cut it in", "unit": "pieces"},
    {"what": "grid", "label": "or in rows", "value": "5 x 4"},
    {"what": "piece_size", "label": "or to a size", "value": "58 x 47.5 mm"},
)
"""Another number of pieces, another grid, another size."""


def depth_edits(number: int) -> tuple[Edit, ...]:
    """A depth that was measured, or one that is wished.

    Args:
        number: the layer's, from the bottom, from 0.
    """
    return (
        {"what": "measured_depth", "layer": number, "label": "the ruler reads",
         "unit": "mm"},
        {"what": "wished_depth", "layer": number, "label": "make it",
         "unit": "mm deep"},
    )  # fmt: skip


def mass_edits(number: int, layer: LayerFigures) -> tuple[Edit, ...]:
    """What a layer weighed when it was done; what stayed in a bowl stays that."""
    went = layer.happenings
    mix_g = went[-1].before_g if went and went[-1].of == "mix" else None
    return (
        {"what": "mass_after", "layer": number, "label": "it weighed, when done,",
         "unit": "g", "mix_g": mix_g},
        *(_reading(boil) for boil in layer.batch.boils if not layer.from_component),
    )  # fmt: skip


def _reading(boil: Boil) -> Edit:
    """What pan or refractometer read at the end of a boil: it teaches the next ones."""
    read = f"{boil.left_g[0]:.0f} g at {boil.to_C.middle:g} C"
    return {
        "what": "boil_reading", "line": boil.span.line, "value": read,
        "label": "or after the boil I read, in the pan or in Brix,",
    }  # fmt: skip


def density_edits(number: int) -> tuple[Edit, ...]:
    """A density that was measured."""
    return ({"what": "density", "layer": number, "label": "measured", "unit": "g/ml"},)
