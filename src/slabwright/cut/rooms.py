"""What the trim leaves of a slab, and whether it is round or a rectangle then."""

from math import hypot

from slabwright.cut.cutting import mm
from slabwright.cut.request import CutRequest
from slabwright.cut.side import NEAR, Room
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin


def stays_round(request: CutRequest, tin: Tin) -> bool:
    """Whether the slab keeps its round edge.

    Raises:
        GeometryError: for a shape that a round slab is not cut in, or that only a
            round one is, or a ring that leaves nothing.
    """
    is_round = tin.shape == "round" and request.trim_to_mm is None
    if not is_round and request.wedges is not None:
        raise GeometryError(
            Mistake(
                "Wedges are cut from a round slab that keeps its round edge.",
                f"Write cut {request.wedges} pieces, or cut 5 x 4.",
            )
        )
    if is_round and (request.grid or request.piece_mm or request.diamond_mm):
        raise GeometryError(
            Mistake(
                "A round slab is cut in wedges or strips, or trimmed to a rectangle "
                "first.",
                "Write cut 12 wedges, or add trim to with its two sizes.",
            )
        )
    if is_round and request.trim_mm >= tin.length_mm / 2:
        raise GeometryError(
            Mistake(
                f"A trim of {mm(request.trim_mm)} mm leaves nothing of a round slab "
                f"of {mm(tin.length_mm)} mm.",
                "Trim less.",
            )
        )
    return is_round


def rooms(request: CutRequest, tin: Tin) -> tuple[Room, Room]:
    """What the trim leaves of both sides for a grid.

    Raises:
        GeometryError: for a trim that leaves nothing, or to more than there is.
    """
    trims_mm = (request.trim_mm, request.trim_mm)
    slab = f"the slab's {mm(tin.length_mm)} × {mm(tin.width_mm)} mm"
    if request.trim_to_mm:
        to = request.trim_to_mm
        to_words = f"{mm(to[0])} × {mm(to[1])} mm"
        diagonal_mm = hypot(*to)
        if tin.shape == "round" and diagonal_mm > tin.length_mm * (1 + NEAR):
            raise GeometryError(
                Mistake(
                    f"A rectangle of {to_words} is {mm(diagonal_mm)} mm from corner to "
                    f"corner: more than the round slab's {mm(tin.length_mm)} mm.",
                    "Trim to a smaller rectangle, or write cut 12 wedges.",
                )
            )
        trims_mm = ((tin.length_mm - to[0]) / 2, (tin.width_mm - to[1]) / 2)
        if min(trims_mm) < -NEAR * tin.length_mm:
            raise GeometryError(
                Mistake(
                    f"To trim to {to_words} is more than {slab}.",
                    "Give no more than the slab has, its length first.",
                )
            )
    sides = zip((tin.length_mm, tin.width_mm), trims_mm, strict=True)
    left = [
        Room(float(size), float(trim) if trim > NEAR * size else 0.0, request.knife_mm)
        for size, trim in sides
    ]
    if min(room.left_mm for room in left) <= 0:
        raise GeometryError(
            Mistake(
                f"A trim of {mm(request.trim_mm)} mm from every side leaves nothing of "
                f"{slab}.",
                "Trim less.",
            )
        )
    return left[0], left[1]
