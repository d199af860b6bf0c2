"""A cut in full: its order, its choices, and what it comes to when it is tried."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from slabwright.cut.options import Option, options
from slabwright.cut.simulate import Simulated, simulate
from slabwright.cut.spread import Evenness
from slabwright.errors import GeometryError, Mistake
from slabwright.spec.cutting import evenness_of
from slabwright.spec.specification import CutFigures, Specification


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One cut of a slab, and what else is asked about it."""

    spec: Specification
    cut: CutFigures
    evenness: Evenness
    options: tuple[Option, ...] = ()
    """What else would do for a range of masses; the first is the one chosen."""
    tried: Simulated | None = None
    """Many slabs cut on paper, if that was asked."""

    @property
    def slab_g(self) -> float | None:
        """Mass of the slab in one tin [g]; None if it is not known."""
        each, made = self.cut.piece_mass_g, self.cut.cutting
        if not each.known:
            return None
        return each.number * made.pieces / made.kept_share / made.tins


def cut_sheet(spec: Specification, tin_name: str = "") -> CutSheet:
    """The slab's own cut, or that in another tin of its card.

    Args:
        spec: the slab.
        tin_name: which tin; empty for its own, else the first that it is cut in.

    Raises:
        GeometryError: if the card says no cut, or none in that tin.
    """
    cuts = [cut for cut in (spec.cut, *spec.other_cuts) if cut is not None]
    plain = " ".join(tin_name.casefold().split())
    fits = [cut for cut in cuts if not plain or cut.tin_name.casefold() == plain]
    if not fits:
        raise GeometryError(_no_cut(spec, tin_name))
    cut = fits[0]
    even = evenness_of(spec.kitchen)
    sheet = CutSheet(spec, cut, even)
    slab_g, height = sheet.slab_g, spec.height_mm
    if slab_g is None or not height.value:
        return sheet
    request = replace(cut.said.request, knife_mm=cut.knife_mm)
    found = options(request, cut.tin.one, height.number, slab_g, even)
    return replace(sheet, options=found)


def _no_cut(spec: Specification, tin_name: str) -> Mistake:
    named = [cut.tin_name for cut in spec.other_cuts]
    if tin_name and named:
        what = f"The card says no cut in '{tin_name}'."
        return Mistake(what, f"It is cut in {', '.join(named)}.", nearest=tuple(named))
    if spec.card.cuts and spec.tin is None:
        return Mistake(
            "The card names no tin, so there is nothing to cut yet.",
            "Write tin 30 x 20 x 5 cm.",
        )
    return Mistake(
        f"The card says no cut{f' in {tin_name}' if tin_name else ''}.",
        "Write one on it, such as cut 5 x 4, or say it here.",
    )


def tried(
    sheet: CutSheet,
    report: Callable[[float], None] = lambda _: None,
    stop: Callable[[], bool] = lambda: False,
) -> CutSheet:
    """The same, with many slabs cut on paper and every piece weighed.

    Args:
        sheet: the cut.
        report: is told the share that is done.
        stop: whether to end early, with what was weighed until then.

    Raises:
        GeometryError: if the slab's height is not known, or nothing is cut.
    """
    height = sheet.spec.height_mm
    if not height.value or not sheet.cut.cutting.strokes:
        raise GeometryError(
            Mistake(
                "There is no cut slab to try: its height is not known, or no knife "
                "goes through it.",
                "Give its layers weights, and a cut.",
            )
        )
    made, tin = sheet.cut.cutting, sheet.cut.tin.one
    found = simulate(made, tin, height.number, sheet.evenness, report=report, stop=stop)
    return replace(sheet, tried=found)
