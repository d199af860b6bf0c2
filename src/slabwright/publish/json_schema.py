"""The words in which schemas of printed JSON are written."""

from typing import Any, Final

Schema = dict[str, Any]

STRING: Final[Schema] = {"type": "string"}
WORDS: Final[Schema] = {"type": ["string", "null"]}
NUMBER: Final[Schema] = {"type": ["number", "null"]}
WHOLE: Final[Schema] = {"type": ["integer", "null"]}
FIGURE: Final[Schema] = {"$ref": "#/$defs/figure"}
MAYBE: Final[Schema] = {"anyOf": [FIGURE, {"type": "null"}]}
STRINGS: Final[Schema] = {"type": "array", "items": STRING}
NUMBERS: Final[Schema] = {"type": "array", "items": {"type": "number"}}
FIGURES: Final[Schema] = {"type": "object", "additionalProperties": FIGURE}


def object_of(**fields: Schema) -> Schema:
    """An object with just these fields, all of them always there."""
    return {
        "type": "object",
        "properties": fields,
        "required": list(fields),
        "additionalProperties": False,
    }


def array_of(items: Schema) -> Schema:
    """A list of these."""
    return {"type": "array", "items": items}


def or_null(schema: Schema) -> Schema:
    """One of these, or null."""
    return {"anyOf": [schema, {"type": "null"}]}


STANDING: Final[Schema] = {"enum": ["assumed", "worked out", "measured"]}
SOURCES: Final = array_of(object_of(key=STRING, text=STRING, how_known=STRING))
DEFS: Final[Schema] = {
    "figure": object_of(
        value=NUMBER,
        unit=STRING,
        low=NUMBER,
        high=NUMBER,
        standing=STANDING,
        sum=STRING,
        sources=SOURCES,
        holds=STRING,
    ),
    "finding": object_of(
        code=STRING,
        severity={"enum": ["stop", "look", "note"]},
        where=STRING,
        what=STRING,
        why=STRING,
        source=STRING,
        do=STRING,
        layer=WHOLE,
        line=WHOLE,
        column=WHOLE,
    ),
    "mistake": object_of(
        file=STRING,
        line=WHOLE,
        column=WHOLE,
        field=STRING,
        what=STRING,
        do=STRING,
        nearest=STRINGS,
    ),
}
FINDINGS: Final = array_of({"$ref": "#/$defs/finding"})
MISTAKES: Final = array_of({"$ref": "#/$defs/mistake"})
