"""Evidence in words: every row with ours beside it, errors by source; as Markdown."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.publish.evidence_charts import charts
from slabwright.publish.evidence_words import unit_words, what_words
from slabwright.publish.words import counted as so_many
from slabwright.spec.evidence.compared import (
    Compared,
    Evidence,
    Group,
    GroupKind,
    counted,
)
from slabwright.spec.evidence.rows import Row

HOW: Final = (
    "Every number here is worked out anew from the program's own relations and the "
    "tables that ship with it; none is typed. A table that ours is read off shows that "
    "it was read rightly, and no more; a computed row is a published equation that was "
    "evaluated apart, and checks the code. Each row has its grade: A, read in a paper, "
    "a standard or its abstract; B, a reprint, or remembered and checked; C, a page "
    "without a source, or remembered and not checked."
)
ROW_HEADS: Final = ("row", "of", "for", "published", "±", "ours", "off", "verdict")
APART_HEADS: Final = ("row", "what", "of", "published", "why nothing stands beside it")
ERROR_HEADS: Final = (
    "how", "source", "what", "rows", "mean", "RMS", "worst", "within ±", "in our range",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """A row as it is shown."""

    id: str
    of: str
    at: str
    published: str
    tolerance: str
    ours: str
    off: str
    verdict: str
    """`within`, `outside`, or nothing to judge it by."""

    @property
    def cells(self) -> tuple[str, ...]:
        """In the order of `ROW_HEADS`."""
        return (
            self.id, self.of, self.at, self.published, self.tolerance, self.ours,
            self.off, self.verdict,
        )  # fmt: skip


def summary(every: Sequence[Evidence]) -> str:
    """How much was compared, and how much of it lies within its tolerance."""
    rows, compared, within = counted(every)
    groups = [group for one in every for group in one.groups]
    own = [one for one in groups if one.standing is GroupKind.PUBLISHED]
    statistics = [one.statistics for one in own]
    judged = sum(one.judged for one in statistics)
    held = sum(one.within for one in statistics)
    return (
        f"{rows:,} rows; beside {compared} of them the program has a number of its "
        f"own, and {within} of those lie within the tolerance of their row. Of "
        f"{judged} rows that stand for themselves, neither read off nor worked out, "
        f"{held} do."
    )


def title(group: Group) -> str:
    """A group by its source."""
    return group.source


def lines(group: Group) -> list[Line]:
    """Every row of a group."""
    return [_line(one) for one in group.rows]


def _line(one: Compared) -> Line:
    row, ours = one.row, one.ours
    digits = row.digits
    said = "" if ours is None else _number(ours.value, digits + 1)
    if ours is not None and ours.low is not None and ours.high is not None:
        ends = (_number(end, digits + 1) for end in (ours.low, ours.high))
        said += f" ({' to '.join(ends)})"
    off = "" if one.off is None else _signed(one.off, digits + 1)
    verdict = {True: "within", False: "outside", None: ""}[one.is_within]
    if one.is_within is False and one.is_likely:
        verdict = "outside, in our range"
    tolerance = "" if row.tolerance is None else f"{row.tolerance:g}"
    return Line(
        f"{row.id} {row.grade}", row.material.replace("_", " "), _at(one),
        _published(row), tolerance, said, off, verdict,
    )  # fmt: skip


def _at(one: Compared) -> str:
    said = one.row.at
    if one.ours is not None and one.ours.assumed:
        said = f"{said}; taken: {one.ours.assumed}" if said else one.ours.assumed
    return said


def apart(every: Evidence) -> list[tuple[str, ...]]:
    """Rows beside which nothing stands, each with its reason."""
    return [
        (
            f"{one.row.id} {one.row.grade}", what_words(one.row.quantity),
            one.row.material.replace("_", " "),
            f"{_published(one.row)} {unit_words(one.row.unit)}".rstrip(), one.why_not,
        )
        for one in every.apart
    ]  # fmt: skip


def errors(group: Group) -> tuple[str, ...]:
    """A group's errors, in the order of `ERROR_HEADS`."""
    found = group.statistics
    digits = 1 + max(one.row.digits for one in group.rows)
    ranged = f"{found.likely} of {found.ranged}" if found.ranged else ""
    judged = f"{found.within} of {found.judged}" if found.judged else ""
    worst = f"{_signed(found.worst.off or 0.0, digits)} ({found.worst.row.id})"
    return (
        group.standing.value, title(group), what(group), f"{found.count}",
        _signed(found.mean, digits), _number(found.rms, digits),
        worst, judged, ranged,
    )  # fmt: skip


def errors_by_source(one: Evidence) -> list[tuple[str, ...]]:
    """Errors of every group of a topic, what each stands for first."""
    return [errors(group) for group in one.groups]


def what(group: Group) -> str:
    """What a group tells of, with its unit."""
    unit = unit_words(group.unit)
    return f"{what_words(group.quantity)}{f', {unit}' if unit else ''}"


def notes(group: Group) -> list[str]:
    """What is known of the numbers themselves, once each."""
    found = (one.row.note.replace("degC", "°C") for one in group.rows)
    return list(dict.fromkeys(note for note in found if note))


def known_words(group: Group) -> str:
    """How many rows it has, what they stand for, and how they are known."""
    found = " and ".join(dict.fromkeys(one.row.found for one in group.rows))
    return f"{so_many(len(group.rows), 'row')}, {group.standing.value}; {found}"


def _published(row: Row) -> str:
    if row.value_hi is None:
        return row.printed.replace("-", "−")
    return f"{row.value:g} to {row.value_hi:g}".replace("-", "−")


def _number(value: float, digits: int) -> str:
    said = f"{value:.{digits}f}"
    return said.removeprefix("-") if float(said) == 0 else said.replace("-", "−")


def _signed(value: float, digits: int) -> str:
    said = _number(value, digits)
    return said if float(said.replace("−", "-")) <= 0 else f"+{said}"


def evidence_page(every: Sequence[Evidence]) -> str:
    """The whole page of the documentation, as Markdown."""
    return "\n".join(_page(every)) + "\n"


def _page(every: Sequence[Evidence]) -> Iterator[str]:
    yield "# Evidence"
    yield ""
    yield "<!-- written by `make evidence`; nothing on this page is typed -->"
    yield ""
    yield HOW
    yield ""
    yield summary(every)
    yield ""
    for name, chart in charts(every):
        yield f"![{chart.title}](pictures/evidence-{name}.svg)"
        yield ""
    yield "## Errors by source"
    for one in every:
        if one.groups:
            yield from ("", f"**{one.title}**", "")
            yield from _table(ERROR_HEADS, errors_by_source(one))
    for one in every:
        yield from ("", f"## {one.title}")
        for group in one.groups:
            yield from _group(group)
        if one.apart:
            yield from ("", "### Without a number of ours", "")
            yield from _table(APART_HEADS, apart(one))


def _group(group: Group) -> Iterator[str]:
    yield ""
    yield f"### {title(group)}: {what(group)}"
    yield ""
    yield f"{known_words(group)}."
    for note in notes(group):
        yield f"Note: {note}."
    yield ""
    yield from _table(ROW_HEADS, [line.cells for line in lines(group)])


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    yield f"| {' | '.join(heads)} |"
    yield f"|{'---|' * len(heads)}"
    for row in rows:
        yield f"| {' | '.join(cell.replace('|', '/') for cell in row)} |"
