"""The command serve: the app in the browser, on this machine alone."""

import gc
import os
import socket
import webbrowser
from pathlib import Path
from threading import Timer
from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import DatabaseOption, DataOption
from slabwright.errors import FileError, Mistake

LOOPBACK = "127.0.0.1"
PORT = 8750


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(serve)


def serve(
    demo: Annotated[
        Path | None,
        typer.Option(
            "--demo",
            help="Open a kitchen folder as the demo, in a store of its own.",
            exists=True,
            file_okay=False,
        ),
    ] = None,
    port: Annotated[
        int, typer.Option("--port", min=1, max=65535, help="Of this machine.")
    ] = PORT,
    data: DataOption = None,
    database: DatabaseOption = "",
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open a browser window.")
    ] = False,
) -> None:
    """Open the app on this machine: write the card, see everything follow.

    Example: slabwright serve --demo demo
    """
    from datetime import UTC, datetime

    import uvicorn

    from slabwright.desk.kept import StoreKept
    from slabwright.desk.moving import first_kitchen
    from slabwright.desk.work import Worker
    from slabwright.web.app import Settings, create_app, own_hosts

    engine = desk.open_engine(data, database, "demo.db" if demo else "kitchen.db")
    taken = socket_at(port)
    kitchen_id = first_kitchen(engine, demo, datetime.now(UTC))
    address = f"http://{LOOPBACK}:{port}/"
    typer.echo(f"slabwright is at {address} (Ctrl+C ends it)")
    if browser:
        Timer(0.8, webbrowser.open, [address]).start()
    worker = Worker(processes=1, kept=StoreKept(engine, kitchen_id))
    settings = Settings(kitchen_id, tuple(own_hosts(port)), demo is not None)
    app = create_app(engine, settings, worker)
    # What stands now stays: looking it over again and again made one request in a
    # hundred wait a tenth of a second.
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, ws="none"
    )
    server = uvicorn.Server(config)
    try:
        server.run(sockets=[taken])
    except KeyboardInterrupt:
        pass
    finally:
        worker.close()
        engine.dispose()


def socket_at(port: int) -> socket.socket:
    """A socket on loopback, taken before anything else is done.

    Raises:
        FileError: if another program has it.
    """
    taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        taken.bind((LOOPBACK, port))
    except OSError as error:
        taken.close()
        what = f"Port {port} is taken: {error.strerror}."
        do = "Is slabwright running already? Else name another with --port."
        raise FileError(Mistake(what, do)) from error
    return taken
