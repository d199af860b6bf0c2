"""Rows of the desk's lists: what moved, what is wrong or asked, findings, strokes."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from slabwright.cut.stroke import Stroke
from slabwright.errors import Span
from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.spec.compare import Moved
from slabwright.spec.told import Told
from slabwright.web.rows import Choice
from slabwright.web.shown import value_text


@dataclass(frozen=True, slots=True)
class MovedRow:
    """A figure before and after, as it is shown."""

    name: str
    before: str
    after: str
    unit: str
    was: Figure | None = None
    now: Figure | None = None


@dataclass(frozen=True, slots=True)
class Wrong:
    """A mistake with its place and what may be put there."""

    what: str
    do: str
    line: int
    place: str
    choices: tuple[Choice, ...] = ()


NO_HEAD: Final = Wrong(
    "The card's first line does not begin with slab and a name, so all of it is read "
    "as a pasted recipe.",
    "Begin it with: slab NAME.",
    1,
    "",
)


@dataclass(frozen=True, slots=True)
class Asked:
    """A doubt with its readings."""

    where: str
    question: str
    line: int
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class Watched:
    """A finding as the list shows it."""

    key: str
    severity: str
    where: str
    what: str
    why: str
    do: str
    source: str
    line: int


def watched(every: Iterable[Told]) -> tuple[Watched, ...]:
    """Findings as the list shows them, each with a key of its own."""
    seen: dict[str, int] = {}
    found = []
    for each in every:
        one = each.finding
        key = f"{one.code}-{one.layer if one.layer is not None else 'slab'}"
        seen[key] = seen.get(key, 0) + 1
        found.append(
            Watched(
                f"{key}-{seen[key]}", one.severity.value, each.where, one.what,
                one.why, one.do, one.source, line_of(one.span),
            )
        )  # fmt: skip
    return tuple(found)


@dataclass(frozen=True, slots=True)
class StrokeRow:
    """Strokes of the knife that are laid alike."""

    numbers: str
    what: str
    at: str
    edge: str


BECAME: Final = {"added": "new", "gone": "left out", "moved": "moved"}


def line_of(span: Span | None) -> int:
    """The line of a place; 0 for none."""
    return span.line if span else 0


def moved_row(one: Moved) -> MovedRow:
    """A figure that moved, as the list shows it."""

    def shown(figure: Figure | None) -> tuple[str, str]:
        return ("none", "") if figure is None else value_text(figure)

    (before, unit), (after, unit_now) = shown(one.before), shown(one.after)
    name = one.name
    for ending in ("_mm", "_g_ml", "_g"):
        name = name.removesuffix(ending)
    where = "" if name == "head_room" else f"{one.where}: "
    return MovedRow(f"{where}{name.replace('_', ' ')}", before, after, unit_now or unit)


def stroke_rows(strokes: Sequence[Stroke]) -> Iterator[StrokeRow]:
    """The order of the knife, strokes of one kind and edge together."""
    for (what, edge), group in groupby(strokes, key=lambda one: (one.what, one.edge)):
        each = list(group)
        numbers = str(each[0].number)
        if len(each) > 1:
            numbers += f" to {each[-1].number}"
        if edge and edge != "rim":
            at = ", ".join(words.length(one.at_mm or 0.0) for one in each)
        else:
            at = ", ".join(
                " to ".join(words.length(meet.at_mm) for meet in one.meets)
                for one in each
            )
        said = {"trim": "trim", "strip": "strip off", "cut": "cut"}[what]
        names = {"rim": "round the rim", "": "slanting"}
        yield StrokeRow(numbers, said, at, names.get(edge, f"{edge} edge"))
