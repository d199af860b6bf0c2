"""Which lines of two slabs differ: added, gone, changed in amount, moved elsewhere."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Final, Literal

from slabwright.spec.specification import LayerFigures, LineFigures

_SAME: Final = 1e-9
What = Literal["added", "gone", "changed", "moved"]
Two = tuple[LayerFigures | None, LayerFigures | None]


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line and what became of it."""

    what: What
    where: str
    """Its layer now; the one that it had where it is gone."""
    name: str
    before_g: float | None
    """What it weighed [g]; None where it is new or its weight is not known."""
    after_g: float | None
    was_in: str = ""
    """The layer that it moved from."""
    before: LineFigures | None = None
    after: LineFigures | None = None

    @property
    def by_g(self) -> float | None:
        """How much more there is of it [g]; None where a weight is not known."""
        unknown = (self.before is not None and self.before_g is None) or (
            self.after is not None and self.after_g is None
        )
        return None if unknown else (self.after_g or 0.0) - (self.before_g or 0.0)


def line_changes(pairs: Sequence[Two]) -> Iterator[LineChange]:
    """Every line that differs, in the order of the layers, the largest change first.

    Args:
        pairs: layers that are two versions of one; None where there is no other.
    """
    found = [one for a, b in pairs for one in _within(a, b)]
    gone = [one for one in found if one.what == "gone"]
    added = [one for one in found if one.what == "added"]
    moved: dict[int, LineChange] = {}
    for new in added:
        old = next((o for o in gone if _key_of(o) == _key_of(new)), None)
        if old is None or old.where == new.where:
            continue
        gone.remove(old)
        moved[id(old)] = moved[id(new)] = LineChange(
            "moved", new.where, new.name, old.before_g, new.after_g, old.where,
            old.before, new.after,
        )  # fmt: skip
    once: dict[int, LineChange] = {}
    for one in found:
        change = moved.get(id(one), one)
        once[id(change)] = change
    order = {_name(a, b): n for n, (a, b) in enumerate(pairs)}
    yield from sorted(
        once.values(), key=lambda one: (order.get(one.where, 0), -abs(one.by_g or 0.0))
    )


def _name(before: LayerFigures | None, after: LayerFigures | None) -> str:
    layer = after or before
    return layer.name if layer else ""


def _within(
    before: LayerFigures | None, after: LayerFigures | None
) -> Iterator[LineChange]:
    """What differs inside one layer; the same name twice is told by its order."""
    old, new = (list(one.lines) if one else [] for one in (before, after))
    where = _name(before, after)
    for a, b in matched(old, new):
        if a is None and b is not None:
            yield LineChange("added", where, b.name, None, _grams(b), after=b)
        elif b is None and a is not None:
            yield LineChange("gone", where, a.name, _grams(a), None, before=a)
        elif a is not None and b is not None and _differ(a, b):
            yield LineChange("changed", where, b.name, _grams(a), _grams(b), "", a, b)


def matched(
    old: Sequence[LineFigures], new: Sequence[LineFigures]
) -> Iterator[tuple[LineFigures | None, LineFigures | None]]:
    """Lines of one ingredient in two versions of a layer; the rest has no other.

    Args:
        old: the lines before, in order of use.
        new: the lines after.
    """
    keys = [[_key(line) for line in lines] for lines in (old, new)]
    pairs: list[tuple[LineFigures | None, LineFigures | None]] = []
    left, right = set(range(len(old))), set(range(len(new)))
    blocks = SequenceMatcher(None, keys[0], keys[1], False).get_matching_blocks()
    for i, j, size in blocks:
        for n in range(size):
            pairs.append((old[i + n], new[j + n]))
            left.discard(i + n)
            right.discard(j + n)
    for i in sorted(left):
        twin = next((k for k in sorted(right) if keys[1][k] == keys[0][i]), None)
        if twin is None:
            pairs.append((old[i], None))
        else:
            right.discard(twin)
            pairs.append((old[i], new[twin]))
    pairs += [(None, new[j]) for j in sorted(right)]
    yield from pairs


def _key(line: LineFigures) -> str:
    return line.larder_id or " ".join(line.name.casefold().split())


def _key_of(change: LineChange) -> str:
    line = change.after or change.before
    return _key(line) if line else ""


def _grams(line: LineFigures) -> float | None:
    return line.mass_g.number if line.mass_g.known else None


def _said(line: LineFigures) -> str:
    """What is there of it in words, for a line whose grams are not known."""
    return " ".join(amount.in_words() for amount in line.weighed.line.amounts)


def _differ(a: LineFigures, b: LineFigures) -> bool:
    first, second = _grams(a), _grams(b)
    if first is None and second is None:
        return _said(a) != _said(b)
    if first is None or second is None:
        return True
    return abs(first - second) > _SAME * max(abs(first), abs(second))
