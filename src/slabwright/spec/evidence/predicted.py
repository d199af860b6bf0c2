"""What the physics says of a published row, as a value."""

from collections.abc import Callable
from dataclasses import dataclass

from slabwright.spec.evidence.rows import Row


@dataclass(frozen=True, slots=True)
class Predicted:
    """What the physics says of a row, in the row's unit."""

    value: float
    low: float | None = None
    high: float | None = None
    by: str = ""
    """The function that said it."""
    assumed: str = ""
    """What the row leaves open, and was taken for."""


Predictor = Callable[[Row], Predicted | str]
"""Ours of a row, or in words why there is none."""
