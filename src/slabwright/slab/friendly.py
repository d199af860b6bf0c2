"""Amounts that a person can weigh and count: the best few choices, proved best.

Layers depend on each other only through whole packs. For each number of packs their
grams are shared out as the formula shares them; then each layer is solved by itself,
and the best sums are put together.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor, inf
from typing import Final

from slabwright.errors import Mistake
from slabwright.slab.distortion import FriendlyError, Score, Want, Weights
from slabwright.slab.friendly_layer import Found, best_of_layer

APART: Final = 0.02
"""Where nothing is counted, other choices are at least this much smaller or larger."""
MOST_PACKS: Final = 4
"""Whole packs can be asked for of so many ingredients at once."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to weigh and count everything."""

    amounts_g: tuple[float, ...]
    """Of each want, in their order [g]."""
    counts: tuple[int | None, ...]
    """Pieces of each, where it is counted."""
    scores: tuple[tuple[int, Score], ...]
    """Of each layer, by its number."""
    packs: tuple[tuple[str, int], ...] = ()
    """Whole packs that it takes, by their names."""

    @property
    def total(self) -> float:
        """Distortion of all layers together; 0 for exactly as wanted."""
        return sum(score.total for _, score in self.scores)


def choices(
    wants: Sequence[Want], weights: Weights | None = None, how_many: int = 3
) -> tuple[Choice, ...]:
    """The best few ways to weigh and count these lines, the best first.

    They differ in what is counted. Where nothing is, the second and third are the best
    with every layer clearly smaller, or clearly larger.

    Args:
        wants: every line of the slab.
        weights: what counts how much, and how far a layer may change.
        how_many: so many, at most.

    Returns:
        None at all if a layer can't keep the limit with what is counted.

    Raises:
        FriendlyError: if whole packs are asked for of too many ingredients.

    >>> eggs = [Want(210.0, step_g=5), Want(104.0, each_g=50)]
    >>> [choice.counts for choice in choices(eggs)]
    [(None, 2)]
    """
    weights = weights or Weights()
    layers: dict[int, list[int]] = {}
    for number, want in enumerate(wants):
        layers.setdefault(want.layer, []).append(number)
    whole = any(want.counted or want.pack for want in wants)
    found: list[Choice] = []
    solved: dict[tuple[object, ...], tuple[Found, ...]] = {}
    ways = [
        (_least(wants, given, weights, layers), packs, given)
        for packs, given in _packed(wants)
    ]
    for least, packs, given in sorted(ways, key=lambda way: way[0]):
        if len(found) >= how_many and least >= found[how_many - 1].total:
            break
        options = []
        for numbers in layers.values():
            own = {at: given[n] for at, n in enumerate(numbers) if n in given}
            key = (numbers[0], *own.items())
            if key not in solved:
                here = [wants[n] for n in numbers]
                solved[key] = best_of_layer(here, weights, how_many, own)
            options.append(solved[key])
        found += _together(wants, layers, options, packs, how_many)
        found.sort(key=lambda choice: choice.total)
    if not whole and how_many > 1:
        for apart in ((0.0, 1.0 - APART), (1.0 + APART, inf)):
            options = [
                best_of_layer([wants[n] for n in numbers], weights, 1, None, apart)
                for numbers in layers.values()
            ]
            found += _together(wants, layers, options, (), 1)
    return tuple(sorted(found, key=lambda choice: choice.total))[:how_many]


def _together(
    wants: Sequence[Want],
    layers: Mapping[int, Sequence[int]],
    options: Sequence[tuple[Found, ...]],
    packs: tuple[tuple[str, int], ...],
    how_many: int,
) -> Iterator[Choice]:
    """The smallest sums of one option from each layer."""
    sums: list[tuple[float, tuple[Found, ...]]] = [(0.0, ())]
    for some in options:
        longer = [(t + f.score.total, (*fs, f)) for t, fs in sums for f in some]
        sums = sorted(longer, key=lambda one: one[0])[:how_many]
    for _, founds in sums:
        amounts: dict[int, float] = {}
        for numbers, found in zip(layers.values(), founds, strict=True):
            amounts.update(zip(numbers, found.amounts_g, strict=True))
        ordered = tuple(amounts[number] for number in range(len(wants)))
        scores = zip(layers, (found.score for found in founds), strict=True)
        counts = tuple(map(_count, wants, ordered))
        yield Choice(ordered, counts, tuple(scores), packs)


def _count(want: Want, grams: float) -> int | None:
    return round(grams / want.each_g) if want.counted and want.each_g else None


# --- whole packs --------------------


def _packed(
    wants: Sequence[Want],
) -> Iterator[tuple[tuple[tuple[str, int], ...], dict[int, float]]]:
    """Every number of whole packs worth trying, and what each line gets of them."""
    lines: dict[str, list[int]] = {}
    for number, want in enumerate(wants):
        if want.pack and want.pack_g:
            lines.setdefault(want.pack, []).append(number)
    if len(lines) > MOST_PACKS:
        what = f"Whole packs are asked for of {len(lines)} ingredients."
        raise FriendlyError(Mistake(what, f"Ask for {MOST_PACKS} at most."))
    tried = []
    for numbers in lines.values():
        pack_g = wants[numbers[0]].pack_g or 1.0
        exact = sum(wants[number].grams for number in numbers) / pack_g
        tried.append(range(max(1, floor(exact) - 1), ceil(exact) + 2))
    for counts in product(*tried):
        given: dict[int, float] = {}
        for numbers, count in zip(lines.values(), counts, strict=True):
            given |= _shared(wants, numbers, count * (wants[numbers[0]].pack_g or 1.0))
        if all(grams > 0 for grams in given.values()):
            yield tuple(zip(lines, counts, strict=True)), given


def _shared(
    wants: Sequence[Want], numbers: Sequence[int], grams: float
) -> dict[int, float]:
    """Grams shared out as the formula does, in steps; the largest takes the rest."""
    asked_g = sum(wants[number].grams for number in numbers)
    largest = max(numbers, key=lambda number: wants[number].grams)
    found: dict[int, float] = {}
    for number in numbers:
        if number != largest:
            step_g = wants[number].each_g or wants[number].step_g
            steps = max(1, round(grams * wants[number].grams / asked_g / step_g))
            found[number] = round(steps * step_g, 6)
    found[largest] = round(grams - sum(found.values()), 6)
    return found


def _least(
    wants: Sequence[Want],
    given: Mapping[int, float],
    weights: Weights,
    layers: Mapping[int, Sequence[int]],
) -> float:
    """What these settled grams cost at the least, whatever the other lines weigh."""
    found = 0.0
    for numbers in layers.values():
        settled = [number for number in numbers if number in given]
        scales = [1.0 - weights.limit, 1.0 + weights.limit]
        scales += [given[n] / wants[n].grams for n in settled]
        inside = [min(max(scale, scales[0]), scales[1]) for scale in scales]
        off_g = (
            sum(wants[n].care * abs(given[n] - at * wants[n].grams) for n in settled)
            for at in inside
        )
        found += min(off_g) / sum(wants[number].grams for number in numbers)
    return found
