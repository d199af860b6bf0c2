"""What to look out for in how a slab is cut."""

from collections.abc import Iterator
from typing import Final

from slabwright.cut.cutting import mm
from slabwright.figure import Figure
from slabwright.finding import Finding, Severity
from slabwright.spec.specification import CutFigures

LEFT_OVER: Final = 0.08
"""More of a slab than this in strips and off-cuts is worth a word: what a trim of 5 mm
takes of a 30 × 20 cm slab. Our own limit."""
UNEVEN: Final = 0.85
"""A lightest piece below this part of the mean is seen. Our own limit."""
BELOW: Final = 0.85
"""As much of the mean should be reached by 99 of 100 pieces. Our own limit."""
_PRACTICE: Final = "common practice, no source"


def cut_findings(slab: str, cut: CutFigures, height: Figure) -> Iterator[Finding]:
    """Everything about this cut that its maker should know.

    Args:
        slab: the slab's name.
        cut: how it is cut.
        height: its height [mm].
    """
    made, span = cut.cutting, cut.said.span
    where = f"{slab} in {cut.tin_name}" if cut.tin_name else slab
    sizes = (made.piece_length_mm, made.piece_width_mm, cut.said.request.diamond_mm)
    narrow_mm = min((size for size in sizes if size), default=None)
    is_parted = made.pieces > made.tins and made.strokes
    high_mm = height.number if height.value else 0.0
    if is_parted and narrow_mm is not None and narrow_mm < high_mm:
        yield Finding(
            "piece_topples", Severity.LOOK, where,
            f"Pieces {mm(narrow_mm)} mm wide stand {high_mm:.0f} mm high.",
            "What is higher than it is wide falls over, on the knife's side first.",
            "Cut wider pieces, or lay them on their side.", _PRACTICE, span,
        )  # fmt: skip
    if made.left_over_share > LEFT_OVER:
        said = f"{made.left_over_share:.0%} of the slab"
        if cut.left_over_g.known:
            said = f"{cut.left_over_g.number:.0f} g, {said}"
        yield Finding(
            "left_over_strip", Severity.NOTE, where,
            f"Strips and off-cuts that make no whole piece: {said}.",
            f"{made.note}.", _uses_up(cut), span=span,
        )  # fmt: skip
    if made.spread_low < UNEVEN:
        yield Finding(
            "pieces_uneven", Severity.LOOK, where,
            f"The lightest piece weighs {made.spread_low:.0%} of the mean, the "
            f"heaviest {made.spread_high:.0%}.",
            "Rounded corners, sloping edges and round slabs give unequal pieces.",
            "Trim the edge, or sell the light ones by weight.", span=span,
        )  # fmt: skip
    yield from _promise(cut, where)


def _uses_up(cut: CutFigures) -> str:
    made = cut.cutting
    if made.along is None or made.across is None:
        return "Turn the tin, or take another size or shape."
    return f"Write cut {made.along} x {made.across}: larger pieces use it up."


def _promise(cut: CutFigures, where: str) -> Iterator[Finding]:
    each, promised = cut.piece_mass_g, cut.promised_g
    if not (each.known and promised.known):
        return
    least = each.number * cut.cutting.spread_low
    if promised.number < BELOW * least:
        yield Finding(
            "weight_varies", Severity.LOOK, where,
            f"A piece is {each.number:.0f} g on average; 99 of 100 reach "
            f"{promised.number:.0f} g.",
            f"{promised.sum}.",
            "Promise that weight, cut larger pieces, or score every line first.",
            span=cut.said.span,
        )  # fmt: skip
