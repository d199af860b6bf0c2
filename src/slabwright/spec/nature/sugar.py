"""The sugar of a layer: dissolved, over saturation, held by its syrups or grained."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.physics.graining import (
    DOCTOR_RATIO,
    GLUCOSE_GRAINS,
    GLUCOSE_STAYS,
    GROWS,
    LACTOSE_GROWS,
)
from slabwright.physics.solubility import OTHERS_HIGHEST, others_per_water
from slabwright.physics.species import AT
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Classed, Named
from slabwright.spec.nature.grain import (
    GLUCOSE_WORDS,
    GRAINS,
    HELD,
    LACTOSE_WORDS,
    MAY,
    STAYS,
    WORDS,
    Grain,
    Place,
    Rule,
    grain_of,
    rules,
    sugars_g,
)
from slabwright.spec.nature.subject import Subject
from slabwright.spec.nature.sugar_findings import sugar_findings

_LEAST_SHARE: Final = 0.02
"""A layer with less sugar than this has none to speak of. Our own."""
_LEAST_LACTOSE: Final = 0.01
_APART_K: Final = 5.0
"""Places nearer than this are told as one. Our own."""
_MOST: Final = 10.0
"""Over so many times the sugar lies all but dry, and no solubility tells more."""
_TITLE: Final = "Sugar: clear or grained"
_HOLDS: Final = (
    "-13 to 140 °C in water; beside other sugars measured for invert sugar, up to 2.2 "
    "g for each gram of water"
)


def sugar_of(subject: Subject) -> Aspect | None:
    """Whether its sugar stays dissolved; None where there is none to speak of."""
    if subject.unknown:
        return _silent(f"what it is made of is not known: {subject.unknown}")
    grain = grain_of(subject)
    if grain is None or sugars_g(grain.parts) < _LEAST_SHARE * grain.parts.sum():
        return None
    rule = rules()[subject.batch.kind.name]
    if rule.policy in {"crystals", "untold"}:
        return _silent(rule.why)
    standing = weakest(["worked out", *subject.batch.composition_leans])
    return Aspect(
        "sugar",
        _TITLE,
        tuple(_figures(grain, rule, standing)),
        tuple(_classes(grain, rule, standing)),
        tuple(_notes(grain, rule)),
        findings=tuple(sugar_findings(subject, grain, rule)),
    )


def _silent(why: str) -> Aspect:
    reason = "Whether its sugar grains is not told: "
    figure = withheld("x", why)
    return Aspect(
        "sugar", _TITLE, (Named("supersaturation", "times saturated", figure),),
        notes=(f"{reason}{why}.",),
    )  # fmt: skip


def _figures(grain: Grain, rule: Rule, standing: Standing) -> Iterator[Named]:
    if rule.policy != "lactose":
        yield Named(
            "supersaturation",
            "sucrose, times what dissolves",
            _over(grain, grain.places[0], "sucrose", standing),
        )
        apart = grain.places[0].band.middle - grain.worst.band.middle
        if abs(apart) >= _APART_K:
            yield Named(
                "supersaturation_kept",
                f"the same, kept {grain.worst.text}",
                _over(grain, grain.worst, "sucrose", standing),
            )
        yield Named("doctor_ratio", "syrup solids to sucrose", _ratio(grain, standing))
    if _has_lactose(grain, rule):
        yield Named(
            "lactose_supersaturation",
            "lactose, times what dissolves",
            _over(grain, grain.sandiest, "lactose", standing),
        )
    if rule.policy != "lactose" and grain.glucose[0] > 0:
        yield Named("glucose_per_water", "glucose to water", _glucose(grain, standing))


def _over(grain: Grain, place: Place, species: str, standing: Standing) -> Figure:
    likely, low, high = place.sucrose if species == "sucrose" else place.lactose
    mass, water = (float(grain.parts[AT[name]]) for name in (species, "water"))
    if not np.isfinite(likely):
        return withheld("x", "there is no water in it")
    if likely > _MOST:
        why = (
            f"{mass:.4g} g in {water:.3g} g of water: over {_MOST:g} times, all but dry"
        )
        return withheld("x", why)
    if not likely > 0:
        return Figure(0.0, "x", f"there is no {species} in it", standing)
    own = 100 * mass / water
    said = (
        f"{mass:.4g} g in {water:.4g} g of water are {own:.0f} g in 100 g; it holds "
        f"{own / likely:.0f} g at {place.band.middle:g} °C beside the others: "
        f"{likely:.2f} times"
    )
    keys = ["vavrinecz-1962"] if species == "sucrose" else ["hudson-lactose"]
    told = tuple(sources()[key] for key in (*keys, "jackson-silsbee-1924"))
    least, most = (low, high) if np.isfinite(high) else (None, None)
    return Figure(likely, "x", said, standing, least, most, told, _HOLDS)


def _ratio(grain: Grain, standing: Standing) -> Figure:
    likely, low, high = grain.ratio
    sucrose = float(grain.parts[AT["sucrose"]])
    if not np.isfinite(likely):
        return withheld("x", "there is no sucrose in it")
    said = (
        f"{grain.doctor_g:.4g} g of other sugars and syrup solids, without lactose, ÷ "
        f"{sucrose:.4g} g of sucrose = {likely:.2f}"
    )
    wide = high - low > 1e-9
    return Figure(
        likely, "x", said, standing, low if wide else None, high if wide else None,
        (sources()["doctor-rule"],), "caramels that are kept",
    )  # fmt: skip


def _glucose(grain: Grain, standing: Standing) -> Figure:
    likely, low, high = grain.glucose
    if not np.isfinite(likely):
        return withheld("x", "there is no water in it")
    mass, water = (float(grain.parts[AT[name]]) for name in ("glucose", "water"))
    said = f"{mass:.3g} g ÷ {water:.3g} g = {likely:.2f}"
    wide = high - low > 1e-9
    return Figure(
        likely, "x", said, standing, low if wide else None, high if wide else None,
        (sources()["honey-grain"],), "honey",
    )  # fmt: skip


def _classes(grain: Grain, rule: Rule, standing: Standing) -> Iterator[Classed]:
    if rule.policy == "judged":
        yield Classed(
            "graining", "its sugar", grain.word, _why(grain), WORDS, standing,
            _rule_sources(),
        )  # fmt: skip
    elif rule.policy == "wanted":
        yield _wanted(grain, rule, standing)
    if _has_lactose(grain, rule):
        yield _lactose(grain, rule, standing)
    glucose = grain.glucose[0]
    can_grow = rule.policy == "judged" and not grain.is_glass
    if can_grow and glucose > GLUCOSE_STAYS / 2:
        at = (glucose >= GLUCOSE_STAYS) + (glucose > GLUCOSE_GRAINS)
        yield Classed(
            "glucose", "its glucose", GLUCOSE_WORDS[at],
            f"{glucose:.2f} g for each gram of water; honey stays liquid under "
            f"{GLUCOSE_STAYS:g} and grains soon over {GLUCOSE_GRAINS:g}", GLUCOSE_WORDS,
            standing, (sources()["honey-grain"],),
        )  # fmt: skip


def _has_lactose(grain: Grain, rule: Rule) -> bool:
    enough = _LEAST_LACTOSE * float(grain.parts.sum())
    return rule.policy != "wanted" and float(grain.parts[AT["lactose"]]) >= enough


def _lactose(grain: Grain, rule: Rule, standing: Standing) -> Classed:
    over, low, high = grain.sandiest.lactose
    word = grain.lactose_word
    more = ""
    if rule.policy == "lactose" and word == LACTOSE_WORDS[-1]:
        word = LACTOSE_WORDS[1]  # all that it could be, not all that it is
        more = "; but what of it is dissolved at all is not known, and that is its most"
    ends = [f"{one:.1f}" for one in (low, high)]
    spread = f" ({ends[0]} to {ends[1]})" if ends[0] != ends[1] else ""
    told = f"{over:.1f} times{spread} what dissolves"
    if over > _MOST:
        told = f"over {_MOST:g} times what dissolves"
    why = (
        f"{told}; to 1 it stays dissolved, over {LACTOSE_GROWS:g} it makes crystals by "
        f"itself, slowly{more}"
    )
    keys = ("lactose-zones", "hudson-lactose")
    return Classed(
        "lactose", "its milk sugar", word, why, LACTOSE_WORDS, standing,
        tuple(sources()[key] for key in keys),
    )  # fmt: skip


def _wanted(grain: Grain, rule: Rule, standing: Standing) -> Classed:
    """For fudge and fondant, where grain is what is made."""
    over = grain.places[0].sucrose[0]
    words = ("hardly any grain", "grain as wanted")
    is_over = over > GROWS and grain.ratio[0] < DOCTOR_RATIO
    why = (
        f"{rule.why}: it takes {GROWS:g} times saturation and less than "
        f"{DOCTOR_RATIO:g} g of syrup solids to a gram of sucrose; here "
        f"{over:.1f} and {grain.ratio[0]:.2f}"
    )
    told = (rule.source, *_rule_sources())
    return Classed("graining", "its sugar", words[is_over], why, words, standing, told)


def _why(grain: Grain) -> str:
    over, ratio = grain.worst.sucrose[0], grain.ratio[0]
    state = f"{over:.2f} times saturated at {grain.worst.band.middle:g} °C"
    if not over <= _MOST:
        state = "sugar all but dry"
    rule = f"{ratio:.2f} g of syrup solids to a gram of sucrose (rule {DOCTOR_RATIO:g})"
    reasons = {
        STAYS: f"{state}: a crystal would dissolve",
        HELD: (
            f"{state}, so by its state it could grain; by the trade's rule it does "
            f"not: {rule}"
        ),
        MAY: "; ".join((state, rule, *grain.milder)),
        GRAINS: f"{state}, over {GROWS:g}; {rule}",
    }
    told = reasons[grain.word]
    if grain.is_glass and over > 1:
        told += "; it is a glass, in which crystals hardly grow while it stays dry"
    return told


def _notes(grain: Grain, rule: Rule) -> Iterator[str]:
    if rule.policy == "lactose":
        yield f"Its sucrose is not judged: {rule.why}."
        yield "All its lactose is counted as if it were dissolved, its most."
        return
    q = float(others_per_water(grain.parts, "sucrose"))
    if q > OTHERS_HIGHEST:
        yield (
            f"{q:.1f} g of other sugars lie with each gram of water, more than anybody "
            "measured: how much sucrose it holds is a guess between wide ends."
        )
    if rule.is_acid_boil:
        yield (
            "Boiled with fruit or acid, part of its sucrose turns to glucose and "
            "fructose. That is not counted: it grains less than is told here."
        )
    if 0 <= grain.above_glass_K < 40 and grain.worst.sucrose[0] > 1:
        yield (
            "It is eaten near its glass, where a thick syrup slows every crystal; "
            "water that it draws from the air brings them on."
        )


def _rule_sources() -> tuple[Source, ...]:
    keys = (
        "doctor-rule", "sugar-boiling-zones", "vavrinecz-1962", "jackson-silsbee-1924",
    )  # fmt: skip
    return tuple(sources()[key] for key in keys)
