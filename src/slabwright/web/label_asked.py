"""What is asked of a label, as its address has it."""

from datetime import date
from typing import Annotated, Final

from pydantic import BaseModel, ConfigDict, Field

from slabwright.desk.label import Asked
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.day import read_day
from slabwright.web.fields import MOST_NUMBER

_Short = Annotated[str, Field(max_length=40)]
_MOST_SURFACE_CM2: Final = 1e5


class LabelAsk(BaseModel):
    """What is asked of a label, as its address has it."""

    model_config = ConfigDict(frozen=True)
    way: Annotated[str, Field(max_length=120)] = ""
    nation: _Short = ""
    baked: _Short = ""
    frozen: _Short = ""
    thawed: _Short = ""
    unless: list[_Short] = Field(default_factory=list, max_length=30)
    surface: _Short = ""
    item: _Short = ""
    code: _Short = ""
    v: int = Field(0, ge=0, le=MOST_NUMBER)

    def asked(self, on: date) -> Asked:
        """The same, read.

        Raises:
            FileError: for days and a surface that are none.
        """
        return Asked(
            on, self.way.strip(), self.nation, read_day(self.baked, "baked"),
            read_day(self.frozen, "frozen"), read_day(self.thawed, "thawed"),
            tuple(self.unless), _surface(self.surface),
        )  # fmt: skip


def _surface(typed: str) -> float | None:
    if not typed.strip():
        return None
    try:
        found = float(typed.strip().replace(",", "."))
    except ValueError:
        found = 0.0
    if not 0 < found < _MOST_SURFACE_CM2:  # false for nan too
        what = f"'{typed:.40}' is no surface of a pack in cm²."
        do = "Measure its largest side."
        raise FileError(Mistake(what, do, Where(field="surface")))
    return found
