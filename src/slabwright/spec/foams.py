"""What boils up and what is whipped to a foam, and how far that rises."""

from collections.abc import Iterable, Sequence
from typing import Final

from slabwright.formula.heating import first_word, hottest, is_boil, is_oven, says
from slabwright.formula.step import Step
from slabwright.formula.vessel.contents import Content, Portion
from slabwright.formula.vessel.pours import MOVES, base_of
from slabwright.source import Source
from slabwright.spec.fills import fills

BOILS_C: Final = 95.0
"""A mix that is brought to less does not boil. Common practice, no source."""
SYRUP_SHARE: Final = 0.5
"""From this share of sugars a mix with gelatine whips to a foam. Our own limit."""
AIRY_TEXTURES: Final = frozenset({"foam", "sponge"})
_RISING: Final = {"sugar", "syrup", "dairy", "plant drink"}
_RISING_NAMES: Final = ("sugar", "syrup", "milk", "cream", "honey")
_WHIPS: Final = {"whisk", "whip", "beat"}
_AIRY: Final = (
    "peaks", "peak", "foam", "frothy", "ribbon", "volume", "whip", "fluffy", "stiff",
    "doubled", "tripled",
)  # fmt: skip
_STIRRED: Final = ("smooth", "dissolved", "combined", "melted")
"""A whisk that only stirs: it ends at one of these."""
_CREAMS: Final = ("cream-48", "cream-38", "cream-36", "cream-30")
_WHIPS_WITH_GELATINE: Final = {
    "sugar", "syrup", "water", "setting", "fruit", "flavouring", "spirit",
}  # fmt: skip


def boils(step: Step, content: Content, *, is_poured_in: bool) -> bool:
    """Whether what is in the vessel boils up in this step.

    Args:
        step: what is done.
        content: what stands in the vessel then.
        is_poured_in: whether the step has just poured it there. `Pour at 118 C` boils
            nothing, `return to the pan and boil` does.
    """
    if is_oven(step):
        return False
    if is_poured_in or base_of(first_word(step)) in MOVES:
        is_said = is_poured_in and says(step, "boil", "simmer", "cook", "reduce")
    else:
        is_said = is_boil(step)
    top = hottest(step)
    is_hot = top is None or top >= BOILS_C
    return is_said and is_hot and any(map(_may_rise, content.portions))


def whips(step: Step, content: Content, texture: str, *, is_poured_in: bool) -> bool:
    """Whether this step whips air into what is in the vessel.

    A whisk stirs too: it whips where its words or the texture say so, and where egg
    white or gelatine stands with a sugar syrup.
    """
    if is_oven(step):
        return False
    first = base_of(first_word(step))
    words = {first}
    if is_poured_in:
        words |= {base_of(word) for word in step.text.casefold().split()}
    if not words & _WHIPS or not foams_of(content.portions, texture):
        return False
    if "whip" in words or texture in AIRY_TEXTURES or says(step, *_AIRY):
        return True
    if says(step, *_STIRRED):
        return False
    has_syrup = any(_is_syrup(one) for one in content.portions)
    has_white = any(_larder_id(one).startswith("egg-white") for one in content.portions)
    is_stirred_in = " in " in f" {step.text.casefold()} " and not is_poured_in
    return has_syrup and (has_white or not is_stirred_in)


def foams_of(portions: Sequence[Portion], texture: str) -> dict[int, str]:
    """The kind of foam that each portion is whipped to, by its place; plain left out.

    Gelatine in a sugar syrup takes all that is thin with it; egg white and cream rise
    by themselves, and so does egg in a sponge or a foam.
    """
    is_mallow = _is_mallow(portions)
    found = {n: _foam(one, texture, is_mallow) for n, one in enumerate(portions)}
    return {n: kind for n, kind in found.items() if kind}


def rise(portions: Iterable[Portion]) -> tuple[float, float, float, str, list[Source]]:
    """What portions come to as they stand [ml]: likely, low, high, sum, sources."""
    value = low = high = 0.0
    parts: list[str] = []
    leans: dict[Source, None] = {}
    for one in portions:
        fill = fills()[one.foam or "plain"]
        value += one.ml * fill.times
        low += one.ml * fill.low
        high += one.ml * fill.high
        if fill.times > 1:
            leans[fill.source] = None
            parts.append(f"{one.line.line.name} {one.ml:,.0f} × {fill.times:g}")
    said = f"{' + '.join(parts)}, the rest as it is = {value:,.0f} ml"
    return value, low, high, said, list(leans)


def _foam(one: Portion, texture: str, is_mallow: bool) -> str:
    key = _larder_id(one)
    if key.startswith("egg-white"):
        return "egg-white"
    if key.endswith(_CREAMS):
        return "cream"
    if key in {"whole-egg", "egg-yolk"}:
        return "egg" if texture in AIRY_TEXTURES else ""
    thin = one.line.ingredient is not None and (
        one.line.ingredient.group in _WHIPS_WITH_GELATINE
    )
    return "gelatine" if is_mallow and thin else ""


def _is_mallow(portions: Sequence[Portion]) -> bool:
    if not any("gelatine" in _larder_id(one) for one in portions):
        return False
    if not any(map(_is_syrup, portions)):
        return False
    sugars = sum(one.grams for one in portions if _group(one) in {"sugar", "syrup"})
    return sugars >= SYRUP_SHARE * sum(one.grams for one in portions)


def _is_syrup(one: Portion) -> bool:
    """A syrup from its jar, or sugar that has been heated."""
    return _group(one) == "syrup" or (_group(one) == "sugar" and one.is_hot)


def _may_rise(one: Portion) -> bool:
    if one.line.ingredient is not None:
        return one.line.ingredient.group in _RISING
    return any(word in one.line.line.name.casefold() for word in _RISING_NAMES)


def _larder_id(one: Portion) -> str:
    return one.line.ingredient.id if one.line.ingredient else ""


def _group(one: Portion) -> str:
    return one.line.ingredient.group if one.line.ingredient else ""
