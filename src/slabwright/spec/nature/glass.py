"""How hard the cooked sugar of a layer is, where it lies: brittle, chewy, it flows."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from slabwright.composition import Masses, sugars, total
from slabwright.figure import Figure, Standing, weakest
from slabwright.formula.step import Band
from slabwright.physics.glass import (
    WORDS,
    glass_transition,
    glass_transition_range,
    sources_of,
    word_at,
)
from slabwright.physics.layer_water import syrup_of
from slabwright.physics.species import AT, Parts, parts_of
from slabwright.source import sources
from slabwright.spec.nature.aspect import Aspect, Chart, Classed, Curve, Mark, Named
from slabwright.spec.nature.glass_findings import (
    FROZEN_C,
    above_ends,
    glass_findings,
    minus,
    told,
)
from slabwright.spec.nature.phase import Phase, phases
from slabwright.spec.nature.subject import Subject
from slabwright.spec.nature.water import AT_C, wetness_of

_STICKY_K: Final = next(one.from_K for one in WORDS if one.word == "sticky")
_POINTS: Final = np.linspace(0.0, 0.25, 26)
"""Shares of water of the syrup along the chart."""
_HOLDS: Final = "a syrup without crystals, up to 25 % water"
_MOST_WATER: Final = 0.25
_MOST_POLYOLS: Final = 0.5
"""Share of nameless polyols from which on the glass is anybody's guess. Our own."""
_TOO_WET: Final = 0.40
"""Share of water of a syrup from which on a glass tells a baker nothing. Our own."""


def glass_of(subject: Subject) -> Aspect | None:
    """How hard its cooked sugar is; None where nobody knows what it is made of."""
    if subject.unknown or not total(subject.finished)[0] > 0:
        return None
    phase = phases()[subject.batch.kind.name]
    if not phase.is_syrup:
        return _silent(phase.why_no_syrup)
    parts = _syrups(subject, phase)
    standing = weakest(["worked out", *subject.batch.composition_leans])
    syrup = _syrup_g(parts[0])
    if not syrup > 0:
        return _silent("there is no syrup in it")
    wet = float(parts[0, AT["water"]]) / syrup
    if wet > _TOO_WET:
        return _silent(
            f"its syrup is {100 * wet:.0f} % water, far too much for a glass"
        )
    if parts[0, AT["polyols"]] > _MOST_POLYOLS * (syrup - parts[0, AT["water"]]):
        return _silent(
            "most of it is polyols, and a composition does not tell which: their "
            "glasses lie up to 90 K apart"
        )
    transition = _transition(parts, standing)
    if transition is None:
        return _silent("there is no sugar in it that makes a glass")
    places = list(_places(subject))
    classes = tuple(
        _classed(name, label, band, transition, phase) for name, label, band in places
    )
    return Aspect(
        "glass",
        "Hard or soft",
        (
            Named("glass_transition_C", "glass transition", transition),
            Named(
                "per_percent_K",
                "with 1 % more water in the syrup",
                _per(parts[0], standing),
            ),
        ),
        classes,
        tuple(_notes(subject.finished, parts, phase)),
        (_chart(subject.name, parts[0], transition, places),),
        tuple(glass_findings(subject, phase, parts[0], transition)),
    )


def _syrups(subject: Subject, phase: Phase) -> Parts:
    """The syrup of each row, first as likely, then with each end of what grains [g]."""
    wet = wetness_of(subject)
    if wet is None:
        return parts_of(subject.finished)
    low, likely, high = phase.dissolved
    shares = (likely,) if low == high else (likely, low, high)
    return np.concatenate([
        syrup_of(subject.finished, wet.value, AT_C, share, phase.crumb[1])
        for share in shares
    ])  # fmt: skip


def _silent(why: str) -> Aspect:
    said = f"No glass transition is told: {why}."
    return Aspect("glass", "Hard or soft", notes=(said,))


def _transition(parts: Parts, standing: Standing) -> Figure | None:
    middle = glass_transition(parts)
    if np.isnan(middle[0]):
        return None
    low, high = glass_transition_range(parts)
    value = float(middle[0])
    syrup = float(_syrup_g(parts[0]))
    wet = float(parts[0, AT["water"]])
    said = (
        f"{wet:.4g} g of water in {syrup:.4g} g of syrup ({100 * wet / syrup:.1f} %): "
        "mean of its sugars and water by Gordon and Taylor, "
        f"{minus(f'{value:.0f}')} °C"
    )
    return Figure(
        value, "°C", said, standing, float(np.nanmin(low)), float(np.nanmax(high)),
        sources_of(parts), _HOLDS,
    )  # fmt: skip


def _syrup_g(parts: Parts) -> float:
    """Mass of water and of what the rule counts."""
    beside = ("starch", "fibre", "protein", "rest", "salt", "minerals")
    fats = [at for name, at in AT.items() if name.startswith("fat_")]
    left = parts[..., [*fats, *(AT[name] for name in beside)]].sum()
    return float(parts.sum() - left)


def _per(parts: Parts, standing: Standing) -> Figure:
    more = parts.copy()
    extra = 0.01 * _syrup_g(parts)
    more[AT["water"]] += extra
    moved = float(glass_transition(more) - glass_transition(parts))
    said = f"{extra:.3g} g of water more moves it by {moved:.1f} K"
    return Figure(moved, "K", said, standing, sources=sources_of(parts), holds=_HOLDS)


def _places(subject: Subject) -> Iterator[tuple[str, str, Band]]:
    """Name, label and warmth of each place where it is eaten or kept."""
    eaten = subject.eaten_C
    yield "texture_eaten", f"eaten at {told(eaten)}", eaten
    for number, one in enumerate(subject.keepings, start=1):
        at = told(one.temperature_C)
        assumed = ", assumed" if one.is_assumed else ""
        yield (
            f"texture_kept_{number}",
            f"kept {one.text} ({at}{assumed})",
            (one.temperature_C),
        )


def _word(above_K: float, phase: Phase) -> str:
    if phase.held_by and above_K >= _STICKY_K:
        return f"held by {phase.held_by}"
    return word_at(above_K).word


def _classed(
    name: str, label: str, band: Band, transition: Figure, phase: Phase
) -> Classed:
    above = band.middle - transition.number
    nearest, farthest = above_ends(band, transition)
    word = _word(above, phase)
    ends = (_word(nearest, phase), _word(farthest, phase))
    words = tuple(dict.fromkeys(_word(one.from_K, phase) for one in WORDS))
    side = "above" if above >= 0 else "under"
    why = (
        minus(f"{band.middle:g} °C") + f" lies {abs(above):.0f} K {side} its glass "
        f"transition of {minus(f'{transition.number:.0f}')} °C: {word_at(above).what}"
    )
    if ends[0] != ends[1]:
        why += f"; its range goes from {ends[0]} to {ends[1]}"
    return Classed(
        name, label, word, why, words, transition.standing,
        (*transition.sources, sources()["trade"]),
    )  # fmt: skip


def _notes(finished: Masses, parts: Parts, phase: Phase) -> Iterator[str]:
    limits = ", ".join(f"{one.word} from {one.from_K:g}" for one in WORDS[1:])
    yield f"Words by K above it, with limits of our own: brittle below 0, {limits}."
    syrup = _syrup_g(parts[0])
    if parts[0, AT["water"]] > _MOST_WATER * syrup:
        yield "Over 25 % of water in its syrup: in the cold ice forms before a glass."
    if phase.held_by:
        holds = "hold" if phase.held_by.endswith("s") else "holds"
        yield f"Its syrup is soft; {phase.held_by} {holds} it up."
    share = float(sugars(finished)[0] / total(finished)[0])
    if share > 0 and syrup < total(finished)[0] * 0.9:
        yield "Fat, protein and pieces in it lie beside the syrup and are not counted."


def _chart(
    name: str,
    parts: Parts,
    transition: Figure,
    places: list[tuple[str, str, Band]],
) -> Chart:
    dry = parts.copy()
    dry[AT["water"]] = 0.0
    solids = _syrup_g(dry)
    along = np.tile(dry, (_POINTS.size, 1))
    along[:, AT["water"]] = solids * _POINTS / (1 - _POINTS)
    low, high = glass_transition_range(along)
    x = tuple(float(100 * one) for one in _POINTS)
    curve = Curve(
        "glass transition", x, _tuple(glass_transition(along)), _tuple(low),
        _tuple(high),
    )  # fmt: skip
    bands = [
        Curve(
            label, (x[0], x[-1]), (band.middle,) * 2, (band.low,) * 2, (band.high,) * 2
        )
        for _, label, band in places
        if band.middle > FROZEN_C
    ]
    here = float(100 * parts[AT["water"]] / _syrup_g(parts))
    return Chart(
        "glass_transition",
        "Where the syrup turns to glass, by its water",
        "water of the syrup [%]",
        "temperature [°C]",
        (curve, *bands),
        (Mark(f"{name}: you are here", here, transition.number),),
        f"With {here:.1f} % of water the syrup is a glass below "
        f"{minus(f'{transition.number:.0f}')} °C; every percent of water lowers that.",
    )


def _tuple(values: Parts) -> tuple[float, ...]:
    return tuple(float(one) for one in values)
