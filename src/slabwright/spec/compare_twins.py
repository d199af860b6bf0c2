"""Which entry of a card is which in another version of it, and which changed place."""

from bisect import bisect
from collections import deque
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Final

_EXACT: Final = 3.0
_NAMED: Final = 2.0
"""Of one name, otherwise said: less than two entries that stay the same."""
_MOST_PAIRS: Final = 250_000
"""More pairs of entries than this are matched by a quicker, rougher way."""
_MOST_LIKENED: Final = 900
"""More pairs than this are not likened by their words, but taken in their order."""
Score = Callable[["Entry", "Entry"], float]


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that a card says, at its place among others."""

    kind: str
    """line, step, into, loss, note, cut, keep: entries of other kinds never pair."""
    meaning: Hashable
    """The same for everything that means the same."""
    words: str
    name: Hashable = None
    """What makes it the same entry when it says something else; None if nothing."""


@dataclass(frozen=True, slots=True)
class Twin:
    """Where an entry stands before and after; None where it does not."""

    before: int | None
    after: int | None
    has_moved: bool = False
    """Whether it stands elsewhere among the entries that stayed."""


def twins(old: Sequence[Entry], new: Sequence[Entry]) -> tuple[Twin, ...]:
    """Every entry of two versions once, in the order of the new one, then what went.

    Entries stay themselves if as many as possible stay in their order; what is left and
    means the same has moved; what is left in one gap was said otherwise.

    Args:
        old: the entries before, in their order.
        new: the entries after.
    """
    stayed = _in_order(old, new)
    fixed = {i for i, _ in stayed}, {j for _, j in stayed}
    left = [i for i in range(len(old)) if i not in fixed[0]]
    right = [j for j in range(len(new)) if j not in fixed[1]]
    moved: list[tuple[int, int]] = []
    for key in (_same_key, _name_key):
        moved += _anywhere((left, right), [[key(e) for e in s] for s in (old, new)])
        left, right = _without(left, right, moved)
    changed = _in_gaps((old, new), (left, right), stayed)
    left, right = _without(left, right, changed)
    found = [
        *(Twin(i, j) for i, j in (*stayed, *changed)),
        *(Twin(i, j, has_moved=True) for i, j in moved),
        *(Twin(None, j) for j in right),
    ]
    found.sort(key=lambda one: one.after if one.after is not None else -1)
    return (*found, *(Twin(i, None) for i in left))


def _same_key(one: Entry) -> Hashable:
    return one.kind, one.meaning


def _name_key(one: Entry) -> Hashable:
    return None if one.name is None else (one.kind, one.name)


def _without(
    left: list[int], right: list[int], pairs: Sequence[tuple[int, int]]
) -> tuple[list[int], list[int]]:
    gone = {i for i, _ in pairs}, {j for _, j in pairs}
    return (
        [i for i in left if i not in gone[0]],
        [j for j in right if j not in gone[1]],
    )


def _is_same(one: Entry, other: Entry) -> bool:
    return one.kind == other.kind and one.meaning == other.meaning


def _is_named_alike(one: Entry, other: Entry) -> bool:
    named = one.name is not None and one.name == other.name
    return named and one.kind == other.kind


def _in_order(old: Sequence[Entry], new: Sequence[Entry]) -> list[tuple[int, int]]:
    """Entries that are the same or of one name, as many as stay in their order."""
    first, last = 0, 0
    least = min(len(old), len(new))
    while first < least and _is_same(old[first], new[first]):
        first += 1
    while last < least - first and _is_same(old[-1 - last], new[-1 - last]):
        last += 1
    ends = [(len(old) - n, len(new) - n) for n in range(last, 0, -1)]
    inner = old[first : len(old) - last], new[first : len(new) - last]
    if len(inner[0]) * len(inner[1]) > _MOST_PAIRS:
        keys = [[(one.kind, one.meaning) for one in side] for side in inner]
        matcher = SequenceMatcher(None, keys[0], keys[1])  # quick in long ones
        blocks = matcher.get_matching_blocks()
        found = [(b.a + n, b.b + n) for b in blocks for n in range(b.size)]
    else:
        found = _best(*inner, _score)
    middle = [(first + i, first + j) for i, j in found]
    return [*((n, n) for n in range(first)), *middle, *ends]


def _score(one: Entry, other: Entry) -> float:
    if _is_same(one, other):
        return _EXACT
    return _NAMED if _is_named_alike(one, other) else 0.0


def _best(
    old: Sequence[Entry], new: Sequence[Entry], score: Score
) -> list[tuple[int, int]]:
    """Pairs in order whose scores add up to the most; 0 makes no pair."""
    best = [[0.0] * (len(new) + 1) for _ in range(len(old) + 1)]
    for i in range(len(old) - 1, -1, -1):
        for j in range(len(new) - 1, -1, -1):
            paired = best[i + 1][j + 1] + score(old[i], new[j])
            best[i][j] = max(paired, best[i + 1][j], best[i][j + 1])
    pairs: list[tuple[int, int]] = []
    i = j = 0
    while i < len(old) and j < len(new):
        if best[i][j] == best[i + 1][j]:
            i += 1
        elif best[i][j] == best[i][j + 1]:
            j += 1
        else:
            pairs.append((i, j))
            i, j = i + 1, j + 1
    return pairs


def _anywhere(
    rest: tuple[list[int], list[int]], keys: Sequence[Sequence[Hashable]]
) -> list[tuple[int, int]]:
    """Pairs of one key in any order; None is no key."""
    at: dict[Hashable, deque[int]] = {}
    for j in rest[1]:
        at.setdefault(keys[1][j], deque()).append(j)
    found: list[tuple[int, int]] = []
    for i in rest[0]:
        key = keys[0][i]
        if key is not None and at.get(key):
            found.append((i, at[key].popleft()))
    return found


def _in_gaps(
    sides: tuple[Sequence[Entry], Sequence[Entry]],
    rest: tuple[list[int], list[int]],
    stayed: Sequence[tuple[int, int]],
) -> list[tuple[int, int]]:
    """What is left between the same neighbours."""
    gaps: dict[tuple[int, str], tuple[list[int], list[int]]] = {}
    for side in (0, 1):
        fixed = [pair[side] for pair in stayed]
        for n in rest[side]:
            key = (bisect(fixed, n), sides[side][n].kind)
            gaps.setdefault(key, ([], []))[side].append(n)
    found: list[tuple[int, int]] = []
    for (_, kind), (left, right) in gaps.items():
        if kind == "line":  # another ingredient is another line
            continue
        ours, theirs = (
            [sides[s][n] for n in part] for s, part in enumerate((left, right))
        )
        if len(left) * len(right) > _MOST_LIKENED:
            pairs = [(n, n) for n in range(min(len(left), len(right)))]
        else:
            pairs = _best(ours, theirs, _likeness)
        found += [(left[i], right[j]) for i, j in pairs]
    return found


def _likeness(one: Entry, other: Entry) -> float:
    """How alike the words are; a little always, for what stands in one gap."""
    return 0.1 + SequenceMatcher(None, one.words, other.words, autojunk=False).ratio()
