"""A cut as it is asked for beside the card: in its words, or between two masses."""

import re
from dataclasses import dataclass, replace

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.card.cuts import read_cut
from slabwright.files.card.head import Tins
from slabwright.files.card.lines import LONGEST_LINE, CardLine
from slabwright.files.card.sizes import lengths
from slabwright.spec.card import SaidCut


@dataclass(frozen=True, slots=True)
class AskedCut:
    """What was typed; empty where nothing was."""

    words: str = ""
    """As on a card, with or without the word cut."""
    between: str = ""
    """Masses of a piece: `60-75 g`."""
    least: str = ""
    """No piece is narrower."""

    @property
    def is_asked(self) -> bool:
        """Whether anything was."""
        return bool(self.words or self.between or self.least)


def read_asked_cut(asked: AskedCut, own: SaidCut | None, tins: Tins) -> SaidCut:
    """The cut that was asked for.

    Between two masses it keeps the trim, the knife and the tin of the card's own.

    Args:
        asked: what was typed.
        own: the card's own cut, if it has one.
        tins: the tins that this kitchen knows by name.

    Raises:
        FileError: for what is no cut.
    """
    option = "as" if asked.words else "between"
    if asked.words and (asked.between or asked.least):
        what = "A cut is asked for in words and by mass."
        raise FileError(
            Mistake(what, "Keep one: --as, or --between.", Where(field="as"))
        )
    if not asked.words and not asked.between:
        what = "A least width needs the masses beside it."
        do = "Add --between 60-75g."
        raise FileError(Mistake(what, do, Where(field="least")))
    text = re.sub(r"(?i)^\s*cut\s+", "", asked.words).strip()
    if not text:
        least = f", at least {asked.least}" if asked.least else ""
        text = f"{asked.between} pieces{least}{_kept(own)}"
    if len(text) > LONGEST_LINE:
        raise FileError(Mistake("The cut is too long to read.", "Shorten it."))
    said = read_cut(CardLine(1, text, text, 1), text, tins)
    if isinstance(said, Mistake):
        raise FileError(replace(said, where=Where(field=option)))
    if not asked.words and said.request.piece_g is None:
        what = f"'{asked.between}' is no range of masses."
        do = "Write it so: --between 60-75g."
        raise FileError(Mistake(what, do, Where(field=option)))
    return said


def _kept(own: SaidCut | None) -> str:
    """What of the card's own cut goes with another size."""
    if own is None:
        return ""
    request, said = own.request, ""
    if request.trim_mm:
        said += f", trim {request.trim_mm:g} mm"
    if request.trim_to_mm:
        length_mm, width_mm = request.trim_to_mm
        said += f", trim to {length_mm:g} x {width_mm:g} mm"
    if own.says_knife:
        said += f", knife {request.knife_mm:g} mm"
    return f"{said}, in {own.tin_name}" if own.tin_name else said


def read_asked_mm(text: str, option: str) -> float | None:
    """A length that was typed [mm]; None for nothing.

    Raises:
        FileError: for what is no length with its unit, or is below 0.
    """
    if not text.strip():
        return None
    sizes, words = lengths(text)
    if len(sizes) != 1 or words.strip() or not 0 <= sizes[0] < 1000:
        what = f"'{text}' is no length from 0 mm on."
        do = "Write it with its unit: 1 mm."
        raise FileError(Mistake(what, do, Where(field=option)))
    return sizes[0]
