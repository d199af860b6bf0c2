"""What each layer will be, as JSON, with its schema."""

from math import isfinite
from typing import Any, Final

from slabwright.publish.figure_json import finding_json, mistake_json
from slabwright.publish.json_schema import (
    FIGURES,
    FINDINGS,
    MAYBE,
    MISTAKES,
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.nature_json import (
    CLASSES,
    LABELS,
    TOUCHING,
    aspect_json,
    touching_json,
    water_activity_json,
)
from slabwright.spec.nature.aspect import Aspect, Chart
from slabwright.spec.nature.sheet import LayerSheet, Natured, natured
from slabwright.spec.specification import Specification

Json = dict[str, Any]


def layers_json(sheet: LayerSheet) -> Json:
    """Everything that is known of the layers, with charts as numbers."""
    spec = sheet.spec
    return {
        **_slab(spec, sheet.natured, sheet),
        "touching": [touching_json(pair) for pair in sheet.touching],
        "beside": _slab(sheet.beside, natured(sheet.beside)) if sheet.beside else None,
        "tastes_beside": list(sheet.tastes),
        "findings": [finding_json(finding) for _, finding in sheet.findings],
        "errors": [mistake_json(one) for one in spec.errors],
    }


def _slab(
    spec: Specification, shown: tuple[Natured, ...], sheet: LayerSheet | None = None
) -> Json:
    every = [_layer(one, sheet) for one in shown]
    return {
        "slab": spec.name,
        "layers": [one for one in every if one["number"] is not None],
        "components": [one for one in every if one["number"] is None],
    }


def _layer(one: Natured, sheet: LayerSheet | None) -> Json:
    twin = sheet.twin(one) if sheet else None
    return {
        "name": one.name,
        "kind": one.layer.kind,
        "number": one.nature.number,
        "beside": twin.name if twin else None,
        "water_activity": water_activity_json(one.nature),
        "nature": {a.name: _aspect(a) for a in one.nature.aspects},
    }


def _aspect(aspect: Aspect) -> Json:
    return {**aspect_json(aspect), "charts": [_chart(one) for one in aspect.charts]}


def _chart(chart: Chart) -> Json:
    return {
        "name": chart.name,
        "title": chart.title,
        "x_label": chart.x_label,
        "y_label": chart.y_label,
        "curves": [
            {
                "label": curve.label,
                "x": _numbers(curve.x),
                "y": _numbers(curve.y),
                "low": _numbers(curve.low),
                "high": _numbers(curve.high),
            }
            for curve in chart.curves
        ],
        "marks": [
            {"label": mark.label, "x": _number(mark.x), "y": _number(mark.y)}
            for mark in chart.marks
        ],
        "words": chart.words,
    }


def _numbers(values: tuple[float, ...]) -> list[float | None]:
    return [_number(one) for one in values]


def _number(value: float) -> float | None:
    """To six figures; what is no finite number is null."""
    return float(f"{value:.6g}") if isfinite(value) else None


_POINTS: Final = array_of(NUMBER)
_CHART: Final = object_of(
    name=STRING,
    title=STRING,
    x_label=STRING,
    y_label=STRING,
    curves=array_of(
        object_of(label=STRING, x=_POINTS, y=_POINTS, low=_POINTS, high=_POINTS)
    ),
    marks=array_of(object_of(label=STRING, x=NUMBER, y=NUMBER)),
    words=STRING,
)
_ASPECT: Final = object_of(
    title=STRING, figures=FIGURES, labels=LABELS, classes=CLASSES, notes=STRINGS,
    charts=array_of(_CHART),
)  # fmt: skip
_LAYER: Final = object_of(
    name=STRING,
    kind=STRING,
    number=WHOLE,
    beside=WORDS,
    water_activity=MAYBE,
    nature={"type": "object", "additionalProperties": _ASPECT},
)
_SLAB: Final = {
    "slab": STRING,
    "layers": array_of(_LAYER),
    "components": array_of(_LAYER),
}
LAYERS: Final = object_of(
    **_SLAB,
    touching=array_of(TOUCHING),
    beside=or_null(object_of(**_SLAB)),
    tastes_beside=STRINGS,
    findings=FINDINGS,
    errors=MISTAKES,
)
