"""Salt beyond what the water of a layer dissolves, and the grams that mend it."""

from collections.abc import Iterator
from typing import Final

from slabwright.composition import total, water
from slabwright.finding import Finding, Severity
from slabwright.physics.solubility import salt_crystals, salt_solubility
from slabwright.physics.species import AT, parts_of
from slabwright.spec.nature.subject import Subject

AT_C: Final = 25.0
_WET: Final = 0.05
"""Share of water under which nobody expects salt to dissolve: in a dry biscuit or in
chocolate it lies as crystals, and is meant to. Our own."""


def salt_findings(subject: Subject) -> Iterator[Finding]:
    """What a maker should know where salt is more than all the water can dissolve.

    Nothing where the wettest end of the layer dissolves it, or where the layer is dry.
    """
    finished = subject.finished
    wet = water(finished)
    if subject.unknown or not (wet > _WET * total(finished)).all():
        return
    parts = parts_of(finished)
    left = salt_crystals(parts, AT_C)
    if not (left > 0).all():
        return
    most = float(salt_solubility(AT_C))
    salt, more = float(parts[0, AT["salt"]]), 100 * float(left[0]) / most
    yield Finding(
        "salt_undissolved", Severity.LOOK, subject.name,
        f"{float(left[0]):.3g} g of its salt stay as crystals.",
        f"{float(wet[0]):.4g} g of water dissolve {salt - float(left[0]):.3g} g, "
        f"{most:.1f} g to 100 g at {AT_C:g} °C; {salt:.3g} g are in it. What lies as "
        "crystals lowers its water activity no further.",
        f"Leave out {float(left[0]):.3g} g of salt, or keep {more:.3g} g of water "
        "more in it.",
        salt_solubility.source.text, subject.span, subject.number,
    )  # fmt: skip
