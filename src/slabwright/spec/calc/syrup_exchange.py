"""The calculator of exchanges: one sugar or syrup for another, and what it brings."""

from typing import Final

import numpy as np

from slabwright.figure import Figure, withheld
from slabwright.larder.ingredient import Ingredient
from slabwright.physics.graining import doctor_solids
from slabwright.physics.solubility import DISSOLVED
from slabwright.physics.species import AT, Array, Parts, parts_of
from slabwright.physics.sweetness import sucrose_equivalent, used
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)

_SUGARS: Final = [AT[name] for name in DISSOLVED]
_HOLDS: Final = "sugars in water near room warmth, without fat, acid or salt"
_NOTE: Final = (
    "By make-up alone: colour, taste, and how well it holds off grain differ too. "
    "Honey and malt bring aroma, golden syrup and honey some acid."
)


def _parts(found: Ingredient, name: str) -> Parts:
    composition = found.composition
    if composition is None or not parts_of(composition)[_SUGARS].sum() > 0:
        raise wrong(f"{found.name} holds no sugar.", "Name a sugar or a syrup.", name)
    return parts_of(composition)


def _answer(asked: Asked) -> Answer:
    mass = asked.number("mass_g")
    old, new = asked.ingredients["from"], asked.ingredients["to"]
    one, other = _parts(old, "from"), _parts(new, "to")
    solids = [float(each[_SUGARS].sum()) for each in (one, other)]
    keep = mass * solids[0] / solids[1]
    said = (
        f"{mass:g} g x {100 * solids[0]:.3g} % ÷ {100 * solids[1]:.3g} % sugars "
        f"= {keep:.4g} g"
    )
    first = Shown("mass_g", f"{new.name}, for as much sugar", Figure(keep, "g", said))
    also = (
        Shown("water_to_add_g", "water to add with it", _water(mass, keep, one, other)),
        Shown("sweetness_change", "how much sweeter that is",
              _sweeter(mass * one, keep * other)),
        Shown("mass_as_sweet_g", f"{new.name}, for as much sweetness",
              _as_sweet(mass, one, other)),
        Shown("mass_same_weight_water_g", "gram for gram it brings more water",
              _more(mass, one, other, "water")),
        Shown("doctor_change_g", "sugars that hold off grain, more",
              _doctor(mass * one, keep * other)),
    )  # fmt: skip
    return Answer(first, also, (_NOTE,))


def _water(mass: float, keep: float, one: Parts, other: Parts) -> Figure:
    had, brings = mass * float(one[AT["water"]]), keep * float(other[AT["water"]])
    said = f"{had:.4g} g in the old − {brings:.4g} g in the new = {had - brings:.4g} g"
    if had < brings:
        said += ": leave so much out, or boil it off"
    return Figure(had - brings, "g", said)


def _more(mass: float, one: Parts, other: Parts, name: str) -> Figure:
    had, brings = (float(each[AT[name]]) for each in (one, other))
    value = mass * (brings - had)
    said = f"{mass:g} g x ({100 * brings:.3g} % − {100 * had:.3g} %) = {value:.3g} g"
    return Figure(value, "g", said)


def _sweeter(one: Parts, other: Parts) -> Figure:
    old, new = sucrose_equivalent(one), sucrose_equivalent(other)
    if not old[0] > 0:
        return withheld("%", "nobody tells how sweet it is")
    change = 100 * (new / old - 1)
    said = (
        f"as sweet as {float(new[0]):.4g} g of sucrose, before {float(old[0]):.4g} g: "
        f"{float(change[0]):+.0f} %"
    )
    return Figure(
        float(change[0]), "%", said, low=float(change.min()), high=float(change.max()),
        sources=tuple(dict.fromkeys((*used(one), *used(other)))), holds=_HOLDS,
    )  # fmt: skip


def _as_sweet(mass: float, one: Parts, other: Parts) -> Figure:
    old, new = sucrose_equivalent(one), sucrose_equivalent(other)
    if not (new > 0).all():
        return withheld("g", "nobody tells how sweet it is")
    grams: Array = mass * old / new
    said = (
        f"{mass:g} g x {float(old[0]):.3g} ÷ {float(new[0]):.3g} = "
        f"{float(grams[0]):.4g} g"
    )
    return Figure(
        float(grams[0]), "g", said, low=float(grams.min()), high=float(grams.max()),
        sources=tuple(dict.fromkeys((*used(one), *used(other)))), holds=_HOLDS,
    )  # fmt: skip


def _doctor(one: Parts, other: Parts) -> Figure:
    old, new = (float(np.asarray(doctor_solids(each))) for each in (one, other))
    said = f"{new:.3g} g − {old:.3g} g: sugars other than sucrose and lactose"
    return Figure(new - old, "g", said)


SYRUP_EXCHANGE: Final = Calculator(
    name="syrup-exchange",
    title="One syrup for another",
    what="How much of another sugar or syrup keeps the sugars, or the sweetness.",
    answer=_answer,
    inputs=(
        Input("mass_g", "g", "what the formula has", default=100.0, low=0.001,
              high=1e6, also=("grams", "weight_g")),
        Input("from", "", "the sugar or syrup of the formula", kind="ingredient",
              also=("from_syrup", "from_sugar")),
        Input("to", "", "the one that you have", kind="ingredient",
              also=("to_syrup", "to_sugar")),
    ),
    example="calc syrup-exchange from='golden syrup' to='honey' mass_g=100",
    python="slabwright.physics.sweetness.sucrose_equivalent",
)  # fmt: skip
