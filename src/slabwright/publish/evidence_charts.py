"""Evidence drawn: how far ours lies from each source, one line a source."""

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from slabwright.publish.evidence_words import short_source, unit_words, what_words
from slabwright.spec.evidence.compared import Compared, Evidence, Group, GroupKind
from slabwright.spec.nature.aspect import Chart, Curve

_LEAST_ROWS: Final = 4
_MOST_SOURCES: Final = 6
_OVER: Final[Sequence[tuple[str, Callable[[Compared], float | None]]]] = (
    ("dissolved or named, %", lambda one: one.row.percent),
    ("temperature, °C", lambda one: one.row.temperature_C),
    ("water activity", lambda one: one.row.activity),
)
"""What a line may run over: the first that every row of a source tells apart."""


def charts(every: Sequence[Evidence]) -> list[tuple[str, Chart]]:
    """Each drawing under the name that its file may have."""
    return [found for one in every for found in _of_topic(one)]


def _of_topic(one: Evidence) -> Iterator[tuple[str, Chart]]:
    keys = dict.fromkeys((group.quantity, group.unit) for group in one.groups)
    for quantity, unit in keys:
        same = [g for g in one.groups if (g.quantity, g.unit) == (quantity, unit)]
        for label, over in _OVER:
            curves = [curve for g in same if (curve := _curve(g, over)) is not None]
            if curves:
                name = f"{one.topic}-{quantity}-{unit}".casefold()
                plain = "".join(c if c.isalnum() else "-" for c in name)
                yield (
                    "-".join(part for part in plain.split("-") if part),
                    _chart(quantity, unit, label, curves[:_MOST_SOURCES]),
                )
                break


def _chart(quantity: str, unit: str, over: str, curves: Sequence[Curve]) -> Chart:
    what = what_words(quantity)
    in_unit = f", {unit_words(unit)}" if unit_words(unit) else ""
    xs = [x for curve in curves for x in curve.x]
    ends = (min(xs), max(xs))
    nought = Curve("as published", ends, (0.0, 0.0))
    return Chart(
        f"{quantity} {unit}", f"How far our {what} lies from each source", over,
        f"ours less the published{in_unit}", (nought, *curves),
    )  # fmt: skip


def _curve(group: Group, over: Callable[[Compared], float | None]) -> Curve | None:
    """A source as a line; None if it has too few rows, or several at one place."""
    if group.standing is GroupKind.OURS or len(group.rows) < _LEAST_ROWS:
        return None
    points = [(over(one), one.off) for one in group.rows]
    known = sorted((x, y) for x, y in points if x is not None and y is not None)
    xs = tuple(x for x, _ in known)
    if len(known) < len(points) or len(set(xs)) < len(xs):
        return None
    computed = " (computed)" if group.standing is GroupKind.CHECK else ""
    label = f"{short_source(group.source)}{computed}"
    return Curve(label, xs, tuple(y for _, y in known))
