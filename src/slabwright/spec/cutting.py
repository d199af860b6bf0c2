"""The cut of the card, with its figures."""

from dataclasses import replace

from slabwright.cut.cut import cut
from slabwright.cut.cutting import Cutting, mm
from slabwright.cut.roller import settings
from slabwright.cut.spread import (
    PROMISED,
    USUAL_KNIFE_OFF_MM,
    USUAL_LEVEL_MM,
    Evenness,
    spread,
)
from slabwright.errors import GeometryError, Mistake, Where
from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.kitchen import Kitchen
from slabwright.slab.tin import Tin
from slabwright.spec.card import SaidCut
from slabwright.spec.specification import CutFigures


def cut_figures(
    said: SaidCut,
    tin: Tin,
    height: Figure,
    mass: Figure,
    kitchen: Kitchen,
    *,
    area_factor: float = 1.0,
) -> CutFigures | Mistake:
    """Pieces, their size and weight, what is trimmed, and where the knife goes.

    Args:
        said: the cut as written.
        tin: the tin that is cut, the slab's own or another.
        height: height of the slab [mm]; a grid needs none, its weights do.
        mass: mass of the slab in its own tin [g].
        kitchen: its cutters; the knife, where the card says none; how level a slab is
            and how true a knife is placed, where it says so.
        area_factor: area of this tin over that of the slab's own.

    Returns:
        The figures, or the mistake of a cut that does not fit the slab.
    """
    request = said.request
    if not said.says_knife and kitchen.knife_mm:
        request = replace(request, knife_mm=kitchen.knife_mm)
    known_mass = None if mass.value is None else mass.number * area_factor
    height_mm = height.number if height.value else 1.0
    try:
        made = cut(request, tin, height_mm, known_mass, _for_choice(kitchen, height))
        rollers = [settings(made, one, request.knife_mm) for one in kitchen.cutters]
    except GeometryError as error:
        first = error.mistakes[0]
        return Mistake(first.what, first.do, Where(span=said.span, field="cut"))
    found = _figures(said, made, tin, mass, area_factor)
    promised = _promised(made, tin, height, found.piece_mass_g, kitchen)
    return replace(
        found,
        promised_g=promised,
        knife_mm=request.knife_mm,
        rollers=tuple(setting for some in rollers for setting in some),
    )


def evenness_of(kitchen: Kitchen) -> Evenness:
    """How level a slab of this kitchen is, and how true its knife is placed.

    Raises:
        GeometryError: for sizes that are none.
    """
    level_mm, off_mm = kitchen.level_mm, kitchen.knife_off_mm
    return Evenness(
        USUAL_LEVEL_MM if level_mm is None else level_mm,
        USUAL_KNIFE_OFF_MM if off_mm is None else off_mm,
    )


def _for_choice(kitchen: Kitchen, height: Figure) -> Evenness:
    """For choosing a grid: level, where the slab's height is not known."""
    even = evenness_of(kitchen)
    if height.value and even.level_mm <= height.number:
        return even
    return Evenness(0.0, even.knife_off_mm)


def _figures(
    said: SaidCut, made: Cutting, tin: Tin, mass: Figure, factor: float
) -> CutFigures:
    worked = Standing.WORKED_OUT
    edge = f"{made.edge_pieces} of {made.pieces} have a side on the slab's edge"
    left_over = made.left_over_share
    return CutFigures(
        said=said,
        cutting=made,
        pieces=Figure(made.pieces, "pieces", _pieces(made), worked),
        along=_count(made.along, "along the length"),
        across=_count(made.across, "across the width"),
        piece_length_mm=_side(made.piece_length_mm, made, tin.length_mm, made.along),
        piece_width_mm=_side(made.piece_width_mm, made, tin.width_mm, made.across),
        piece_angle_deg=_angle(made),
        piece_mass_g=_piece_mass(made, mass, factor),
        trim_g=_part(mass, factor, made.trim_share + made.knife_share),
        edge_pieces=Figure(made.edge_pieces, "pieces", edge, worked),
        left_over_g=_part(mass, factor, left_over),
        promised_g=withheld("g", "not worked out"),
        tin=tin,
        tin_name=said.tin_name,
    )


def _pieces(made: Cutting) -> str:
    if made.along is None or made.across is None:
        return made.note
    times = f" × {made.tins} tins" if made.tins > 1 else ""
    said = f"{made.along} × {made.across}{times} = {made.pieces}"
    return f"{said}; {made.note}".rstrip("; ")


def _count(value: int | None, words: str) -> Figure | None:
    return None if value is None else Figure(value, "pieces", f"{value} {words}")


def _side(
    value_mm: float | None, made: Cutting, tin_mm: float, count: int | None
) -> Figure | None:
    if value_mm is None:
        return None
    many = made.pieces if count is None else count
    said = f"{many} from {mm(tin_mm)} mm, trim and knife off: {mm(value_mm)} mm each"
    return Figure(value_mm, "mm", said, Standing.WORKED_OUT)


def _angle(made: Cutting) -> Figure | None:
    if made.piece_angle_deg is None:
        return None
    said = f"360° ÷ {made.pieces // made.tins} wedges"
    if made.shape == "diamonds":
        said = f"the sharp corner of {made.words}"
    return Figure(made.piece_angle_deg, "°", said, Standing.WORKED_OUT)


def _piece_mass(made: Cutting, mass: Figure, factor: float) -> Figure:
    if mass.value is None:
        return withheld("g", mass.sum)
    slab_g = mass.number * factor
    value = slab_g * made.kept_share / made.pieces
    low = (mass.low if mass.low is not None else mass.number) * factor
    high = (mass.high if mass.high is not None else mass.number) * factor
    each = made.kept_share / made.pieces
    low, high = low * each * made.spread_low, high * each * made.spread_high
    wide = high - low > 1e-9 * value
    said = (
        f"{slab_g:.5g} g × {made.kept_share:.2%} ÷ {made.pieces} pieces = {value:.1f} g"
    )
    return Figure(
        value, "g", said, weakest([mass.standing, "given"]), low if wide else None,
        high if wide else None, mass.sources,
    )  # fmt: skip


def _part(mass: Figure, factor: float, share: float) -> Figure:
    """So much of the slab."""
    if mass.value is None:
        return withheld("g", mass.sum)
    slab_g = mass.number * factor
    said = f"{slab_g:.5g} g × {share:.2%} = {slab_g * share:.1f} g"
    return Figure(slab_g * share, "g", said, weakest([mass.standing, "given"]))


def _promised(
    made: Cutting, tin: Tin, height: Figure, piece: Figure, kitchen: Kitchen
) -> Figure:
    """What 99 of 100 pieces reach, with how level and how true in its sum."""
    if piece.value is None:
        return withheld("g", piece.sum)
    if not height.value:
        return withheld("g", "how high the slab stands is not known")
    if made.spread_low <= 0:
        return withheld("g", "a piece at a rounded corner holds nothing: trim it off")
    if made.shape == "cells":
        return withheld("g", "cells are filled, not cut")
    even = evenness_of(kitchen)
    try:
        likely = spread(made, tin, height.number, even)
    except GeometryError as error:
        return withheld("g", error.mistakes[0].what)
    reached = likely.reached_by()
    if not reached > 0:
        return withheld("g", "a knife so far off its line promises nothing of these")
    each_g = piece.number
    value = each_g * reached / likely.mean
    knife = max((kind.knife for kind in likely.kinds), default=0.0)
    said = (
        f"{each_g:.1f} g on average; {even.level_mm:g} mm out of level takes up to "
        f"{each_g * likely.slope:.1f} g, a knife {even.knife_off_mm:g} mm off its line "
        f"{each_g * knife:.1f} g (one standard deviation): {PROMISED:.0%} of the "
        f"pieces reach {value:.1f} g"
    )
    is_said = None not in {kitchen.level_mm, kitchen.knife_off_mm}
    standing = piece.standing if is_said else weakest([piece.standing, "assumed"])
    scale = value / each_g
    slab_low = None if piece.low is None else piece.low / made.spread_low
    slab_high = None if piece.high is None else piece.high / made.spread_high
    wide = slab_low is not None and slab_high is not None and (
        slab_high - slab_low > 1e-9 * each_g
    )  # fmt: skip
    return Figure(
        value, "g", said, standing,
        slab_low * scale if wide and slab_low else None,
        slab_high * scale if wide and slab_high else None, piece.sources,
    )  # fmt: skip
