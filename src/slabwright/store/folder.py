"""A kitchen as a folder of files, taken out of the store and put into it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import count
from typing import Final

import sqlalchemy as sa

from slabwright.errors import Mistake, Where
from slabwright.paths import alike, wrong_path
from slabwright.store import cards, kept_files, kitchens, papers, paths, photos
from slabwright.store import folder_files as form
from slabwright.store import revisions as saved
from slabwright.store.cards import CardRow, Kind
from slabwright.store.errors import missing
from slabwright.store.folder_cards import put_card
from slabwright.store.folder_papers import put_paper
from slabwright.store.folder_photos import put_photos
from slabwright.store.folder_put import CardReader, Putting
from slabwright.store.who import Who

MOST_FILES: Final = 50_000
"""In a folder that is put in."""


@dataclass(frozen=True, slots=True)
class PutIn:
    """What became of the files of a folder."""

    came: tuple[str, ...]
    """Paths whose content is new here: cards, papers, revisions, pictures."""
    unchanged: tuple[str, ...]
    """Paths that say what the store had."""
    kept: tuple[str, ...]
    """Other files, kept as they are."""
    refused: tuple[Mistake, ...]
    """What was not taken, each by its path, and why."""


def taken_out(c: sa.Connection, kitchen_id: int) -> Iterator[tuple[str, bytes]]:
    """Every file of this kitchen's folder: its path in the folder, and its bytes.

    Raises:
        MissingError: if there is no such kitchen.
    """
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    for paper in papers.listed(c, kitchen_id):
        yield paper.name, form.encoded(paper.text, paper.has_bom)
        yield from _paper_history(c, kitchen_id, paper.name)
    by_id = {}
    for kind in cards.KINDS:
        for card in cards.all_texts(c, kitchen_id, kind):
            by_id[card.id] = card
            yield from _card(c, card)
    for photo in photos.all_of_kitchen(c, kitchen_id):
        path = form.photo_path(photo.file)
        yield path, photos.data(c, kitchen_id, photo.id) or b""
        yield f"{path}.yaml", form.photo_file(photo, by_id[photo.card_id])
    for file in kept_files.listed(c, kitchen_id):
        yield file.path, kept_files.data(c, kitchen_id, file.path) or b""


def put_in(
    c: sa.Connection,
    kitchen_id: int,
    files: Iterable[tuple[str, bytes]],
    who: Who,
    read_card: CardReader,
) -> PutIn:
    """Take a folder's files into this kitchen; nothing that it had is lost.

    What says the same changes nothing. Another text of a card or paper that is here
    becomes a new revision, by `who`; so does a first one. Revisions that come with a
    history keep who, when and why; beside a card that is here they are kept as trials.

    Args:
        c: an open transaction.
        kitchen_id: whose it becomes.
        files: paths in the folder, and what is in each.
        who: who brings it, and when.
        read_card: what a card's text says of itself.

    Raises:
        MissingError: if there is no such kitchen.
    """
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    put = Putting(c, kitchen_id, who, read_card)
    _receive(put, files)
    for name in papers.NAMES:
        put_paper(put, name)
    for kind, stem in _cards_in(put):
        put_card(put, kind, stem)
    put_photos(put)
    for path in sorted(put.waiting):
        _keep(put, path)
    return PutIn(
        tuple(put.came), tuple(put.unchanged), tuple(put.kept), tuple(put.refused)
    )


def _paper_history(
    c: sa.Connection, kitchen_id: int, name: str
) -> Iterator[tuple[str, bytes]]:
    for paper in reversed(papers.history(c, kitchen_id, name)):
        path = f"{form.paper_history_path(name)}/{paper.number:04}"
        yield f"{path}.paper", form.encoded(paper.text, paper.has_bom)
        yield f"{path}.yaml", form.paper_file(paper)


def _card(c: sa.Connection, card: CardRow) -> Iterator[tuple[str, bytes]]:
    yield form.card_path(card.kind, card.stem), form.encoded(card.text, card.has_bom)
    folder = form.history_path(card.kind, card.stem)
    yield f"{folder}/card.yaml", form.card_file(card)
    for revision in reversed(saved.listed(c, card.kitchen_id, card.id)):
        path = f"{folder}/{revision.number:04}"
        yield f"{path}.card", form.encoded(revision.text, revision.has_bom)
        yield f"{path}.yaml", form.revision_file(revision)


def _receive(put: Putting, files: Iterable[tuple[str, bytes]]) -> None:
    """Take in what has a sound path; paths that some file system mixes up only once."""
    seen: dict[str, str] = {}
    for path, data in files:
        mistake = wrong_path(path)
        other = seen.get(alike(path))
        if not mistake and other is not None:
            what = f"Another file comes as '{other}', which is the same name."
            mistake = Mistake(what, "Rename one of them.", Where(path))
        if not mistake and len(put.waiting) >= MOST_FILES:
            what = f"The folder has more than {MOST_FILES:,} files."
            mistake = Mistake(what, "Leave out what isn't needed.", Where(path))
        if mistake:
            put.refused.append(mistake)
        else:
            seen[alike(path)] = path
            put.waiting[path] = data


def _cards_in(put: Putting) -> list[tuple[Kind, str]]:
    """Every card of which there is anything, be it only a history."""
    found: set[tuple[Kind, str]] = set()
    for path in put.waiting:
        parts = path.split("/")
        match parts:
            case ["slabs", file] if file.endswith(".card"):
                found.add(("slab", file.removesuffix(".card")))
            case ["components", file] if file.endswith(".card"):
                found.add(("component", file.removesuffix(".card")))
            case [paths.HISTORY, stem, _]:
                found.add(("slab", stem))
            case [paths.HISTORY, "components", stem, _]:
                found.add(("component", stem))
    return sorted(found)


def _keep(put: Putting, path: str) -> None:
    """A file that is no card, paper, picture or history: as it is, beside another's."""
    if paths.is_ours(path):
        what = "The file is no part of a card's or a paper's history."
        put.refuse(path, Mistake(what, "Put it elsewhere, or leave it out."))
        return
    data = put.waiting[path]
    for free in _names(path):
        here = kept_files.data(put.c, put.kitchen_id, free)
        if here == data:
            put.unchanged.append(path)
            return
        if here is None:
            break
    with put.refusing(path):
        kept_files.keep(put.c, put.kitchen_id, free, data, put.who.at)
        put.kept.append(free)


def _names(path: str) -> Iterator[str]:
    """This path, then others of its kind, as long as they are wanted."""
    yield path
    folder, slash, file = path.rpartition("/")
    stem, dot, end = file.partition(".")
    for number in count(2):
        yield f"{folder}{slash}{stem} ({number}){dot}{end}"
