"""A cut in full as JSON, and its schema."""

from typing import Any, Final

from slabwright.cut.roller import Setting
from slabwright.publish.figure_json import finding_json, mistake_json
from slabwright.publish.json_form import cut_json
from slabwright.publish.json_schema import (
    FINDINGS,
    MISTAKES,
    NUMBER,
    NUMBERS,
    STRING,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.spec_schema import CUT
from slabwright.spec.cut_sheet import CutSheet

Json = dict[str, Any]
_PLAIN: Final = {"type": "number"}
_WHOLE: Final = {"type": "integer"}

CUTTING: Final = object_of(
    slab=STRING,
    cut=CUT,
    level_mm=_PLAIN,
    knife_off_mm=_PLAIN,
    rollers=array_of(
        object_of(
            name=STRING,
            way=STRING,
            fits={"type": "boolean"},
            wheels_apart_mm=NUMBER,
            passes=_WHOLE,
            first_wheel_mm=NUMBERS,
            measured_from=STRING,
            why=STRING,
        )
    ),
    choices=array_of(
        object_of(
            words=STRING,
            pieces=_WHOLE,
            piece_words=STRING,
            piece_mass_g=_PLAIN,
            in_range_share=_PLAIN,
            reached_g=_PLAIN,
        )
    ),
    tried=or_null(
        object_of(
            slabs=_WHOLE,
            piece_mass_g=_PLAIN,
            deviation_g=_PLAIN,
            reached_g=_PLAIN,
        )
    ),
    findings=FINDINGS,
    errors=MISTAKES,
)
"""What `cut --json` prints."""


def cutting_json(sheet: CutSheet) -> Json:
    """Everything about one cut."""
    slab_g = sheet.slab_g or 0.0
    about = {"pieces_uneven", "piece_topples", "weight_varies", "left_over_strip"}
    return {
        "slab": sheet.spec.name,
        "cut": cut_json(sheet.cut),
        "level_mm": sheet.evenness.level_mm,
        "knife_off_mm": sheet.evenness.knife_off_mm,
        "rollers": [_roller(one) for one in sheet.cut.rollers],
        "choices": [
            {
                "words": one.said,
                "pieces": one.pieces,
                "piece_words": one.words,
                "piece_mass_g": one.share * slab_g,
                "in_range_share": one.in_range,
                "reached_g": one.reached * slab_g,
            }
            for one in sheet.options
        ],
        "tried": None
        if sheet.tried is None
        else {
            "slabs": sheet.tried.slabs,
            "piece_mass_g": sheet.tried.mean * slab_g,
            "deviation_g": sheet.tried.deviation * slab_g,
            "reached_g": sheet.tried.reached_by() * slab_g,
        },
        "findings": [
            finding_json(one) for one in sheet.spec.findings if one.code in about
        ],
        "errors": [mistake_json(one) for one in sheet.spec.errors],
    }


def _roller(setting: Setting) -> Json:
    return {
        "name": setting.cutter.name,
        "way": setting.run.way,
        "fits": setting.apart_mm is not None,
        "wheels_apart_mm": setting.apart_mm,
        "passes": setting.passes,
        "first_wheel_mm": list(setting.first_mm),
        "measured_from": setting.run.start,
        "why": setting.why,
    }
