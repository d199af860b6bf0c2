"""In what steps a line is weighed, by what the kitchen's scales show."""

from math import ceil, floor, log10
from typing import Final

from slabwright.kitchen import Kitchen, Scale

_SAME: Final = 1e-6
_ROUND: Final = (
    (1.0, 0.01), (10.0, 0.1), (200.0, 1.0), (2000.0, 5.0), (10_000.0, 10.0),
    (50_000.0, 50.0),
)  # fmt: skip
"""Up to so many grams in such steps: fine under 10 g, 5 g above 200 g. The steps that
a kitchen says: common practice, no source; beyond 2 kg they are our own."""
_CAREFUL: Final = ((2.0, 0.01), (50.0, 0.1), *_ROUND[2:])
"""The same for salt, setting and raising agents: half a step is 1 % from 5 g on."""
FEW_STEPS: Final = 40
"""What weighs fewer steps than this is weighed coarsely for what it is."""


def step_g(grams: float, kitchen: Kitchen, *, careful: bool = False) -> float:
    """The step that so much is weighed in [g], on the finest scale that carries it.

    What is too little for half a step of that scale keeps its grams: one step of a
    scale would be twice as much and more.

    Args:
        grams: about so much is weighed [g], above 0.
        kitchen: its scales.
        careful: whether it is salt or sets or raises.

    >>> from slabwright.kitchen import Kitchen, Scale
    >>> bakery = Kitchen(scales=(Scale(5000, 1), Scale(300, 0.1)))
    >>> [step_g(grams, bakery) for grams in (0.8, 7.0, 120.0, 668.0)]
    [0.1, 0.1, 1.0, 5.0]
    >>> step_g(17.6, bakery, careful=True), step_g(17.6, bakery)
    (0.1, 1.0)
    """
    bands = _CAREFUL if careful else _ROUND
    beyond_g = 10.0 ** (floor(log10(grams)) - 2)  # three figures
    round_g = next((step for up_to, step in bands if grams <= up_to), beyond_g)
    scale = kitchen.scale_for(grams) or _largest(kitchen)
    if scale is None:
        return round_g
    shown_g = _shown(round_g, scale.step_g)
    return grams if grams < scale.step_g / 2 else shown_g


def _largest(kitchen: Kitchen) -> Scale | None:
    """The scale that carries most: what is too heavy for it is weighed in parts."""
    return max(kitchen.scales, key=lambda scale: scale.to_g, default=None)


def _shown(round_g: float, scale_g: float) -> float:
    """The round step, or the next that this scale can show."""
    for times in (1, 2, 4):
        steps = times * round_g / scale_g
        if steps > 0.5 and abs(steps - round(steps)) < _SAME:
            return times * round_g
    return round(ceil(round_g / scale_g - _SAME) * scale_g, 6)
