"""The command teach: one reading after a boil, and how its component boils from now."""

from pathlib import Path
from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import KitchenOption


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(teach)


def teach(
    card: Annotated[Path, typer.Argument(help="A card's file.", metavar="CARD")],
    layer: Annotated[str, typer.Argument(help="The layer that was boiled.")],
    reading: Annotated[
        str,
        typer.Argument(help="655 g, 2755 g with the pan, or 88 Brix; 'at 118 C'."),
    ],
    probe: Annotated[
        float | None,
        typer.Option(
            "--probe",
            help="What the probe showed; else where the boil ends.",
            metavar="°C",
        ),
    ] = None,
    kitchen: KitchenOption = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show the change, write nothing.")
    ] = False,
) -> None:
    """Teach a component how it boils, from one weighing or refractometer reading.

    Example: slabwright teach demo/slabs/harbour-lamp.card "Malt caramel" "668 g"
    --dry-run
    """  # fmt: skip
    from slabwright.desk.teaching import taught
    from slabwright.errors import Span
    from slabwright.files.card.rewrite import Change, write_back
    from slabwright.files.folder import folder_of, open_folder
    from slabwright.files.raw import Text, read_text

    text = read_text(card)
    folder = open_folder(kitchen or folder_of(card))
    before = desk.understood(folder, text)
    edit = taught(folder, text.text, before.read, layer, reading, probe)
    new = Text(edit.applied(text.text), text.file, text.has_bom)
    after = desk.understood(folder, new)
    known = set(before.mistakes)
    wrong = [one for one in after.mistakes if one not in known]
    if wrong:
        desk.tell(wrong)
        raise typer.Exit(2)
    line = new.text.splitlines()[edit.line - 1]
    typer.echo(f"line {edit.line}\n+ {line}")
    if not dry_run:
        was = text.text[edit.start : edit.end]
        span = Span(edit.line, 1, 1)
        write_back(card, Change(text, new, span, was, edit.value))
