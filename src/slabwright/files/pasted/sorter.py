"""Sorting the lines of a pasted recipe: title, headings, ingredients, method."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from slabwright.errors import Mistake
from slabwright.files.card.ingredient import read_ingredient
from slabwright.files.card.names import Names
from slabwright.files.card.outcome import NotALine, Outcome
from slabwright.files.pasted.headings import heading_of, names_a_layer
from slabwright.files.pasted.odd import more_of, odd_amount, weighed_aside
from slabwright.files.pasted.scraps import (
    how_long,
    is_scrap,
    is_tip,
    pieces,
    place_of,
    tells_yield,
)
from slabwright.files.pasted.sheet import PastedLine
from slabwright.files.pasted.tins import tins_in
from slabwright.files.pasted.verbs import begins_with_verb
from slabwright.formula.line import Line

As = Literal[
    "blank",
    "title",
    "heading",
    "ingredient",
    "step",
    "scrap",
    "tin",
    "yield",
    "keep",
    "note",
]

_AMOUNT: Final = re.compile(
    r"^[\d½¼¾⅓⅔⅛⅜⅝⅞]|^(?:an?|one|two|three|half)\s", re.IGNORECASE
)
_AMOUNT_LIKE: Final = re.compile(
    r"^[\d½¼¾⅓⅔⅛⅜⅝⅞]|^[\dlIO|]{2,}\s?(?:g|kg|ml)\b|^[?_.…]+\s*g\b"
)
"""A number, or what a scanner made of one."""
_SENTENCE: Final = re.compile(r"[.!?](?:\s|$)")
_BRIEF: Final = 60
"""A line that says how many pieces it makes, and little else, is no longer."""
LONG: Final = 14
"""A line of more words than this is no ingredient, unless the page says so."""


@dataclass(frozen=True, slots=True)
class Sorted:
    """A line, what it is, and what was read of it."""

    pasted: PastedLine
    reads_as: As
    lines: tuple[Line, ...] = ()
    name: str = ""
    """Of a heading or a title; how many it makes; where and how long it keeps."""
    doubt: str = ""
    """What must be asked about an ingredient: its weight, or its unit."""


def sort_lines(lines: Sequence[PastedLine], names: Names) -> tuple[Sorted, ...]:
    """What each line is, in view of the lines around it."""
    sorter = _Sorter(lines, names)
    return tuple(sorter.sort(i) for i in range(len(lines)))


class _Sorter:
    """One pass over the lines, with the place on the page kept in mind."""

    def __init__(self, lines: Sequence[PastedLine], names: Names) -> None:
        self._lines = lines
        self._names = names
        self._read = [self._ingredient(line) for line in lines]
        self._place = "top"
        self._has_title = False
        self._says_ingredients = any(
            place_of(line.line.text) == "ingredients" for line in lines
        )

    def sort(self, i: int) -> Sorted:
        pasted = self._lines[i]
        text = pasted.line.text
        if not text:
            return Sorted(pasted, "blank")
        told = self._told(i)
        if told is not None:
            return told
        if place := place_of(text):
            self._place = place
            return Sorted(pasted, "heading")
        is_method = pasted.is_numbered or begins_with_verb(text) or len(text) > _BRIEF
        count = pieces(text)
        if count and not is_method and not isinstance(self._read[i], tuple):
            return Sorted(pasted, "yield", name=str(count))
        if not any(character.isalpha() for character in text):
            return Sorted(pasted, "scrap")  # the number of a page
        if lasts := how_long(text):
            return Sorted(pasted, "keep", name=lasts)
        if is_scrap(text) and not self._is_listed(i):
            has_tin = tells_yield(text) and bool(tins_in(text))
            return Sorted(pasted, "tin" if has_tin else "scrap")
        return self._by_place(i)

    def _told(self, i: int) -> Sorted | None:
        """What the source itself says, where it does."""
        pasted = self._lines[i]
        text = pasted.line.text
        if pasted.hint == "title" and not self._has_title:
            self._has_title = True
            return Sorted(pasted, "title", name=text)
        if pasted.hint == "scrap":
            return Sorted(pasted, "scrap")
        if pasted.hint == "yield":
            count = pieces(text) or pieces(f"makes {text}")
            return Sorted(pasted, "yield", name=str(count or ""))
        if pasted.hint == "ingredient":
            self._place = "ingredients"
            return self._as_ingredient(i)
        if pasted.hint == "step":
            self._place = "method"
            return Sorted(pasted, "step")
        return None

    def _by_place(self, i: int) -> Sorted:
        pasted = self._lines[i]
        if self._place == "aside":
            return self._aside(i)
        if is_tip(pasted.line.text):
            return Sorted(pasted, "note")
        if self._is_listed(i) and not (self._place == "method" and pasted.is_numbered):
            if self._place == "top":
                self._place = "ingredients"
            return self._as_ingredient(i)
        return self._head(i) or self._words(i)

    def _aside(self, i: int) -> Sorted:
        """Below `Notes`, `Nutrition`, `Comments`: words, until a list begins again."""
        pasted = self._lines[i]
        name = self._heading(i)
        if name and self._next_is_ingredient(i):
            self._place = "ingredients"
            return Sorted(pasted, "heading", name=name)
        is_step = pasted.is_numbered and begins_with_verb(pasted.line.text)
        return Sorted(pasted, "step" if is_step else "note")

    def _head(self, i: int) -> Sorted | None:
        """A title or a heading; None if the line is neither."""
        pasted = self._lines[i]
        text = pasted.line.text
        is_first = self._place == "top" and not self._has_title
        if name := self._heading(i):
            heads_list = self._next_is_ingredient(i) and self._later_heading(i)
            if is_first and not text.endswith(":") and not heads_list:
                self._has_title = True
                return Sorted(pasted, "title", name=text.strip(" #"))
            return Sorted(pasted, "heading", name=name)
        is_short = len(text.split()) <= LONG and not pasted.is_numbered
        if is_first and is_short and not text[:1].isdigit():
            self._has_title = True
            return Sorted(pasted, "title", name=text)
        return None

    def _words(self, i: int) -> Sorted:
        """A step of the method, a name without an amount, a tin, or just words."""
        pasted = self._lines[i]
        text = pasted.line.text
        is_short = len(text.split()) <= LONG and not pasted.is_numbered
        if is_short and self._place != "method" and _AMOUNT_LIKE.match(text):
            if tins_in(text):
                return Sorted(pasted, "tin")
            self._place = "ingredients"
            return self._unweighed(i, doubt="amount")
        if self._is_method(i):
            starts = pasted.is_numbered or begins_with_verb(text)
            if self._place == "ingredients" and starts:
                self._place = "method"
            return Sorted(pasted, "step")
        if self._place == "ingredients":
            return self._unweighed(i)
        if tins_in(text):
            return Sorted(pasted, "tin")
        return Sorted(pasted, "step" if self._place == "method" else "note")

    # --- what a line is like --------------------

    def _ingredient(self, pasted: PastedLine) -> Outcome:
        memo = self._names.memo
        if pasted.line not in memo:
            read = read_ingredient(pasted.line, self._names)
            if not isinstance(read, tuple):
                weighed = weighed_aside(pasted.line.text)
                as_weighed = replace(pasted.line, text=weighed)
                again = read_ingredient(as_weighed, self._names) if weighed else read
                read = again if isinstance(again, tuple) else read
            self._names.remember(pasted.line, read)
        found: Outcome = memo[pasted.line]
        return found

    def _is_listed(self, i: int) -> bool:
        """Whether this line reads as so much of something, and like a list's line."""
        read, pasted = self._read[i], self._lines[i]
        text = pasted.line.text
        if isinstance(read, NotALine):
            return False
        if isinstance(read, Mistake):
            return self._place == "ingredients" or bool(_AMOUNT.match(text))
        if pasted.is_numbered and begins_with_verb(text):
            return False
        if len(text.split()) > LONG and _SENTENCE.search(text):
            return False
        if tins_in(text) and not any(self._names.is_known(line.name) for line in read):
            return False
        if self._place == "method" and not _AMOUNT.match(text):
            return False
        return not begins_with_verb(text) or bool(_AMOUNT.match(text))

    def _as_ingredient(self, i: int) -> Sorted:
        pasted, read = self._lines[i], self._read[i]
        if isinstance(read, tuple):
            bare = [line for line in read if not line.amounts and line.stated_g is None]
            doubt = "weight" if any(not line.aside for line in bare) else ""
            if not doubt and more_of(read):
                doubt = "more"
            return Sorted(pasted, "ingredient", read, doubt=doubt)
        if isinstance(read, Mistake):
            return self._unweighed(i, doubt="amount")
        if tins_in(pasted.line.text) and not self._names.is_known(pasted.line.text):
            return Sorted(pasted, "tin")
        if is_scrap(pasted.line.text):
            return Sorted(pasted, "scrap")
        return self._unweighed(i)

    def _unweighed(self, i: int, doubt: str = "weight") -> Sorted:
        """A name in the list without an amount: asked about, never dropped."""
        pasted = self._lines[i]
        text = pasted.line.text
        known = self._names.length_of_name(text)
        words = text.split()
        if tins_in(text):
            return Sorted(pasted, "tin")
        if not known and (len(words) > len("a few words") or _SENTENCE.search(text)):
            return Sorted(pasted, "note")
        name = text[:known] if known else re.split(r"[,(;]", text)[0].strip()
        if doubt == "amount":
            name = odd_amount(pasted.line, self._names).name or name
        span = pasted.line.span()
        line = Line(text, name or text, span, span, aside="no amount is given")
        return Sorted(pasted, "ingredient", (line,), doubt=doubt)

    def _heading(self, i: int) -> str:
        pasted = self._lines[i]
        if pasted.is_numbered and not pasted.line.text.endswith(":"):
            return ""
        begins_part = i == 0 or not self._lines[i - 1].line.text
        next_is = self._next_is_ingredient(i) and (
            begins_part or not self._names.is_known(pasted.line.text)
        )
        in_list = i > 0 and bool(self._lines[i - 1].line.text)
        text = pasted.line.text
        if next_is and in_list and self._names.mentioned(text):
            # a name in the midst of a list: its amount is missing, if it is one
            next_is = names_a_layer(text) and not self._names.is_known(text)
        stands_alone = i == 0 or not self._lines[i - 1].line.text
        is_word = len(pasted.line.text.split()) <= 2 and stands_alone
        if begins_with_verb(pasted.line.text) and not is_word:
            next_is = False
        return heading_of(pasted, above_ingredient=next_is)

    def _next_is_ingredient(self, i: int) -> bool:
        for j in range(i + 1, len(self._lines)):
            if self._lines[j].line.text:
                line = self._lines[j]
                is_odd = bool(_AMOUNT_LIKE.match(line.line.text))
                return self._is_listed(j) or line.hint == "ingredient" or is_odd
        return False

    def _later_heading(self, i: int) -> bool:
        """Whether the lines after this one have headings of their own."""
        return any(
            heading_of(line, above_ingredient=False) and not place_of(line.line.text)
            for line in self._lines[i + 1 :]
        )

    def _is_method(self, i: int) -> bool:
        pasted = self._lines[i]
        text = pasted.line.text
        if self._place == "method" or pasted.is_numbered or begins_with_verb(text):
            return True
        return (
            bool(_SENTENCE.search(text))
            and len(text.split()) > LONG // 2
            and (self._place == "ingredients")
        )
