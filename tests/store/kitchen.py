"""What the store's tests keep: people, cards, moments."""

from datetime import UTC, datetime, timedelta

import sqlalchemy as sa

from slabwright.store import cards, revisions
from slabwright.store.cards import CardRow, Kind
from slabwright.store.revisions import Revision
from slabwright.store.who import Who

DAY = datetime(2026, 11, 25, 6, 30, 15, 123456, tzinfo=UTC)
NOOR = Who("Noor", DAY, "first try")
TEXT = "slab Lantern Walk\r\n\n  190 g\tplain flour   \nlayer Crème\r  # ½ °C\n"
"""As somebody might type it: every kind of line end, a tab, spaces at an end."""


def later(minutes: int, author: str = "Sam", note: str = "") -> Who:
    """Somebody, so many minutes later."""
    return Who(author, DAY + timedelta(minutes=minutes), note)


def a_card(
    c: sa.Connection,
    kitchen: int,
    name: str = "Lantern Walk",
    text: str = TEXT,
    kind: Kind = "slab",
    *,
    is_proved: bool = False,
) -> CardRow:
    """A card with one revision."""
    return cards.add(c, kitchen, kind, name, text, NOOR, is_proved=is_proved)


def saved(
    c: sa.Connection, card: CardRow, text: str, based_on: int, *, is_trial: bool = False
) -> Revision:
    """One revision more."""
    return revisions.save(
        c,
        card.kitchen_id,
        card.id,
        text,
        later(based_on),
        based_on=based_on,
        as_trial=is_trial,
    )


def read_card(text: str) -> tuple[str, str, bool]:
    """Name, kind and whether it is proved, as plainly as tests need it."""
    lines = text.splitlines()
    words = lines[0].split(maxsplit=1) if lines else []
    kind = "component" if words[:1] == ["component"] else "slab"
    is_proved = any(line.startswith("proved") for line in lines)
    return words[1] if len(words) == 2 else "", kind, is_proved
