"""A line of a formula with its grams, and what its name was taken for."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from slabwright.figure import Ranged
from slabwright.formula.line import Line
from slabwright.formula.weigh import Unweighable
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Match

if TYPE_CHECKING:
    from slabwright.formula.batch import Batch


@dataclass(frozen=True, slots=True)
class WeighedLine:
    """A line, what it was taken for, and its grams."""

    line: Line
    grams: Ranged | Unweighable | None
    """None if it has no weight in the slab."""
    match: Match | None = None
    batch: "Batch | None" = None
    """The component that it takes from, if it is one."""
    disagrees: str = ""

    @property
    def ingredient(self) -> Ingredient | None:
        """The larder's ingredient, if it has one."""
        return self.match.ingredient if self.match else None

    @property
    def is_unknown(self) -> bool:
        """Whether nobody knows what this is."""
        return self.match is None and self.batch is None

    @property
    def mass_g(self) -> float | None:
        """Its grams, where they are known."""
        return self.grams.value if isinstance(self.grams, Ranged) else None
