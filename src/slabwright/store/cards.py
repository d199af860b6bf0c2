"""Cards of slabs and components, each with the text that is current."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Final, Literal

import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError

from slabwright.errors import Mistake
from slabwright.store import kitchens, revisions, search, sound, stems
from slabwright.store.errors import StoreError, missing
from slabwright.store.revisions import Revision
from slabwright.store.schema import CARD, REVISION
from slabwright.store.who import Who

Kind = Literal["slab", "component"]

KINDS: Final[tuple[Kind, ...]] = ("slab", "component")

_TRIES: Final = 50
"""How often a stem is made anew, when another card took it at the same time."""


@dataclass(frozen=True, slots=True)
class CardRow:
    """A card, and what its current revision says."""

    id: int
    kitchen_id: int
    kind: Kind
    stem: str
    """Its file's name without `.card`; stays when the card is renamed."""
    name: str
    is_aside: bool
    current: int
    """Number of the current revision."""
    latest: int
    """Number of the newest revision, which may be a trial."""
    is_proved: bool
    text: str
    has_bom: bool
    author: str
    at: datetime
    """When the current revision was saved."""
    changed_at: datetime
    """When anything was last saved, trials too."""


def add(
    c: sa.Connection,
    kitchen_id: int,
    kind: Kind,
    name: str,
    text: str,
    who: Who,
    *,
    stem: str = "",
    has_bom: bool = False,
    is_proved: bool = False,
) -> CardRow:
    """A new card, with this text as its first revision.

    Args:
        c: an open transaction.
        kitchen_id: whose card it is.
        kind: slab or component.
        name: what it is called.
        text: what it says.
        who: who adds it, when and why.
        stem: its file's name, if it has one; else it is made from the name.
        has_bom: whether its file begins with a byte order mark.
        is_proved: whether its text says that it is proved.

    Raises:
        MissingError: if there is no such kitchen.
        StoreError: if something can't be kept, or the stem is taken.
    """
    first = Revision(
        card_id=0,
        number=1,
        text=text,
        has_bom=has_bom,
        author=who.author,
        at=who.at,
        note=who.note,
        from_number=0,
        is_trial=False,
        is_proved=is_proved,
    )
    return add_with_history(c, kitchen_id, kind, name, [first], stem=stem)


def add_with_history(
    c: sa.Connection,
    kitchen_id: int,
    kind: Kind,
    name: str,
    history: Sequence[Revision],
    *,
    stem: str = "",
    current: int = 1,
) -> CardRow:
    """A card that comes with all its revisions, numbered from 1 without a gap.

    Raises:
        MissingError: if there is no such kitchen.
        StoreError: if something can't be kept, or the stem is taken.
    """
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    for revision in history:
        revisions.check(revision)
    row = {
        "kitchen_id": kitchen_id,
        "kind": kind,
        "name": sound.name(name, "The card"),
        "is_aside": False,
        "current": current,
        "latest": len(history),
        "changed_at": history[-1].at,
        "search": search.words_in(name, history[current - 1].text),
    }
    card_id = _inserted(c, row, stems.checked(stem) if stem else "")
    for revision in history:
        revisions.insert(c, kitchen_id, replace(revision, card_id=card_id))
    if kind == "component":
        kitchens.move_mark(c, kitchen_id)
    return _found(c, kitchen_id, card_id)


def one(c: sa.Connection, kitchen_id: int, card_id: int) -> CardRow | None:
    """This card, if this kitchen has it."""
    row = c.execute(_rows(kitchen_id).where(CARD.c.id == card_id)).one_or_none()
    return CardRow(*row) if row else None


def by_stem(c: sa.Connection, kitchen_id: int, kind: Kind, stem: str) -> CardRow | None:
    """The card whose file is called so, if this kitchen has it."""
    found = _rows(kitchen_id).where(CARD.c.kind == kind, CARD.c.stem == stem)
    row = c.execute(found).one_or_none()
    return CardRow(*row) if row else None


def listed(
    c: sa.Connection,
    kitchen_id: int,
    kind: Kind,
    *,
    is_aside: bool | None = None,
    find: str = "",
    start: int = 0,
    limit: int = 24,
) -> tuple[CardRow, ...]:
    """Cards of a kind, the one that was changed last first.

    Args:
        c: an open transaction.
        kitchen_id: whose cards.
        kind: slabs or components.
        is_aside: only those set aside, or only the others; None for all.
        find: words that each must occur in its name or text.
        start: how many to leave out.
        limit: how many at most.
    """
    newest_first = (CARD.c.changed_at.desc(), CARD.c.id.desc())
    ids = _which(sa.select(CARD.c.id), kitchen_id, kind, is_aside, find)
    page = ids.order_by(*newest_first).offset(start).limit(limit).subquery()
    rows = _rows(kitchen_id).join(page, page.c.id == CARD.c.id)
    return tuple(CardRow(*row) for row in c.execute(rows.order_by(*newest_first)))


def counted(
    c: sa.Connection,
    kitchen_id: int,
    kind: Kind,
    *,
    is_aside: bool | None = None,
    find: str = "",
) -> int:
    """How many `listed` would give without a limit."""
    number = sa.select(sa.func.count()).select_from(CARD)
    return int(c.execute(_which(number, kitchen_id, kind, is_aside, find)).scalar_one())


def all_texts(c: sa.Connection, kitchen_id: int, kind: Kind) -> tuple[CardRow, ...]:
    """Every card of a kind, those set aside too, in the order of their stems."""
    rows = c.execute(_rows(kitchen_id).where(CARD.c.kind == kind))
    found = (CardRow(*row) for row in rows)
    return tuple(sorted(found, key=lambda card: card.stem))


def set_aside(
    c: sa.Connection, kitchen_id: int, card_id: int, is_aside: bool
) -> CardRow:
    """Put a card out of the way, or back.

    Raises:
        MissingError: if there is no such card in this kitchen.
    """
    return _changed(c, kitchen_id, card_id, {"is_aside": is_aside})


def rename(c: sa.Connection, kitchen_id: int, card_id: int, name: str) -> CardRow:
    """Call a card otherwise; its text and its file's name stay.

    Raises:
        MissingError: if there is no such card in this kitchen.
        StoreError: if that is no name.
    """
    card = _found(c, kitchen_id, card_id)
    sound.name(name, "The card")
    words = search.words_in(name, card.text)
    return _changed(c, kitchen_id, card_id, {"name": name, "search": words})


def revision_mark(c: sa.Connection, kitchen_id: int) -> int:
    """A number that changes whenever a component or a paper of this kitchen does."""
    return kitchens.mark(c, kitchen_id)


_SHOWN = [
    (REVISION if field in {"is_proved", "text", "has_bom", "author", "at"} else CARD).c[
        field
    ]
    for field in CardRow.__slots__
]
_CURRENT = sa.and_(REVISION.c.card_id == CARD.c.id, REVISION.c.number == CARD.c.current)


def _rows(kitchen_id: int) -> sa.Select[Any]:
    joined = sa.join(CARD, REVISION, _CURRENT)
    return sa.select(*_SHOWN).select_from(joined).where(CARD.c.kitchen_id == kitchen_id)


def _which(
    question: sa.Select[Any],
    kitchen_id: int,
    kind: Kind,
    is_aside: bool | None,
    find: str,
) -> sa.Select[Any]:
    chosen = question.where(CARD.c.kitchen_id == kitchen_id, CARD.c.kind == kind)
    if is_aside is not None:
        chosen = chosen.where(CARD.c.is_aside == is_aside)
    return chosen.where(search.having(find))


def _found(c: sa.Connection, kitchen_id: int, card_id: int) -> CardRow:
    card = one(c, kitchen_id, card_id)
    if card is None:
        raise missing("card")
    return card


def _changed(
    c: sa.Connection, kitchen_id: int, card_id: int, values: dict[str, Any]
) -> CardRow:
    card = _found(c, kitchen_id, card_id)
    c.execute(sa.update(CARD).where(CARD.c.id == card.id).values(values))
    if card.kind == "component":
        kitchens.move_mark(c, kitchen_id)
    return _found(c, kitchen_id, card_id)


def _inserted(c: sa.Connection, row: dict[str, Any], stem: str) -> int:
    """The new card's id. A wanted stem must be free; another is made until it is."""
    for _ in range(_TRIES):
        chosen = stem or _free_stem(c, row)
        named = {"stem": chosen, "stem_key": stems.key(chosen)}
        try:
            with c.begin_nested():
                added = sa.insert(CARD).values(row | named).returning(CARD.c.id)
                return int(c.execute(added).scalar_one())
        except IntegrityError as error:
            if stem:
                raise StoreError(
                    Mistake(
                        f"There is a {row['kind']} in a file called '{stem}' already.",
                        "Choose another name for the file.",
                    )
                ) from error
    raise StoreError(
        Mistake("Others keep adding cards of this name.", "Choose another name.")
    )


def _free_stem(c: sa.Connection, row: dict[str, Any]) -> str:
    stem = stems.made(row["name"], row["kind"])
    keys = sa.select(CARD.c.stem_key).where(
        CARD.c.kitchen_id == row["kitchen_id"], CARD.c.kind == row["kind"]
    )
    if c.execute(keys.where(CARD.c.stem_key == stem)).one_or_none() is None:
        return stem
    alike = keys.where(CARD.c.stem_key.startswith(stem, autoescape=True))
    return stems.numbered(stem, frozenset(c.execute(alike).scalars()))
