"""The make-up of a solution, in words: who holds the water, and what is left out."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from slabwright.physics.activity import beyond_data
from slabwright.physics.solubility import salt_crystals, salt_solubility
from slabwright.physics.solute import dissolves, solutes
from slabwright.physics.species import AT, SPECIES, Array, Parts
from slabwright.spec.calc.calculator import Asked, wrong

HIGHEST_SHARE: Final = 0.97
"""Dissolved solids up to which boils were published."""
_LUMPS: Final = {
    "higher_saccharides": "the longer chains of a syrup",
    "polyols": "polyols of no name",
    "organic_acids": "acids of no name",
    "minerals": "minerals",
    "alcohol": "alcohol",
}
_MOST_NAMED: Final = 4
_UNDISSOLVED: Final = ("starch", "fibre", "protein", "rest")
_FATS: Final = tuple(one for one in SPECIES if one.startswith("fat_"))


def parts_asked(asked: Asked, *, needs_water: bool) -> Parts:
    """What was asked about, with something in it to reckon with.

    Raises:
        CalcError: if water is needed and there is none, or nothing is dissolved in it.
    """
    parts = asked.parts if asked.parts is not None else np.zeros(len(SPECIES))
    if needs_water and not parts[AT["water"]] > 0:
        raise wrong("It has no water.", "Give its water too: water=20.", "water")
    if not needs_water and not solids_of(parts) > 0:
        raise wrong(
            "Nothing in it dissolves.",
            "Give sugars or syrups by mass: sucrose=80 water=20.",
        )
    return parts


def solids_of(parts: Parts) -> float:
    """Mass of all that is dissolved, without water and alcohol."""
    counted = parts * dissolves()
    return float(counted.sum() - counted[AT["water"]] - counted[AT["alcohol"]])


def held_in_words(parts: Parts, held: Array, unit: str = "g") -> str:
    """Who holds how much water: `sucrose 27.3 g and glucose 12.7 g of water`.

    Args:
        parts: masses of species, shape (len(SPECIES),).
        held: water that each of them holds, likewise.
        unit: of both.
    """
    names = [one for one in np.argsort(-held) if parts[one] > 0 and held[one] > 0]
    told = [f"{SPECIES[at].replace('_', ' ')} {held[at]:.3g} {unit}" for at in names]
    if len(told) > _MOST_NAMED:
        rest = held[names[_MOST_NAMED - 1 :]].sum()
        told = [*told[: _MOST_NAMED - 1], f"the rest {rest:.3g} {unit}"]
    return _joined(told)


def notes_of(parts: Parts, *, boils: bool) -> list[str]:
    """What is counted roughly, and what is left out."""
    notes = []
    solids = solids_of(parts)
    lumps = [name for name in _LUMPS if parts[AT[name]] > 0.02 * solids]
    if boils and "alcohol" in lumps:
        lumps.remove("alcohol")
    if lumps:
        told = _joined([_LUMPS[one] for one in lumps])
        notes.append(f"Less sure for {told}: the range is wider for it.")
    beyond = [one.replace("_", " ") for one in beyond_data(parts)]
    if beyond:
        ends = {one.species: one.to_percent for one in solutes()}
        told = _joined(
            [f"{one} to {ends[one.replace(' ', '_')]:g} %" for one in beyond]
        )
        notes.append(
            f"More concentrated than it was measured ({told}): a rough figure."
        )
    if parts[[AT[one] for one in _FATS]].sum() > 0:
        notes.append("Fat takes no part in it.")
    dry = [one for one in _UNDISSOLVED if parts[AT[one]] > 0]
    if dry and boils:
        told = _joined(dry)
        notes.append(f"Water that {told} keep{'s' * (len(dry) == 1)} is a rough guess.")
    elif dry:
        told = _joined(dry)
        notes.append(
            f"Left out: {told}. In a layer they hold water too; its page counts them."
        )
    if boils and parts[AT["alcohol"]] > 0:
        notes.append("Alcohol boils off before: the figure holds once it is gone.")
    return notes


def salt_notes(parts: Parts, warm_C: float) -> list[str]:
    """What salt lies as crystals, where there is more than the water dissolves."""
    left = float(salt_crystals(parts, warm_C))
    if not left > 0:
        return []
    most = float(salt_solubility(warm_C))
    salt, water = (float(parts[AT[name]]) for name in ("salt", "water"))
    told = [
        f"Of {salt:.4g} g of salt {left:.3g} g stay as crystals: {water:.4g} g of "
        f"water dissolve {salt - left:.3g} g at {warm_C:.4g} °C ({most:.1f} g to "
        "100 g). More salt changes nothing."
    ]
    if salt_solubility.outside(warm_C):
        low, high = salt_solubility.valid["temperature_C"]
        told.append(f"Salt's solubility was published for {low:g} to {high:g} °C.")
    return told


def _joined(words: Sequence[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
