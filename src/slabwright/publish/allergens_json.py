"""Allergens of slabs and of the counter as JSON, and their schema."""

from typing import Final

from slabwright.counter.allergen_matrix import AllergenMatrix, Row
from slabwright.label.allergen.allergens import Question, State, Trace
from slabwright.label.allergen.annex import GROUPS, families, listed, plain_name
from slabwright.publish.allergen_matrix import cell_letters, cell_words
from slabwright.publish.allergens import FOOT, summary
from slabwright.publish.figure_json import Json, figure_json, finding_json
from slabwright.publish.json_schema import (
    FINDINGS,
    MAYBE,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    array_of,
    object_of,
)
from slabwright.spec.allergens import allergen_findings


def allergens_json(matrix: AllergenMatrix) -> Json:
    """Everything that `allergens` worked out."""
    law = listed()["milk"].source
    return {
        "day": matrix.on.isoformat(),
        "list": law.text,
        "list_how_known": law.seen.value,
        "held": matrix.is_held,
        "slabs": [_slab(row) for row in matrix.rows],
        "kitchen_also_makes": list(matrix.others),
        "says": FOOT,
    }


def _slab(row: Row) -> Json:
    found = row.found
    return {
        "slab": found.slab,
        "summary": summary(found),
        "held": found.is_held,
        "contains": list(found.in_it),
        "emphasise": [plain_name(name) for name in found.in_it],
        "may_contain_by_supplier": list(found.may_contain),
        "worked_with_in_kitchen": [
            {"allergen": one.allergen, "slabs": list(one.slabs)}
            for one in row.in_kitchen
        ],
        "unknown": list(found.unknown),
        "ways": [_trace(one) for one in found.traces],
        "questions": [question_json(one) for one in found.questions],
        "sulphites_mg_kg": figure_json(found.sulphites) if found.sulphites else None,
        "matrix": [
            {
                "group": cell.group,
                "in_law": families()[cell.group],
                "states": [state.value for state in cell.states],
                "worked_with_in_kitchen": cell.in_kitchen,
                "letters": cell_letters(cell),
                "words": cell_words(cell, row),
            }
            for cell in row.cells
        ],
        "findings": [finding_json(one) for one in allergen_findings(found)],
    }


def _trace(one: Trace) -> Json:
    return {
        "allergen": one.allergen,
        "emphasise": plain_name(one.allergen),
        "state": one.state.value,
        "way": list(one.way),
        "why": one.why,
        "ingredient": one.about,
        "larder_id": one.larder_id,
        "source": one.source,
        "line": one.span.line if one.span else None,
    }


def question_json(one: Question) -> Json:
    """A question to answer before a label is printed."""
    return {
        "about": one.about,
        "larder_id": one.larder_id or None,
        "allergens": list(one.allergens),
        "because": [
            {
                "allergens": list(doubt.allergens),
                "why": doubt.why,
                "way": list(doubt.way),
            }
            for doubt in one.doubts
        ],
        "who": one.who,
        "packs": list(one.packs),
        "do": one.do,
        "line": one.span.line if one.span else None,
    }


_ALLERGEN: Final = {"enum": list(listed())}
_ALLERGENS: Final = array_of(_ALLERGEN)
_YES: Final = {"type": "boolean"}
_BESIDE: Final = array_of(object_of(allergen=_ALLERGEN, slabs=STRINGS))
QUESTION: Final = object_of(
    about=STRING,
    larder_id=WORDS,
    allergens=_ALLERGENS,
    because=array_of(object_of(allergens=_ALLERGENS, why=STRING, way=STRINGS)),
    who=STRING,
    packs=STRINGS,
    do=STRING,
    line=WHOLE,
)
"""A question to answer before a label is printed."""
ALLERGENS_FOUND: Final = object_of(
    day=STRING,
    list=STRING,
    list_how_known=STRING,
    held=_YES,
    slabs=array_of(
        object_of(
            slab=STRING,
            summary=STRING,
            held=_YES,
            contains=_ALLERGENS,
            emphasise=STRINGS,
            may_contain_by_supplier=_ALLERGENS,
            worked_with_in_kitchen=_BESIDE,
            unknown=_ALLERGENS,
            ways=array_of(
                object_of(
                    allergen=_ALLERGEN,
                    emphasise=STRING,
                    state={"enum": [s.value for s in State if s is not State.UNKNOWN]},
                    way=STRINGS,
                    why=STRING,
                    ingredient=STRING,
                    larder_id=STRING,
                    source=STRING,
                    line=WHOLE,
                )
            ),
            questions=array_of(QUESTION),
            sulphites_mg_kg=MAYBE,
            matrix=array_of(
                object_of(
                    group={"enum": list(GROUPS)},
                    in_law=STRING,
                    states=array_of({"enum": [state.value for state in State]}),
                    worked_with_in_kitchen=_YES,
                    letters=STRING,
                    words=STRING,
                )
            ),
            findings=FINDINGS,
        )
    ),
    kitchen_also_makes=STRINGS,
    says=STRING,
)
"""What `allergens --json` prints."""
