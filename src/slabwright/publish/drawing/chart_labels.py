"""Where the words on a chart stand: never on one another, never over its edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.publish.drawing.lettering import Face, cleaned, width, wrapped
from slabwright.publish.drawing.picture import Box
from slabwright.publish.drawing.style import SMALL_SIZE
from slabwright.publish.drawing.svg import Point

LINE: Final = 16.0
"""From one line of words to the next [units]."""
_UP, _DOWN = 0.75 * SMALL_SIZE, 0.25 * SMALL_SIZE
"""How far letters reach above and below the line that they stand on."""
_OFF: Final = 9.0
"""From the middle of a mark to its words."""
_DOT: Final = 6.0
"""Half of the room that a mark takes."""
_WIDEST: Final = 125.0
_FAR: Final = 4
"""How many points of curves words may rather cover than stand a step farther off."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words with the place of their first line's beginning."""

    at: Point
    lines: tuple[str, ...]

    def places(self) -> Iterator[tuple[Point, str]]:
        """Each line and where it begins."""
        for i, words in enumerate(self.lines):
            yield (self.at[0], self.at[1] + i * LINE), words


def beside_each_other(
    wanted: Sequence[float], heights: Sequence[float], top: float, bottom: float
) -> list[float]:
    """Middles as near to the wanted ones as can be, so that nothing overlaps.

    Args:
        wanted: middles, in any order [units, downwards].
        heights: room of each.
        top: none reaches above it.
        bottom: none reaches below it, as long as all have room between the two.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    found = list(wanted)
    edge = top
    for i in order:
        found[i] = max(wanted[i], edge + heights[i] / 2)
        edge = found[i] + heights[i] / 2
    edge = max(bottom, top + sum(heights))
    for i in reversed(order):
        found[i] = min(found[i], edge - heights[i] / 2)
        edge = found[i] - heights[i] / 2
    return found


def around_marks(
    marks: Sequence[tuple[Point, str]], room: Box, curves: Sequence[Point]
) -> list[Label | None]:
    """Words beside their marks; None for those that find no room.

    Args:
        marks: where each stands, and its words; empty words need no room.
        room: in which all words must stay.
        curves: points that words had better not cover.
    """
    taken = [_dot(at) for at, _ in marks]
    found: list[Label | None] = []
    for own, (at, said) in enumerate(marks):
        lines = _lines(said)
        best: tuple[int, Label, Box] | None = None
        for label, out in _candidates(at, lines) if lines else ():
            box = _room(label)
            others = (one for i, one in enumerate(taken) if i != own)
            if not _within(box, room) or any(_overlap(box, one) for one in others):
                continue
            covered = _FAR * out + sum(_covers(box, point) for point in curves)
            if best is None or covered < best[0]:
                best = (covered, label, box)
        found.append(best[1] if best else None)
        if best:
            taken.append(best[2])
    return found


def _lines(said: str) -> tuple[str, ...]:
    words = cleaned(said)
    return wrapped(words, _WIDEST, 2, SMALL_SIZE, _FACE) if words else ()


_FACE: Final[Face] = "bold"


def _candidates(at: Point, lines: tuple[str, ...]) -> Iterator[tuple[Label, int]]:
    """Places around a mark, each with how many steps it is off."""
    x, y = at
    wide = max(width(one, SMALL_SIZE, _FACE) for one in lines)
    more = (len(lines) - 1) * LINE
    level = y + (_UP - _DOWN) / 2 - more / 2
    for step, out in enumerate((1.0, 2.2, 4.0)):
        off = _OFF * out
        above, below = y - off - _DOWN - more, y + off + _UP
        for left in (x + off, x - off - wide):
            yield Label((left, level), lines), step
            yield Label((left, above), lines), step
            yield Label((left, below), lines), step
        yield Label((x - wide / 2, above), lines), step
        yield Label((x - wide / 2, below), lines), step


def _room(label: Label) -> Box:
    x, y = label.at
    wide = max(width(one, SMALL_SIZE, _FACE) for one in label.lines)
    return Box(x - 1, y - _UP, x + wide + 1, y + (len(label.lines) - 1) * LINE + _DOWN)


def _dot(at: Point) -> Box:
    return Box(at[0] - _DOT, at[1] - _DOT, at[0] + _DOT, at[1] + _DOT)


def _within(box: Box, room: Box) -> bool:
    return (
        box.left >= room.left
        and box.right <= room.right
        and box.top >= room.top
        and box.bottom <= room.bottom
    )


def _overlap(a: Box, b: Box) -> bool:
    across = min(a.right, b.right) > max(a.left, b.left)
    return across and min(a.bottom, b.bottom) > max(a.top, b.top)


def _covers(box: Box, point: Point) -> bool:
    return box.left < point[0] < box.right and box.top < point[1] < box.bottom
