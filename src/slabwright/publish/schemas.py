"""Schemas of everything that the program prints as JSON."""

from typing import Final

from slabwright.publish.allergens_json import ALLERGENS_FOUND
from slabwright.publish.calc_json import CALC
from slabwright.publish.compare_json import COMPARISON
from slabwright.publish.cutting_json import CUTTING
from slabwright.publish.declaration_json import DECLARATION
from slabwright.publish.json_schema import (
    DEFS,
    FIGURES,
    FINDINGS,
    MISTAKES,
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    Schema,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.label_json import LABELS, NET_WEIGHT
from slabwright.publish.layers_json import LAYERS
from slabwright.publish.money_json import COSTING
from slabwright.publish.nature_json import CLASSES
from slabwright.publish.nutrition_json import NUTRITION
from slabwright.publish.pricing_json import PRICING
from slabwright.publish.print.record import PRINTED, STALE
from slabwright.publish.scaling_json import SCALING
from slabwright.publish.sheet.bench_json import BENCH
from slabwright.publish.shopping_json import SHOPPING
from slabwright.publish.spec_schema import SPECIFICATION

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
    "scaling": "A slab scaled to other tins, pieces or depths: scale --json.",
    "cutting": "A cut in full: cut --json.",
    "layers": "What each layer of a slab will be: layers --json.",
    "calc": "The answer of a calculator, or the list of them: calc --json.",
    "bench": "The bench sheet, job by job: sheet --json.",
    "costing": "Slabs costed, and what prices do to them: cost --json.",
    "pricing": "What slabs cost with hands, energy and tax, and earn: price --json.",
    "shopping": "What to buy, in whole packs: buy --json.",
    "comparison": "Two slabs, or two versions of one: compare --json.",
    "allergens": "Allergens of slabs, the way of each, what to ask: allergens --json.",
    "declaration": "The list of ingredients, and why each stands so: "
    "declaration --json.",
    "label": "Labels of a slab, by how it is sold, and what is missing: label --json.",
    "printed": "What went on paper, and its record: label --print --json.",
    "stale": "What changed since a label was printed: label --stale --json.",
    "nutrition": "What 100 g and a piece of a slab hold: nutrition --json.",
    "net-weight": "Weighed pieces and the net weight they keep: net-weight --json.",
    "check": "Mistakes and findings of cards: check --json.",
    "why": "Figures by name, classes, or a finding, opened: why --json.",
    "found": "What a name was taken for: larder find --json.",
    "ingredient": "What the larder knows of an ingredient: larder show --json.",
}


def output_schemas() -> dict[str, Schema]:
    """JSON Schemas of what commands print, by name."""
    tops = {
        "specification": SPECIFICATION,
        "scaling": SCALING,
        "comparison": COMPARISON,
        "cutting": CUTTING,
        "layers": LAYERS,
        "calc": CALC,
        "bench": BENCH,
        "costing": COSTING,
        "pricing": PRICING,
        "shopping": SHOPPING,
        "allergens": ALLERGENS_FOUND,
        "declaration": DECLARATION,
        "label": LABELS,
        "printed": PRINTED,
        "stale": STALE,
        "net-weight": NET_WEIGHT,
        "nutrition": NUTRITION,
        "check": _CHECK,
        "why": {"anyOf": [FIGURES, CLASSES, {"$ref": "#/$defs/finding"}]},
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
