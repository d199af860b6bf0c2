"""The program's commands, one verb of the trade each."""

import os
import sys
from contextlib import suppress
from typing import Annotated

import typer

from slabwright.cli import (
    allergens,
    calc,
    cards,
    comparing,
    cutting,
    declaration,
    keeping,
    label,
    larder,
    layers,
    making,
    money,
    nutrition,
    price,
    scaling,
    serving,
    sheet,
    teaching,
)
from slabwright.errors import SlabwrightError

app = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Layered tray bakes, worked out: from a card's grams to the cut slab.",
)
cards.add_to(app)
scaling.add_to(app)
cutting.add_to(app)
comparing.add_to(app)
layers.add_to(app)
calc.add_to(app)
sheet.add_to(app)
teaching.add_to(app)
money.add_to(app)
price.add_to(app)
allergens.add_to(app)
declaration.add_to(app)
label.add_to(app)
nutrition.add_to(app)
making.add_to(app)
serving.add_to(app)
keeping.add_to(app)
app.add_typer(larder.app, name="larder")


def _asked(version: bool) -> None:
    if version:
        from importlib import metadata

        typer.echo(f"slabwright {metadata.version('slabwright')}")
        raise typer.Exit


@app.callback()
def _program(
    *,
    version: Annotated[
        bool,
        typer.Option(
            "--version", help="Print the version.", is_eager=True, callback=_asked
        ),
    ] = False,
) -> None:
    """Take what stands before a command."""


def main() -> None:
    """Run the command line; a user's mistake ends with its message, not a traceback."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        app(prog_name="slabwright")
    except SlabwrightError as error:
        for mistake in error.mistakes:
            typer.echo(f"Error: {mistake}", err=True)
        raise SystemExit(2) from error
    except BrokenPipeError:
        sys.stderr.close()  # the reader went away: nothing is left to say
        raise SystemExit(0) from None
    except OSError as error:
        place = f"'{error.filename}'" if error.filename else "The output"
        what = f"{place} can't be written: {error.strerror}."
        typer.echo(f"Error: {what} Make room, or name another place.", err=True)
        _let_go()
        raise SystemExit(2) from None


def _let_go() -> None:
    """Give up what standard output still holds: it could only fail once more."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
