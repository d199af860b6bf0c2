"""Texts line by line: two changes put together, and lines put back as they stood."""

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from typing import NamedTuple


class _Change(NamedTuple):
    """Lines `start` to `end` of the text that both began with, and what they become."""

    start: int
    end: int
    lines: tuple[str, ...]


def both_changes(base: str, theirs: str, mine: str) -> str | None:
    r"""The text with both changes; None where they meet, so that somebody must choose.

    Lines that both add at one place stand one after the other, theirs first.

    >>> both_changes("a\nb\nc\n", "A\nb\nc\n", "a\nb\nC\n")
    'A\nb\nC\n'
    >>> both_changes("a\n", "b\n", "c\n") is None
    True
    """
    lines = base.splitlines(keepends=True)
    first = list(_changes(lines, theirs))
    second = [change for change in _changes(lines, mine) if change not in first]
    if any(_meet(a, b) for a in first for b in second):
        return None
    made: list[str] = []
    at = 0
    for change in sorted((*first, *second), key=lambda one: one[:2]):
        made += [*lines[at : change.start], *change.lines]
        at = change.end
    return "".join([*made, *lines[at:]])


def _changes(lines: list[str], text: str) -> Iterator[_Change]:
    other = text.splitlines(keepends=True)
    for tag, i, j, k, m in _opcodes(lines, other):
        if tag != "equal":
            yield _Change(i, j, tuple(other[k:m]))


def _meet(a: _Change, b: _Change) -> bool:
    """Whether they change the same line, or one adds where the other changes."""
    if a.start == a.end == b.start == b.end:
        return False
    return (a.start < b.end and b.start < a.end) or a.start == b.start


def put_back(original: str, before: str, after: str) -> str:
    """`after`, with the lines that it shares with `before` as `original` has them.

    Args:
        original: a file as somebody typed it.
        before: the same as a program writes it.
        after: that, changed. Comments under what was taken out stay.
    """
    a, b, c = original.splitlines(), before.splitlines(), after.splitlines()
    lead, back = _counterparts(a, b)
    lines: list[str] = []
    for tag, i, j, k, m in _opcodes(b, c):
        if tag == "equal":
            lines += [line for n in range(i, j) for line in (*lead[n], *back[n])]
            continue
        lines += [line for n in range(i, j) for line in lead[n]]
        lines += [*c[k:m], *_left_behind(b[i:j], c[k:m])]
    lines += lead[len(b)]
    return "\n".join(lines) + "\n"


def _counterparts(
    a: Sequence[str], b: Sequence[str]
) -> tuple[list[list[str]], list[list[str]]]:
    """For each line of `b` the lines of `a` just before it, and those it stands for."""
    lead: list[list[str]] = [[] for _ in range(len(b) + 1)]
    back: list[list[str]] = [[] for _ in b]
    for tag, i, j, k, m in _opcodes(a, b):
        if tag == "delete":
            lead[k] += a[i:j]
        elif j - i == m - k:
            back[k:m] = [[line] for line in a[i:j]]
        elif m > k:
            back[k] = list(a[i:j])
    return lead, back


def _left_behind(gone: Sequence[str], come: Sequence[str]) -> Iterator[str]:
    """Comments and blank lines under a row that was taken out: they stay."""
    tail = len(gone)
    while tail and is_aside(gone[tail - 1]):
        tail -= 1
    yield from (line for line in gone[tail:] if line not in come)


def is_aside(line: str) -> bool:
    """Whether a line is a comment, or blank."""
    return not line.strip() or line.lstrip().startswith("#")


def _opcodes(
    a: Sequence[str], b: Sequence[str]
) -> Sequence[tuple[str, int, int, int, int]]:
    return SequenceMatcher(None, a, b, autojunk=False).get_opcodes()
