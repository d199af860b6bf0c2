"""Commands that make something: new, schema, demo."""

from pathlib import Path
from typing import Annotated

import typer

from slabwright.cli import desk


def add_to(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command()(new)
    app.command()(schema)
    app.command()(demo)


def new(
    name: Annotated[str, typer.Argument(help="The slab's name, or a folder's.")],
    kitchen: Annotated[
        bool, typer.Option("--kitchen", help="Begin a kitchen folder.")
    ] = False,
    form: Annotated[
        Path | None,
        typer.Option("--from", help="A card's JSON form to write out as text."),
    ] = None,
    to: Annotated[
        Path | None, typer.Option("--to", help="Where to write; else printed.")
    ] = None,
) -> None:
    """Print a commented card to begin with, or begin a kitchen folder.

    Example: slabwright new "Two Tides"
    """
    from slabwright.files.begin import begin_kitchen, blank_card, card_from_form

    if kitchen:
        for one in begin_kitchen(Path(name)):
            is_kept = "" if one.is_new else ": it was there already"
            typer.echo(f"{'wrote' if one.is_new else 'kept'} {one.path}{is_kept}")
        return
    text = card_from_form(form) if form else blank_card(name)
    if to is None:
        typer.echo(text, nl=False)
        return
    from slabwright.files.begin import write_new

    write_new(to, text)
    typer.echo(f"wrote {to}")


def schema(
    name: Annotated[
        str, typer.Argument(help="Its name; without one, all of them are listed.")
    ] = "",
    to: Annotated[
        Path | None, typer.Option("--to", help="Write every schema into this folder.")
    ] = None,
) -> None:
    """Print a JSON Schema: of a file that you write, or of what is printed.

    Example: slabwright schema kitchen
    """
    from slabwright.files.begin import write_new
    from slabwright.files.schemas import file_schemas
    from slabwright.publish.schemas import output_schemas, reading_schema

    files = file_schemas()
    known = {**files, **output_schemas(), "reading": reading_schema(files["card"])}
    if to is not None:
        for each, value in known.items():
            write_new(to / f"{each}.json", desk.json_text(value), replace=True)
        typer.echo(f"wrote {len(known)} schemas into {to}")
    elif not name:
        for each, value in known.items():
            about = str(value.get("description", "")).split("\n")[0]
            typer.echo(f"{each:<15}{about}".rstrip())
    elif name in known:
        desk.print_json(known[name])
    else:
        typer.echo(
            f"Error: No schema is '{name}'. There are: {', '.join(known)}.", err=True
        )
        raise typer.Exit(2)


def demo(
    folder: Annotated[
        Path, typer.Argument(help="The kitchen folder.", exists=True, file_okay=False)
    ] = Path("demo"),
    out: Annotated[
        Path, typer.Option("--out", help="Where drawings and figures go.")
    ] = Path("out"),
) -> None:
    """Work out every slab of a kitchen folder; write drawings and figures.

    Example: slabwright demo demo --out out
    """
    from slabwright.cli.counter import work_out_folder

    work_out_folder(folder, out)
