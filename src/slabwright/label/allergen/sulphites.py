"""Sulphites by calculation: total SO2 in the finished slab against the law's 10 mg/kg.

All that goes in is taken as still there: heat drives some off, so the sum is at least
what a test would find.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from slabwright.errors import Span
from slabwright.figure import Figure, Standing, weakest
from slabwright.label.allergen.allergens import Doubt, State, Trace, Way
from slabwright.label.allergen.annex import SULPHITES, SULPHITES_ABOVE_MG_KG, listed
from slabwright.larder.ingredient import Ingredient


@dataclass(frozen=True, slots=True)
class Sulphited:
    """A line whose ingredient has a known SO2."""

    ingredient: Ingredient
    so2_mg_kg: float
    grams: float | None
    """How much of it lies in the slab; None if that is not known."""
    way: Way
    span: Span | None


def so2_of(lines: Sequence[Sulphited], mass: Figure) -> Figure | None:
    """Total SO2 of these lines in the finished slab [mg/kg].

    Args:
        lines: every line whose SO2 is known.
        mass: the finished slab [g]; its low end counts, where it has one.

    Returns:
        None if no line has a figure, if one's grams or the slab's mass are not known.
    """
    whole_g = mass.low if mass.low is not None else mass.value
    if not lines or whole_g is None or not whole_g > 0:
        return None
    parts: list[tuple[float, float]] = []
    for line in lines:
        if line.grams is None:
            return None
        parts.append((line.grams, line.so2_mg_kg))
    sulphur_mg = sum(grams * mg_kg / 1000 for grams, mg_kg in parts)
    value = round(sulphur_mg / float(whole_g) * 1000, 9)
    said = " + ".join(f"{g / 1000:.4g} kg × {mg:g} mg/kg" for g, mg in parts)
    total = f"{sulphur_mg:.4g} mg ÷ {float(whole_g) / 1000:.4g} kg = {value:.3g} mg/kg"
    standing = weakest([mass.standing, Standing.WORKED_OUT, "given"])
    text = f"{said} = {total}" if len(parts) > 1 or parts[0][0] else total
    return Figure(value, "mg/kg", text, standing)


def sulphite_traces(lines: Iterable[Sulphited], figure: Figure) -> tuple[Trace, ...]:
    """Declared above the law's limit, exempt up to it; the sum stands as the reason."""
    law = listed()[SULPHITES]
    is_above = figure.number > SULPHITES_ABOVE_MG_KG
    state = State.CONTAINS if is_above else State.EXEMPT
    side = "above" if is_above else "not above"
    why = f"{figure.sum}, {side} {SULPHITES_ABOVE_MG_KG:g} mg/kg: {law.article}"
    return tuple(
        Trace(
            SULPHITES,
            state,
            line.way,
            why,
            line.ingredient.name,
            line.ingredient.id,
            line.ingredient.allergen_answer or "its row in larder.yaml",
            line.span,
        )
        for line in lines
        if line.so2_mg_kg > 0
    )


def not_summed(line: Sulphited) -> Doubt:
    """What is asked where grams or mass are missing for the sum."""
    why = "its SO2 is known, but not how much of it lies in how heavy a slab"
    return Doubt((SULPHITES,), why, line.way)
