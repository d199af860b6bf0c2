"""Which layer is which in another version of a slab."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import product
from typing import Final, Literal

from slabwright.spec.specification import LayerFigures

_LIKE: Final = 0.4
"""Layers less alike than this are no two versions of one. Our own limit."""
_MOST_PAIRS: Final = 10_000
"""More pairs than this are not likened to each other. Our own limit."""
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
    left, right = range(len(before)), range(len(after))
    named = [_key(one) for one in before], [_key(one) for one in after]
    found: dict[int, int] = {}
    for i, j in same_keyed(*named, lambda i, j: -_score(before[i], after[j])):
        found[i] = j
    taken = set(found.values())
    others = [i for i in left if i not in found], [j for j in right if j not in taken]
    if len(others[0]) * len(others[1]) <= _MOST_PAIRS:
        able = [
            (-_alike(before[i], after[j]), abs(i - j), i, j)
            for i, j in product(*others)
            if may_be_renamed(before[i], after[j])
        ]
        for _, _, i, j in sorted(one for one in able if -one[0] >= _LIKE):
            if i not in found and j not in taken:
                found[i] = j
                taken.add(j)
    for i, layer in enumerate(before):
        yield Pair(layer, after[found[i]] if i in found else None)
    yield from (Pair(None, b) for j, b in enumerate(after) if j not in taken)


def same_keyed(
    old: Sequence[Hashable],
    new: Sequence[Hashable],
    apart: Callable[[int, int], float],
) -> Iterator[tuple[int, int]]:
    """Places of equal keys, those least apart first; in order where there are too many.

    Args:
        old: keys before.
        new: keys after.
        apart: how far two of one key are apart.
    """
    groups: dict[Hashable, tuple[list[int], list[int]]] = {}
    for side, keys in enumerate((old, new)):
        for n, key in enumerate(keys):
            groups.setdefault(key, ([], []))[side].append(n)
    for left, right in groups.values():
        if len(left) * len(right) > _MOST_PAIRS:
            yield from zip(left, right, strict=False)
            continue
        taken: tuple[set[int], set[int]] = (set(), set())
        for _, _, i, j in sorted(
            (apart(i, j), abs(i - j), i, j) for i, j in product(left, right)
        ):
            if i not in taken[0] and j not in taken[1]:
                taken[0].add(i)
                taken[1].add(j)
                yield i, j


def _key(layer: LayerFigures) -> str:
    return " ".join(layer.name.casefold().split())


def _score(one: LayerFigures, other: LayerFigures) -> float:
    return 2.0 if one is other else _alike(one, other)


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
