"""The calculator of a boil's minutes on this ring."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from slabwright.composition import INDEX, ROW
from slabwright.figure import Figure, Standing
from slabwright.kitchen import Place
from slabwright.physics.boil_off import (
    ANY_RING,
    RING_SOURCE,
    RINGS,
    boil_heat,
    boil_minutes,
    ring_kind,
)
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)

_HOLDS: Final = "a mix of sugar, fat and water at 0 to 150 °C, at full power"


def _answer(asked: Asked) -> Answer:
    mass, off = asked.number("mass_g"), asked.number("water_g")
    begin, end = asked.number("from_C"), asked.number("to_C")
    dry = asked.optional("dry_share")
    share = max(1 - off / mass, 0.0) if dry is None else dry
    if off > mass * (1 - share) + 1e-9:
        raise wrong(
            f"{off:g} g of water can't leave {mass:g} g that holds "
            f"{mass * (1 - share):.4g} g of it.",
            "Give less water, or a smaller dry_share.", "water_g",
        )  # fmt: skip
    if end < begin:
        raise wrong(
            f"It ends at {end:g} °C and begins at {begin:g} °C.",
            "Give to_C over from_C.", "to_C",
        )  # fmt: skip
    power, what = _power(asked)
    efficiency, kind = _efficiency(asked)
    masses = np.zeros(len(ROW))
    masses[INDEX["water"]] = mass * (1 - share)
    masses[INDEX["sucrose"]] = mass * share
    heat = float(boil_heat(masses, off, begin, end))
    time = boil_minutes(masses, off, begin, end, power, efficiency)
    sources = (boil_heat.source, RING_SOURCE)
    middle = sum(efficiency) / 2
    said = (
        f"{heat:.4g} kJ ÷ ({power:g} kW{what} × {middle:.3g}) ÷ 60 = "
        f"{float(time.value):.3g} min; {kind} gives the mix {100 * efficiency[0]:g} to "
        f"{100 * efficiency[1]:g} % of its power"
    )
    minutes = Figure(
        float(time.value), "min", said, Standing.WORKED_OUT, float(time.low),
        float(time.high), sources, _HOLDS,
    )  # fmt: skip
    warms = f"{mass:g} g from {begin:g} to {end:g} °C and {off:g} g of water off"
    also = (
        Shown("heat_kJ", "heat", Figure(heat, "kJ", warms, sources=sources[:1])),
        Shown(
            "useful_kW", "useful power",
            Figure(
                power * middle, "kW",
                f"{power:g} kW × {middle:.3g} = {power * middle:.3g} kW",
                low=power * efficiency[0], high=power * efficiency[1],
                sources=sources[1:], holds=_HOLDS,
            ),
        ),
    )  # fmt: skip
    notes = [
        "At full power from first to last. A boil that is turned down, as with milk in "
        "it, takes longer in proportion.",
        "Boiling sugar sticks and burns: long sleeves, a deep pan, nobody under foot.",
    ]
    if dry is None:
        notes.append(
            f"What it is made of was not given: taken as {100 * share:.3g} % dry, so "
            "that no water is left. More water makes it slower by a minute or so."
        )
    return Answer(Shown("minutes", "minutes on this ring", minutes), also, tuple(notes))


def _power(asked: Asked) -> tuple[float, str]:
    """What the ring draws [kW], and where that is said."""
    given = asked.optional("power_kW")
    if given is not None:
        return given, ""
    ring = _strongest(asked.kitchen.places)
    if ring is None or ring.power_kW is None:
        raise wrong(
            "power_kW is missing, and the kitchen's file gives no ring its power.",
            "Give it so: power_kW=2.", "power_kW",
        )  # fmt: skip
    return ring.power_kW, f" of {ring.name}"


def _strongest(places: Sequence[Place]) -> Place | None:
    rings = [one for one in places if one.what == "ring" and one.power_kW]
    return max(rings, key=lambda one: one.power_kW or 0.0, default=None)


def _kind_of(ring: Place | None) -> str:
    """What kind of ring the kitchen's file says it is; empty if it does not."""
    return "" if ring is None else ring_kind(f"{ring.name} {ring.note}")


def _efficiency(asked: Asked) -> tuple[tuple[float, float], str]:
    given = asked.optional("efficiency")
    if given is not None:
        return (given, given), "it is given that the ring"
    kind = asked.word("ring")
    if kind not in RINGS and asked.optional("power_kW") is None:
        kind = _kind_of(_strongest(asked.kitchen.places))
    if kind in RINGS:
        return RINGS[kind], f"a ring of this kind ({kind})"
    return ANY_RING, "a ring of a kind that is not told"


BOIL_MINUTES: Final = Calculator(
    name="boil-minutes",
    title="Minutes of a boil",
    what="How long a boil takes on this ring, by the heat that it needs.",
    answer=_answer,
    inputs=(
        Input("water_g", "g", "water to boil off", low=0.0, high=100_000.0),
        Input("mass_g", "g", "all that is in the pan", low=0.1, high=200_000.0),
        Input(
            "power_kW", "kW", "what the ring draws; else the kitchen's strongest",
            low=0.05, high=50.0, is_optional=True,
        ),
        Input("from_C", "°C", "how warm it is at first", default=20.0, low=0, high=150,
              also=("start_C", "temperature_C")),
        Input("to_C", "°C", "where the boil ends", default=118.0, low=0, high=180,
              also=("end_C", "boils_at_C", "boil_to_C", "temperature_C")),
        Input(
            "dry_share", "", "how much of it is no water, 0 to 1", low=0.0, high=1.0,
            is_optional=True,
        ),
        Input(
            "ring", "", "its kind", kind="word", default="any",
            choices=("any", *RINGS),
        ),
        Input(
            "efficiency", "", "share of its power that reaches the mix, if measured",
            low=0.05, high=1.0, is_optional=True,
        ),
    ),
    example="calc boil-minutes water_g=214 mass_g=890 dry_share=0.69 power_kW=2",
    sources=(boil_heat.source, RING_SOURCE),
    python="slabwright.physics.boil_off.boil_minutes",
)  # fmt: skip
