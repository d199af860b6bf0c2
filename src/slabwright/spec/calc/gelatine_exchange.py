"""The calculator of gelatine: one strength for another, by both rules."""

from math import ceil
from typing import Final

from slabwright.figure import Figure, Standing, withheld
from slabwright.physics.gel import exchange, grades
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)

_RULES: Final = {"linear": "ratio of blooms", "square_root": "square root of the ratio"}
_GRADES: Final = tuple(grades())
_HOLDS: Final = "gelatine of 50 to 300 bloom"


def _answer(asked: Asked) -> Answer:
    begin, begin_name = _bloom(asked, "from")
    end, end_name = _bloom(asked, "to")
    mass = _mass(asked, begin_name)
    both = exchange(mass, begin, end)
    rule = asked.word("rule")
    by = {"linear": float(both.linear), "square_root": float(both.square_root)}
    ratio = begin / end
    sums = {
        "linear": f"{mass:g} g × {begin:g} ÷ {end:g} = {by['linear']:.3g} g",
        "square_root": (
            f"{mass:g} g × √({begin:g} ÷ {end:g}) = {by['square_root']:.3g} g"
        ),
    }
    ends = sorted(by.values())
    apart = ends[1] - ends[0]
    sources = (exchange.source,)
    shown = {
        name: Shown(
            f"mass_{name}_g", f"by the {_RULES[name]}",
            Figure(by[name], "g", sums[name], sources=sources, holds=_HOLDS),
        )
        for name in _RULES
    }  # fmt: skip
    first = Shown(
        "mass_g", f"gelatine of {end:g} bloom, by the {_RULES[rule]}",
        Figure(
            by[rule], "g", sums[rule], Standing.WORKED_OUT, ends[0], ends[1], sources,
            _HOLDS,
        ),
    )  # fmt: skip
    also = [shown["linear"], shown["square_root"]]
    also += _leaves(asked, by[rule], end_name)
    notes = [
        f"Two rules are about and differ by {apart:.2g} g here. "
        "Packets and pastry books use the ratio; the square root is older and "
        "asks for less change. Set a spoonful in the fridge before a whole tray."
    ]
    for value, name in ((begin, begin_name), (end, end_name)):
        if name:
            grade = grades()[name]
            notes.append(
                f"{name} is taken as {value:g} bloom; it is sold at "
                f"{grade.bloom[0]:g} to {grade.bloom[2]:g}."
            )
    if exchange.outside(mass, begin, end):
        notes.append(f"Beyond {_HOLDS} neither rule was tried.")
    if abs(ratio - 1) > 1e-9 and mass > 0:
        notes.append(
            "Soak it in five times its weight of cold water; leaves are drained."
        )
    return Answer(first, tuple(also), tuple(notes))


def _mass(asked: Asked, grade: str) -> float:
    """Grams that the formula asks, by their weight or by leaves of its grade."""
    given, leaves = asked.optional("mass_g"), asked.optional("from_leaves")
    if given is not None:
        return given
    if leaves is None:
        raise wrong(
            "mass_g is missing: what the formula asks.",
            "Give it so: mass_g=6, or from_leaves=3 from_grade=gold.", "mass_g",
        )  # fmt: skip
    weight = grades()[grade].leaf_g if grade else None
    if weight is None:
        raise wrong(
            "What a leaf of the formula weighs is not known.",
            "Give from_grade as bronze, silver, gold or platinum, or mass_g.",
            "from_leaves",
        )  # fmt: skip
    return leaves * weight


def _bloom(asked: Asked, side: str) -> tuple[float, str]:
    """Strength of one side, and the grade that it was taken from."""
    given, grade = asked.optional(f"{side}_bloom"), asked.word(f"{side}_grade")
    if given is not None:
        return given, ""
    if grade:
        return grades()[grade].bloom[1], grade
    raise wrong(
        f"{side}_bloom is missing: how strong the gelatine is.",
        f"Give it so: {side}_bloom=200, or {side}_grade=gold.", f"{side}_bloom",
    )  # fmt: skip


def _leaves(asked: Asked, grams: float, grade: str) -> list[Shown]:
    """How many leaves that is, where a leaf's weight is known."""
    leaf = asked.optional("leaf_g")
    known = grades()[grade].leaf_g if grade else None
    weight = leaf if leaf is not None else known
    label = "leaves"
    if weight is None:
        why = "what a leaf weighs was not given: leaf_g, or to_grade"
        return [Shown("leaves", label, withheld("leaves", why))]
    count = grams / weight
    said = f"{grams:.3g} g ÷ {weight:g} g = {count:.3g}; whole leaves: {ceil(count)}"
    sources = () if leaf is not None or not grade else (grades()[grade].source,)
    return [Shown("leaves", label, Figure(count, "leaves", said, sources=sources))]


GELATINE_EXCHANGE: Final = Calculator(
    name="gelatine-exchange",
    title="One gelatine for another",
    what="Grams of the gelatine at hand that set as firmly as what the formula asks.",
    answer=_answer,
    inputs=(
        Input(
            "mass_g", "g", "what the formula asks", low=0.0, high=100_000.0,
            is_optional=True, also=("grams", "gelatine_g", "weight_g"),
        ),
        Input(
            "from_leaves", "leaves", "leaves of from_grade, in place of mass_g",
            low=0.0, high=10_000.0, is_optional=True, also=("leaves",),
        ),
        Input(
            "from_bloom", "bloom", "its strength", low=10.0, high=400.0,
            is_optional=True, also=("bloom",),
        ),
        Input(
            "to_bloom", "bloom", "strength of what is at hand", low=10.0, high=400.0,
            is_optional=True, also=("bloom",),
        ),
        Input(
            "from_grade", "", "its grade, in place of its bloom", kind="word",
            choices=_GRADES, is_optional=True, also=("grade",),
        ),
        Input(
            "to_grade", "", "grade of what is at hand", kind="word", choices=_GRADES,
            is_optional=True, also=("grade",),
        ),
        Input(
            "rule", "", "which rule stands first", kind="word", default="linear",
            choices=tuple(_RULES),
        ),
        Input(
            "leaf_g", "g", "what one leaf at hand weighs", low=0.1, high=20.0,
            is_optional=True,
        ),
    ),
    example="calc gelatine-exchange mass_g=2.6 from_bloom=225 to_bloom=160",
    sources=(exchange.source,),
    python="slabwright.physics.gel.exchange",
)  # fmt: skip
