"""What the reader of cards must know about names: which ones are known, and how far."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from slabwright.files.card.lines import LONGEST_NAME, CardLine
from slabwright.formula.book import slug
from slabwright.larder.lookup import Larder

_WORD = re.compile(r"[^\s,]+|,")

MOST_REMEMBERED = 20_000
"""Lines that are kept in mind at most."""
MOST_COMPANIES = 32
"""Sets of components whose lines are kept in mind at most."""
MOST_WORDS = 16
"""No name of an ingredient or a component has more words."""

PLACES = (
    "larder shelf", "cooling rack", "upright fridge", "blast chiller", "food processor",
    "under-counter freezer", "small ring", "large ring", "big ring", "back ring",
    "front ring", "oven shelf", "small pan", "large pan", "wide pan", "mixer", "oven",
    "ring", "hob", "fridge", "freezer", "rack", "bench", "room", "shelf", "processor",
    "bowl", "pan", "blender", "water bath", "worktop", "microwave",
)  # fmt: skip
"""Places and tools that any kitchen has, by their usual names."""

VESSEL_WORDS = frozenset(
    "bowl pan saucepan pot mixer jug processor blender basin casserole kettle bucket "
    "tub beaker".split()
)
"""A name that ends in one of these is a vessel."""


@dataclass(frozen=True, slots=True)
class Names:
    """Everything that a card may call by name, in this kitchen."""

    larder: Larder
    country: str = "GB"
    components: frozenset[str] = frozenset()
    """Slugs of components on this card and in the components folder."""
    vessels: tuple[str, ...] = ()
    places: tuple[str, ...] = PLACES
    memo: dict[CardLine, Any] = field(default_factory=dict, compare=False)
    """What lines were read as with these names: filled by the reader."""
    _known: dict[str, bool] = field(default_factory=dict, compare=False)
    _beside: dict[frozenset[str], "Names"] = field(default_factory=dict, compare=False)
    """The same with more components, so that their lines are remembered too."""

    def with_components(self, names: Iterable[str]) -> "Names":
        """The same, with these components known too."""
        more = self.components | {slug(name) for name in names}
        if more == self.components:
            return self
        found = self._beside.get(more)
        if found is None:
            found = Names(self.larder, self.country, more, self.vessels, self.places)
            if len(self._beside) >= MOST_COMPANIES:
                self._beside.clear()
            self._beside[more] = found
        return found

    def remember(self, line: CardLine, read: object) -> None:
        """Keep what a line was read as; most lines of a card stay as they are."""
        if len(self.memo) >= MOST_REMEMBERED:
            self.memo.clear()
        self.memo[line] = read

    def is_known(self, name: str) -> bool:
        """Whether a component or the larder has this name."""
        if len(name) > LONGEST_NAME:
            return False
        if name not in self._known:
            self._known[name] = bool(name.strip()) and (
                slug(name) in self.components
                or self.larder.find(name, self.country) is not None
            )
        return self._known[name]

    def length_of_name(self, text: str) -> int:
        """How many characters from the start form a known name; 0 if none do."""
        words = list(islice(_WORD.finditer(text[:LONGEST_NAME]), MOST_WORDS))
        for count in range(len(words), 0, -1):
            if words[count - 1].group() == ",":
                continue
            if slug(text[: words[count - 1].end()]) in self.components:
                return words[count - 1].end()
        known = self.larder.longest_prefix([w.group() for w in words], self.country)
        return words[known - 1].end() if known else 0

    def mentioned(self, text: str) -> bool:
        """Whether a sentence names an ingredient."""
        return bool(self.larder.mentions(text[:LONGEST_NAME], self.country))

    def nearest(self, name: str) -> tuple[str, ...]:
        """Known names that look like this one."""
        return self.larder.nearest(name, self.country)

    def is_vessel(self, text: str) -> bool:
        """Whether these words name a vessel."""
        plain = text.casefold().removeprefix("the ").removeprefix("a ").strip()
        if not plain or len(plain.split()) > len("one two three four five".split()):
            return False
        named = plain in {vessel.casefold() for vessel in self.vessels}
        return named or plain.split()[-1] in VESSEL_WORDS
