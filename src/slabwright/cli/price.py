"""The command price: what a piece costs with hands and energy, and what it earns."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake
from slabwright.files.day import read_day

if TYPE_CHECKING:
    from slabwright.cost.tax_reading import Treated


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(price)


def price(
    cards: Annotated[
        list[str] | None,
        typer.Argument(help="Cards, or a folder of them.", metavar="CARD…"),
    ] = None,
    piece_price: Annotated[
        str,
        typer.Option("--piece-price", help="Another price than the card's: 3.50."),
    ] = "",
    margin: Annotated[
        str, typer.Option("--margin", help="The price for this margin: 65.")
    ] = "",
    line: Annotated[
        str,
        typer.Option(
            "--line",
            help="Under what nothing must fall: 'margin 60 %', 'mark-up 150 %', "
            "'1.20 left'.",
        ),
    ] = "",
    change: Annotated[
        list[str] | None,
        typer.Option(
            "--change",
            help="What if a price of an ingredient changes: 'butter +20 %'. Again for "
            "several.",
        ),
    ] = None,
    eaten: Annotated[
        str, typer.Option("--eaten", help="here or away, where tax hangs on it.")
    ] = "",
    way: Annotated[
        str, typer.Option("--way", help="This way of selling alone: 'packed here'.")
    ] = "",
    tax: Annotated[
        str,
        typer.Option("--tax", help="A rate in place of your decision: '20 %'."),
    ] = "",
    trays: Annotated[
        int, typer.Option("--trays", help="Made at once, sharing a batch's hands.")
    ] = 1,
    on: Annotated[
        str, typer.Option("--on", help="The day whose prices hold: 2026-03-01.")
    ] = "",
    draw: Annotated[
        Path | None,
        typer.Option("--draw", help="Draw what it costs into this file: cost.svg."),
    ] = None,
    reading: Annotated[
        bool,
        typer.Option("--reading", help="How bakes have been treated for tax, to read."),
    ] = False,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Price slabs: hands, energy, packaging and tax; what is left; what would mend it.

    Example: slabwright price demo/slabs/two-tides.card --tax "0 %" --margin 60
    """
    from slabwright.cli.counter_of import opened_counter
    from slabwright.desk.pricing import PriceAsked, prices_asked
    from slabwright.publish.pricing import pricing_text, reading_text
    from slabwright.publish.terminal import Manner

    manner = Manner(desk.columns(), bold=desk.bold)
    if reading:
        typer.echo(reading_text(_reading(kitchen), manner), nl=False)
        return
    if not cards:
        raise FileError(Mistake("No slab is named.", "Name its card, or a folder."))
    opened = opened_counter(cards, kitchen, read_day(on) or desk.today())
    asked = PriceAsked(
        opened.on, piece_price, _line(margin, line), eaten, way, tax, trays,
        tuple(change or ()),
    )  # fmt: skip
    found = prices_asked(opened.specs, opened.folder, asked)
    if draw is not None:
        from slabwright.files.begin import write_new
        from slabwright.publish.pricing_draw import cost_bar_svg

        row = found.rows[0]
        svg = cost_bar_svg(row.before, row.offer, prefix="cost")
        if not svg:
            what = f"Nothing is known of what {row.before.name} costs."
            raise FileError(Mistake(what, "Give its prices in prices.yaml."))
        write_new(draw, svg, replace=True)
        typer.echo(f"wrote {draw}", err=True)
    if json:
        from slabwright.publish.pricing_json import pricing_json

        desk.print_json(pricing_json(found))
    else:
        typer.echo(pricing_text(found, manner), nl=False)
    desk.tell(opened.mistakes)
    desk.end(mistakes=bool(opened.mistakes), stops=False)


def _line(margin: str, line: str) -> str:
    """The line that is asked for, a bare margin too.

    Raises:
        FileError: if two are.
    """
    if margin.strip() and line.strip():
        what = "A margin and a line are asked for."
        raise FileError(Mistake(what, "Give one of --margin and --line."))
    said = margin.strip().removesuffix("%").strip()
    return f"margin {said} %" if said else line


def _reading(kitchen: Path | None) -> "tuple[Treated, ...]":
    from slabwright.cost.tax_reading import tax_reading
    from slabwright.files.folder import folder_of, open_folder

    return tax_reading(open_folder(kitchen or folder_of(None)).kitchen.country)
