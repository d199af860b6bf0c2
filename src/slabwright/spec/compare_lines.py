"""Which lines of two slabs differ: added, gone, changed in amount, moved elsewhere."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from typing import Final, Literal

from slabwright.quantity.units import Regime
from slabwright.spec.compare_blocks import Blocks, line_key, line_says
from slabwright.spec.compare_meaning import amount_in_words, is_plain_mass
from slabwright.spec.compare_pairs import same_keyed
from slabwright.spec.specification import LineFigures

_SAME: Final = 1e-9
What = Literal["added", "gone", "changed", "moved"]
Spoons = tuple[Regime, Regime]
"""Whose spoons the kitchens of two slabs have."""


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

    @property
    def said_before(self) -> str:
        """How much the card said, where the grams do not tell it all; or empty."""
        return _said(self.before)

    @property
    def said_after(self) -> str:
        """How much it says now, where the grams do not tell it all; or empty."""
        return _said(self.after)


def line_changes(blocks: Sequence[Blocks], spoons: Spoons) -> tuple[LineChange, ...]:
    """Every line that differs, in the order of the layers, the largest change first.

    Args:
        blocks: layers and components that are two versions of one.
        spoons: whose spoons the two kitchens have.
    """
    found = [(n, one) for n, two in enumerate(blocks) for one in _within(two, spoons)]
    moves = _moves([one for _, one in found])
    left = {id(old) for old, _ in moves}
    came_from = {id(new): old for old, new in moves}
    changes: list[tuple[int, LineChange]] = []
    for n, one in found:
        old = came_from.get(id(one))
        if old is not None:
            change = LineChange(
                "moved", one.where, one.name, old.before_g, one.after_g, old.where,
                old.before, one.after,
            )  # fmt: skip
            changes.append((n, change))
        elif id(one) not in left:
            changes.append((n, one))
    changes.sort(key=lambda pair: (pair[0], -abs(pair[1].by_g or 0.0)))
    return tuple(one for _, one in changes)


def _moves(found: Sequence[LineChange]) -> list[tuple[LineChange, LineChange]]:
    """Lines that went from one layer and came to another, the nearest in weight."""
    gone = [one for one in found if one.what == "gone"]
    added = [one for one in found if one.what == "added"]

    def apart(i: int, j: int) -> float:
        if gone[i].where == added[j].where:  # two layers of one name: no move
            return inf
        return abs((gone[i].before_g or 0.0) - (added[j].after_g or 0.0))

    keys = [_key(one) for one in gone], [_key(one) for one in added]
    pairs = ((gone[i], added[j]) for i, j in same_keyed(*keys, apart))
    return [(old, new) for old, new in pairs if old.where != new.where]


def _key(change: LineChange) -> str:
    line = change.after or change.before
    return line_key(line) if line else ""


def two_lines(blocks: Blocks) -> Iterator[tuple[LineFigures, LineFigures]]:
    """Lines of one block that are two versions of one."""
    before, after = blocks.before, blocks.after
    if before is None or after is None:
        return
    for twin in blocks.twins:
        if twin.before is not None and twin.after is not None:
            a, b = before.work[twin.before][1], after.work[twin.after][1]
            if a is not None and b is not None:
                yield a, b


def _within(blocks: Blocks, spoons: Spoons) -> Iterator[LineChange]:
    """What differs inside one block."""
    before, after = blocks.before, blocks.after
    for twin in blocks.twins:
        a = before.work[twin.before][1] if before and twin.before is not None else None
        b = after.work[twin.after][1] if after and twin.after is not None else None
        if b is not None and a is None:
            yield LineChange("added", blocks.name, b.name, None, grams(b), after=b)
        elif a is not None and b is None:
            yield LineChange("gone", blocks.name, a.name, grams(a), None, before=a)
        elif a is not None and b is not None and _differ(a, b, spoons):
            yield LineChange(
                "changed", blocks.name, b.name, grams(a), grams(b), "", a, b
            )


def grams(line: LineFigures) -> float | None:
    """What the line weighs in one batch [g]; None if that is not known."""
    return line.weighed.mass_g


def _said(line: LineFigures | None) -> str:
    if line is None or is_plain_mass(line.weighed.line):
        return ""
    return amount_in_words(line.weighed.line)


def says_otherwise(a: LineFigures, b: LineFigures, spoons: Spoons) -> bool:
    """Whether the card says the amount otherwise, whatever it weighs."""
    return line_says(a, spoons[0]) != line_says(b, spoons[1])


def _differ(a: LineFigures, b: LineFigures, spoons: Spoons) -> bool:
    """Whether another amount goes in: not where a component gives more a batch."""
    first, second = grams(a), grams(b)
    otherwise = says_otherwise(a, b, spoons)
    if first is None or second is None:
        return otherwise
    is_ours = otherwise or b.weighed.batch is None
    return is_ours and abs(first - second) > _SAME * max(abs(first), abs(second))
