"""Who does something, when, and why."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Who:
    """One act of one person.

    author: as they call themselves; empty if they did not say.
    at: when, with its time zone.
    note: why, in their own words.

    Raises:
        ValueError: if the time has no zone.
    """

    author: str
    at: datetime
    note: str = ""

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise ValueError(f"{self.at} has no time zone")
