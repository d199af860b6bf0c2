"""Words of a step that sound like an ingredient and are a tool, a bath or a verb."""

import re
from typing import Final

_TOOLS: Final = re.compile(
    r"\b(?:sugar|jam|candy|milk|meat|chocolate)\s+(?:thermometer|probe)s?\b"
    r"|\b(?:jam|milk|egg|sugar|butter|flour|cream|chocolate|caramel)\s+(?:pan|saucepan|"
    r"knife|jar|timer|dredger|sieve|whisk|cutter|mould)\b"
)
_BATHS: Final = re.compile(
    r"\b(?:bowl|pan|saucepan|pot|bath|basin|sink|glass|jug|cup|tray|dish|plate)s?\s+"
    r"(?:of|with|filled with)\s+(?:[a-z-]+\s+){0,4}water\b"
    r"|\b(?:ice|iced|cold|hot|warm)?[\s-]*water[\s-]+bath\b"
    r"|\b(?:over|above|in|into|under|with)\s+(?:(?:barely|gently|just|very)\s+)?"
    r"(?:simmering|running|iced?)\s+water\b"
)
_VERBS: Final = re.compile(
    r"^\W*(?:(?:lightly|generously)\s+)?(?:cream\s+(?=the\b|together\b|until\b)"
    r"|(?:butter|flour|oil|sugar)\s+(?=the\b|an?\b|your\b|and\s+(?:base-?)?(?:line|"
    r"flour|sugar)\b))"
)
"""`cream the butter`, `butter a tin`: said first, they are done and not weighed."""


def meant(clause: str) -> str:
    """A clause, in small letters, without what only sounds like an ingredient.

    >>> meant("until a sugar thermometer reads 118 c")
    'until a  reads 118 c'
    >>> meant("cream the butter and sugar"), meant("add the cream")
    ('the butter and sugar', 'add the cream')
    >>> meant("melt the chocolate over a pan of simmering water")
    'melt the chocolate over a '
    """
    for sounds in (_VERBS, _TOOLS, _BATHS):
        clause = sounds.sub("", clause)
    return clause
