"""What stands in a vessel: what is left of its lines, and the room that it takes."""

from dataclasses import dataclass, field
from typing import Final

from slabwright.composition import total, water
from slabwright.errors import Span
from slabwright.formula.weighed import WeighedLine

DISSOLVED_G_ML: Final = 1.59
"""Sugar in a boil takes the room of its crystals, without air. From memory."""
UNKNOWN_G_ML: Final = 1.0
"""What has no density in the larder is taken as water."""


@dataclass
class Portion:
    """What is left of a line in one vessel."""

    line: WeighedLine
    left: float = 1.0
    is_hot: bool = False
    is_dissolved: bool = False
    foam: str = ""
    """The kind of foam that it has been whipped to; empty for none."""

    @property
    def grams(self) -> float:
        """What it weighs; nothing where that is not known [g]."""
        return (self.line.mass_g or 0.0) * self.left

    @property
    def ml(self) -> float:
        """What room it takes before it rises [ml]."""
        return volume_ml(self.line, is_dissolved=self.is_dissolved) * self.left


def volume_ml(line: WeighedLine, *, is_dissolved: bool = False) -> float:
    """A line's grams over its density [ml]; sugar of a boil without its air."""
    grams = line.mass_g or 0.0
    if is_dissolved and line.ingredient and line.ingredient.group == "sugar":
        return grams / DISSOLVED_G_ML
    measure = line.ingredient.measure("ml") if line.ingredient else None
    return grams / (measure.grams if measure else UNKNOWN_G_ML)


@dataclass
class Content:
    """What stands in a vessel."""

    name: str
    at: Span | None = None
    portions: list[Portion] = field(default_factory=list)
    is_mixed: bool = False
    """Whether its lines have become one mix, so that none leaves it alone."""

    @property
    def grams(self) -> float:
        """What stands in it [g]."""
        return sum(one.grams for one in self.portions)

    @property
    def is_hot(self) -> bool:
        """Whether something in it has been heated."""
        return any(one.is_hot for one in self.portions)

    def shrink(self, share: float) -> None:
        """Leave so much of everything that stands in it."""
        for one in self.portions:
            one.left *= share

    def dry(self, lost_g: float) -> bool:
        """Let so much water go, from each line by the water in it.

        Returns:
            Whether there was so much; nothing goes if there was not.
        """
        waters = [one.grams * _water_share(one.line) for one in self.portions]
        there = sum(waters)
        if not 0 < lost_g <= there:
            return False
        for one, water_g in zip(self.portions, waters, strict=True):
            if one.grams > 0:
                one.left *= 1 - lost_g * water_g / there / one.grams
        return True

    def empty(self) -> None:
        """Nothing stands in it any more."""
        self.portions, self.is_mixed = [], False


def _water_share(line: WeighedLine) -> float:
    """Share of water in a line; nothing where that is not known."""
    if line.batch is not None:
        mix = line.batch.after[0]
        whole = float(total(mix))
        return float(water(mix)) / whole if whole > 0 else 0.0
    composition = line.ingredient.composition if line.ingredient else None
    return 0.0 if composition is None else float(water(composition))
