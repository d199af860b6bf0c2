"""What is on a card by its meaning: the same for every way of writing it."""

import re
from collections.abc import Hashable
from dataclasses import fields, is_dataclass
from typing import Final

from slabwright.errors import Span
from slabwright.formula.component import Ends, Loses, Reads
from slabwright.formula.line import Line
from slabwright.quantity.amount import Amount
from slabwright.quantity.units import Regime
from slabwright.spec.card import Keep, SaidCut, Take

_DIGITS: Final = 9
"""Numbers alike to so many digits are one: 2 in and 50.8 mm."""
_LASTS: Final = re.compile(
    r"(?<![\d.,])\d+(?:[.,]\d+)?\s*(?:days?|d|weeks?|months?|hours?|h)\b", re.IGNORECASE
)
_BEFORE_A_UNIT: Final = re.compile(r"(?<=\d) (?=[^\W\d])")
_SIZES: Final = frozenset(
    ["extra large", "very large", "xl", "large", "lge", "lrg", "medium", "med",
     "small", "sml", "jumbo"]
)  # fmt: skip


def plain(text: str) -> str:
    """A text with one space where there is white space.

    >>> plain("  bake 160 C fan     20 min ")
    'bake 160 C fan 20 min'
    """
    return " ".join(text.split())


def near(value: float) -> float:
    """A number without the noise of its last digits.

    >>> near(2 * 25.4 / 10 * 10) == near(50.8)
    True
    """
    return float(f"{value:.{_DIGITS}g}")


def meaning(value: object) -> Hashable:
    """A value to compare: places in the text left out, numbers without noise."""
    if is_dataclass(value):
        parts = (getattr(value, one.name) for one in fields(value))
        return tuple(meaning(part) for part in parts if not isinstance(part, Span))
    if isinstance(value, tuple):
        return tuple(meaning(part) for part in value)
    if isinstance(value, bool | None):
        return value
    if isinstance(value, int | float):
        return near(value)
    return plain(value) if isinstance(value, str) else str(value)


# --- the head of a card --------------------


def of_cut(cut: SaidCut) -> Hashable:
    """How is cut, and in what: a tin by its sizes, whatever it is called."""
    elsewhere = bool(cut.tin_name)
    return meaning((cut.request, cut.says_knife, elsewhere, cut.tin))


def of_keep(keep: Keep) -> Hashable:
    """Where and how long: 4 weeks are 28 days."""
    words = keep.text
    if keep.days is not None:
        words = ", ".join(
            part for part in map(plain, _LASTS.sub("", words, 1).split(",")) if part
        )
    return meaning((keep.place, keep.days, words.casefold()))


def of_take(take: Take) -> Hashable:
    """How much a layer takes; all of one batch is what nobody need say."""
    batches = None if take.batches == 1 else take.batches
    return meaning((take.grams, take.depth_mm, batches))


# --- a line --------------------


def of_amounts(line: Line, spoons: Regime) -> Hashable:
    """How much is asked for, by what it is measured by: 250 g are 0.25 kg.

    Args:
        line: the line.
        spoons: whose spoons and cups the kitchen has.
    """
    weighed = [one for one in line.amounts if one.grams is not None]
    others = [one for one in line.amounts if one.grams is None]
    said: list[Hashable] = [_of_amount(one, spoons) for one in others]
    if weighed:
        said.append(
            (
                "g",
                *(
                    near(sum(_grams(a, end) for a in weighed))
                    for end in ("low", "high")
                ),
            )
        )
    second = _of_amount(line.second, spoons) if line.second and others else None
    return (
        tuple(said),
        None if line.stated_g is None else near(line.stated_g),
        line.is_measured,
        second,
        line.size if others else "",
        line.part,
        plain(line.aside).casefold(),
    )


def _grams(amount: Amount, end: str) -> float:
    grams = amount.grams or 0.0
    return grams * float(getattr(amount, end)) / amount.value if amount.value else 0.0


def _of_amount(amount: Amount, spoons: Regime) -> Hashable:
    ends = amount.low, amount.high
    one = amount.one(spoons)
    if amount.grams is not None:
        return ("g", *(near(_grams(amount, end)) for end in ("low", "high")))
    if amount.size is not None:
        each = _of_amount(amount.size, spoons)
        return (amount.unit.name, *map(near, ends), each)
    if one is not None and amount.unit.kind in {"volume", "spoon"}:
        return ("ml", *(near(end * one.value) for end in ends), amount.heaped)
    return (amount.unit.name, *map(near, ends), amount.heaped)


def is_plain_mass(line: Line) -> bool:
    """Whether its grams tell all that the line says of its amount."""
    return (
        bool(line.amounts)
        and all(one.grams is not None and not one.is_range for one in line.amounts)
        and line.stated_g is None
        and not line.aside
    )


def amount_in_words(line: Line) -> str:
    """What a line says of its amount, as a person would write it again."""
    parts = [" + ".join(map(_in_words, line.amounts))]
    if line.part:
        parts[0] = f"{line.part} of {parts[0]}"
    if line.second is not None:
        parts[0] += f"/{line.second.in_words()}"
    parts += [line.size] if line.size and not is_plain_mass(line) else []
    stated = "" if line.stated_g is None else f" = {line.stated_g:.10g} g"
    how = ", weighed" if line.is_measured else ""
    aside = f", {line.aside}" if line.aside else ""
    return f"{', '.join(part for part in parts if part)}{stated}{how}{aside}".strip(
        " ,"
    )


def _in_words(amount: Amount) -> str:
    return amount.in_words() + (f" ({amount.regime})" if amount.regime else "")


def notes_of(line: Line) -> tuple[str, ...]:
    """Words beside an ingredient that say nothing of its amount."""
    by_mass = all(one.grams is not None for one in line.amounts)
    kept = []
    for note in map(plain, line.notes):
        is_size = note.casefold().replace("-", " ") in _SIZES and not by_mass
        is_weight = line.second is not None and not by_mass and note[:1].isdigit()
        is_aside = bool(line.aside) and plain(line.aside) in note
        if not (is_size or is_weight or is_aside):
            kept.append(note)
    return tuple(kept)


# --- other card words --------------------


def of_step(text: str) -> str:
    """A step's words; white space says nothing, before a unit neither.

    >>> of_step("bake 160 C fan   20-23 min") == of_step("bake 160C fan 20-23min")
    True
    """
    return _BEFORE_A_UNIT.sub("", plain(text))


def loss_in_words(event: Ends | Loses) -> str:
    """What a card says of a loss, as it would be written again."""
    how = ", weighed" if event.is_measured else ""
    if isinstance(event, Ends):
        if event.grams is not None:
            return f"ends {event.grams:.10g} g{how}"
        return f"ends {(event.water_share or 0) * 100:.10g} % water{how}"
    much = (
        f"{event.grams:.10g} g"
        if event.grams is not None
        else f"{(event.share or 0) * 100:.10g} %"
    )
    holds = f" in the {event.place}" if event.place else ""
    return f"loses {much}{holds}{how}"


def reading_in_words(event: Reads) -> str:
    """What scale or refractometer said, as it would be written again."""
    at = f" at {event.at_C:.10g} C" if event.at_C is not None else ""
    if event.grams is not None:
        return f"reads {event.grams:.10g} g{at}"
    if event.brix is not None:
        return f"reads {event.brix:.10g} Brix{at}"
    return f"reads {(event.water_share or 0) * 100:.10g} % water{at}"


def take_in_words(take: Take) -> str:
    """How much a layer takes; empty for all of one batch."""
    if take.grams is not None:
        return f"{take.grams:.10g} g"
    if take.depth_mm is not None:
        return f"{take.depth_mm:.10g} mm"
    if take.batches is None or take.batches == 1:
        return ""
    return f"{take.batches:.10g} batch"
