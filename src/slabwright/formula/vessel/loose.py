"""Lines that all stand before the method: each goes in where a step first names it.

So a pasted recipe has them. Whites that are whipped do not stand in the pan in which
honey is boiled, nor does what is stirred in after the boil.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Final

from slabwright.formula.component import Ends, Event, Into, Loses, Reads
from slabwright.formula.heating import is_boil
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.formula.vessel.not_meant import meant
from slabwright.formula.vessel.vessels import Vessels
from slabwright.formula.vessel.whereabouts import SYRUPS, named_by
from slabwright.formula.weighed import WeighedLine

_DONE: Final = (
    "add|put|pour|tip|whisk|whip|beat|stir|fold|mix|boil|heat|bring|melt|warm|cook|"
    "simmer|scald|combine|spread|press|scatter|sprinkle|bake|cool|leave|cut|set"
)
_CLAUSES: Final = re.compile(
    r"[;:]\s|\.(?!\d)|\bthen\b|\bwhile\b|\bmeanwhile\b"
    rf"|(?:,\s*(?:and\s+)?|\band\s+)(?=(?:{_DONE})\b)"
)
"""Between what is done and what is done next, and not between two things of a list."""
_HOT: Final = re.compile(r"\d\s?°?\s?[cf]\b|°")
_WORD: Final = re.compile(r"[a-z]+")
_ADDING: Final = re.compile(
    r"\badd(?:ing)?\b|\b(?:stir|beat|fold|mix|whisk|whip|tip|pour|work|rub|drop)\w*\s+"
    r"(?:in|through|into|over|on|onto)\b"
)
_FOAMING: Final = re.compile(r"\b(?:whisk|whip|beat)\w*\b")
_BOILING: Final = re.compile(r"\b(?:boil|heat|bring|cook|simmer|dissolv)\w*\b")
_SOAKING: Final = re.compile(r"\b(?:soak|bloom|swell|sprinkl|hydrat)\w*\b")
_POURING: Final = re.compile(r"\b(?:pour|trickl|drizzl|stream|ladl)\w*\b")
_APART: Final = re.compile(
    r"\bmeanwhile\b|\bseparately\b|\bin (?:an?|another)\s[^,.;]*\b(?:bowl|pan|"
    r"saucepan|pot|mixer|jug|processor|blender|basin|casserole|kettle)\b"
)
_ALL: Final = frozenset({"all", "everything", "rest", "remaining", "ingredients"})


def is_loose(events: Sequence[Event]) -> bool:
    """Whether all lines stand before all that is done, in no vessel that is named."""
    last = max((at for at, e in enumerate(events) if isinstance(e, Line)), default=-1)
    if any(isinstance(e, Into | Step | Ends | Loses | Reads) for e in events[:last]):
        return False
    later = (
        e for e in events[last + 1 :] if isinstance(e, Step | Ends | Loses | Reads)
    )
    return isinstance(next(later, None), Step) and not any(
        isinstance(e, Into) for e in events
    )


class Loose:
    """What of a loose block has not gone into a vessel yet.

    Args:
        events: of the block.
        weighed: its lines, by the identity of the line.
    """

    def __init__(
        self, events: Sequence[Event], weighed: Mapping[int, WeighedLine]
    ) -> None:
        self._steps = [event for event in events if isinstance(event, Step)]
        self._left = [weighed[id(e)] for e in events if isinstance(e, Line)]
        self._opened = 0

    @property
    def left(self) -> frozenset[int]:
        """Lines that no step has named so far, by the identity of the line."""
        return frozenset(id(one.line) for one in self._left)

    def enter(self, step: Step, vessels: Vessels) -> None:
        """Put into a vessel what a step names first, a vessel of its own if need be.

        Of a boil to a temperature only what goes in before that: see `enter_late`.
        """
        boils, found = is_boil(step), False
        for clause in _split(step)[0]:
            found = self._enter(step, clause, vessels) or found
            if _ALL & set(_WORD.findall(clause)) and (boils or not found):
                self._put(self._rest(step), vessels)
                found = True
        if boils and (found or not vessels.hand.portions):
            rest = self._rest(step)
            if found:
                rest = [one for one in rest if _is_in(one, "water")]
            self._put(rest, vessels)

    def enter_late(self, step: Step, vessels: Vessels) -> None:
        """Put in what a step names behind the temperature that it boils to."""
        for clause in _split(step)[1]:
            self._enter(step, clause, vessels)

    def _enter(self, step: Step, clause: str, vessels: Vessels) -> bool:
        words = _said(clause)
        new = self._one_each(step, clause, named_by(words, self._left))
        here = [one.line for one in vessels.hand.portions]
        if new and here and self._is_apart(step, clause, new, here):
            self._opened += 1
            vessels.open(f"vessel {self._opened}", step.span)
        self._put(new, vessels)
        return bool(new)

    def _one_each(
        self, step: Step, clause: str, lines: Sequence[WeighedLine]
    ) -> list[WeighedLine]:
        """Of lines with one name the first, where they are named once more later."""
        now, late = _split(step)
        texts = list(late) if clause in now else []
        texts += [one.text.casefold() for one in self._after(step)]
        later = [
            {id(one) for one in named_by(_WORD.findall(text), lines)} for text in texts
        ]
        kept: dict[str, WeighedLine] = {}
        for one in lines:
            is_again = any(id(one) in named for named in later)
            key = one.line.name.casefold() if is_again else f"{id(one)}"
            kept.setdefault(key, one)
        return list(kept.values())

    def _after(self, step: Step) -> Sequence[Step]:
        at = next(n for n, one in enumerate(self._steps) if one is step)
        return self._steps[at + 1 :]

    def _is_apart(
        self,
        step: Step,
        clause: str,
        new: Sequence[WeighedLine],
        here: Sequence[WeighedLine],
    ) -> bool:
        """Whether what is named goes into another vessel than the one at hand."""
        if _ADDING.search(clause):
            return False
        if is_boil(step) and any(map(_is_not_boiled, here)):
            return True
        if named_by(_WORD.findall(clause), here):
            return False
        if _APART.search(step.text.casefold()):
            return True
        return bool(_FOAMING.search(clause)) and any(_is_in(one, "egg") for one in new)

    def _rest(self, step: Step) -> list[WeighedLine]:
        """What is left, but for what is added later, or whipped apart."""
        clauses = list(_split(step)[1])
        for later in self._after(step):
            clauses += [*_split(later)[0], *_split(later)[1]]
        kept = list(self._left)
        for clause in clauses:
            named = named_by(_said(clause), kept)
            if not _ADDING.search(clause):
                named = [one for one in named if self._has_own(one, clause)]
            gone = {id(one) for one in named}
            kept = [one for one in kept if id(one) not in gone]
        return kept

    @staticmethod
    def _has_own(line: WeighedLine, clause: str) -> bool:
        """Whether a clause later on tells that a line named in it goes in only then."""
        if _is_in(line, "egg"):
            return bool(_FOAMING.search(clause))
        own = _BOILING.search(clause) or _SOAKING.search(clause)
        return _is_in(line, "water") and own is not None

    def _put(self, lines: Sequence[WeighedLine], vessels: Vessels) -> None:
        for one in lines:
            vessels.add(one)
        gone = {id(one) for one in lines}
        self._left = [one for one in self._left if id(one) not in gone]


def whipped(events: Sequence[Event], weighed: Mapping[int, WeighedLine]) -> set[int]:
    """Lines of egg that were whipped before, by identity: no pan boils them.

    Args:
        events: of a block so far, in which no vessel is named.
        weighed: its lines, by the identity of the line.
    """
    found: set[int] = set()
    eggs: list[WeighedLine] = []
    for event in events:
        if isinstance(event, Into):
            return set()
        if isinstance(event, Line) and _is_in(weighed[id(event)], "egg"):
            eggs.append(weighed[id(event)])
        elif isinstance(event, Step) and _FOAMING.search(event.text.casefold()):
            found |= {id(one) for one in eggs}
    return found


def _is_not_boiled(line: WeighedLine) -> bool:
    """Egg, and gelatine that soaks: neither stands in a pan that boils up."""
    one = line.ingredient
    return one is not None and (one.group == "egg" or "gelatine" in one.id)


def _is_in(line: WeighedLine, group: str) -> bool:
    return line.ingredient is not None and line.ingredient.group == group


def _said(clause: str) -> list[str]:
    """Its words; a syrup that is poured is what was boiled, and no bottle."""
    words = _WORD.findall(clause)
    if _POURING.search(clause):
        return [word for word in words if word not in SYRUPS]
    return words


def _split(step: Step) -> tuple[list[str], list[str]]:
    """What a step says, clause by clause, up to its first temperature; and the rest."""
    clauses = [meant(one) for one in _CLAUSES.split(step.text.casefold())]
    clauses = [one for one in clauses if one.strip()]
    hot = next((n for n, one in enumerate(clauses) if _HOT.search(one)), len(clauses))
    return clauses[: hot + 1], clauses[hot + 1 :]
