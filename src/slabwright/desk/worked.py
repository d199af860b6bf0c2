"""A kitchen as it is opened at a desk, and cards worked out in it, each once."""

from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from threading import Lock
from typing import Final

from slabwright.errors import FileError, Mistake
from slabwright.files.card.reader import CardRead
from slabwright.files.folder import Folder, folder_from
from slabwright.files.raw import Text
from slabwright.label.allergen.contents import Contents
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

MOST_LINES: Final = 3000
"""Lines of a card that is worked out while somebody waits: ten times a long one."""
_KEPT: Final = 256
"""So many cards, as they are worked out, are remembered for each kitchen."""


@dataclass(frozen=True, slots=True)
class Worked:
    """A card: its text, what was read of it, and what was worked out."""

    text: Text
    read: CardRead
    spec: Specification


@dataclass
class Desk:
    """A kitchen, opened: what every card in it leans on. It is used by many threads."""

    kitchen_id: int
    folder: Folder
    day: date
    """The day whose prices hold."""
    papers: Mapping[str, Text] = field(default_factory=dict)
    _known: OrderedDict[tuple[str, str], Worked] = field(default_factory=OrderedDict)
    _lock: Lock = field(default_factory=Lock)

    @cached_property
    def contents(self) -> Contents:
        """What every ingredient of its larder brings, each worked out once."""
        return Contents(self.folder.larder, self.folder.kitchen.country)

    def order(self, base: str = "") -> Order:
        """What is handed to the sum beside a card."""
        folder = self.folder
        return Order(folder.kitchen, folder.book, folder.prices, self.day, base)

    def worked(self, text: str, file: str = "") -> Worked:
        """A card of this kitchen, or a pasted recipe, read and worked out.

        Args:
            text: the card, without byte order mark.
            file: what it is called in the places of mistakes.

        Raises:
            FileError: if it has more lines than anybody would wait for.
        """
        count = text.count("\n") + 1
        if count > MOST_LINES:
            what = f"The text has {count:,} lines; at most {MOST_LINES:,} are read."
            raise FileError(Mistake(what, "Paste one recipe."))
        key = (text, file)
        with self._lock:
            found = self._known.get(key)
            if found is not None:
                self._known.move_to_end(key)
                return found
        made = self._work(Text(text, file))
        with self._lock:
            self._known[key] = made
            while len(self._known) > _KEPT:
                self._known.popitem(last=False)
        return made

    def _work(self, text: Text) -> Worked:
        read = self.folder.read(text)
        spec = work_out(
            read.card, self.order(), (*self.folder.mistakes, *read.mistakes)
        )
        used = [
            mistake
            for mistake in self.folder.component_mistakes
            if mistake.where.file in spec.files
        ]
        errors = tuple(dict.fromkeys((*spec.errors, *used)))
        return Worked(text, read, replace(spec, errors=errors))


def open_desk(
    kitchen_id: int,
    papers: Mapping[str, Text],
    components: Sequence[tuple[str, Text]],
    day: date,
) -> Desk:
    """A kitchen from the texts that it keeps.

    Args:
        kitchen_id: whose.
        papers: kitchen.yaml, larder.yaml and prices.yaml, as far as there are any.
        components: cards of components, by their file's name without `.card`.
        day: the day whose prices hold.
    """
    return Desk(kitchen_id, folder_from(papers, components), day, dict(papers))
