"""The card word costs: what a making bears beside its ingredients."""

from dataclasses import replace

from slabwright.errors import Mistake, Where
from slabwright.files.card.lines import CardLine
from slabwright.files.told import TOLD_SO, read_told
from slabwright.kitchen import Told


def read_costs(line: CardLine, value: str) -> Told | Mistake:
    """Minutes of hands or oven, kWh, or money by the piece, box, tray or batch."""
    said = read_told(value)
    if isinstance(said, str):
        where = Where(span=line.span(len(line.text) - len(value)), field="costs")
        return Mistake(said, TOLD_SO, where)
    return replace(said, span=line.span())
