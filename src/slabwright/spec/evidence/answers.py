"""Which relation of ours answers a published row; or why none does."""

from typing import Final

from slabwright.spec.evidence import of_boiling, of_others, of_sugars
from slabwright.spec.evidence.predicted import Predicted
from slabwright.spec.evidence.rows import Row

_PREDICTORS: Final = {
    **of_boiling.PREDICTORS,
    **of_sugars.PREDICTORS,
    **of_others.PREDICTORS,
}
_KINDS: Final = {
    "coefficient": "a constant of an equation, not a measurement",
    "rule": "a rule or a ranking, no number to work out",
}
_TOPICS: Final = {
    "kinetics_setting": "nothing here works out browning or setting over time",
    "microbiology": "a limit that is looked up, not worked out",
}


def predicted(row: Row) -> Predicted | str:
    """What the physics says of a row; in words why it says nothing."""
    if row.kind in _KINDS:
        return _KINDS[row.kind]
    if row.topic in _TOPICS:
        return _TOPICS[row.topic]
    predictor = _PREDICTORS.get((row.topic, row.quantity))
    return "nothing here works it out" if predictor is None else predictor(row)
