"""Where two layers touch: which way the water moves, and what goes soft by it."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from slabwright.composition import Masses, total
from slabwright.composition import water as water_of
from slabwright.figure import Figure, weakest, withheld
from slabwright.finding import Finding, Severity
from slabwright.physics.layer_water import HOLDS, activity_at_rest
from slabwright.source import sources
from slabwright.spec.nature.aspect import Classed, Named, Touching
from slabwright.spec.nature.phase import Phase, phases
from slabwright.spec.nature.subject import Subject
from slabwright.spec.nature.water import AT_C, CRISP_TO, Wetness, wetness_of

LEVEL: Final = 0.05
"""Layers nearer to each other than this hardly change. Common practice, no source."""
GAPS: Final = (("level", 0.0), ("near", LEVEL), ("apart", 0.15), ("far apart", 0.35))
"""Words for how far two layers lie apart. Common practice, no source."""
WET: Final = 0.75
"""From here on a layer has water to give within days. Common practice, no source."""
DAMP: Final = 0.65
"""From here on within a week or so. Common practice, no source."""
FILM_MM: Final = 0.6
"""The chocolate film that was measured: Biquet and Labuza (1988)."""
CHOCOLATE_G_ML: Final = 1.25
"""Density of chocolate. Common practice, no source."""


def water_between(lower: Subject, upper: Subject) -> Touching | None:
    """Which way water moves between two layers; None where one is not known."""
    below, above = wetness_of(lower), wetness_of(upper)
    if below is None or above is None:
        return None
    phase = {one.name: phases()[one.batch.kind.name] for one in (lower, upper)}
    wet, dry = (upper, lower) if above.value > below.value else (lower, upper)
    wetter, drier = (above, below) if wet is upper else (below, above)
    gap = wetter.value - drier.value
    leans = [*lower.batch.composition_leans, *upper.batch.composition_leans]
    figure = Figure(
        gap, "",
        f"{wet.name} {wetter.value:.3f} − {dry.name} {drier.value:.3f} = {gap:.3f}",
        weakest(["worked out", *leans]),
        max(wetter.low - drier.high, 0.0), wetter.high - drier.low,
        (sources()["stokes-robinson-1966"], sources()["gab"]),
    )  # fmt: skip
    barrier = next((one for one in (wet, dry) if phase[one.name].is_fatty), None)
    return Touching(
        lower.name,
        upper.name,
        (
            Named("activity_difference", "difference in water activity", figure),
            Named("activity_at_rest", "where both would end", _at_rest(lower, upper)),
        ),
        tuple(
            replace(one, standing=figure.standing)
            for one in _classes(wet, dry, wetter, drier, barrier, phase[dry.name])
        ),
        tuple(_findings(wet, dry, wetter, drier, barrier, phase[dry.name])),
    )


def _at_rest(lower: Subject, upper: Subject) -> Figure:
    """Where both would end if they shared their water and gave none to the air."""
    masses = [_lying(one) for one in (lower, upper)]
    if masses[0] is None or masses[1] is None:
        return withheld("", "how much of each lies in the slab is not known")
    kinds = [phases()[one.batch.kind.name] for one in (lower, upper)]
    two = (masses[0], masses[1])
    rest = activity_at_rest(
        two, [one.dissolved for one in kinds], [one.crumb for one in kinds], AT_C
    )
    likely, dry, wet = (float(one) for one in rest)
    water = [float(water_of(one)) for one in (masses[0], masses[1])]
    said = (
        f"{water[0]:.4g} g of water in {lower.name} and {water[1]:.4g} g in "
        f"{upper.name} shared out, none lost to the air: {likely:.3f}; how soon is not "
        "worked out"
    )
    leans = [*lower.batch.composition_leans, *upper.batch.composition_leans]
    return Figure(
        likely, "", said, weakest(["worked out", *leans]), dry, wet,
        (sources()["stokes-robinson-1966"], sources()["gab"]), holds=HOLDS,
    )  # fmt: skip


def _lying(subject: Subject) -> Masses | None:
    """What of a batch lies in the slab [g]; None where nobody knows how much."""
    whole = float(total(subject.finished[0]))
    if subject.mass_g is None or not whole > 0:
        return None
    lying: Masses = subject.finished[0] * (subject.mass_g / whole)
    return lying


def _classes(
    wet: Subject,
    dry: Subject,
    wetter: Wetness,
    drier: Wetness,
    barrier: Subject | None,
    phase: Phase,
) -> Iterator[Classed]:
    gap = wetter.value - drier.value
    trade = (sources()["trade"],)
    word = next(name for name, least in reversed(GAPS) if gap >= least)
    bands = ", ".join(f"{name} from {least:g}" for name, least in GAPS[1:])
    yield Classed(
        "water_gap", "water activities lie", word,
        f"{gap:.2f} apart; {bands}: common practice",
        tuple(name for name, _ in GAPS), sources=trade,
    )  # fmt: skip
    into = f"from {wet.name} into {dry.name}"
    said = f"{wetter.value:.2f} in {wet.name}, {drier.value:.2f} in {dry.name}"
    if gap < LEVEL:
        moves, why = "hardly", f"{said}: too near to each other to matter"
    elif wetter.low < drier.high:
        moves, why = "not sure", f"{said}: their likely ranges overlap"
    elif barrier is not None:
        moves = "held back"
        why = f"{said}, {into}; the fat of {barrier.name} lies between and slows it"
    else:
        moves, why = "moves", f"{said}: water moves {into} until both are as wet"
    yield Classed(
        "water_moves", f"water {into}", moves, why,
        ("hardly", "held back", "moves", "not sure"),
        sources=(*trade, sources()["barrier-biquet-1988"]) if barrier else trade,
    )  # fmt: skip
    if moves == "moves":
        yield _suffers(wet, dry, wetter, drier, phase)


def _suffers(
    wet: Subject, dry: Subject, wetter: Wetness, drier: Wetness, phase: Phase
) -> Classed:
    """What shows first."""
    trade = (sources()["trade"], sources()["crisp-katz-1981"])
    words = ("goes soft", "turns sticky", "melts and weeps", "dries where they touch")
    low, high = CRISP_TO
    if phase.crisp != "no" and drier.value < high and wetter.value > low:
        word = "turns sticky" if phase.is_syrup else "goes soft"
        why = (
            f"{dry.name} lies at {drier.value:.2f} and {wet.name} at "
            f"{wetter.value:.2f}; crackers and puffs go soft from {low:g} to {high:g}"
        )
    elif phase.held_by == "its crystals":
        word = "melts and weeps"
        why = f"{dry.name} takes up water at its face, which dissolves its crystals"
    elif phase.is_syrup:
        word = "turns sticky"
        why = f"{dry.name} takes up water at its face: its syrup thins there first"
    else:
        word = "dries where they touch"
        why = f"{wet.name} gives water to {dry.name}, which has no crispness to lose"
    return Classed("suffers_first", "what shows first", word, why, words, sources=trade)


def _findings(
    wet: Subject,
    dry: Subject,
    wetter: Wetness,
    drier: Wetness,
    barrier: Subject | None,
    phase: Phase,
) -> Iterator[Finding]:
    is_crisp = phase.crisp != "no" and drier.value < CRISP_TO[1]
    if barrier is not None or not is_crisp or wetter.value < DAMP:
        return
    is_sure = phase.crisp == "yes" and wetter.value >= WET
    low, high = CRISP_TO
    does = "turns sticky" if phase.is_syrup else "goes soft"
    when = "within days" if wetter.value >= WET else "within a week or so"
    yield Finding(
        "wetter_neighbour", Severity.LOOK if is_sure else Severity.NOTE, dry.name,
        f"It {does} {when}: {wet.name} beside it is far wetter.",
        f"Water activity {wetter.value:.2f} against {drier.value:.2f}; crackers and "
        f"puffs go soft from {low:g} to {high:g}, and nothing of fat lies between.",
        f"{_smear(dry, wet)}, or put {wet.name} on as late as the day it is sold.",
        "Katz and Labuza (1981); Biquet and Labuza (1988); how fast: common practice",
        dry.span, dry.number,
    )  # fmt: skip


def _smear(dry: Subject, wet: Subject) -> str:
    """The film of chocolate that would part them, in grams."""
    area = dry.area_cm2 or wet.area_cm2
    per_cm2 = FILM_MM / 10 * CHOCOLATE_G_ML
    said = f"a film of {FILM_MM:g} mm of dark chocolate or cocoa butter"
    if area is None:
        return f"Smear {100 * per_cm2:.1f} g on each 100 cm² between them, {said}"
    return f"Smear {area * per_cm2:.0f} g between them, {said} over {area:.0f} cm²"
