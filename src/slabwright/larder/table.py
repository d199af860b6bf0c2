"""Rows of the larder's tables, and compositions that are read when first asked for."""

import csv
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache, cached_property
from importlib.resources import files
from typing import Final, TypeVar

from slabwright.composition import CONSTITUENTS, SATURATES
from slabwright.larder.ingredient import Cited
from slabwright.source import Source

T = TypeVar("T")

_KNOWN: Final = frozenset((*CONSTITUENTS, SATURATES))


def table(name: str) -> Iterator[list[str]]:
    """The rows of one of the larder's tables, its heading left out.

    Raises:
        ValueError: if a row is longer or shorter than the heading.
    """
    text = files("slabwright.larder").joinpath("data", name).read_text("utf-8")
    rows = csv.reader(text.splitlines())
    width = len(next(rows))
    for row in rows:
        if len(row) != width:
            message = f"{name}: {','.join(row)} has {len(row)} cells, not {width}"
            raise ValueError(message)
        yield row


def grouped(
    name: str, read: Callable[[list[str]], Iterable[T]]
) -> dict[str, tuple[T, ...]]:
    """A table's values by ingredient, in its order."""
    found: dict[str, list[T]] = defaultdict(list)
    for row in table(name):
        found[row[0]].extend(read(row))
    return {id: tuple(values) for id, values in found.items()}


@cache
def words_for(role: str) -> frozenset[str]:
    """Words of one role in names and sentences, such as `handling` or `verb`.

    Raises:
        KeyError: if the table of words has no such role.
    """
    roles = {name: frozenset(words.split()) for name, words, _ in table("words.csv")}
    return roles[role]


class Values(Mapping[str, Cited]):
    """Constituents of one ingredient, taken from their rows when first asked for.

    A card needs a tenth of the larder, so most rows are never read. What the
    ingredient's group lacks is 0 unless a row says otherwise.
    """

    def __init__(
        self,
        rows: tuple[list[str], ...],
        lacks: Mapping[str, Cited],
        known: Mapping[str, Source],
    ) -> None:
        self._rows = rows
        self._lacks = lacks
        self._sources = known

    def __getitem__(self, constituent: str) -> Cited:
        return self._read[constituent]

    def __iter__(self) -> Iterator[str]:
        return iter(self._read)

    def __len__(self) -> int:
        return len(self._read)

    @cached_property
    def _read(self) -> dict[str, Cited]:
        found: dict[str, Cited] = {}
        for id, constituents, value, source, record, _, note in self._rows:
            cited = Cited(float(value), self._sources[source], record, note)
            for constituent in constituents.split(" "):
                if constituent not in _KNOWN or constituent in found:
                    message = f"composition.csv: {id} has a wrong row for {constituent}"
                    raise ValueError(message)
                found[constituent] = cited
        return {**self._lacks, **found}
