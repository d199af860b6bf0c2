"""A scaled slab as JSON, with its schema."""

from typing import Final

from slabwright.publish.json_form import (
    Json,
    cut_json,
    figure_json,
    finding_json,
    line_json,
    tin_json,
)
from slabwright.publish.json_schema import (
    FIGURE,
    FINDINGS,
    STRING,
    Schema,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.scaling import findings_of
from slabwright.publish.spec_schema import CUT, LINE, TIN
from slabwright.spec.scaling import InTin, Scaled
from slabwright.spec.specification import LayerFigures


def scaling_json(scaled: Scaled) -> Json:
    """Multipliers, how it stands in each kind of tin, and what to weigh in all."""
    making = scaled.making
    return {
        "slab": scaled.of.name,
        "multiplier": figure_json(scaled.multiplier),
        "multipliers": {
            layer.name: figure_json(figure)
            for layer, figure in zip(scaled.of.layers, scaled.multipliers, strict=True)
        },
        "tins": [_place(place) for place in scaled.tins],
        "weigh": [_block(one) for one in (*making.layers, *making.components)],
        "findings": [finding_json(finding) for finding in findings_of(scaled)],
    }


def _place(place: InTin) -> Json:
    spec = place.spec
    return {
        "words": place.named.words,
        "tin": tin_json(spec.tin, spec.area_cm2),
        "mass_g": figure_json(spec.mass_g),
        "height_mm": figure_json(spec.height_mm),
        "head_room_mm": figure_json(spec.head_room_mm),
        "layers": [
            {
                "name": layer.name,
                "multiplier": factor,
                "mass_in_g": figure_json(layer.mass_in_g),
                "mass_out_g": figure_json(layer.mass_out_g),
                "depth_mm": figure_json(layer.depth_mm),
            }
            for layer, factor in zip(spec.layers, place.factors, strict=True)
        ],
        "cut": cut_json(spec.cut) if spec.cut else None,
    }


def _block(layer: LayerFigures) -> Json:
    return {
        "name": layer.name,
        "mass_in_g": figure_json(layer.mass_in_g),
        "lines": [line_json(line) for line in layer.lines],
    }


SCALING: Final[Schema] = object_of(
    slab=STRING,
    multiplier=FIGURE,
    multipliers={"type": "object", "additionalProperties": FIGURE},
    tins=array_of(
        object_of(
            words=STRING,
            tin=or_null(TIN),
            mass_g=FIGURE,
            height_mm=FIGURE,
            head_room_mm=FIGURE,
            layers=array_of(
                object_of(
                    name=STRING,
                    multiplier={"type": "number"},
                    mass_in_g=FIGURE,
                    mass_out_g=FIGURE,
                    depth_mm=FIGURE,
                )
            ),
            cut=or_null(CUT),
        )
    ),
    weigh=array_of(object_of(name=STRING, mass_in_g=FIGURE, lines=array_of(LINE))),
    findings=FINDINGS,
)
"""What `scale --json` prints, before friendly choices are added."""
