"""The list of ingredients as text: the list, its shares, why each stands so."""

import textwrap
from collections.abc import Iterator
from typing import Final

from slabwright.label.ingredients.declaration import Entry, Open
from slabwright.label.ingredients.quid import Share
from slabwright.label.ingredients.rules import Rule
from slabwright.publish import words
from slabwright.publish.allergens import question_lines
from slabwright.publish.money_rows import item, title
from slabwright.publish.terminal import Manner, watch_text
from slabwright.spec.allergens import allergen_words
from slabwright.spec.declaration import IngredientList

FOOT: Final = (
    "Worked out from the card and the larder, with its reasons. It certifies nothing; "
    "local law and the suppliers' specifications decide."
)
_NUMBERS: Final = 20
"""Columns for grams and a share."""


def list_text(found: IngredientList, manner: Manner) -> str:
    """The list of one slab, and all that it leans on."""
    one, where = found.declaration, found.order.where
    lines = [
        *title(one.slab, f"ingredients, {where.name}, {where.on}", manner),
        "",
        *textwrap.wrap(summary(found), manner.columns),
        "",
        manner.bold("The list, a draft" if one.is_held else "The list"),
        *item(one.marked or "Nothing is in it.", manner),
        *may_contain_lines(found, manner),
        *share_lines(found, manner),
        *_rows(found, manner),
        *_left_out(found, manner),
        *_open(one.open, manner),
        *question_lines([(each, ()) for each in one.allergens.questions], manner),
        *watch_text(found.findings, manner),
        *_law(found, manner),
        "",
        *textwrap.wrap(FOOT, manner.columns),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def summary(found: IngredientList) -> str:
    """How it stands in one sentence."""
    one = found.declaration
    held = "; ".join(filter(None, (one.held, found.quid_held)))
    distinct = {each.named.text.casefold() for each in one.bought}
    names = words.counted(len(distinct), "ingredient")
    if held:
        return f"{names}. Held: {held}."
    return f"{names}; no question open."


def may_contain_lines(found: IngredientList, manner: Manner) -> Iterator[str]:
    """What suppliers warn of; never instead of what is in it."""
    warned = found.declaration.allergens.may_contain
    if warned:
        said = allergen_words(warned, "and")
        yield from item(f"May contain {said}, by its suppliers (ING-29).", manner)


def share_lines(found: IngredientList, manner: Manner) -> Iterator[str]:
    """Shares of what is stressed, each with its sum and its rules."""
    yield ""
    yield manner.bold("Shares of what is stressed")
    if not found.shares:
        told = "; ".join(one.text for one in found.told) or "nothing"
        yield from item(f"None: “{told}” names nothing in the list.", manner)
    for one in found.shares:
        yield from item(_share(one), manner)
    if any(one.needed for one in found.shares):
        said = (
            "Asked for on what is packed for another shop, sent by post or sold as a "
            "catering tray; not on what is packed here or sold loose (QUID-20)."
        )
        yield from item(said, manner)


def _share(one: Share) -> str:
    of = f" ({', '.join(one.of)})" if one.of != (one.term,) else ""
    rows = ", ".join(row.id for row in one.rules)
    if not one.words:
        return f"{one.term}{of}: not known, since {one.figure.sum}. {rows}."
    need = "" if one.needed else " Not needed:"
    return (
        f"{one.term}{of} {one.words}: {one.figure.sum}.{need} {_up(one.why)}. {rows}."
    )


def _up(text: str) -> str:
    return text[:1].upper() + text[1:]


def _rows(found: IngredientList, manner: Manner) -> Iterator[str]:
    """Each name with its grams, its share, its sum and its rules."""
    entries = found.declaration.entries
    if not entries:
        return
    yield ""
    yield manner.bold("Why each stands where it does")
    for one in entries:
        yield from _row(one, 2, manner)
        for part in one.inside:
            yield from _row(part, 4, manner)


def _row(one: Entry, inset: int, manner: Manner) -> Iterator[str]:
    width = manner.columns - _NUMBERS - inset
    name = textwrap.shorten(one.named.text, width - 1, placeholder="…")
    grams = "-" if one.weight is None else f"{one.weight.g:,.4g} g"
    share = "-" if not one.share.known else f"{one.share.number:.1%}"
    yield f"{'':<{inset}}{name:<{width}}{grams:>11}{share:>9}"
    rows = ", ".join(row.id for row in one.rules)
    said = f"{one.sum}. {rows}."
    yield from (
        f"{'':<{inset + 4}}{line}"
        for line in textwrap.wrap(said, max(manner.columns - inset - 4, 30))
    )


def _left_out(found: IngredientList, manner: Manner) -> Iterator[str]:
    if not found.declaration.left_out:
        return
    yield ""
    yield manner.bold("Left out")
    for one in found.declaration.left_out:
        yield from item(f"{one.name}: {one.why}. {one.rule.id}.", manner)


def _open(asked: tuple[Open, ...], manner: Manner) -> Iterator[str]:
    if not asked:
        return
    yield ""
    yield manner.bold("To ask before the list is printed")
    for number, one in enumerate(asked, start=1):
        yield from item(f"{number}. {one.about}: {one.what}. {one.do}", manner)


def _law(found: IngredientList, manner: Manner) -> Iterator[str]:
    """Each rule that was used, once, with how it is known."""
    used: dict[str, Rule] = {}
    for one in found.declaration.entries:
        for part in (one, *one.inside):
            used.update((row.id, row) for row in part.rules)
    for out in found.declaration.left_out:
        used[out.rule.id] = out.rule
    for share in found.shares:
        used.update((row.id, row) for row in share.rules)
    if not used:
        return
    yield ""
    yield manner.bold("The rules used")
    for row in sorted(used.values(), key=lambda row: row.id):
        yield from item(f"{row.law}: {row.topic}", manner)
