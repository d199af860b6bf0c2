"""Which layer is which in another version of a slab."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Final, Literal

from slabwright.spec.specification import LayerFigures

_LIKE: Final = 0.4
"""Layers less alike than this are no two versions of one. Our own limit."""
_NAMED: Final = 10.0
"""What one name counts for: more than any likeness."""
Kind = Literal["added", "gone", "changed"]


@dataclass(frozen=True, slots=True)
class Pair:
    """A layer or component and what became of it."""

    before: LayerFigures | None
    after: LayerFigures | None

    @property
    def name(self) -> str:
        """Its name now, or the one that it had."""
        one = self.after or self.before
        return one.name if one else ""

    @property
    def kind(self) -> Kind:
        """Whether it came, went or stayed."""
        if self.before is None:
            return "added"
        return "gone" if self.after is None else "changed"


def pairs_of(
    before: Sequence[LayerFigures],
    after: Sequence[LayerFigures],
    may_be_renamed: Callable[[LayerFigures, LayerFigures], bool] = lambda _a, _b: True,
) -> Iterator[Pair]:
    """Layers of one name, the likest of them first, then those most alike.

    Args:
        before: the layers of one version, bottom first.
        after: those of the other.
        may_be_renamed: whether two of different names may be one.
    """
    scores = sorted(
        (-_score(a, b), abs(i - j), i, j)
        for i, a in enumerate(before)
        for j, b in enumerate(after)
        if _key(a) == _key(b) or may_be_renamed(a, b)
    )
    found: dict[int, int] = {}
    taken: set[int] = set()
    for score, _, i, j in scores:
        if -score >= _LIKE and i not in found and j not in taken:
            found[i] = j
            taken.add(j)
    for i, layer in enumerate(before):
        yield Pair(layer, after[found[i]] if i in found else None)
    yield from (Pair(None, b) for j, b in enumerate(after) if j not in taken)


def _key(layer: LayerFigures) -> str:
    return " ".join(layer.name.casefold().split())


def _score(one: LayerFigures, other: LayerFigures) -> float:
    if one is other:
        return _NAMED + 1
    named = _NAMED if _key(one) == _key(other) else 0.0
    return named + _alike(one, other)


def _alike(one: LayerFigures, other: LayerFigures) -> float:
    """How alike two layers are, 0 to 1: what goes in counts most, then the name."""
    names = SequenceMatcher(None, _key(one), _key(other)).ratio()
    mine, theirs = (_grams(layer) for layer in (one, other))
    whole = sum(mine.values()) + sum(theirs.values())
    if not whole:
        return names
    shared = sum(min(grams, theirs.get(key, 0.0)) for key, grams in mine.items())
    return 0.7 * 2 * shared / whole + 0.3 * names


def _grams(layer: LayerFigures) -> dict[str, float]:
    found: dict[str, float] = {}
    for line in layer.lines:
        if line.mass_g.known:
            key = line.larder_id or line.name.casefold()
            found[key] = found.get(key, 0.0) + line.mass_g.number
    return found
