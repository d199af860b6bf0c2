"""The bench sheet as JSON: what is weighed, what the scale reads, what is done."""

from typing import Any, Final

from slabwright.publish.figure_json import figure_json
from slabwright.publish.json_schema import (
    FIGURE,
    MAYBE,
    NUMBER,
    STRING,
    STRINGS,
    WORDS,
    Schema,
    array_of,
    object_of,
)
from slabwright.spec.bench import BenchSheet, BenchStep, Job
from slabwright.spec.bench_pan import PanWeight
from slabwright.spec.bench_weigh import Group, Weighing
from slabwright.spec.probe import Reading

_PROBE: Final[Schema] = {
    "anyOf": [
        object_of(
            true_low_C=NUMBER,
            true_high_C=NUMBER,
            probe_low_C=NUMBER,
            probe_high_C=NUMBER,
            probe_C=MAYBE,
            says=STRING,
        ),
        {"type": "null"},
    ]
}
_PAN: Final[Schema] = {
    "anyOf": [
        object_of(
            vessel=STRING,
            contents_g=FIGURE,
            empty_g=NUMBER,
            reads_g=MAYBE,
            by_boiling_g=MAYBE,
        ),
        {"type": "null"},
    ]
}
_STEP: Final = object_of(
    text=WORDS,
    ends_at=_PROBE,
    is_at=_PROBE,
    over=_PROBE,
    pan=_PAN,
    lower_here_C=MAYBE,
    cautions=array_of(object_of(key=STRING, head=STRING, text=STRING, source=STRING)),
)
_LINE: Final = object_of(
    name=STRING,
    count=STRING,
    notes=STRINGS,
    add_g=NUMBER,
    reads_g=NUMBER,
    small_scale={"type": "boolean"},
    says=STRING,
)
BENCH: Final = object_of(
    slab=STRING,
    day=WORDS,
    trays={"type": "integer"},
    words=STRING,
    revision=STRING,
    proved=WORDS,
    jobs=array_of(
        object_of(
            name=STRING,
            takes=STRING,
            groups=array_of(
                object_of(vessel=STRING, after=STRING, lines=array_of(_LINE))
            ),
            steps=array_of(_STEP),
        )
    ),
    contents=object_of(contains=STRINGS, may_hide=STRINGS, unknown=STRINGS),
)
"""Schema of a sheet as JSON."""


def bench_json(sheet: BenchSheet) -> dict[str, Any]:
    """The sheet for another program; `BENCH` describes it."""
    making, proved = sheet.making, sheet.spec.card.proved
    return {
        "slab": sheet.spec.name,
        "day": making.day.isoformat() if making.day else None,
        "trays": making.trays,
        "words": making.words,
        "revision": making.revision,
        "proved": proved.isoformat() if proved else None,
        "jobs": [_job(job) for job in sheet.jobs],
        "contents": {
            "contains": list(sheet.contents.contains),
            "may_hide": list(sheet.contents.may_hide),
            "unknown": list(sheet.contents.unknown),
        },
    }


def _job(job: Job) -> dict[str, Any]:
    return {
        "name": job.name,
        "takes": job.takes,
        "groups": [_group(group) for group in job.groups],
        "steps": [_step(step) for step in job.steps],
    }


def _group(group: Group) -> dict[str, Any]:
    lines = [_line(one) for one in group.lines]
    return {"vessel": group.vessel, "after": group.after, "lines": lines}


def _line(one: Weighing) -> dict[str, Any]:
    return {
        "name": one.name,
        "count": one.count,
        "notes": list(one.notes),
        "add_g": None if one.add_g is None else float(one.add_g),
        "reads_g": None if one.reads_g is None else float(one.reads_g),
        "small_scale": one.is_small,
        "says": one.says,
    }


def _step(bench: BenchStep) -> dict[str, Any]:
    lower = bench.lower_here_C
    return {
        "text": bench.step.text if bench.step else None,
        "ends_at": _reading(bench.ends_at),
        "is_at": _reading(bench.is_at),
        "over": _reading(bench.over),
        "pan": _pan(bench.pan),
        "lower_here_C": figure_json(lower) if lower else None,
        "cautions": [
            {"key": c.key, "head": c.head, "text": c.text, "source": c.source.text}
            for c in bench.cautions
        ],
    }


def _reading(one: Reading | None) -> dict[str, Any] | None:
    if one is None:
        return None
    shown = one.probe_C
    return {
        "true_low_C": one.true_C.low,
        "true_high_C": one.true_C.high,
        "probe_low_C": shown.low if shown else None,
        "probe_high_C": shown.high if shown else None,
        "probe_C": figure_json(one.figure) if one.figure else None,
        "says": one.says,
    }


def _pan(pan: PanWeight | None) -> dict[str, Any] | None:
    if pan is None:
        return None
    return {
        "vessel": pan.vessel,
        "contents_g": figure_json(pan.contents_g),
        "empty_g": pan.empty_g,
        "reads_g": figure_json(pan.reads_g) if pan.reads_g else None,
        "by_boiling_g": figure_json(pan.by_boiling_g) if pan.by_boiling_g else None,
    }
