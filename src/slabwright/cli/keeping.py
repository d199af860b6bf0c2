"""Commands that take a kitchen out and in, and back its store up."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import DatabaseOption, DataOption

InFolder = Annotated[
    Path, typer.Argument(help="A kitchen folder.", exists=True, file_okay=False)
]


def add_to(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command("import")(take_in)
    app.command("export")(take_out)
    app.command()(backup)
    app.command()(restore)


def take_in(
    folder: InFolder, data: DataOption = None, database: DatabaseOption = ""
) -> None:
    """Take a kitchen folder into the app's store; nothing that is there is lost.

    Example: slabwright import demo --data out/store
    """
    from slabwright.desk.moving import first_kitchen, take_in_folder
    from slabwright.store.engine import writing

    engine = desk.open_engine(data, database)
    now = datetime.now(UTC)
    kitchen_id = first_kitchen(engine, None, now)
    with writing(engine) as connection:
        came = take_in_folder(connection, kitchen_id, folder, now)
    engine.dispose()
    typer.echo(
        f"{len(came.came)} new, {len(came.unchanged)} as before, "
        f"{len(came.kept)} kept as they are"
    )
    desk.tell(came.refused)
    desk.end(mistakes=bool(came.refused), stops=False)


def take_out(
    folder: Annotated[Path, typer.Argument(help="An empty or a new folder.")],
    data: DataOption = None,
    database: DatabaseOption = "",
) -> None:
    """Write the app's kitchen into a folder: cards, history, papers, photographs.

    Example: slabwright export out/kitchen --data out/store
    """
    from slabwright.desk.moving import first_kitchen
    from slabwright.files.packed import write_folder
    from slabwright.store.engine import reading
    from slabwright.store.folder import taken_out

    engine = desk.open_engine(data, database, must_be_there=True)
    kitchen_id = first_kitchen(engine, None, datetime.now(UTC))
    with reading(engine) as connection:
        files = list(taken_out(connection, kitchen_id))
    engine.dispose()
    write_folder(folder, files)
    typer.echo(f"wrote {len(files)} files into {folder}")


def backup(
    file: Annotated[Path, typer.Argument(help="The file to write.")],
    data: DataOption = None,
    database: DatabaseOption = "",
) -> None:
    """Back the app's whole store up into one file, while it is in use.

    Example: slabwright backup out/store.backup --data out/store
    """
    from slabwright.store.backup import back_up

    engine = desk.open_engine(data, database, must_be_there=True)
    back_up(engine, file)
    engine.dispose()
    typer.echo(f"wrote {file}, and looked it over")


def restore(
    file: Annotated[
        Path, typer.Argument(help="A back-up.", exists=True, dir_okay=False)
    ],
    data: DataOption = None,
    database: DatabaseOption = "",
) -> None:
    """Put a back-up into a new, empty store; compared before it counts.

    Example: slabwright restore out/store.backup --data out/again
    """
    from slabwright.store.backup import restore as put_back
    from slabwright.store.backup import verify

    verify(file)  # before a store is made for it
    engine = desk.open_engine(data, database)
    put_back(file, engine)
    engine.dispose()
    typer.echo(f"put back {file}")
