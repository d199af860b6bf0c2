"""The commands cost and buy: what slabs cost, and what to order for them."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake
from slabwright.files.day import read_day

if TYPE_CHECKING:
    from slabwright.counter.needs import Trays
    from slabwright.counter.shopping import ShoppingList
    from slabwright.files.folder import Folder

OnOption = Annotated[
    str, typer.Option("--on", help="The day whose prices hold: 2026-03-01.")
]


def add_to(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command()(cost)
    app.command()(buy)


@dataclass(frozen=True)
class _Counter:
    """The slabs that are asked for, in the kitchen that they share."""

    folder: "Folder"
    orders: "tuple[Trays, ...]"
    on: date
    mistakes: tuple[Mistake, ...]


def cost(
    cards: Annotated[
        list[str],
        typer.Argument(help="Cards, or a folder of them.", metavar="CARD…"),
    ],
    trays: Annotated[int, typer.Option("--trays", help="So many trays of each.")] = 1,
    on: OnOption = "",
    since: Annotated[
        str, typer.Option("--since", help="Tell which prices moved since this day.")
    ] = "",
    price: Annotated[
        list[str] | None,
        typer.Option(
            "--price",
            help="What if a price changes: 'butter +20 %', 'plain flour = 13.20'; a "
            "group hits all of it. Again for several.",
        ),
    ] = None,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Cost slabs from packs and prices: lines, layers, piece, trim, waste, left-overs.

    Example: slabwright cost demo/slabs/two-tides.card
    """
    from slabwright.publish.money import costs_text
    from slabwright.publish.terminal import Manner

    if trays < 1:
        what = f"The number of trays is {trays}."
        raise FileError(Mistake(what, "Give a whole number from 1."))
    counter = _opened(cards, kitchen, on, trays)
    from slabwright.desk.counter import costs_of

    found = costs_of(
        counter.orders, counter.folder, counter.on, read_day(since), price or ()
    )
    if json:
        from slabwright.publish.money_json import costs_json

        desk.print_json(costs_json(found))
    else:
        typer.echo(costs_text(found, Manner(desk.columns(), bold=desk.bold)), nl=False)
    desk.tell(counter.mistakes)
    desk.end(mistakes=bool(counter.mistakes), stops=False)


def buy(
    slabs: Annotated[
        list[str],
        typer.Argument(
            help="Cards or names of slabs, with trays: two-tides.card=2, or "
            "'harbour-lamp x 2, two-tides'.",
            metavar="CARD[=TRAYS]…",
        ),
    ],
    on: OnOption = "",
    waste: Annotated[
        bool, typer.Option("--waste", help="Add the kitchen's waste allowance.")
    ] = False,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", help="Write a table for a spreadsheet; - to print it."),
    ] = None,
    print_to: Annotated[
        Path | None,
        typer.Option("--print", help="Write a page to print: order.html."),
    ] = None,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """List what to buy for these trays, net of stock, in the cheapest whole packs.

    Example: slabwright buy demo/slabs/two-tides.card=2
    """
    from slabwright.publish.shopping import shopping_text
    from slabwright.publish.terminal import Manner

    if [str(csv), str(print_to), "-" if json else ""].count("-") > 1:
        what = "Only one thing can go to standard output."
        raise FileError(Mistake(what, "Give the others a file."))
    counter = _opened(slabs, kitchen, on)
    from slabwright.desk.counter import to_buy

    found = to_buy(counter.orders, counter.folder, counter.on, with_waste=waste)
    _write(found, csv, print_to)
    if json:
        from slabwright.publish.shopping_json import shopping_json

        desk.print_json(shopping_json(found))
    elif str(csv) != "-" and str(print_to) != "-":
        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(shopping_text(found, manner), nl=False)
    desk.tell(counter.mistakes)
    desk.end(mistakes=bool(counter.mistakes), stops=False)


def _opened(
    named: Sequence[str], kitchen: Path | None, on: str, trays: int = 1
) -> _Counter:
    """The cards that are meant, each worked out at the prices of the day.

    Raises:
        FileError: if a card can't be found, or two kitchens would have to be mixed.
    """
    from slabwright.counter.needs import Trays
    from slabwright.files.folder import folder_of, open_folder, standard_input
    from slabwright.files.orders import read_orders
    from slabwright.files.raw import read_text
    from slabwright.spec.work_out import work_out

    day = read_day(on) or desk.today()
    ordered = read_orders(named, kitchen or folder_of(None), trays)
    homes = {
        kitchen or folder_of(None if str(one.card) == "-" else one.card)
        for one in ordered
    }
    if len(homes) > 1:
        names = " and ".join(sorted(str(home) for home in homes))
        what = f"These cards are of several kitchens: {names}."
        raise FileError(Mistake(what, "Say whose prices hold: --kitchen FOLDER."))
    folder = open_folder(homes.pop())
    order = replace(desk.order_of(folder), on=day)
    orders: list[Trays] = []
    mistakes = list(folder.mistakes)
    for one in ordered:
        is_pipe = str(one.card) == "-"
        text = (
            standard_input(sys.stdin.buffer.read()) if is_pipe else read_text(one.card)
        )
        read = folder.read(text)
        spec = work_out(read.card, order, read.mistakes)
        mistakes.extend(spec.errors)
        used = [m for m in folder.component_mistakes if m.where.file in spec.files]
        mistakes.extend(used)
        orders.append(Trays(spec, one.trays))
    return _Counter(folder, tuple(orders), day, tuple(dict.fromkeys(mistakes)))


def _write(found: "ShoppingList", csv: Path | None, page: Path | None) -> None:
    """The table and the page, each to its file or to standard output."""
    from slabwright.files.begin import write_new

    texts: list[tuple[Path, str]] = []
    if csv is not None:
        from slabwright.publish.shopping_csv import shopping_csv

        texts.append((csv, shopping_csv(found)))
    if page is not None:
        from slabwright.publish.shopping_page import shopping_page

        texts.append((page, shopping_page(found)))
    for path, text in texts:
        if str(path) == "-":
            typer.echo(text, nl=False)
            continue
        write_new(path, text, replace=True)
        typer.echo(f"wrote {path}", err=True)
