"""The calculator of glass transitions: how hard cooked sugar is, and at what warmth."""

from typing import Final

import numpy as np

from slabwright.figure import Figure, withheld
from slabwright.physics.glass import (
    WORDS,
    constants,
    counted_share,
    glass_transition,
    glass_transition_range,
    sources_of,
    viscosity_power,
    water_for_glass,
    word_at,
)
from slabwright.physics.species import AT, SPECIES, Parts
from slabwright.spec.calc.air import WARMTHS
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)

_MOST_WATER: Final = 0.25
"""Share of water of a syrup beyond which ice forms before a glass does; from memory."""
_DRY: Final = ("starch", "fibre", "protein", "rest")
"""What does not dissolve in a syrup; fats neither."""
_HOLDS: Final = "a syrup without crystals, up to 25 % water"


def _answer(asked: Asked) -> Answer:
    parts = asked.parts if asked.parts is not None else np.zeros(len(SPECIES))
    value = float(glass_transition(parts))
    if np.isnan(value):
        raise wrong(
            "Nothing in it makes a glass.",
            "Give sugars or syrups by mass: sucrose=95 water=5.",
        )
    low, high = (float(one) for one in glass_transition_range(parts))
    first = Shown(
        "glass_transition_C",
        "glass transition",
        Figure(
            value, "°C", _sum(parts, value), low=low, high=high,
            sources=sources_of(parts), holds=_HOLDS,
        ),
    )  # fmt: skip
    warm = asked.number("temperature_C")
    above = warm - value
    distance = Figure(
        above, "K", f"{warm:g} °C − {value:.1f} °C = {above:.1f} K",
        low=warm - high, high=warm - low, sources=sources_of(parts), holds=_HOLDS,
    )  # fmt: skip
    also = (
        Shown("above_K", f"how far {warm:g} °C lies above it", distance),
        Shown("per_percent_K", "with 1 % of water more", _with_water(parts, value)),
        Shown("water_share_for_glass", "water at which it is a glass there",
              _glassy(parts, warm)),
    )  # fmt: skip
    return Answer(first, also, tuple(_notes(parts, warm, (low, value, high))))


def _notes(
    parts: Parts, warm: float, transition: tuple[float, float, float]
) -> list[str]:
    low, value, high = transition
    is_ = word_at(warm - value)
    ends = [word_at(warm - one).word for one in (high, low)]
    told = f"At {warm:g} °C it is {is_.word}: {is_.what}."
    if ends[0] != ends[1]:
        told += f" Its range goes from {ends[0]} to {ends[1]}."
    bands = ", ".join(f"{one.word} from {one.from_K:g}" for one in WORDS[1:])
    notes = [told, f"Bands of our own, in K above it: brittle below 0, {bands}."]
    if 0 <= warm - value <= 100:
        power = float(viscosity_power(warm - value))
        notes.append(
            f"By Williams, Landel and Ferry the syrup has about 10^{power:.0f} Pa s."
        )
    dissolved = _dissolved(parts)
    syrup = float(dissolved.sum())
    if dissolved[AT["water"]] > _MOST_WATER * syrup:
        notes.append(
            "Over 25 % of water: in the cold ice forms first, and it is softer."
        )
    if syrup < 0.999 * parts.sum():
        notes.append("Fat, starch, fibre and protein lie beside the syrup, not in it.")
    if counted_share(dissolved) < 0.999:
        notes.append("Salt and minerals are left out: nobody tells their glass.")
    return notes


def _with_water(parts: Parts, value: float) -> Figure:
    """How far one more gram of water in 100 g of syrup moves the transition."""
    more = parts.copy()
    syrup = float(_dissolved(parts).sum())
    more[AT["water"]] += 0.01 * syrup
    moved = float(glass_transition(more)) - value
    said = (
        f"{value:.1f} °C to {value + moved:.1f} °C with {0.01 * syrup:.3g} g of water"
    )
    return Figure(moved, "K", said, sources=sources_of(parts), holds=_HOLDS)


def _glassy(parts: Parts, warm: float) -> Figure:
    dissolved = _dissolved(parts)
    solids = float(dissolved.sum() - dissolved[AT["water"]])
    water = float(water_for_glass(parts, warm))
    if water < 0:
        return withheld("share", f"even dry it is no glass at {warm:g} °C")
    said = f"{water:.3g} g of water to {solids:.4g} g of what is dissolved"
    return Figure(
        water / (water + solids), "share", said, sources=sources_of(parts), holds=_HOLDS
    )


def _sum(parts: Parts, value: float) -> str:
    """The mean, each sugar with its dry transition and its k."""
    terms = []
    for name in SPECIES:
        mass, found = float(parts[AT[name]]), constants(name)
        if mass > 0 and found is not None:
            dry_C, k = found
            called = name.replace("_", " ")
            terms.append(f"{mass:.4g} g {called} at {dry_C:g} °C by {mass / k:.3g}")
    return f"mean of {', '.join(terms)}: {value:.1f} °C"


def _dissolved(parts: Parts) -> Parts:
    kept = parts.copy()
    for name in SPECIES:
        if name in _DRY or name.startswith("fat_"):
            kept[AT[name]] = 0.0
    return kept


GLASS_TRANSITION: Final = Calculator(
    name="glass-transition",
    title="Brittle or chewy",
    what="Below which temperature cooked sugar is a glass; how hard it is at yours.",
    answer=_answer,
    inputs=(
        Input(
            "temperature_C", "°C", "where it is cut or eaten", default=20.0, low=-40.0,
            high=160.0, also=(*WARMTHS, "room_C", "storage_C", "storage_temperature_C"),
        ),
    ),
    takes_parts=True,
    example="calc glass-transition sucrose=95 water=5",
    sources=(glass_transition.source,),
    python="slabwright.physics.glass.glass_transition",
)  # fmt: skip
