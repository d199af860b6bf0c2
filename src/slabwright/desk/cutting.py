"""A slab cut as somebody asks beside the card, and that cut as a card says it."""

import re
from dataclasses import dataclass, field, replace
from typing import Final

from slabwright.errors import Where
from slabwright.files.asked_cut import AskedCut, read_asked_cut, read_asked_mm
from slabwright.files.card.edits import Asked, edited
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead
from slabwright.files.card.rewrite import replaced
from slabwright.files.folder import Folder
from slabwright.files.raw import Text
from slabwright.spec.card import SaidCut
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

_KEEPS: Final = re.compile(r"(?:trim|knife)\b", re.IGNORECASE)
"""A clause of a cut that has nothing to do with how it is divided."""


@dataclass(frozen=True, slots=True)
class CutAsked:
    """What was typed about a cut; empty where nothing was."""

    cut: AskedCut = field(default_factory=AskedCut)
    tin_name: str = ""
    """In which other tin of the card."""
    level: str = ""
    """How much higher one side of the slab is."""
    knife_off: str = ""
    """How far a stroke lies off its line, usually."""


def own_cut(read: CardRead, tin_name: str = "") -> SaidCut | None:
    """The card's own cut in this tin; empty for the slab's own."""
    plain = " ".join(tin_name.casefold().split())
    return next((one for one in read.card.cuts if one.tin_name.casefold() == plain),
                None)  # fmt: skip


def with_clauses(way: str, own: SaidCut | None) -> str:
    """Another way to divide it, trimmed as the card's own cut is, with its knife.

    A way that trims or names a knife itself is left as it is.
    """
    if own is None:
        return way
    clauses = [part.strip() for part in own.text.split(",")[1:]]
    said = {part.strip().split(" ")[0].casefold() for part in way.split(",")[1:]}
    kept = [
        part
        for part in clauses
        if _KEEPS.match(part) and part.split(" ")[0].casefold() not in said
    ]
    if own.tin_name and "in" not in said:
        kept.append(f"in {own.tin_name}")
    return ", ".join((way, *kept))


def worked_as(
    spec: Specification, read: CardRead, folder: Folder, order: Order, asked: CutAsked
) -> Specification:
    """The slab, worked out with the cut and the evenness that were asked for.

    Args:
        spec: the slab as its card says, worked out.
        read: its card.
        folder: its kitchen.
        order: what was handed to the sum beside the card.
        asked: what is asked for.

    Raises:
        FileError: for what is no cut, or no length.
    """
    level_mm = read_asked_mm(asked.level, "level")
    off_mm = read_asked_mm(asked.knife_off, "knife-off")
    if not asked.cut.is_asked and level_mm is None and off_mm is None:
        return spec
    own, at = read.card, order.kitchen
    at = replace(
        at,
        level_mm=at.level_mm if level_mm is None else level_mm,
        knife_off_mm=at.knife_off_mm if off_mm is None else off_mm,
    )
    if asked.cut.is_asked:
        said = read_asked_cut(asked.cut, own_cut(read, asked.tin_name), folder.tins)
        own = replace(own, cuts=(said,))
    made = work_out(own, replace(order, kitchen=at), read.mistakes)
    if asked.cut.is_asked:  # what is wrong with it stands nowhere on the card
        option = Where(field="as" if asked.cut.words else "between")
        wrong = [
            replace(one, where=option) if one.where.field == "cut" else one
            for one in made.errors
            if one not in read.mistakes or one.where.field != "cut"
        ]
        made = replace(made, errors=tuple(wrong))
    old = (*folder.mistakes, *folder.component_mistakes)
    kept = [one for one in spec.errors if one in old]
    return replace(made, errors=tuple(dict.fromkeys((*kept, *made.errors))))


def written(text: Text, read: CardRead, folder: Folder, words: str) -> str:
    """The card with this cut on it: in place of its cut in that tin, or as a new line.

    Args:
        text: the card.
        read: the same, read.
        folder: its kitchen.
        words: the cut as a card says it, with or without the word cut.

    Raises:
        FileError: for what is no cut.
    """
    said = read_asked_cut(AskedCut(words), None, folder.tins)
    own = own_cut(read, said.tin_name)
    if own is not None and not read.is_pasted:
        return replaced(text, own.span, said.text).text.text
    if said.tin_name and read.card.cuts and not read.is_pasted:
        return _below(text.text, read.card.cuts[-1].span.line, f"cut {said.text}")
    asked = Asked("cut", said.text)
    return edited(text.text, asked, read, folder.names, folder.tins).applied(text.text)


def _below(text: str, number: int, value: str) -> str:
    """A new line below this one, with the line end that it has."""
    ends = list(LINE_END.finditer(text))
    if number > len(ends):
        last = ends[-1].group() if ends else "\n"
        return f"{text}{last}{value}"
    end = ends[number - 1]
    return f"{text[: end.end()]}{value}{end.group()}{text[end.end() :]}"
