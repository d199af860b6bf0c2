"""Changes to a card that are made beside it: a depth, a tin, a number of pieces.

Each gives the one stretch of text that becomes another; every other character stays.
What a pasted recipe has no place for makes a card of it first.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from slabwright.errors import FileError
from slabwright.files.card import edit_head, edit_layer
from slabwright.files.card.edit import Edit, refused
from slabwright.files.card.edit_boil import boil_reading, is_reading
from slabwright.files.card.edit_line import amount
from slabwright.files.card.edit_pasted import pasted_edit
from slabwright.files.card.edit_selling import selling
from slabwright.files.card.head import Tins
from slabwright.files.card.names import Names
from slabwright.files.card.reader import CardRead, read_card
from slabwright.files.pasted.adopt import adopted
from slabwright.files.pasted.reader import read_pasted

__all__ = ["EDITS", "Asked", "Edit", "edited"]

ADOPTED: Final = "The recipe was written as a card first, to have a place for it."


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be changed, as it was typed beside the drawing."""

    what: str
    """A key of `EDITS`."""
    value: str
    layer: int | None = None
    """From the bottom, from 0, for what is about one."""
    line: int | None = None
    """From 1, for what is about one."""
    mix_g: float | None = None
    """For `mass_after`: what there was before mix stayed in the bowl [g]."""


@dataclass(frozen=True, slots=True)
class _On:
    """The card that is changed."""

    text: str
    read: CardRead
    asked: Asked
    tins: Tins

    @property
    def layer(self) -> int:
        """The layer that it is about; none has the number -1."""
        return -1 if self.asked.layer is None else self.asked.layer


def edited(text: str, asked: Asked, read: CardRead, names: Names, tins: Tins) -> Edit:
    """The change that makes the card say what was typed beside it.

    Args:
        text: the card, or a pasted recipe: if that has no place for the change, it is
            written as a card first.
        asked: what is to be changed.
        read: the text as it was read.
        names: what this kitchen calls by name.
        tins: the tins that it knows.

    Raises:
        FileError: for a value that makes no sense, or that the card then can't be
            read with.
    """
    if asked.what not in EDITS:
        raise refused(f"'{asked.what}' can't be changed so.", "Change the card itself.")
    if not read.is_pasted:
        change = EDITS[asked.what](_On(text, read, asked, tins))
        now = read_card(change.applied(text), names, tins, read.file)
        _insist(read, now)
        if asked.what == "boil_reading" and not is_reading(now, change):
            what = f"'{asked.value}' is no reading."
            raise refused(what, "Write it so: 655 g at 118 C, or 88 Brix at 118 C.")
        return change
    if asked.what == "amount":
        change = EDITS[asked.what](_On(text, read, asked, tins))
        _insist(read, read_pasted(change.applied(text), names, tins, read.file))
        return change
    in_place = pasted_edit(text, read, asked.what, asked.value, names, tins)
    if in_place is not None:
        return in_place
    card = adopted(read, names, tins)
    as_card = read_card(card, names, tins, read.file)
    change = EDITS[asked.what](_On(card, as_card, asked, tins))
    after = change.applied(card)
    _insist(as_card, read_card(after, names, tins, read.file))
    return Edit(0, len(text), after, change.line, ADOPTED)


EDITS: Final[dict[str, Callable[[_On], Edit]]] = {
    "measured_depth": lambda on: edit_layer.measured_depth(
        on.text, on.read, on.layer, on.asked.value
    ),
    "wished_depth": lambda on: edit_layer.wished_depth(
        on.text, on.read, on.layer, on.asked.value
    ),
    "mass_after": lambda on: edit_layer.mass_after(
        on.text, on.read, on.layer, on.asked.value, on.asked.mix_g
    ),
    "boil_reading": lambda on: boil_reading(
        on.text, on.read, on.asked.line or 0, on.asked.value
    ),
    "density": lambda on: edit_layer.density(
        on.text, on.read, on.layer, on.asked.value
    ),
    "pieces": lambda on: edit_head.pieces(on.text, on.read, on.asked.value, on.tins),
    "grid": lambda on: edit_head.grid(on.text, on.read, on.asked.value, on.tins),
    "piece_size": lambda on: edit_head.piece_size(
        on.text, on.read, on.asked.value, on.tins
    ),
    "cut": lambda on: edit_head.cut(on.text, on.read, on.asked.value, on.tins),
    "tin": lambda on: edit_head.tin(on.text, on.read, on.asked.value, on.tins),
    "sold": lambda on: selling(on.text, on.read, "sold", on.asked.value),
    "called": lambda on: selling(on.text, on.read, "called", on.asked.value),
    "pictured": lambda on: selling(on.text, on.read, "pictured", on.asked.value),
    "dated": lambda on: selling(on.text, on.read, "dated", on.asked.value),
    "costs": lambda on: selling(on.text, on.read, "costs", on.asked.value),
    "amount": lambda on: amount(on.text, on.read, on.asked.line or 0, on.asked.value),
}
"""What can be changed beside the card."""


def _insist(before: CardRead, after: CardRead) -> None:
    """Refuse a change that brings a mistake."""
    known = {(one.what, one.do) for one in before.mistakes}
    new = [one for one in after.mistakes if (one.what, one.do) not in known]
    if new:
        raise FileError(*new)
