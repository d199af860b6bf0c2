"""Acid in a mix: how much there is, and between which limits its pH lies.

A pH worked out from a list of ingredients is an assessment, never a measurement: what
fruit and milk buffer differs from crate to crate. Where it matters, measure.
"""

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import log10
from typing import Final

from slabwright.source import Source, sources

SODA_G_MOL: Final = 84.007
_MOLES: Final = {
    "citric": (192.12, 3),
    "malic": (134.09, 2),
    "lactic": (90.08, 1),
    "acetic": (60.05, 1),
    "gluconic": (196.16, 1),
    "aconitic": (174.11, 3),
    "bitartrate": (188.18, 1),
}
"""Grams of a mole, and how many of soda it takes."""
_BINDS_MMOL_G: Final = (0.5, 1.0)
"""Acid that a gram of egg or milk protein takes up on the way to pH 4. From memory of
titration curves."""
_SPAN: Final = 4.0
"""A fruit acid rises by so much from its own pH until all of it is taken up: citric
from 2.2 to 6.4 by its three constants."""


@dataclass(frozen=True, slots=True)
class Acid:
    """What an acid ingredient brings."""

    ingredient: str
    ph: tuple[float, float]
    soda_g_per_g: tuple[float, float]
    """Soda that a gram of it takes up, low and high [g/g]."""
    source: Source
    acid_source: Source


@cache
def acids() -> dict[str, Acid]:
    """Every acid ingredient that is known here, by its name in the larder."""
    found = files("slabwright.physics").joinpath("data", "acids.csv")
    rows = csv.DictReader(found.read_text("utf-8").splitlines())
    return {
        row["ingredient"]: Acid(
            row["ingredient"],
            (float(row["ph_low"]), float(row["ph_high"])),
            (
                _soda(row["acid"], float(row["acid_low_pct"])),
                _soda(row["acid"], float(row["acid_high_pct"])),
            ),
            sources()[row["ph_source"]],
            sources()[row["acid_source"]],
        )
        for row in rows
    }


def mixed_ph(
    acid_grams: Iterable[tuple[Acid, float]], water_share: float, protein_g: float
) -> tuple[float, float] | None:
    """Between which limits the pH of a mix lies; None if nothing acid is in it.

    Each acid ingredient counts by the acid that it brings. Dilution lifts the high end
    by half a decade for every tenfold, as for an acid that nothing buffers; protein
    takes acid up and lifts both ends.

    Args:
        acid_grams: each acid ingredient and its grams.
        water_share: water that acid ingredients brought, of all the water, 0 to 1.
        protein_g: protein of egg and milk in the mix [g].

    Source: mass balance; pH of each from lists, what protein binds from memory.
    """
    found = [(acid, grams) for acid, grams in acid_grams if grams > 0]
    moles = [
        (grams * sum(acid.soda_g_per_g) / 2 / SODA_G_MOL * 1000, acid)
        for acid, grams in found
    ]
    total = sum(mmol for mmol, _ in moles)
    if not total > 0:
        return None
    low = sum(mmol * acid.ph[0] for mmol, acid in moles) / total
    high = sum(mmol * acid.ph[1] for mmol, acid in moles) / total
    thinner = 0.5 * log10(1 / max(min(water_share, 1.0), 0.01))
    bound = [min(protein_g * each / total, 1.0) for each in _BINDS_MMOL_G]
    return (
        min(low + _SPAN * bound[0], 7.0),
        min(high + thinner + _SPAN * bound[1], 7.0),
    )


def _soda(acid: str, percent: float) -> float:
    grams, takes = _MOLES[acid]
    return percent / 100 / grams * takes * SODA_G_MOL
