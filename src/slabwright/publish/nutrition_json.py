"""The nutrition declaration as JSON, and its schema."""

from typing import Final

from slabwright.label.nutrition.content import Brought
from slabwright.label.nutrition.declared import Declared, Kept
from slabwright.label.nutrition.front_of_pack import Front, Level
from slabwright.label.nutrition.nutrient_profile import AGAINST, FOR, Profile
from slabwright.publish.figure_json import Json, figure_json, finding_json
from slabwright.publish.json_schema import (
    FIGURE,
    FINDINGS,
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.nutrition import label_words, laws, summary
from slabwright.spec.nutrition import FOOT, Nutrition
from slabwright.spec.nutrition_rows import Row

_MOST_BROUGHT: Final = 100
"""Ingredients that a row lists; no slab of a kitchen has so many."""


def nutrition_json(found: Nutrition) -> Json:
    """Everything that is known of a slab's nutrition."""
    return {
        "slab": found.slab,
        "nation": found.nation,
        "day": found.on.isoformat(),
        "summary": summary(found),
        "held": found.is_held,
        "held_for": list(found.held),
        "label": label_words(found),
        "mass_g": figure_json(found.mass_g),
        "piece_g": figure_json(found.piece_g),
        "rows": [_row(row) for row in found.rows],
        "front_of_pack": [_front(one) for one in found.fronts],
        "nutrient_profile": _profile(found.profile) if found.profile else None,
        "not_counted": [
            {"what": one.what, "why": one.why, "ends_in_the_slab": one.is_food}
            for one in found.not_counted
        ],
        "laws": list(laws(found)),
        "findings": [finding_json(one) for one in found.findings],
        "says": FOOT,
    }


def _profile(found: Profile) -> Json:
    return {
        "low": found.low,
        "high": found.high,
        "limit": found.limit,
        "words": found.words,
        "points": {name: list(ends) for name, ends in found.points.items()},
    }


def _row(row: Row) -> Json:
    line, intake = row.line, row.intake
    return {
        "nutrient": row.nutrient,
        "line": row.name,
        "of_which": line.of_which or None,
        "mandatory": line.is_mandatory,
        "unit": row.unit,
        "per_100g": figure_json(row.per_100g),
        "low": row.low,
        "high": row.high,
        "declared": _declared(row.declared),
        "tolerance": _kept(row.kept) if row.kept is not None else None,
        "per_piece": figure_json(row.per_piece),
        "declared_per_piece": _declared(row.declared_piece),
        "reference_intake": intake.amount if intake else None,
        "intake_share_per_100g": figure_json(row.intake_100g),
        "intake_share_per_piece": figure_json(row.intake_piece),
        "known_from_memory_share": row.memory_share,
        "brought_by": [_brought(one) for one in row.brought[:_MOST_BROUGHT]],
        "row": line.rule.id,
        "article": line.rule.article,
        "source": line.rule.source.text,
        "found": line.rule.found,
        "from": line.rule.from_day.isoformat(),
    }


def _declared(said: Declared | None) -> Json | None:
    if said is None:
        return None
    rule = said.row.rule
    return {
        "words": said.words,
        "number": said.number,
        "below": said.is_below,
        "may_be_written": list(said.row.alternatives),
        "row": rule.id,
        "rule": said.row.words,
        "found": rule.found,
    }


def _kept(one: Kept) -> Json:
    return {
        "low": one.low,
        "high": one.high,
        "kept": one.is_kept,
        "words": one.words,
        "row": one.row.rule.id,
        "source": one.row.rule.source.text,
        "found": one.row.rule.found,
    }


def _brought(one: Brought) -> Json:
    return {
        "ingredient": one.name,
        "way": list(one.way),
        "amount": one.amount,
        "in_g": one.grams,
        "source": one.source.text if one.source else None,
        "how_known": one.source.seen.value if one.source else None,
    }


def _front(one: Front) -> Json:
    rule = one.row.rule
    return {
        "nutrient": one.nutrient,
        "level": one.level.value,
        "may_be": [level.value for level in one.may_be],
        "high_for_a_portion": one.by_portion,
        "why": one.why,
        "row": rule.id,
        "source": rule.source.text,
        "found": rule.found,
    }


_YES: Final = {"type": "boolean"}
_LEVEL: Final = {"enum": [level.value for level in Level]}
_DECLARED: Final = object_of(
    words=STRING, number=NUMBER, below=_YES, may_be_written=STRINGS, row=STRING,
    rule=STRING, found=STRING,
)  # fmt: skip
_TOLERANCE: Final = object_of(
    low=NUMBER, high=NUMBER, kept=_YES, words=STRING, row=STRING, source=STRING,
    found=STRING,
)  # fmt: skip
_ROW: Final = object_of(
    nutrient=STRING,
    line=STRING,
    of_which=WORDS,
    mandatory=_YES,
    unit=STRING,
    per_100g=FIGURE,
    low=NUMBER,
    high=NUMBER,
    declared=or_null(_DECLARED),
    tolerance=or_null(_TOLERANCE),
    per_piece=FIGURE,
    declared_per_piece=or_null(_DECLARED),
    reference_intake=NUMBER,
    intake_share_per_100g=FIGURE,
    intake_share_per_piece=FIGURE,
    known_from_memory_share=NUMBER,
    brought_by=array_of(
        object_of(
            ingredient=STRING, way=STRINGS, amount=NUMBER, in_g=NUMBER, source=WORDS,
            how_known=WORDS,
        )
    ),
    row=STRING,
    article=STRING,
    source=STRING,
    found=STRING,
    **{"from": STRING},
)  # fmt: skip
NUTRITION: Final = object_of(
    slab=STRING,
    nation=STRING,
    day=STRING,
    summary=STRING,
    held=_YES,
    held_for=STRINGS,
    label=STRING,
    mass_g=FIGURE,
    piece_g=FIGURE,
    rows=array_of(_ROW),
    front_of_pack=array_of(
        object_of(
            nutrient=STRING, level=_LEVEL, may_be=array_of(_LEVEL),
            high_for_a_portion=_YES, why=STRING, row=STRING, source=STRING,
            found=STRING,
        )
    ),
    nutrient_profile=or_null(
        object_of(
            low=WHOLE, high=WHOLE, limit=WHOLE, words=STRING,
            points=object_of(**{name: array_of(WHOLE) for name in (*AGAINST, *FOR)}),
        )
    ),
    not_counted=array_of(object_of(what=STRING, why=STRING, ends_in_the_slab=_YES)),
    laws=STRINGS,
    findings=FINDINGS,
    says=STRING,
)  # fmt: skip
"""What `nutrition --json` prints."""
