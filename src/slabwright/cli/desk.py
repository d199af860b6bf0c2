"""What the commands share: opening a card with its kitchen, and printing."""

import json
import os
import shutil
import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from slabwright.errors import FileError, Mistake

NARROWEST, WIDEST = 76, 200
"""Columns of the narrowest and the widest page."""
UNWEIGHED = "not_weighed"
"""Code of the finding that nothing gives a line's grams."""

if TYPE_CHECKING:
    import sqlalchemy as sa

    from slabwright.files.card.reader import CardRead
    from slabwright.files.card.sense import Understood
    from slabwright.files.folder import Folder
    from slabwright.files.raw import Text
    from slabwright.finding import Finding
    from slabwright.spec.specification import Specification
    from slabwright.spec.work_out import Order


@dataclass(frozen=True)
class Opened:
    """A card, its kitchen, and what was worked out."""

    folder: "Folder"
    read: "CardRead"
    spec: "Specification"


def open_card(card: str, kitchen: Path | None = None, base: str = "") -> Opened:
    """Read a card (`-` is standard input) with the kitchen around it; work it out.

    A file that can't be read gives an empty card and the mistake.
    """
    from slabwright.files.card.reader import CardRead
    from slabwright.files.folder import folder_of, open_folder, standard_input
    from slabwright.files.raw import read_text
    from slabwright.spec.card import Card
    from slabwright.spec.work_out import work_out

    path = None if card == "-" else Path(card)
    folder = open_folder(kitchen or folder_of(path))
    try:
        text = (
            standard_input(sys.stdin.buffer.read()) if path is None else read_text(path)
        )
        read = folder.read(text)
    except FileError as error:
        read = CardRead(Card(""), (), error.mistakes, file=card)
    spec = work_out(
        read.card, order_of(folder, base), (*folder.mistakes, *read.mistakes)
    )
    used = [m for m in folder.component_mistakes if m.where.file in spec.files]
    errors = tuple(dict.fromkeys((*spec.errors, *used)))
    return Opened(folder, read, replace(spec, errors=errors))


def order_of(folder: "Folder", base: str = "") -> "Order":
    """What is handed to the sum beside a card of this kitchen."""
    from slabwright.spec.work_out import Order

    return Order(folder.kitchen, folder.book, folder.prices, today(), base)


def understood(folder: "Folder", text: "Text") -> "Understood":
    """What is understood of a card of this kitchen, read and worked out."""
    from slabwright.files.card.sense import Understood
    from slabwright.spec.work_out import work_out

    read = folder.read(text)
    spec = work_out(read.card, order_of(folder), read.mistakes)
    unweighed = (f.span.line for f in spec.findings if f.code == UNWEIGHED and f.span)
    return Understood(read, spec.errors, frozenset(unweighed))


def text_of(argument: str) -> str:
    """What a user typed, what stands in the file that they named, or a pipe's text."""
    from slabwright.files.folder import standard_input
    from slabwright.files.raw import read_text

    if argument == "-":
        return standard_input(sys.stdin.buffer.read()).text
    return read_text(Path(argument)).text if is_file(argument) else argument


def is_file(argument: str) -> bool:
    """Whether this names a file; a long text never does."""
    if len(argument) >= 1000 or "\n" in argument:
        return False
    try:
        return Path(argument).is_file()
    except (OSError, ValueError):  # longer than a name may be, or no name at all
        return False


def today() -> date:
    """The day whose prices hold."""
    return datetime.now(UTC).astimezone().date()


def print_json(value: dict[str, Any] | list[Any]) -> None:
    """A result for another program, and nothing else on standard output."""
    typer.echo(json_text(value), nl=False)


def json_text(value: dict[str, Any] | list[Any]) -> str:
    """JSON as it is printed and written: readable, one form."""
    return json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def columns() -> int:
    """Width of the page: the terminal's, but no less than its tables need."""
    return min(max(shutil.get_terminal_size((80, 24)).columns, NARROWEST), WIDEST)


def bold(text: str) -> str:
    """A heading, bold where colour is wanted: a terminal, and NO_COLOR not set."""
    return typer.style(text, bold=True) if colour_wanted() else text


def colour_wanted() -> bool:
    """Whether standard output is a terminal that shows it, and nobody said no."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def stopping(findings: "Sequence[Finding]") -> "list[Finding]":
    """The findings that stop a slab."""
    from slabwright.finding import Severity

    return [one for one in findings if one.severity is Severity.STOP]


def end(*, mistakes: bool, stops: bool) -> None:
    """End with the code for it: 2 for mistakes, 1 for a slab that is stopped.

    Raises:
        typer.Exit: if there is either.
    """
    if mistakes or stops:
        raise typer.Exit(2 if mistakes else 1)


def open_engine(
    data: Path | None,
    database: str,
    file: str = "kitchen.db",
    *,
    must_be_there: bool = False,
) -> "sa.Engine":
    """The app's store: that of a folder, or a database by its address.

    Raises:
        FileError: if the folder can't be made, or there is no store where one must be.
    """
    from slabwright.store.engine import open_store

    if database:
        return open_store(database)
    folder = data or _own_folder()
    if must_be_there and not (folder / file).is_file():
        what = f"There is no store in '{folder}'."
        raise FileError(Mistake(what, "Name its folder with --data."))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        what = f"The folder '{folder}' can't be made: {error.strerror}."
        raise FileError(Mistake(what, "Name another with --data.")) from error
    return open_store(f"sqlite:///{folder.resolve() / file}")


def _own_folder() -> Path:
    import platformdirs

    return Path(platformdirs.user_data_dir("slabwright", appauthor=False))


def tell(mistakes: Sequence[Mistake]) -> None:
    """Mistakes on standard error, one a line."""
    for mistake in mistakes:
        typer.echo(f"Error: {mistake}", err=True)
