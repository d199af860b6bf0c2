"""The water of a layer: how wet it is to a microbe, to the air and to its neighbour."""

import csv
from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files
from typing import Final, NamedTuple

import numpy as np

from slabwright.composition import Masses, amount, total
from slabwright.composition import water as water_of
from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.physics.activity import water_activity
from slabwright.physics.layer_water import HOLDS, layer_water_activity, syrup_of
from slabwright.physics.sorption import SOLIDS, gab, isotherms
from slabwright.physics.species import AT
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Classed, Named
from slabwright.spec.nature.phase import Phase, phases
from slabwright.spec.nature.salt import salt_findings
from slabwright.spec.nature.subject import Subject

AT_C: Final = 25.0
"""The temperature of the figure: that of isotherms and of the meters that check it."""
ASSESS: Final = "assess"
"""The word where the maker has to find out more."""
TABLE_B: Final = 0.88
"""Under this the US Food Code's table B asks for no time and temperature control at any
pH; from there on the pH decides, which no card tells."""
CRISP_TO: Final = (0.35, 0.50)
"""Where crackers, crisps and puffs go soft: Katz and Labuza (1981)."""
PATHOGENS: Final = 0.85
"""Lowest limit in most rules: S. aureus grows from 0.86 by the Bad Bug Book, from 0.83
by others. What may reach it is to be assessed."""
DRIEST: Final = 0.10
"""Under this no isotherm was measured."""
HARDLY: Final = 0.002
"""Share of water under which a water activity means nothing to a maker: oil, dry sugar.
Our own."""
_A_SYRUP: Final = 0.03
"""Share of water in the syrup of a layer under which nobody would call it one."""
_NO_LIMIT: Final = "no limit by its water"


class Wetness(NamedTuple):
    """A layer's water activity with its likely range."""

    value: float
    low: float
    high: float


class _Growth(NamedTuple):
    """What a table says can grow from a water activity on."""

    from_aw: float
    word: str
    what: str


def wetness_of(subject: Subject) -> Wetness | None:
    """Water activity of a layer at 25 °C; None where nothing tells it."""
    whole = total(subject.finished)[0]
    if subject.unknown or not water_of(subject.finished)[0] > HARDLY * whole:
        return None
    return _wetness(subject.finished.tobytes(), subject.batch.kind.name)


@lru_cache(maxsize=256)
def _wetness(finished: bytes, kind: str) -> Wetness | None:
    masses = np.frombuffer(finished).reshape(3, -1)
    phase = phases()[kind]
    found = layer_water_activity(masses, AT_C, phase.dissolved, phase.crumb)
    if np.isnan(found.value[0]):
        return None
    return Wetness(
        float(found.value[0]), float(np.nanmin(found.low)), float(np.nanmax(found.high))
    )


def water_aspect(subject: Subject) -> Aspect | None:
    """Its water activity, and what follows from it; None for an empty layer."""
    if subject.unknown:
        why = f"its make-up is not known: {subject.unknown}"
        named = Named("water_activity", "water activity", withheld("", why))
        return Aspect("water", "Water", (named,))
    finished = subject.finished
    if not total(finished)[0] > 0:
        return None
    wet = wetness_of(subject)
    if wet is None:
        share = 100 * float(water_of(finished)[0] / total(finished)[0])
        why = f"it holds hardly any water: {share:.2g} % of its mass"
        named = Named("water_activity", "water activity", withheld("", why))
        return Aspect("water", "Water", (named,))
    phase = phases()[subject.batch.kind.name]
    standing = weakest(["worked out", *subject.batch.composition_leans])
    classes = list(_classes(wet, standing))
    if phase.crisp != "no" and not phase.is_syrup:
        classes.insert(0, _crispness(wet, standing))
    return Aspect(
        "water",
        "Water",
        tuple(_figures(subject, phase, wet)),
        tuple(classes),
        tuple(_notes(wet, phase)),
        findings=tuple(salt_findings(subject)),
    )


def _figures(subject: Subject, phase: Phase, wet: Wetness) -> Iterator[Named]:
    finished = subject.finished
    standing = weakest(["worked out", *subject.batch.composition_leans])
    water, whole = float(water_of(finished)[0]), float(total(finished)[0])
    syrup = syrup_of(finished[0], wet.value, AT_C, phase.dissolved[1], phase.crumb[1])
    in_syrup = float(syrup[AT["water"]])
    dissolved = float(syrup.sum()) - in_syrup
    crumb = float(amount(finished[:1], *SOLIDS)[0])
    said = (
        f"{water:.4g} g of water shared by {dissolved:.4g} g dissolved and {crumb:.4g} "
        f"g of starch, protein and fibre, each as wet as the other: {wet.value:.3f}"
    )
    yield Named(
        "water_activity", "water activity",
        Figure(
            wet.value, "", said, standing, wet.low, wet.high,
            _sources(finished, phase), HOLDS
        ),
    )  # fmt: skip
    ends = [float(x) for x in water_of(finished) / total(finished)]
    yield Named(
        "water_share", "water",
        Figure(
            water / whole, "share",
            f"{water:.4g} g ÷ {whole:.4g} g = {100 * water / whole:.3g} %", standing,
            *((min(ends), max(ends)) if max(ends) - min(ends) > 1e-9 else (None, None)),
        ),
    )  # fmt: skip
    if in_syrup > _A_SYRUP * whole and dissolved > 0:
        brix = 100 * dissolved / (dissolved + in_syrup)
        said = (
            f"{dissolved:.4g} g dissolved in {in_syrup:.4g} g of water that no crumb "
            f"holds: {brix:.1f} °Bx"
        )
        yield Named(
            "syrup_brix", "solids of its syrup", Figure(brix, "°Bx", said, standing)
        )


def _classes(wet: Wetness, standing: Standing) -> Iterator[Classed]:
    low, high = _growth_at(wet.low), _growth_at(wet.high)
    is_one = low is high
    why = f"{_band(wet)}: from {low.what} to {high.what}, across limits of the table"
    if is_one:
        told = f"names {high.what} from {high.from_aw:.2f}"
        why = (
            f"{_band(wet)}: the table {told if high.from_aw else f'tells {high.what}'}"
        )
    yield Classed(
        "growth", "what can grow, by its water alone", high.word if is_one else ASSESS,
        why, (*(one.word for one in _growth()), ASSESS), standing,
        (sources()["beuchat-1981"],),
    )  # fmt: skip
    is_dry = wet.high < PATHOGENS
    why = (
        f"{_band(wet)} reaches {PATHOGENS:g}: above it the pH counts (from {TABLE_B:g} "
        "in the table), and no card tells the pH"
    )
    if is_dry:
        why = f"{_band(wet)} lies under {PATHOGENS:g}, from which on pH and heat count"
    yield Classed(
        "time_and_temperature", "must it be kept cold", _NO_LIMIT if is_dry else ASSESS,
        why, (_NO_LIMIT, ASSESS), standing,
        (sources()["food-code-tcs"], sources()["bad-bug-book"]),
    )  # fmt: skip


def _crispness(wet: Wetness, standing: Standing) -> Classed:
    """Whether a crisp layer is dry enough to be crisp."""
    words, low, high = ("crisp", "going soft", "soft"), *CRISP_TO

    def at(activity: float) -> str:
        return words[(activity >= low) + (activity > high)]

    why = f"{wet.value:.2f}; crackers and puffs go soft from {low:g} to {high:g}"
    if at(wet.low) != at(wet.high):
        why += f"; its range goes from {at(wet.low)} to {at(wet.high)}"
    return Classed(
        "crispness", "crisp by its water", at(wet.value), why, words, standing,
        (sources()["crisp-katz-1981"],),
    )  # fmt: skip


def _notes(wet: Wetness, phase: Phase) -> Iterator[str]:
    yield (
        "Air in a closed box over it settles at about "
        f"{100 * wet.value:.0f} % relative humidity: in drier air it dries, in damper "
        "air it takes up water."
    )
    yield (
        "This is a sum, not a measurement: have it measured before days are promised. "
        "It defers to the law where the slab is sold and to the shop's own hazard plan "
        "(HACCP); where two layers touch, the wetter face counts."
    )
    if wet.low < DRIEST:
        yield f"Under {DRIEST:g} no isotherm was measured: it says very dry, no more."
    if phase.dissolved[0] < phase.dissolved[2]:
        yield (
            "How much of its sugar lies as crystals is not known; the range holds both "
            "ends."
        )


def _band(wet: Wetness) -> str:
    """Its range, with as many places as tell it from the limits that it lies by."""
    limits = [PATHOGENS, *(one.from_aw for one in _growth())]
    for places in (2, 3, 4):
        ends = [round(one, places) for one in (wet.low, wet.high)]
        sides = zip(ends, (wet.low, wet.high), strict=True)
        if all((end >= at) == (true >= at) for end, true in sides for at in limits):
            break
    low, high = (f"{one:.{places}f}" for one in (wet.low, wet.high))
    return low if low == high else f"{low} to {high}"


def _growth_at(activity: float) -> _Growth:
    return next(one for one in reversed(_growth()) if activity >= one.from_aw)


@cache
def _growth() -> tuple[_Growth, ...]:
    found = files("slabwright.spec.nature").joinpath("growth.csv")
    return tuple(
        _Growth(float(row["from_aw"]), row["word"], row["what"])
        for row in csv.DictReader(found.read_text("utf-8").splitlines())
    )


def _sources(finished: Masses, phase: Phase) -> tuple[Source, ...]:
    """What it leans on, isotherms only of the solids that are there."""
    found = [water_activity.source, gab.source]
    for one in isotherms():
        if amount(finished, one.solid)[0] > 0:
            found += [one.monolayer_source, one.shape_source]
    return tuple(dict.fromkeys([*found, phase.source, phase.crumb_source]))
