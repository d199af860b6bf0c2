"""A step of the method: what is done, and the clauses that say how far and how long."""

from dataclasses import dataclass

from slabwright.errors import Span


@dataclass(frozen=True, slots=True)
class Band:
    """From low to high; both the same if one number was written."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Half way between."""
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class Within:
    """Must start at most so long after another step has ended."""

    minutes: float
    step: str
    """First words of that step; empty for the step before."""
    layer: str
    """The layer that the step belongs to; empty for this one."""


@dataclass(frozen=True, slots=True)
class When:
    """May start only when a layer, or this mix, is under or over a temperature."""

    layer: str
    side: str
    """`under` or `over`."""
    temperature_C: float


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that is done, in its maker's words, and what was understood of it."""

    text: str
    span: Span
    does: str
    """First words: what is done."""
    at_C: Band | None = None
    """Temperature of the oven or of the mix while it is done [°C]."""
    fan: bool = False
    """Whether that is the setting of an oven with a fan."""
    fan_C: Band | None = None
    """The setting with a fan, where both are given [°C]."""
    to_C: Band | None = None
    """Temperature that ends it [°C]."""
    over_C: float | None = None
    under_C: float | None = None
    minutes: Band | None = None
    """How long it takes or waits [min]."""
    hands_minutes: Band | None = None
    """Minutes of hands."""
    hands_a_tray_minutes: float | None = None
    until: str = ""
    within: Within | None = None
    when: When | None = None
    then: str = ""
    places: tuple[str, ...] = ()
    """Places and tools of the kitchen that it names."""
    rest: tuple[str, ...] = ()
    """Clauses that stay the maker's words."""
    misread: str = ""
    """The card word that it looks like; empty if none."""
