"""What a country and a kitchen mean by their words: spoons, cups, egg sizes."""

from dataclasses import dataclass

from slabwright.quantity.units import Regime


@dataclass(frozen=True, slots=True)
class Habits:
    """Whose measures these lines are written in."""

    country: str = "GB"
    spoons: Regime = "metric"
    eggs: str = "medium"

    def in_words(self) -> str:
        """For the foot of a page."""
        return f"{self.country}, {self.spoons} spoons and cups, {self.eggs} eggs"
