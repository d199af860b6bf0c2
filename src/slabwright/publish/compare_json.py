"""A comparison as JSON, with its schema."""

from typing import Final

from slabwright.publish.json_form import Json, figure_json, finding_json
from slabwright.publish.json_schema import (
    FINDINGS,
    MAYBE,
    NUMBER,
    STRING,
    WORDS,
    Schema,
    array_of,
    object_of,
)
from slabwright.spec.compare import Comparison


def comparison_json(made: Comparison) -> Json:
    """Everything that differs between two slabs."""
    return {
        "before": made.before.name,
        "after": made.after.name,
        "same": made.same,
        "layers": [
            {
                "name": pair.name,
                "kind": pair.kind,
                "before": pair.before.name if pair.before else None,
                "after": pair.after.name if pair.after else None,
            }
            for pair in made.pairs
        ],
        "lines": [
            {
                "what": one.what,
                "layer": one.where,
                "name": one.name,
                "was_in": one.was_in or None,
                "before_g": one.before_g,
                "after_g": one.after_g,
                "by_g": one.by_g,
            }
            for one in made.lines
        ],
        "said": [
            {
                "where": one.where,
                "what": one.what,
                "before": one.before or None,
                "after": one.after or None,
            }
            for one in made.said
        ],
        "moved": [
            {
                "where": one.where,
                "name": one.name,
                "before": figure_json(one.before) if one.before else None,
                "after": figure_json(one.after) if one.after else None,
                "by": one.by,
                "share": one.share,
            }
            for one in made.moved
        ],
        "found": [finding_json(one) for one in made.found],
        "settled": [finding_json(one) for one in made.settled],
    }


COMPARISON: Final[Schema] = object_of(
    before=STRING,
    after=STRING,
    same={"type": "boolean"},
    layers=array_of(
        object_of(
            name=STRING,
            kind={"enum": ["added", "gone", "changed"]},
            before=WORDS,
            after=WORDS,
        )
    ),
    lines=array_of(
        object_of(
            what={"enum": ["added", "gone", "changed", "moved"]},
            layer=STRING,
            name=STRING,
            was_in=WORDS,
            before_g=NUMBER,
            after_g=NUMBER,
            by_g=NUMBER,
        )
    ),
    said=array_of(object_of(where=STRING, what=STRING, before=WORDS, after=WORDS)),
    moved=array_of(
        object_of(
            where=STRING, name=STRING, before=MAYBE, after=MAYBE, by=NUMBER,
            share=NUMBER,
        )
    ),
    found=FINDINGS,
    settled=FINDINGS,
)  # fmt: skip
"""What `compare --json` prints."""
