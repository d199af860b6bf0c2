"""Parts that nobody sells by themselves: bought as the egg or fruit they come from."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import Final

from slabwright.cost.by_products import WHOLES, Whole, part_of_one
from slabwright.cost.prices import exact
from slabwright.counter.needs import Need
from slabwright.larder.lookup import Larder

_SAME: Final = Fraction(2, 100)
"""Part of a whole that is no whole more."""


def from_wholes(
    needs: Sequence[Need],
    is_sold: Callable[[str], bool],
    larder: Larder,
    country: str,
    eggs: str,
) -> list[tuple[Need, str]]:
    """Each need, and for which parts it is wanted besides.

    Args:
        needs: as the slabs take them.
        is_sold: whether an ingredient, by larder id, can be had.
        larder: what a part of one whole weighs.
        country: ISO 3166 code, for its classes of egg.
        eggs: the kitchen's class of egg.
    """
    found = {need.larder_id or need.name: (need, "") for need in needs}
    for whole in WHOLES:
        parts = [found[id][0] for id in whole.parts if id in found]
        parts = [part for part in parts if not is_sold(part.larder_id)]
        each = {
            id: part_of_one(id, larder, country, eggs)
            for id in (*whole.parts, whole.id)
        }
        size = each[whole.id]
        if not parts or size is None or not is_sold(whole.id):
            continue
        counts = {
            part.larder_id: part.pieces(measure.grams)
            for part in parts
            if (measure := each[part.larder_id]) is not None
        }
        if not counts:
            continue
        most = max(counts, key=lambda id: counts[id])
        number = ceil(counts[most] - _SAME)
        words = ", ".join(whole.parts[id] for id in counts)
        note = f"{number} {whole.name if number == 1 else whole.plural} for {words}"
        grams = number * exact(size.grams)
        by_slab = next(p.by_slab for p in parts if p.larder_id == most)
        found[whole.id] = (_more(found.get(whole.id), whole, grams, by_slab), note)
        for id in counts:
            del found[id]
    return list(found.values())


def _more(
    before: tuple[Need, str] | None,
    whole: Whole,
    grams: Fraction,
    by_slab: tuple[tuple[str, Fraction], ...],
) -> Need:
    """The need of whole ones, with those that are opened for their parts."""
    share = grams / sum((part for _, part in by_slab), Fraction(0))
    by = {slab: part * share for slab, part in by_slab}
    if before is None:
        by_slab = tuple(by.items())
        return Need(whole.id, whole.plural, grams, by_slab, uncounted_g=grams)
    need = before[0]
    for slab, part in need.by_slab:
        by[slab] = by.get(slab, Fraction(0)) + part
    return replace(
        need,
        grams=need.grams + grams,
        by_slab=tuple(by.items()),
        uncounted_g=need.uncounted_g + grams,
    )
