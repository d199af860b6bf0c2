"""Date and storage of a label, from what the card says."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from slabwright.finding import Finding, Severity
from slabwright.label.date_rules import chill_of
from slabwright.label.dates import (
    DateMark,
    Freezer,
    after_freezing,
    counted_words,
    date_mark,
    frozen_words,
    in_full,
    insist_on_order,
    last_day,
)
from slabwright.spec.card import Card, Dated, Keep

_LASTS: Final = re.compile(
    r",?\s*(?<![\d.,])\d+(?:[.,]\d+)?(?:\s*(?:-|–|to)\s*\d+(?:[.,]\d+)?)?\s*"
    r"(?:days?|d|weeks?|months?|hours?|h)\b",
    re.IGNORECASE,
)
_PLACED: Final = re.compile(
    r"(?:chill\w*|cool|cold|dry|frozen|refrigerated|wrapped|away|out|covered|airtight"
    r"|in|on|at|below|under|between|sealed|closed\s+tight\w*)\b",
    re.IGNORECASE,
)
"""What reads well behind Keep: keep chilled, keep in a closed box."""
_DEGREES: Final = re.compile(r"(?<=\d)\s*C\b")


@dataclass(frozen=True, slots=True)
class Counted:
    """A date counted from the card, or what it waits for."""

    mark: DateMark | None = None
    said: str = ""
    """As it would stand on the label; empty without a date."""
    held: str = ""
    """What it waits for."""
    words: str = ""
    """How its days are counted."""


def counted_of(
    dated: Dated | None, made: date | None, freezer: Freezer | None
) -> Counted:
    """The date that the card's own decision gives.

    Raises:
        FileError: for days of freezing that can't be.
    """
    if freezer is not None:
        insist_on_order(made, freezer)
    if dated is None or dated.kind == "none":
        return Counted()
    kind = dated.kind.capitalize()
    if made is None:
        return Counted(None, f"{kind}: …", "the bake day is not given")
    if dated.counts_bake_day is None:
        days = (_day(dated, made, counts=counts) for counts in (True, False))
        first, second = (
            day if freezer is None else after_freezing(made, day, freezer)
            for day in days
        )
        held = (
            f"the card doesn't say whether the bake day counts: {in_full(first)} if it "
            f"does, {in_full(second)} if not"
        )
        return Counted(None, f"{kind}: …", held)
    day = _day(dated, made, counts=dated.counts_bake_day)
    words = counted_words(
        days=dated.days, months=dated.months, counts_bake_day=dated.counts_bake_day,
        made=made, day=day,
    )  # fmt: skip
    if freezer is not None:
        words = f"{words} {frozen_words(made, day, freezer)}"
        day = after_freezing(made, day, freezer)
    mark = date_mark(dated.kind, made, day, words)
    return Counted(mark, mark.words, "", words)


def storage_words(keeps: Sequence[Keep]) -> tuple[str, ...]:
    """How to store it, in the maker's words and without the days; not frozen ones.

    What is kept frozen uncut is the shop's own affair, not that of who buys a piece.
    """
    bare = (
        _DEGREES.sub(" °C", _LASTS.sub("", keep.text).strip(" ,"))
        for keep in keeps
        if keep.place != "frozen"
    )
    said = (
        f"Keep {one}" if _PLACED.match(one) else f"Keep: {one}" for one in bare if one
    )
    return tuple(dict.fromkeys(said))


def keeping(card: Card, nation: str) -> Iterator[Finding]:
    """What date and storage say against each other, and what the law says of chill."""
    chilled = [keep for keep in card.keeps if keep.place == "chilled"]
    dated = card.dated
    if chilled:
        rules = chill_of(nation)
        said = "; ".join(f"{listed(one.nations)}: {one.words}" for one in rules)
        yield Finding(
            "chill_rule", Severity.NOTE, card.name,
            f"It is kept chilled. {said}.",
            "A label says how cold where whoever keeps it must know.",
            "Write it on the keep line: keep chilled, below 5 C, 3 days; the figure is "
            "your own.",
            source="; ".join(dict.fromkeys(
                f"{one.id}, {one.article} ({one.found})" for one in rules
            )),
            span=chilled[0].span,
        )  # fmt: skip
    if chilled and dated is not None and dated.kind == "best before":
        yield Finding(
            "date_kind", Severity.LOOK, card.name,
            "It is kept chilled, and its date is a best before.",
            "A use by is for what soon becomes a danger: fresh cream, custard, cream "
            "cheese layers (DATE-05, stored secondary).",
            "Which one is your decision: have your reason at hand.", span=dated.span,
        )  # fmt: skip
    if dated is None or dated.kind == "none":
        return
    open_keeps = [
        keep.days
        for keep in card.keeps
        if keep.place != "frozen" and keep.days is not None
    ]
    days = dated.days or dated.months * 30
    if open_keeps and days > max(open_keeps):
        yield Finding(
            "date_outlives_keep", Severity.LOOK, card.name,
            f"Its date is {days:g} days off; the card keeps it {max(open_keeps):g}.",
            "A date that outlives your own keeping is a mistake in one of them.",
            "Change dated, or keep.", span=dated.span,
        )  # fmt: skip


def frozen_too_long(card: Card, freezer: Freezer) -> Iterator[Finding]:
    """Whether it lay in the freezer for longer than the card keeps it there."""
    kept = [k.days for k in card.keeps if k.place == "frozen" and k.days is not None]
    days = (freezer.thawed - freezer.frozen).days
    if kept and days > max(kept):
        yield Finding(
            "frozen_too_long", Severity.STOP, card.name,
            f"It lay frozen for {days} days; the card keeps it {max(kept):g}.",
            "It is your own limit.", "Don't sell it, or change the keep line first.",
        )  # fmt: skip
    if not kept:
        yield Finding(
            "frozen_unplanned", Severity.LOOK, card.name,
            "It was frozen, and the card has no keep frozen line.",
            "Nothing says how long it may lie there.", "Write keep frozen, 4 weeks.",
        )  # fmt: skip


def listed(names: Sequence[str]) -> str:
    """Names one after another.

    >>> listed(("England", "Wales", "Scotland"))
    'England, Wales and Scotland'
    """
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def _day(dated: Dated, made: date, *, counts: bool) -> date:
    return last_day(made, days=dated.days, months=dated.months, counts_bake_day=counts)
