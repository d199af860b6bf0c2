"""Lines that say how much of what: amount, name, size and notes, in that order."""

import re
from dataclasses import dataclass, replace
from typing import Final

from rapidfuzz import process

from slabwright.errors import Mistake, Span, Where
from slabwright.files.card import amounts as am
from slabwright.files.card.lines import LONGEST_NAME, CardLine
from slabwright.files.card.names import Names
from slabwright.formula.line import Line
from slabwright.quantity.amount import Amount
from slabwright.quantity.numbers import Hostile, Number, number_at
from slabwright.quantity.units import PACK_WORDS, aliases, unit_named

MOST_G: Final = 1e6
"""A tonne: more than any line of a slab weighs."""

_STATED: Final = re.compile(r"\s*=\s*(?P<rest>.*)$")
_HOW: Final = re.compile(r"\s*,?\s*(?P<how>weighed|measured)\s*$", re.IGNORECASE)
_PART: Final = re.compile(
    r"(?:finely\s+|freshly\s+)?(?:grated\s+|squeezed\s+)?"
    r"(?P<part>juice\s+and\s+(?:grated\s+)?zest|zest\s+and\s+juice|juice|zest|rind)"
    r"\s+(?:of|from)\s+(?=[\w½¼¾])",
    re.IGNORECASE,
)
_ASIDE: Final = re.compile(
    r"\b(?P<why>to taste|as needed|as required|(?:extra )?for (?:greasing|the tin"
    r"|the tins|the pan|lining|rolling|rolling out|the worktop|the work ?top|flouring"
    r"|oiling|buttering|brushing the tin|dusting the tin)[\w ]*|to serve|for serving"
    r"|to grease[\w ]*|to line[\w ]*)",
    re.IGNORECASE,
)
_SIZES: Final = re.compile(
    r"\b(extra[- ]large|very[- ]large|XL|large|medium|small|jumbo)\b", re.IGNORECASE
)
_SIZE_NAMES: Final = {"extra large": "very large", "xl": "very large"}
_HANDLING: Final = re.compile(
    r"(?:(?:US|UK|free[- ]range|organic|fresh|ripe|unwaxed|whole|raw|cold|firm|soft"
    r"|good|plump|big|extra[- ]large|very[- ]large|large|medium|small|XL|jumbo)\s+)+",
    re.IGNORECASE,
)
_ODD_ENDING: Final = re.compile(
    r"[\s:]+(?P<n>[-−]\d[\d.,]*|nan|[-−+]?inf)\s*[a-z]{1,5}\s*$", re.IGNORECASE
)
_COLON: Final = re.compile(r"\s*[:=]\s*|\s+[-–—]\s+")
_FRUIT_PART: Final = re.compile(
    r"\b(juice(?:d)?|zest(?:ed)?|rind)\b(?:\s*(?:and|&)\s*(?:grated\s+)?(juice|zest))?",
    re.IGNORECASE,
)
_NOTES_BEGIN: Final = re.compile(r"(?<=[a-zA-Z])\s*[,(]")
_WORD: Final = re.compile(r"\s*([^\W\d_]+)\.?\s+(?:of\s+)?")
_UNIT_WORD: Final = re.compile(r"\s*[\w.]*")
_NOTE_JOINT: Final = re.compile(r"\s*(?:,|;|\(|\)|\s[-–—]\s)\s*")


@dataclass(frozen=True, slots=True)
class NotALine:
    """This is no ingredient line: it is a step, or something else."""


NO: Final = NotALine()
Outcome = tuple[Line, ...] | Mistake | NotALine
"""Ingredient lines (two for `juice and zest of …`), a mistake, or neither."""


def read_ingredient(line: CardLine, names: Names) -> Outcome:
    """The ingredient lines that this line is, if it is any."""
    body, stated, mistake = _stated(line)
    if mistake:
        return mistake
    outcome = _amount_first(body, names)
    if isinstance(outcome, NotALine):
        outcome = _name_first(body, names)
    if not isinstance(outcome, tuple):
        if isinstance(outcome, NotALine) and stated and body.text:
            return _finished(line, stated, (_bare(body, names),), names)
        return outcome
    return _finished(line, stated, outcome, names)


# --- the pieces of a line --------------------


@dataclass(frozen=True, slots=True)
class _Stated:
    grams: float
    is_measured: bool
    span: Span


def _stated(line: CardLine) -> tuple[CardLine, _Stated | None, Mistake | None]:
    """The line without its trailing `= N g`, and what that says."""
    found = _STATED.search(line.text)
    if not found or not line.text[: found.start()].strip():
        return line, None, None
    start = found.start("rest")
    how = _HOW.search(line.text, start)
    end = how.start() if how else len(line.text)
    body = replace(line, text=line.text[: found.start()].rstrip())
    number = number_at(line.text, start)
    at = Where(span=line.span(start))
    if isinstance(number, Number):
        unit = unit_named(line.text[number.end : end].strip())
        if unit and unit.kind == "mass":
            grams = number.value * unit.sizes["metric"].value
            if (wrong := absurd(grams, at)) is not None:
                return body, None, wrong
            return body, _Stated(grams, bool(how), line.span(start, end)), None
    if isinstance(number, Number | Hostile):
        what = f"After = stands '{line.text[start:end]}', which is no weight."
        return body, None, Mistake(what, "Write what it weighs: = 300 g.", at)
    return line, None, None


def _amount_first(line: CardLine, names: Names) -> Outcome:
    part, at = "", 0
    if found := _PART.match(line.text):
        part, at = _part_name(found.group("part")), found.end()
    reading = am.amount_at(line, at)
    if isinstance(reading, am.Odd):
        return _hostile(line, reading.hostile, names)
    if reading is not None:
        return _named(line, reading, part, names)
    number = am.bare_number_at(line, at)
    if isinstance(number, Hostile):
        return _hostile(line, number, names)
    if number is None:
        return NO
    if am.STEP_UNITS.match(line.text, number.end):
        return NO
    return _count(line, number, part, names)


def _count(line: CardLine, number: Number, part: str, names: Names) -> Outcome:
    """A bare number: an amount only straight before a known name."""
    rest = line.text[number.end :]
    skip = len(rest) - len(rest.lstrip())
    handling = _HANDLING.match(rest, skip)
    for start in (handling.end() if handling else skip, skip):
        if names.length_of_name(rest[start:]) or names.is_known(_main(rest[start:])):
            amount = am.counted(line, number)
            reading = am.Reading((amount,), None, 0, number.end + start)
            size = _SIZES.search(rest, 0, start)
            return _named(line, reading, part, names, _size_name(size))
    word = _WORD.match(rest)
    if word and names.is_known(_main(rest[word.end() :])):
        column = line.span(number.end + word.start(1), number.end + word.end(1))
        near = (
            ("cup",) if word.group(1).casefold() == "c" else _units_like(word.group(1))
        )
        what = f"'{word.group(1)}' is no unit that a kitchen here knows."
        do = f"Write {' or '.join(near)}, or grams." if near else "Write grams."
        return Mistake(what, do, Where(span=column), near)
    return NO


def _named(
    line: CardLine, reading: am.Reading, part: str, names: Names, size: str = ""
) -> Outcome:
    """The line whose amount was read: now its name, size and notes."""
    rest = line.text[reading.end :].strip(" ,")
    start = line.text.find(rest, reading.end)
    if not rest:
        return NO
    if reading.amounts[0].unit.name in PACK_WORDS and reading.amounts[0].size is None:
        reading, rest = _trailing_size(line, reading, rest, start)
    name, notes = _name_and_notes(rest, names)
    found = Line(
        line.text,
        name,
        line.span(),
        line.span(start, start + len(name)),
        reading.amounts,
        second=reading.second,
        size=size or _size_name(_SIZES.search(", ".join(notes))),
        part=part,
        notes=notes,
    )
    return (found,)


def _name_first(line: CardLine, names: Names) -> Outcome:
    """`butter 170 g`, `butter: 170 g`, `fine salt to taste`, `butter for greasing`."""
    aside = _ASIDE.search(line.text)
    if aside and names.is_known(_main(line.text[: aside.start()])):
        name = line.text[: aside.start()].strip(" ,(")
        span = line.span(0, len(name))
        return (Line(line.text, name, line.span(), span, aside=aside.group("why")),)
    odd = _ODD_ENDING.search(line.text)
    if odd and names.is_known(line.text[: odd.start()].strip(" :")):
        where = Where(span=line.span(odd.start("n"), odd.end("n")))
        what = f"The amount is {odd['n']}."
        return Mistake(what, "Give what you weigh, above 0 g and under a tonne.", where)
    stop = _end_of_amount(line)
    reading = am.amount_ending(line, stop)
    if reading is None:
        return NO
    head = line.text[: reading.start]
    joint = _COLON.search(head.rstrip() + " " if head.endswith(" ") else head)
    is_labelled = bool(joint) and head.rstrip().endswith((":", "-", "–", "—"))
    name = head.rstrip(" :-–—,(")
    if not name or not (is_labelled or names.is_known(_main(name))):
        return NO
    if reading.amounts[0].unit.kind == "count" and not names.is_known(_main(name)):
        return NO
    name_only, notes = _name_and_notes(name, names)
    after = tuple(n for n in (line.text[stop:].strip(" ,()"),) if n)
    start = line.text.find(name_only)
    found = Line(
        line.text,
        name_only,
        line.span(),
        line.span(start, start + len(name_only)),
        reading.amounts,
        second=reading.second,
        size=_size_name(_SIZES.search(", ".join((*notes, *after)))),
        notes=(*notes, *after),
    )
    return (found,)


def _finished(
    line: CardLine, stated: _Stated | None, found: tuple[Line, ...], names: Names
) -> Outcome:
    """Weight after `=`, asides and fruit parts put in; names and weights checked."""
    out: list[Line] = []
    for one in found:
        done = replace(one, text=line.text, span=line.span())
        if stated:
            done = replace(
                done, stated_g=stated.grams, is_measured=stated.is_measured,
                stated_span=stated.span,
            )  # fmt: skip
        aside = _ASIDE.search(", ".join((done.name, *done.notes)))
        if aside and not _is_extra(done, aside):
            name = re.split(r"\s*\b" + re.escape(aside.group("why")), done.name)[0]
            done = replace(done, aside=aside.group("why"), name=name or done.name)
        out.extend(_fruit_parts(done, names))
    return _sound(tuple(out))


def _is_extra(line: Line, aside: re.Match[str]) -> bool:
    """`170 g butter, plus extra for greasing`: only the extra stays out."""
    text = ", ".join((line.name, *line.notes))
    return bool(re.search(r"\b(plus|and|with)\s+(a little\s+)?(extra|more)", text)) or (
        aside.group("why").startswith("extra ") and bool(line.amounts)
    )


def _sound(lines: tuple[Line, ...]) -> Outcome:
    for line in lines:
        where = Where(span=line.name_span)
        if len(line.name) > LONGEST_NAME:
            what = f"The name has {len(line.name)} characters; at most {LONGEST_NAME}."
            return Mistake(what, "Move what it is for to a note.", where)
        for amount in line.amounts:
            at = Where(span=amount.span)
            if amount.value <= 0:
                what = f"The amount is {amount.value:g}."
                return Mistake(what, "Give what you weigh, above 0.", at)
            grams = amount.grams
            if (wrong := absurd(grams if grams else amount.value, at)) is not None:
                return wrong
    return lines


def absurd(value: float, where: Where) -> Mistake | None:
    """The mistake, if no kitchen weighs or counts this much [g]."""
    if 0 < value <= MOST_G:
        return None
    what = f"The amount is {value:g}, and no slab takes that."
    return Mistake(what, "Give what you weigh, above 0 g and under a tonne.", where)


# --- small parts --------------------


def _hostile(line: CardLine, odd: Hostile, names: Names) -> Outcome:
    """`-40 g flour`, `nan g flour`: a mistake; `-18 C freezer`: a step."""
    if am.STEP_UNITS.match(line.text, odd.end) or re.search(r"[CF°]$", odd.text):
        return NO
    after = _UNIT_WORD.match(line.text, odd.end)
    unit = unit_named(after.group().strip()) if after else None
    glued = re.search(r"[a-z]+$", odd.text, re.IGNORECASE)
    if unit is None and glued:
        unit = unit_named(glued.group())
    if unit is None and not names.is_known(_main(line.text[odd.end :])):
        return NO
    where = Where(span=line.span(odd.start, odd.end))
    what = f"The amount is {odd.text}."
    return Mistake(what, "Give what you weigh, above 0 g and under a tonne.", where)


def _bare(line: CardLine, names: Names) -> Line:
    name, notes = _name_and_notes(line.text, names)
    return Line(line.text, name, line.span(), line.span(0, len(name)), notes=notes)


def _trailing_size(
    line: CardLine, reading: am.Reading, rest: str, start: int
) -> tuple[am.Reading, str]:
    """`1 jar damson jam 340 g`, `1 tin condensed milk (397 g)`: the pack's own size."""
    bracket = re.search(r"\s*\(\s*([^()]+?)(?:\s+each)?\s*\)", rest)
    if bracket:
        stop, head = start + bracket.end(1), rest[: bracket.start()]
        tail = rest[bracket.end() :]
    else:
        comma = rest.find(",")
        at_end = am.amount_ending(line, start + len(rest))
        head_end = len(rest) if comma < 0 or at_end else comma
        stop, head, tail = start + head_end, rest[:head_end], rest[head_end:]
    size = am.amount_ending(line, stop)
    if size is None or size.start <= start or len(size.amounts) != 1:
        return reading, rest
    if size.amounts[0].unit.kind == "count":
        return reading, rest
    if not bracket:
        head = line.text[start : size.start].strip(" ,")
    amount: Amount = am.sized(reading.amounts[0], size.amounts[0])
    return replace(reading, amounts=(amount,)), f"{head}{tail}".strip(" ,")


def _name_and_notes(text: str, names: Names) -> tuple[str, tuple[str, ...]]:
    """Where the name ends and its notes begin."""
    known = names.length_of_name(text)
    joint = _NOTE_JOINT.search(text, known)
    end = joint.start() if joint else len(text)
    name = text[:end].strip(" ,")
    notes = tuple(n.strip() for n in _NOTE_JOINT.split(text[end:]) if n.strip())
    return name or text.strip(), notes


def _main(text: str) -> str:
    """What stands before the first comma or bracket, for a quick look."""
    return re.split(r"[,(;:]", text.strip(), maxsplit=1)[0].strip()


def _end_of_amount(line: CardLine) -> int:
    """Where an amount that follows the name would end: before notes."""
    comma = _NOTES_BEGIN.search(line.text)
    while comma and not re.search(r"\d", line.text[: comma.start()]):
        comma = _NOTES_BEGIN.search(line.text, comma.end())
    return comma.start() if comma else len(line.text)


def _size_name(found: re.Match[str] | None) -> str:
    if found is None:
        return ""
    plain = found.group(1).casefold().replace("-", " ")
    return _SIZE_NAMES.get(plain, plain)


def _part_name(words: str) -> str:
    plain = words.casefold().replace("rind", "zest")
    return "+".join(part for part in ("juice", "zest") if part in plain)


def _fruit_parts(line: Line, names: Names) -> tuple[Line, ...]:
    """Only the part of a fruit that goes in; two lines for juice and zest."""
    part = line.part
    if not part and line.amounts and line.amounts[0].unit.name == "each":
        found = _FRUIT_PART.search(", ".join(line.notes))
        part = _part_name(found.group()) if found else ""
    single = line.name.rstrip("s")
    parts = [p for p in part.split("+") if p and names.is_known(f"{single} {p}")]
    return tuple(replace(line, part=p) for p in parts) or (replace(line, part=""),)


def _units_like(word: str) -> tuple[str, ...]:
    near = process.extract(word.casefold(), aliases(), limit=3, score_cutoff=60)
    return tuple(name for name, _, _ in near)
