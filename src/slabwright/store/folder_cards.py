"""Putting in the cards of a folder, with or without their histories."""

from dataclasses import dataclass, replace
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.store import cards, revisions, sound, stems
from slabwright.store import folder_files as form
from slabwright.store.cards import CardRow, Kind
from slabwright.store.errors import StoreError
from slabwright.store.folder_put import Putting
from slabwright.store.revisions import Revision

_AS_EXPORTED: Final = "Put the history back as it was exported, or leave it out."

_Said = tuple[str, bool]
"""A text, and whether its file begins with a byte order mark."""


@dataclass(frozen=True, slots=True)
class _History:
    """What a card was, as its folder tells."""

    facts: form.CardFacts
    revisions: tuple[Revision, ...]
    paths: tuple[str, ...]


def put_card(put: Putting, kind: Kind, stem: str) -> None:
    """Take in what the folder has of this card."""
    path = form.card_path(kind, stem)
    history = _history(put, kind, stem)
    card = cards.by_stem(put.c, put.kitchen_id, kind, stem)
    known: set[_Said] = set()
    beside: set[_Said] = set()
    with put.refusing(form.history_path(kind, stem)):
        if card is None and history is not None:
            card = _with_history(put, kind, stem, history)
            known = {_said(revision) for revision in history.revisions}
        elif card is not None:
            here = revisions.listed(put.c, put.kitchen_id, card.id)
            known = {_said(revision) for revision in here}
            beside = _beside(put, card, history, known) if history else beside
    with put.refusing(path):
        if path in put.waiting:
            stems.checked(stem)
            text = form.decoded(put.waiting[path], path)
            is_new = text not in known and _said_now(put, kind, stem, text, beside)
            (put.came if is_new else put.unchanged).append(path)
    put.take(path)


def _said(revision: Revision) -> _Said:
    return revision.text, revision.has_bom


def _history(put: Putting, kind: Kind, stem: str) -> _History | None:
    """The whole history of a card; None, and refused, if any of it is amiss."""
    folder = form.history_path(kind, stem)
    files = put.files_in(folder)
    ours = [name for name in files if name == "card.yaml" or form.number_in(name)]
    if not ours:
        return None
    paths = tuple(f"{folder}/{name}" for name in ours)
    put.take(*paths)
    try:
        return _History(*_read_history(folder, files), paths)
    except StoreError as error:
        put.refuse(folder, *error.mistakes)
        return None


def _read_history(
    folder: str, files: dict[str, bytes]
) -> tuple[form.CardFacts, tuple[Revision, ...]]:
    numbers = {number for name in files if (number := form.number_in(name))}
    wanted = ["card.yaml"]
    for number in range(1, max(numbers, default=1) + 1):
        wanted += [f"{number:04}.card", f"{number:04}.yaml"]
        if len(wanted) > 2 * len(files) + 3:
            break  # numbered far beyond its files: the first gaps tell enough
    missing = [name for name in wanted if name not in files]
    if missing:
        what = f"The history lacks {', '.join(missing[:3])}."
        raise StoreError(Mistake(what, _AS_EXPORTED, Where(folder)))
    facts = form.read_card_file(files["card.yaml"], f"{folder}/card.yaml")
    sound.name(facts.name, "The card")
    read = tuple(
        form.read_revision(
            number,
            files[f"{number:04}.card"],
            files[f"{number:04}.yaml"],
            f"{folder}/{number:04}",
        )
        for number in range(1, max(numbers) + 1)
    )
    is_current = 1 <= facts.current <= len(read)
    if not is_current or read[facts.current - 1].is_trial:
        what = f"Revision {facts.current} can't be the current one."
        raise StoreError(Mistake(what, _AS_EXPORTED, Where(f"{folder}/card.yaml")))
    for revision in read:
        revisions.check(revision)
        if revision.from_number >= revision.number:
            what = f"Revision {revision.number} can't come from a later one."
            raise StoreError(Mistake(what, _AS_EXPORTED, Where(folder)))
    return facts, read


def _with_history(put: Putting, kind: Kind, stem: str, history: _History) -> CardRow:
    card = cards.add_with_history(
        put.c,
        put.kitchen_id,
        kind,
        history.facts.name,
        history.revisions,
        stem=stem,
        current=history.facts.current,
    )
    put.came.extend(history.paths)
    if not history.facts.is_aside:
        return card
    return cards.set_aside(put.c, put.kitchen_id, card.id, True)


def _beside(
    put: Putting, card: CardRow, history: _History, known: set[_Said]
) -> set[_Said]:
    """Keep as trials what a card that is here has never said, and tell what."""
    new: set[_Said] = set()
    for revision in history.revisions:
        if _said(revision) not in known | new:
            new.add(_said(revision))
            here = replace(revision, card_id=card.id)
            revisions.keep_beside(put.c, put.kitchen_id, here)
    (put.came if new else put.unchanged).extend(history.paths)
    return new


def _said_now(
    put: Putting, kind: Kind, stem: str, text: _Said, beside: set[_Said]
) -> bool:
    """Save what the card has never said, unless it was just kept as a trial.

    Beside a proved card it could be nothing else.
    """
    name, _kind, is_proved = put.read_card(text[0])
    name = name[: sound.MOST_NAME].strip()
    card = cards.by_stem(put.c, put.kitchen_id, kind, stem)
    if card is not None and card.is_proved and not is_proved and text in beside:
        return False
    manner = {"has_bom": text[1], "is_proved": is_proved}
    if card is None:
        cards.add(
            put.c,
            put.kitchen_id,
            kind,
            name or stem,
            text[0],
            put.who,
            stem=stem,
            **manner,
        )
    else:
        revisions.save(
            put.c,
            put.kitchen_id,
            card.id,
            text[0],
            put.who,
            based_on=card.current,
            name=name or None,
            **manner,
        )
    return True
