"""Low, medium or high, as the front of a British pack may show: told to the maker only.

The guide is voluntary. Nothing here goes on a label unless its maker asks for it.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from slabwright.label.nutrition.rules import Threshold, thresholds


class Level(StrEnum):
    """How much of it there is, in the guide's words for its colours."""

    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"


@dataclass(frozen=True, slots=True)
class Front:
    """How one nutrient would stand on the front of a pack."""

    nutrient: str
    level: Level
    may_be: tuple[Level, ...]
    """What its likely range allows besides."""
    by_portion: bool
    """Whether it is high for what one portion holds."""
    why: str
    row: Threshold

    @property
    def words(self) -> str:
        """The level, and what it may be besides."""
        more = " or ".join(one.value for one in self.may_be)
        return f"{self.level.value}, may be {more}" if more else self.level.value


def front(
    nutrient: str,
    per_100: tuple[float, float, float],
    portion: float | None,
    nation: str,
    on: date,
    kind: str = "food",
) -> Front | None:
    """The level of a nutrient.

    Args:
        nutrient: `fat`, `saturates`, `sugars` or `salt`.
        per_100: value, low and high end [g per 100 g, for a drink per 100 ml].
        portion: a portion [g or ml]; None if it isn't known.
        nation: where it is sold.
        on: the day whose rows hold.
        kind: `food` or `drink`.

    Returns:
        None where no row holds.
    """
    row = next(
        (
            one
            for one in thresholds()
            if (one.kind, one.nutrient) == (kind, nutrient)
            and one.rule.holds(nation, on)
        ),
        None,
    )
    if row is None:
        return None
    value, low, high = per_100
    level, by_portion = _level(row, value, portion)
    others = {_level(row, end, portion)[0] for end in (low, high)}
    order = list(Level)
    if others:  # what lies between two ends is likely too
        ends = sorted(order.index(one) for one in others)
        others = set(order[ends[0] : ends[-1] + 1])
    may_be = tuple(one for one in Level if one in others and one is not level)
    return Front(nutrient, level, may_be, by_portion, _why(row, value, portion), row)


def _level(row: Threshold, value: float, portion: float | None) -> tuple[Level, bool]:
    if value > row.medium_to:
        return Level.HIGH, False
    is_large = portion is not None and portion > row.portion_above
    if is_large and value * (portion or 0.0) / 100 > row.high_in_portion:
        return Level.HIGH, True
    return (Level.LOW if value <= row.low_to else Level.MEDIUM), False


def _why(row: Threshold, value: float, portion: float | None) -> str:
    unit = "g" if row.kind == "food" else "ml"
    said = (
        f"{value:.3g} g per 100 {unit}: low up to {row.low_to:g}, "
        f"medium up to {row.medium_to:g}"
    )
    if portion is not None and portion > row.portion_above:
        held = value * portion / 100
        said += (
            f"; a portion of {portion:.4g} {unit} holds {held:.3g} g: "
            f"high above {row.high_in_portion:g}"
        )
    return said
