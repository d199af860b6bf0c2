"""A line's grams: as given, or by the ingredient's own measure, with its assumption."""

import re
from dataclasses import dataclass, replace
from typing import Final

from slabwright.figure import Leans, Ranged
from slabwright.formula.habits import Habits
from slabwright.formula.line import Line
from slabwright.larder.eggs import measure_name
from slabwright.larder.ingredient import Ingredient, Measure
from slabwright.larder.lookup import Larder, Match
from slabwright.quantity.amount import Amount
from slabwright.quantity.units import PACK_WORDS

_HEAPED: Final = (1.2, 1.5, 2.0)
"""A heaped spoon holds so many level ones. Common practice, no source."""
_PIECES: Final = {"leaves": "leaf", "halves": "half"}
_GRAMS_MEANT: Final = 13
"""More pieces than a dozen of what is not sold by the piece: a unit was forgotten."""
_SMALL: Final = frozenset({"pinch", "dash", "drop"})
"""Volumes too small to measure, for which the larder may know a weight."""
_DISAGREE: Final = 0.05
"""Two measures of one line further apart than this are asked about."""
_SPOONS: Final = {"cup": 236.5882365, "tbsp": 14.78676478125, "tsp": 4.92892159375}
"""The US cup and spoons [ml], which the larder's own measures are in (NIST SP 811)."""


@dataclass(frozen=True, slots=True)
class Unweighable:
    """Why a line has no grams, and what would mend it."""

    what: str
    do: str


@dataclass(frozen=True, slots=True)
class Scale:
    """What one line's amounts are measured by."""

    ingredient: Ingredient | None
    density_g_ml: float | None = None
    """Of a component, where its card says it."""


def find(line: Line, larder: Larder, habits: Habits) -> Match | None:
    """The ingredient that a line means, the part of a fruit where only that goes in."""
    if line.part:
        whole = re.sub(r"s$", "", line.name.split(",")[0].strip())
        return larder.find(f"{whole} {line.part}", habits.country)
    found = larder.find(line.name, habits.country)
    if found is None and "," in line.name:
        found = larder.find(line.name.split(",")[0], habits.country)
    return found and _by_unit(found, line, habits)


def _by_unit(match: Match, line: Line, habits: Habits) -> Match:
    """Of several things of one name, those that come by this unit.

    A leaf of gelatine is no powder, and a teaspoon of it no leaf.
    """
    if not match.alternatives or not line.amounts:
        return match
    first = line.amounts[0]
    meant = [
        ingredient
        for ingredient in (match.ingredient, *match.alternatives)
        if isinstance(_one(first, line, Scale(ingredient), habits), Ranged)
    ]
    if not 0 < len(meant) <= len(match.alternatives):
        return match
    chosen, others = meant[0], tuple(meant[1:])
    also = "; also: " + ", ".join(o.name for o in others) if others else ""
    taken = f"taken as {chosen.name}, which comes by the {first.unit.name}{also}"
    return replace(match, ingredient=chosen, taken=taken, alternatives=others)


def weigh(line: Line, scale: Scale, habits: Habits) -> Ranged | Unweighable | None:
    """Grams of a line; None if it has no weight here (`butter for greasing`)."""
    if line.stated_g is not None:
        how: Leans = "measured" if line.is_measured else "assumed"
        said = "weighed" if line.is_measured else "as written after ="
        grams = line.stated_g
        return Ranged(grams, grams, grams, how, f"{grams:g} g, {said}")
    if line.aside:
        return None
    if not line.amounts:
        what = f"'{line.name}' has no amount."
        return Unweighable(what, "Write its grams before it, or = N g behind it.")
    beside = line.second.grams if line.second else None
    if beside is not None and all(a.grams is None for a in line.amounts):
        said = " + ".join(amount.in_words() for amount in line.amounts)
        words = f"the weight beside {said}"
        return Ranged(
            beside, beside, beside, "given", f"{beside:.5g} g, {words}", words
        )
    parts = [_one(amount, line, scale, habits) for amount in line.amounts]
    weighed = [part for part in parts if isinstance(part, Ranged)]
    if len(weighed) < len(parts):
        return next(part for part in parts if isinstance(part, Unweighable))
    if len(weighed) == 1:
        return weighed[0]
    return Ranged(
        sum(part.value for part in weighed),
        sum(part.low for part in weighed),
        sum(part.high for part in weighed),
        "assumed" if any(part.leans == "assumed" for part in weighed) else "given",
        " + ".join(part.sum for part in weighed),
        "; ".join(part.assumed for part in weighed if part.assumed),
        tuple(dict.fromkeys(s for part in weighed for s in part.sources)),
    )


def disagreement(line: Line, first_g: float, scale: Scale, habits: Habits) -> str:
    """What the other measure of a line says, if it is over 5 % from the first."""
    if line.second is None:
        return ""
    said = [*line.amounts, line.second]
    for amount in said:
        other = _one(amount, line, scale, habits)
        if not isinstance(other, Ranged) or not first_g or len(line.amounts) > 1:
            continue
        likely = other.low <= first_g <= other.high or _elsewhere(  # a cup is no scale
            amount, line, scale, habits, first_g
        )
        if abs(other.value - first_g) > _DISAGREE * first_g and not likely:
            return (
                f"{amount.in_words()} would be {other.value:.4g} g, not {first_g:.4g} g"
            )
    return ""


def _elsewhere(
    amount: Amount, line: Line, scale: Scale, habits: Habits, grams: float
) -> bool:
    """Whether the spoons or cups of another country come to these grams."""
    for spoons in ("US", "metric", "AU"):
        there = _one(amount, line, scale, replace(habits, spoons=spoons))
        if isinstance(there, Ranged) and abs(there.value - grams) <= _DISAGREE * grams:
            return True
    return False


def _one(
    amount: Amount, line: Line, scale: Scale, habits: Habits
) -> Ranged | Unweighable:
    grams = amount.grams
    if grams is not None:
        return _written(amount, grams)
    if amount.size is not None:
        each = _one(amount.size, line, scale, habits)
        return each if isinstance(each, Unweighable) else _times(amount, each, "")
    if amount.unit.kind == "portion" or amount.unit.name in _SMALL:
        own = scale.ingredient.measure(amount.unit.name) if scale.ingredient else None
        if own is not None:
            return _times(amount, _of(own), f"{own.what} as {own.grams:g} g")
    if amount.unit.kind == "portion":
        return _portion(amount, habits)
    if amount.unit.kind in {"volume", "spoon"}:
        return _volume(amount, line, scale, habits)
    return _count(amount, line, scale, habits)


def _written(amount: Amount, grams: float) -> Ranged:
    """A mass as written; the middle of a range, said so."""
    each = grams / amount.value
    if not amount.is_range:
        sizes = "" if amount.size is None else f"{amount.in_words()} = "
        unit = amount.unit.name
        is_plain = unit in {"g", "kg"} or amount.size is not None
        said = (
            f"{sizes}{grams:.6g} g"
            if is_plain
            else (f"{amount.value:g} {unit} × {each:g} g = {grams:.5g} g")
        )
        return Ranged(grams, grams, grams, "given", said)
    low, high = amount.low * each, amount.high * each
    assumed = f"the middle of {amount.in_words()}"
    return Ranged(grams, low, high, "assumed", f"{grams:.4g} g, {assumed}", assumed)


def _portion(amount: Amount, habits: Habits) -> Ranged:
    one = amount.one(habits.spoons)
    if one is None:
        return Ranged(0, 0, 0, "assumed", "no size")
    what = f"a {amount.unit.name} as about {one.value:g} g"
    measure = Measure(amount.unit.name, one.value, one.low, one.high, what, one.source)
    return _times(amount, _of(measure), what)


def _volume(
    amount: Amount, line: Line, scale: Scale, habits: Habits
) -> Ranged | Unweighable:
    """Spoons, cups and millilitres, by what the ingredient weighs in them."""
    one = amount.one(habits.spoons)
    if one is None:
        return Unweighable(f"'{amount.unit.name}' has no size here.", "Write grams.")
    density = _density(amount, one.value, scale)
    if density is None:
        what = f"What a {amount.unit.name} of '{line.name}' weighs is not known."
        return Unweighable(what, "Write grams, or = N g behind it.")
    heap = _HEAPED if amount.heaped else (1.0, 1.0, 1.0)
    level, low, high = one.value, one.low, one.high
    each = Ranged(
        level * heap[1] * density.value,
        low * heap[0] * density.low,
        high * heap[2] * density.high,
        "assumed",
        "",
        sources=tuple(dict.fromkeys((*density.sources, one.source))),
    )
    unit = f"{'heaped ' if amount.heaped else ''}{amount.unit.name}"
    each_ml = f"{level * heap[1]:g} ml × {density.value:.3g} g/ml"
    words = f"{_a(unit)} as {each_ml}"
    if amount.unit.kind == "spoon" and amount.regime is None:
        words += f" ({habits.spoons})"
    if amount.unit.is_exact:
        words = f"{density.value:.3g} g/ml"
    return _times(amount, each, words)


def _density(amount: Amount, one_ml: float, scale: Scale) -> Ranged | None:
    """What a millilitre weighs in this spoon [g/ml]: heaped goods pack as they fall."""
    ingredient = scale.ingredient
    if ingredient is None:
        value = scale.density_g_ml
        return None if value is None else Ranged(value, value, value, "assumed", "")
    nearest = sorted(_SPOONS, key=lambda name: abs(_SPOONS[name] - one_ml))
    if amount.unit.name not in _SPOONS and amount.unit.kind != "count":
        nearest = ["cup"]  # the largest is the least rounded
    for name in nearest:
        measure = ingredient.measure(f"{name}_us")
        if measure is not None:
            ml = _SPOONS[name]
            return Ranged(
                measure.grams / ml, measure.low_g / ml, measure.high_g / ml, "assumed",
                "", sources=(measure.source,),
            )  # fmt: skip
    measure = ingredient.measure("ml")
    return None if measure is None else _of(measure)


def _count(
    amount: Amount, line: Line, scale: Scale, habits: Habits
) -> Ranged | Unweighable:
    """Eggs, tins, leaves: by the ingredient's own piece or pack."""
    ingredient = scale.ingredient
    if ingredient is None:
        what = f"What one '{line.name}' weighs is not known."
        return Unweighable(what, "Write grams, or = N g behind it.")
    unit_name = amount.unit.name
    if line.part and unit_name == "each":
        unit_name = f"{line.part}_each"
    measure = _measure(ingredient, unit_name, line.size, habits)
    if measure is None and unit_name == "each":
        words = re.findall(r"[^\W\d_]+", line.name.casefold())
        pieces = [f"each_{word}" for word in words]
        pieces += [_PIECES.get(word, word.removesuffix("s")) for word in words]
        named = [ingredient.measure(piece) for piece in pieces]
        measure = next((found for found in named if found), None)
    if measure is None:
        unit = "piece" if amount.unit.name == "each" else amount.unit.name
        if line.part:
            unit = line.part
        what = f"What a {unit} of {ingredient.name} weighs is not known."
        do = "Write grams, or = N g behind it."
        if amount.unit.name == "each" and amount.value >= _GRAMS_MEANT:
            what = (
                f"'{amount.in_words()}' has no unit, and no piece of it has a weight."
            )
            do = f"Write {amount.in_words()} g if grams are meant."
        return Unweighable(what, do)
    return _times(amount, _of(measure), f"{measure.what} as {measure.grams:g} g")


def _measure(
    ingredient: Ingredient, unit: str, size: str, habits: Habits
) -> Measure | None:
    sizes = [size, habits.eggs] if size else [habits.eggs]
    classes = [measure_name(name, habits.country) for name in sizes]
    names = classes if unit == "each" else []
    for name in (*names, f"{unit}_{habits.country.casefold()}", unit):
        measure = ingredient.measure(name)
        if measure is not None:
            return measure
    if unit in PACK_WORDS:
        return _pack(ingredient, unit, habits)
    return None


def _pack(ingredient: Ingredient, unit: str, habits: Habits) -> Measure | None:
    """A usual pack of the larder, this country's first."""
    here = sorted(ingredient.packs, key=lambda p: p.country not in {habits.country, ""})
    wanted = [p for p in here if unit in p.what] or (here if unit == "pack" else [])
    if not wanted:
        return None
    first, weights = wanted[0], [p.grams for p in wanted]
    what = f"{_a(unit)} of {ingredient.name}"
    return Measure(unit, first.grams, min(weights), max(weights), what, first.source)


def _of(measure: Measure) -> Ranged:
    return Ranged(
        measure.grams, measure.low_g, measure.high_g, "assumed", "",
        sources=(measure.source,),
    )  # fmt: skip


def _times(amount: Amount, each: Ranged, assumed: str) -> Ranged:
    value = amount.value * each.value
    return Ranged(
        value,
        amount.low * each.low,
        amount.high * each.high,
        "given" if each.leans == "given" and not amount.is_range else "assumed",
        f"{amount.in_words()} × {each.value:.4g} g = {value:.4g} g",
        assumed or each.assumed,
        each.sources,
    )


def _a(unit: str) -> str:
    return f"an {unit}" if unit[0] in "aeiou" else f"a {unit}"
