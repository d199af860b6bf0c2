"""Findings that came and that were settled, and lines that could not be read."""

import re
from collections import Counter
from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

from slabwright.errors import Mistake
from slabwright.finding import Finding
from slabwright.spec.compare_meaning import of_step, plain
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
    text: str = ""
    """The line itself; empty where it was read, and is wrong by what it says."""

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
            what = _NUMBER.sub("#", of_step(of(what))).casefold()
            return one.code, one.severity, plain(of(one.where)).casefold(), what

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
    """Lines of either card that could not be taken, those of both as one.

    A line that could not be read and is written otherwise now is another line.
    """
    texts, texts_now = _unread_texts(before), _unread_texts(after)
    left = [
        (plain(rename(one.what)), texts.get(_line(one), ""), one)
        for one in before.errors
    ]
    for mistake in after.errors:
        what, text = plain(mistake.what), texts_now.get(_line(mistake), "")
        twin = next((one for one in left if one[:2] == (what, text)), None)
        if twin is not None:
            left.remove(twin)
        line = _line(twin[2]) if twin else None
        yield Unread(mistake.what, line, _line(mistake), text)
    for _, text, mistake in left:
        yield Unread(mistake.what, _line(mistake), None, text)


def _unread_texts(spec: Specification) -> dict[int, str]:
    return {one.span.line: plain(one.text) for one in spec.card.unread}


def _line(mistake: Mistake) -> int:
    """The line's number; 0 where the mistake has no place."""
    return mistake.where.span.line if mistake.where.span else 0
