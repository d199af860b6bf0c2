"""Lines whose amount stands behind the name: `butter 170 g`, `eggs x 2`."""

import re
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.files.card import amounts as am
from slabwright.files.card.asides import ASIDE
from slabwright.files.card.lines import CardLine
from slabwright.files.card.names import Names
from slabwright.files.card.naming import main_words, name_and_notes, size_in
from slabwright.files.card.outcome import NO, Outcome
from slabwright.formula.line import Line
from slabwright.quantity.numbers import Number

_ODD_ENDING: Final = re.compile(
    r"[\s:]+(?P<n>[-−]\d[\d.,]*|nan|[-−+]?inf)\s*[a-z]{1,5}\s*$", re.IGNORECASE
)
_NUMBER_LAST: Final = re.compile(r"(?:\s*,)?\s+(?:x\s*)?(?P<n>\d{1,3})$", re.IGNORECASE)
_LAST_BRACKET: Final = re.compile(r"\(\s*(?P<in>[^()]*?\d[^()]*?)\s*\)$")
_LABELLED: Final = re.compile(r"[^\W\d][^:]{1,60}:\s*(?=\.?\d|[½¼¾⅓⅔⅛])")
_GAP: Final = re.compile(r"(?:[\s,:…-]|\.(?!\d)|(?<=\.)\.)*")
"""Between a name and its amount, dots too; but `.5` is a number."""
_A_LITTLE: Final = re.compile(
    r"(?:a little|a bit of|some|enough|extra|more|a few)\s+", re.IGNORECASE
)
_COLON: Final = re.compile(r"\s*[:=]\s*|\s+[-–—]\s+")
_NOTES_BEGIN: Final = re.compile(r"(?<=[a-zA-Z])\s*[,(]")


def read_trailing(line: CardLine, names: Names) -> Outcome:
    """`butter 170 g`, `butter: 170 g`, `fine salt to taste`, `butter for greasing`."""
    aside = ASIDE.search(line.text)
    little = _A_LITTLE.match(line.text)
    begin = little.end() if little else 0
    if aside and names.is_known(main_words(line.text[begin : aside.start()])):
        name = line.text[begin : aside.start()].strip(" ,(")
        span = line.span(0, len(name))
        return (Line(line.text, name, line.span(), span, aside=aside["why"]),)
    odd = _ODD_ENDING.search(line.text)
    if odd and names.is_known(line.text[: odd.start()].strip(" :")):
        where = Where(span=line.span(odd.start("n"), odd.end("n")))
        what = f"The amount is {odd['n']}."
        return Mistake(what, "Give what you weigh, above 0 g and under a tonne.", where)
    bracket = _LAST_BRACKET.search(line.text)
    stop = bracket.end("in") if bracket else _end_of_amount(line)
    reading = am.amount_ending(line, stop)
    if reading is None and (labelled := _LABELLED.match(line.text)):
        told = am.amount_at(line, labelled.end())
        if isinstance(told, am.Reading):
            reading, stop = told, told.end
    if reading is None and (known := names.length_of_name(line.text)):
        gap = _GAP.match(line.text, known)
        told = am.amount_at(line, gap.end() if gap else known)
        if isinstance(told, am.Reading):  # butter 250 g cold
            reading, stop = told, told.end
    if reading is None:
        return _number_last(line, names)
    head = line.text[: reading.start]
    joint = _COLON.search(head.rstrip() + " " if head.endswith(" ") else head)
    is_labelled = bool(joint) and head.rstrip().endswith((":", "-", "–", "—"))
    name = head.rstrip(" :-–—,(.")
    if not name or not (is_labelled or names.is_known(main_words(name))):
        return NO
    if reading.amounts[0].unit.kind == "count" and not names.is_known(main_words(name)):
        return NO
    name_only, notes, _ = name_and_notes(name, names)
    after = tuple(n for n in (line.text[stop:].strip(" ,()"),) if n)
    start = line.text.find(name_only)
    found = Line(
        line.text,
        name_only,
        line.span(),
        line.span(start, start + len(name_only)),
        reading.amounts,
        second=reading.second,
        size=size_in(", ".join((*notes, *after))),
        notes=(*notes, *after),
    )
    return (found,)


def _number_last(line: CardLine, names: Names) -> Outcome:
    """`eggs 2`, `eggs x 2`: a known name and a number, if it is sold by the piece."""
    found = _NUMBER_LAST.search(line.text)
    if found is None or not names.is_known(line.text[: found.start()]):
        return NO
    value = float(found["n"])
    number = Number(value, value, value, found.start("n"), found.end("n"))
    name = line.text[: found.start()].strip(" ,")
    amount = am.counted(line, number)
    span = line.span(0, len(name))
    return (Line(line.text, name, line.span(), span, (amount,), size=size_in(name)),)


def _end_of_amount(line: CardLine) -> int:
    """Where an amount that follows the name would end: before notes."""
    comma = _NOTES_BEGIN.search(line.text)
    while comma and not re.search(r"\d", line.text[: comma.start()]):
        comma = _NOTES_BEGIN.search(line.text, comma.end())
    return comma.start() if comma else len(line.text)
