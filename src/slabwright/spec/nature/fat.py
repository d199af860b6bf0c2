"""The fat of a layer: which kinds, how they melt together, and what that does to it."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

import numpy as np

from slabwright.composition import FATS, total
from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.formula.batch import Batch
from slabwright.formula.step import Band
from slabwright.physics.fat import called, melting_fats, same_softness, sources_of
from slabwright.physics.species import Array
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Chart, Classed, Curve, Named, Touching
from slabwright.spec.nature.fat_bands import (
    FAT_WORDS,
    WARMTHS_C,
    Bands,
    as_it_melts,
    bands_of,
    by_kind,
    carries,
    carries_batch,
    is_tempered,
    word_of,
)
from slabwright.spec.nature.fat_findings import fat_findings
from slabwright.spec.nature.fat_words import cocoa_notes, lauric_class, oil_moves
from slabwright.spec.nature.subject import Keeping, Subject

_LEAST_SHARE: Final = 0.01
"""A layer with less fat has nothing to tell of it."""
_HOLDS: Final = "0 to 60 °C, a fat that has had a day to set"
_COMPARED: Final = (
    "Shares of solid fat are for holding layers and versions against each other. They "
    "tell no firmness: crystals, particles, sugar and water make that too."
)
_ENDS: Final = (
    ("cuts_below_C", "its fat cuts clean below", 0),
    ("soft_above_C", "its fat is soft above", 1),
    ("pours_above_C", "its fat pours above", 2),
)


def fat_of(subject: Subject) -> Aspect | None:
    """What its fat does; None where there is next to none, or nobody knows of it."""
    whole = float(total(subject.finished[0]))
    if subject.unknown or not whole > 0:
        return None
    fats = by_kind(subject)
    if fats.sum() < _LEAST_SHARE * whole:
        return None
    standing = weakest(["worked out", *subject.batch.composition_leans])
    melting = as_it_melts(subject)
    bands = bands_of(melting, tempered=is_tempered(subject))
    of = sources_of(melting)
    figures = list(_shares(fats, whole, standing))
    classes: list[Classed] = []
    notes: list[str] = []
    if carries(subject):
        notes.append(_COMPARED)
        figures.extend(_ends(melting, bands, of))
        classes.extend(_classes(subject, bands, of))
    else:
        notes.append(
            "Its fat does not decide how firm it is: crumb, sugar, gel or pieces do."
        )
    classes.extend(lauric_class(fats))
    notes.extend(cocoa_notes(subject, fats))
    return Aspect(
        "fat",
        "Fat",
        tuple(figures),
        tuple(classes),
        tuple(notes),
        (_chart(subject.name, bands),),
        tuple(fat_findings(subject, bands)) if carries(subject) else (),
    )


def fat_between(lower: Subject, upper: Subject) -> Touching | None:
    """How two layers of fat compare, and whether oil moves; None without both."""
    if lower.unknown or upper.unknown:
        return None
    moved = tuple(oil_moves(lower, upper))
    figures: tuple[Named, ...] = ()
    if carries(lower) and carries(upper):
        at_C = coolest(lower.keepings, lower.eaten_C).middle
        said = f"{upper.name} is as solid in its fat as {lower.name} at {at_C:g} °C"
        found = _as_solid(as_it_melts(upper), as_it_melts(lower), at_C, said)
        figures = (Named("same_solid_fat_C", said, found),)
    if not figures and not moved:
        return None
    return Touching(lower.name, upper.name, figures, moved)


def fat_beside(one: Batch, other: Batch, at_C: float, called_: str) -> Named | None:
    """At what temperature a layer has the solid fat of its twin on another card.

    Args:
        one: the layer.
        other: its twin, another version or a layer of another slab.
        at_C: temperature of the twin [°C].
        called_: what people call the twin.

    Returns:
        Grams of solid fat in 100 g held against each other; None unless fat makes both
        firm.
    """
    if not (carries_batch(one) and carries_batch(other)):
        return None
    a, b = (
        100 * melting_fats(batch.after[0]) / float(total(batch.after[0]))
        for batch in (one, other)
    )
    label = f"as much solid fat as {called_} has at {at_C:g} °C"
    grams = (
        f"{float(a.sum()):.3g} g of fat in 100 g for {float(b.sum()):.3g} g, by kind; "
        f"{label}"
    )
    return Named("same_solid_fat_C", label, _as_solid(a, b, at_C, grams, alone=False))


def _as_solid(
    one: Array, other: Array, at_C: float, said: str, *, alone: bool = True
) -> Figure:
    a, b = (one / one.sum(), other / other.sum()) if alone else (one, other)
    value, low, high = _same(
        tuple(round(float(grams), 6) for grams in a),
        tuple(round(float(grams), 6) for grams in b),
        at_C,
    )
    if not np.isfinite(value):
        return withheld("°C", f"{said}: at no temperature over 0 °C")
    wide = high - low > 0.05
    return Figure(
        value, "°C", f"{said}: {value:.0f} °C", Standing.WORKED_OUT,
        low if wide else None, high if wide else None,
        sources_of(one + other), _HOLDS,
    )  # fmt: skip


@lru_cache(maxsize=256)
def _same(
    one: tuple[float, ...], other: tuple[float, ...], at_C: float
) -> tuple[float, float, float]:
    """As `same_softness`; kept, since most of a card stays as it was."""
    found = same_softness(np.array(one), np.array(other), at_C)
    return float(found.value), float(found.low), float(found.high)


def _shares(fats: Array, whole: float, standing: Standing) -> Iterator[Named]:
    every = float(fats.sum())
    said = f"{every:.4g} g ÷ {whole:.5g} g = {100 * every / whole:.1f} %"
    yield Named("fat_share", "fat", Figure(every / whole, "share", said, standing))
    for name, grams in zip(FATS, fats, strict=True):
        share = float(grams) / every
        if share < _LEAST_SHARE:
            continue
        said = f"{float(grams):.4g} g ÷ {every:.4g} g of fat = {100 * share:.0f} %"
        figure = Figure(share, "share", said, standing)
        yield Named(f"{name}_of_fat", f"{called(name)}, of its fat", figure)


def _ends(fats: Array, bands: Bands, of: tuple[Source, ...]) -> Iterator[Named]:
    solid = (30, 10, 5)
    cited = tuple(dict.fromkeys((*of, sources()["trade"])))
    every = float(fats.sum())
    made_of = ", ".join(
        f"{100 * float(grams) / every:.0f} % {called(name)}"
        for name, grams in zip(FATS, fats, strict=True)
        if grams >= _LEAST_SHARE * every
    )
    for name, label, at in _ENDS:
        value, low, high = (float(one[at]) for one in bands.ends)
        if not np.isfinite(value):
            why = f"less than {solid[at]} % of its fat is solid even at 0 °C"
            yield Named(name, label, withheld("°C", why))
            continue
        said = (
            f"its fat is {made_of}; {solid[at]} % of it is solid at {value:.0f} °C; "
            "bands from common practice"
        )
        figure = Figure(
            value, "°C", said, Standing.WORKED_OUT,
            low if np.isfinite(low) else 0.0, high,
            cited, _HOLDS,
        )  # fmt: skip
        yield Named(name, label, figure)


def _classes(
    subject: Subject, bands: Bands, of: tuple[Source, ...]
) -> Iterator[Classed]:
    places = [("fat_eaten", "eaten", subject.eaten_C)]
    places += [
        (f"fat_kept_{number}", f"kept {one.text}", one.temperature_C)
        for number, one in enumerate(subject.keepings, start=1)
        if one.temperature_C.high >= 0
    ]
    for name, label, band in places:
        share, low, high = (
            float(np.interp(band.middle, WARMTHS_C, one)) for one in bands.solid
        )
        found = word_of(share)
        why = (
            f"at {band.middle:g} °C some {100 * share:.0f} % of its fat is solid "
            f"({100 * low:.0f} to {100 * high:.0f}): {found.what}"
        )
        ends = (word_of(low).word, word_of(high).word)
        if ends[0] != ends[1]:
            why += f"; its range goes from {ends[0]} to {ends[1]}"
        yield Classed(
            name, label, found.word, why, tuple(one.word for one in FAT_WORDS),
            sources=tuple(dict.fromkeys((*of, sources()["trade"]))),
        )  # fmt: skip


def coolest(kept: Sequence[Keeping], eaten_C: Band) -> Band:
    """The coolest place over 0 °C where a slab is kept; as it is eaten without one."""
    warm = [one.temperature_C for one in kept if one.temperature_C.middle >= 0]
    return min(warm, key=lambda one: one.middle, default=eaten_C)


def _chart(name: str, bands: Bands) -> Chart:
    value, low, high = (tuple(float(y) for y in one) for one in bands.solid)
    at = {int(x): y for x, y in zip(WARMTHS_C, value, strict=True)}
    words = (
        f"Of the fat of {name}, {100 * at[5]:.0f} % is solid at 5 °C, "
        f"{100 * at[18]:.0f} % at 18 °C, {100 * at[24]:.0f} % at 24 °C and "
        f"{100 * at[34]:.0f} % at 34 °C."
    )
    curve = Curve(name, tuple(float(x) for x in WARMTHS_C), value, low, high)
    return Chart(
        "solid_fat", "Solid fat from the fridge to the mouth", "temperature, °C",
        "solid share of its fat, to compare", (curve,), words=words,
    )  # fmt: skip
