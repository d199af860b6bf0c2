"""What a gram of an ingredient brings to a nutrition declaration, and how surely.

Amounts are arrays of one entry per name of `NUTRIENTS`: grams in a gram of it, for the
energies kJ and kcal. Carbohydrate is what is available: fibre is left out, polyols are
in. Protein is nitrogen x 6.25 (Regulation (EU) No 1169/2011, Annex I, 10). Salt is
sodium x 2.5, all sodium counted: so the larder holds it already.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from slabwright.composition import CONSTITUENTS, FATS, INDEX, SATURATES, SUGARS, zeros
from slabwright.label.nutrition.rules import factors
from slabwright.larder.ingredient import Ingredient, closes_to

NUTRIENTS: Final = (
    "fat",
    "saturates",
    "carbohydrate",
    "sugars",
    "polyols",
    "starch",
    "fibre",
    "protein",
    "salt",
    "alcohol",
    "organic_acids",
    "erythritol",
    "energy_kj",
    "energy_kcal",
)
"""What is reckoned; `erythritol` is a part of the polyols."""
AT: Final = {name: i for i, name in enumerate(NUTRIENTS)}
"""Where each stands."""
ENERGIES: Final = ("energy_kj", "energy_kcal")
Amounts = NDArray[np.float64]
"""Shape (..., len(NUTRIENTS))."""

_N_625_LOW: Final = 6.25 / 6.38
_N_625_HIGH: Final = 6.25 / 5.18
"""Nitrogen x 6.25 over protein by a food's own factor: milk 6.38, almonds 5.18. From
memory; used only where no table gives nitrogen x 6.25."""
_SALT_PER_SODIUM: Final = 2.5
"""Regulation (EU) No 1169/2011, Annex I, 11."""
_SURELY: Final = "carbohydrate"
"""How the larder begins to say what a rest is, if it surely is carbohydrate."""


@dataclass(frozen=True)
class Brings:
    """What a gram of an ingredient brings."""

    value: Amounts
    """Where something is not known: half way between its ends."""
    low: Amounts
    high: Amounts
    missing: tuple[tuple[str, str], ...] = ()
    """Nutrients that nobody gave, each with the reason in words."""


_Ends = tuple[float, float, float]
"""As worked out, low end, high end [g per g]."""
_COUNTED: Final = ("sugars", "higher_saccharides", "starch", "polyols")
"""What carbohydrate is made of, but for a rest that counts as such."""
_NONE: Final[_Ends] = (0.0, 0.0, 0.0)


def brings(ingredient: Ingredient, like: Ingredient | None = None) -> Brings:
    """What a gram of an ingredient brings.

    Args:
        ingredient: one of the larder.
        like: what it is like, if it is the user's own and says so.
    """
    if ingredient.composition is None:
        return unknown(f"nobody here knows what '{ingredient.name}' is made of")
    said = _said(ingredient)
    if ingredient.own and like is None:
        found, left_out = _said_alone(said)
    else:
        found, left_out = _of_table(ingredient, like), frozenset[str]()
    found |= {name: (grams, grams, grams) for name, grams in said.items()}
    found["erythritol"] = found["polyols"] if _is_erythritol(ingredient) else _NONE
    missing = tuple(
        (name, f"nobody gave the {_word(name)} of '{ingredient.name}'")
        for name in NUTRIENTS
        if name in left_out
    )
    return _with_energy(found, missing)


def unknown(why: str) -> Brings:
    """What a gram of something brings of which nobody knows anything."""
    names = [name for name in NUTRIENTS if name not in {*ENERGIES, "erythritol"}]
    found: dict[str, _Ends] = dict.fromkeys(names, (0.5, 0.0, 1.0))
    found["erythritol"] = (0.0, 0.0, 1.0)
    value, low, high = (
        np.array([found[n][end] for n in NUTRIENTS if n in found] + [0.0, 0.0])
        for end in range(3)
    )
    kJ, kcal = _most_energy()
    high[AT["energy_kj"]], high[AT["energy_kcal"]] = kJ, kcal
    value[AT["energy_kj"]], value[AT["energy_kcal"]] = kJ / 2, kcal / 2
    return Brings(value, low, high, tuple((name, why) for name in (*names, *ENERGIES)))


def energy_factors() -> tuple[Amounts, Amounts]:
    """KJ and kcal of a gram of each nutrient; those that stand for others bear none.

    Carbohydrate bears the law's factor, and polyols what they bear less, since they
    stand within it; erythritol again within the polyols.
    """
    return _energy_factors()


@cache
def _energy_factors() -> tuple[Amounts, Amounts]:
    by = {one.component: one for one in factors()}
    kJ, kcal = np.zeros(len(NUTRIENTS)), np.zeros(len(NUTRIENTS))
    for name in ("carbohydrate", "protein", "fat", "alcohol", "organic_acids", "fibre"):
        kJ[AT[name]], kcal[AT[name]] = by[name].kJ_per_g, by[name].kcal_per_g
    for inner, outer in (("polyols", "carbohydrate"), ("erythritol", "polyols")):
        kJ[AT[inner]] = by[inner].kJ_per_g - by[outer].kJ_per_g
        kcal[AT[inner]] = by[inner].kcal_per_g - by[outer].kcal_per_g
    kJ.flags.writeable = kcal.flags.writeable = False
    return kJ, kcal


def _most_energy() -> tuple[float, float]:
    return (
        max(one.kJ_per_g for one in factors()),
        max(one.kcal_per_g for one in factors()),
    )


def _of_table(ingredient: Ingredient, like: Ingredient | None) -> dict[str, _Ends]:
    """What the larder's own row gives, or that of what it is like."""
    row = ingredient.composition
    shares = zeros() if row is None else row
    there = {name: float(shares[INDEX[name]]) for name in (*CONSTITUENTS, SATURATES)}
    same = ("saturates", "fibre", "salt", "alcohol", "organic_acids", "polyols",
            "starch")  # fmt: skip
    found = {name: (there[name],) * 3 for name in same}
    found["fat"] = (sum(there[name] for name in FATS),) * 3
    sugars = sum(there[name] for name in SUGARS)
    found["sugars"] = (sugars,) * 3
    found["protein"] = _protein(there["protein"], like or ingredient)
    counted = sugars + sum(there[name] for name in _COUNTED if name in there)
    energy, rest = (like or ingredient).energy, there["rest"]
    if energy is not None and energy.rest_factor == 0:
        rest = 0.0
    is_sure = ingredient.rest_is.startswith(_SURELY)
    found["carbohydrate"] = (counted + rest, counted + rest * is_sure, counted + rest)
    return found


def _said(ingredient: Ingredient) -> dict[str, float]:
    """What the user's own row gives, as a label names it [g per g]."""
    given = {name: value / 100 for name, value in ingredient.declared.items()}
    said: dict[str, float] = {n: given[n] for n in NUTRIENTS if n in given}
    if "sodium" in given and "salt" not in said:
        said["salt"] = given["sodium"] * _SALT_PER_SODIUM
    for group, parts in (("fat", FATS), ("sugars", SUGARS)):
        if group not in said and set(parts) <= set(given):
            said[group] = sum(given[name] for name in parts)
    there = given | said
    if "carbohydrate" not in said and set(_COUNTED) <= set(there):
        said["carbohydrate"] = sum(there[name] for name in _COUNTED)
    return said


def _said_alone(said: Mapping[str, float]) -> tuple[dict[str, _Ends], frozenset[str]]:
    """Ranges of what a row that is like nothing leaves out, and what that is.

    A row that gives fat, carbohydrate and protein is a pack's own declaration: what
    holds alcohol says so on its pack, so none is looked for where it names none.

    Args:
        said: what it gives [g per g].
    """
    whole = ("fat", "carbohydrate", "fibre", "protein", "salt", "alcohol",
             "organic_acids")  # fmt: skip
    left = max(1.0 - sum(said.get(name, 0.0) for name in whole), 0.0)
    found: dict[str, _Ends] = {name: _between(0.0, left) for name in whole}
    left_out = {name for name in whole if name not in said and left > 0}
    if {"fat", "carbohydrate", "protein"} <= set(said):
        found["alcohol"] = _NONE
        left_out -= {"alcohol"}
    inside = {"saturates": "fat", "sugars": "carbohydrate", "starch": "carbohydrate",
              "polyols": "carbohydrate"}  # fmt: skip
    for part, outer in inside.items():
        most = said.get(outer, left)
        if outer == "carbohydrate":
            others = [n for n in ("sugars", "starch", "polyols") if n != part]
            most = max(most - sum(said.get(name, 0.0) for name in others), 0.0)
        found[part] = _between(0.0, most)
        if part not in said and most > 0:
            left_out.add(part)
    least = sum(said.get(name, 0.0) for name in ("sugars", "starch", "polyols"))
    found["carbohydrate"] = _between(min(least, 1.0), min(least + left, 1.0))
    return found, frozenset(left_out)


def _between(low: float, high: float) -> _Ends:
    return (low + high) / 2, low, high


def _protein(there: float, base: Ingredient) -> _Ends:
    """Nitrogen x 6.25, as its table gives it beside its own protein."""
    energy, own = base.energy, base.values.get("protein")
    if energy is None or energy.protein_n625 is None:
        return there, there * _N_625_LOW, there * _N_625_HIGH
    if own is None or not own.value > 0:
        there = energy.protein_n625 / closes_to(base.values)
        return there, there, there
    there *= energy.protein_n625 / own.value
    return there, there, there


def _is_erythritol(ingredient: Ingredient) -> bool:
    ids = {ingredient.id, ingredient.like}
    return any(ids & set(one.larder) for one in factors())


def _word(name: str) -> str:
    return name.replace("_", " ")


def _with_energy(
    found: Mapping[str, _Ends], missing: tuple[tuple[str, str], ...]
) -> Brings:
    """The same with its energy; what is not known of one can't be all of each."""
    names = [name for name in NUTRIENTS if name not in ENERGIES]
    value, low, high = (
        np.array([found[name][end] for name in names] + [0.0, 0.0]) for end in range(3)
    )
    bearing = ""
    for name, factor in zip(ENERGIES, _energy_factors(), strict=True):
        at, more = AT[name], np.maximum(factor, 0.0)
        bearing = next((w for n, w in missing if factor[AT[n]]), "")
        low[at] = max(float(low @ more + high @ (factor - more)), 0.0)
        high[at] = float(low[:at] @ factor[:at]) + float(((high - low) * more).max())
        value[at] = (low[at] + high[at]) / 2 if bearing else float(value @ factor)
    value = np.maximum(value, 0.0)
    low, high = np.clip(low, 0.0, value), np.maximum(high, value)
    if bearing:
        missing = (*missing, *((name, bearing) for name in ENERGIES))
    return Brings(value, low, high, missing)
