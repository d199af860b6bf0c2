"""The list of ingredients as JSON, and its schema."""

from typing import Final

from slabwright.label.ingredients.declaration import Entry
from slabwright.label.ingredients.name import Named
from slabwright.label.ingredients.quid import Share
from slabwright.label.ingredients.rules import Rule
from slabwright.publish.allergens_json import QUESTION, question_json
from slabwright.publish.declaration import FOOT, summary
from slabwright.publish.figure_json import Json, figure_json, finding_json
from slabwright.publish.json_schema import (
    FIGURE,
    FINDINGS,
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    Schema,
    array_of,
    object_of,
)
from slabwright.spec.declaration import IngredientList


def declaration_json(found: IngredientList) -> Json:
    """Everything that `declaration` worked out."""
    one, order = found.declaration, found.order
    return {
        "slab": one.slab,
        "nation": order.where.name,
        "day": order.where.on.isoformat(),
        "by_layer": one.by_layer,
        "summary": summary(found),
        "held": one.is_held,
        "held_because": one.held,
        "text": one.plain,
        "marked": one.marked,
        "runs": [
            {"text": run.text, "emphasised": run.is_emphasised} for run in one.runs
        ],
        "ingredients": [_entry(each) for each in one.entries],
        "left_out": [
            {
                "name": out.name,
                "why": out.why,
                "rule": _rule(out.rule),
                "line": out.span.line if out.span else None,
            }
            for out in one.left_out
        ],
        "finished_g": figure_json(one.finished),
        "may_contain_by_supplier": list(one.allergens.may_contain),
        "stressed_by": [told.text for told in found.told],
        "shares": [_share(each) for each in found.shares],
        "shares_held_because": found.quid_held,
        "to_ask": [
            {
                "about": each.about,
                "what": each.what,
                "do": each.do,
                "line": each.span.line if each.span else None,
            }
            for each in one.open
        ],
        "questions": [question_json(each) for each in one.allergens.questions],
        "findings": [finding_json(each) for each in found.findings],
        "says": FOOT,
    }


def _entry(one: Entry) -> Json:
    return {
        **_part(one),
        "made_of": [_part(each) for each in one.inside],
    }


def _part(one: Entry) -> Json:
    weight = one.weight
    return {
        "name": one.named.text,
        "text": one.named.plain,
        "in_brackets": [_named(part) for part in one.named.inside],
        "emphasise": sorted(one.named.allergens),
        "weight_g": None if weight is None else round(weight.g, 6),
        "low_g": None if weight is None else round(weight.low_g, 6),
        "high_g": None if weight is None else round(weight.high_g, 6),
        "share": figure_json(one.share),
        "sum": one.sum,
        "rules": [_rule(row) for row in one.rules],
        "larder_ids": list(one.larder_ids),
        "to_ask": list(one.asks),
        "line": one.span.line if one.span else None,
    }


def _named(one: Named) -> Json:
    return {"name": one.text, "text": one.plain, "emphasise": sorted(one.allergens)}


def _share(one: Share) -> Json:
    return {
        "of": one.term,
        "by": one.by,
        "names": list(one.of),
        "is_layer": one.is_layer,
        "share": figure_json(one.figure),
        "words": one.words,
        "needed": one.needed,
        "why": one.why,
        "rules": [_rule(row) for row in one.rules],
    }


def _rule(row: Rule) -> Json:
    return {
        "id": row.id,
        "article": row.article,
        "rule": row.rule,
        "source": row.source.text,
        "found": row.found,
    }


_YES: Final = {"type": "boolean"}
_RULE: Final = object_of(
    id=STRING, article=STRING, rule=STRING, source=STRING, found=STRING
)
_PART: Final[dict[str, Schema]] = {
    "name": STRING,
    "text": STRING,
    "in_brackets": array_of(object_of(name=STRING, text=STRING, emphasise=STRINGS)),
    "emphasise": STRINGS,
    "weight_g": NUMBER,
    "low_g": NUMBER,
    "high_g": NUMBER,
    "share": FIGURE,
    "sum": STRING,
    "rules": array_of(_RULE),
    "larder_ids": STRINGS,
    "to_ask": STRINGS,
    "line": WHOLE,
}
DECLARATION: Final = object_of(
    slab=STRING,
    nation=STRING,
    day=STRING,
    by_layer=_YES,
    summary=STRING,
    held=_YES,
    held_because=STRING,
    text=STRING,
    marked=STRING,
    runs=array_of(object_of(text=STRING, emphasised=_YES)),
    ingredients=array_of(object_of(**_PART, made_of=array_of(object_of(**_PART)))),
    left_out=array_of(object_of(name=STRING, why=STRING, rule=_RULE, line=WHOLE)),
    finished_g=FIGURE,
    may_contain_by_supplier=STRINGS,
    stressed_by=STRINGS,
    shares=array_of(
        object_of(
            of=STRING,
            by=STRING,
            names=STRINGS,
            is_layer=_YES,
            share=FIGURE,
            words=STRING,
            needed=_YES,
            why=STRING,
            rules=array_of(_RULE),
        )
    ),
    shares_held_because=STRING,
    to_ask=array_of(object_of(about=STRING, what=STRING, do=STRING, line=WHOLE)),
    questions=array_of(QUESTION),
    findings=FINDINGS,
    says=STRING,
)
"""What `declaration --json` prints."""
