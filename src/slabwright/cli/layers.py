"""The command layers: what each layer of a slab will be."""

from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(layers)


def layers(
    card: CardArgument,
    layer: Annotated[
        str, typer.Option("--layer", help="This layer or component alone.")
    ] = "",
    beside: Annotated[
        str,
        typer.Option("--beside", help="Another card, to hold its layers against."),
    ] = "",
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Tell what each layer will be: its water, sugar, fat and gel, and its bite.

    Example: slabwright layers demo/slabs/harbour-lamp.card
    """
    from slabwright.spec.nature.sheet import layer_sheet

    if card == beside == "-":
        what = "Only one of the two can come through a pipe."
        raise FileError(Mistake(what, "Name a file for the other."))
    spec = desk.open_card(card, kitchen).spec
    other = desk.open_card(beside, kitchen).spec if beside else None
    errors = (*spec.errors, *(other.errors if other else ()))
    if not spec.name:
        desk.tell(spec.errors)
        raise typer.Exit(2)
    try:
        sheet = layer_sheet(spec, layer, other)
    except FileError:
        desk.tell(errors)  # a layer that can't be read may be why none has this name
        raise
    if json:
        from slabwright.publish.layers_json import layers_json

        desk.print_json(layers_json(sheet))
    else:
        from slabwright.publish.layers import layers_text
        from slabwright.publish.terminal import Manner

        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(layers_text(sheet, manner), nl=False)
    desk.tell(errors)
    desk.end(mistakes=bool(errors), stops=False)
