"""Schemas of everything that the program prints as JSON."""

from typing import Any, Final

Schema = dict[str, Any]

_STRING: Final[Schema] = {"type": "string"}
_WORDS: Final[Schema] = {"type": ["string", "null"]}
_NUMBER: Final[Schema] = {"type": ["number", "null"]}
_WHOLE: Final[Schema] = {"type": ["integer", "null"]}
_FIGURE: Final[Schema] = {"$ref": "#/$defs/figure"}
_MAYBE: Final[Schema] = {"anyOf": [_FIGURE, {"type": "null"}]}
_STRINGS: Final[Schema] = {"type": "array", "items": _STRING}
_NUMBERS: Final[Schema] = {"type": "array", "items": {"type": "number"}}
_FIGURES: Final[Schema] = {"type": "object", "additionalProperties": _FIGURE}


def _object(**fields: Schema) -> Schema:
    """An object with just these fields, all of them always there."""
    return {
        "type": "object",
        "properties": fields,
        "required": list(fields),
        "additionalProperties": False,
    }


def _array(items: Schema) -> Schema:
    return {"type": "array", "items": items}


def _or_null(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


_DEFS: Final[Schema] = {
    "figure": _object(
        value=_NUMBER,
        unit=_STRING,
        low=_NUMBER,
        high=_NUMBER,
        standing={"enum": ["assumed", "worked out", "measured"]},
        sum=_STRING,
        sources=_array(_object(key=_STRING, text=_STRING, how_known=_STRING)),
    ),
    "finding": _object(
        code=_STRING,
        severity={"enum": ["stop", "look", "note"]},
        where=_STRING,
        what=_STRING,
        why=_STRING,
        source=_STRING,
        do=_STRING,
        layer=_WHOLE,
        line=_WHOLE,
        column=_WHOLE,
    ),
    "mistake": _object(
        file=_STRING,
        line=_WHOLE,
        column=_WHOLE,
        field=_STRING,
        what=_STRING,
        do=_STRING,
        nearest=_STRINGS,
    ),
}
_FINDINGS: Final = _array({"$ref": "#/$defs/finding"})
_MISTAKES: Final = _array({"$ref": "#/$defs/mistake"})

_LINE: Final = _object(
    text=_STRING,
    name=_STRING,
    larder_id=_WORDS,
    component=_WORDS,
    mass_g=_FIGURE,
    share_of_total=_FIGURE,
    bakers_share=_MAYBE,
    scale_reads_g=_NUMBER,
    vessel=_WORDS,
    small_scale={"type": "boolean"},
    assumed=_WORDS,
    cost=_MAYBE,
    line={"type": "integer"},
)
_LAYER: Final = _object(
    name=_STRING,
    kind=_STRING,
    kind_told=_STRING,
    texture=_STRING,
    **{"from": _WORDS},
    mass_in_g=_FIGURE,
    batch_out_g=_FIGURE,
    mass_out_g=_FIGURE,
    lost_g=_FIGURE,
    left_over_g=_MAYBE,
    depth_mm=_FIGURE,
    density_g_ml=_FIGURE,
    share_of_mass=_FIGURE,
    share_of_height=_FIGURE,
    water_share=_FIGURE,
    fat_share=_FIGURE,
    sugars_share=_FIGURE,
    dry_matter_share=_FIGURE,
    composition=_FIGURES,
    composition_before=_FIGURES,
    percent_base=_WORDS,
    lines=_array(_LINE),
    steps=_STRINGS,
)
_TIN: Final = _object(
    words=_STRING,
    shape={"enum": ["rectangular", "round"]},
    length_mm={"type": "number"},
    width_mm={"type": "number"},
    depth_mm=_NUMBER,
    rim_length_mm={"type": "number"},
    rim_width_mm={"type": "number"},
    corner_radius_mm=_NUMBER,
    area_cm2=_FIGURE,
)
_CUT: Final = _object(
    words=_STRING,
    tin=_WORDS,
    shape={"enum": ["grid", "wedges"]},
    pieces=_FIGURE,
    along=_MAYBE,
    across=_MAYBE,
    piece_length_mm=_MAYBE,
    piece_width_mm=_MAYBE,
    piece_angle_deg=_MAYBE,
    piece_mass_g=_FIGURE,
    trim_g=_FIGURE,
    cuts_along_mm=_NUMBERS,
    cuts_across_mm=_NUMBERS,
    note=_STRING,
)
_COST: Final = _object(
    currency=_STRING,
    ingredients=_FIGURE,
    ingredients_per_piece=_MAYBE,
    by_layer=_array(_FIGURE),
    missing=_STRINGS,
)
_ASK: Final = _object(
    where=_STRING,
    question=_STRING,
    readings=_array(_object(text=_STRING, does=_STRING)),
    line=_WHOLE,
    column=_WHOLE,
)
_SPECIFICATION: Final = _object(
    slab=_STRING,
    is_component={"type": "boolean"},
    tin=_or_null(_TIN),
    mass_g=_FIGURE,
    height_mm=_FIGURE,
    head_room_mm=_FIGURE,
    water_share=_FIGURE,
    layers=_array(_LAYER),
    components=_array(_LAYER),
    cut=_or_null(_CUT),
    other_cuts=_array(_CUT),
    cost=_or_null(_COST),
    keep=_array(_object(place=_STRING, days=_NUMBER, text=_STRING)),
    sold=_or_null(_object(how=_STRING, price=_NUMBER)),
    proved=_WORDS,
    notes=_STRINGS,
    finish=_STRINGS,
    kitchen=_object(country=_STRING, currency=_STRING, eggs=_STRING, spoons=_STRING),
    findings=_FINDINGS,
    asks=_array(_ASK),
    errors=_MISTAKES,
)
_CHECK: Final = _object(
    cards=_array(_object(card=_STRING, errors=_MISTAKES, findings=_FINDINGS))
)
_FOUND: Final = _object(
    asked=_STRING,
    id=_WORDS,
    name=_WORDS,
    how=_WORDS,
    taken=_WORDS,
    also=_STRINGS,
    nearest=_STRINGS,
)
_VALUE: Final = _object(
    g={"type": "number"},
    source=_STRING,
    record=_STRING,
    how_known=_STRING,
    note=_STRING,
)
_INGREDIENT: Final = _object(
    id=_STRING,
    name=_STRING,
    group=_STRING,
    own={"type": "boolean"},
    like=_WORDS,
    per_100g={"type": "object", "additionalProperties": _VALUE},
    rest_is=_WORDS,
    energy=_or_null(_object(kcal=_NUMBER, kJ=_NUMBER, how=_STRING)),
    measures=_array(
        _object(
            measure=_STRING, g=_NUMBER, low_g=_NUMBER, high_g=_NUMBER, what=_STRING,
            source=_STRING, record=_STRING,
        )
    ),
    allergens=_array(_object(allergen=_STRING, how=_STRING, note=_STRING)),
    made_of=_array(_object(part=_STRING, share=_NUMBER)),
    packs=_array(_object(pack=_STRING, g=_NUMBER, country=_STRING)),
    names=_array(_object(name=_STRING, country=_STRING, sense=_STRING)),
    edible_share=_NUMBER,
    note=_STRING,
)  # fmt: skip


def reading_schema(card: Schema) -> Schema:
    """The schema of `read --json`, around that of a card's JSON form."""
    defs = {
        **card.get("$defs", {}),
        "card": {k: v for k, v in card.items() if k != "$defs"},
    }
    line = _object(
        line={"type": "integer"}, text=_STRING, reads_as=_STRING, word=_WORDS
    )
    mistake = _object(
        line=_WHOLE, column=_WHOLE, what=_STRING, do=_STRING, nearest=_STRINGS
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "reading",
        "description": "A card and how each of its lines was taken: read --json.",
        **_object(
            card={"$ref": "#/$defs/card"}, lines=_array(line), errors=_array(mistake)
        ),
        "$defs": defs,
    }


_ABOUT: Final = {
    "specification": "A slab worked out: spec --json.",
    "check": "Mistakes and findings of cards: check --json.",
    "why": "Figures by name, or a finding, opened: why --json.",
    "found": "What a name was taken for: larder find --json.",
    "ingredient": "What the larder knows of an ingredient: larder show --json.",
}


def output_schemas() -> dict[str, Schema]:
    """JSON Schemas by name: specification, check, why, found, ingredient."""
    tops = {
        "specification": _SPECIFICATION,
        "check": _CHECK,
        "why": {"anyOf": [_FIGURES, {"$ref": "#/$defs/finding"}]},
        "found": _FOUND,
        "ingredient": _INGREDIENT,
    }
    draft = "https://json-schema.org/draft/2020-12/schema"
    return {
        name: {
            "$schema": draft,
            "title": name,
            "description": _ABOUT[name],
            **schema,
            "$defs": _DEFS,
        }
        for name, schema in tops.items()
    }
