"""Boiling points of solutions."""

import numpy as np
import pytest

from slabwright.physics.boiling import boiling_point_of, water_left
from slabwright.physics.species import parts


@pytest.mark.parametrize("share", [10.0, 60.0, 85.0, 95.0])
def test_water_left_is_the_boiling_point_turned_round(share: float) -> None:
    syrup = parts(sucrose=share, water=100 - share)
    left = water_left(syrup, boiling_point_of(syrup))

    assert left == pytest.approx(100 - share, rel=1e-3)
    assert np.isnan(boiling_point_of(parts(sucrose=1)))
