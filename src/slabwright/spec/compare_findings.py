"""Findings that came and that were settled, and lines that could not be read."""

import re
from collections import Counter
from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

from slabwright.errors import Mistake
from slabwright.finding import Finding
from slabwright.spec.specification import Specification

_NUMBER: Final = re.compile(r"\d[\d.,]*")
T = TypeVar("T")
Rename = Callable[[str], str]
"""A text of the slab before, with the names that its parts have now."""


@dataclass(frozen=True, slots=True)
class Unread:
    """A line that could not be taken as it stands; what it says is not compared."""

    what: str
    """What is wrong with it."""
    before: int | None
    """Its number on the card before; None if it is not there or was read."""
    after: int | None
    """Its number on the card now."""

    @property
    def is_in_both(self) -> bool:
        """Whether it stands on both cards, so that nothing tells them apart."""
        return self.before is not None and self.after is not None


def renaming(names: Sequence[tuple[str, str]]) -> Rename:
    """Words in which old names are told by the new ones.

    Args:
        names: old and new names of the slab, its layers and components.
    """
    new = {old: now for old, now in names if old and old != now}
    if not new:
        return lambda text: text
    longest_first = sorted(new, key=len, reverse=True)
    any_of = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)")
    return lambda text: any_of.sub(lambda found: new[found[0]], text)


def came_and_went(
    before: Specification, after: Specification, rename: Rename
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """Findings that came and those that are settled.

    A finding stays while it says the same of the same part, with other numbers too,
    or of a line that is written otherwise.
    """

    def key(spec: Specification, of: Rename) -> Callable[[Finding], Hashable]:
        written = _as_written(spec)

        def made(one: Finding) -> Hashable:
            text, name = written.get(one.span.line if one.span else 0, ("", ""))
            what = one.what.replace(text, name) if text else one.what
            what = " ".join(_NUMBER.sub("#", of(what)).split())
            return one.code, one.severity, of(one.where), what

        return made

    was, now = key(before, rename), key(after, lambda text: text)
    return (
        _beyond(after.findings, now, Counter(map(was, before.findings))),
        _beyond(before.findings, was, Counter(map(now, after.findings))),
    )


def _as_written(spec: Specification) -> dict[int, tuple[str, str]]:
    """Each line of an ingredient as it is written, and its name, by its number."""
    return {
        line.weighed.line.span.line: (line.text, line.name)
        for layer in (*spec.layers, *spec.components)
        for line in layer.lines
    }


def _beyond(
    found: Sequence[T], key: Callable[[T], Hashable], known: Counter[Hashable]
) -> tuple[T, ...]:
    """What there is more of than is known."""
    left = Counter(known)
    new: list[T] = []
    for one in found:
        if left[key(one)] > 0:
            left[key(one)] -= 1
        else:
            new.append(one)
    return tuple(new)


def unread(
    before: Specification, after: Specification, rename: Rename
) -> Iterator[Unread]:
    """Lines of either card that could not be taken, those of both as one."""
    left = list(before.errors)
    for mistake in after.errors:
        twin = next((one for one in left if rename(one.what) == mistake.what), None)
        if twin is not None:
            left.remove(twin)
        yield Unread(mistake.what, _line(twin) if twin else None, _line(mistake))
    for mistake in left:
        yield Unread(mistake.what, _line(mistake), None)


def _line(mistake: Mistake) -> int:
    """The line's number; 0 where the mistake has no place."""
    return mistake.where.span.line if mistake.where.span else 0
