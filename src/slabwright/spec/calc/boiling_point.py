"""The calculator of boiling points: the mix's own, and what the probe shows of it."""

from typing import Final

import numpy as np

from slabwright.figure import Figure, withheld
from slabwright.physics.activity import sources_of
from slabwright.physics.boiling import boiling_point_of, boiling_range
from slabwright.physics.solubility import salt_solubility, without_salt_crystals
from slabwright.physics.species import AT, Parts
from slabwright.physics.water import saturation_pressure
from slabwright.source import Source
from slabwright.spec.calc.air import AIR, BURNS, Air, air_of
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Shown
from slabwright.spec.calc.make_up import (
    HIGHEST_SHARE,
    notes_of,
    parts_asked,
    salt_notes,
    solids_of,
)

_BRINE_BOILS_C: Final = 109.0
HOLDS: Final = "0 to 97 % of dissolved solids, 5 to 300 kPa of air"


def _answer(asked: Asked) -> Answer:
    air = air_of(asked)
    mixed = parts_asked(asked, needs_water=True)
    parts, warm = _settled(mixed, air.pressure_kPa)
    lying = salt_notes(mixed, warm)
    value = float(boiling_point_of(parts, air.pressure_kPa))
    low, high = (float(one) for one in boiling_range(parts, air.pressure_kPa))
    cited: tuple[Source, ...] = (*sources_of(parts), *air.sources)
    if lying:
        cited += (salt_solubility.source,)
    over = f"{value:.1f} − {air.plain_C:.1f} = {value - air.plain_C:.1f} K"
    above = Figure(
        value - air.plain_C, "K", over, low=low - air.plain_C, high=high - air.plain_C,
        sources=cited, holds=HOLDS,
    )  # fmt: skip
    boils = Figure(value, "°C", _sum(air, value), low=low, high=high, sources=cited,
                   holds=HOLDS)  # fmt: skip
    probe = air.on_probe(value, low, high)
    if np.isnan(value):
        why = "so little water is left that nobody knows where it boils"
        boils = probe = withheld("°C", why)
        above = withheld("K", why)
    share = _share(parts).number
    said = f"{air.said}: water boils at {air.plain_C:.2f} °C"
    also = (
        Shown("probe_C", "on this probe, here", probe),
        Shown("water_boils_C", "where water boils here",
              Figure(air.plain_C, "°C", said, sources=air.sources)),
        Shown("above_water_K", "above boiling water", above),
        Shown("solids_share", "dissolved, of it and water", _share(parts)),
    )  # fmt: skip
    notes = lying + notes_of(parts, boils=True)
    if share > HIGHEST_SHARE:
        notes.insert(0, "Beyond 97 % of solids no boil was published: a rough figure.")
    if share > 0:
        notes.append("What has not dissolved does not count: stir until it has.")
    return Answer(
        Shown("boiling_point_C", "boiling point", boils), also,
        (*notes, *air.notes(), BURNS),
    )  # fmt: skip


def _settled(mixed: Parts, pressure_kPa: float) -> tuple[Parts, float]:
    """What is dissolved at the boil, and how hot that is: brine ends where salt does.

    Salt dissolves nearly the same at any boil, so that three rounds settle it.
    """
    warm, parts = _BRINE_BOILS_C, mixed
    for _ in range(3):
        parts = without_salt_crystals(mixed, warm)
        found = float(boiling_point_of(parts, pressure_kPa))
        warm = warm if np.isnan(found) else found
    return parts, warm


def _sum(air: Air, value: float) -> str:
    vapour = float(saturation_pressure(value))
    activity = air.pressure_kPa / vapour
    return (
        f"water activity {activity:.4f} × {vapour:.1f} kPa, water's vapour at "
        f"{value:.1f} °C, = {air.pressure_kPa:.1f} kPa ({air.said})"
    )


def _share(parts: Parts) -> Figure:
    solids, water = solids_of(parts), float(parts[AT["water"]])
    said = f"{solids:.4g} ÷ ({solids:.4g} + {water:.4g})"
    return Figure(solids / (solids + water), "share", said)


BOILING_POINT: Final = Calculator(
    name="boiling-point",
    title="Boiling point of a syrup",
    what="Where a mix of sugars and water boils, here and on this probe.",
    answer=_answer,
    inputs=AIR,
    takes_parts=True,
    example="calc boiling-point sucrose=80 water=20 altitude_m=0",
    sources=(boiling_point_of.source,),
    python="slabwright.physics.boiling.boiling_point_of",
)
