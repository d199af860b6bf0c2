"""The cards whose versions are compared, and what stands on which line of them."""

import re
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.spec.compare import Comparison, compare
from slabwright.spec.specification import LineFigures, Specification
from slabwright.spec.work_out import Order, work_out

DEMO = Path(__file__).parents[2] / "demo"
HOME = open_folder(DEMO)
ORDER = Order(HOME.kitchen, HOME.book)
CARDS = {
    path.stem: path.read_text("utf-8")
    for path in sorted((DEMO / "slabs").glob("*.card"))
}
TIDES = CARDS["two-tides"]
_GANACHE = """
component Dark ganache
  250 g   dark chocolate 60%, melted
  into small pan
  95 g    double cream 48%
  30 g    whole milk
  heat to 80 C       small ring, then over the chocolate
  20 g    butter, unsalted
  loses 4 g in the bowl
  density 1.18 g/ml
"""
WITH_COMPONENTS = (
    TIDES.replace(
        "\nfinish\n",
        "\nlayer Ganache on top from Dark ganache, 280 g\n"
        "  5 g     smoked sea salt\n"
        "  spread             6 min hands\n\nfinish\n",
    )
    + _GANACHE
    + _GANACHE.replace("Dark", "Spare").replace("250 g", "260 g")
)
BASES = {**CARDS, "with components": WITH_COMPONENTS}
_WORDS = "kind into ends loses deep density note".split()


@cache
def worked(text: str) -> Specification:
    """The slab of a card in the demo's kitchen."""
    read = HOME.read(Text(text))
    return work_out(read.card, ORDER, read.mistakes)


def against(before: str, after: str) -> Comparison:
    """One card held against another."""
    return compare(worked(before), worked(after))


@dataclass(frozen=True)
class Sheet:
    """A card's lines, and what stands on each; numbers count from 0."""

    text: str

    @cached_property
    def lines(self) -> list[str]:
        return self.text.rstrip("\n").split("\n")

    @property
    def name(self) -> str:
        return self.lines[0].partition(" ")[2]

    @cached_property
    def first_layer(self) -> int:
        return self.word("layer")[0]

    @cached_property
    def _read(self) -> dict[int, LineFigures]:
        spec = worked(self.text)
        return {
            line.weighed.line.span.line - 1: line
            for layer in (*spec.layers, *spec.components)
            for line in layer.lines
        }

    def word(self, word: str) -> list[int]:
        """Where this card word stands."""
        in_block = "  " if word in _WORDS and word != "note" else ""
        return [
            n for n, t in enumerate(self.lines) if t.startswith(f"{in_block}{word} ")
        ]

    def value(self, n: int) -> str:
        """What stands behind the card word."""
        return self.lines[n].strip().partition(" ")[2]

    def block(self, n: int) -> str:
        """The block that a line stands in; empty above the first layer."""
        opened = [
            t for t in self.lines[: n + 1]
            if re.match(r"layer |component |finish$", t)
        ]  # fmt: skip
        if not opened:
            return ""
        return re.split(r" from |, ", opened[-1])[0].partition(" ")[2] or "finish"

    @cached_property
    def grams(self) -> list[int]:
        """Lines that say a weight and nothing else of their amount."""
        return [n for n, t in enumerate(self.lines) if re.match(r"  [\d.]+ g ", t)]

    @cached_property
    def counted(self) -> list[int]:
        """Lines that say what they weigh behind their amount."""
        return [n for n, t in enumerate(self.lines) if re.search(r" = \d+ g$", t)]

    @cached_property
    def weighable(self) -> list[int]:
        """Every line of an ingredient."""
        return sorted((*self.grams, *self.counted))

    @cached_property
    def steps(self) -> list[int]:
        """Lines that are steps."""
        return [
            n for n, t in enumerate(self.lines)
            if t.startswith("  ") and n not in self.weighable
            and t.split()[0] not in _WORDS
        ]  # fmt: skip

    @cached_property
    def placed(self) -> list[int]:
        """Lines whose place in their block says something."""
        words = [n for w in ("into", "ends", "loses") for n in self.word(w)]
        return sorted((*self.weighable, *self.steps, *words))

    def key(self, n: int) -> str:
        """What a placed line is, so that two of them are told apart."""
        return self._read[n].name if n in self._read else self.lines[n].strip()

    def is_apart(self, n: int, m: int) -> bool:
        """Whether going to the other's line is another place among those placed."""
        return self.placed.index(n) != self.placed.index(m)

    def line(self, n: int) -> tuple[str, str, float]:
        """Block, name and grams of an ingredient's line."""
        said = self._read[n]
        return self.block(n), said.name, said.weighed.mass_g or 0.0

    def notes(self, n: int) -> tuple[str, ...]:
        """Words beside the ingredient."""
        return self._read[n].weighed.line.notes
