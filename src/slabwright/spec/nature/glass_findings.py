"""Cooked sugar that is too hard or too soft where it is eaten, and what mends it."""

from collections.abc import Iterator
from typing import Final

from slabwright.figure import Figure
from slabwright.finding import Finding, Severity
from slabwright.formula.step import Band
from slabwright.physics.glass import WORDS, water_for_glass, word_at
from slabwright.physics.species import AT, Parts
from slabwright.spec.nature.phase import Phase
from slabwright.spec.nature.subject import Subject

HARD_MARGIN_K: Final = 5.0
"""So far beyond the limit of its word before a layer is called too hard or too soft:
about how sure the limit itself is. Our own."""
COLD_C: Final = 10.0
"""A place colder than this is a fridge. Common practice, no source."""
FROZEN_C: Final = -2.0
"""Colder than this nobody cuts or eats it. Common practice, no source."""

_BY_WORD: Final = {one.word: at for at, one in enumerate(WORDS)}
_FLOWS_K: Final = WORDS[_BY_WORD["flows"]].from_K


def glass_findings(
    subject: Subject, phase: Phase, parts: Parts, transition: Figure
) -> Iterator[Finding]:
    """Whether it is harder or softer than its kind is meant to be.

    Args:
        subject: the layer.
        phase: how its sugar lies; it has to be a syrup.
        parts: its finished mass by species, shape (len(SPECIES),) [g].
        transition: its glass transition, with its range [°C].
    """
    eaten = subject.eaten_C
    above = eaten.middle - transition.number
    meant = _BY_WORD[phase.hardest]
    softest_K = WORDS[meant].from_K
    if above < softest_K - HARD_MARGIN_K:
        yield _too_hard(subject, phase, parts, transition, eaten)
    elif meant >= _BY_WORD["chewy"]:
        for one in subject.keepings:
            band = one.temperature_C
            cold = band.middle - transition.number < HARD_MARGIN_K
            if FROZEN_C < band.middle < COLD_C and cold:
                yield _snaps(subject, parts, transition, band, one.text)
                break
    if not phase.held_by:
        most = _FLOWS_K if meant > 0 else WORDS[_BY_WORD["chewy"]].from_K
        nearest, _ = above_ends(eaten, transition)
        if above > most:
            surely = above > most + HARD_MARGIN_K and nearest > most
            yield _too_soft(subject, parts, transition, most, surely=surely)


def _too_hard(
    subject: Subject, phase: Phase, parts: Parts, transition: Figure, band: Band
) -> Finding:
    meant = WORDS[_BY_WORD[phase.hardest]]
    above = band.middle - transition.number
    more = _water_to(parts, band.middle - meant.from_K - HARD_MARGIN_K)
    return Finding(
        "too_hard_cold", Severity.LOOK, subject.name,
        f"At {told(band)} it is {word_at(above).word}, where a "
        f"{subject.batch.kind.name} is meant to be {meant.word}.",
        f"Its syrup turns to glass at {_range(transition)}: it is eaten "
        f"{abs(above):.0f} K {'above' if above >= 0 else 'under'} the middle of that, "
        f"and {meant.word} begins at {meant.from_K:g} K above.",
        f"Stop the boil with {more:.0f} g more water in the batch, or stir in "
        f"{more:.0f} g of hot water at the end.",
        "Gordon and Taylor's rule; limits of the words our own",
        subject.span, subject.number,
    )  # fmt: skip


def _snaps(
    subject: Subject, parts: Parts, transition: Figure, band: Band, text: str
) -> Finding:
    more = _water_to(parts, band.middle - 2 * HARD_MARGIN_K)
    return Finding(
        "snaps_cold", Severity.NOTE, subject.name,
        f"Kept {text} it is all but a glass: it snaps under the knife.",
        f"Its syrup turns to glass at {_range(transition)}; it lies there at "
        f"{told(band)}.",
        f"Let it stand in the room before it is cut and eaten, or stop the boil with "
        f"{more:.0f} g more water in the batch.",
        "Gordon and Taylor's rule", subject.span, subject.number,
    )  # fmt: skip


def _too_soft(
    subject: Subject, parts: Parts, transition: Figure, most_K: float, *, surely: bool
) -> Finding:
    """A note where an end of its range would still stand."""
    band = subject.eaten_C
    above = band.middle - transition.number
    less = -_water_to(parts, band.middle - most_K + HARD_MARGIN_K)
    does = "runs" if most_K == _FLOWS_K else "bends and does not snap"
    if not surely:
        does = "may run" if most_K == _FLOWS_K else "may bend and not snap"
    return Finding(
        "too_soft_to_stand", Severity.LOOK if surely else Severity.NOTE, subject.name,
        f"At {told(band)} it {does}: nothing but its syrup holds it up.",
        f"Its syrup turns to glass at {_range(transition)}; it is eaten {above:.0f} K "
        f"above the middle of that, and should be under {most_K:g} K.",
        f"Boil {less:.0f} g more water out of the batch.",
        "Gordon and Taylor's rule; limits of the words our own",
        subject.span, subject.number,
    )  # fmt: skip


def _water_to(parts: Parts, transition_C: float) -> float:
    """Water to add so that its glass lies there [g]; under 0 if some must go."""
    return float(water_for_glass(parts, transition_C)) - float(parts[AT["water"]])


def _range(transition: Figure) -> str:
    low = transition.number if transition.low is None else transition.low
    high = transition.number if transition.high is None else transition.high
    return minus(f"{low:.0f} to {high:.0f} °C")


def above_ends(band: Band, transition: Figure) -> tuple[float, float]:
    """Least and most that a place may lie above the transition [K]."""
    low = transition.number if transition.low is None else transition.low
    high = transition.number if transition.high is None else transition.high
    return band.low - high, band.high - low


def told(band: Band) -> str:
    """A band of temperatures in words."""
    if band.low == band.high:
        return minus(f"{band.low:g} °C")
    return minus(f"{band.low:g} to {band.high:g} °C")


def minus(number: str) -> str:
    """A number with a true minus sign.

    >>> minus("-14")
    '−14'
    """
    return number.replace("-", "−")
