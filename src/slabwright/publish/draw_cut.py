"""From a cut that was worked out to what is drawn of it."""

from slabwright.cut.polygon import outlined
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.plan import DrawnPlan, DrawnStroke
from slabwright.spec.specification import CutFigures, Specification


def drawn_plan(spec: Specification, cut: CutFigures) -> DrawnPlan:
    """The slab from above, cut; one slab where several alike tins are filled.

    Args:
        spec: the slab.
        cut: its cut, or one of its cuts in other tins.
    """
    made, base = cut.cutting, cut.tin.base
    layers = drawn(spec).layers
    top = layers[-1] if layers else None
    return DrawnPlan(
        name=spec.name,
        slab=outlined(base),
        length_mm=base.length_mm,
        width_mm=base.width_mm,
        pieces=tuple(piece.corners for piece in made.each),
        strokes=tuple(
            DrawnStroke(
                one.number,
                one.start_mm,
                one.end_mm,
                one.what != "cut",
                one.edge,
                one.at_mm,
                tuple((there.edge, there.at_mm) for there in one.meets),
            )
            for one in made.strokes
        ),
        texture=top.texture if top else "plain",
        fill=top.fill if top else None,
        words=_words(cut),
    )


def _words(cut: CutFigures) -> str:
    """The cut in a sentence, for those who cannot see it."""
    made = cut.cutting
    each = made.pieces // made.tins
    said = f"{each} {made.words}, seen from above"
    if made.shape in {"grid", "cells"}:
        said = f"{made.along} × {made.across} pieces of {made.words}, seen from above"
    weight = cut.piece_mass_g
    if weight.known:
        said += f", {words.grams(weight.number)} g each"
    knife = f"; {len(made.strokes)} strokes of the knife, numbered in order"
    return said + (knife if made.strokes else "") + "."
