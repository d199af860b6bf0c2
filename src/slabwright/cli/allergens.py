"""The command allergens: what slabs contain, may contain, and what is not known."""

import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake
from slabwright.files.day import read_day

if TYPE_CHECKING:
    from slabwright.files.folder import Folder
    from slabwright.files.raw import Text
    from slabwright.spec.specification import Specification


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(allergens)


def allergens(
    cards: Annotated[
        list[str],
        typer.Argument(help="Cards, or a folder of them.", metavar="CARD…"),
    ],
    matrix: Annotated[
        bool, typer.Option("--matrix", help="A table of slabs against the 14.")
    ] = False,
    on: Annotated[
        str, typer.Option("--on", help="The day whose packs are asked about.")
    ] = "",
    csv: Annotated[
        Path | None,
        typer.Option("--csv", help="Write a table for a spreadsheet; - to print it."),
    ] = None,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """List the allergens of slabs, the way of each, and what must still be asked.

    Example: slabwright allergens demo --matrix
    """
    from slabwright.desk.allergens import allergens_of_counter
    from slabwright.files.begin import write_new
    from slabwright.files.folder import folder_of, open_folder
    from slabwright.files.orders import read_orders
    from slabwright.publish.allergen_matrix import matrix_csv, matrix_text
    from slabwright.publish.allergens import slab_text
    from slabwright.publish.terminal import Manner

    if json and str(csv) == "-":
        what = "Only one thing can go to standard output."
        raise FileError(Mistake(what, "Give the other a file."))
    day = read_day(on) or desk.today()
    paths = [one.card for one in read_orders(cards, kitchen or folder_of(None))]
    home = _home(paths, kitchen)
    folder = open_folder(home)
    mistakes = list(folder.mistakes)
    specs = [_worked(folder, _text(path), day, mistakes) for path in paths]
    others = [
        _worked(folder, text, day, None) for text in _others(home, paths, mistakes)
    ]
    found = allergens_of_counter(specs, folder, day, others)
    if csv is not None and str(csv) != "-":
        write_new(csv, matrix_csv(found), replace=True)
        typer.echo(f"wrote {csv}", err=True)
    manner = Manner(desk.columns(), bold=desk.bold)
    if json:
        from slabwright.publish.allergens_json import allergens_json

        desk.print_json(allergens_json(found))
    elif str(csv) == "-":
        typer.echo(matrix_csv(found), nl=False)
    elif matrix or len(found.rows) > 1:
        typer.echo(matrix_text(found, manner), nl=False)
    else:
        typer.echo(slab_text(found.rows[0], found.on, manner), nl=False)
    said = tuple(dict.fromkeys(mistakes))
    desk.tell(said)
    desk.end(mistakes=bool(said), stops=False)


def _home(paths: Sequence[Path], kitchen: Path | None) -> Path | None:
    """The one kitchen that these cards are of.

    Raises:
        FileError: if they are of several.
    """
    from slabwright.files.folder import folder_of

    homes = {kitchen or folder_of(None if str(path) == "-" else path) for path in paths}
    if len(homes) > 1:
        names = " and ".join(sorted(str(home) for home in homes))
        what = f"These cards are of several kitchens: {names}."
        raise FileError(Mistake(what, "Say whose larder holds: --kitchen FOLDER."))
    return homes.pop()


def _text(path: Path) -> "Text":
    from slabwright.files.folder import standard_input
    from slabwright.files.raw import read_text

    if str(path) == "-":
        return standard_input(sys.stdin.buffer.read())
    return read_text(path)


def _others(
    home: Path | None, paths: Sequence[Path], mistakes: list[Mistake]
) -> "list[Text]":
    """Cards of the same kitchen that were not asked for; those that can be read."""
    from slabwright.files.orders import cards_in
    from slabwright.files.raw import read_text

    asked = {path.resolve() for path in paths}
    found: list[Text] = []
    for path in cards_in(home / "slabs") if home and (home / "slabs").is_dir() else ():
        if path.resolve() in asked:
            continue
        try:
            found.append(read_text(path))
        except FileError as error:
            mistakes.extend(error.mistakes)
    return found


def _worked(
    folder: "Folder", text: "Text", day: date, mistakes: list[Mistake] | None
) -> "Specification":
    """A card worked out, its mistakes added to those that are told."""
    from slabwright.spec.work_out import work_out

    read = folder.read(text)
    spec = work_out(read.card, replace(desk.order_of(folder), on=day), read.mistakes)
    if mistakes is not None:
        mistakes.extend(spec.errors)
        inside = folder.component_mistakes
        mistakes.extend(one for one in inside if one.where.file in spec.files)
    return spec
