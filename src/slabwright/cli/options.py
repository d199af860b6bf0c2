"""Arguments and options that several commands share."""

import re
from pathlib import Path
from typing import Annotated, Any, Final

import typer
from typer.core import TyperCommand

_MINUS: Final = "\ue000"
"""Stands for the minus of a number, so that it is taken for no option."""
_NEGATIVE: Final = re.compile(r"-\s*[\d.½¼¾]")


class TakesNumbers(TyperCommand):
    """A command to which `-5 g` is a value, not an option."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Read the arguments with the minus of each number hidden."""
        valued = {
            name
            for one in self.params
            if not getattr(one, "is_flag", False)
            for name in one.opts
            if name.startswith("-")
        }
        before = ["", *args]
        hidden = [
            _MINUS + a[1:] if _NEGATIVE.match(a) and last not in valued else a
            for last, a in zip(before, args, strict=False)
        ]
        return super().parse_args(ctx, hidden)


def plain(value: str) -> str:
    """A value with the minus that it was typed with."""
    return value.replace(_MINUS, "-", 1) if value.startswith(_MINUS) else value


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

DataOption = Annotated[
    Path | None,
    typer.Option("--data", help="Folder of the store; else the user's own."),
]
DatabaseOption = Annotated[
    str,
    typer.Option(
        "--database",
        help="Another store: postgresql+psycopg://…",
        envvar="SLABWRIGHT_DATABASE",
    ),
]
