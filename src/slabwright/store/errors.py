"""What the store refuses, in words for whoever asked."""

from datetime import datetime
from typing import Protocol

from slabwright.errors import Mistake, SlabwrightError


class Saved(Protocol):
    """A text as somebody saved it: a card's revision or a paper's."""

    @property
    def number(self) -> int:
        """Its number; the first is 1."""

    @property
    def text(self) -> str:
        """What was typed."""

    @property
    def author(self) -> str:
        """Who saved it."""

    @property
    def at(self) -> datetime:
        """When."""


class StoreError(SlabwrightError):
    """The store can't be opened, or can't keep what it was given."""


class MissingError(StoreError):
    """Something that isn't in this kitchen."""


class StoppedError(StoreError):
    """Work that was stopped as asked; nothing came of it."""


class EditedMeanwhileError(StoreError):
    """Somebody else saved since; nothing was overwritten.

    theirs: what is current now.
    """

    def __init__(self, what: str, theirs: Saved) -> None:
        author = theirs.author or "somebody"
        super().__init__(
            Mistake(
                f"{what} was saved by {author} as revision {theirs.number}"
                " while you edited.",
                "Compare the two, then save yours again over it or as a trial.",
            )
        )
        self.theirs = theirs


def missing(what: str) -> MissingError:
    """That this isn't there, or isn't this kitchen's."""
    return MissingError(
        Mistake(f"This kitchen has no such {what}.", "Go back to the list.")
    )
