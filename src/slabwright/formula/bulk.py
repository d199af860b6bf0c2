"""The density that a layer is given where its card says none and nobody measured it."""

from typing import Final

import numpy as np

from slabwright.figure import Ranged
from slabwright.formula.batch import Batch
from slabwright.physics.bulk import HEAVIER, without_air
from slabwright.source import sources

_CLEAR: Final = frozenset({"jelly", "gelatine jelly"})
"""Kinds that are poured hot and hold no air, thin or boiled down: their sugar and water
tell how heavy they are, better than what is usual does."""
_ERROR: Final = 0.02
"""How far such a density may be off: bubbles, and volumes that don't quite add up."""
_SODA: Final = "bicarbonate-of-soda"
_FOAMS_FROM: Final = 0.015
"""Soda of the mass of a brittle from which on it is honeycomb: a slab of bubbles. Less
only makes it short. Our own."""
_HONEYCOMB_G_ML: Final = (0.30, 0.45, 0.70)
"""What it weighs then: low, usual, high. Common practice, no source."""


def usual_density(batch: Batch) -> Ranged:
    """Density of a finished layer by its kind [g/ml], and never what can't be.

    No layer weighs more for its size than what it is made of does without any air, and
    a jelly hardly less. Where that and what is usual lie within 5 % of each other, or
    the make-up is not known, the kind's usual density counts.
    """
    usual = batch.kind.density_g_ml
    said = f"usual for {batch.kind.name} ({batch.kind_told})"
    plain = Ranged(
        usual.value, usual.low, usual.high, "assumed", f"{usual.value:g} g/ml, {said}",
        assumed=f"{usual.value:g} g/ml, usual for {batch.kind.name}",
        sources=(usual.source,),
    )  # fmt: skip
    if batch.kind.name == "brittle" and _soda_share(batch) >= _FOAMS_FROM:
        low, value, high = _HONEYCOMB_G_ML
        words = "usual for honeycomb: its soda makes a foam of it"
        return Ranged(
            value, low, high, "assumed", f"{value:g} g/ml, {words}",
            assumed=f"{value:g} g/ml, usual for honeycomb",
            sources=(sources()["trade"],),
        )  # fmt: skip
    oil, hard = (one / 1000 for one in without_air(batch.after))
    if batch.composition_withheld or not np.isfinite([*oil, *hard]).all():
        return plain
    dense = round(float(oil[0] + hard[0]) / 2, 2)
    low, high = float(oil.min()) * (1 - _ERROR), float(hard.max()) * (1 + _ERROR)
    known = (sources()["choi-okos-1986"],)
    is_clear = batch.kind.name in _CLEAR
    can_be = usual.value <= float(hard.max()) * (1 + HEAVIER)
    if can_be and not (is_clear and usual.value < dense * (1 - HEAVIER)):
        return plain
    if is_clear:
        words = f"its mix without air, as a {batch.kind.name} is ({batch.kind_told})"
        return Ranged(
            dense, low, high, "assumed", f"{dense:g} g/ml, {words}",
            assumed=f"{dense:g} g/ml, its mix without air", sources=known,
        )  # fmt: skip
    words = f"its mix without any air: the {usual.value:g} g/ml {said} can't be"
    return Ranged(
        dense, min(usual.low, low), high, "assumed", f"{dense:g} g/ml, {words}",
        assumed=f"{dense:g} g/ml, its mix without any air",
        sources=(*known, usual.source),
    )  # fmt: skip


def _soda_share(batch: Batch) -> float:
    """Bicarbonate of soda of the finished mass."""
    soda = sum(
        line.mass_g or 0.0
        for line in batch.lines
        if line.ingredient is not None and line.ingredient.id == _SODA
    )
    whole = batch.mass_out.value if batch.mass_out is not None else 0.0
    return soda / whole if whole > 0 else 0.0
