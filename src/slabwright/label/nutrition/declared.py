"""A value as a nutrition declaration writes it, and whether it keeps its tolerance."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from slabwright.label.nutrition.rules import (
    Rounding,
    Tolerance,
    roundings,
    tolerance_of,
)

_DIGITS = 9
"""Decimals beyond which a sum of floats says nothing."""


@dataclass(frozen=True, slots=True)
class Declared:
    """A value as it is written."""

    words: str
    """With its unit: `12 g`, `<0.5 g`."""
    number: float
    """What the words stand for; the bound where they say `<`."""
    is_below: bool
    """Whether the words say that it is below a bound."""
    row: Rounding


def declared(
    nutrient: str, value: float, unit: str, *, is_nothing: bool = False
) -> Declared:
    """A value rounded by the guidance.

    Args:
        nutrient: as the rows call it: `fat`, `energy_kj`.
        value: in its unit, per 100 g or per piece.
        unit: `g`, `kJ` or `kcal`.
        is_nothing: whether there is none at all of it, and surely so; only then is it
            written as 0.

    Raises:
        ValueError: if no row covers the nutrient or the value is below 0 or no number.
    """
    exact = Decimal(repr(round(value, _DIGITS)))
    if not exact.is_finite() or exact < 0:
        message = f"{nutrient} of {value}"
        raise ValueError(message)
    row = _row(nutrient, float(exact))
    if row.step is None:
        nothing, below = row.alternatives
        words = nothing if is_nothing else below
        bound = float(below.removeprefix("<").split()[0])
        return Declared(words, 0.0 if is_nothing else bound, not is_nothing, row)
    number = _rounded(exact, row)
    if float(number) >= row.upper:  # 9.97 g is written as 10 g and not as 10.0 g
        row = _row(nutrient, float(number))
        number = _rounded(number, row)
    return Declared(f"{number} {unit}", float(number), is_below=False, row=row)


def _row(nutrient: str, value: float) -> Rounding:
    """The row of a value; a bound in words belongs below, 10 g to the row above."""
    rows = [one for one in roundings() if one.nutrient == nutrient]
    if not rows:
        message = f"no row rounds {nutrient}"
        raise ValueError(message)
    for row in rows:
        if row.step is None and value <= row.upper:
            return row
    return next(row for row in rows if row.step and row.lower <= value < row.upper)


def _rounded(value: Decimal, row: Rounding) -> Decimal:
    return value.quantize(Decimal(1).scaleb(-row.decimals), ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class Kept:
    """Whether what is likely lies within the tolerance of what is declared."""

    low: float
    high: float
    """Between these a measured value may lie [g per 100 g]."""
    is_kept: bool
    row: Tolerance

    @property
    def words(self) -> str:
        """In one line, with its numbers."""
        row = self.row
        about = f"{row.plus:g} {row.unit}"
        said = f"± {about}: {self.low:.4g} to {self.high:.4g} g"
        return said if self.is_kept else f"{said}; what is likely goes beyond"


def kept(nutrient: str, number: float, low: float, high: float) -> Kept | None:
    """Whether a likely range keeps the tolerance of a declared number.

    Args:
        nutrient: as the rows call it.
        number: what is declared [g per 100 g].
        low: likely low end [g per 100 g].
        high: likely high end.

    Returns:
        None where the guidance gives no tolerance, as for energy.
    """
    row = tolerance_of(nutrient, number)
    if row is None:
        return None
    share = number / 100 if row.unit == "%" else 1.0
    least, most = max(number - row.minus * share, 0.0), number + row.plus * share
    slack = 1e-9 * max(most, 1.0)
    is_kept = low >= least - slack and high <= most + slack
    return Kept(least, most, is_kept, row)
