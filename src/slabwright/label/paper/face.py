"""What stands on a label, word for word, and what has changed since it was printed."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Final, Literal

Kind = Literal["label", "ticket", "allergen card"]


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of words."""

    text: str
    is_emphasised: bool = False


Runs = tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class NutritionRow:
    """One row of the nutrition table, as it is declared."""

    name: str
    per_100_g: str
    per_piece: str = ""
    is_part: bool = False
    """Whether it is `of which` of the row above."""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """What the law calls a particular, in runs."""

    name: str
    """Of the particular: `ingredients`, `contains`, `may_contain`, `ask`…"""
    runs: Runs

    @property
    def text(self) -> str:
        """Without its emphasis."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class Face:
    """All that a label or a ticket says."""

    kind: Kind
    slab: str
    way: str
    name: str
    """Of the food."""
    net: str = ""
    net_g: float | None = None
    """For the height of its figures [g]."""
    paragraphs: tuple[Paragraph, ...] = ()
    nutrition: tuple[NutritionRow, ...] = ()
    piece: str = ""
    """What a piece weighs, for the head of its column."""
    date: str = ""
    lot: str = ""
    storage: tuple[str, ...] = ()
    business: str = ""
    price: str = ""
    number: str = ""
    """Digits under the bars; empty without bars."""
    revisions: tuple[str, ...] = ()
    """Of the card and of the larder: `card 3f2a91c0`."""
    least_x_mm: float = 1.2
    """How high a small x must stand [mm]."""
    least_figures_mm: float | None = None
    """How high the figures of the net weight must stand [mm]."""

    @property
    def foot(self) -> str:
        """In small print."""
        return ", ".join(self.revisions)


_PLAIN: Final = (
    ("name", "Name"),
    ("net", "Net weight"),
    ("date", "Date"),
    ("lot", "Lot"),
    ("business", "Business"),
    ("price", "Price"),
    ("number", "Number under the bars"),
    ("way", "How it is sold"),
)
_HEADS: Final = {
    "ingredients": "Ingredients",
    "contains": "Contains",
    "may_contain": "May contain",
    "unknown": "Not known",
}


def stale(printed: Face, now: Face) -> tuple[str, ...]:
    """What of a printed label no longer holds, in words; nothing if all of it does.

    Revisions count for nothing as long as every word is the same.

    >>> stale(Face("label", "A", "w", "Slice"), Face("label", "A", "w", "Lemon slice"))
    ('Name: printed “Slice”, now “Lemon slice”.',)
    """
    return tuple(_changes(printed, now))


def _changes(printed: Face, now: Face) -> Iterator[str]:
    for field, title in _PLAIN:
        yield from _plain(title, getattr(printed, field), getattr(now, field))
    yield from _plain("Storage", "; ".join(printed.storage), "; ".join(now.storage))
    yield from _paragraphs(printed, now)
    yield from _nutrition(printed, now)
    for field, title in (
        ("least_x_mm", "Least height of a small x, mm"),
        ("least_figures_mm", "Least height of the net weight's figures, mm"),
    ):
        before, after = getattr(printed, field), getattr(now, field)
        if before != after:
            yield from _plain(title, _number(before), _number(after))


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _plain(title: str, before: str, after: str) -> Iterator[str]:
    if before == after:
        return
    if not before:
        yield f"{title}: new, “{after}”."
    elif not after:
        yield f"{title}: printed “{before}”, now it says nothing."
    else:
        yield f"{title}: printed “{before}”, now “{after}”."


def _paragraphs(printed: Face, now: Face) -> Iterator[str]:
    before = {one.name: one for one in printed.paragraphs}
    after = {one.name: one for one in now.paragraphs}
    for name in dict.fromkeys((*before, *after)):
        title = _HEADS.get(name, name.replace("_", " ").capitalize())
        old, new = before.get(name), after.get(name)
        if old is None or new is None:
            yield from _plain(title, old.text if old else "", new.text if new else "")
        elif old.text != new.text:
            yield from _listed(title, old, new)
        elif _stressed(old.runs) != _stressed(new.runs):
            yield from _emphasis(title, old.runs, new.runs)


def _listed(title: str, old: Paragraph, new: Paragraph) -> Iterator[str]:
    """What came, what went, what stands elsewhere."""
    before, after = _items(old.text), _items(new.text)
    gone = [one for one in before if one not in after]
    come = [one for one in after if one not in before]
    said: list[str] = []
    renamed = _pairs(gone, come)
    said += [f"printed “{a}”, now “{b}”" for a, b in renamed]
    left = [one for one in gone if one not in {a for a, _ in renamed}]
    new_ones = [one for one in come if one not in {b for _, b in renamed}]
    if new_ones:
        said.append(f"not printed: {_quoted(new_ones)}")
    if left:
        said.append(f"printed and no longer there: {_quoted(left)}")
    kept = [one for one in before if one in after]
    if kept != [one for one in after if one in before]:
        said.append("the order is another")
    if not said:
        said.append(f"printed “{old.text}”, now “{new.text}”")
    yield f"{title}: {'; '.join(said)}."


_LISTS: Final = re.compile(r"(?:(?:may )?contains? |[^:(),]{1,40}:\s*)", re.IGNORECASE)
_END: Final = re.compile(r"(?:, by its suppliers)?\.?$")


def _items(text: str) -> list[str]:
    """The parts of a list; those inside brackets are no items of their own.

    >>> _items("Ingredients: flour (wheat, iron), sugar."), _items("Contains a and b.")
    (['flour (wheat, iron)', 'sugar'], ['a', 'b'])
    """
    head = _LISTS.match(text)
    bare = _END.sub("", text[head.end() :] if head else text)
    if head and not head[0].rstrip().endswith(":"):
        bare = bare.replace(" and ", ", ")
    found, depth, start = [], 0, 0
    for at, character in enumerate(bare):
        if character in "([":
            depth += 1
        elif character in ")]":
            depth = max(depth - 1, 0)
        elif character == "," and depth == 0 and bare[at + 1 : at + 2] == " ":
            found.append(bare[start:at].strip())
            start = at + 1
    found.append(bare[start:].strip())
    return found


def _pairs(gone: Sequence[str], come: Sequence[str]) -> list[tuple[str, str]]:
    """Items that are the same in other words: `butter 12 %` and `butter 14 %`."""
    found: list[tuple[str, str]] = []
    free = list(come)
    for old in gone:
        near = max(
            free, key=lambda one: SequenceMatcher(None, old, one).ratio(), default=""
        )
        if near and SequenceMatcher(None, old, near).ratio() >= 0.6:
            free.remove(near)
            found.append((old, near))
    return found


def _quoted(items: Sequence[str]) -> str:
    return ", ".join(f"“{one}”" for one in items)


def _stressed(runs: Runs) -> list[str]:
    """Words that stand out, runs that touch made one."""
    found: list[str] = []
    was = False
    for run in runs:
        if run.is_emphasised and was:
            found[-1] += run.text
        elif run.is_emphasised:
            found.append(run.text)
        was = run.is_emphasised
    return found


def _emphasis(title: str, old: Runs, new: Runs) -> Iterator[str]:
    before, after = _stressed(old), _stressed(new)
    come = [one for one in after if one not in before]
    gone = [one for one in before if one not in after]
    if come:
        yield f"{title}: {_quoted(come)} must stand out now."
    if gone:
        yield f"{title}: {_quoted(gone)} stood out and does so no more."
    if not come and not gone:
        yield f"{title}: other words stand out."


def _nutrition(printed: Face, now: Face) -> Iterator[str]:
    before = {one.name: one for one in printed.nutrition}
    after = {one.name: one for one in now.nutrition}
    for name in dict.fromkeys((*before, *after)):
        old, new = before.get(name), after.get(name)
        said = [
            " and ".join(filter(None, (one.per_100_g, one.per_piece))) if one else ""
            for one in (old, new)
        ]
        yield from _plain(f"Nutrition, {name}", said[0], said[1])
    if before and after and list(before) != list(after):
        yield "Nutrition: the order of its rows is another."
    if printed.piece != now.piece:
        yield from _plain("Nutrition, a piece", printed.piece, now.piece)
