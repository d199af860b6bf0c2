"""A boil to a temperature: how much water the mix keeps, by its boiling point.

The temperature is the mix's own, in this kitchen; what the probe shows there is the
sheet's affair. What boils is what stands in the vessel at hand: its dissolved sugars,
salts and acids hold the water back, fat and starch lie beside.
"""

from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from slabwright.composition import INDEX, Masses, dry_matter, fat, total, water
from slabwright.errors import Span
from slabwright.formula.component import Reads
from slabwright.formula.step import Band, Step
from slabwright.physics.boiling import boiling_point_of, water_left, water_left_range
from slabwright.physics.species import parts_of
from slabwright.physics.water import boiling_point

READ_K: Final = 1.0
"""A probe over steam, in one hand, is read within so much. Common practice."""
_DRY: Final = 0.001
"""Less water than this share is none that boils."""
_KNOWN_C: Final = 160.0
"""Beyond this no table of boiling points goes."""
_LEAST_K: Final = 0.2
"""Above boiling water, where a mix keeps nearly all of its water."""
_WEIGHED: Final = 0.05
"""More water than went in by this share is no slip of a scale. Our own."""
_THIN: Final = 0.01
"""Less in water than this share is water, which boils away at its own boiling point."""
_WATER, _ALCOHOL = INDEX["water"], INDEX["alcohol"]


@dataclass(frozen=True, slots=True)
class Learned:
    """How far this component boils off the relation, as a reading told."""

    bias_K: float
    """How much higher the relation puts its boiling point than it was [K]."""
    span: Span
    words: str
    """The reading, as it was written or worked with."""


@dataclass(frozen=True, slots=True)
class Boil:
    """One boil to a temperature, and what it leaves. Masses as in a batch, 3 rows."""

    span: Span
    """Of its step."""
    to_C: Band
    pressure_kPa: float
    mix: Masses = field(compare=False)
    """What boils, before."""
    rest: Masses = field(compare=False)
    """What the block holds beside it, in other vessels."""
    left: Masses | None = field(compare=False, default=None)
    """What is left of the mix; None if nothing can be told."""
    silent: str = ""
    """Why nothing follows from it."""
    counts: bool = False
    """Whether the layer's water follows from it, no weighing on the card saying so."""
    learned: Learned | None = None

    @property
    def left_g(self) -> NDArray[np.float64]:
        """Mass of what is left in the pan, shape (3,) [g]."""
        return total(self.mix if self.left is None else self.left)

    @property
    def off_g(self) -> NDArray[np.float64]:
        """Water, and alcohol, that went off, shape (3,) [g]."""
        return total(self.mix) - self.left_g


@dataclass(frozen=True, slots=True)
class Held:
    """What stands on the stove: masses of constituents, shape (3, len(ROW)) [g]."""

    mix: Masses
    """In the vessel that boils."""
    rest: Masses
    """In the others."""
    pressure_kPa: float
    """Of the air."""
    silent: str = ""
    """Why nothing can be told of it, if that is known already."""


def boil(
    step: Step, to_C: Band, held: Held, learned: Learned | None, *, counts: bool
) -> Boil:
    """What a boil leaves of a mix.

    Args:
        step: the step that boils it.
        to_C: the mix's own temperature at the end.
        held: what stands on the stove.
        learned: how far this component boils off the relation, if that is known.
        counts: whether the layer's water follows from it.
    """
    mix, pressure_kPa = held.mix, held.pressure_kPa
    said = Boil(step.span, to_C, pressure_kPa, mix, held.rest, learned=learned)
    plain_C = float(boiling_point(pressure_kPa))
    silent = held.silent or _why_silent(mix)
    if silent:
        return replace(said, silent=silent)
    solids = parts_of(mix)
    off_K = learned.bias_K if learned else 0.0
    at = [to_C.middle, to_C.high + READ_K, to_C.low - READ_K]
    hot = np.maximum(np.array(at) + off_K, plain_C + _LEAST_K)
    kept = water_left(solids, hot, pressure_kPa)
    if learned is None:
        low, high = water_left_range(solids, hot, pressure_kPa)
        kept[1], kept[2] = low[1], high[2]
    kept = np.minimum(kept, water(mix))
    if not kept[0] < water(mix)[0] - 1e-9:
        return replace(said, silent=_stronger(mix, to_C, pressure_kPa))
    left = mix.copy()
    left[:, _WATER] = kept
    left[:, _ALCOHOL] = 0.0  # goes off first
    return replace(said, left=left, counts=counts)


def learned_from(
    reads: Reads, at_C: float, mix: Masses, pressure_kPa: float, words: str
) -> Learned | str:
    """How far this mix boils off the relation, by one reading.

    Args:
        reads: the weight of what is in the pan, its water, or its degrees Brix.
        at_C: how hot it was.
        mix: its make-up as weighed in: the most water that can be in it, shape
            (len(ROW),) [g].
        pressure_kPa: of the air.
        words: how the reading is told.

    Returns:
        What was learned, or in words why nothing can be.
    """
    solids = float(dry_matter(mix))
    if reads.grams is not None:
        held = reads.grams - solids
    elif reads.water_share is not None:
        held = solids * reads.water_share / (1 - reads.water_share)
    else:
        share = (reads.brix or 0.0) / 100
        held = (solids - float(fat(mix))) * (1 - share) / share
    if not held > 0:
        return f"{words}: that is less than the {solids:.5g} g of dry matter in it"
    most = float(water(mix) + mix[_ALCOHOL])
    if held > most * (1 + _WEIGHED):
        return (
            f"{words}: that means {held:.4g} g of water in it, and {most:.4g} g went in"
        )
    parts = parts_of(mix)
    parts[_WATER], parts[_ALCOHOL] = held, 0.0
    by_relation = float(boiling_point_of(parts, pressure_kPa))
    return Learned(by_relation - at_C, reads.span, words)


def _stronger(mix: Masses, to_C: Band, pressure_kPa: float) -> str:
    """That a mix is too strong to boil at this temperature."""
    hotter = float(boiling_point_of(parts_of(mix[0]), pressure_kPa))
    if hotter < to_C.middle and to_C.middle > _KNOWN_C:
        return f"no boiling point is known of any mix so hot as {to_C.middle:g} °C"
    at = f"at {hotter:.0f} °C" if hotter <= _KNOWN_C else f"above {_KNOWN_C:g} °C"
    return (
        f"it boils {at} as it is weighed, so that it reaches {to_C.middle:g} °C and "
        "loses no water"
    )


def _why_silent(mix: Masses) -> str:
    """Why a boil says nothing about the water that is left; empty if it does."""
    row = mix[0]
    if not total(row) > 0:
        return "nothing that is weighed stands in the pan"
    if row[INDEX["unknown"]] > 0:
        return "nobody here knows what all of it is made of"
    if not row[_WATER] > _DRY * total(row):
        return "there is no water in it to boil"
    if dry_matter(row) < _THIN * total(row):
        return "hardly anything but water is in it, which gets no hotter as it boils"
    return ""
