"""The command compare: two slabs, or two versions of one."""

from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(compare)


def compare(
    before: Annotated[
        str,
        typer.Argument(help="A card's file, or - for standard input.", metavar="CARD"),
    ],
    after: Annotated[
        str, typer.Argument(help="The card to hold against it.", metavar="OTHER")
    ],
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Hold two slabs, or two versions of one, against each other.

    Example: slabwright compare demo/slabs/two-tides.card demo/slabs/harbour-lamp.card
    """
    from slabwright.spec.compare import compare as compared

    if before == after == "-":
        what = "Only one of the two can come through a pipe."
        raise FileError(Mistake(what, "Name a file for the other."))
    first, second = (desk.open_card(card, kitchen).spec for card in (before, after))
    if first.name and second.name:
        made = compared(first, second)
        if json:
            from slabwright.publish.compare_json import comparison_json

            desk.print_json(comparison_json(made))
        else:
            from slabwright.publish.compare import comparison_text
            from slabwright.publish.terminal import Manner

            manner = Manner(desk.columns(), bold=desk.bold)
            typer.echo(comparison_text(made, manner), nl=False)
    errors = tuple(dict.fromkeys((*first.errors, *second.errors)))
    desk.tell(errors)
    desk.end(mistakes=bool(errors), stops=False)
