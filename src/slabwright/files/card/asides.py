"""Things that stand among the ingredients and have no weight in the slab."""

import re
from dataclasses import replace
from typing import Final

from slabwright.formula.line import Line

_TIN: Final = (
    r"(?:extra )?for (?:greasing|the tins?|the pan|lining|rolling|the work ?top"
    r"|flouring|oiling|buttering|brushing the tin|dusting the (?:tin|worktop"
    r"|work surface))[\w ]*|to serve|for serving|to grease[\w ]*|to line[\w ]*"
)
_UNWEIGHED: Final = (
    r"to taste|as needed|as required|(?:for|to) (?:dust(?:ing)?|finish|decorate"
    r"|sprinkl\w+|scatter\w*|top|garnish|drizzl\w+|brush\w*|glaz\w+|coat\w*)[\w ]*"
)
ASIDE: Final = re.compile(rf"\b(?P<why>{_TIN}|{_UNWEIGHED})", re.IGNORECASE)
"""Words that say a line is for the tin or the table, or that nobody weighs it."""
_FOR_THE_TIN: Final = re.compile(rf"\b(?P<why>{_TIN})", re.IGNORECASE)
_MORE: Final = re.compile(r"(?:\b(?:plus|and|with|extra)\b|\+)[^,;]*$", re.IGNORECASE)


def put_aside(line: Line) -> Line:
    """The line with its reason, if what it says is not in the slab.

    With an amount, only what is for the tin or the table stays out; `170 g butter, plus
    extra for greasing` is 170 g all the same.
    """
    text = ", ".join((line.name, *line.notes))
    has_amount = bool(line.amounts) or line.stated_g is not None
    found = (_FOR_THE_TIN if has_amount else ASIDE).search(text)
    if found is None:
        return line
    why = found["why"]
    before = text[: found.start()]
    is_more = _MORE.search(before) is not None or why.casefold().startswith("extra ")
    if has_amount and is_more:
        return line
    name = re.split(r"\s*\b" + re.escape(why), line.name)[0].strip(" ,(")
    return replace(line, aside=why.strip(), name=name or line.name)
