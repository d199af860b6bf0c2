"""Arguments and options that several commands share."""

from pathlib import Path
from typing import Annotated

import typer

CardArgument = Annotated[
    str, typer.Argument(help="A card's file, or - for standard input.", metavar="CARD")
]
JsonOption = Annotated[
    bool, typer.Option("--json", help="Print JSON and nothing else.")
]
KitchenOption = Annotated[
    Path | None,
    typer.Option(
        "--kitchen",
        help="The kitchen folder; without it, the nearest one above the card.",
        file_okay=False,
        exists=True,
    ),
]
