"""The calculator of water activities: how free the water of a syrup is."""

from typing import Final

import numpy as np

from slabwright.figure import Figure
from slabwright.physics.activity import likely_range, sources_of, water_activity
from slabwright.physics.holding import held_each, kelvin_ratio
from slabwright.physics.solubility import (
    DISSOLVED,
    holds,
    salt_solubility,
    solubility,
    tables,
    without_salt_crystals,
)
from slabwright.physics.solute import dissolves
from slabwright.physics.species import AT, Parts
from slabwright.spec.calc.air import WARMTHS
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Input, Shown
from slabwright.spec.calc.make_up import (
    held_in_words,
    notes_of,
    parts_asked,
    salt_notes,
    solids_of,
)

_HOLDS: Final = "solutions, 0 to 150 °C; each solute as far as it was measured"


def _answer(asked: Asked) -> Answer:
    mixed = parts_asked(asked, needs_water=True)
    warm = asked.number("temperature_C")
    parts = without_salt_crystals(mixed, warm)
    lying = salt_notes(mixed, warm)
    value = float(water_activity(parts, warm))
    low, high = (float(one) for one in likely_range(parts, warm))
    sources = sources_of(parts)
    if lying:
        sources += (salt_solubility.source,)
    first = Figure(value, "", _sum(parts, value, warm), low=low, high=high,
                   sources=sources, holds=_HOLDS)  # fmt: skip
    also = (
        Shown("with_more_water", "with 1 % of water more",
              _with_more(mixed, value, warm)),
        Shown("solids_share", "dissolved, of it and water", _share(parts)),
    )  # fmt: skip
    notes = lying + notes_of(parts, boils=False)
    notes += _crystals(parts, warm)
    notes.append("A sum, no measurement: measure before you lean on it for keeping.")
    return Answer(Shown("water_activity", "water activity", first), also, tuple(notes))


def _sum(parts: Parts, value: float, warm: float) -> str:
    water = float(parts[AT["water"]])
    if value >= 1:
        return f"{water:.4g} g of water with nothing dissolved in it: 1"
    held = held_each(parts * dissolves(), -np.log(value), kelvin_ratio(warm))
    told = held_in_words(parts, held)
    return f"at {value:.4f} and {warm:g} °C {told} of water: together {water:.4g} g"


def _with_more(parts: Parts, value: float, warm: float) -> Figure:
    more = parts.copy()
    counted = float((parts * dissolves()).sum())
    more[AT["water"]] += 0.01 * counted
    other = float(water_activity(without_salt_crystals(more, warm), warm))
    said = f"{other:.4f} with {0.01 * counted:.3g} g of water more, {value:.4f} now"
    return Figure(other - value, "", said, sources=sources_of(parts), holds=_HOLDS)


def _share(parts: Parts) -> Figure:
    solids, water = solids_of(parts), float(parts[AT["water"]])
    said = f"{solids:.4g} g ÷ {solids + water:.4g} g"
    return Figure(solids / (solids + water), "share", said)


def _crystals(parts: Parts, warm: float) -> list[str]:
    """Which sugars may come out, which leaves the water freer."""
    water = float(parts[AT["water"]])
    known = [one for one in DISSOLVED if one == "sucrose" or one in tables()]
    told = []
    for name in known:
        there, most = (
            100 * float(parts[AT[name]]) / water,
            float(solubility(name, warm)),
        )
        low, high = holds(name)
        if there > most and low <= warm <= high:
            sugar = name.replace("_", " ")
            told.append(
                f"{there:.0f} g of {sugar} to 100 g of water; at {warm:g} °C water "
                f"alone keeps {most:.0f} g. Where it grains, the rest is wetter and "
                "the activity higher."
            )
    return told


WATER_ACTIVITY: Final = Calculator(
    name="water-activity",
    title="Water activity of a syrup",
    what="How free the water of a mix of sugars, salts, acids or polyols is.",
    answer=_answer,
    inputs=(
        Input("temperature_C", "°C", "how warm it is", default=25.0, low=-20.0,
              high=150.0, also=WARMTHS),
    ),
    takes_parts=True,
    example="calc water-activity sucrose=40 glucose=20 water=40 temperature_C=25",
    sources=(water_activity.source,),
    python="slabwright.physics.activity.water_activity",
)  # fmt: skip
