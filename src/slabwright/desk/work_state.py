"""How far long work has come, and where its results are kept."""

from dataclasses import dataclass
from typing import Protocol

from slabwright.desk.work_kinds import Json
from slabwright.errors import SlabwrightError


class WorkError(SlabwrightError):
    """Work that is not taken on, or not known."""


class Kept(Protocol):
    """Where results are kept, such as the store. Called by many threads."""

    def get(self, key: str) -> Json | None:
        """The result under this key, if there is one."""

    def put(self, key: str, kind: str, value: Json) -> None:
        """Keep a result."""


@dataclass(frozen=True, slots=True)
class WorkState:
    """How far a piece of work has come."""

    key: str
    kind: str
    """Empty where only its result is known any more."""
    share_done: float = 0.0
    rough: Json | None = None
    """A first answer, also of work that was stopped."""
    result: Json | None = None
    is_stopped: bool = False
    problem: str = ""
    """What went wrong and what to do, in words."""
    seconds_left: float | None = None
    """About; None where it can't be told yet."""

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come."""
        return self.result is not None or self.is_stopped or bool(self.problem)
