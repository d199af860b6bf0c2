"""The record beside a PDF, and what has changed since, as JSON and as text."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any, Final

from slabwright.label.dates import in_full
from slabwright.label.paper.printed import FORMAT, Printed
from slabwright.publish.figure_json import Json
from slabwright.publish.json_schema import (
    NUMBER,
    STRING,
    STRINGS,
    WHOLE,
    WORDS,
    array_of,
    object_of,
    or_null,
)
from slabwright.publish.money_rows import item, title
from slabwright.publish.terminal import Manner


def printed_json(printed: Printed) -> Json:
    """A record as it is kept."""
    found: Any = _plain(asdict(printed))
    return dict(found)


def done_json(
    wrote: Sequence[str],
    waits: Sequence[str],
    record: Printed | None,
    bars: tuple[float, float, float] | None = None,
) -> Json:
    """What was written.

    Args:
        wrote: the files.
        waits: what a draft waits for, in words.
        record: of what was printed; None for a draft.
        bars: width of a module, height of the bars, their height uncut [mm].
    """
    return {
        "wrote": list(wrote),
        "draft": record is None,
        "waits_for": list(waits),
        "record": printed_json(record) if record else None,
        "bars": dict(zip(_BARS, bars, strict=True)) if bars else None,
    }


def stale_text(
    printed: Printed,
    changes: Sequence[str],
    waits: Sequence[str],
    revisions: Sequence[str],
    manner: Manner,
) -> str:
    """What has changed since this was printed, for a terminal.

    Args:
        printed: what was.
        changes: what no longer holds, in words.
        waits: what it waits for now, in words.
        revisions: of card and larder, as they are now.
        manner: of the terminal.
    """
    lines = [*_stale_lines(printed, changes, waits, revisions, manner)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _stale_lines(
    printed: Printed,
    changes: Sequence[str],
    waits: Sequence[str],
    revisions: Sequence[str],
    manner: Manner,
) -> Iterator[str]:
    face = printed.face
    kind = f"{face.kind}, {face.way}" if face.way else face.kind
    yield from title(f"{face.slab}, {kind}", in_full(printed.printed), manner)
    yield ""
    if not changes and not waits:
        yield from item("Every word that was printed still holds.", manner)
    else:
        yield manner.bold("No longer as it was printed")
    for one in (*changes, *waits):
        yield from item(one, manner)
    yield ""
    then, now = ", ".join(face.revisions), ", ".join(revisions)
    same = "the same now" if then == now else f"now {now}"
    yield from item(f"Printed from {then}; {same}.", manner)


def stale_json(
    printed: Printed,
    changes: Sequence[str],
    waits: Sequence[str],
    revisions: Sequence[str],
) -> Json:
    """The same as JSON."""
    return {
        "slab": printed.face.slab,
        "kind": printed.face.kind,
        "printed": printed.printed.isoformat(),
        "stale": bool(changes or waits),
        "changes": list(changes),
        "waits_for": list(waits),
        "printed_from": list(printed.face.revisions),
        "now": list(revisions),
    }


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return value.isoformat() if hasattr(value, "isoformat") else value


_BARS: Final = ("module_mm", "bars_mm", "uncut_mm")
_RUN: Final = object_of(text=STRING, is_emphasised={"type": "boolean"})
_FACE: Final = object_of(
    kind={"enum": ["label", "ticket", "allergen card"]},
    slab=STRING,
    way=STRING,
    name=STRING,
    net=STRING,
    net_g=NUMBER,
    paragraphs=array_of(object_of(name=STRING, runs=array_of(_RUN))),
    nutrition=array_of(
        object_of(
            name=STRING, per_100_g=STRING, per_piece=STRING, is_part={"type": "boolean"}
        )
    ),
    piece=STRING,
    date=STRING,
    lot=STRING,
    storage=STRINGS,
    business=STRING,
    price=STRING,
    number=STRING,
    revisions=STRINGS,
    least_x_mm={"type": "number"},
    least_figures_mm=NUMBER,
)
_RECORD: Final = object_of(
    format={"const": FORMAT},
    printed=STRING,
    face=_FACE,
    nation=STRING,
    made=WORDS,
    frozen=WORDS,
    thawed=WORDS,
    unless=STRINGS,
    surface_cm2=NUMBER,
    item=STRING,
    code=STRING,
    value=WHOLE,
    nutrition={"type": "boolean"},
    width_mm={"type": "number"},
    height_mm={"type": "number"},
    copies={"type": "integer"},
    x_mm=NUMBER,
)
PRINTED: Final = object_of(
    wrote=STRINGS,
    draft={"type": "boolean"},
    waits_for=STRINGS,
    record=or_null(_RECORD),
    bars=or_null(object_of(**{key: {"type": "number"} for key in _BARS})),
)
"""What `label --print --json` prints; `record` is the file beside the PDF."""
STALE: Final = object_of(
    slab=STRING,
    kind={"enum": ["label", "ticket", "allergen card"]},
    printed=STRING,
    stale={"type": "boolean"},
    changes=STRINGS,
    waits_for=STRINGS,
    printed_from=STRINGS,
    now=STRINGS,
)
"""What `label --stale --json` prints."""
