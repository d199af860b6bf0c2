"""The calculator of a ganache: its fat, water and dry cocoa, and whether it splits."""

from math import ceil
from typing import Final

from slabwright.figure import Figure
from slabwright.physics.ganache import (
    SPLITS_FAT_SHARE,
    SPLITS_SOURCES,
    fat_share,
    liquid_to_mend,
)
from slabwright.source import sources
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
)
from slabwright.spec.calc.mixed import Mixed, told
from slabwright.spec.calc.stuffs import (
    PARTS,
    Stuff,
    chocolate_inputs,
    chocolate_of,
    cream_inputs,
    cream_of,
    plain,
)
from slabwright.spec.nature.emulsion import SLAB_WATER, emulsion_why, emulsion_word

EXTRAS: Final = {
    "milk_g": ("whole-milk", "whole milk with it"),
    "water_g": ("water", "water with it"),
    "butter_g": ("butter-unsalted", "unsalted butter with it"),
    "glucose_g": ("glucose-syrup-42de", "glucose syrup 42 DE with it"),
}
"""What else goes into most of them: name, row of the larder, words."""
NO_FIRMNESS: Final = (
    "Nothing here tells how firm it sets: crystals and temper make that too. Prove it "
    "on the bench."
)
_MOST_G: Final = 100_000.0
_WARM: Final = (
    "Mixed at 32 to 43 °C; stirred at 23 to 29 °C it splits (Notter 2011, read as "
    "reprinted elsewhere)."
)
_RATIOS: Final = (
    ("white", "2 : 1", "3 : 1"),
    ("milk", "1.5 : 1", "2.5 to 3 : 1"),
    ("dark", "1 : 1", "2 : 1"),
)
"""Chocolate to cream, poured and sliced. Source: "ganache-ratios", the rest common
practice."""


def extra_inputs() -> tuple[Input, ...]:
    """Inputs for what else goes in."""
    return tuple(
        Input(name, "g", what, default=0.0, low=0.0, high=_MOST_G)
        for name, (_, what) in EXTRAS.items()
    )


def extras_of(asked: Asked) -> tuple[tuple[Stuff, float], ...]:
    """What else goes in, as far as it does."""
    return tuple(
        (plain(id), asked.number(name))
        for name, (id, _) in EXTRAS.items()
        if asked.number(name) > 0
    )


def mixed_of(asked: Asked) -> Mixed:
    """The ganache that was asked about.

    Raises:
        CalcError: if no chocolate is named.
    """
    chocolate, cream = chocolate_of(asked), cream_of(asked)
    grams = asked.number("cream_g")
    pairs = [(chocolate, asked.number("chocolate_g"))]
    if cream is not None and grams > 0:
        pairs.append((cream, grams))
    return Mixed((*pairs, *extras_of(asked)))


def splits(mixed: Mixed) -> tuple[str, str, float]:
    """Whether it holds, why, and the water that would mend it [g]."""
    masses = mixed.masses
    cocoa = float(mixed.holds[2])
    return (
        emulsion_word(masses, cocoa),
        emulsion_why(masses, cocoa),
        float(liquid_to_mend(masses)),
    )


def emulsion_notes(mixed: Mixed) -> list[str]:
    """Whether a mix splits, and what mends it, in words."""
    word, why, wet = splits(mixed)
    notes = [f"Fat in water: {word}. {why}. {SPLITS_SOURCES[0].text}."]
    if wet > 0:
        milk = ceil(float(liquid_to_mend(mixed.masses, 0.036)))
        notes.append(
            f"Stir in {ceil(wet)} g of warm water or {milk} g of warm whole milk, also "
            "into a bowl that has split."
        )
    return notes


def usual_ratio(chocolate: Stuff) -> str:
    """Chocolate to cream as cooks have it, for dark, milk or white."""
    kind, poured, sliced = next(
        (one for one in _RATIOS if one[0] in chocolate.name), _RATIOS[-1]
    )
    return (
        f"Usual with {kind} chocolate, chocolate to cream: {poured} poured, {sliced} "
        "to slice. Common practice, and pages of cooks."
    )


def _answer(asked: Asked) -> Answer:
    mixed = mixed_of(asked)
    of_fat, wet, cocoa, sweet = (float(one) for one in mixed.holds)
    mass = mixed.mass_g
    share = float(fat_share(mixed.masses))
    said = f"{told(mixed)}: {of_fat:.4g} g of fat ÷ {mass:.5g} g = {100 * share:.1f} %"
    first = Shown(
        "fat_percent", "fat in 100 g",
        Figure(100 * share, "%", said, sources=mixed.sources),
    )  # fmt: skip
    also = [
        Shown(
            f"{name.replace(' ', '_')}_percent", f"{name} in 100 g",
            Figure(100 * grams / mass, "%",
                   f"{grams:.4g} g ÷ {mass:.5g} g = {100 * grams / mass:.1f} %"),
        )
        for name, grams in zip(PARTS[1:], (wet, cocoa, sweet), strict=True)
    ]  # fmt: skip
    phases = of_fat / (of_fat + wet)
    also.append(
        Shown(
            "fat_of_phases_percent", "fat in fat and water",
            Figure(100 * phases, "%",
                   f"{of_fat:.4g} ÷ ({of_fat:.4g} + {wet:.4g}) = {100 * phases:.1f} %"),
        )
    )  # fmt: skip
    need = float(liquid_to_mend(mixed.masses))
    said = (
        f"{of_fat:.4g} g ÷ {SPLITS_FAT_SHARE:g} − {mass:.5g} g = "
        f"{of_fat / SPLITS_FAT_SHARE - mass:.3g} g"
    )
    also.append(
        Shown(
            "water_to_mend_g", "water that brings it down to the line",
            Figure(need, "g", said if need else f"{said}: none is needed",
                   sources=SPLITS_SOURCES),
        )
    )  # fmt: skip
    return Answer(first, tuple(also), tuple(_notes(asked, mixed)))


def _notes(asked: Asked, mixed: Mixed) -> list[str]:
    notes = emulsion_notes(mixed)
    wet = float(mixed.shares[1])
    low, high = SLAB_WATER
    notes.append(
        f"A slab ganache is usually {100 * low:.0f} to {100 * high:.0f} % water; this "
        f"one has {100 * wet:.1f} %."
    )
    notes.append(usual_ratio(mixed.grams[0][0]))
    notes.extend(one.note for one, _ in mixed.grams if one.note)
    return [*notes, _WARM, NO_FIRMNESS]


GANACHE: Final = Calculator(
    name="ganache",
    title="Ganache",
    what="What a ganache holds, and whether it is likely to split.",
    answer=_answer,
    inputs=(
        *chocolate_inputs("", "its chocolate"),
        Input("chocolate_g", "g", "how much of it", low=0.1, high=_MOST_G),
        *cream_inputs("", "its cream, purée or other liquid", "double cream 48%"),
        Input("cream_g", "g", "how much of that", default=0.0, low=0.0, high=_MOST_G),
        *extra_inputs(),
    ),
    example=(
        "calc ganache chocolate='dark chocolate 60%' chocolate_g=250 "
        "cream='double cream 48%' cream_g=95 milk_g=30 butter_g=20 glucose_g=15"
    ),
    sources=(
        *SPLITS_SOURCES, sources()["close-packing"], sources()["slab-ganache-water"],
    ),
    python="slabwright.physics.ganache.fat_share",
)  # fmt: skip
