"""Card words inside a block: kind, into, ends, loses, reads, deep, density."""

import re
from dataclasses import dataclass
from typing import Final, Literal

from slabwright.errors import Mistake, Where
from slabwright.files.card.lines import MOST_G, CardLine
from slabwright.files.card.names import VESSEL_WORDS, Names
from slabwright.files.card.sizes import MM, number_of
from slabwright.formula.component import Deep, Density, Ends, Into, Loses, Reads
from slabwright.formula.kinds import Kind, kind_named
from slabwright.quantity.units import unit_named

_HOW: Final = re.compile(r"\s*,?\s*\b(?:weighed|measured)\b\s*$", re.IGNORECASE)
_ABOUT: Final = re.compile(
    r"^(?:about|approx\.?|roughly|around|at|~|c\.)\s*", re.IGNORECASE
)
_VALUE: Final = re.compile(
    r"(?P<n>[-−+]?(?:\d[\d,]*(?:\.\d+)?|\.\d+)(?:\s?[½¼¾])?|nan\b|[-−+]?inf\b)\s*"
    r"(?P<u>%|[^\s\d,;/]*(?:/[^\s,;]+)?)\s*(?P<rest>.*)$",
    re.IGNORECASE,
)
_BOWL: Final = re.compile(
    r"\b(?:in|on)\s+(?:the\s+|a\s+|its\s+)?(?P<place>[\w ]+?)(?:\s+and\b.*)?$",
    re.IGNORECASE,
)
_HOLDS_MIX: Final = VESSEL_WORDS | frozenset(
    "sheet tray tools whisk spoon spatula sieve paper tin beater knife".split()
)
_DENSITY: Final = {
    "g/ml": 1.0, "g/cm3": 1.0, "g/cm³": 1.0, "g/cc": 1.0, "kg/l": 1.0,
    "kg/m3": 0.001, "kg/m³": 0.001, "g/l": 0.001,
}  # fmt: skip
LIGHTEST_G_ML: Final = 0.05
HEAVIEST_G_ML: Final = 2.5
DEEPEST_MM: Final = 500.0

Word = Ends | Loses | Reads | Deep | Density | Into | Kind
"""What a card word in a block may say."""


@dataclass(frozen=True, slots=True)
class NotAWord:
    """The line is no card word: the same word may begin a step."""


NOT_A_WORD: Final = NotAWord()


def read_word(line: CardLine, names: Names) -> Word | Mistake | NotAWord:
    """The card word that this line is, with its value."""
    word, _, value = line.text.partition(" ")
    value = value.strip()
    reader = {
        "ends": _ends,
        "loses": _loses,
        "reads": _reads,
        "deep": _deep,
        "density": _density,
    }.get(word.casefold())
    if reader is not None and value:
        return reader(line, _ABOUT.sub("", value))
    if word.casefold() == "into" and names.is_vessel(value):
        return Into(line.span(len(line.text) - len(value)), _bare(value))
    if word.casefold() == "kind":
        return kind_named(value) or NOT_A_WORD
    return NOT_A_WORD


def _bare(vessel: str) -> str:
    return re.sub(r"^(?:the|a)\s+", "", vessel, flags=re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Said:
    number: float
    unit: str
    rest: str
    is_measured: bool
    where: Where


def _said(line: CardLine, value: str, field: str) -> _Said | Mistake | NotAWord:
    how = _HOW.search(value)
    bare = value[: how.start()] if how else value
    found = _VALUE.match(bare)
    if found is None:
        return NOT_A_WORD
    start = line.text.rfind(value)
    where = Where(span=line.span(start, start + len(bare)), field=field)
    number = _number(found["n"])
    nothing = number == 0 and field == "loses"  # the way to say that nothing goes
    if not (number > 0 or nothing) or number > MOST_G:  # false for nan too
        what = f"{field} says {found['n']}."
        return Mistake(what, "Give what was weighed or measured, above 0.", where)
    return _Said(number, found["u"].casefold(), found["rest"], bool(how), where)


def _number(text: str) -> float:
    thousands = re.fullmatch(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?", text)
    return number_of(text.replace(",", "") if thousands else text)


def _ends(line: CardLine, value: str) -> Word | Mistake | NotAWord:
    said = _said(line, value, "ends")
    if not isinstance(said, _Said):
        return said
    span = said.where.span or line.span()
    if said.unit == "%" and said.rest.casefold().startswith(("water", "moisture")):
        if said.number >= 100:
            what = f"ends says {said.number:g} % water."
            return Mistake(what, "Give what is left, under 100 %.", said.where)
        return Ends(span, None, said.number / 100, said.is_measured)
    grams = _grams(said)
    if grams is not None and not said.rest:
        return Ends(span, grams, None, said.is_measured)
    return _no_unit(said, "Write ends 451 g, or ends 3 % water.")


def _loses(line: CardLine, value: str) -> Word | Mistake | NotAWord:
    said = _said(line, value, "loses")
    if not isinstance(said, _Said):
        return said
    span = said.where.span or line.span()
    bowl = _BOWL.search(said.rest)
    place = bowl["place"].strip() if bowl else ""
    of_mix = bool(place) and place.casefold().split()[-1] in _HOLDS_MIX
    of: Literal["mix", "water"] = "mix" if of_mix else "water"
    if said.unit == "%":
        if said.number >= 100:
            what = f"loses says {said.number:g} %: nothing would be left."
            return Mistake(what, "Give the share that goes, under 100 %.", said.where)
        share = said.number / 100
        return Loses(span, of, None, share, said.is_measured, place)
    grams = _grams(said)
    if grams is None:
        return _no_unit(said, "Write loses 54 g, or loses 1 % in the bowl.")
    return Loses(span, of, grams, None, said.is_measured, place)


_AT: Final = re.compile(
    r"\s*,?\s*\b(?:at|when)\s+(?P<n>[-−]?\d+(?:[.,]\d+)?)\s*°?\s*(?P<u>[CF])\b",
    re.IGNORECASE,
)
HOTTEST_C: Final = 250.0
"""Sugar burns long before."""


def _reads(line: CardLine, value: str) -> Word | Mistake | NotAWord:
    """`reads 655 g at 118 C`, `reads 88 Brix at 118 C`, `reads 9 % water`."""
    at = _AT.search(value)
    bare = f"{value[: at.start()]}{value[at.end() :]}" if at else value
    said = _said(line, bare.strip(), "reads")
    if not isinstance(said, _Said):
        return said
    start = line.text.find(value)
    span = line.span(start, start + len(value))
    where = Where(span=span, field="reads")
    at_C = None
    if at:
        at_C = number_of(at["n"].replace("−", "-"))
        at_C = (at_C - 32) / 1.8 if at["u"].casefold() == "f" else at_C
        if not 0 < at_C <= HOTTEST_C:
            what = f"reads says at {at_C:g} °C."
            return Mistake(what, "Give how hot the mix was, as 118 C.", where)
    percent = said.unit == "%"
    brix = said.unit.strip("°") in {"brix", "bx"} or (
        percent and said.rest.casefold().startswith("brix")
    )
    if brix or percent:
        if said.number >= 100:
            what = f"reads says {said.number:g}, and no mix has so much."
            return Mistake(what, "Give what was read, under 100.", where)
        if brix:
            return Reads(span, at_C, brix=said.number)
        if said.rest.casefold().startswith(("water", "moisture")):
            return Reads(span, at_C, water_share=said.number / 100)
    grams = _grams(said)
    if grams is not None and not said.rest:
        return Reads(span, at_C, grams)
    if grams is not None:
        what = f"reads says more than a weight: '{said.rest}'."
        do = "Write what is in the pan, without the pan: reads 655 g at 118 C."
        return Mistake(what, do, where)
    return _no_unit(said, "Write reads 655 g at 118 C, or reads 88 Brix at 118 C.")


def _deep(line: CardLine, value: str) -> Word | Mistake | NotAWord:
    said = _said(line, value, "deep")
    if not isinstance(said, _Said):
        return said
    if said.unit not in MM:
        return _no_unit(said, "Write deep 10 mm.")
    depth_mm = said.number * MM[said.unit]
    if depth_mm > DEEPEST_MM:
        what = f"deep says {depth_mm:g} mm."
        return Mistake(what, "Give the depth of this layer in mm.", said.where)
    return Deep(said.where.span or line.span(), depth_mm)


def _density(line: CardLine, value: str) -> Word | Mistake | NotAWord:
    said = _said(line, value, "density")
    if not isinstance(said, _Said):
        return said
    if said.unit not in _DENSITY:
        return _no_unit(said, "Write density 0.75 g/ml.")
    g_ml = said.number * _DENSITY[said.unit]
    if not LIGHTEST_G_ML <= g_ml <= HEAVIEST_G_ML:
        what = f"density says {g_ml:g} g/ml, and no layer weighs that."
        do = f"Give it from {LIGHTEST_G_ML:g} to {HEAVIEST_G_ML:g} g/ml."
        return Mistake(what, do, said.where)
    return Density(said.where.span or line.span(), g_ml, said.is_measured)


def _grams(said: _Said) -> float | None:
    unit = unit_named(said.unit) if said.unit else None
    if unit is None or unit.kind != "mass":
        return None
    return said.number * unit.sizes["metric"].value


def _no_unit(said: _Said, do: str) -> Mistake:
    unit = f"'{said.unit}' is no unit for it" if said.unit else "there is no unit"
    return Mistake(f"{said.where.field} has a number, but {unit}.", do, said.where)
