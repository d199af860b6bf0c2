"""What the user should know about a slab: a value, never an exception or a log line."""

from dataclasses import dataclass
from enum import StrEnum

from slabwright.errors import Span


class Severity(StrEnum):
    """How much a finding matters."""

    STOP = "stop"
    """It can't be made or sold like this."""
    LOOK = "look"
    """It may go wrong: do this about it."""
    NOTE = "note"
    """Good to know."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to look out for, with its reason and what would mend it."""

    code: str
    """Stable name, for programs: `over_rim`."""
    severity: Severity
    where: str
    """The slab, layer or line that it is about, in words."""
    what: str
    why: str
    do: str
    source: str = ""
    """Where the threshold or the reason comes from."""
    span: Span | None = None
    """The stretch of the card that it hangs on."""
    layer: int | None = None
    """The layer's number from the bottom, from 0, if it is about one."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to take what was written, and what it would do."""

    text: str
    does: str


@dataclass(frozen=True, slots=True)
class Ask:
    """A doubt that only the maker can settle; the first reading is used meanwhile."""

    where: str
    question: str
    readings: tuple[Reading, ...]
    span: Span | None = None
