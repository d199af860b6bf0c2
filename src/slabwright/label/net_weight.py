"""Net weight by the average system: three rules, and a nominal weight that keeps them.

A nominal is proposed so that weighed pieces keep all three rules with a stated
confidence. No mark of conformity is claimed.
"""

import csv
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal
from functools import cache
from importlib.resources import files
from math import floor, isfinite, sqrt
from typing import Final

from scipy import stats

from slabwright.errors import FileError, Mistake, Where
from slabwright.source import Source, sources

LEAST_G: Final = 5.0
MOST_G: Final = 25_000.0
"""The average system holds from 5 g to 25 kg; NET-05."""
SHORT_SHARE: Final = 0.025
"""At most this share may be short by more than the tolerance; NET-02."""
NONE_SHARE: Final = 0.001
"""Taken for none, which no sample proves: one of 1,000. A choice of this program."""
CONFIDENCE: Final = 0.95
"""How sure a proposal is to keep each rule. A choice of this program."""
_ENDS: Final = "the average system ends at 25 kg"
FEWEST: Final = 2
FEW: Final = 20
"""Below this many the spread is little known, and the proposal low. A choice."""


@dataclass(frozen=True, slots=True)
class Band:
    """Tolerable negative error for a range of nominal weights."""

    id: str
    from_g: float
    to_g: float
    percent: Decimal | None
    grams: Decimal | None
    from_day: date
    article: str
    source: Source
    found: str


@cache
def bands() -> tuple[Band, ...]:
    """The law's table, from the lightest to the heaviest."""
    data = files("slabwright.label").joinpath("data", "tne.csv")
    return tuple(
        Band(
            row["id"],
            float(row["nominal_from_g"]),
            float(row["nominal_to_g"]),
            Decimal(row["percent"]) if row["percent"] else None,
            Decimal(row["grams"]) if row["grams"] else None,
            date.fromisoformat(row["from"]),
            row["article"],
            sources()[row["source"]],
            row["found"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def band_of(nominal_g: float) -> Band | None:
    """The row of the table for this nominal; None outside 5 g to 25 kg."""
    if not LEAST_G <= nominal_g <= MOST_G:  # false for nan too
        return None
    return next(band for band in bands() if nominal_g <= band.to_g)


def tolerable_error_g(nominal_g: float) -> float | None:
    """The tolerable negative error [g]; None outside 5 g to 25 kg.

    A percentage is rounded up to the next 0.1 g (NET-04).

    >>> tolerable_error_g(40), tolerable_error_g(73), tolerable_error_g(130)
    (3.6, 4.5, 5.9)
    """
    band = band_of(nominal_g)
    if band is None:
        return None
    if band.grams is not None:
        return float(band.grams)
    percent = band.percent or Decimal(0)
    exact = percent * Decimal(str(nominal_g)) / 100
    return float(exact.quantize(Decimal("0.1"), ROUND_CEILING))


@dataclass(frozen=True, slots=True)
class Rule:
    """One of the packer's three rules, tried on weighed pieces."""

    id: str
    says: str
    found: str
    is_kept: bool


def rules_on(weights_g: Sequence[float], nominal_g: float) -> tuple[Rule, ...]:
    """The three rules, tried on these very pieces.

    Args:
        weights_g: contents of each piece [g].
        nominal_g: from 5 g to 25 kg.

    Raises:
        FileError: for a nominal outside that range.
    """
    error_g = _insist(nominal_g)
    mean = sum(weights_g) / len(weights_g)
    short = [w for w in weights_g if w < nominal_g - error_g - 1e-9]
    far = [w for w in weights_g if w < nominal_g - 2 * error_g - 1e-9]
    count = len(weights_g)
    return (
        Rule(
            "NET-01",
            f"on average not below {nominal_g:g} g",
            f"mean {mean:.2f} g",
            mean >= nominal_g - 1e-9,
        ),
        Rule(
            "NET-02",
            f"at most 2.5 % short by more than {error_g:g} g, the tolerable error",
            f"{len(short)} of {count} below {nominal_g - error_g:g} g",
            len(short) <= SHORT_SHARE * count + 1e-9,
        ),
        Rule(
            "NET-03",
            f"none short by more than {2 * error_g:g} g, twice that",
            f"{len(far)} of {count} below {nominal_g - 2 * error_g:g} g",
            not far,
        ),
    )


@dataclass(frozen=True, slots=True)
class Weighed:
    """What weighed pieces tell."""

    count: int
    mean_g: float
    deviation_g: float
    """One standard deviation, with what the scale's step adds [g]."""
    lightest_g: float
    heaviest_g: float
    mean_at_least_g: float
    """Lower confidence limit of the mean [g]."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """The largest nominal in whole grams that keeps all rules, and what decided it."""

    nominal_g: float | None
    """None if none from 5 g to 25 kg does."""
    decided_by: str
    """Id of the rule that the next gram would break."""
    why: str
    is_few: bool


def weighed(weights_g: Sequence[float], *, step_g: float = 0.0) -> Weighed:
    """Mean and spread of weighed pieces.

    Args:
        weights_g: contents of each piece [g].
        step_g: the scale's step; it adds step²/12 to the variance.

    Raises:
        FileError: for fewer than two, or for what is no weight.
    """
    if len(weights_g) < FEWEST:
        what = f"{len(weights_g)} weight{'' if len(weights_g) == 1 else 's'} given."
        raise FileError(Mistake(what, "Weigh two pieces or more; 20 tell a spread."))
    for number, grams in enumerate(weights_g, start=1):
        if not (isfinite(grams) and 0 < grams <= MOST_G):
            where = Where(field=f"weight {number}")
            what = f"{grams:g} g is no piece."
            raise FileError(Mistake(what, "Give grams above 0, up to 25,000.", where))
    count = len(weights_g)
    mean = sum(weights_g) / count
    variance = sum((w - mean) ** 2 for w in weights_g) / (count - 1)
    deviation = sqrt(variance + step_g**2 / 12)
    factor = float(stats.t.ppf(CONFIDENCE, count - 1)) / sqrt(count)
    return Weighed(
        count,
        mean,
        deviation,
        min(weights_g),
        max(weights_g),
        mean - factor * deviation,
    )


def limit_factor(count: int, share: float, confidence: float = CONFIDENCE) -> float:
    """How many deviations below the mean a share of all pieces lies above, so surely.

    Args:
        count: pieces weighed, two or more.
        share: of all pieces that are to lie above the limit.
        confidence: how sure.

    Source:
        One-sided tolerance limit of a normal distribution, exact by the noncentral t.
    """
    far = float(stats.norm.ppf(share)) * sqrt(count)
    return float(stats.nct.ppf(confidence, count - 1, far)) / sqrt(count)


def proposed(one: Weighed) -> Proposal:
    """The largest nominal that keeps the rules with 95 % confidence each."""
    short = one.mean_g - limit_factor(one.count, 1 - SHORT_SHARE) * one.deviation_g
    far = one.mean_g - limit_factor(one.count, 1 - NONE_SHARE) * one.deviation_g

    def broken(nominal_g: float) -> str:
        error_g = tolerable_error_g(nominal_g) or 0.0
        if one.mean_at_least_g < nominal_g - 1e-9:
            return "NET-01"
        if short < nominal_g - error_g - 1e-9:
            return "NET-02"
        least = min(far, one.lightest_g)
        return "NET-03" if least < nominal_g - 2 * error_g - 1e-9 else ""

    nominal, rule = _largest(one.mean_at_least_g, broken)
    reasons = {
        "NET-05": _ENDS,
        "NET-01": f"the mean is at least {at_least(one.mean_at_least_g, 1)} g",
        "NET-02": f"97.5 % of pieces are at least {at_least(short, 1)} g",
        "NET-03": f"the lightest of 1,000 is at least {at_least(far, 1)} g",
    }
    sure = "" if rule == "NET-05" else "with 95 % confidence "
    return Proposal(nominal, rule, f"{sure}{reasons[rule]}", one.count < FEW)


def proposed_for_spread(mean_g: float, below: Callable[[float], float]) -> Proposal:
    """The largest nominal that a computed spread of pieces keeps the rules with.

    Args:
        mean_g: mean mass of a piece [g], at the low end of its range.
        below: share of pieces lighter than so many grams.
    """

    def broken(nominal_g: float) -> str:
        error_g = tolerable_error_g(nominal_g) or 0.0
        if mean_g < nominal_g - 1e-9:
            return "NET-01"
        if below(nominal_g - error_g) > SHORT_SHARE:
            return "NET-02"
        return "NET-03" if below(nominal_g - 2 * error_g) > NONE_SHARE else ""

    nominal, rule = _largest(mean_g, broken)
    reasons = {
        "NET-05": _ENDS,
        "NET-01": f"the mean is {at_least(mean_g, 1)} g",
        "NET-02": "2.5 % of pieces would be short by more than the tolerable error",
        "NET-03": "one of 1,000 would be short by more than twice that",
    }
    return Proposal(nominal, rule, reasons[rule], is_few=False)


def at_least(grams: float, places: int) -> str:
    """A lower limit with so many decimals, never rounded above itself.

    >>> at_least(73.998, 2), at_least(74, 1)
    ('73.99', '74.0')
    """
    return f"{floor(grams * 10**places + 1e-6) / 10**places:.{places}f}"


def _largest(most_g: float, broken: Callable[[float], str]) -> tuple[float | None, str]:
    """The largest whole grams that break no rule, and what one gram more breaks."""
    first = min(floor(most_g + 1e-9), int(MOST_G))
    rule = "NET-05" if first + 1 <= most_g else "NET-01"
    for whole in range(first, int(LEAST_G) - 1, -1):
        found = broken(float(whole))
        if not found:
            return float(whole), rule
        rule = found
    return None, rule


def _insist(nominal_g: float) -> float:
    error_g = tolerable_error_g(nominal_g)
    if error_g is None:
        what = f"{nominal_g:g} g is outside the average system."
        do = "It holds from 5 g to 25 kg; or fill every pack to at least what it says."
        raise FileError(Mistake(what, do, Where(field="nominal")))
    return error_g
