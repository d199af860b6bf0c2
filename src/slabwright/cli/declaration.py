"""The command declaration: the list of ingredients, its shares, why each stands so."""

from typing import Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.files.day import read_day


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(declaration)


def declaration(
    card: CardArgument,
    by_layer: Annotated[
        bool, typer.Option("--by-layer", help="Each layer in brackets of its own.")
    ] = False,
    sugars_together: Annotated[
        bool, typer.Option("--sugars-together", help="All sucrose by the name sugar.")
    ] = False,
    e_numbers: Annotated[
        bool, typer.Option("--e-numbers", help="Additives by their E number.")
    ] = False,
    described: Annotated[
        str, typer.Option("--described", help="Your words on it, beside its name.")
    ] = "",
    nation: Annotated[
        str, typer.Option("--nation", help="Where it is sold; else the kitchen's.")
    ] = "",
    on: Annotated[str, typer.Option("--on", help="The day whose rules hold.")] = "",
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """List the ingredients in their order, allergens set apart, and why each stands so.

    Example: slabwright declaration demo/slabs/two-tides.card --by-layer
    """
    from slabwright.desk.declaration import list_of
    from slabwright.desk.label import nation_for
    from slabwright.label.ingredients.declared import Nation
    from slabwright.publish.declaration import list_text
    from slabwright.publish.terminal import Manner
    from slabwright.spec.declaration import ListOrder

    opened = desk.open_card(card, kitchen)
    where = Nation(nation_for(opened.folder, nation), read_day(on) or desk.today())
    order = ListOrder(where, by_layer, sugars_together, e_numbers, described[:1000])
    found = list_of(opened.spec, opened.folder, order)
    if json:
        from slabwright.publish.declaration_json import declaration_json

        desk.print_json(declaration_json(found))
    else:
        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(list_text(found, manner), nl=False)
    desk.tell(opened.spec.errors)
    desk.end(mistakes=bool(opened.spec.errors), stops=False)
