"""Rows beside what the physics says of them, and how far apart the two lie."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from math import isfinite, sqrt
from typing import Final

from slabwright.spec.evidence.answers import predicted
from slabwright.spec.evidence.predicted import Predicted
from slabwright.spec.evidence.rows import TOPICS, Row, every_row


@dataclass(frozen=True, slots=True)
class Compared:
    """A published number with ours beside it."""

    row: Row
    ours: Predicted | None
    why_not: str = ""
    """Why there is nothing to put beside it."""

    @property
    def off(self) -> float | None:
        """Ours less the published, in its unit; of a range, how far ours lies off it.

        Against a published range our own range counts, where there is one.
        """
        if self.ours is None:
            return None
        low, high = self.row.value, self.row.value_hi
        if high is None:
            return self.ours.value - low
        ours = self.ours
        least = ours.value if ours.low is None else ours.low
        most = ours.value if ours.high is None else ours.high
        if least > high:
            return least - high
        return most - low if most < low else 0.0

    @property
    def is_within(self) -> bool | None:
        """Whether it lies within the row's tolerance; None if that is not given."""
        if self.off is None:
            return None
        if self.row.tolerance is None:
            return None if self.row.value_hi is None else self.off == 0
        return abs(self.off) <= self.row.tolerance * (1 + 1e-9)

    @property
    def is_likely(self) -> bool | None:
        """Whether the published number, as rounded, meets our range, if we give one."""
        ours, row = self.ours, self.row
        if ours is None or ours.low is None or ours.high is None:
            return None
        high = row.value if row.value_hi is None else row.value_hi
        half = 0.5 * 10.0**-row.digits
        return ours.low <= high + half and row.value - half <= ours.high


@dataclass(frozen=True, slots=True)
class Statistics:
    """How far a table lies from ours."""

    count: int
    mean: float
    """Of all differences, with their signs."""
    rms: float
    worst: Compared
    judged: int
    """Rows with a tolerance."""
    within: int
    """So many of them within it."""
    ranged: int
    """Rows for which we give a likely range."""
    likely: int
    """So many of them in it."""


class GroupKind(StrEnum):
    """What it means that ours agrees with a source."""

    PUBLISHED = "published"
    """Something of its own: evidence."""
    OURS = "ours is read off it"
    """No evidence: ours could not but agree. It shows that it was read rightly."""
    CHECK = "computed"
    """A published equation that was worked out apart: a check of our code where ours is
    the same equation, else of one by another."""


READ_OFF: Final = (
    "Gillis", "Hudson", "Jackson & Silsbee (1922)", "Jackson & Mathews",
    "CRC Handbook / NBS Circular 440", "Shukla", "PORIM", "Typical handbook values",
    "Glass transition and crystallization of amorphous trehalose", "GlycoData",
    "Roos (1993) Carbohydr Res 238:39; Roos (1995)",
)  # fmt: skip
"""How sources begin whose numbers stand, alone or with others, in a table of ours."""


FITTED: Final = frozenset(
    "maltose lactose glycerol citric_acid acetic_acid alcohol milk".split()
)
"""Solutes with a constant that is fitted to how they freeze."""
FOUND_FATS: Final = "FQ"
"""How rows are numbered that the table of solid fat is read off."""


@dataclass(frozen=True, slots=True)
class Group:
    """All that one source tells of one quantity in one unit."""

    topic: str
    source: str
    quantity: str
    unit: str
    standing: GroupKind
    rows: tuple[Compared, ...]

    @property
    def statistics(self) -> Statistics:
        """Its errors."""
        offs = [one.off or 0.0 for one in self.rows]
        judged = [one.is_within for one in self.rows if one.is_within is not None]
        likely = [one.is_likely for one in self.rows if one.is_likely is not None]
        count = len(offs)
        return Statistics(
            count, sum(offs) / count, sqrt(sum(off * off for off in offs) / count),
            max(self.rows, key=lambda one: abs(one.off or 0.0)), len(judged),
            sum(judged), len(likely), sum(likely),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Evidence:
    """A topic: what could be compared, and what could not."""

    topic: str
    title: str
    groups: tuple[Group, ...]
    """Published tables first, checks of our code after them."""
    apart: tuple[Compared, ...]
    """Rows beside which nothing stands, each with the reason."""


@cache
def evidence() -> tuple[Evidence, ...]:
    """Every row of every table, compared anew."""
    rows = [_compared(row) for row in every_row()]
    return tuple(
        _topic(topic, [one for one in rows if one.row.topic == topic])
        for topic in TOPICS
    )


def _compared(row: Row) -> Compared:
    found = predicted(row)
    if isinstance(found, str):
        return Compared(row, None, found)
    if not isfinite(found.value):
        return Compared(row, None, "outside what the relation can answer")
    return Compared(row, found)


def _topic(topic: str, rows: Sequence[Compared]) -> Evidence:
    held = [one for one in rows if one.ours is not None]
    keys = dict.fromkeys(map(_key, held))
    groups = [
        Group(topic, *key, tuple(one for one in held if _key(one) == key))
        for key in keys
    ]
    groups.sort(key=lambda one: _ORDER.index(one.standing))
    return Evidence(
        topic, TOPICS[topic], tuple(groups),
        tuple(one for one in rows if one.ours is None),
    )  # fmt: skip


_ORDER: Final = tuple(GroupKind)


def _key(one: Compared) -> tuple[str, str, str, GroupKind]:
    row = one.row
    return row.source, row.quantity, row.unit, _kind(row)


def _kind(row: Row) -> GroupKind:
    if row.kind == "computed":
        return GroupKind.CHECK
    fitted = row.topic == "freezing_points" and row.material in FITTED
    found = row.id.startswith(FOUND_FATS)
    is_ours = fitted or found or row.source.startswith(READ_OFF)
    return GroupKind.OURS if is_ours else GroupKind.PUBLISHED


def counted(every: Iterable[Evidence]) -> tuple[int, int, int]:
    """Rows in all, rows compared, and rows of those within their tolerance."""
    topics = list(every)
    groups = [group for one in topics for group in one.groups]
    compared = sum(len(group.rows) for group in groups)
    apart = sum(len(one.apart) for one in topics)
    return compared + apart, compared, sum(one.statistics.within for one in groups)
