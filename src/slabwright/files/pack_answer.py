"""What a pack says of allergens, kept in larder.yaml with who read it and when."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.larder_add import Wanted, addition, appended, refuse_double
from slabwright.files.larder_file import read_own_larder
from slabwright.files.raw import Text
from slabwright.files.supplier import read_specification
from slabwright.files.yaml_edit import with_row
from slabwright.files.yaml_file import plain_of
from slabwright.formula.book import slug
from slabwright.larder.ingredient import ALLERGENS, Ingredient
from slabwright.larder.load import built_in
from slabwright.larder.lookup import Larder

LONGEST: Final = 500
"""Characters of a source, as larder.yaml takes it."""


@dataclass(frozen=True, slots=True)
class PackAnswer:
    """What somebody read on a pack, or heard from who sells it."""

    about: str
    """The ingredient, as the card has it."""
    contains: tuple[str, ...]
    """All of the 14 that are in it; empty if it names none."""
    may_contain: tuple[str, ...]
    read: str
    """What was read: `pack of the dairy, lot 12`."""
    who: str
    on: date
    photo: str = ""
    """The picture of the pack, if one was kept."""

    @property
    def source(self) -> str:
        """The answer with its name, its day and its picture, in one sentence."""
        day = f"{self.on.day} {self.on:%B %Y}"
        photo = f", photograph {self.photo}" if self.photo else ""
        return f"{self.read.strip() or 'the pack'}, read by {self.who}, {day}{photo}"


def answered(
    text: Text, ingredient: Ingredient, answer: PackAnswer, larder: Larder, country: str
) -> str:
    """larder.yaml with the answer in it: in the ingredient's own row, or in a new one.

    Args:
        text: the file as it stands.
        ingredient: what the card's word was taken for.
        answer: what was read.
        larder: ours with the user's own over it.
        country: whose names hold.

    Raises:
        FileError: for an answer that contradicts itself or names nobody, and where the
            file could not take it.
    """
    _insist(answer)
    number = _row_of(text, ingredient) if ingredient.own else None
    if number is None:
        return _in_a_new_row(text, ingredient, answer, larder, country)
    row = plain_of(text)[number]
    said = str(row.get("source") or "").strip()
    joined = f"{said}; allergens: {answer.source}" if said else answer.source
    if len(joined) > LONGEST:
        joined = answer.source
    made = with_row(
        text,
        number,
        {
            "contains": answer.contains,  # an empty one says that none is in it
            "may_contain": list(answer.may_contain),
            "source": joined,
        },
    )
    read_own_larder(Text(made, text.file, text.has_bom), built_in(), country)
    return made


def _insist(answer: PackAnswer) -> None:
    unknown = {*answer.contains, *answer.may_contain} - set(ALLERGENS)
    if unknown:
        what = f"'{min(unknown):.40}' is none of the 14 allergens."
        raise _refused(what, "Tick those that the pack names.", "contains")
    both = [one for one in answer.contains if one in answer.may_contain]
    if both:
        what = f"{both[0].partition(':')[2] or both[0]} is ticked twice."
        raise _refused(what, "It is in it, or it may be: tick one.", "contains")
    if not answer.who.strip():
        what = "Nobody is named as having read it."
        raise _refused(what, "Give the name of whoever read the pack.", "who")
    if len(answer.source) > LONGEST:
        what = "What was read takes too many words."
        raise _refused(what, f"Say it in fewer than {LONGEST // 2} letters.", "read")


def _refused(what: str, do: str, field: str) -> FileError:
    return FileError(Mistake(what, do, Where(field=field)))


def _row_of(text: Text, ingredient: Ingredient) -> int | None:
    rows: Iterable[Any] = plain_of(text) or ()
    for number, row in enumerate(rows):
        if isinstance(row, dict) and slug(str(row.get("name", ""))) == ingredient.id:
            return number
    return None


def _in_a_new_row(
    text: Text, ingredient: Ingredient, answer: PackAnswer, larder: Larder, country: str
) -> str:
    refuse_double(text, answer.about)
    wanted = Wanted(
        answer.about,
        ingredient.name,
        answer.contains or ("none",),
        answer.may_contain,
        answer.source,
    )
    made = addition(wanted, read_specification(""), larder, country)
    if plain_of(text) == []:  # a list written as [] has no room for a row
        text = Text("", text.file, text.has_bom)
    return text.text + appended(text, made.entry, country)
