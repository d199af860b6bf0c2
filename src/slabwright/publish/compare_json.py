"""A comparison as JSON, with its schema."""

from typing import Final

from slabwright.publish.figure_json import Json, figure_json, finding_json
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
from slabwright.spec.compare_said import Said


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
                "said_before": one.said_before or None,
                "said_after": one.said_after or None,
            }
            for one in made.lines
        ],
        "said": [_said(one) for one in made.said],
        "taken": [_said(one) for one in made.taken],
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
        "taste": list(made.taste),
        "found": [finding_json(one) for one in made.found],
        "settled": [finding_json(one) for one in made.settled],
        "unread": [
            {
                "what": one.what,
                "text": one.text or None,
                "before_line": one.before,
                "after_line": one.after,
            }
            for one in made.unread
        ],
    }


def _said(one: Said) -> Json:
    return {
        "where": one.where,
        "what": one.what,
        "before": one.before or None,
        "after": one.after or None,
    }


_SAID: Final = array_of(object_of(where=STRING, what=STRING, before=WORDS, after=WORDS))


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
            said_before=WORDS,
            said_after=WORDS,
        )
    ),
    said=_SAID,
    taken=_SAID,
    moved=array_of(
        object_of(
            where=STRING, name=STRING, before=MAYBE, after=MAYBE, by=NUMBER,
            share=NUMBER,
        )
    ),
    taste=array_of(STRING),
    found=FINDINGS,
    settled=FINDINGS,
    unread=array_of(
        object_of(what=STRING, text=WORDS, before_line=NUMBER, after_line=NUMBER)
    ),
)  # fmt: skip
"""What `compare --json` prints."""
