"""An amount: a number or a range, its unit, and the size of each pack if said."""

from dataclasses import dataclass

from slabwright.errors import Span
from slabwright.quantity.units import Regime, Size, Unit


@dataclass(frozen=True, slots=True)
class Amount:
    """So many of a unit, as written; the middle of a range counts."""

    value: float
    unit: Unit
    span: Span
    low: float
    high: float
    size: "Amount | None" = None
    """What each weighs or holds, as in `2 x 250 g packs`."""
    regime: Regime | None = None
    """Whose spoons, where the line says so: `1 US cup`."""
    heaped: bool = False

    @property
    def is_range(self) -> bool:
        """Whether two numbers were written."""
        return self.low != self.high

    @property
    def grams(self) -> float | None:
        """Mass [g] if it was written as a mass, by itself or by its size; else None."""
        if self.size is not None:
            each = self.size.grams
            return None if each is None else self.value * each
        if self.unit.kind != "mass":
            return None
        return self.value * self.unit.sizes["metric"].value

    def one(self, regime: Regime) -> Size | None:
        """What one unit comes to here [g or ml], None for a count."""
        return self.unit.size(self.regime or regime)

    def in_words(self) -> str:
        """The amount as a person would write it again."""
        number = f"{self.low:g}-{self.high:g}" if self.is_range else f"{self.value:.6g}"
        if self.size is not None:
            return f"{number} × {self.size.in_words()} {self.unit.name}"
        heaped = "heaped " if self.heaped else ""
        unit = "" if self.unit.name == "each" else f" {heaped}{self.unit.name}"
        return number + unit
