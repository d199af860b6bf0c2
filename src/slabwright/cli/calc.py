"""The command calc: the sums of the trade, one answer each."""

from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import JsonOption, KitchenOption
from slabwright.errors import SlabwrightError

if TYPE_CHECKING:
    from slabwright.files.folder import Folder
    from slabwright.publish.terminal import Manner
    from slabwright.spec.calc.calculated import Calculated
    from slabwright.spec.calc.calculator import Calculator


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(calc)


def calc(
    name: Annotated[
        str, typer.Argument(help="Which calculator; none lists them.", metavar="[NAME]")
    ] = "",
    given: Annotated[
        list[str] | None,
        typer.Argument(help="What it asks: altitude_m=500.", metavar="[KEY=VALUE]…"),
    ] = None,
    listed: Annotated[
        bool, typer.Option("--list", help="List every calculator, or this one.")
    ] = False,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Answer one question: a boiling point, a water activity, an exchange, a tin.

    Example: slabwright calc tin-factor from_tin="30 x 20 cm" to_tin="23 cm round"
    """
    from slabwright.desk.calc import around_of
    from slabwright.files.folder import folder_of, open_folder
    from slabwright.spec.calc.calculated import calculated, calculator_at, pairs_of
    from slabwright.spec.calc.calculators import CALCULATORS, calculator_named

    folder = open_folder(kitchen or folder_of(None))
    given = list(given or ())
    while given and "=" not in given[0] and not calculator_named(name):
        name = f"{name} {given.pop(0)}"  # a name in several words
    if listed or not name:
        chosen = (calculator_at(name),) if name else CALCULATORS
        _list(chosen, folder, json=json)
        return
    calculator = calculator_at(name)
    try:
        found = calculated(calculator, pairs_of(given), around_of(folder))
    except SlabwrightError as error:
        if not given and not json:
            _list((calculator,), folder, json=False)
        for one in error.mistakes:
            typer.echo(f"Error: {one.what} {one.do}", err=True)
        desk.tell(folder.mistakes)
        raise typer.Exit(2) from error
    _answer(found, json=json)
    desk.tell(folder.mistakes)
    desk.end(mistakes=bool(folder.mistakes), stops=False)


def _answer(found: "Calculated", *, json: bool) -> None:
    if json:
        from slabwright.publish.calc_json import answer_json

        desk.print_json(answer_json(found))
        return
    from slabwright.publish.calc import answer_text

    text = answer_text(found.calculator, found.answer, _manner())
    typer.echo(text, nl=False)


def _list(chosen: "tuple[Calculator, ...]", folder: "Folder", *, json: bool) -> None:
    from slabwright.publish.calc import list_text
    from slabwright.publish.calc_json import list_json
    from slabwright.spec.calc.calculated import default_of

    kitchen = folder.kitchen
    every = [
        (one, {field.name: default_of(field, kitchen) for field in one.inputs})
        for one in chosen
    ]
    if json:
        desk.print_json(list_json(every))
    else:
        typer.echo(list_text(every, _manner()), nl=False)


def _manner() -> "Manner":
    from slabwright.publish.terminal import Manner

    return Manner(desk.columns(), bold=desk.bold)
