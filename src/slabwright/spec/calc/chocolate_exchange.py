"""The calculator of chocolates: another in its place, and what keeps the mix close."""

from typing import Final

from slabwright.figure import Figure
from slabwright.physics.ganache import SPLITS_SOURCES
from slabwright.source import Source
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Input, Shown
from slabwright.spec.calc.ganache import (
    EXTRAS,
    NO_FIRMNESS,
    emulsion_notes,
    extra_inputs,
    extras_of,
    usual_ratio,
)
from slabwright.spec.calc.mixed import Mixed, changes, closest, told
from slabwright.spec.calc.stuffs import (
    Stuff,
    chocolate_inputs,
    chocolate_of,
    cream_inputs,
    cream_of,
    plain,
)

_MOST_G: Final = 100_000.0
_FELT: Final = 0.015
"""Dry cocoa that is missed, in a gram. Our own."""
_WET: Final = 0.05
"""With less water than this it is chocolate, not ganache."""
_KEPT: Final = (
    "It keeps the weight, and fat, water and dry cocoa in 100 g as close as it can, "
    "water counting double."
)


def _answer(asked: Asked) -> Answer:
    one, other = chocolate_of(asked, "from_"), chocolate_of(asked, "to_")
    cream = cream_of(asked)
    cream_g = asked.number("cream_g") if cream is not None else 0.0
    new_cream = cream_of(asked, "to_") or cream
    extras = extras_of(asked)
    kept = tuple(pair for pair in extras if pair[0] not in (_milk(), _butter()))
    old_pairs = [(one, asked.number("chocolate_g"))]
    if cream is not None and cream_g > 0:
        old_pairs.append((cream, cream_g))
    old = Mixed((*old_pairs, *extras))
    liquid = new_cream if cream_g > 0 else None
    must, may = _things(asked, other, liquid, extras)
    rest = Mixed(kept)
    wanted = old.holds - rest.holds
    found, best = closest(wanted, old.mass_g - rest.mass_g, must, may, old.mass_g)
    new = Mixed((*found.grams, *kept))
    grams = found.grams_of(other)
    said = (
        f"{told(old)} = {told(new)}, {old.mass_g:.5g} g both; dry cocoa "
        f"{100 * old.shares[2]:.1f} % and {100 * new.shares[2]:.1f} %"
    )
    first = Shown(
        "chocolate_g", other.name, Figure(grams, "g", said, sources=_sources(old, new))
    )
    also = [*_beside(found, liquid), *changes(old, new)]
    return Answer(first, tuple(also), tuple(_notes(found, best, old, new, kept)))


def _sources(old: Mixed, new: Mixed) -> tuple[Source, ...]:
    return tuple(dict.fromkeys((*old.sources, *new.sources)))


def _milk() -> Stuff:
    return plain(EXTRAS["milk_g"][0])


def _butter() -> Stuff:
    return plain(EXTRAS["butter_g"][0])


def _sugar() -> Stuff:
    return plain("caster-sugar")


def _things(
    asked: Asked,
    chocolate: Stuff,
    cream: Stuff | None,
    extras: tuple[tuple[Stuff, float], ...],
) -> tuple[tuple[Stuff, ...], list[tuple[Stuff, ...]]]:
    """What the new mix is made of, and what may go in beside."""
    milk, butter = _milk(), _butter()
    named = [stuff for stuff, _ in extras]
    if cream is not None:
        must: tuple[Stuff, ...] = (chocolate, cream)
        fats: list[tuple[Stuff, ...]] = [(milk,), (butter,)]
    elif milk in named:
        must, fats = (chocolate, milk), [(butter,)]
    else:
        must = (chocolate,)
        fats = [(butter,)] if butter in named else [(plain("cocoa-butter"),)]
    if asked.word("sugar") == "no":
        return must, fats
    return must, [*fats, (_sugar(),), *((*some, _sugar()) for some in fats)]


def _beside(found: Mixed, cream: Stuff | None) -> list[Shown]:
    rows = [
        ("cream_g", cream), ("milk_g", _milk()), ("butter_g", _butter()),
        ("sugar_g", _sugar()), ("cocoa_butter_g", plain("cocoa-butter")),
    ]  # fmt: skip
    return [
        Shown(
            name, stuff.name,
            Figure(found.grams_of(stuff), "g",
                   f"{found.grams_of(stuff):.4g} g of {stuff.name}"),
        )
        for name, stuff in rows
        if stuff is not None
        and (found.grams_of(stuff) > 0 or name in {"cream_g", "sugar_g"})
    ]  # fmt: skip


def _notes(
    found: Mixed,
    best: Mixed,
    old: Mixed,
    new: Mixed,
    kept: tuple[tuple[Stuff, float], ...],
) -> list[str]:
    notes = [_KEPT]
    if found != best:
        notes.append(f"Closest of all: {told(best)}. No change worth making.")
    if kept:
        names = ", ".join(f"{grams:g} g {stuff.name}" for stuff, grams in kept)
        notes.append(f"Kept as they were: {names}.")
    if float(new.shares[1]) > _WET:
        notes.extend(emulsion_notes(new))
    named = dict.fromkeys(one.note for one, _ in (*old.grams, *new.grams) if one.note)
    return [*notes, *_less_cocoa(old, new), *named, NO_FIRMNESS]


def _less_cocoa(old: Mixed, new: Mixed) -> list[str]:
    """What a mix with much less dry cocoa is like, and what brings it back."""
    less = float(old.shares[2] - new.shares[2])
    chocolate = new.grams[0][0]
    powder = plain("cocoa-powder-20-22")
    if less < _FELT:
        return []
    grams = less * new.mass_g / float(powder.holds[2] - chocolate.holds[2])
    return [
        f"With {100 * less:.1f} points less dry cocoa it sets softer. {grams:.0f} g of "
        f"{powder.name} in place of as much {chocolate.name} brings it back.",
        usual_ratio(chocolate),
    ]


CHOCOLATE_EXCHANGE: Final = Calculator(
    name="chocolate-exchange",
    title="One chocolate for another",
    what="How much of another chocolate, with how much cream, comes closest.",
    answer=_answer,
    inputs=(
        *chocolate_inputs("from_", "the chocolate of the formula"),
        *chocolate_inputs("to_", "the chocolate that is there"),
        Input("chocolate_g", "g", "how much the formula has", low=0.1, high=_MOST_G),
        *cream_inputs("", "its cream, if it has any", "double cream 48%"),
        Input("cream_g", "g", "how much of that", default=0.0, low=0.0, high=_MOST_G),
        *cream_inputs("to_", "another cream in its place"),
        *extra_inputs(),
        Input(
            "sugar", "", "whether caster sugar may go in", kind="word", default="yes",
            choices=("yes", "no"),
        ),
    ),
    example=(
        "calc chocolate-exchange from_chocolate='dark chocolate 60%' "
        "to_chocolate='dark chocolate 72%' chocolate_g=250 cream_g=95 milk_g=30 "
        "butter_g=20 glucose_g=15"
    ),
    sources=SPLITS_SOURCES,
    python="slabwright.physics.ganache.closest_mix",
)  # fmt: skip
