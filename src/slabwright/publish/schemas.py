"""Schemas of everything that the program prints as JSON."""

from typing import Final

from slabwright.publish.json_schema import (
    DEFS,
    FIGURE,
    FIGURES,
    FINDINGS,
    MAYBE,
    MISTAKES,
    NUMBER,
    NUMBERS,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    Schema,
    array_of,
    object_of,
    or_null,
)

_LINE: Final = object_of(
    text=STRING,
    name=STRING,
    larder_id=WORDS,
    component=WORDS,
    mass_g=FIGURE,
    share_of_total=FIGURE,
    bakers_share=MAYBE,
    scale_reads_g=NUMBER,
    vessel=WORDS,
    small_scale={"type": "boolean"},
    assumed=WORDS,
    cost=MAYBE,
    line={"type": "integer"},
)
_LAYER: Final = object_of(
    name=STRING,
    kind=STRING,
    kind_told=STRING,
    texture=STRING,
    **{"from": WORDS},
    mass_in_g=FIGURE,
    batch_out_g=FIGURE,
    mass_out_g=FIGURE,
    lost_g=FIGURE,
    left_over_g=MAYBE,
    depth_mm=FIGURE,
    density_g_ml=FIGURE,
    share_of_mass=FIGURE,
    share_of_height=FIGURE,
    water_share=FIGURE,
    fat_share=FIGURE,
    sugars_share=FIGURE,
    dry_matter_share=FIGURE,
    composition=FIGURES,
    composition_before=FIGURES,
    percent_base=WORDS,
    lines=array_of(_LINE),
    steps=STRINGS,
)
_TIN: Final = object_of(
    words=STRING,
    shape={"enum": ["rectangular", "round"]},
    length_mm={"type": "number"},
    width_mm={"type": "number"},
    depth_mm=NUMBER,
    rim_length_mm={"type": "number"},
    rim_width_mm={"type": "number"},
    corner_radius_mm=NUMBER,
    count={"type": "integer"},
    cells={"type": "array", "items": {"type": "integer"}},
    divider_mm={"type": "number"},
    area_cm2=FIGURE,
)
_CUT: Final = object_of(
    words=STRING,
    tin=WORDS,
    shape={"enum": ["grid", "wedges"]},
    pieces=FIGURE,
    along=MAYBE,
    across=MAYBE,
    piece_length_mm=MAYBE,
    piece_width_mm=MAYBE,
    piece_angle_deg=MAYBE,
    piece_mass_g=FIGURE,
    trim_g=FIGURE,
    cuts_along_mm=NUMBERS,
    cuts_across_mm=NUMBERS,
    note=STRING,
)
_COST: Final = object_of(
    currency=STRING,
    ingredients=FIGURE,
    ingredients_per_piece=MAYBE,
    by_layer=array_of(FIGURE),
    missing=STRINGS,
)
_ASK: Final = object_of(
    where=STRING,
    question=STRING,
    readings=array_of(object_of(text=STRING, does=STRING)),
    line=WHOLE,
    column=WHOLE,
)
_SPECIFICATION: Final = object_of(
    slab=STRING,
    is_component={"type": "boolean"},
    tin=or_null(_TIN),
    mass_g=FIGURE,
    height_mm=FIGURE,
    head_room_mm=FIGURE,
    water_share=FIGURE,
    layers=array_of(_LAYER),
    components=array_of(_LAYER),
    cut=or_null(_CUT),
    other_cuts=array_of(_CUT),
    cost=or_null(_COST),
    keep=array_of(object_of(place=STRING, days=NUMBER, text=STRING)),
    sold=or_null(object_of(how=STRING, price=NUMBER)),
    proved=WORDS,
    notes=STRINGS,
    finish=STRINGS,
    kitchen=object_of(country=STRING, currency=STRING, eggs=STRING, spoons=STRING),
    findings=FINDINGS,
    asks=array_of(_ASK),
    errors=MISTAKES,
)
_CHECK: Final = object_of(
    cards=array_of(object_of(card=STRING, errors=MISTAKES, findings=FINDINGS))
)
_FOUND: Final = object_of(
    asked=STRING,
    id=WORDS,
    name=WORDS,
    how=WORDS,
    taken=WORDS,
    also=STRINGS,
    nearest=STRINGS,
)
_VALUE: Final = object_of(
    g={"type": "number"},
    source=STRING,
    record=STRING,
    how_known=STRING,
    note=STRING,
)
_INGREDIENT: Final = object_of(
    id=STRING,
    name=STRING,
    group=STRING,
    own={"type": "boolean"},
    like=WORDS,
    per_100g={"type": "object", "additionalProperties": _VALUE},
    rest_is=WORDS,
    energy=or_null(object_of(kcal=NUMBER, kJ=NUMBER, how=STRING)),
    measures=array_of(
        object_of(
            measure=STRING, g=NUMBER, low_g=NUMBER, high_g=NUMBER, what=STRING,
            source=STRING, record=STRING,
        )
    ),
    allergens=array_of(object_of(allergen=STRING, how=STRING, note=STRING)),
    made_of=array_of(object_of(part=STRING, share=NUMBER)),
    packs=array_of(object_of(pack=STRING, g=NUMBER, country=STRING)),
    names=array_of(object_of(name=STRING, country=STRING, sense=STRING)),
    edible_share=NUMBER,
    note=STRING,
)  # fmt: skip


def reading_schema(card: Schema) -> Schema:
    """The schema of `read --json`, around that of a card's JSON form."""
    defs = {
        **card.get("$defs", {}),
        "card": {k: v for k, v in card.items() if k != "$defs"},
    }
    line = object_of(line={"type": "integer"}, text=STRING, reads_as=STRING, word=WORDS)
    mistake = object_of(
        line=WHOLE, column=WHOLE, what=STRING, do=STRING, nearest=STRINGS
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "reading",
        "description": "A card and how each of its lines was taken: read --json.",
        **object_of(
            card={"$ref": "#/$defs/card"},
            lines=array_of(line),
            errors=array_of(mistake),
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
        "why": {"anyOf": [FIGURES, {"$ref": "#/$defs/finding"}]},
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
            "$defs": DEFS,
        }
        for name, schema in tops.items()
    }
