"""The kitchen folder: found upwards from a card, everything in it optional."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from slabwright.cost.prices import PriceList
from slabwright.errors import FileError, Mistake
from slabwright.files.card.head import Tins
from slabwright.files.card.lines import lines_of
from slabwright.files.card.names import PLACES, Names
from slabwright.files.card.opening import names_on
from slabwright.files.card.reader import CardRead, is_card, read_card
from slabwright.files.kitchen_file import sound_kitchen
from slabwright.files.larder_file import sound_larder
from slabwright.files.pasted.reader import read_pasted
from slabwright.files.prices_file import sound_prices
from slabwright.files.raw import Text, decoded, read_text
from slabwright.formula.book import Book, slug
from slabwright.formula.component import Component
from slabwright.formula.habits import Habits
from slabwright.kitchen import Kitchen
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.load import built_in
from slabwright.larder.lookup import Larder
from slabwright.physics.water import air_pressure

T = TypeVar("T")

PAPERS = ("kitchen.yaml", "larder.yaml", "prices.yaml")
"""A kitchen's own files, each of which may be left out."""
_SIGNS = (*PAPERS, "slabs")


@dataclass(frozen=True)
class Folder:
    """A kitchen folder, read: what every card in it may lean on."""

    path: Path | None
    kitchen: Kitchen
    larder: Larder
    prices: PriceList | None
    components: dict[str, Component] = field(default_factory=dict)
    mistakes: tuple[Mistake, ...] = ()
    """What is wrong in its YAML files; what is sound is used all the same."""
    component_mistakes: tuple[Mistake, ...] = ()
    """What is wrong on the cards of its components, used or not."""

    @cached_property
    def names(self) -> Names:
        """What a card here may call by name."""
        vessels = tuple(vessel.name for vessel in self.kitchen.vessels)
        places = tuple(place.name for place in self.kitchen.places)
        return Names(
            self.larder,
            self.kitchen.country,
            frozenset(self.components),
            vessels,
            tuple(dict.fromkeys((*places, *PLACES))),
        )

    @property
    def tins(self) -> Tins:
        """Tins by name."""
        return Tins(self.kitchen.tin, tuple(name for name, _ in self.kitchen.tins))

    @property
    def book(self) -> Book:
        """What names on lines mean."""
        habits = Habits(self.kitchen.country, self.kitchen.spoons, self.kitchen.eggs)
        pressure_kPa = float(air_pressure(self.kitchen.altitude_m))
        return Book(self.larder, habits, self.components, pressure_kPa)

    def read(self, text: Text) -> CardRead:
        """A card of this kitchen; anything else is read as a pasted recipe."""
        if not is_card(text.text) and text.text.strip():
            return read_pasted(text.text, self.names, self.tins, text.file)
        return read_card(text.text, self.names, self.tins, text.file)


def folder_of(card: Path | None) -> Path | None:
    """The nearest folder, upwards from a card or from here, that is a kitchen's."""
    start = (card.resolve().parent if card else Path.cwd()).resolve()
    for path in (start, *start.parents):
        if any((path / sign).exists() for sign in _SIGNS):
            return path
    return None


def open_folder(path: Path | None) -> Folder:
    """Everything in a kitchen folder; the defaults where it has none or is None."""
    mistakes: list[Mistake] = []

    def read(file: Path) -> Text | None:
        try:
            return read_text(file) if file.is_file() else None
        except FileError as error:
            mistakes.extend(error.mistakes)
            return None

    papers = {name: read(path / name) for name in PAPERS} if path else {}
    cards: list[tuple[str, Text]] = []
    home = path / "components" if path else None
    for file in sorted(home.glob("*.card")) if home and home.is_dir() else ():
        try:
            cards.append((file.stem, read_text(file)))
        except FileError as error:
            mistakes.extend(error.mistakes)
    found = {name: text for name, text in papers.items() if text is not None}
    folder = folder_from(found, cards, path)
    return replace(folder, mistakes=(*mistakes, *folder.mistakes))


def folder_from(
    papers: Mapping[str, Text],
    cards: Sequence[tuple[str, Text]] = (),
    path: Path | None = None,
) -> Folder:
    """A kitchen from the texts of its files.

    Args:
        papers: those of `PAPERS` that there are, by their name.
        cards: of its components, each by its file's name without `.card`.
        path: where they stand, if they stand in a folder.
    """
    mistakes: list[Mistake] = []

    def read(
        name: str, reader: Callable[[Text], tuple[T, tuple[Mistake, ...]]], without: T
    ) -> T:
        """As much of a paper as is sound."""
        if name not in papers:
            return without
        try:
            found, wrong = reader(papers[name])
        except FileError as error:
            mistakes.extend(error.mistakes)
            return without
        mistakes.extend(wrong)
        return found

    kitchen = read("kitchen.yaml", sound_kitchen, Kitchen())
    ours = built_in()
    country = kitchen.country
    nothing: tuple[Ingredient, ...] = ()
    own = read("larder.yaml", lambda t: sound_larder(t, ours, country), nothing)
    larder = ours.over(own) if own else ours
    none: PriceList | None = None
    prices = read(
        "prices.yaml",
        lambda text: sound_prices(text, larder, country, kitchen.currency),
        none,
    )
    bare = Folder(path, kitchen, larder, prices)
    components, inside = _components(cards, bare)
    return replace(
        bare,
        components=components,
        mistakes=tuple(mistakes),
        component_mistakes=tuple(inside),
    )


def _components(
    cards: Sequence[tuple[str, Text]], bare: Folder
) -> tuple[dict[str, Component], list[Mistake]]:
    """Components in cards of their own, by file name and by their own name."""
    mistakes: list[Mistake] = []
    stems = [stem for stem, _ in cards]
    named = [name for _, text in cards for name in names_on(lines_of(text.text))]
    names = bare.names.with_components((*stems, *named))
    found: dict[str, Component] = {}
    for stem, text in cards:
        read = read_card(text.text, names, bare.tins, text.file)
        mistakes.extend(read.mistakes)
        for component in read.card.components:
            found.setdefault(slug(component.name), component)
        if read.card.components:
            found.setdefault(slug(stem), read.card.components[0])
    return found, mistakes


def standard_input(data: bytes) -> Text:
    """A card that came through a pipe."""
    return decoded(data, "standard input")
