"""Whether a line with a new value still says the same kind of thing."""

from collections.abc import Collection
from dataclasses import dataclass, replace

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.files.card.rewrite import Change
from slabwright.formula.line import Line

_CALLED = {"ingredient": "an ingredient", "step": "a step", "blank": "a blank line"}
_LIKE = {
    "ends": "ends 451 g", "loses": "loses 4 g in the bowl",
    "reads": "reads 655 g at 118 C", "deep": "deep 10 mm",
    "density": "density 0.75 g/ml", "tin": "tin 30 x 20 x 5 cm", "cut": "cut 5 x 4",
    "keep": "keep chilled, 3 days", "into": "into mixer", "kind": "kind custard",
    "sold": "sold packed here, box of 2, 6.40",
    "dated": "dated best before, 4 days, bake day counted",
    "costs": "costs 24 min hands, washing down",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Understood:
    """What was understood of a card, read and worked out."""

    read: CardRead
    mistakes: tuple[Mistake, ...]
    """Of reading it and of working it out."""
    unweighed: frozenset[int] = frozenset()
    """Lines that nothing gives grams for."""


def insist(change: Change, before: Understood, after: Understood) -> None:
    """Refuse a value that makes its line read otherwise, or the card wrong.

    A mistake that stood elsewhere on the card before is no reason.

    Raises:
        FileError: with all that is wrong with the new value.
    """
    number = change.span.line
    was = {_place(one) for one in before.mistakes}
    new = [
        one
        for one in after.mistakes
        if _place(one) not in was or (one.where.span and one.where.span.line == number)
    ]
    if new:
        raise FileError(*(_refused(one) for one in new))
    old, now = _at(before.read, number), _at(after.read, number)
    what = _otherwise(change, old, now)
    if not what and number in after.unweighed - before.unweighed:
        what = f"'{change.value}' gives no weight here."
    if what:
        do = _example(change, old)
        raise FileError(
            _refused(Mistake(what, do, Where(after.read.file, change.span)))
        )


def _example(change: Change, old: tuple[LineRead, ...]) -> str:
    """How the value could be written."""
    word = next((one.word for one in old if one.word), "")
    lines = _lines(old)
    if lines and any(change.was == one.line.text for one in old):
        return f"Write it as in: 95 g {lines[0].name}."
    like = _LIKE.get(word, "95 g" if lines else "")
    return f"Write it as in: {like}." if like else "Change it in the card itself."


def _refused(mistake: Mistake) -> Mistake:
    return replace(mistake, do=f"{mistake.do} Nothing was written.")


def _place(mistake: Mistake) -> tuple[str, int | str]:
    span = mistake.where.span
    return mistake.where.file, span.line if span else mistake.what


def _at(read: CardRead, number: int) -> tuple[LineRead, ...]:
    return tuple(one for one in read.lines if one.line.number == number)


def _lines(read: Collection[LineRead]) -> tuple[Line, ...]:
    return tuple(v for one in read for v in one.values if isinstance(v, Line))


def _otherwise(
    change: Change, old: tuple[LineRead, ...], new: tuple[LineRead, ...]
) -> str:
    """How the line reads otherwise than it did; empty if it does not."""
    if any(one.reads_as == "mistake" for one in old):
        return ""  # it had to be put right
    is_whole = any(change.was == one.line.text for one in old)
    if is_whole and all(one.reads_as == "step" for one in old):
        return ""  # whatever is not understood is a step: it may become anything
    kinds, kinds_now = (_kinds(some) for some in (old, new))
    if kinds != kinds_now:
        line = " ".join(one.line.text for one in new)
        return f"With '{change.value}' it says '{line}': {kinds_now}, not {kinds}."
    lines, lines_now = _lines(old), _lines(new)
    if not is_whole and [one.name for one in lines] != [one.name for one in lines_now]:
        name, now = (", ".join(one.name for one in some) for some in (lines, lines_now))
        return f"With '{change.value}' it is '{now}', not '{name}'."
    if all(map(_has_amount, lines)) and not all(map(_has_amount, lines_now)):
        return f"'{change.value}' says no amount."
    return ""


def _kinds(read: tuple[LineRead, ...]) -> str:
    return " and ".join(
        one.word or _CALLED.get(one.reads_as, f"a {one.reads_as}") for one in read
    )


def _has_amount(line: Line) -> bool:
    return bool(line.amounts) or line.stated_g is not None
