"""A reading at the end of a boil, as it was taken: onto the card that it teaches."""

import re
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.card.edit import Edit
from slabwright.files.card.edits import Asked, edited
from slabwright.files.card.reader import CardRead
from slabwright.files.card.sizes import number_of
from slabwright.files.folder import Folder
from slabwright.formula.book import called
from slabwright.formula.component import Component, Into
from slabwright.formula.heating import ends_boil_at
from slabwright.formula.step import Band, Step
from slabwright.spec.probe import FROM_C, probe_error

_WITH_PAN: Final = re.compile(
    r"\s*,?\s*\b(?:with|and|in)\s+(?:the\s+)?(?P<pan>[\w ]*?pan|pot|saucepan)"
    r"(?:\s+and\s+all)?\b",
    re.IGNORECASE,
)
_GRAMS: Final = re.compile(r"(?P<n>[\d.,]+)\s*(?P<u>kg|g)\b", re.IGNORECASE)
_SAYS_AT: Final = re.compile(r"\b(?:at|when)\s+\d", re.IGNORECASE)
_LEAST_G: Final = 1.0


def taught(
    folder: Folder,
    text: str,
    read: CardRead,
    block: str,
    reading: str,
    probe_C: float | None = None,
) -> Edit:
    """The change that writes a reading below the boil that it was taken at.

    Args:
        folder: the kitchen, for its pans and its probe.
        text: the card.
        read: the same, read.
        block: the layer or component, by its name.
        reading: as it was taken: `655 g`, `2755 g with the pan`, `88 Brix`.
        probe_C: what the probe showed; None where the card's own end holds.

    Raises:
        FileError: for a layer without a boil, a pan that nobody weighed empty, or
            words that are no reading.
    """
    found = _block(read, block)
    step, ends_C = _last_boil(found, folder.book.pressure_kPa)
    value = _without_pan(reading, found, step, folder)
    if probe_C is not None and _SAYS_AT.search(value):
        what = f"'{reading}' says how hot it was, and so does the probe."
        raise FileError(Mistake(what, "Give one of them."))
    if probe_C is not None:
        value = f"{value} at {_at_end(probe_C, folder):.4g} C"
    elif not _SAYS_AT.search(value) and any(sign.isdigit() for sign in value):
        value = f"{value} at {ends_C.middle:g} C"  # it stays, should the step change
    asked = Asked("boil_reading", value, line=step.span.line)
    return edited(text, asked, read, folder.names, folder.tins)


def _block(read: CardRead, name: str) -> Component:
    card = read.card
    blocks = [*card.components, *(one.component for one in card.layers)]
    names = tuple(block.name for block in blocks)
    found = called(name, names)
    if len(found) == 1:
        return blocks[found[0]]
    near = tuple(names[at] for at in found) or names
    what = f"No layer here is called '{name}'."
    if found:
        what = f"'{name}' can mean more than one layer."
    do = f"Write one of: {', '.join(near)}." if near else "The card has no layers."
    raise FileError(Mistake(what, do, Where(), near[:3]))


def _last_boil(block: Component, pressure_kPa: float) -> tuple[Step, Band]:
    for step in reversed(block.steps):
        to_C = ends_boil_at(step, pressure_kPa)
        if to_C is not None:
            return step, to_C
    what = f"{block.name} is boiled to no temperature."
    raise FileError(Mistake(what, "Write such a step first: boil to 118 C."))


def _at_end(probe_C: float, folder: Folder) -> float:
    """What the mix was, where the probe showed so much."""
    error = probe_error(folder.kitchen)
    return probe_C - error.number if error.known and probe_C >= FROM_C else probe_C


def _without_pan(reading: str, block: Component, step: Step, folder: Folder) -> str:
    """The reading with the pan's own weight taken off, where it is in it."""
    said = _WITH_PAN.search(reading)
    if said is None:
        return reading.strip()
    bare = f"{reading[: said.start()]}{reading[said.end() :]}".strip()
    opened = [
        e.vessel for e in block.events if isinstance(e, Into) and e.span < step.span
    ]
    name = opened[-1] if opened else said["pan"]
    vessel = folder.kitchen.vessel(name)
    if vessel is None or vessel.empty_g is None:
        what = f"Nobody weighed the {name} empty."
        do = "Write its empty_g in kitchen.yaml, or take the pan's weight off yourself."
        raise FileError(Mistake(what, do))
    grams = _GRAMS.search(bare)
    if grams is None:
        what = f"'{reading}' is no weight."
        raise FileError(Mistake(what, "Write it so: 2755 g with the pan."))
    many = number_of(grams["n"]) * (1000 if grams["u"].casefold() == "kg" else 1)
    inside = many - vessel.empty_g
    if inside < _LEAST_G:
        what = f"{many:g} g is no more than the {name} alone, {vessel.empty_g:g} g."
        raise FileError(Mistake(what, "Weigh it again, pan and all."))
    return f"{bare[: grams.start()]}{inside:.6g} g{bare[grams.end() :]}".strip()
