"""The command cut: order of cuts, distances, rollers, what a piece may be promised."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.cards import Theme
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.files.asked_cut import AskedCut
    from slabwright.publish.drawing.plan import DrawnPlan
    from slabwright.spec.cut_sheet import CutSheet
    from slabwright.spec.specification import Specification


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(cut)


def cut(
    card: CardArgument,
    as_: Annotated[
        str,
        typer.Option("--as", help='Another cut, as on a card: "5 x 4, trim 5 mm".'),
    ] = "",
    between: Annotated[
        str,
        typer.Option(help="Choose the best grid for pieces of so much: 60-75g."),
    ] = "",
    least: Annotated[str, typer.Option(help="No piece narrower than this: 40mm.")] = "",
    in_: Annotated[
        str, typer.Option("--in", help="The card's cut in this other tin.")
    ] = "",
    level: Annotated[
        str, typer.Option(help="How much higher one side of the slab is: 1mm.")
    ] = "",
    knife_off: Annotated[
        str,
        typer.Option(help="How far a stroke lies off its line, usually: 1mm."),
    ] = "",
    try_: Annotated[
        bool, typer.Option("--try", help="Cut many slabs on paper, and weigh them.")
    ] = False,
    plan: Annotated[
        Path | None,
        typer.Option("--plan", help="Write the drawing here; - for standard output."),
    ] = None,
    ruler: Annotated[
        Path | None,
        typer.Option("--ruler", help="Write ruler strips at true size: .pdf or .svg."),
    ] = None,
    theme: Annotated[Theme, typer.Option(help="Of the drawing.")] = "paper",
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Cut a slab: where the knife goes in which order, what a piece weighs at least.

    Example: slabwright cut demo/slabs/two-tides.card --between 60-75g --least 40mm
    """
    from slabwright.files.asked_cut import AskedCut
    from slabwright.publish.draw_cut import drawn_plan
    from slabwright.spec.cut_sheet import cut_sheet, tried

    if json and str(plan) == "-":
        what = "JSON and the drawing can't both go to standard output."
        raise FileError(Mistake(what, "Name a file for the drawing: --plan FILE."))
    spec = _worked(card, kitchen, AskedCut(as_, between, least), level, knife_off, in_)
    if not spec.name:
        desk.tell(spec.errors)
        raise typer.Exit(2)
    if spec.errors and not (spec.cut or spec.other_cuts):
        desk.tell(spec.errors)
        raise typer.Exit(2)
    sheet = cut_sheet(spec, in_)
    if try_:
        sheet = tried(sheet)
    drawing = drawn_plan(sheet.spec, sheet.cut)
    wrote = [*_write_plan(drawing, plan, theme), *_write_ruler(drawing, ruler)]
    _print(sheet, wrote, json=json, is_quiet=str(plan) == "-")
    desk.tell(spec.errors)
    desk.end(mistakes=bool(spec.errors), stops=False)


def _worked(
    card: str,
    kitchen: Path | None,
    asked: "AskedCut",
    level: str,
    knife_off: str,
    in_tin: str,
) -> "Specification":
    """The slab, worked out with the cut and the evenness that were asked for."""
    from slabwright.desk.cutting import CutAsked, worked_as

    opened = desk.open_card(card, kitchen)
    wanted = CutAsked(asked, in_tin, level, knife_off)
    order = desk.order_of(opened.folder)
    return worked_as(opened.spec, opened.read, opened.folder, order, wanted)


def _write_plan(plan: "DrawnPlan", path: Path | None, theme: Theme) -> list[Path]:
    if path is None:
        return []
    from slabwright.publish.drawing.cut_plan import cut_plan_svg

    drawing = cut_plan_svg(plan, theme=theme)
    if str(path) == "-":
        typer.echo(drawing, nl=False)
        return []
    return [_write(path, drawing.encode())]


def _write_ruler(plan: "DrawnPlan", path: Path | None) -> list[Path]:
    """Ruler strips as one PDF, or as an SVG for each page."""
    if path is None:
        return []
    from slabwright.publish.drawing.ruler_strip import ruler_pages

    pages = ruler_pages(plan)
    if not pages:
        what = "Nothing of this cut is marked along a ruler."
        raise FileError(Mistake(what, "Leave --ruler out."))
    if path.suffix.casefold() == ".pdf":
        from slabwright.publish.paper import pages_pdf

        alts = [f"Ruler strips, page {n} of {len(pages)}" for n in _counted(pages)]
        title = f"Ruler strips for {plan.name}"
        return [_write(path, pages_pdf(title, pages, alts))]
    names = [path if n == 1 else _numbered(path, n) for n in _counted(pages)]
    return [
        _write(name, page.encode()) for name, page in zip(names, pages, strict=True)
    ]


def _counted(pages: tuple[str, ...]) -> range:
    return range(1, len(pages) + 1)


def _numbered(path: Path, n: int) -> Path:
    return path.with_name(f"{path.stem}-{n}{path.suffix}")


def _write(path: Path, data: bytes) -> Path:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        do = "Name a file in a folder that exists."
        raise FileError(Mistake(what, do)) from error
    return path


def _print(sheet: "CutSheet", wrote: list[Path], *, json: bool, is_quiet: bool) -> None:
    if json:
        from slabwright.publish.cutting_json import cutting_json

        desk.print_json(cutting_json(sheet))
        return
    if is_quiet:
        return
    from slabwright.publish.cutting import cut_text
    from slabwright.publish.terminal import Manner

    typer.echo(cut_text(sheet, Manner(desk.columns(), bold=desk.bold)), nl=False)
    for path in wrote:
        typer.echo(f"wrote {path}")
