"""Commands on cards: spec, why, read, amend, adopt."""

from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from slabwright.cli import desk
from slabwright.cli.checking import check
from slabwright.cli.options import (
    CardArgument,
    JsonOption,
    KitchenOption,
    TakesNumbers,
    plain,
)
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.spec.specification import Specification

Theme = Literal["light", "dark", "paper"]
"""Themes of the drawing; named here, so that help needs no drawing to be loaded."""


def add_to(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command()(spec)
    app.command(cls=TakesNumbers)(why)
    app.command()(check)
    app.command()(read)
    app.command(cls=TakesNumbers)(amend)
    app.command()(adopt)


def spec(
    card: CardArgument,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
    svg: Annotated[
        Path | None,
        typer.Option("--svg", help="Write the drawing here; - for standard output."),
    ] = None,
    theme: Annotated[Theme, typer.Option(help="Of the drawing.")] = "light",
    full: Annotated[
        bool, typer.Option("--full", help="What every layer is made of, too.")
    ] = False,
    plain: Annotated[
        bool, typer.Option("--plain", help="Letters in place of block characters.")
    ] = False,
    on: Annotated[
        str, typer.Option(help="The line that counts as 100 %, such as: plain flour.")
    ] = "",
) -> None:
    """Work out a slab: what it is made of, how deep, how tall, what to look out for.

    Example: slabwright spec demo/slabs/two-tides.card
    """
    if json and str(svg) == "-":
        what = "JSON and the drawing can't both go to standard output."
        raise FileError(Mistake(what, "Name a file for the drawing: --svg FILE."))
    opened = desk.open_card(card, kitchen, on)
    _insist_on(opened.spec, on)
    if svg is not None:
        _write_drawing(opened, svg, theme)
    if json:
        from slabwright.publish.json_form import spec_json

        desk.print_json(spec_json(opened.spec))
    elif opened.spec.name and (svg is None or str(svg) != "-"):
        from slabwright.publish.draw import drawn
        from slabwright.publish.terminal import Manner, spec_text

        manner = Manner(desk.columns(), plain, full, desk.bold)
        typer.echo(spec_text(opened.spec, drawn(opened.spec), manner), nl=False)
    desk.tell(opened.spec.errors)
    stops = bool(desk.stopping(opened.spec.findings))
    desk.end(mistakes=bool(opened.spec.errors), stops=stops)


def _insist_on(spec: "Specification", on: str) -> None:
    """Refuse a base for baker's percentages that no line is called by."""
    asked = on.casefold()
    blocks = (*spec.layers, *spec.components)
    lines = [line for block in blocks for line in block.lines]
    if any(asked in one.name.casefold() or asked == one.larder_id for one in lines):
        return
    if not on or not lines:
        return
    names = list(dict.fromkeys(line.name for line in lines))
    near = tuple(get_close_matches(on, names, 4)) or tuple(names[:4])
    do = f"Write one of: {', '.join(near)}."
    raise FileError(Mistake(f"No line is called '{on}'.", do, nearest=near))


def _write_drawing(opened: desk.Opened, svg: Path, theme: Theme) -> None:
    from slabwright.publish.draw import drawn
    from slabwright.publish.drawing.section import section_svg

    drawing = section_svg(drawn(opened.spec), theme=theme)
    if str(svg) == "-":
        typer.echo(drawing, nl=False)
        return
    try:
        svg.write_text(drawing, encoding="utf-8")
    except OSError as error:
        what = f"'{svg}' can't be written: {error.strerror}."
        raise FileError(
            Mistake(what, "Name a file in a folder that exists.")
        ) from error


def why(
    card: CardArgument,
    figure: Annotated[
        str,
        typer.Argument(
            help="Words for it, or the number of a finding.", callback=plain
        ),
    ],
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Open a figure: its sum, its range, its standing, where it comes from.

    Example: slabwright why demo/slabs/two-tides.card "curd depth"
    """
    from slabwright.publish.why import class_text, figure_text, finding_text
    from slabwright.spec.figures import (
        find_classes,
        find_figures,
        nearest_figures,
    )

    spec = desk.open_card(card, kitchen).spec
    if not spec.name:
        desk.tell(spec.errors)
        raise typer.Exit(2)
    if figure.isdigit() and 1 <= int(figure) <= len(spec.told):
        told = spec.told[int(figure) - 1]
        if json:
            from slabwright.publish.figure_json import finding_json

            desk.print_json(finding_json(told.finding))
        else:
            typer.echo(finding_text(told, desk.columns()), nl=False)
        return
    found = find_figures(spec, figure)
    classes = () if found else find_classes(spec, figure)
    if not found and not classes:
        names = ", ".join(nearest_figures(spec, figure))
        typer.echo(
            f"Error: No figure here is called '{figure}'. Try: {names}.", err=True
        )
        raise typer.Exit(2)
    if json:
        from slabwright.publish.figure_json import figure_json
        from slabwright.publish.nature_json import class_json

        opened = {name: figure_json(one) for name, one in found}
        desk.print_json(opened or {name: class_json(one) for name, one in classes})
        return
    for name, one in found:
        typer.echo(figure_text(name, one, desk.columns()), nl=False)
    for name, class_ in classes:
        typer.echo(class_text(name, class_, desk.columns()), nl=False)


def read(
    card: CardArgument,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Print a card with what was understood beside each line.

    Example: slabwright read demo/slabs/two-tides.card
    """
    opened = desk.open_card(card, kitchen)
    if json:
        from slabwright.files.card.form import card_form

        desk.print_json(card_form(opened.read))
    else:
        from slabwright.publish.reading import reading_text
        from slabwright.spec.understood import understood

        said = understood(opened.spec)
        for one in opened.read.lines:
            for mistake in one.values if one.reads_as == "mistake" else ():
                said[one.line.number] = f"MISTAKE {mistake}"
        by_number = {one.line.number: one.line.raw for one in opened.read.lines}
        lines = list(by_number.values())  # a paragraph may have been several lines
        typer.echo(reading_text(lines, said, desk.columns()), nl=False)
    if opened.spec.errors:
        desk.tell(opened.spec.errors)
        raise typer.Exit(2)


def amend(
    card: Annotated[Path, typer.Argument(help="A card's file.", metavar="CARD")],
    what: Annotated[
        str,
        typer.Argument(
            help="An ingredient, a word (tin, ends, keep), LAYER/either, or a line.",
            callback=plain,
        ),
    ],
    value: Annotated[str, typer.Argument(help="What it is to say.", callback=plain)],
    kitchen: KitchenOption = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show the change, write nothing.")
    ] = False,
) -> None:
    """Change one value of a card; every other character stays.

    Example: slabwright amend demo/slabs/two-tides.card tin "23 x 23 cm" --dry-run
    """
    from slabwright.files.card.rewrite import amended, changed_line, write_back
    from slabwright.files.card.sense import insist
    from slabwright.files.folder import folder_of, open_folder
    from slabwright.files.raw import read_text

    text = read_text(card)
    folder = open_folder(kitchen or folder_of(card))
    before = desk.understood(folder, text)
    change = amended(text, before.read, what, value)
    insist(change, before, desk.understood(folder, change.text))
    typer.echo(changed_line(change))
    if not dry_run:
        write_back(card, change)


def adopt(
    recipe: Annotated[
        str,
        typer.Argument(
            help="A recipe's file, or - for standard input.", metavar="RECIPE"
        ),
    ],
    to: Annotated[
        Path | None, typer.Option("--to", help="Where to write the card; else printed.")
    ] = None,
    kitchen: KitchenOption = None,
) -> None:
    """Write a pasted recipe as a card: your own words kept, questions as comments.

    Example: slabwright adopt demo/pasted/lemon-slice.txt
    """
    from slabwright.files.begin import write_new
    from slabwright.files.pasted.adopt import adopted

    opened = desk.open_card(recipe, kitchen)
    if opened.read.mistakes:
        desk.tell(opened.read.mistakes)
        raise typer.Exit(2)
    if not opened.read.is_pasted:
        typer.echo(
            "Error: This is a card already. There is nothing to adopt.", err=True
        )
        raise typer.Exit(2)
    text = adopted(opened.read, opened.folder.names, opened.folder.tins)
    if to is None:
        typer.echo(text, nl=False)
        return
    write_new(to, text)
    typer.echo(f"wrote {to}")
