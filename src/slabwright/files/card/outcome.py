"""What comes of reading a line as an ingredient: lines, a mistake, or neither."""

from dataclasses import dataclass
from typing import Final

from slabwright.errors import Mistake
from slabwright.formula.line import Line


@dataclass(frozen=True, slots=True)
class NotALine:
    """This is no ingredient line: it is a step, or something else."""


NO: Final = NotALine()
Outcome = tuple[Line, ...] | Mistake | NotALine
"""Ingredient lines (two for `juice and zest of …`), a mistake, or neither."""
