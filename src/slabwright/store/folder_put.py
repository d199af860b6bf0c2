"""A folder while it is put in: what still waits, what came, what was refused."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

import sqlalchemy as sa

from slabwright.errors import Mistake, Where
from slabwright.store.errors import StoreError
from slabwright.store.who import Who

CardReader = Callable[[str], tuple[str, str, bool]]
"""From a card's text: its name, its kind, whether it says that it is proved."""


@dataclass
class Putting:
    """The one act of putting a folder in."""

    c: sa.Connection
    kitchen_id: int
    who: Who
    read_card: CardReader
    waiting: dict[str, bytes] = field(default_factory=dict)
    """Files that nobody has taken yet, by path."""
    came: list[str] = field(default_factory=list)
    unchanged: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    refused: list[Mistake] = field(default_factory=list)

    def files_in(self, folder: str) -> dict[str, bytes]:
        """The waiting files that lie in this folder itself, by name."""
        start = f"{folder}/"
        return {
            path.removeprefix(start): data
            for path, data in self.waiting.items()
            if path.startswith(start) and "/" not in path.removeprefix(start)
        }

    def take(self, *paths: str) -> None:
        """These no longer wait."""
        for path in paths:
            self.waiting.pop(path, None)

    def refuse(self, path: str, *mistakes: Mistake) -> None:
        """This file is not taken; each mistake names it, unless it names another."""
        for mistake in mistakes:
            where = mistake.where if mistake.where.file else Where(path)
            self.refused.append(replace(mistake, where=where))

    @contextmanager
    def refusing(self, path: str) -> Iterator[None]:
        """What the store refuses within leaves nothing behind but its mistakes."""
        lists = (self.came, self.unchanged, self.kept)
        lengths = [len(paths) for paths in lists]
        try:
            with self.c.begin_nested():
                yield
        except StoreError as error:
            for paths, length in zip(lists, lengths, strict=True):
                del paths[length:]
            self.refuse(path, *error.mistakes)
