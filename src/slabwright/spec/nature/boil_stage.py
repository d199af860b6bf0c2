"""The stage of cooked sugar that a boil ends in, as books name it."""

from typing import Final

from slabwright.composition import SUGARS
from slabwright.figure import Standing
from slabwright.formula.boil import Boil
from slabwright.physics.species import AT, parts_of
from slabwright.physics.stages import (
    Stage,
    at_sea,
    spans,
    stage_named,
    stage_names,
    stages,
    stages_at,
)
from slabwright.spec.nature.aspect import Classed

_SUGARS: Final = (
    *SUGARS, "higher_saccharides", "trehalose", "isomaltulose", "maltotriose",
)  # fmt: skip
_OTHERS: Final = (
    "polyols", "sorbitol", "glycerol", "xylitol", "mannitol", "maltitol", "erythritol",
    "isomalt", "salt",
)  # fmt: skip
"""What else dissolves in such amounts that it sets the boiling point."""
_SUGARY: Final = 0.5
"""Books name the stages of sugar: less of it than this beside the others is no syrup.
Our own."""
_SLACK_C: Final = 0.5
"""How far off a book's single degree still counts as it."""


def stage_of(boil: Boil) -> Classed | None:
    """What cooks call it, by the temperature that it would boil at by the sea.

    None where no book names one, or where what boils is no syrup of sugars.
    """
    if not _is_syrup(boil):
        return None
    at_C = at_sea(boil.to_C.middle, boil.pressure_kPa)
    found = stages_at(at_C, _SLACK_C)
    names = tuple(dict.fromkeys(one.name for one in found))
    if not names:
        return _between(at_C)
    books = "; ".join(
        f"{one.name} {_degrees(one)} °C ({one.source.text})" for one in found
    )
    sources = tuple(dict.fromkeys(one.source for one in found))
    return Classed(
        "stage", "what cooks call it", " or ".join(names),
        f"{at_C:.0f} °C at the sea lies in {books}", stage_names(),
        Standing.WORKED_OUT, sources,
    )  # fmt: skip


def _degrees(stage: Stage) -> str:
    low, high = f"{stage.low_C:.0f}", f"{stage.high_C:.0f}"
    return low if low == high else f"{low}-{high}"


def _is_syrup(boil: Boil) -> bool:
    """Whether sugars are most of what is dissolved."""
    parts = parts_of(boil.mix[0])
    sugars = sum(float(parts[AT[one]]) for one in _SUGARS)
    others = sum(float(parts[AT[one]]) for one in _OTHERS)
    return sugars > 0 and sugars >= _SUGARY * (sugars + others)


def _between(at_C: float) -> Classed | None:
    """The stage where no book's range holds a temperature; None outside all of them.

    Books leave gaps: hard crack ends at 154 °C in two and begins at 157 °C in a third.
    """
    name = stage_named(at_C)
    words = stage_names()
    if name.startswith("between "):
        below, above = name.removeprefix("between ").split(" and ")
        at = words.index(above)
        words = (*words[:at], name, *words[at:])
        ends = f"{spans(below)[1]:.0f} °C, {above} begins at {spans(above)[0]:.0f} °C"
        why = f"{at_C:.0f} °C at the sea lies in a gap: {below} ends at {ends}"
    elif name in words:
        low, high = spans(name)
        why = (
            f"{at_C:.0f} °C at the sea lies in the {low:.0f} to {high:.0f} °C that the "
            f"books together give {name}"
        )
    else:
        return None
    sources = tuple(dict.fromkeys(one.source for one in stages()))
    return Classed(
        "stage", "what cooks call it", name, why, words, Standing.WORKED_OUT, sources
    )
