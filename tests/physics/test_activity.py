"""Water activity of solutions."""

import numpy as np
import pytest

from slabwright.physics.activity import dissolved_water, likely_range, water_activity
from slabwright.physics.species import parts


@pytest.mark.parametrize("share", [1.0, 40.0, 80.0, 95.0])
def test_dissolved_water_is_the_activity_turned_round(share: float) -> None:
    syrup = parts(sucrose=share, water=100 - share)
    activity = water_activity(syrup, 25.0)
    low, high = likely_range(syrup, 25.0)

    assert dissolved_water(syrup, activity) == pytest.approx(100 - share, rel=1e-3)
    assert low < activity < high
    assert water_activity(parts(water=1)) == 1
    assert np.isnan(water_activity(parts(fat_milk=1)))
