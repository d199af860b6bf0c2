"""Questions that stand on a card as comments: open until the maker deletes them."""

import re
from dataclasses import replace
from typing import Final

from slabwright.files.card.draft import Draft
from slabwright.files.card.lines import CardLine
from slabwright.finding import Ask, Reading

_ASK: Final = re.compile(r"#\s*ask:\s*(?P<question>\S.*?)\s*$", re.IGNORECASE)
_READING: Final = re.compile(r"#\s{2,}(?P<text>[^:#]+):\s+(?P<does>\S.*?)\s*$")


def keep_asked(line: CardLine, draft: Draft) -> None:
    """Take up `# ask: How much …?`, or a reading on the line below it."""
    comment = line.raw.strip()
    if asked := _ASK.fullmatch(comment):
        where = draft.block.name if draft.block else draft.name
        span = replace(line.span(), end=line.column + len(comment))
        draft.asks.append(Ask(where, asked["question"], (), span))
        draft.asking_line = line.number
        return
    said = _READING.fullmatch(comment)
    if said and draft.asks and line.number == draft.asking_line + 1:
        last = draft.asks[-1]
        reading = Reading(said["text"].strip(), said["does"])
        draft.asks[-1] = replace(last, readings=(*last.readings, reading))
        draft.asking_line = line.number
