"""The cut of the card, with its figures."""

from dataclasses import replace

from slabwright.cut.cut import cut
from slabwright.cut.cutting import Cutting, mm
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
    """Pieces, their size and weight, and what is trimmed.

    Args:
        said: the cut as written.
        tin: the tin that is cut, the slab's own or another.
        height: height of the slab [mm]; a grid needs none, its weights do.
        mass: mass of the slab in its own tin [g].
        kitchen: the knife, where the card says none.
        area_factor: area of this tin over that of the slab's own.

    Returns:
        The figures, or the mistake of a cut that does not fit the slab.
    """
    request = said.request
    if not said.says_knife and kitchen.knife_mm:
        request = replace(request, knife_mm=kitchen.knife_mm)
    known_mass = None if mass.value is None else mass.number * area_factor
    try:
        made = cut(request, tin, height.number if height.value else 1.0, known_mass)
    except GeometryError as error:
        first = error.mistakes[0]
        return Mistake(first.what, first.do, Where(span=said.span, field="cut"))
    return _figures(said, made, tin, mass, area_factor)


def _figures(
    said: SaidCut, made: Cutting, tin: Tin, mass: Figure, factor: float
) -> CutFigures:
    worked = Standing.WORKED_OUT
    return CutFigures(
        said=said,
        cutting=made,
        pieces=Figure(made.pieces, "pieces", _pieces(made), worked),
        along=_count(made.along, "along the length"),
        across=_count(made.across, "across the width"),
        piece_length_mm=_side(made.piece_length_mm, made, tin.length_mm, made.along),
        piece_width_mm=_side(made.piece_width_mm, made, tin.width_mm, made.across),
        piece_angle_deg=None
        if made.piece_angle_deg is None
        else Figure(made.piece_angle_deg, "°", f"360° ÷ {made.pieces} wedges", worked),
        piece_mass_g=_piece_mass(made, mass, factor),
        trim_g=_trim(made, mass, factor),
        tin=tin,
        tin_name=said.tin_name,
    )  # fmt: skip


def _pieces(made: Cutting) -> str:
    if made.along is None or made.across is None:
        return f"{made.pieces} wedges"
    return f"{made.along} × {made.across} = {made.pieces}; {made.note}".rstrip("; ")


def _count(value: int | None, words: str) -> Figure | None:
    return None if value is None else Figure(value, "pieces", f"{value} {words}")


def _side(
    value_mm: float | None, made: Cutting, tin_mm: float, count: int | None
) -> Figure | None:
    if value_mm is None:
        return None
    said = f"{count} from {mm(tin_mm)} mm, trim and knife off: {mm(value_mm)} mm each"
    return Figure(value_mm, "mm", said, Standing.WORKED_OUT)


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


def _trim(made: Cutting, mass: Figure, factor: float) -> Figure:
    if mass.value is None:
        return withheld("g", mass.sum)
    slab_g = mass.number * factor
    share = made.trim_share + made.knife_share
    said = f"{slab_g:.5g} g × {share:.2%} = {slab_g * share:.1f} g"
    return Figure(slab_g * share, "g", said, weakest([mass.standing, "given"]))
