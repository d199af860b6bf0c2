"""The command sheet: the bench sheet as PDF for the wall, and as a page."""

from hashlib import blake2s
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.cli.scaling import (
    ByOption,
    ChoiceOption,
    HeightOption,
    MassOption,
    PiecesOption,
    TinOption,
    TraysOption,
    WholeBatchOption,
)
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.spec.bench import BenchSheet


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(sheet)


def sheet(
    card: CardArgument,
    to: Annotated[
        Path | None,
        typer.Option("--to", help="The PDF; else beside you, by the card's name."),
    ] = None,
    html: Annotated[
        Path | None, typer.Option("--html", help="Write it as a page, too.")
    ] = None,
    tin: TinOption = None,
    trays: TraysOption = None,
    pieces: PiecesOption = None,
    by: ByOption = "",
    mass: MassOption = "",
    height: HeightOption = "",
    whole_batch: WholeBatchOption = False,
    choice: ChoiceOption = "A",
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Print the bench sheet: what to weigh, what the scale reads, what to watch for.

    Example: slabwright sheet demo/slabs/two-tides.card --to out/two-tides.pdf
    """
    from slabwright.desk.scaling import AskedFor, chosen, scaled_as
    from slabwright.files.wanted import Asked
    from slabwright.spec.bench import Making, bench_sheet

    asked = Asked(
        tuple(tin or ()), trays, pieces, by, mass, height, whole_batch=whole_batch
    )
    opened = desk.open_card(card, kitchen)
    spec = opened.spec
    if not (spec.layers or spec.components):
        desk.tell(spec.errors)
        what = f"'{card}' has no layers to weigh."
        raise FileError(Mistake(what, "Name a slab's card."))
    words = ""
    if asked != Asked():
        order = desk.order_of(opened.folder)
        scaled, found = scaled_as(spec, opened.folder, order, AskedFor(asked))
        spec = chosen(scaled.making, found, choice)
        words = f"card × {scaled.multiplier.number:.4g}"
        if len(scaled.tins) > 1:
            words += f" for {' and '.join(one.named.words for one in scaled.tins)}"
    making = Making(desk.today(), words=words, revision=revision(card))
    made = bench_sheet(spec, making)
    wanted = to
    if wanted is None and html is None and not json:
        wanted = Path("sheet.pdf" if card == "-" else f"{Path(card).stem}.pdf")
    if json:
        from slabwright.publish.sheet.bench_json import bench_json

        desk.print_json(bench_json(made))
    for path in write(made, wanted, html):
        if not json:
            typer.echo(f"wrote {path}")
    desk.tell(spec.errors)
    desk.end(mistakes=bool(spec.errors), stops=False)


def write(made: "BenchSheet", pdf: Path | None, html: Path | None) -> list[Path]:
    """Write a sheet as PDF, as HTML, or both.

    Raises:
        FileError: if a file can't be written.
    """
    files: list[tuple[Path, bytes]] = []
    if pdf is not None:
        from slabwright.publish.sheet.pdf import sheet_pdf

        files.append((pdf, sheet_pdf(made, plan_of(made))))
    if html is not None:
        from slabwright.publish.sheet.html import sheet_html

        files.append((html, sheet_html(made, plan_of(made)).encode()))
    for path, data in files:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        except OSError as error:
            what = f"'{path}' can't be written: {error.strerror}."
            do = "Name a file in a folder that exists."
            raise FileError(Mistake(what, do)) from error
    return [path for path, _ in files]


def plan_of(made: "BenchSheet") -> str:
    """The plan of its cut as SVG; empty without a cut."""
    from slabwright.publish.draw_cut import drawn_plan
    from slabwright.publish.drawing.cut_plan import cut_plan_svg

    cut = made.spec.cut
    if cut is None:
        return ""
    return cut_plan_svg(drawn_plan(made.spec, cut), theme="paper")


def revision(card: str) -> str:
    """Which text of a card this is: the beginning of its fingerprint."""
    path = Path(card)
    if card == "-" or not path.is_file():
        return ""
    return f"card {blake2s(path.read_bytes(), digest_size=4).hexdigest()}"
