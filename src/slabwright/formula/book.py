"""What the names on lines mean: this card's components, the folder's, the larder's."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from slabwright.formula.component import Component
from slabwright.formula.habits import Habits
from slabwright.larder.lookup import Larder


def slug(name: str) -> str:
    """A name as a file would carry it: small letters and hyphens.

    >>> slug("Coffee dark ganache")
    'coffee-dark-ganache'
    """
    return re.sub(r"[^\w]+", "-", name.casefold()).strip("-")


def called(asked: str, names: Iterable[str]) -> tuple[int, ...]:
    """Which of these names somebody means: the very one, else each with those words.

    >>> called("caramel", ["Rye base", "Malt caramel", "Caramel top"])
    (1, 2)
    >>> called("malt-caramel", ["Rye base", "Malt caramel"])
    (1,)
    """
    slugs = [slug(name) for name in names]
    wanted = slug(asked)
    same = tuple(at for at, one in enumerate(slugs) if one == wanted)
    words = set(wanted.split("-"))
    like = (at for at, one in enumerate(slugs) if words <= set(one.split("-")))
    return same or (tuple(like) if wanted else ())


@dataclass(frozen=True, slots=True)
class Book:
    """Everything that a formula may call by name; a card's own components first."""

    larder: Larder
    habits: Habits = field(default_factory=Habits)
    components: Mapping[str, Component] = field(default_factory=dict)
    """By the slug of their names."""
    pressure_kPa: float = 101.325
    """Of the air in the kitchen, by its altitude."""
    layers: Mapping[str, Component] = field(default_factory=dict)
    """Layers of this card, which a line may take from if nothing else is called so."""

    def with_components(self, more: Iterable[Component]) -> "Book":
        """The same, where these components win over others of their name."""
        own = {slug(component.name): component for component in more}
        every = {**self.components, **own}
        return replace(self, components=every)

    def with_layers(self, layers: Iterable[Component]) -> "Book":
        """The same, where a line may take from these layers."""
        named = {slug(layer.name): layer for layer in layers}
        return replace(self, layers=named)

    def component(self, name: str) -> Component | None:
        """The component of this name."""
        return self.components.get(slug(name))
