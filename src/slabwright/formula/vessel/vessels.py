"""The vessels of one block: lines go in, losses and pours go out.

Steps decide by their words. Where they don't tell what goes where, nothing moves.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from slabwright.errors import Span
from slabwright.formula.heating import is_hot, says
from slabwright.formula.step import Step
from slabwright.formula.vessel.contents import Content, Portion
from slabwright.formula.vessel.pours import ADDS, LAYS, MIXES, MOVES, Pour, pours
from slabwright.formula.vessel.whereabouts import (
    HOT_WORDS,
    IN_TIN,
    holder_of,
    is_tin,
    key_of,
    overlap,
    vessel_of,
)
from slabwright.formula.weighed import WeighedLine

_WHISKED: Final = ("stream", "whisk", "whisking", "beating", "whipping", "mixing")
"""Said of a pour, these tell that it goes into what is at hand."""


@dataclass(frozen=True, slots=True)
class _Way:
    """From where a pour goes, and to where; None where it is not said."""

    what: str | None
    to: str | None
    named: tuple[str, ...] = ()
    """The words for what is poured."""
    is_by_line: bool = False
    """Whether its goal is named by a line in it, and not as a vessel."""


class Vessels:
    """The vessels of one block, and the one at hand.

    Args:
        opened: the names that the block's `into` lines give, in their order.
        owned: the names of the kitchen's vessels.
    """

    def __init__(self, opened: Sequence[str], owned: Sequence[str]) -> None:
        self._opened = {key_of(name): name for name in opened}
        self._owned = {key_of(name): name for name in owned}
        self._contents: dict[str, Content] = {}
        self._hand = ""

    @property
    def hand(self) -> Content:
        """The vessel that lines go into; one without a name before any `into`."""
        return self._content(self._hand)

    def open(self, name: str, at: Span | None) -> None:
        """Take a vessel to hand; what stands in it stays."""
        self._hand = key_of(name)
        self.hand.at = at

    def add(self, line: WeighedLine) -> None:
        """Put a line into the vessel at hand."""
        self.hand.portions.append(Portion(line))

    def lose(self, lost_g: float, place: str = "") -> None:
        """Let grams go from the vessel that is named, else from the one at hand.

        What stands in the other vessels stays. More than stands there went elsewhere.
        """
        named, _ = self._find(tuple(place.casefold().split()))
        for one in (self._contents.get(named or ""), self.hand):
            if one is not None and 0 < lost_g < one.grams:
                one.shrink(1 - lost_g / one.grams)
                return

    def boil_off(self, lost_g: float) -> None:
        """Let water boil off what is at hand."""
        if not self.hand.dry(lost_g):
            self.lose(lost_g)

    def share_at_hand(self, line: WeighedLine) -> float:
        """How much of a line stands in the vessel at hand, 0 to 1."""
        everywhere = sum(
            one.left
            for held in self._contents.values()
            for one in held.portions
            if one.line is line
        )
        here = sum(one.left for one in self.hand.portions if one.line is line)
        return here / everywhere if everywhere > 0 else 0.0

    def work(self, step: Step) -> None:
        """Note what a step does to the vessel at hand before anything is poured."""
        held = self.hand
        held.is_mixed = bool(held.portions)
        if is_hot(step):
            for one in held.portions:
                one.is_hot = True

    def pour(self, step: Step) -> Iterator[Content]:
        """Do what a step says is poured; every vessel that it was poured into."""
        for one in pours(step.text):
            into = self._follow(one, step)
            if into is not None:
                into.at = step.span
                yield into

    def _content(self, key: str) -> Content:
        if key not in self._contents:
            name = self._opened.get(key) or self._owned.get(key) or key
            self._contents[key] = Content(name)
        return self._contents[key]

    def _follow(self, pour: Pour, step: Step) -> Content | None:
        way = self._way(pour, step)
        what = way.what
        if what is None and way.to is not None and self._is_all(pour):
            what = self._hand if way.to != self._hand else self._only_other()
        is_nowhere = way.to is None or (what is None and way.is_by_line)
        if is_nowhere and pour.verb in LAYS:  # it lies in the tin, or on a layer
            self._take(pour, way.named, way.what or self._hand)
        if is_nowhere or what is None or way.to is None or what == way.to:
            return None
        taken = self._take(pour, way.named, what)
        if way.to == IN_TIN or not taken:
            return None
        self._hand = way.to
        self.hand.portions.extend(taken)
        self.hand.is_mixed = True
        return self.hand

    @staticmethod
    def _is_all(pour: Pour) -> bool:
        """Whether all that is at hand goes, whatever it is called."""
        return pour.verb in MOVES or (pour.verb in MIXES and not pour.what)

    def _way(self, pour: Pour, step: Step) -> _Way:
        if pour.places and not pour.what:
            prep, words = pour.places[0]
            found, is_by_line = self._find(words)
            if found and is_by_line and self._is_particle(prep, words, found):
                return _Way(found, self._hand, words)
        what, _ = self._find(pour.what)
        to, is_by_line = self._goal(pour, is_elsewhere=what not in {None, self._hand})
        if to is None:
            return self._unsaid(pour, what, step)
        return _Way(what, to, pour.what, is_by_line)

    def _goal(self, pour: Pour, *, is_elsewhere: bool) -> tuple[str | None, bool]:
        for prep, words in pour.places:
            if not words and is_elsewhere:  # `pour the cream over`
                return self._hand, False
            if pour.verb in MIXES and prep not in {"into", "onto"}:
                continue  # `whisk the whites in the mixer` says where it is whisked
            found, is_by_line = self._find(words)
            if found is not None:
                return found, is_by_line
        return None, False

    def _unsaid(self, pour: Pour, what: str | None, step: Step) -> _Way:
        """A pour without a goal that we know: where a whisk turns it goes to hand."""
        is_here = pour.verb in MOVES and says(step, *_WHISKED)
        if what not in {None, self._hand} and (pour.verb in ADDS or is_here):
            return _Way(what, self._hand, pour.what)
        other = self._only_other()
        if pour.verb == "pour" and not pour.what and other and says(step, "stream"):
            return _Way(other, self._hand)
        return _Way(what, None, pour.what)

    def _is_particle(self, prep: str, words: Sequence[str], found: str) -> bool:
        """Whether `pour in the syrup`, `pour over the hot cream` say what is poured."""
        if prep == "in":
            return True
        if prep not in {"over", "on"} or found == self._hand:
            return False
        is_hotter = self._contents[found].is_hot and not self.hand.is_hot
        return is_hotter or bool(HOT_WORDS & set(words))

    def _take(self, pour: Pour, named: Sequence[str], key: str) -> list[Portion]:
        """Take out what is poured: the mix, or the line named where all lies loose."""
        held = self._content(key)
        goes = held.portions
        if not held.is_mixed:
            goes = [one for one in goes if overlap(named, one)[0]] or goes
        taken = [replace(one, left=one.left * pour.share) for one in goes]
        if pour.share < 1:
            for one in goes:
                one.left *= 1 - pour.share
        elif len(goes) == len(held.portions):
            held.empty()
        else:
            gone = {id(one) for one in goes}
            held.portions = [one for one in held.portions if id(one) not in gone]
        return taken

    def _only_other(self) -> str | None:
        """The one other vessel that holds something; None if there are more."""
        full = [k for k, c in self._contents.items() if c.portions and k != self._hand]
        return full[0] if len(full) == 1 else None

    def _find(self, words: tuple[str, ...]) -> tuple[str | None, bool]:
        """The vessel that words mean, and whether by a line in it; None if unsure."""
        if not words:
            return None, False
        if (named := vessel_of(words, self._opened, self._owned)) is not None:
            return named, False
        if is_tin(words):
            return IN_TIN, False
        return holder_of(words, self._contents), True
