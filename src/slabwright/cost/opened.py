"""How long an ingredient keeps once its pack is open, where that is known at all."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from slabwright.larder.ingredient import Ingredient
from slabwright.source import Source, sources


@dataclass(frozen=True, slots=True)
class Opened:
    """Keeping once opened; the words on the pack go before it."""

    low_days: int
    high_days: int
    where: str
    source: Source
    note: str = ""

    @property
    def words(self) -> str:
        """How long and where: `2 to 3 days, chilled`."""
        low, high = self.low_days, self.high_days
        if high >= 2 * 365:
            time = f"{low / 365:.0f} to {high / 365:.0f} years"
        elif high > 60:
            time = f"{round(low / 30)} to {round(high / 30)} months"
        else:
            time = f"{low} to {high} days"
        return f"{time}, {self.where}"


@cache
def _table() -> dict[str, Opened]:
    """Every row, by larder id or group.

    Raises:
        ValueError: if a row stands twice or its days run backwards.
    """
    data = files("slabwright.cost").joinpath("data", "opened.csv").read_text("utf-8")
    found: dict[str, Opened] = {}
    for row in csv.DictReader(data.splitlines()):
        low, high = int(row["low_days"]), int(row["high_days"])
        if row["what"] in found or not 0 < low <= high:
            message = f"opened.csv: '{row['what']}' stands twice, or its days are odd"
            raise ValueError(message)
        source = sources()[row["source"]]
        found[row["what"]] = Opened(low, high, row["where"], source, row["note"])
    return found


def once_opened(ingredient: Ingredient | None) -> Opened | None:
    """Keeping of this once opened: its own row, else its group's; None: not known.

    One's own ingredient keeps like the one that it is like.
    """
    if ingredient is None:
        return None
    table = _table()
    for key in (ingredient.id, ingredient.like, ingredient.group):
        if key and key in table:
            return table[key]
    return None
