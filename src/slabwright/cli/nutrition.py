"""The command nutrition: what 100 g and a piece hold, as a label declares it."""

from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.files.day import read_day


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(nutrition)


def nutrition(
    card: CardArgument,
    nation: Annotated[
        str, typer.Option("--nation", help="Where it is sold; else the kitchen's.")
    ] = "",
    on: Annotated[str, typer.Option("--on", help="The day whose rules hold.")] = "",
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Declare what 100 g and a piece hold, with ranges, and what brings it.

    Example: slabwright nutrition demo/slabs/two-tides.card
    """
    from slabwright.desk.nutrition import nutrition_for
    from slabwright.publish.nutrition import nutrition_text
    from slabwright.publish.terminal import Manner

    opened = desk.open_card(card, kitchen)
    found = nutrition_for(
        opened.spec, opened.folder, read_day(on) or desk.today(), nation
    )
    if json:
        from slabwright.publish.nutrition_json import nutrition_json

        desk.print_json(nutrition_json(found))
    else:
        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(nutrition_text(found, manner), nl=False)
    desk.tell(opened.spec.errors)
    desk.end(mistakes=bool(opened.spec.errors), stops=False)
