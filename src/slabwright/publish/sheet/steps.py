"""A step for a sheet: the maker's words, what matters large, blanks to write in.

A paragraph is a list of runs, a run its manner and its text: plain, `b` bold, `big`,
`blank` a line to
write on behind its text, `blanks` several that stay together.
"""

import re
from collections.abc import Iterable, Iterator
from math import floor
from typing import Final

from slabwright.figure import Figure
from slabwright.formula.heating import first_word, is_boil, is_oven
from slabwright.formula.step import Band, Step
from slabwright.publish import words
from slabwright.spec.bench import BenchStep
from slabwright.spec.probe import Reading

Run = list[str]
Paragraph = list[Run]

FIRST_LOOK: Final = 0.9
"""Look when so much of the shortest time is over. Common practice, no source."""
_LEAST_LOOK_MIN: Final = 5.0
_DEGREES: Final = re.compile(r"(\d)\s*°?\s?C\b")
_DASH: Final = re.compile(r"(?<=\d)\s?[-–]\s?(?=\d)")


def paragraphs(bench: BenchStep) -> Iterator[Paragraph]:
    """Everything that is said about one step."""
    step = bench.step
    if step is None:
        return
    what, clauses = _what(bench, step), list(_clauses(bench, step))
    is_long = is_oven(step) or bench.pan is not None
    if not is_long:
        yield _joined([what, *clauses])
        return
    yield _joined([what, *_core(bench, step), *_in_pan(bench)])
    if bench.pan is not None and bench.pan.reads_g is None:
        bare = words.grams(bench.pan.contents_g.number)
        yield [["blank", "pan"], ["", " "], ["blank", f"+ {bare} ="]]
    if bench.lower_here_C is not None:
        lower = f"{bench.lower_here_C.number:.1f} °C"
        yield [["", "Water boils lower here: a card from the sea's level means "],
               ["b", lower], ["", " less."]]  # fmt: skip
    blank = ["blanks", "in, out"] if is_oven(step) else ["blank", "off the ring"]
    yield [*_capital(_joined(clauses)), ["", "  "], blank]


def _joined(parts: Iterable[Paragraph]) -> Paragraph:
    """Parts of a sentence with commas between, and a full stop."""
    said: Paragraph = []
    for part in filter(None, parts):
        begins = part[0][1]
        is_part_of_it = begins.startswith(("and ", "to ")) or (
            begins.startswith("until") and len(said) == 1
        )
        said += [["", " " if is_part_of_it else ", "], *part] if said else part
    ends_itself = said[-1][1].endswith(".") if said else True
    return said if ends_itself else [*said, ["", "."]]


def _capital(said: Paragraph) -> Paragraph:
    if not said:
        return []
    (manner, text), *more = said
    return [[manner, text[:1].upper() + text[1:]], *more]


def _what(bench: BenchStep, step: Step) -> Paragraph:
    does = step.does[:1].upper() + step.does[1:]
    if is_oven(step) and step.at_C is not None:
        fan = " fan" if step.fan else ""
        also = f" ({band(step.fan_C)} °C fan)" if step.fan_C is not None else ""
        return [["", f"{does} at "], ["big", f"{band(step.at_C)} °C{fan}{also}"]]
    large = is_boil(step) or first_word(step) == "pour"
    if bench.ends_at is not None and not is_oven(step):
        joint = ", stop at " if is_boil(step) else " to "
        return [["", does + joint], *_reading(bench.ends_at, large=large)]
    if bench.is_at is not None:
        return [["", f"{does} at "], *_reading(bench.is_at, large=large)]
    return [["", does]]


def _reading(one: Reading, *, large: bool) -> Paragraph:
    manner = "big" if large else "b"
    true = band(one.true_C)
    if one.probe_C is None:
        says = [["", f" ({one.says})"]] if one.says else []
        return [[manner, f"{true} °C"], *says]
    return [[manner, f"{band(one.probe_C)} °C"], ["", f" our probe ({true} true)"]]


def _core(bench: BenchStep, step: Step) -> Iterator[Paragraph]:
    """What the inside of a bake must reach."""
    if bench.ends_at is not None and is_oven(step):
        word = "core " if "core" in step.until else "until "
        yield [["", word], *_reading(bench.ends_at, large=True)]


def _in_pan(bench: BenchStep) -> Iterator[Paragraph]:
    pan = bench.pan
    if pan is None:
        return
    contents = words.grams(pan.contents_g.number)
    to = "to " if bench.ends_at is None else "and "
    shown = pan.contents_g if pan.reads_g is None else pan.reads_g
    likely = _likely(shown)
    if pan.reads_g is None or pan.empty_g is None:
        yield [["", to], ["big", f"{contents} g"], ["", f" in the pan{likely}"]]
        return
    reads, empty = words.grams(pan.reads_g.number), words.grams(pan.empty_g)
    yield [["", to], ["big", f"{reads} g"],
           ["", f" with the pan ({empty} + {contents}){likely}"]]  # fmt: skip


def _likely(grams: Figure) -> str:
    """Between which weights it likely lies, where that is not as the card says."""
    if grams.low is None or grams.high is None:
        return ""
    return f", likely {words.grams(grams.low)} to {words.grams(grams.high)}"


def _clauses(bench: BenchStep, step: Step) -> Iterator[Paragraph]:
    """How long, the cue, what it waits for, and what stays the maker's words."""
    if step.minutes is not None:
        look, likely = _first_look(step, step.minutes), ["b", time(step.minutes)]
        first: Paragraph = [["", "look at "], ["b", look], ["", ", likely "]]
        yield [*first, likely] if look else [likely]
    if until := _until(step):
        yield [["", f"until {until}"]]
    yield from ([["b", wait]] for wait in _waits(bench, step))
    for part in step.rest:
        yield [["", typed(part)]]
    for place in step.places:
        if place.casefold() not in step.does.casefold():
            yield [["", place]]
    if step.then:
        yield [["", f"then {typed(step.then)}"]]


def _until(step: Step) -> str:
    """The cue in the maker's words; a temperature that stands above is not told twice.

    What is under a temperature is told here, and nowhere else.
    """
    if step.to_C is not None and re.search(r"\d\s*°?\s?C\b", step.until):
        return ""
    if not step.until and step.under_C is not None:
        return f"under {step.under_C:g} °C"
    return typed(step.until)


def _waits(bench: BenchStep, step: Step) -> Iterator[str]:
    if step.within is not None:
        whole = " of ".join(filter(None, (step.within.step, step.within.layer)))
        limit = time(Band(step.within.minutes, step.within.minutes))
        yield f"within {limit}" + (f" of {whole}" if whole else "")
    if bench.over is not None and bench.over.probe_C is not None:
        shown, true = band(bench.over.probe_C), band(bench.over.true_C)
        yield f"over {shown} °C our probe ({true} true)"
    elif bench.over is not None:
        says = f" ({bench.over.says})" if bench.over.says else ""
        yield f"over {band(bench.over.true_C)} °C{says}"
    if step.when is not None:
        who = step.when.layer or "it"
        yield f"when {who} is {step.when.side} {step.when.temperature_C:g} °C"


def _first_look(step: Step, minutes: Band) -> str:
    if minutes.low < _LEAST_LOOK_MIN or not (is_oven(step) or is_boil(step)):
        return ""
    return time(Band(*[float(floor(minutes.low * FIRST_LOOK))] * 2))


def band(one: Band) -> str:
    """Temperatures as a probe or an oven shows them.

    >>> band(Band(118, 118)), band(Band(82.6, 84.2))
    ('118', '83 to 84')
    """
    low, high = f"{one.low:.0f}", f"{one.high:.0f}"
    return low if low == high else f"{low} to {high}"


def time(one: Band) -> str:
    """A time as a clock is read.

    >>> time(Band(16, 22)), time(Band(240, 240)), time(Band(0.5, 0.5))
    ('16 to 22 min', '4 h', '30 s')
    """
    unit, each = "min", 1.0
    if one.low >= 1440 and one.low % 1440 == 0 and one.high % 1440 == 0:
        unit, each = ("day" if one.high == 1440 else "days"), 1440.0
    elif one.low >= 120 and one.low % 30 == 0 and one.high % 30 == 0:
        unit, each = "h", 60.0
    elif one.high < 1:
        unit, each = "s", 1 / 60
    low, high = f"{one.low / each:.3g}", f"{one.high / each:.3g}"
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


def typed(text: str) -> str:
    """The maker's words with a degree sign and a dash as they are set."""
    return _DASH.sub("–", _DEGREES.sub(r"\1 °C", text))
