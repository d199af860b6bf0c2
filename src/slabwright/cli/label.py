"""The commands label and net-weight: what must be shown, and what pieces weigh."""

from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk, label_print
from slabwright.cli.options import (
    CardArgument,
    JsonOption,
    KitchenOption,
    TakesNumbers,
    plain,
)
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.day import read_day

if TYPE_CHECKING:
    from slabwright.files.raw import Text


def add_to(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command()(label)
    app.command("net-weight", cls=TakesNumbers)(net_weight)


def label(
    card: CardArgument,
    way: Annotated[
        str, typer.Option("--way", help="How it is sold; else as the card says.")
    ] = "",
    baked: Annotated[str, typer.Option("--baked", help="The bake day.")] = "",
    frozen: Annotated[str, typer.Option("--frozen", help="Day it was frozen.")] = "",
    thawed: Annotated[str, typer.Option("--thawed", help="Day it was thawed.")] = "",
    nation: Annotated[
        str, typer.Option("--nation", help="Where it is sold; else the kitchen's.")
    ] = "",
    on: Annotated[str, typer.Option("--on", help="The day whose rules hold.")] = "",
    unless: Annotated[
        list[str] | None,
        typer.Option("--unless", help="What lifts a need, by your word: by-number."),
    ] = None,
    surface: Annotated[
        float | None,
        typer.Option("--surface", help="Largest surface of the pack, cm²."),
    ] = None,
    item: Annotated[
        str, typer.Option("--item", help="Your number for it, for a bar code.")
    ] = "",
    code: Annotated[
        str, typer.Option("--code", help="The whole number under the bars.")
    ] = "",
    value: Annotated[
        int | None,
        typer.Option("--value", help="Price in pence or weight in g, in the number."),
    ] = None,
    to: label_print.PrintOption = None,
    size: label_print.SizeOption = "",
    sheet: label_print.SheetOption = "",
    paper: label_print.PaperOption = "",
    margins: label_print.MarginsOption = "",
    gaps: label_print.GapsOption = "",
    start: label_print.StartOption = 1,
    copies: label_print.CopiesOption = None,
    ticket: label_print.TicketOption = False,
    allergen_card: label_print.AllergenCardOption = False,
    stale: label_print.StaleOption = None,
    nutrition: label_print.NutritionOption = False,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Ask how a slab is sold, list what must be shown, and draft its label.

    Example: slabwright label demo/slabs/two-tides.card --baked 2026-11-26
    """
    from slabwright.desk.label import Asked, labels_of, number_for
    from slabwright.desk.label_print import Numbered
    from slabwright.publish.label import asked_lines, label_text
    from slabwright.publish.terminal import Manner

    if surface is not None and not 0 < surface < 1e5:
        what = f"{surface:g} cm² is no surface of a pack."
        raise FileError(
            Mistake(what, "Measure its largest side.", Where(field="surface"))
        )
    asked = Asked(
        read_day(on, "on") or desk.today(),
        way,
        nation,
        read_day(baked, "baked"),
        read_day(frozen, "frozen"),
        read_day(thawed, "thawed"),
        tuple(unless or ()),
        surface,
    )
    printing = label_print.Printing(
        to, size, sheet, paper, margins, gaps, start, copies, ticket, allergen_card,
        stale, nutrition,
    )  # fmt: skip
    opened = desk.open_card(card, kitchen)
    if printing.is_asked:
        numbered_so = Numbered(item, code, value)
        waits = label_print.printed(
            card, opened, asked, numbered_so, printing, json=json
        )
        desk.tell(opened.spec.errors)
        desk.end(mistakes=bool(opened.spec.errors), stops=waits)
        return
    found = labels_of(opened.spec, opened.folder, asked)
    numbered = [
        (
            one,
            number_for(one.order.way, opened.folder, item=item, code=code, value=value),
        )
        for one in found.labels
    ]
    asks = [(one.words, one.nearest) for one in found.asked]
    if json:
        from slabwright.publish.label_json import labels_json

        made = labels_json(found.slab, found.nation, found.on, asks, numbered)
        desk.print_json(made)
    else:
        manner = Manner(desk.columns(), bold=desk.bold)
        lines = [*asked_lines(found.slab, asks, manner)]
        texts = ["\n".join(lines) + "\n"] if lines else []
        currency = opened.folder.kitchen.currency
        texts += [label_text(one, number, currency, manner) for one, number in numbered]
        typer.echo("\n".join(texts), nl=False)
    desk.tell(opened.spec.errors)
    desk.end(mistakes=bool(opened.spec.errors), stops=False)


def net_weight(
    weights: Annotated[
        list[str],
        typer.Argument(help="Weights in g, or a file of them.", metavar="WEIGHT…"),
    ],
    nominal: Annotated[
        float | None, typer.Option("--nominal", help="A net weight to try, g.")
    ] = None,
    step: Annotated[
        float, typer.Option("--step", help="The step of your scale, g.")
    ] = 0.0,
    json: JsonOption = False,
) -> None:
    """Propose a net weight from weighed pieces, by the packers' three rules.

    Example: slabwright net-weight 74 73.5 75 74.2 73.8 74.6 75.1 73.9
    """
    from slabwright.files.weights import read_weights
    from slabwright.publish.label import net_weight_text
    from slabwright.publish.terminal import Manner
    from slabwright.spec.label_net import net_figures

    if not 0 <= step <= 1000:  # false for nan too
        what = f"{step:g} g is no step of a scale."
        raise FileError(Mistake(what, "Give 0.1, 1 or 2.", Where(field="step")))
    texts = _texts([plain(one) for one in weights])
    read = [grams for text in texts for grams in read_weights(text)]
    found = net_figures(read, step_g=step, nominal_g=nominal)
    if json:
        from slabwright.publish.label_json import net_weight_json

        desk.print_json(net_weight_json(found))
    else:
        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(net_weight_text(found, manner), nl=False)


def _texts(arguments: list[str]) -> "list[Text]":
    """What was typed, and every file that was named."""
    from slabwright.files.raw import Text

    files = [one for one in arguments if desk.is_file(one)]
    typed = [desk.text_of(one) for one in arguments if one not in files]
    said = [Text("\n".join(typed))] if typed else []
    return [*said, *(Text(desk.text_of(one), one) for one in files)]
