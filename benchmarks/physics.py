"""A hundred thousand solutions at once, against one exponential of the same array."""

import numpy as np

from benchmarks.clock import Taken, side_by_side
from slabwright.physics.activity import likely_range, water_activity
from slabwright.physics.boiling import boiling_point_of, water_left
from slabwright.physics.species import SPECIES

_ROWS = 100_000


def physics(rounds: int = 7) -> tuple[Taken, ...]:
    """Warm. First: NumPy's exponential of every mass, which the ratios are to."""
    rng = np.random.default_rng(20)
    parts = rng.random((_ROWS, len(SPECIES)))
    warm = rng.uniform(4, 60, _ROWS)
    kPa = rng.uniform(70, 103, _ROWS)
    few = parts[:3]
    return side_by_side(
        {
            "exponential of 100,000 mixes": lambda _: np.exp(-parts),
            "water activity, one temperature": lambda _: water_activity(parts, 20.0),
            "water activity, each its own": lambda _: water_activity(parts, warm),
            "its likely range": lambda _: likely_range(parts, 20.0),
            "boiling point, one pressure": lambda _: boiling_point_of(parts),
            "boiling point, each its own": lambda _: boiling_point_of(parts, kPa),
            "water left, one boil": lambda _: water_left(parts, 118.0),
            "water left, each its own": lambda _: water_left(parts, warm + 101, kPa),
            "water activity of a layer": lambda _: water_activity(few, 20.0),
        },
        rounds=rounds,
        warm=1,
    )
