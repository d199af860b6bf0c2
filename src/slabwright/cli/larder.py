"""Commands on the larder: find an ingredient, show what is known of it."""

from pathlib import Path
from typing import Annotated

import typer

from slabwright.cli import desk

app = typer.Typer(
    no_args_is_help=True, help="What every ingredient is, with its sources."
)
_Kitchen = Annotated[
    Path | None, typer.Option("--kitchen", help="The kitchen folder.", file_okay=False)
]


@app.command()
def find(
    name: Annotated[str, typer.Argument(help="What a cook calls it.")],
    kitchen: _Kitchen = None,
    json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Say what a name is taken for, and what else it could mean.

    Example: slabwright larder find "caster suger"
    """
    from slabwright.files.folder import folder_of, open_folder

    folder = open_folder(kitchen or folder_of(None))
    country = folder.kitchen.country
    match = folder.larder.find(name, country)
    near = folder.larder.nearest(name, country)
    if json:
        desk.print_json(
            {
                "asked": name,
                "id": match.ingredient.id if match else None,
                "name": match.ingredient.name if match else None,
                "how": match.how if match else None,
                "taken": match.taken if match else None,
                "also": [other.id for other in match.alternatives] if match else [],
                "nearest": list(near),
            }
        )
    elif match:
        typer.echo(f"{match.ingredient.id}: {match.ingredient.name}")
        if match.taken:
            typer.echo(f"  {match.taken}")
        for other in match.alternatives:
            typer.echo(f"  could also be {other.id}: {other.name}")
    else:
        _tell_unknown(name, near)
    if match is None:
        raise typer.Exit(2)


@app.command()
def show(
    name: Annotated[str, typer.Argument(help="Its id, or what a cook calls it.")],
    kitchen: _Kitchen = None,
    json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Show what an ingredient is made of, value by value with the source.

    Example: slabwright larder show butter-unsalted
    """
    from slabwright.files.folder import folder_of, open_folder
    from slabwright.publish.ingredient import ingredient_json, ingredient_text

    folder = open_folder(kitchen or folder_of(None))
    match = folder.larder.find(name, folder.kitchen.country)
    found = folder.larder.by_id(name) or (match.ingredient if match else None)
    if found is None:
        _tell_unknown(name, folder.larder.nearest(name, folder.kitchen.country))
        raise typer.Exit(2)
    if json:
        desk.print_json(ingredient_json(found))
    else:
        typer.echo(ingredient_text(found, desk.columns()), nl=False)


@app.command()
def add(
    name: Annotated[str, typer.Argument(help="What you call it.")],
    specification: Annotated[
        str,
        typer.Argument(
            help="Its nutrition per 100 g, typed; a file of it; or - to paste it."
        ),
    ] = "",
    like: Annotated[
        str, typer.Option("--like", help="What it is like, for all it does not say.")
    ] = "",
    contains: Annotated[
        list[str] | None,
        typer.Option(
            "--contains", help="An allergen in it; none if it holds none of the 14."
        ),
    ] = None,
    may_contain: Annotated[
        list[str] | None,
        typer.Option("--may-contain", help="An allergen that its pack warns of."),
    ] = None,
    source: Annotated[
        str, typer.Option("--source", help="The specification and its date.")
    ] = "",
    kitchen: _Kitchen = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show the entry, write nothing.")
    ] = False,
) -> None:
    """Add an ingredient of your own from its supplier's specification.

    Example: slabwright larder add "rye crisp" "fat 1.9 g" --like "rye flour" --dry-run
    """
    from slabwright.files.folder import folder_of, open_folder
    from slabwright.files.larder_add import (
        Wanted,
        addition,
        append,
        larder_text,
        refuse_double,
    )
    from slabwright.files.supplier import read_specification
    from slabwright.files.supplier_allergens import unwritten_allergens
    from slabwright.files.supplier_doubts import doubts

    home = kitchen or folder_of(None)
    folder = open_folder(home)
    country = folder.kitchen.country
    target = (home or Path()) / "larder.yaml"
    refuse_double(larder_text(target), name)
    text = desk.text_of(specification)
    said = read_specification(text)
    wanted = Wanted(name, like, tuple(contains or ()), tuple(may_contain or ()), source)
    made = addition(wanted, said, folder.larder, country)
    typer.echo(made.entry, nl=False)
    named = unwritten_allergens(text, wanted.contains, wanted.may_contain)
    for doubt in (*said.notes, *doubts(said, is_like=bool(like)), *named):
        typer.echo(f"Look: {doubt}", err=True)
    for line in said.unread:
        typer.echo(f"Not read: {line}", err=True)
    for message in made.messages:
        typer.echo(message, err=True)
    if dry_run:
        return
    append(target, made.entry, country)
    typer.echo(f"added to {target}", err=True)


def _tell_unknown(name: str, near: tuple[str, ...]) -> None:
    close = f" Near it: {', '.join(near)}." if near else " Write what a cook calls it."
    typer.echo(f"Error: The larder has no '{name}'.{close}", err=True)
