"""Points of the British nutrient profiling model of 2004/5: told to the maker only.

Advertising and promotion rules lean on it; no label does.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache

from slabwright.label.nutrition.rules import Rule, table_rows

Ends = tuple[float, float]
"""Low and high end of a value."""
AGAINST = ("energy_kj", "saturates_g", "sugars_g", "sodium_mg")
"""What gives points; the fewer the better."""
FOR = ("fruit_veg_nuts_percent", "fibre_aoac_g", "protein_g")
"""What takes points off."""
_MANY = 11
"""From so many points on, protein counts only with the most points for fruit."""
_MOST_FRUIT = 5


@dataclass(frozen=True, slots=True)
class Step:
    """A row of the model: so many points above so much, or the score that counts."""

    part: str
    component: str
    points: int
    above: float
    rule: Rule


@dataclass(frozen=True, slots=True)
class Profile:
    """What a slab scores, from its best to its worst likely figures."""

    low: int
    high: int
    points: Mapping[str, tuple[int, int]]
    """Fewest and most points of each component."""
    limit: int
    """The model's line: from here on rules on promotion may bear on a food."""
    rules: tuple[Rule, ...]

    @property
    def leaves_protein_out(self) -> bool:
        """Whether protein counts for nothing, whatever the range."""
        least = sum(self.points[name][0] for name in AGAINST)
        return least >= _MANY and self.points[FOR[0]][1] < _MOST_FRUIT

    @property
    def words(self) -> str:
        """The score, and how it stands to the model's limit."""
        score = f"{self.low}" if self.low == self.high else f"{self.low} to {self.high}"
        if self.low >= self.limit:
            side = "over the model's line"
        elif self.high < self.limit:
            side = "under the model's line"
        else:
            side = "perhaps over the model's line"
        return f"{score} points, {side} of {self.limit}"


@cache
def steps() -> tuple[Step, ...]:
    """Every row of the model."""
    return table_rows(
        "nutrient_profile.csv",
        lambda row, rule: Step(
            row["part"],
            row["component"],
            int(row["points"]),
            float(row["above"] or 0),
            rule,
        ),
    )


def points_of(component: str, amount: float) -> int:
    """The points of so much of a component, per 100 g."""
    found = [
        one.points
        for one in steps()
        if one.component == component and one.part != "limit" and amount > one.above
    ]
    return max(found, default=0)


def score(points: Mapping[str, int]) -> int:
    """What the points of each component come to.

    >>> score({"energy_kj": 6, "saturates_g": 8, "protein_g": 3})
    14
    >>> score({"energy_kj": 6, "saturates_g": 4, "protein_g": 3})
    7
    """
    against = sum(points.get(one, 0) for one in AGAINST)
    fruit, fibre, protein = (points.get(one, 0) for one in FOR)
    if against >= _MANY and fruit < _MOST_FRUIT:
        protein = 0
    return against - fruit - fibre - protein


def profile(
    per_100g: Mapping[str, Ends], nation: str, on: date, kind: str = "food"
) -> Profile | None:
    """The score of a food.

    Args:
        per_100g: each component with both ends of its likely range.
        nation: where it is sold.
        on: the day whose rows hold.
        kind: `food` or `drink`.

    Returns:
        None where no row holds, or a component is not known.
    """
    if any(one not in per_100g for one in (*AGAINST, *FOR)):
        return None
    every = [one for one in steps() if one.rule.holds(nation, on)]
    limit = next(
        (one for one in every if one.part == "limit" and one.component == kind), None
    )
    if limit is None:
        return None
    points = {
        name: (points_of(name, low), points_of(name, high))
        for name, (low, high) in per_100g.items()
    }
    best = {name: points[name][0 if name in AGAINST else 1] for name in points}
    worst = {name: points[name][1 if name in AGAINST else 0] for name in points}
    rules = tuple(dict.fromkeys(one.rule for one in (every[0], limit)))
    return Profile(score(best), score(worst), points, limit.points, rules)
