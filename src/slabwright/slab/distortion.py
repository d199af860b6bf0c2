"""How far amounts are from a layer's formula, as one number that can be opened.

The measure, in shares of what goes into the layer, so that layers count alike:

- every line: its grams off from the layer's own scale, times the care for it;
- pieces that are judged together (whole eggs and yolks): the grams that all of them
  are off, and a smaller part of what each is off by itself;
- the layer: how much deeper or shallower it gets.

The layer's own scale is the one that makes this smallest. The weights are our own
choice, not a published relation: common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from slabwright.errors import Mistake, SlabwrightError


class FriendlyError(SlabwrightError):
    """Something asked of friendly amounts that they can't be."""


@dataclass(frozen=True, slots=True)
class Want:
    """A line as exactly scaled, and what it may be weighed or counted in."""

    grams: float
    """What it would weigh exactly [g], above 0."""
    layer: int = 0
    """Which batch it belongs to: lines of one number are one batch."""
    step_g: float = 1.0
    """It is weighed in whole steps of this [g]."""
    care: float = 1.0
    """How much a gram off counts: 1 for most, more for salt and the like."""
    each_g: float | None = None
    """What one piece weighs [g], where only whole pieces will do."""
    group: str = ""
    """Pieces of one group in a layer are judged together."""
    pack: str = ""
    """Lines of one pack, in any layer, use up whole packs between them."""
    pack_g: float | None = None
    """What is in one such pack [g]."""

    @property
    def counted(self) -> bool:
        """Whether it comes in whole pieces."""
        return self.each_g is not None and not self.pack


@dataclass(frozen=True, slots=True)
class Weights:
    """What counts how much, and how far a layer may change."""

    depth: float = 1.0
    """Weight of a layer's change of depth."""
    own: float = 1 / 3
    """Part that each one's own change has where several are judged together."""
    limit: float = 0.06
    """A layer's scale and its mass may change by this share."""

    def __post_init__(self) -> None:
        said = (
            ("The weight of depth", self.depth, 0.0, 100.0),
            ("The part for each one's own change", self.own, 0.0, 1.0),
            ("The change that is allowed", self.limit, 0.001, 0.5),
        )
        wrong = [
            Mistake(f"{name} is {value:g}.", f"Give {low:g} to {high:g}.")
            for name, value, low, high in said
            if not low <= value <= high  # false for nan too
        ]
        if wrong:
            raise FriendlyError(*wrong)


@dataclass(frozen=True, slots=True)
class Score:
    """The distortion of one layer, opened; all but the scale are shares of its mass."""

    scale: float
    """The layer's own scale, 1 for exactly as wanted."""
    depth_change: float
    """Change of what goes in, and of the depth with it: 0.01 is 1 % more."""
    from_depth: float
    by_line: tuple[float, ...]
    by_group: tuple[tuple[str, float], ...]

    @property
    def from_lines(self) -> float:
        """What lines and groups of lines add."""
        return sum(self.by_line) + sum(part for _, part in self.by_group)

    @property
    def total(self) -> float:
        """All of it."""
        return self.from_lines + self.from_depth


@dataclass(frozen=True, slots=True)
class Term:
    """Lines whose grams off are added up before they count."""

    weight: float
    members: tuple[int, ...]
    group: str = ""

    def off_g(
        self, wants: Sequence[Want], amounts_g: Sequence[float], scale: float
    ) -> float:
        """Grams off from this scale, without its weight [g]."""
        return abs(sum(amounts_g[i] - scale * wants[i].grams for i in self.members))


def terms(wants: Sequence[Want], weights: Weights) -> Iterator[Term]:
    """What is added up for one layer: lines by their number first, then groups."""
    groups: dict[str, list[int]] = {}
    for number, want in enumerate(wants):
        if want.group and want.counted:
            groups.setdefault(want.group, []).append(number)
    alone = {members[0] for members in groups.values() if len(members) == 1}
    for number, want in enumerate(wants):
        judged_together = bool(want.group) and want.counted and number not in alone
        part = weights.own if judged_together else 1.0
        yield Term(want.care * part, (number,))
    for name, members in groups.items():
        if len(members) > 1:
            care = max(wants[member].care for member in members)
            yield Term(care, tuple(members), name)


def score_of(
    wants: Sequence[Want], amounts_g: Sequence[float], weights: Weights
) -> Score:
    """The distortion of these amounts of one layer, at the scale that suits it best.

    Args:
        wants: the lines of the layer.
        amounts_g: what is weighed of each [g].
        weights: what counts how much.

    >>> wants = [Want(100.0), Want(200.0)]
    >>> score = score_of(wants, [101.0, 202.0], Weights())
    >>> round(score.scale, 9), round(score.from_lines, 9), round(score.from_depth, 9)
    (1.01, 0.0, 0.01)
    """
    parts = list(terms(wants, weights))
    whole_g = sum(want.grams for want in wants)
    low, high = 1.0 - weights.limit, 1.0 + weights.limit
    scales = {low, 1.0, high}
    for term in parts:
        asked_g = sum(wants[i].grams for i in term.members)
        scales.add(
            min(max(sum(amounts_g[i] for i in term.members) / asked_g, low), high)
        )
    best, scale = inf, 1.0
    for tried in sorted(scales, key=lambda one: abs(one - 1.0)):
        cost = sum(t.weight * t.off_g(wants, amounts_g, tried) for t in parts)
        if cost < best - 1e-9 * whole_g:
            best, scale = cost, tried
    change = sum(amounts_g) / whole_g - 1.0
    counted = [
        (term, term.weight * term.off_g(wants, amounts_g, scale) / whole_g)
        for term in parts
    ]
    return Score(
        scale,
        change,
        weights.depth * abs(change),
        tuple(part for term, part in counted if not term.group),
        tuple((term.group, part) for term, part in counted if term.group),
    )
