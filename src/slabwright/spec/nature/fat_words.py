"""What cocoa butter, coconut fat and nut oil do to each other, in words."""

from collections.abc import Iterator
from typing import Final

from slabwright.composition import FATS, amount, total
from slabwright.physics.fat import SOFTEST_LAURIC_SHARE, SOFTEST_SOURCE
from slabwright.physics.species import Array
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Classed
from slabwright.spec.nature.fat_bands import as_it_melts
from slabwright.spec.nature.inside import Thing
from slabwright.spec.nature.subject import Subject

CHOCOLATE_SHARE: Final = 0.5
"""A layer with this share of chocolate is one of chocolate."""
LITTLE_LAURIC: Final = 0.10
MUCH_LAURIC: Final = 0.25
FEW_COCOA: Final = 0.05
LAURIC_WORDS: Final = ("little", "softens it", "near the softest mix", "little cocoa")
_FELT_SHARE: Final = 0.03
"""Less of the fat than this is felt by nobody. Our own."""
_DRY_SHARE: Final = 0.02
"""Melted chocolate with more water than this is a ganache, or has seized."""
_OIL_SHARE: Final = 0.15
"""Nut oil in a layer from which on it is felt in chocolate beside it. Our own."""
_WORKS: Final = {
    "dark": ("50 to 55", "28 to 29", "31 to 32"),
    "milk": ("45 to 50", "27 to 28", "30 to 31"),
    "white": ("45 to 50", "26 to 27", "29 to 30"),
}
"""Melted, cooled, worked [°C]. Source: "tempering-guide"."""
EUTECTIC_SOURCES: Final[tuple[Source, ...]] = (
    SOFTEST_SOURCE,
    sources()["greweling-2007"],
    sources()["fats-heat"],
)


def lauric_share(fats: Array) -> float | None:
    """Coconut and palm kernel fat in it and cocoa butter; None without either."""
    lauric = float(fats[FATS.index("fat_lauric")])
    cocoa = float(fats[FATS.index("fat_cocoa")])
    least = _FELT_SHARE * float(fats.sum())
    if not lauric > least or not cocoa > least:
        return None
    return lauric / (lauric + cocoa)


def lauric_word(share: float) -> str:
    """How much coconut fat softens cocoa butter at that share of the two."""
    if share < LITTLE_LAURIC:
        return LAURIC_WORDS[0]
    if share < MUCH_LAURIC:
        return LAURIC_WORDS[1]
    return LAURIC_WORDS[2] if share < 1 - FEW_COCOA else LAURIC_WORDS[3]


def lauric_class(fats: Array) -> Iterator[Classed]:
    """Whether coconut fat softens its cocoa butter."""
    share = lauric_share(fats)
    if share is None:
        return
    why = (
        f"{100 * share:.0f} % of its coconut fat and cocoa butter is coconut fat; the "
        f"two melt lowest together at {100 * SOFTEST_LAURIC_SHARE:.0f} %, and up to "
        f"{100 * LITTLE_LAURIC:.0f} % changes little (limits from common practice)"
    )
    yield Classed(
        "lauric_in_cocoa", "coconut fat in cocoa butter", lauric_word(share), why,
        LAURIC_WORDS, sources=(*EUTECTIC_SOURCES, sources()["trade"]),
    )  # fmt: skip


def chocolates(subject: Subject) -> tuple[Thing, ...]:
    """The chocolate of a layer that is chocolate, melted and dry; empty if none is."""
    row = subject.finished[0]
    if float(amount(row, "water")) > _DRY_SHARE * float(total(row)):
        return ()
    every = subject.inside
    found = tuple(
        one for one in every if "chocolate" in one.ingredient and not one.is_baked
    )
    whole = sum(one.grams or 0.0 for one in every)
    mine = sum(one.grams or 0.0 for one in found)
    return found if whole > 0 and mine >= CHOCOLATE_SHARE * whole else ()


def cocoa_notes(subject: Subject, fats: Array) -> Iterator[str]:
    """Temper and bloom, where a layer is of melted chocolate."""
    found = chocolates(subject)
    if not found:
        return
    named = {one.ingredient.split("-")[0] for one in found}
    kind = next((one for one in ("white", "milk") if one in named), "dark")
    melt, cool, work = _WORKS[kind]
    yield (
        f"To shine, snap and keep from bloom, {kind} chocolate is melted at {melt} °C, "
        f"cooled to {cool} °C and worked at {work} °C (a chocolate textbook's guide, "
        "read as reprinted elsewhere)."
    )
    share = lauric_share(fats)
    if share is not None and share >= LITTLE_LAURIC:
        yield (
            "With this much coconut fat it sets softer and shines less than pure "
            "chocolate, however it is tempered."
        )
    yield (
        "Warmed over about 30 °C and cooled again it loses its temper and goes grey "
        "with bloom; so does chocolate that sweats. Common practice, no source."
    )


def oil_moves(lower: Subject, upper: Subject) -> Iterator[Classed]:
    """Whether nut oil moves from one layer into chocolate that touches it."""
    for rich, coat in ((lower, upper), (upper, lower)):
        whole = float(total(rich.finished[0]))
        oil = float(as_it_melts(rich)[FATS.index("fat_nut")])
        if not whole > 0 or oil < _OIL_SHARE * whole or not chocolates(coat):
            continue
        yield Classed(
            "oil_moves", "oil", "moves",
            f"{rich.name} is {100 * oil / whole:.0f} % oil, which is liquid: over "
            f"days and weeks some moves into {coat.name}, softens it and brings bloom, "
            "faster when warm. How much is not known here",
            ("stays", "moves"),
            sources=(sources()["greweling-2007"], sources()["trade"]),
        )  # fmt: skip
