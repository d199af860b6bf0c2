"""Rows and sums of money in a text."""

import textwrap
from collections.abc import Iterator
from decimal import Decimal

from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.terminal import Manner


def title(name: str, right: str, manner: Manner) -> Iterator[str]:
    """A heading, and something at the right end of its line."""
    room = manner.columns - len(right) - 2
    name = textwrap.shorten(name, room, placeholder="…")
    yield manner.bold(name) + f"{right:>{manner.columns - len(name)}}"


def row(name: str, grams: str, money: str, manner: Manner) -> str:
    """A name, grams and money in columns."""
    width = manner.columns - 22
    name = name if len(name) < width else f"{name[: width - 2]}…"
    return f"{name:<{width}}{grams:>9}{money:>13}"


def fine(figure: Figure) -> str:
    """A line's money, to a tenth of a penny."""
    return words.money(figure.value, "-", 3).removesuffix(" -")


def item(text: str, manner: Manner) -> list[str]:
    """A line of a list, indented."""
    return textwrap.wrap(
        text, manner.columns, initial_indent="  ", subsequent_indent="    "
    )


def pennies(value: float | Decimal | None) -> Decimal:
    """A sum of money as it is shown, to the penny.

    >>> pennies(Decimal("8.465"))
    Decimal('8.47')
    """
    bare = words.money(Decimal(0) if value is None else value, "-")
    return Decimal(bare.partition(" ")[0].replace(",", ""))
