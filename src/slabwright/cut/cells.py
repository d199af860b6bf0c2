"""A divided tin: its cells are the pieces, and no knife is needed."""

from itertools import product

from slabwright.cut.cutting import Cutting, mm
from slabwright.cut.piece import Piece
from slabwright.slab.tin import Tin


def cells(tin: Tin) -> Cutting:
    """The pieces of a divided tin.

    Args:
        tin: a tin with dividers, one or several alike.
    """
    along, across = tin.cells
    length_mm = (tin.length_mm - (along - 1) * tin.divider_mm) / along
    width_mm = (tin.width_mm - (across - 1) * tin.divider_mm) / across
    count = along * across
    pieces = []
    for i, j in product(range(along), range(across)):
        x, y = i * (length_mm + tin.divider_mm), j * (width_mm + tin.divider_mm)
        corners = ((x, y), (x + length_mm, y), (x + length_mm, y + width_mm),
                   (x, y + width_mm))  # fmt: skip
        at_edge = i in {0, along - 1} or j in {0, across - 1}
        pieces.append(Piece(corners, (0,) * len(corners), 1 / count, at_edge))
    words = f"{mm(length_mm)} × {mm(width_mm)} mm"
    return Cutting(
        shape="cells",
        pieces=count * tin.count,
        along=along,
        across=across,
        piece_length_mm=length_mm,
        piece_width_mm=width_mm,
        piece_angle_deg=None,
        piece_area_mm2=tin.one.area_mm2() / count,
        kept_share=1.0,
        trim_share=0.0,
        knife_share=0.0,
        left_over_share=0.0,
        cuts_along_mm=(),
        cuts_across_mm=(),
        spread_low=1.0,
        spread_high=1.0,
        words=words,
        note=f"{along} × {across} cells of {words}: filled alike, no knife needed",
        strokes=(),
        each=tuple(pieces),
        tins=tin.count,
    )
