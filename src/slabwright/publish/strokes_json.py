"""The knife's strokes as JSON, in order."""

from collections.abc import Sequence
from typing import Any, Final

from slabwright.cut.stroke import Stroke
from slabwright.publish.json_schema import NUMBER, STRING, array_of, object_of

Json = dict[str, Any]

_POINT: Final = {
    "type": "array",
    "items": {"type": "number"},
    "minItems": 2,
    "maxItems": 2,
}
STROKES: Final = array_of(
    object_of(
        number={"type": "integer"},
        what={"enum": ["trim", "strip", "cut"]},
        edge={"enum": ["left", "near", "rim", None]},
        at_mm=NUMBER,
        start_mm=_POINT,
        end_mm=_POINT,
        meets=array_of(object_of(edge=STRING, at_mm={"type": "number"})),
    )
)


def strokes_json(strokes: Sequence[Stroke]) -> list[Json]:
    """Every stroke; places are from the left and the near edge of the slab's base."""
    return [
        {
            "number": one.number,
            "what": one.what,
            "edge": one.edge or None,
            "at_mm": None if one.at_mm is None else _plain(one.at_mm),
            "start_mm": [_plain(part) for part in one.start_mm],
            "end_mm": [_plain(part) for part in one.end_mm],
            "meets": [
                {"edge": there.edge, "at_mm": _plain(there.at_mm)}
                for there in one.meets
            ],
        }
        for one in strokes
    ]


def _plain(size_mm: float) -> float:
    """To a hundred-thousandth of a millimetre: what lies behind is the sum's own."""
    return round(size_mm, 5) + 0.0
