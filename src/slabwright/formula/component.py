"""A component: a formula and what happens to it, in written order."""

from dataclasses import dataclass
from typing import Literal

from slabwright.errors import Span
from slabwright.formula.line import Line
from slabwright.formula.step import Step


@dataclass(frozen=True, slots=True)
class Ends:
    """What is there now: so many grams, or so much water in it."""

    span: Span
    grams: float | None = None
    water_share: float | None = None
    is_measured: bool = False


@dataclass(frozen=True, slots=True)
class Loses:
    """What goes: grams, or a share of what is there."""

    span: Span
    of: Literal["mix", "water"]
    """Mix as it is, left on bowl, pan or sheet; or water, then alcohol."""
    grams: float | None = None
    share: float | None = None
    is_measured: bool = False
    place: str = ""


@dataclass(frozen=True, slots=True)
class Reads:
    """What scale or refractometer said of the pan at the end of a boil."""

    span: Span
    at_C: float | None = None
    """How hot the mix truly was; None for the end of the boil before it [°C]."""
    grams: float | None = None
    """What was in the pan, the pan itself taken off."""
    brix: float | None = None
    """Degrees Brix of the mix [g per 100 g of what is not fat]."""
    water_share: float | None = None


@dataclass(frozen=True, slots=True)
class Deep:
    """The depth of this layer in this tin, measured [mm]."""

    span: Span
    depth_mm: float


@dataclass(frozen=True, slots=True)
class Density:
    """What a millilitre of the finished layer weighs [g/ml]."""

    span: Span
    g_ml: float
    is_measured: bool = False


@dataclass(frozen=True, slots=True)
class Into:
    """The vessel that the lines after it go into."""

    span: Span
    vessel: str


@dataclass(frozen=True, slots=True)
class Note:
    """The maker's own words."""

    span: Span
    text: str


Event = Line | Ends | Loses | Reads | Deep | Density | Into | Step | Note
"""What a block of a card may hold, in the order of work."""


@dataclass(frozen=True, slots=True)
class Component:
    """A formula with a name, and everything that happens to it."""

    name: str
    events: tuple[Event, ...]
    span: Span
    kind: str = ""
    """Its kind as said, by the kind's one name; empty if not said."""
    file: str = ""
    """The card that it stands on."""
    is_broken: bool = False
    """Whether a line of it could not be read, so that it may lack something."""

    @property
    def lines(self) -> tuple[Line, ...]:
        """What goes in, in order of use."""
        return tuple(event for event in self.events if isinstance(event, Line))

    @property
    def steps(self) -> tuple[Step, ...]:
        """What is done, in order."""
        return tuple(event for event in self.events if isinstance(event, Step))
