"""Figures, findings and mistakes as JSON: the same wherever they stand."""

from decimal import Decimal
from math import isfinite
from typing import Any

from slabwright.errors import Mistake, Span
from slabwright.figure import Figure
from slabwright.finding import Finding
from slabwright.source import Source

Json = dict[str, Any]
"""An object of plain JSON values."""


def figure_json(figure: Figure) -> Json:
    """A figure: value, unit, range, standing, sum, sources, range."""
    value = figure.value
    return {
        "value": _clean(value),
        "unit": figure.unit,
        "low": _clean(figure.low),
        "high": _clean(figure.high),
        "standing": figure.standing.value,
        "sum": figure.sum,
        "sources": [source_json(source) for source in figure.sources],
        "holds": figure.holds,
    }


def source_json(source: Source) -> Json:
    """Where something comes from, and how we know it."""
    return {"key": source.key, "text": source.text, "how_known": source.seen.value}


def _clean(value: float | Decimal | None) -> float | None:
    """A number without the last digits that sums of floats leave behind.

    JSON has no word for what is no finite number: it is null.
    """
    if value is None or isinstance(value, int):
        return value
    return float(f"{float(value):.12g}") if isfinite(value) else None


def finding_json(finding: Finding) -> Json:
    """A finding with its place on the card."""
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "where": finding.where,
        "what": finding.what,
        "why": finding.why,
        "source": finding.source,
        "do": finding.do,
        "layer": finding.layer,
        **place_json(finding.span),
    }


def mistake_json(mistake: Mistake) -> Json:
    """A mistake with its place."""
    return {
        "file": mistake.where.file,
        **place_json(mistake.where.span),
        "field": mistake.where.field,
        "what": mistake.what,
        "do": mistake.do,
        "nearest": list(mistake.nearest),
    }


def place_json(span: Span | None) -> Json:
    """Line and column; null where there is none."""
    return {
        "line": span.line if span else None,
        "column": span.column if span else None,
    }
