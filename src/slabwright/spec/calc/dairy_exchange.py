"""The calculator of creams: another in its place, with milk or butter beside it."""

from typing import Final

from slabwright.figure import Figure
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)
from slabwright.spec.calc.mixed import NO_CHANGE, Mixed, changes, closest, signed, told
from slabwright.spec.calc.stuffs import Stuff, cream_inputs, cream_of, plain

_MOST_G: Final = 100_000.0
_THIRD: Final = 3.0
"""Cream and milk are about a third of a ganache or caramel; where nobody tells more."""
_WHIPS: Final = (
    "Cream with less than about 35 % fat does not whip. Common practice, no source."
)
_WHIPS_SHARE: Final = 0.35


def _answer(asked: Asked) -> Answer:
    one, other = _named(asked, "from_"), _named(asked, "to_")
    milk, butter = plain("whole-milk"), plain("butter-unsalted")
    pairs = [
        (one, asked.number("cream_g")), (milk, asked.number("milk_g")),
        (butter, asked.number("butter_g")),
    ]  # fmt: skip
    old = Mixed(tuple((stuff, grams) for stuff, grams in pairs if grams > 0))
    whole = asked.optional("in_g")
    if whole is not None and whole < old.mass_g:
        raise wrong(
            f"in_g is {whole:g}, less than the {old.mass_g:g} g that go in.",
            "Give what the whole mix weighs.", "in_g",
        )  # fmt: skip
    of_g = _THIRD * old.mass_g if whole is None else whole
    new, best = closest(old.holds, old.mass_g, (other,), [(milk,), (butter,)], of_g)
    first = Shown(
        "cream_g", other.name,
        Figure(new.grams_of(other), "g", f"{told(old)} → {told(new)}",
               sources=tuple(dict.fromkeys((*old.sources, *new.sources)))),
    )  # fmt: skip
    also = [
        Shown("milk_g", milk.name, _grams(new, milk)),
        Shown("butter_g", butter.name, _grams(new, butter)),
        Shown("fat_g", "fat in them", _fat(old, new)),
        *(shown for shown in changes(old, new) if "cocoa" not in shown.name),
    ]
    moved = 100 * float(new.holds[0] - old.holds[0]) / of_g
    wet = 100 * float(new.holds[1] - old.holds[1]) / of_g
    mix = "a mix three times as heavy" if whole is None else f"{whole:g} g of mix"
    notes = [
        f"In {mix}, fat moves by {signed(moved)} and water by {signed(wet)} points in "
        f"100 g; under {100 * NO_CHANGE:.1f} it is no change worth making."
    ]
    if not new.grams_of(other) > 0:
        notes.insert(0, f"Without any {other.name} it comes closest: {told(new)}.")
    if new != best:
        notes.append(f"Exactly: {told(best)}.")
    if float(other.holds[0]) < _WHIPS_SHARE <= float(one.holds[0]):
        notes.append(_WHIPS)
    if float(new.shares[0]) < float(old.shares[0]) - 0.02:
        notes.append(
            "It stays leaner than the old mix: the closest that they can make."
        )
    notes.extend(stuff.note for stuff in (one, other) if stuff.note)
    if any(word in other.name for word in ("sour", "fraîche", "butter milk")):
        notes.append("A ripened cream brings acid as well, and curdles sooner.")
    return Answer(first, tuple(also), tuple(notes))


def _named(asked: Asked, prefix: str) -> Stuff:
    found = cream_of(asked, prefix)
    if found is None:
        name = f"{prefix}cream"
        raise wrong(
            f"{name} is missing.", f"Give it so: {name}='double cream 48%'.", name
        )
    return found


def _grams(new: Mixed, stuff: Stuff) -> Figure:
    grams = new.grams_of(stuff)
    return Figure(grams, "g", f"{grams:.4g} g" if grams else "leave it out")


def _fat(old: Mixed, new: Mixed) -> Figure:
    before, after = float(old.holds[0]), float(new.holds[0])
    said = f"{before:.1f} g before, {after:.1f} g now: {signed(after - before)} g"
    return Figure(after, "g", said)


DAIRY_EXCHANGE: Final = Calculator(
    name="dairy-exchange",
    title="One cream for another",
    what="How much of another cream, with milk or butter, keeps fat and water.",
    answer=_answer,
    inputs=(
        *cream_inputs("from_", "the cream of the formula"),
        *cream_inputs("to_", "the cream that is there"),
        Input("cream_g", "g", "how much the formula has", low=0.1, high=_MOST_G),
        Input("milk_g", "g", "whole milk with it", default=0.0, low=0.0, high=_MOST_G),
        Input("butter_g", "g", "unsalted butter with it", default=0.0, low=0.0,
              high=_MOST_G),
        Input("in_g", "g", "what the whole mix weighs", low=0.1, high=_MOST_G,
              is_optional=True),
    ),
    example=(
        "calc dairy-exchange from_cream='double cream 48%' to_cream='heavy cream 36%' "
        "cream_g=95 milk_g=30 in_g=414"
    ),
    python="slabwright.physics.ganache.closest_mix",
)  # fmt: skip
