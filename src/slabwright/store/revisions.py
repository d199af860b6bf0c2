"""What a card said, each time it was saved: only added to, never changed."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Final

import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError

from slabwright.errors import Mistake
from slabwright.store import kitchens, search, sound
from slabwright.store.errors import EditedMeanwhileError, StoreError, missing
from slabwright.store.schema import CARD, REVISION
from slabwright.store.who import Who

_TRIES: Final = 50
"""How often a saver who was overtaken looks again; each time another got on."""


@dataclass(frozen=True, slots=True)
class Revision:
    """A card as it was saved once."""

    card_id: int
    number: int
    text: str
    has_bom: bool
    author: str
    at: datetime
    note: str
    from_number: int
    """The revision that it was made from; 0 for none."""
    is_trial: bool
    """Whether it was set beside the card; a trial is never the current revision."""
    is_proved: bool


def save(
    c: sa.Connection,
    kitchen_id: int,
    card_id: int,
    text: str,
    who: Who,
    *,
    based_on: int,
    as_trial: bool = False,
    is_proved: bool = False,
    name: str | None = None,
    has_bom: bool = False,
) -> Revision:
    """Add a revision; it becomes the current one, unless it is a trial.

    Beside a proved revision all that isn't proved itself is kept as a trial.

    Args:
        c: an open transaction.
        kitchen_id: whose card it is.
        card_id: that card.
        text: what it says now.
        who: who saves it, when and why.
        based_on: the revision that was edited.
        as_trial: set it beside the card; it may be based on any revision.
        is_proved: whether its text says that it is proved.
        name: what the card is called from now on, unless this is a trial.
        has_bom: whether its file begins with a byte order mark.

    Raises:
        EditedMeanwhileError: if another revision is current by now.
        MissingError: if there is no such card or revision in this kitchen.
        StoreError: if the text can't be kept.
    """
    wanted = Revision(
        card_id=card_id,
        number=0,
        text=text,
        has_bom=has_bom,
        author=who.author,
        at=who.at,
        note=who.note,
        from_number=based_on,
        is_trial=as_trial,
        is_proved=is_proved,
    )
    return _saved(c, kitchen_id, wanted, name, may_overtake=False)


def take_up(
    c: sa.Connection,
    kitchen_id: int,
    card_id: int,
    number: int,
    who: Who,
    *,
    name: str | None = None,
) -> Revision:
    """Make a trial the card: its text as a new revision, which is then current.

    This is how a card goes on from a proved revision, which stays in its history.

    Raises:
        MissingError: if there is no such revision in this kitchen.
        StoreError: if it is no trial.
    """
    found = _found(c, kitchen_id, card_id, number)
    if not found.is_trial:
        raise StoreError(
            Mistake(f"Revision {number} is no trial.", "Restore it instead.")
        )
    return _again(c, kitchen_id, found, who, name)


def restore(
    c: sa.Connection,
    kitchen_id: int,
    card_id: int,
    number: int,
    who: Who,
    *,
    name: str | None = None,
) -> Revision:
    """Go back to an older revision: its text as a new one, which is current.

    Raises:
        MissingError: if there is no such revision in this kitchen.
    """
    return _again(c, kitchen_id, _found(c, kitchen_id, card_id, number), who, name)


def keep_beside(c: sa.Connection, kitchen_id: int, revision: Revision) -> Revision:
    """Add a revision from elsewhere as a trial, with who, when and why as it came.

    Raises:
        MissingError: if there is no such card in this kitchen.
        StoreError: if the text can't be kept.
    """
    beside = replace(revision, from_number=0, is_trial=True)
    return _saved(c, kitchen_id, beside, None, may_overtake=True)


def one(
    c: sa.Connection, kitchen_id: int, card_id: int, number: int
) -> Revision | None:
    """This revision, if this kitchen has it."""
    found = _of(kitchen_id, card_id).where(REVISION.c.number == number)
    row = c.execute(found).one_or_none()
    return Revision(*row) if row else None


def listed(
    c: sa.Connection,
    kitchen_id: int,
    card_id: int,
    *,
    start: int = 0,
    limit: int | None = None,
) -> tuple[Revision, ...]:
    """A card's revisions, trials among them, newest first."""
    found = _of(kitchen_id, card_id).order_by(REVISION.c.number.desc())
    return tuple(Revision(*row) for row in c.execute(found.offset(start).limit(limit)))


def trials(c: sa.Connection, kitchen_id: int, card_id: int) -> tuple[Revision, ...]:
    """A card's trials, newest first."""
    found = _of(kitchen_id, card_id).where(REVISION.c.is_trial)
    rows = c.execute(found.order_by(REVISION.c.number.desc()))
    return tuple(Revision(*row) for row in rows)


def check(revision: Revision) -> None:
    """Nothing, if it can be kept.

    Raises:
        StoreError: if something in it can't.
    """
    sound.text(revision.text, "The card")
    sound.words(revision.author, "The name of who saves it", sound.MOST_NAME)
    sound.words(revision.note, "The note")


def insert(c: sa.Connection, kitchen_id: int, revision: Revision) -> None:
    """Add this row as it is, once it was checked."""
    row: dict[str, Any] = {
        field: getattr(revision, field) for field in Revision.__slots__
    }
    c.execute(sa.insert(REVISION), {**row, "kitchen_id": kitchen_id})


_COLUMNS = [REVISION.c[field] for field in Revision.__slots__]


def _of(kitchen_id: int, card_id: int) -> sa.Select[Any]:
    """Whatever this card has, if it is this kitchen's."""
    return sa.select(*_COLUMNS).where(
        REVISION.c.kitchen_id == kitchen_id, REVISION.c.card_id == card_id
    )


def _found(c: sa.Connection, kitchen_id: int, card_id: int, number: int) -> Revision:
    revision = one(c, kitchen_id, card_id, number)
    if revision is None:
        raise missing("revision")
    return revision


def _again(
    c: sa.Connection, kitchen_id: int, old: Revision, who: Who, name: str | None
) -> Revision:
    wanted = replace(
        old,
        author=who.author,
        at=who.at,
        note=who.note,
        from_number=old.number,
        is_trial=False,
    )
    return _saved(c, kitchen_id, wanted, name, may_overtake=True)


def _saved(
    c: sa.Connection,
    kitchen_id: int,
    wanted: Revision,
    name: str | None,
    *,
    may_overtake: bool,
) -> Revision:
    """Add it under the next number; who is overtaken meanwhile looks again."""
    check(wanted)
    if name is not None:
        sound.name(name, "The card")
    for _ in range(_TRIES):
        card = _card(c, kitchen_id, wanted.card_id)
        current = _found(c, kitchen_id, card.id, card.current)
        revision = replace(wanted, number=card.latest + 1)
        if not may_overtake:
            revision = _judged(c, kitchen_id, revision, current, card.name)
        try:
            with c.begin_nested():
                insert(c, kitchen_id, revision)
        except IntegrityError:
            continue
        _move_card(c, kitchen_id, card, revision, name)
        return revision
    raise StoreError(
        Mistake("Others keep saving this card.", "Wait a moment, then save again.")
    )


def _judged(
    c: sa.Connection, kitchen_id: int, wanted: Revision, current: Revision, card: str
) -> Revision:
    """As a trial, if it must be one; refused, if somebody saved meanwhile."""
    _found(c, kitchen_id, wanted.card_id, wanted.from_number)
    if wanted.is_trial or (current.is_proved and not wanted.is_proved):
        return replace(wanted, is_trial=True)
    if wanted.from_number != current.number:
        raise EditedMeanwhileError(f"'{card}'", current)
    return wanted


def _card(c: sa.Connection, kitchen_id: int, card_id: int) -> sa.Row[Any]:
    found = sa.select(CARD).where(CARD.c.kitchen_id == kitchen_id, CARD.c.id == card_id)
    row = c.execute(found).one_or_none()
    if row is None:
        raise missing("card")
    return row


def _move_card(
    c: sa.Connection,
    kitchen_id: int,
    card: sa.Row[Any],
    revision: Revision,
    name: str | None,
) -> None:
    values: dict[str, Any] = {"latest": revision.number, "changed_at": revision.at}
    if not revision.is_trial:
        called = card.name if name is None else name
        values |= {
            "current": revision.number,
            "name": called,
            "search": search.words_in(called, revision.text),
        }
    c.execute(sa.update(CARD).where(CARD.c.id == card.id).values(values))
    if card.kind == "component":
        kitchens.move_mark(c, kitchen_id)
