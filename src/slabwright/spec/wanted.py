"""What a slab is to be scaled to: other tins, pieces, a mass, a depth, the rim."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from slabwright.errors import Mistake, SlabwrightError
from slabwright.slab.tin import Tin

LARGEST_FACTOR = 10_000.0
"""Nobody makes more of a slab at once. Our own limit: above it a unit was misread."""


class ScalingError(SlabwrightError):
    """A scaling that can't be worked out, and what to ask for instead."""


@dataclass(frozen=True, slots=True)
class NamedTin:
    """A tin as it was asked for."""

    words: str
    tin: Tin


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for. Without anything but tins: every layer as deep as before."""

    tins: tuple[NamedTin, ...] = ()
    """Empty: the card's own tin."""
    trays: int | None = None
    """So many of each of these tins."""
    pieces: int | None = None
    """At least so many, in whole trays."""
    by: float | None = None
    """So many times as much of everything."""
    mass_g: float | None = None
    """Mass of all finished slabs together [g]."""
    height_mm: float | None = None
    """Height of the slab, its layers in proportion [mm]."""
    layers_mm: tuple[tuple[str, float], ...] = ()
    """Depths of single layers; the others stay as deep as they are [mm]."""
    head_room_mm: float | None = None
    """As much as the rim allows, but for so much [mm]."""
    whole_batch: bool = False
    """The batch as the card has it, however deep it stands there."""

    def __post_init__(self) -> None:
        mistakes = tuple(_mistakes(self))
        if mistakes:
            raise ScalingError(*mistakes)

    @property
    def factor_only(self) -> bool:
        """Whether everything is multiplied alike, and the depths follow."""
        return self.by is not None or self.mass_g is not None or self.whole_batch


def _mistakes(wanted: Wanted) -> Iterator[Mistake]:
    ways = {
        "a multiple": wanted.by is not None,
        "a mass": wanted.mass_g is not None,
        "a height": wanted.height_mm is not None,
        "a layer's depth": bool(wanted.layers_mm),
        "the rim": wanted.head_room_mm is not None,
        "the whole batch": wanted.whole_batch,
    }
    said = [way for way, is_said in ways.items() if is_said]
    if len(said) > 1:
        yield Mistake(f"{_and(said)} can't all be had.", "Ask for one of them.")
    if wanted.trays is not None and wanted.pieces is not None:
        yield Mistake("Trays and pieces are both given.", "Ask for one of them.")
    if wanted.pieces is not None and len(wanted.tins) > 1:
        yield Mistake(
            "So many pieces from several kinds of tin can be had in many ways.",
            "Name one tin, or say how many of each: 2 of shop frame.",
        )
    for name, count in (("trays", wanted.trays), ("pieces", wanted.pieces)):
        if count is not None and not 1 <= count <= LARGEST_FACTOR:
            most = f"1 to {LARGEST_FACTOR:,.0f}"
            yield Mistake(f"The number of {name} is {count}.", f"Give {most}.")
    sizes = [
        ("multiple", wanted.by, "", 0.0), ("mass", wanted.mass_g, " g", 0.0),
        ("height", wanted.height_mm, " mm", 0.0),
        *((f"depth of {name}", mm, " mm", 0.0) for name, mm in wanted.layers_mm),
        ("head room", wanted.head_room_mm, " mm", -1e-12),
    ]  # fmt: skip
    for name, size, unit, over in sizes:
        if size is not None and not over < size < inf:  # false for nan too
            yield Mistake(
                f"The {name} is {size:g}{unit}.", f"Give a size above 0{unit}."
            )


def _and(words: list[str]) -> str:
    said = f"{', '.join(words[:-1])} and {words[-1]}"
    return said[0].upper() + said[1:]
