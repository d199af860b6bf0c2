"""Sugar that grains and lactose that goes sandy, each with the grams that mend it."""

from collections.abc import Iterator
from functools import cache
from math import ceil
from typing import Final, NamedTuple

import numpy as np

from slabwright.composition import water as water_of
from slabwright.finding import Finding, Severity
from slabwright.formula.batch import Batch
from slabwright.larder.load import built_in
from slabwright.physics.graining import (
    DOCTOR_RATIO,
    LACTOSE_GROWS,
    doctor_solids,
    grams_added_for_ratio,
    grams_for_ratio,
    grams_to_hold,
    water_to_hold,
)
from slabwright.physics.species import AT, SPECIES, Parts, parts_of
from slabwright.spec.nature.grain import (
    GRAINS,
    MAY,
    NEAR_SHARE,
    Grain,
    Rule,
)
from slabwright.spec.nature.subject import Subject

_SYRUPS: Final = ("glucose syrup 42 DE", "invert sugar syrup", "honey")
"""What is at hand, the usual one first."""
_MOST_WATER: Final = 0.15
"""More water than this share of the layer makes another layer of it. Our own."""
_MOST_SYRUP: Final = 0.5
"""So does more syrup than this share of it, on top. Our own."""
_ALL_BUT: Final = 0.85
"""Share of sucrose from which a line is sugar that can be weighed otherwise."""
_MILD: Final = 1.15
"""Up to so many times nothing is found of what may grain. Our own."""
_MANY: Final = 10
"""So many times too much is told as more than that."""
_DAYS: Final = 7.0
"""Lactose takes longer than this to be felt. Common practice, no source."""
_MILKY: Final = 0.05
_DRIED: Final = 0.50
_MOST_MILK: Final = 0.5
"""What holds so much lactose and less water is milk that was dried or condensed; with
over half of it left out, a layer is another one. Our own."""
_SOURCE: Final = (
    "doctor ratio of a trade body; solubility by Vavrinecz, beside other sugars after "
    "Jackson and Silsbee (from memory)"
)
_LACTOSE_SOURCE: Final = "Hudson's solubility; zones of lactose crystals from memory"


class Swap(NamedTuple):
    """Grams of a syrup in place of grams of sugar."""

    name: str
    syrup_g: float
    sugar_g: float

    def told(self) -> str:
        """As a hand would do it."""
        return (
            f"{self.syrup_g:.0f} g {self.name} in place of {self.sugar_g:.0f} g sugar"
        )


def sugar_findings(subject: Subject, grain: Grain, rule: Rule) -> Iterator[Finding]:
    """What a maker should know of the sugar of this layer.

    Args:
        subject: the layer.
        grain: its sugar as worked out.
        rule: how its kind is looked at.
    """
    if rule.policy == "judged":
        yield from _grains(subject, grain)
        yield from _sandy(subject, grain)


def _grains(subject: Subject, grain: Grain) -> Iterator[Finding]:
    word, over = grain.word, grain.worst.sucrose
    if not _is_worth(grain, over[0]):
        return
    do = _do(subject, grain)
    if word == GRAINS:
        yield Finding(
            "grains", Severity.LOOK, subject.name,
            "Its sugar grains as it stands.", _why(grain), do, _SOURCE,
            subject.span, subject.number,
        )  # fmt: skip
    elif word == MAY:
        more = "".join(f" {one[0].upper()}{one[1:]}." for one in grain.milder)
        yield Finding(
            "may_grain", Severity.NOTE, subject.name,
            "Its sugar may grain when it is stirred, seeded or kept long.",
            _why(grain) + more, do, _SOURCE, subject.span, subject.number,
        )  # fmt: skip


def _is_worth(grain: Grain, over: float) -> bool:
    """Whether it is far enough over, and far enough under the rule, to be told."""
    near = grain.ratio[0] >= NEAR_SHARE * DOCTOR_RATIO
    return over > _MILD and not near and not grain.is_glass


def _why(grain: Grain) -> str:
    place = grain.worst
    likely = place.sucrose[0]
    where = "eaten" if place.text == "eaten" else f"kept {place.text}"
    water = float(grain.parts[AT["water"]])
    held = (
        f"{grain.parts[AT['sucrose']]:.0f} g of sucrose lie in {water:.0f} g of water, "
        f"{_times(place.sucrose)} what dissolves at "
        f"{place.band.middle:g} °C, where it is {where}"
    )
    if not np.isfinite(likely):
        held = "there is sugar and no water"
    return (
        f"{held[0].upper()}{held[1:]}; {grain.ratio[0]:.2f} g of syrup solids for each "
        f"gram of sucrose, where the trade wants {DOCTOR_RATIO:g}."
    )


def _do(subject: Subject, grain: Grain) -> str:
    """The smallest change, in sugar that its maker weighs, else in syrup more."""
    weighed = subject.weighed_per_left
    loose_g, loose = loose_sugar(subject.batch)
    swaps = swaps_of(grain, weighed, loose / loose_g) if loose_g > 0 else ()
    fits = [one for one in swaps if one.sugar_g <= loose_g]
    if fits:
        told = "; or ".join(one.told() for one in fits)
        return f"Weigh {told}. Boil to the same weight."
    most = _MOST_SYRUP * float(grain.parts.sum())
    more = [
        f"{weighed * grams:.0f} g {name}"
        for name, syrup in _syrups()
        if 0 < (grams := float(grams_added_for_ratio(grain.parts, syrup))) < most
    ]
    warm = grain.worst.band.middle
    water = float(water_to_hold(grain.parts, "sucrose", warm))
    if 0 < water < _MOST_WATER * float(grain.parts.sum()):
        told = f"{_wetter(subject, ceil(water))}; it is softer then"
        return f"{told}, or add {more[0]}." if more else f"{told}."
    swap = next(iter(swaps_of(grain, weighed)), None)
    if not more and swap is not None:
        return (
            f"Bring in {swap.told()}, by less of the things that its sugar comes with; "
            "added on top, it would take more than half the layer again."
        )
    if not more:
        return "Take another sugar: no syrup at hand would hold this one."
    return f"Add {', or '.join(more)}, and stop with as much water in it for its size."


def _wetter(subject: Subject, grams: int) -> str:
    """How a batch ends with so much more water [g], where it may not have had it."""
    went_in, stays = (
        float(water_of(rows)[0]) for rows in (subject.batch.before, subject.finished)
    )
    missing = ceil(stays + grams - went_in)
    if missing <= 0:
        return f"Stop with {grams} g more water in the batch"
    return f"Add {missing} g of water, and stop with {grams} g more in the batch"


def loose_sugar(batch: Batch) -> tuple[float, Parts]:
    """Lines that are all but sucrose, of its own components too: grams, and by species.

    Returns:
        Grams of the lines, and what is in them, shape (len(SPECIES),) [g].
    """
    found, held = 0.0, np.zeros(len(SPECIES))
    for line in batch.lines:
        grams, ingredient, inner = line.mass_g, line.ingredient, line.batch
        if grams is None:
            continue
        if inner is not None:
            out = inner.mass_out.value if inner.mass_out else 0.0
            more, row = loose_sugar(inner)
            share = grams / out if out > 0 else 0.0
            found, held = found + share * more, held + share * row
        elif ingredient is not None and ingredient.composition is not None:
            row = parts_of(ingredient.composition)
            if row[AT["sucrose"]] >= _ALL_BUT * row.sum():
                found, held = found + grams, held + grams * row
    return float(found), held


def swaps_of(
    grain: Grain, weighed: float = 1.0, sugar: Parts | None = None
) -> tuple[Swap, ...]:
    """The fewest grams of each syrup that reach the rule, or dissolve the sugar.

    Args:
        grain: the sugar of the layer.
        weighed: grams to weigh for each gram that is to be left.
        sugar: one gram of the sugar to take out, by species; sucrose if None.
    """
    warm = grain.worst.band.middle
    found = []
    rows = np.stack([syrup for _, syrup in _syrups()])
    holding = grams_to_hold(grain.parts[None], rows, warm, sugar=sugar)
    for at, (name, syrup) in enumerate(_syrups()):
        by_rule = float(grams_for_ratio(grain.parts, syrup, sugar=sugar))
        ways = (by_rule, float(holding[at]))
        grams = min((one for one in ways if np.isfinite(one) and one > 0), default=0.0)
        if grams > 0:
            out = grams * _sugars(syrup) / (1.0 if sugar is None else _sugars(sugar))
            found.append(Swap(name, weighed * grams, weighed * out))
    return tuple(found)


def _sugars(parts: Parts) -> float:
    return float(doctor_solids(parts) + parts[AT["sucrose"]])


@cache
def _syrups() -> tuple[tuple[str, Parts], ...]:
    """Each syrup at hand, one gram of it by species."""
    larder = built_in()
    found = []
    for name in _SYRUPS:
        match = larder.find(name)
        composition = match.ingredient.composition if match else None
        if composition is not None:
            found.append((name, parts_of(composition)))
    return tuple(found)


def _sandy(subject: Subject, grain: Grain) -> Iterator[Finding]:
    place = grain.sandiest
    likely, low = place.lactose[:2]
    days = [one.days for one in subject.keepings if one.days is not None]
    if not (np.isfinite(likely) and low > LACTOSE_GROWS) or grain.is_glass:
        return
    if days and max(days) <= _DAYS:
        return  # it has not the time
    lactose = float(grain.parts[AT["lactose"]])
    yield Finding(
        "lactose_sandy", Severity.NOTE, subject.name,
        "In weeks its milk sugar may go sandy.",
        f"{lactose:.0f} g of lactose are {_times(place.lactose)} what its water "
        f"holds at {place.band.middle:g} °C; over {LACTOSE_GROWS:g} it "
        "makes crystals by itself.",
        _less_lactose(subject, grain),
        _LACTOSE_SOURCE, subject.span, subject.number,
    )  # fmt: skip


def _times(of: tuple[float, float, float]) -> str:
    """How many times too much is dissolved, with its range; no water may be left."""
    likely, low, high = of
    if likely > _MANY:
        return f"over {_MANY} times"
    most = f"to {high:.1f}" if np.isfinite(high) else "and more"
    return f"{likely:.1f} times ({low:.1f} {most})"


def _less_lactose(subject: Subject, grain: Grain) -> str:
    """More water, or less of the milk, so that its lactose stays dissolved long."""
    place, weighed = grain.sandiest, subject.weighed_per_left
    over_g = float(grain.parts[AT["lactose"]]) * (1 - LACTOSE_GROWS / place.lactose[0])
    warm = place.band.middle
    water = float(water_to_hold(grain.parts, "lactose", warm, LACTOSE_GROWS))
    ways = []
    if 0 < water < _MOST_WATER * float(grain.parts.sum()):
        ways.append(f"{_wetter(subject, ceil(water))}, which makes it softer")
    for line in subject.batch.lines:
        one, grams = line.ingredient, line.mass_g
        if one is None or one.composition is None or not grams:
            continue
        row = parts_of(one.composition)
        lactose, wet = float(row[AT["lactose"]]), float(row[AT["water"]])
        if lactose >= _MILKY and wet < _DRIED:
            out = ceil(weighed * over_g / (lactose - _lactose_of_cream()))
            if out <= _MOST_MILK * grams:
                ways.append(
                    f"put {out} g of double cream in place of as much of the "
                    f"{line.line.name}, and boil it to the same water"
                )
    if not ways:
        ways.append(
            f"Keep it for {_DAYS:g} days at the most, or bring in {over_g:.0f} g less "
            "of lactose: cream for milk, butter for cream"
        )
    told = "; or ".join(ways)
    return f"{told[0].upper()}{told[1:]}. Do not stir it while it cools."


@cache
def _lactose_of_cream() -> float:
    match = built_in().find("double cream 48%")
    composition = match.ingredient.composition if match else None
    return 0.0 if composition is None else float(parts_of(composition)[AT["lactose"]])
