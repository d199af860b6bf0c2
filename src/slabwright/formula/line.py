"""A line of a formula as its maker wrote it: so much of something."""

from dataclasses import dataclass

from slabwright.errors import Span
from slabwright.quantity.amount import Amount


@dataclass(frozen=True, slots=True)
class Line:
    """So much of an ingredient or of a component."""

    text: str
    """The line as written, without its comment."""
    name: str
    """What it is, without amount and notes."""
    span: Span
    name_span: Span
    amounts: tuple[Amount, ...] = ()
    """Added up: `1 lb 2 oz` is two."""
    stated_g: float | None = None
    """What the line weighs, edible, as written after `=` [g]."""
    is_measured: bool = False
    """Whether that weight was weighed."""
    stated_span: Span | None = None
    second: Amount | None = None
    """The other measure of `170 g/6 oz`."""
    size: str = ""
    """Egg class or the like: small, medium, large, very large."""
    part: str = ""
    """`juice` or `zest`, where only that goes in."""
    notes: tuple[str, ...] = ()
    bloom: tuple[float, float] | None = None
    """Strength of its gelatine as written, low and high [bloom]."""
    aside: str = ""
    """Why it has no weight in the slab: for greasing, to taste; empty if it has."""
