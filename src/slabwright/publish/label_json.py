"""Labels and net weights as JSON, and their schemas."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from slabwright.label.codes import Number
from slabwright.label.particulars import NATIONS, Need, Particular, Standing
from slabwright.label.ways import Selling
from slabwright.publish.allergens_json import QUESTION, question_json
from slabwright.publish.figure_json import Json, figure_json, finding_json
from slabwright.publish.json_schema import (
    FIGURE,
    FINDINGS,
    NUMBER,
    STRING,
    STRINGS,
    WORDS,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.label import is_draft, summary
from slabwright.spec.label import FOOT, Label
from slabwright.spec.label_net import NET_FOOT, NetFigures


def labels_json(
    slab: str,
    nation: str,
    on: date,
    asked: Sequence[tuple[str, Sequence[Selling]]],
    labels: Sequence[tuple[Label, Number | None]],
) -> Json:
    """Every way of selling of a slab, and the ways that must be asked for."""
    return {
        "slab": slab,
        "nation": nation,
        "day": on.isoformat(),
        "how_is_it_sold": [
            {"card_says": said, "nearest": [way.value for way in nearest]}
            for said, nearest in asked
        ],
        "labels": [label_json(one, number) for one, number in labels],
    }


def label_json(label: Label, number: Number | None) -> Json:
    """One way of selling."""
    mark, sold = label.mark, label.sold
    return {
        "way": label.order.way.value,
        "summary": summary(label),
        "held": label.is_held,
        "draft": is_draft(label),
        "name": label.name or None,
        "particulars": [_particular(one) for one in label.particulars],
        "date": None
        if mark is None
        else {
            "kind": mark.kind,
            "day": mark.day.isoformat(),
            "words": mark.words,
            "shortest": mark.least,
            "rule": mark.rule.id,
            "article": mark.rule.article,
            "source": mark.rule.source.text,
            "found": mark.rule.found,
            "counted": mark.counted,
        },
        "storage": list(label.storage),
        "contains": list(label.allergens.in_it),
        "may_contain_by_supplier": list(label.allergens.may_contain),
        "unknown": list(label.allergens.unknown),
        "questions": [question_json(one) for one in label.allergens.questions],
        "net_g": sold.net_g if sold else None,
        "net_worked_out_g": figure_json(label.nominal),
        "price": None if sold is None or sold.price is None else float(sold.price),
        "number": number.digits if number else None,
        "findings": [finding_json(one) for one in label.findings],
        "says": FOOT,
    }


def _particular(one: Particular) -> Json:
    row = one.row
    return {
        "particular": one.name,
        "title": one.title,
        "need": one.need.value,
        "standing": one.standing.value,
        "what": one.what,
        "why": one.why,
        "do": one.do,
        "row": row.id,
        "rule": row.rule,
        "article": row.article,
        "source": row.source.text,
        "found": row.found,
        "from": row.from_day.isoformat(),
    }


def net_weight_json(found: NetFigures) -> Json:
    """Weighed pieces, and the nominal weight that they keep."""
    error = found.tolerable_error_g
    return {
        "pieces": found.weighed.count,
        "mean_g": figure_json(found.mean_g),
        "deviation_g": figure_json(found.deviation_g),
        "lightest_g": figure_json(found.lightest_g),
        "heaviest_g": figure_json(found.heaviest_g),
        "nominal_g": figure_json(found.nominal_g),
        "tolerable_error_g": figure_json(error) if error else None,
        "rules": [
            {"rule": r.id, "says": r.says, "found": r.found, "kept": r.is_kept}
            for r in found.rules
        ],
        "figures_least_mm": found.figures_least_mm,
        "says": NET_FOOT,
    }


_YES: Final = {"type": "boolean"}
_PARTICULAR: Final = object_of(
    particular=STRING,
    title=STRING,
    need={"enum": [need.value for need in Need]},
    standing={"enum": [one.value for one in Standing]},
    what=STRING,
    why=STRING,
    do=STRING,
    row=STRING,
    rule=STRING,
    article=STRING,
    source=STRING,
    found=STRING,
    **{"from": STRING},
)
_WAY: Final = {"enum": [way.value for way in Selling]}
_DATE: Final = object_of(
    kind={"enum": ["best before", "use by"]},
    day=STRING,
    words=STRING,
    shortest=STRING,
    rule=STRING,
    article=STRING,
    source=STRING,
    found=STRING,
    counted=STRING,
)
LABELS: Final = object_of(
    slab=STRING,
    nation={"enum": list(NATIONS)},
    day=STRING,
    how_is_it_sold=array_of(object_of(card_says=STRING, nearest=array_of(_WAY))),
    labels=array_of(
        object_of(
            way=_WAY,
            summary=STRING,
            held=_YES,
            draft=_YES,
            name=WORDS,
            particulars=array_of(_PARTICULAR),
            date=or_null(_DATE),
            storage=STRINGS,
            contains=STRINGS,
            may_contain_by_supplier=STRINGS,
            unknown=STRINGS,
            questions=array_of(QUESTION),
            net_g=NUMBER,
            net_worked_out_g=FIGURE,
            price=NUMBER,
            number=WORDS,
            findings=FINDINGS,
            says=STRING,
        )
    ),
)
"""What `label --json` prints."""
NET_WEIGHT: Final = object_of(
    pieces={"type": "integer"},
    mean_g=FIGURE,
    deviation_g=FIGURE,
    lightest_g=FIGURE,
    heaviest_g=FIGURE,
    nominal_g=FIGURE,
    tolerable_error_g=or_null(FIGURE),
    rules=array_of(
        object_of(rule=STRING, says=STRING, found=STRING, kept={"type": "boolean"})
    ),
    figures_least_mm=NUMBER,
    says=STRING,
)
"""What `net-weight --json` prints."""
