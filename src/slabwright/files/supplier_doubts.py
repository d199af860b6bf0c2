"""What does not add up in a supplier's specification, or is missing from it."""

from typing import Final

from slabwright.errors import Mistake
from slabwright.files.supplier import Specification

_APART: Final = 0.08
"""Declared and reckoned energy may differ by this share: both are rounded."""
_SALT_PER_SODIUM: Final = 2.5
"""Regulation (EU) No 1169/2011, Annex I(11)."""


def doubts(said: Specification, *, is_like: bool) -> tuple[Mistake, ...]:
    """What does not add up in a specification, or is missing from it.

    Args:
        said: the specification.
        is_like: whether an ingredient that it is like gives what is missing.
    """
    found: list[Mistake] = []
    values = said.per_100g
    for part, whole in (("saturates", "fat"), ("sugars", "carbohydrate")):
        if part in values and whole in values and values[part] > values[whole] + 0.1:
            what = f"{part} {values[part]:g} g is more than its {whole}."
            found.append(Mistake(what, "Read the specification again."))
    if "salt" in values and "sodium" in values:
        salt = values["sodium"] * _SALT_PER_SODIUM
        if abs(salt - values["salt"]) > max(0.1 * salt, 0.02):
            what = f"Its sodium makes {salt:.3g} g of salt, not {values['salt']:g} g."
            found.append(Mistake(what, "Take one of them out; sodium is taken."))
    mains = ("water", "fat", "carbohydrate", "fibre", "protein", "salt", "alcohol")
    total = sum(values.get(name, 0.0) for name in mains)
    if total > 101:
        what = f"Its parts come to {total:.1f} g per 100 g."
        found.append(Mistake(what, "Read the specification again."))
    if said.energy_kJ and len(values) > 2:
        gap = said.energy_by_factors - said.energy_kJ
        if abs(gap) > max(_APART * said.energy_kJ, 20.0):
            what = (
                f"Its energy is given as {said.energy_kJ:.0f} kJ; fat, carbohydrate, "
                f"fibre and protein make {said.energy_by_factors:.0f} kJ."
            )
            found.append(Mistake(what, "One of them is wrong: ask the supplier."))
    missing = [n for n in ("fat", "carbohydrate", "protein") if n not in values]
    if missing and not is_like:
        what = f"It does not say {', '.join(missing)}."
        found.append(Mistake(what, "Add them, or say what it is like."))
    return tuple(found)
