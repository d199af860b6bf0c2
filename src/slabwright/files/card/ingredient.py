"""Lines that say how much of what: amount, name, size and notes, in that order."""

import re
from dataclasses import dataclass, replace
from typing import Final

from rapidfuzz import process

from slabwright.errors import Mistake, Span, Where
from slabwright.files.card import amounts as am
from slabwright.files.card import fruit
from slabwright.files.card.asides import put_aside
from slabwright.files.card.lines import LONGEST_NAME, MOST_G, CardLine
from slabwright.files.card.names import Names
from slabwright.files.card.naming import (
    HANDLING,
    is_known,
    main_words,
    name_and_notes,
    size_in,
)
from slabwright.files.card.outcome import NO, NotALine, Outcome
from slabwright.files.card.strength import read_with_strength
from slabwright.files.card.trailing import read_trailing
from slabwright.formula.line import Line
from slabwright.quantity.amount import Amount
from slabwright.quantity.numbers import Hostile, Number, number_at
from slabwright.quantity.units import PACK_WORDS, aliases, unit_named

_STATED: Final = re.compile(r"\s*=\s*(?P<rest>.*)$")
_HOW: Final = re.compile(r"\s*,?\s*(?P<how>weighed|measured)\s*$", re.IGNORECASE)
_LIST_MARK: Final = re.compile(
    r"(?:[•·*▪●○◦‣☐☑✓✔]|\[[ xX]?\]|[-–—](?=\s))\s*(?=[\d½¼¾⅓⅔⅛]|an?\s)"
)
"""A bullet before an amount; `-100 g` without a space stays a mistake."""
_WORD: Final = re.compile(r"\s*([^\W\d_]+)\.?\s+(?:of\s+)?")
_UNIT_WORD: Final = re.compile(r"\s*[\w.]*")
_EACH: Final = re.compile(
    r"\s*each\s+(?:of\s+)?(?P<names>\S.*\band\b.*)$", re.IGNORECASE
)
_BESIDE: Final = re.compile(
    r"\s*(?:,\s*(?:and\s+|plus\s+)?|;\s*|\bplus\b\s*|\band\b\s*|[+&]\s*)"
    r"(?=(?:\d|[½¼¾⅓⅔])|(?:an?|one|two|three|half)\s)",
    re.IGNORECASE,
)
_PARTS: Final = re.compile(r"[^\s,&](?:(?!\s+(?:and|&)\s|,).)*")
_MOST_BESIDE: Final = 20
_WEIGHT_WORDS: Final = re.compile(
    r"\s*(?:(?:peeled|drained|shelled|stoned|net|total|prepared|trimmed|in all|weight"
    r"|in|without|shells?|when|once|after|altogether)\s*)*",
    re.IGNORECASE,
)
"""What may stand behind a weight in a note: `350 g peeled weight`."""
_PATIENT_UNITS: Final = {"c": "cup", "C": "cup", "T": "tbsp", "Tb": "tbsp", "t": "tsp"}


_SAID_FOR: Final = {
    "mug": "cup", "mugs": "cup", "teacup": "cup", "glass": "cup", "spoon": "tbsp",
    "spoons": "tbsp", "spoonful": "tbsp", "spoonfuls": "tbsp",
}  # fmt: skip
"""Vessels that people measure with, and the unit that comes nearest."""


def read_ingredient(line: CardLine, names: Names) -> Outcome:
    """The ingredient lines that this line is, if it is any."""
    if mark := _LIST_MARK.match(line.text):
        inner = line.text[mark.end() :]
        line = replace(line, text=inner, column=line.column + mark.end())
    return read_with_strength(line, names, _read)


def _read(line: CardLine, names: Names) -> Outcome:
    body, stated, mistake = _stated(line)
    if mistake:
        return mistake
    outcome: Outcome = NO
    if stated is None:
        outcome = _two_things(body, names)
    if isinstance(outcome, NotALine):
        outcome = _amount_first(body, names)
    if isinstance(outcome, NotALine):
        outcome = read_trailing(body, names)
    if isinstance(outcome, tuple):
        return _finished(line, stated, outcome, names)
    if isinstance(outcome, NotALine) and stated and body.text:
        return _finished(line, stated, (_bare(body, names),), names)
    return outcome


def _two_things(line: CardLine, names: Names) -> Outcome:
    """`1 egg, plus 1 yolk`: two lines in one, if each of them reads as one."""
    joints = [joint for joint in _BESIDE.finditer(line.text) if joint.start()]
    if not joints or len(joints) > _MOST_BESIDE:
        return NO
    starts = [0, *(joint.end() for joint in joints)]
    ends = [*(joint.start() for joint in joints), len(line.text)]
    found: list[Line] = []
    for start, end in zip(starts, ends, strict=True):
        side = line.text[start:end].strip(" ,")
        one = replace(line, text=side, column=line.column + start)
        read = _amount_first(one, names)
        if not isinstance(read, tuple) or not is_known(read[0].name, names):
            return NO
        found.extend(read)
    if len(found) > 1 and found[1].name.casefold() in {
        "yolk",
        "yolks",
        "white",
        "whites",
    }:
        found[1] = replace(found[1], name=f"egg {found[1].name}")
    return tuple(found)


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
    if found := fruit.OF.match(line.text):
        part, at = fruit.part_name(found["part"]), found.end()
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
    if am.STEP_UNITS.match(line.text, number.end) and not _is_cup(line, number, names):
        return NO
    return _count(line, number, part, names)


def _count(line: CardLine, number: Number, part: str, names: Names) -> Outcome:
    """A bare number: an amount only straight before a known name."""
    rest = line.text[number.end :]
    skip = len(rest) - len(rest.lstrip())
    if split := am.split_number(line, number):
        what = f"'{split}' is two numbers."
        do = f"Write {split.replace(' ', '')} if it is one, or 2 x 250 g."
        where = Where(span=line.span(number.start, number.start + len(split)))
        return Mistake(what, do, where)
    handling = HANDLING.match(rest, skip)
    for start in (handling.end() if handling else skip, skip):
        name = rest[start:]
        single = main_words(name)
        known = fruit.is_known_part(single, part, names) if part else False
        known = known or bool(fruit.whole_with_part(name, names))
        if known or is_known(name, names):
            amount = am.counted(line, number)
            reading = am.Reading((amount,), None, 0, number.end + start)
            return _named(line, reading, part, names, size_in(rest[:start]))
    return _unknown_unit(line, number, names)


def _is_cup(line: CardLine, number: Number, names: Names) -> bool:
    """Whether the C behind a number is a pasted recipe's cup, and no Celsius."""
    word = _WORD.match(line.text, number.end)
    return bool(
        line.is_patient
        and word
        and word.group(1) == "C"
        and is_known(line.text[word.end() :], names)
    )


def _unknown_unit(line: CardLine, number: Number, names: Names) -> Outcome:
    """A word before a known name that is no unit: a mistake, and the nearest units."""
    rest = line.text[number.end :]
    word = _WORD.match(rest)
    if word is None:
        return NO
    said = word.group(1)
    is_patients = line.is_patient and said in _PATIENT_UNITS
    if not is_patients and not is_known(rest[word.end() :], names):
        return NO
    if is_patients:
        amount = am.with_unit(
            line, number, _PATIENT_UNITS[said], number.end + word.end(1)
        )
        reading = am.Reading((amount,), None, 0, number.end + word.end())
        return _named(line, reading, "", names)
    span = line.span(number.end + word.start(1), number.end + word.end(1))
    american = _PATIENT_UNITS.get(said) or _SAID_FOR.get(said.casefold(), "")
    near = (american,) if american else _units_like(said)
    what = f"'{said}' is no unit that a kitchen here knows."
    do = f"Write {' or '.join(near)}, or grams." if near else "Write grams."
    return Mistake(what, do, Where(span=span), near)


def _named(
    line: CardLine, reading: am.Reading, part: str, names: Names, size: str = ""
) -> Outcome:
    """The line whose amount was read: now its name, size and notes."""
    rest = line.text[reading.end :].strip(" ,")
    start = line.text.find(rest, reading.end)
    if not rest:
        return NO
    if each := _EACH.match(line.text, reading.end):
        apart = _each_of(line, reading, each, names)
        if apart:
            return apart
        where = Where(span=line.span(each.start("names"), each.end("names")))
        what = f"'{each['names']}' is more than one thing on one line."
        return Mistake(what, "Write a line for each.", where)
    if reading.amounts[0].unit.name in PACK_WORDS and reading.amounts[0].size is None:
        reading, rest = _trailing_size(line, reading, rest, start)
    whole = ""
    if reading.amounts[0].unit.name == "each" and not part:
        whole = fruit.whole_with_part(rest, names)
    name, notes, shift = name_and_notes(rest, names)
    if whole:
        name, notes, shift = whole, (rest[len(whole) :].strip(" ,()"),), 0
    start += shift
    if reading.second is None and reading.amounts[0].grams is None:
        reading = replace(reading, second=_weight_noted(line, notes))
    found = Line(
        line.text,
        name,
        line.span(),
        line.span(start, start + len(name)),
        reading.amounts,
        second=reading.second,
        size=size or size_in(", ".join(notes)),
        part=part,
        notes=notes,
    )
    return (found,)


def _each_of(
    line: CardLine, reading: am.Reading, each: re.Match[str], names: Names
) -> tuple[Line, ...]:
    """`75 g each of walnuts and pecans`: as many of each, if all are known."""
    at = each.start("names")
    found: list[Line] = []
    for part in _PARTS.finditer(each["names"]):
        name = re.sub(r"^(?:and|&)\s+", "", part.group().strip())
        if not names.is_known(name):
            return ()
        begin = at + each["names"].find(name)
        span = line.span(begin, begin + len(name))
        found.append(Line(line.text, name, line.span(), span, reading.amounts))
    return tuple(found)


def _weight_noted(line: CardLine, notes: tuple[str, ...]) -> Amount | None:
    """The weight of `6 eggs (300 g)`, where a note is nothing else."""
    for note in notes:
        inner = replace(line, text=note, column=line.column + line.text.find(note))
        found = am.amount_at(inner)
        if not isinstance(found, am.Reading):
            continue
        if not _WEIGHT_WORDS.fullmatch(note, found.end):
            continue
        if found.amounts[0].grams is not None:
            return found.amounts[0]
    return None


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
        out.extend(fruit.parts_of(put_aside(done), names))
    return _sound(tuple(out))


def _sound(lines: tuple[Line, ...]) -> Outcome:
    for line in lines:
        where = Where(span=line.name_span)
        if len(line.name) > LONGEST_NAME:
            what = f"The name has {len(line.name)} characters; at most {LONGEST_NAME}."
            return Mistake(what, "Move what it is for to a note.", where)
        for amount in filter(None, (*line.amounts, line.second)):
            at = Where(span=amount.span)
            weighs = amount.value if amount.grams is None else amount.grams
            if amount.value <= 0 or weighs == 0:
                what = f"The amount is {min(amount.value, weighs):g}."
                return Mistake(what, "Give what you weigh, above 0.", at)
            if (wrong := absurd(weighs, at)) is not None:
                return wrong
    return lines


def absurd(value: float, where: Where) -> Mistake | None:
    """The mistake, if no kitchen weighs or counts this much [g]."""
    if 0 < value <= MOST_G:
        return None
    what = f"The amount is {value:,.10g}, and no slab takes that."
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
    if unit is None and not is_known(line.text[odd.end :], names):
        return NO
    where = Where(span=line.span(odd.start, odd.end))
    what = f"The amount is {odd.text}."
    return Mistake(what, "Give what you weigh, above 0 g and under a tonne.", where)


def _bare(line: CardLine, names: Names) -> Line:
    name, notes, at = name_and_notes(line.text, names)
    span = line.span(at, at + len(name))
    return Line(line.text, name, line.span(), span, notes=notes)


def _trailing_size(
    line: CardLine, reading: am.Reading, rest: str, start: int
) -> tuple[am.Reading, str]:
    """`1 jar damson jam 340 g`, `1 tin condensed milk (397 g)`: the pack's own size."""
    bracket = re.search(r"\s*\(\s*([^()]+?)(?:\s+each)?\s*\)", rest) or re.search(
        r"\s*,\s*([^,]+?)\s+each\s*$", rest
    )
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
    amount = am.sized(reading.amounts[0], size.amounts[0])
    return replace(reading, amounts=(amount,)), f"{head}{tail}".strip(" ,")


def _units_like(word: str) -> tuple[str, ...]:
    """Units that are written nearly so, each by its one name."""
    near = process.extract(word.casefold(), aliases(), limit=8, score_cutoff=70)
    found = [
        unit.name
        for alias, _, _ in near
        if alias[0] == word[0].casefold() and (unit := unit_named(alias))
    ]
    return tuple(dict.fromkeys(found))[:3]
