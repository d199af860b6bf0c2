"""What a maker should look out for in the fat of a layer."""

from collections.abc import Iterator
from math import ceil, floor
from typing import Final

import numpy as np

from slabwright.composition import FATS
from slabwright.finding import Finding, Severity
from slabwright.physics.fat import temperature_of_solid
from slabwright.physics.species import Array
from slabwright.source import sources
from slabwright.spec.nature.fat_bands import (
    SOFT_SHARE,
    Bands,
    as_it_melts,
    by_kind,
    is_tempered,
)
from slabwright.spec.nature.fat_words import (
    FEW_COCOA,
    MUCH_LAURIC,
    chocolates,
    lauric_share,
)
from slabwright.spec.nature.subject import Subject

_COCOA: Final = FATS.index("fat_cocoa")
_COLDEST_C: Final = 2.0
"""No fridge keeps a slab colder than this without freezing it. Our own."""
_TRIED: Final = 200
_MOST_TIMES: Final = 1.0
"""More cocoa butter than the fat that is there makes it another layer."""


def fat_findings(subject: Subject, bands: Bands) -> Iterator[Finding]:
    """Soft where it is kept; coconut fat that spoils a coat of chocolate."""
    yield from _soft(subject, bands)
    yield from _lauric(subject)


def _soft(subject: Subject, bands: Bands) -> Iterator[Finding]:
    kept = max(subject.keepings, key=lambda one: one.temperature_C.high, default=None)
    if kept is None:
        return
    warm = kept.temperature_C.high
    value, low, high = (float(one[1]) for one in bands.ends)
    if value >= warm or warm < 0:
        return
    surely = not high >= warm
    told = f"above about {value:.0f} °C" if np.isfinite(value) else "at any temperature"
    bottom = max(low, 0.0) if np.isfinite(low) else 0.0
    spread = f" (likely {bottom:.0f} to {high:.0f})" if np.isfinite(high) else ""
    yield Finding(
        "soft_at_keeping",
        Severity.LOOK if surely else Severity.NOTE,
        subject.name,
        f"Its fat is soft {told}, and it is kept at up to {warm:g} °C ({kept.text}).",
        f"Less than {100 * SOFT_SHARE:.0f} % of its fat is solid above that{spread}; "
        "only what is dry in it holds it.",
        _mend(subject, warm, value),
        sources()["trade"].text,
        subject.span,
        subject.number,
    )


def _mend(subject: Subject, warm: float, soft_C: float) -> str:
    """Cocoa butter to melt in, or the cold that keeps it firm as it is.

    Args:
        subject: the layer.
        warm: how warm it is kept at the most [°C].
        soft_C: where it turns soft [°C]; NaN where it is so even at 0 °C.
    """
    grams = cocoa_butter_to_hold(
        as_it_melts(subject), warm, tempered=is_tempered(subject)
    )
    melt = ""
    if grams is not None:
        grams = ceil(subject.weighed_per_left * grams)
        melt = f"Melt {grams} g of cocoa butter into the batch"
    colder = f"keep it under {floor(soft_C):g} °C" if soft_C >= _COLDEST_C else ""
    if melt and colder:
        return f"{melt}, or {colder}."
    if melt:
        return f"{melt}: cold alone will not firm it."
    none = "cocoa butter alone will not mend it."
    return f"{colder.capitalize()}: {none}" if colder else f"{none.capitalize()}"


def cocoa_butter_to_hold(
    fats: Array, warm_C: float, *, tempered: bool = False
) -> float | None:
    """Least cocoa butter that keeps a fat from being soft up to a temperature [g].

    Args:
        fats: grams by kind, shape (5,).
        warm_C: how warm it gets [°C].
        tempered: as of `solid_fat`.

    Returns:
        Whole grams; None if even as much as there is fat does not do.
    """
    tried = np.linspace(0.0, _MOST_TIMES * float(fats.sum()), _TRIED + 1)
    rows = np.repeat(fats[np.newaxis, :], tried.size, axis=0)
    rows[:, _COCOA] += tried
    found = temperature_of_solid(rows, SOFT_SHARE, tempered=tempered).value
    enough = np.flatnonzero(found >= warm_C)
    return float(ceil(tried[enough[0]])) if enough.size else None


def _lauric(subject: Subject) -> Iterator[Finding]:
    fats = by_kind(subject)
    share = lauric_share(fats)
    if share is None or not MUCH_LAURIC < share < 1 - FEW_COCOA:
        return
    if not chocolates(subject):
        return
    lauric = float(fats[FATS.index("fat_lauric")])
    cocoa = float(fats[_COCOA])
    more = lauric - MUCH_LAURIC / (1 - MUCH_LAURIC) * cocoa
    out = ceil(subject.weighed_per_left * more)
    yield Finding(
        "lauric_with_cocoa",
        Severity.NOTE,
        subject.name,
        f"{100 * share:.0f} % of its coconut fat and cocoa butter is coconut fat.",
        "The two soften each other, most near 65 % of coconut fat: it sets slowly, "
        "stays soft and goes grey with bloom.",
        f"Leave out {out} g of coconut fat, or put cocoa butter in its place.",
        f"{sources()['cocoa-coconut-2020'].text}; limit of "
        f"{100 * MUCH_LAURIC:.0f} % from common practice",
        subject.span,
        subject.number,
    )
