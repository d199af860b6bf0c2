"""Fat and water in a ganache: whether it holds together; and what seizes."""

from collections.abc import Iterator
from math import ceil
from typing import Final

import numpy as np

from slabwright.composition import Masses, amount, sugars, total, water
from slabwright.figure import Figure, Standing, weakest
from slabwright.finding import Finding, Severity
from slabwright.larder.ingredient import Ingredient
from slabwright.physics.ganache import (
    FULL_PACKING,
    MIXES_C,
    PACKING_SOURCE,
    SPLITS_COLD_C,
    SPLITS_FAT_SHARE,
    SPLITS_SOURCES,
    dry_cocoa,
    fat_of_phases,
    fat_share,
    liquid_to_mend,
    packing,
)
from slabwright.physics.species import Array
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Classed, Named
from slabwright.spec.nature.inside import Thing
from slabwright.spec.nature.subject import Subject

MILK_FAT_SHARE: Final = 0.036
"""Fat of the whole milk that mends a bowl."""
NEAR_SHARE: Final = 0.02
"""So close under the limit it is a matter of the chocolate's pack. Our own."""
WORDS: Final = ("holds", "close", "prone to split")
SLAB_WATER: Final = (0.14, 0.24)
"""Water of a slab ganache. Source: "slab-ganache-water"."""
_COCOA_FAT_SHARE: Final = 0.06
_LEAST_WATER: Final = 0.05
_MOST_WATER: Final = 0.45
_GANACHES: Final = frozenset({"ganache", "glaze", "cream", "plain"})
"""Textures that chocolate and cream may be called by."""
_SEIZES: Final = (0.01, 0.15)
"""Water to a gram of chocolate that clumps it; common practice, no source."""
_SEIZING: Final[Source] = sources()["seizing"]
_LOOSE: Final = 0.20
"""Water to a gram of chocolate from which on it is smooth again; the same."""
_PASTE_LOOSE: Final = 0.75
"""Water to a gram of sesame paste from which on it is a thin emulsion. Source:
"sesame-water-2017"."""
_WET_SHARE: Final = 0.30
"""What holds less water gives none to chocolate; butter's lies in drops in its fat."""
_PASTES: Final = frozenset(
    {"tahini", "peanut-butter", "almond-butter", "cashew-butter", "pistachio-paste",
     "hazelnut-paste", "hazelnut-praline-paste"}
)  # fmt: skip
_SYRUPS: Final = ("syrup", "honey", "molasses", "treacle")


def emulsion_of(subject: Subject) -> Aspect | None:
    """Whether chocolate and cream hold together; None where there is no such thing."""
    if subject.unknown or not total(subject.finished)[0] > 0:
        return None
    inside = subject.inside
    if is_ganache(subject, inside):
        return _ganache(subject, inside)
    return _seized(subject, inside)


def is_ganache(subject: Subject, inside: tuple[Thing, ...]) -> bool:
    """Whether a layer is chocolate and something wet, mixed and not baked."""
    row = subject.finished[0]
    whole = float(total(row))
    if any(one.is_baked for one in inside):
        return False
    wet = float(water(row)) / whole
    if subject.batch.kind.texture not in _GANACHES or wet < _LEAST_WATER:
        return False
    chocolate = any("chocolate" in one.ingredient for one in inside)
    cocoa = float(amount(row, "fat_cocoa")) / whole
    return chocolate and cocoa >= _COCOA_FAT_SHARE and wet <= _MOST_WATER


def dry_cocoa_g(subject: Subject, inside: tuple[Thing, ...]) -> float:
    """Dry cocoa in the finished batch [g]; what is lost takes cocoa butter with it."""
    known = {one.id: one for one in ingredients(subject)}
    before = float(amount(subject.batch.before[0], "fat_cocoa"))
    after = float(amount(subject.finished[0], "fat_cocoa"))
    stays = after / before if before > 0 else 1.0
    return stays * sum(
        one.grams * float(dry_cocoa(row))
        for one in inside
        if one.grams is not None
        and ("chocolate" in one.ingredient or "cocoa" in one.ingredient)
        and one.ingredient in known
        and (row := known[one.ingredient].composition) is not None
    )


def ingredients(subject: Subject) -> Iterator[Ingredient]:
    """Every ingredient of a batch and of what goes into it."""
    stack = [subject.batch]
    while stack:
        batch = stack.pop()
        for line in batch.lines:
            if line.batch is not None:
                stack.append(line.batch)
            elif line.ingredient is not None:
                yield line.ingredient


def emulsion_word(masses: Masses, dry_cocoa_mass: float = 0.0) -> str:
    """Whether a ganache holds, by its fat and by how its drops are packed."""
    fatty = float(fat_share(masses))
    packed = packing(masses, dry_cocoa_mass)
    if fatty > SPLITS_FAT_SHARE or float(packed.value) > FULL_PACKING:
        return WORDS[2]
    near = fatty > SPLITS_FAT_SHARE - NEAR_SHARE
    return WORDS[1] if near or float(packed.high) > FULL_PACKING else WORDS[0]


def emulsion_why(masses: Masses, dry_cocoa_mass: float = 0.0) -> str:
    """The rules and their numbers."""
    packed = packing(masses, dry_cocoa_mass)
    return (
        f"{100 * float(fat_share(masses)):.1f} % fat in all, where over about "
        f"{100 * SPLITS_FAT_SHARE:.0f} % tends to split; its drops take "
        f"{100 * float(packed.value):.0f} % of fat and syrup "
        f"({100 * float(packed.low):.0f} to {100 * float(packed.high):.0f}), where "
        f"{100 * FULL_PACKING:.0f} % is all that drops of one size can"
    )


def _ganache(subject: Subject, inside: tuple[Thing, ...]) -> Aspect:
    row = subject.finished[0]
    whole = float(total(row))
    cocoa = min(dry_cocoa_g(subject, inside), whole)
    standing = weakest(["worked out", *subject.batch.composition_leans])
    classed = Classed(
        "emulsion", "fat in water", emulsion_word(row, cocoa),
        emulsion_why(row, cocoa), WORDS, standing,
        (*SPLITS_SOURCES, PACKING_SOURCE, sources()["cocoa-takes-water"]),
    )  # fmt: skip
    return Aspect(
        "emulsion",
        "Fat and water",
        tuple(_figures(subject.finished, cocoa, standing)),
        (classed,),
        tuple(_notes(row, whole)),
        findings=(*_splits(subject), *_seizes(subject, inside)),
    )


def _figures(finished: Masses, cocoa: float, standing: Standing) -> Iterator[Named]:
    whole = total(finished)
    shares = (
        ("water_share", "water", water(finished)),
        ("sugars_share", "sugars", sugars(finished)),
        ("dry_cocoa_share", "dry cocoa", np.full(3, cocoa)),
    )
    for name, label, grams in shares:
        every = grams / whole
        said = f"{grams[0]:.4g} g ÷ {whole[0]:.5g} g = {100 * every[0]:.1f} %"
        yield Named(name, label, _share(every, said, standing))
    phases = fat_of_phases(finished)
    said = f"fat ÷ (fat + water) = {100 * phases[0]:.1f} %"
    yield Named(
        "fat_of_phases", "fat, of fat and water", _share(phases, said, standing)
    )


def _share(every: Array, said: str, standing: Standing) -> Figure:
    low, high = float(every.min()), float(every.max())
    wide = high - low > 1e-6
    return Figure(
        float(every[0]), "share", said, standing, low if wide else None,
        high if wide else None,
    )  # fmt: skip


def _notes(row: Masses, whole: float) -> Iterator[str]:
    low, high = SLAB_WATER
    wet = float(water(row)) / whole
    if not low <= wet <= high:
        side = (
            "softer and keeps less long" if wet > high else "stiff, and near to split"
        )
        yield (
            f"A slab ganache is usually {100 * low:.0f} to {100 * high:.0f} % water; "
            f"with {100 * wet:.0f} % this one is {side}."
        )
    yield (
        f"It is mixed best at {MIXES_C[0]:.0f} to {MIXES_C[1]:.0f} °C with the "
        f"chocolate melted; stirred at {SPLITS_COLD_C[0]:.0f} to "
        f"{SPLITS_COLD_C[1]:.0f} °C it splits."
    )
    if float(amount(row, "alcohol")) > 0.03 * whole:
        yield "Alcohol counts as liquid here; much of it splits a ganache sooner."


def _splits(subject: Subject) -> Iterator[Finding]:
    row = subject.finished[0]
    wet = float(liquid_to_mend(row))
    if not wet > 0:
        return
    weighed = subject.weighed_per_left
    water = ceil(weighed * wet)
    milk = ceil(weighed * float(liquid_to_mend(row, MILK_FAT_SHARE)))
    yield Finding(
        "splits",
        Severity.LOOK,
        subject.name,
        f"It is {100 * float(fat_share(row)):.1f} % fat and tends to split.",
        f"Over about {100 * SPLITS_FAT_SHARE:.0f} % fat in all there is too little "
        "syrup between the drops.",
        f"Stir {water} g of warm water or {milk} g of warm whole milk into the "
        "batch, by the card or in the bowl that has split.",
        "Common practice, no source; Notter (2011) has the cause",
        subject.span,
        subject.number,
    )


def _seized(subject: Subject, inside: tuple[Thing, ...]) -> Aspect | None:
    found = tuple(_seizes(subject, inside))
    notes = tuple(_paste_notes(subject, inside))
    if not found and not notes:
        return None
    return Aspect("emulsion", "Fat and water", notes=notes, findings=found)


def _seizes(subject: Subject, inside: tuple[Thing, ...]) -> Iterator[Finding]:
    whole = sum(one.grams or 0.0 for one in inside)
    chocolate = sum(
        one.grams or 0.0
        for one in inside
        if "chocolate" in one.ingredient and not one.is_baked
    )
    if not whole > 0 or chocolate < whole / 2:
        return
    wet = _wetting_g(subject, inside)
    least, most = _SEIZES
    if not least * chocolate < wet < most * chocolate:
        return
    more = ceil(_LOOSE * chocolate - wet - 1e-6)
    yield Finding(
        "seizes",
        Severity.LOOK,
        subject.name,
        f"{wet:.3g} g of water to {chocolate:.4g} g of melted chocolate: it seizes.",
        "A little water makes its dry specks stick: from "
        f"{100 * least:.0f} to {100 * most:.0f} g in 100 g of chocolate it clumps.",
        f"Leave it out, or stir in {more} g more of warm water, or milk.",
        f"{_SEIZING.text}; limits from common practice",
        subject.span,
        subject.number,
    )


def _wetting_g(subject: Subject, inside: tuple[Thing, ...]) -> float:
    """Water of what is wet, and of syrups [g]."""
    known = {one.id: one.composition for one in ingredients(subject)}
    found = 0.0
    for one in inside:
        row = known.get(one.ingredient)
        if row is None or one.is_baked:
            continue
        wet = float(water(row))
        if wet >= _WET_SHARE or any(word in one.ingredient for word in _SYRUPS):
            found += one.water_g
    return found


def _is_paste(ingredient: str) -> bool:
    return ingredient in _PASTES


def _paste_notes(subject: Subject, inside: tuple[Thing, ...]) -> Iterator[str]:
    paste = sum(one.grams or 0.0 for one in inside if _is_paste(one.ingredient))
    wet = _wetting_g(subject, inside)
    if not paste > 0 or not wet > 0.01 * paste or wet > _PASTE_LOOSE * paste:
        return
    yield (
        f"{wet:.3g} g of water to {paste:.4g} g of paste thickens it within minutes: "
        f"spread it at once. It thins again only from about "
        f"{100 * _PASTE_LOOSE:.0f} g in 100 g of paste (sesame, after Hou 2017)."
    )
