"""A scaled slab as JSON, with its schema."""

from typing import Final

from slabwright.publish.figure_json import Json, figure_json, finding_json
from slabwright.publish.json_form import cut_json, line_json, tin_json
from slabwright.publish.json_schema import (
    FIGURE,
    FIGURES,
    FINDINGS,
    MAYBE,
    STRING,
    WHOLE,
    Schema,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.scaling import findings_of
from slabwright.publish.spec_schema import CUT, LINE, TIN
from slabwright.spec.scaled_choices import Offer, Offers
from slabwright.spec.scaling import InTin, Scaled
from slabwright.spec.specification import LayerFigures


def scaling_json(scaled: Scaled, found: Offers) -> Json:
    """Multipliers, how it stands in each kind of tin, what to weigh in all."""
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
        "choices": [_offer(offer) for offer in found.offers],
        "findings": [
            finding_json(one) for one in (*found.findings, *findings_of(scaled))
        ],
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


def _offer(offer: Offer) -> Json:
    choice, spec = offer.choice, offer.spec
    cost, cut = spec.cost, spec.cut
    return {
        "letter": offer.letter,
        "name": choice.name,
        "off_the_formula": figure_json(choice.distortion),
        "parts": [
            {"where": one.where, "what": one.what, "share": figure_json(one.share)}
            for one in choice.parts
        ],
        "lines": [
            {
                "block": one.asked.block,
                "name": one.asked.line.line.name,
                "exact_g": one.asked.want.grams,
                "g": one.grams,
                "count": one.count,
                "change": one.change,
            }
            for one in choice.lines
        ],
        "layers": [
            {
                "name": one.name,
                "change": figure_json(one.change),
                "scale": figure_json(one.scale),
            }
            for one in choice.layers
        ],
        "depths_mm": {la.name: figure_json(la.depth_mm) for la in spec.layers},
        "height_mm": figure_json(spec.height_mm),
        "piece_mass_g": figure_json(cut.piece_mass_g) if cut else None,
        "ingredients": figure_json(cost.ingredients) if cost else None,
        "egg_change": figure_json(choice.egg_change) if choice.egg_change else None,
        "left_over": [
            {"what": one.what, "count": one.count, "mass_g": figure_json(one.grams)}
            for one in choice.left_over
        ],
        "packs": dict(choice.packs),
    }


_OFFER: Final = object_of(
    letter=STRING,
    name=STRING,
    off_the_formula=FIGURE,
    parts=array_of(object_of(where=STRING, what=STRING, share=FIGURE)),
    lines=array_of(
        object_of(
            block=STRING,
            name=STRING,
            exact_g={"type": "number"},
            g={"type": "number"},
            count=WHOLE,
            change={"type": "number"},
        )
    ),
    layers=array_of(object_of(name=STRING, change=FIGURE, scale=FIGURE)),
    depths_mm=FIGURES,
    height_mm=FIGURE,
    piece_mass_g=MAYBE,
    ingredients=MAYBE,
    egg_change=MAYBE,
    left_over=array_of(object_of(what=STRING, count={"type": "number"}, mass_g=FIGURE)),
    packs={"type": "object", "additionalProperties": {"type": "integer"}},
)
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
    choices=array_of(_OFFER),
    findings=FINDINGS,
)
"""What `scale --json` prints."""
