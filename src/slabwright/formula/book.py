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
