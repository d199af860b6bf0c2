"""The program's commands, one verb of the trade each."""

import sys

import typer

from slabwright.cli import cards, larder, making
from slabwright.errors import SlabwrightError

app = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Layered tray bakes, worked out: from a card's grams to the cut slab.",
)
cards.add_to(app)
making.add_to(app)
app.add_typer(larder.app, name="larder")


def main() -> None:
    """Run the command line; a user's mistake ends with its message, not a traceback."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except SlabwrightError as error:
        for mistake in error.mistakes:
            typer.echo(f"Error: {mistake}", err=True)
        raise SystemExit(2) from error
    except BrokenPipeError:
        sys.stderr.close()  # the reader went away: nothing is left to say
        raise SystemExit(0) from None
