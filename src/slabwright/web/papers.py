"""The kitchen's own papers: read, checked, changed, kept with their history."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from starlette.exceptions import HTTPException

from slabwright.desk.moving import UNNAMED
from slabwright.errors import FileError, Mistake
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.larder_file import read_own_larder
from slabwright.files.prices_file import read_prices
from slabwright.files.raw import Text
from slabwright.files.yaml_file import placed
from slabwright.larder.load import built_in
from slabwright.store import kitchens, papers
from slabwright.store.errors import EditedMeanwhileError
from slabwright.store.papers import Paper
from slabwright.web.house import Visit
from slabwright.web.typed import as_typed

KITCHEN: Final = "kitchen.yaml"
LARDER: Final = "larder.yaml"
PRICES: Final = "prices.yaml"


@dataclass(frozen=True, slots=True)
class Checked:
    """What is wrong in a paper."""

    errors: tuple[Mistake, ...] = ()
    """With these nothing of it can be used."""
    doubts: tuple[Mistake, ...] = ()
    """Rows that are left out; the others are used."""

    @property
    def every(self) -> tuple[Mistake, ...]:
        """All of it."""
        return (*self.errors, *self.doubts)


class OvertakenError(Exception):
    """Somebody saved the paper meanwhile: what they saved, and what was to be saved."""

    def __init__(self, paper: Paper, text: str, note: str, theirs: Paper) -> None:
        super().__init__(paper.name)
        self.paper, self.text, self.note, self.theirs = paper, text, note, theirs


def paper_of(visit: Visit, name: str) -> Paper:
    """A paper as it is now; an empty one with number 0 if the kitchen has none."""
    found = papers.latest(visit.connection, visit.kitchen_id, name)
    return found or Paper(name, 0, "", False, "", visit.house.now(), "")


def paper_at(visit: Visit, name: str, number: int) -> Paper:
    """A paper as it was saved under this number; 0 is the paper before its first.

    Raises:
        HTTPException: 404 if there is none.
    """
    now = paper_of(visit, name)
    if number == now.number:
        return now
    if number == 0:
        return Paper(name, 0, "", False, "", now.at, "")
    back = now.number - number
    if back > 0:
        place = (visit.connection, visit.kitchen_id, name)
        for found in papers.history(*place, start=back, limit=1):
            return found
    raise HTTPException(404, f"This kitchen has no {name} of that number.")


def text_of(paper: Paper) -> Text:
    """A paper as what reads it takes it."""
    return Text(paper.text, paper.name, paper.has_bom)


def checked(visit: Visit, text: Text) -> Checked:
    """What is wrong in this text of a paper, each with the line where it stands."""
    folder = visit.desk.folder
    country = folder.kitchen.country
    doubts: tuple[Mistake, ...] = ()
    try:
        if text.file == KITCHEN:
            read_kitchen(text)
        elif text.file == LARDER:
            read_own_larder(text, built_in(), country)
        else:
            currency = folder.kitchen.currency
            _, doubts = read_prices(text, folder.larder, country, currency)
    except FileError as error:
        return Checked(tuple(placed(text, one) for one in error.mistakes))
    return Checked((), tuple(placed(text, one) for one in doubts))


def keep(visit: Visit, paper: Paper, text: str, note: str) -> None:
    """Keep this text of a paper after the one that was changed.

    Raises:
        FileError: if nothing of it could be used.
        OvertakenError: if somebody saved meanwhile; nothing is overwritten.
    """
    if text == paper.text:
        return
    wanted = Text(text, paper.name, paper.has_bom)
    wrong = checked(visit, wanted).errors
    if wrong:
        raise FileError(*wrong)
    try:
        papers.save(
            visit.connection, visit.kitchen_id, paper.name, text, visit.who(note),
            based_on=paper.number, has_bom=paper.has_bom,
        )  # fmt: skip
    except EditedMeanwhileError as error:
        theirs = paper_of(visit, paper.name)
        raise OvertakenError(paper, text, note, theirs) from error
    if paper.name == KITCHEN:
        name = read_kitchen(wanted).name or UNNAMED
        kitchens.rename(visit.connection, visit.kitchen_id, name)


def change(
    visit: Visit, name: str, base: int, made: Callable[[Text], str], note: str
) -> None:
    """Change a paper as a form says it: from the revision that the form showed.

    Raises:
        FileError: if it can't be changed so; nothing is kept.
        OvertakenError: if somebody saved meanwhile.
    """
    paper = paper_at(visit, name, base)
    keep(visit, paper, as_typed(made(text_of(paper)), paper.text), note)


def without_file(mistakes: tuple[Mistake, ...]) -> tuple[Mistake, ...]:
    """The same mistakes beside a form, which needs no name of a file."""
    return tuple(replace(one, where=replace(one.where, file="")) for one in mistakes)
