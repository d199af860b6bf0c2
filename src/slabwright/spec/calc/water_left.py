"""The calculator of water left: what stays in a syrup that boils at a temperature."""

from math import isfinite
from typing import Final

from slabwright.figure import Figure, withheld
from slabwright.physics.activity import sources_of
from slabwright.physics.boiling import (
    boiling_point_of,
    water_left,
    water_left_range,
)
from slabwright.physics.solubility import salt_solubility
from slabwright.physics.species import AT, Parts
from slabwright.source import Source
from slabwright.spec.calc.air import AIR, BURNS, ENDS, air_of, browning, hot_of
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)
from slabwright.spec.calc.make_up import notes_of, parts_asked

HOT: Final = (
    Input("boils_at_C", "°C", "the boil's end, true", low=20.0, high=250.0,
          is_optional=True, also=ENDS),
    Input("probe_C", "°C", "the boil's end as this probe reads it", low=20.0,
          high=250.0, is_optional=True, also=("probe_reads_C",)),
)  # fmt: skip
HOLDS: Final = "down to 3 % of water, 5 to 300 kPa of air"
_DRY: Final = 0.03


def brine_at(
    parts: Parts, hot_C: float, pressure_kPa: float
) -> tuple[Parts, list[str]]:
    """The parts with no more salt than dissolves where they boil, and what to note.

    Of the salt d is dissolved where the water around it is that of the others and its
    own, h for each gram: d = room (others + d h).
    """
    salt = float(parts[AT["salt"]])
    brine = parts.copy()
    brine[AT["salt"]] = 0.0
    others = float(water_left(brine, hot_C, pressure_kPa))
    whole = float(water_left(parts, hot_C, pressure_kPa))
    room = float(salt_solubility(hot_C)) / 100
    free = 1 - room * (whole - others) / salt if salt > 0 else 0.0
    if not (free > 0 and room * others / free < salt):
        return parts, []
    fits = room * others / free
    brine[AT["salt"]] = fits
    note = (
        f"Of {salt:.4g} g of salt {salt - fits:.3g} g stay as crystals: what is left "
        f"at {hot_C:.4g} °C dissolves {fits:.3g} g."
    )
    return brine, [note]


def _answer(asked: Asked) -> Answer:
    air = air_of(asked)
    parts = parts_asked(asked, needs_water=False)
    hot, said = hot_of(asked, air)
    brine, lying = brine_at(parts, hot, air.pressure_kPa)
    left = float(water_left(brine, hot, air.pressure_kPa))
    low, high = (float(one) for one in water_left_range(brine, hot, air.pressure_kPa))
    if not left >= 0:
        raise wrong(
            f"Nobody knows what stays in it at {hot:.4g} °C.",
            "Give a lower temperature.", "boils_at_C",
        )  # fmt: skip
    given, alcohol = float(parts[AT["water"]]), float(parts[AT["alcohol"]])
    dry = float(parts.sum()) - given - alcohol
    sources = (*sources_of(parts), *air.sources)

    def share(water: float) -> float:
        return water / (water + dry)

    told = (
        f"{left:.4g} g ÷ ({left:.4g} g of water + {dry:.4g} g dry) = "
        f"{share(left):.4f}, boiling at {said} ({air.said})"
    )
    first = Figure(share(left), "share", told, low=share(low), high=share(high),
                   sources=sources, holds=HOLDS)  # fmt: skip
    above, _ = brine_at(parts, hot + 1, air.pressure_kPa)
    hotter = float(water_left(above, hot + 1, air.pressure_kPa))
    step = share(hotter) - share(left)
    also = [
        Shown("end_mass_g", "all that is left", Figure(
            dry + left, "g", f"{dry:.4g} g dry + {left:.4g} g of water", low=dry + low,
            high=dry + high, sources=sources, holds=HOLDS)),
        Shown("water_g", "water left", Figure(
            left, "g", f"what {dry:.4g} g hold at {said}", low=low, high=high,
            sources=sources, holds=HOLDS)),
        Shown("boiled_off_g", "water to boil off",
              _off(given, left, low, high, sources)),
        Shown("per_degree", "share of water with 1 °C more", Figure(
            step, "share", f"{share(hotter):.4f} − {share(left):.4f} = {step:.4f}",
            sources=sources, holds=HOLDS)),
    ]  # fmt: skip
    notes = [*lying, *browning(hot), *notes_of(parts, boils=True)]
    if share(left) < _DRY:
        notes.insert(0, "Under 3 % of water no boil was published: a rough figure.")
    if 0 < given < left:
        at = float(boiling_point_of(parts, air.pressure_kPa))
        boils = (
            f"it boils at {at:.1f} °C" if isfinite(at) else "no boil leaves so little"
        )
        notes.insert(0, f"It holds less water than that: {boils}.")
    return Answer(
        Shown("water_share", "water left, as a share", first), tuple(also),
        (*notes, *air.notes(), BURNS),
    )  # fmt: skip


def _off(
    given: float, left: float, low: float, high: float, cited: tuple[Source, ...]
) -> Figure:
    if not given > 0:
        return withheld("g", "its water at first was not given")
    if given < left:
        why = f"it holds {given:.4g} g of water, less than the {left:.4g} g that stay"
        return withheld("g", why)
    said = f"{given:.4g} − {left:.4g} = {given - left:.4g} g"
    return Figure(
        given - left, "g", said, low=max(given - high, 0.0), high=given - low,
        sources=cited, holds=HOLDS,
    )  # fmt: skip


WATER_LEFT: Final = Calculator(
    name="water-left",
    title="Water left in a boil",
    what="How much water a syrup or caramel keeps that boils at a temperature.",
    answer=_answer,
    inputs=(*HOT, *AIR),
    takes_parts=True,
    example="calc water-left sucrose=300 glucose=60 water=150 boils_at_C=118",
    sources=(water_left.source,),
    python="slabwright.physics.boiling.water_left",
)
