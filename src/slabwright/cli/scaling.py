"""The command scale: another tin, so many pieces, a mass, a depth."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.spec.scaling import Scaled

TinOption = Annotated[
    list[str] | None,
    typer.Option(
        "--tin",
        help="Another tin, by name or inner sizes; so many: '2 of shop frame'. Again "
        "for several kinds.",
    ),
]
TraysOption = Annotated[
    int | None, typer.Option("--trays", help="So many of each tin.")
]
PiecesOption = Annotated[
    int | None, typer.Option("--pieces", help="At least so many, in whole trays.")
]
ByOption = Annotated[str, typer.Option("--by", help="So many times as much.")]
MassOption = Annotated[
    str, typer.Option("--mass", help="Mass of all that is finished: 2.5kg.")
]
HeightOption = Annotated[
    str,
    typer.Option("--height", help="Height of the slab, layers in proportion: 28mm."),
]
LayerOption = Annotated[
    list[str] | None,
    typer.Option("--layer", help="Depth of one layer alone: 'Malt caramel = 10 mm'."),
]
RimOption = Annotated[bool, typer.Option("--to-rim", help="As much as the rim allows.")]
HeadRoomOption = Annotated[
    str,
    typer.Option("--head-room", help="As much as the rim allows but for this: 3mm."),
]
WholeBatchOption = Annotated[
    bool, typer.Option("--whole-batch", help="The card's batch, however deep it is.")
]


def add_to(app: typer.Typer) -> None:
    """Give the program this command."""
    app.command()(scale)


def scale(
    card: CardArgument,
    tin: TinOption = None,
    trays: TraysOption = None,
    pieces: PiecesOption = None,
    by: ByOption = "",
    mass: MassOption = "",
    height: HeightOption = "",
    layer: LayerOption = None,
    to_rim: RimOption = False,
    head_room: HeadRoomOption = "",
    whole_batch: WholeBatchOption = False,
    to: Annotated[
        Path | None,
        typer.Option("--to", help="Write the scaled card here; - for standard output."),
    ] = None,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Scale a slab: equal depth in another tin, more trays, pieces, a mass, a depth.

    Example: slabwright scale demo/slabs/two-tides.card --tin "23 cm square"
    """
    from slabwright.files.wanted import Asked, read_wanted
    from slabwright.spec.scaling import scale as scaled_to

    opened = desk.open_card(card, kitchen)
    if not opened.spec.layers:
        desk.tell(opened.spec.errors)
        what = f"'{card}' has no layers to scale."
        raise FileError(Mistake(what, "Name a slab's card."))
    asked = Asked(
        tuple(tin or ()), trays, pieces, by, mass, height, tuple(layer or ()),
        to_rim, head_room, whole_batch,
    )  # fmt: skip
    wanted = read_wanted(asked, opened.folder.tins)
    scaled = scaled_to(opened.spec, wanted, desk.order_of(opened.folder))
    if to is not None:
        _write_card(scaled, to)
    if json:
        from slabwright.publish.scaling_json import scaling_json

        desk.print_json(scaling_json(scaled))
    elif str(to) != "-":
        from slabwright.publish.scaling import scaling_text, scaling_watch
        from slabwright.publish.terminal import Manner

        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(scaling_text(scaled, manner), nl=False)
        typer.echo(scaling_watch(scaled, manner), nl=False)
    desk.tell(opened.spec.errors)
    desk.end(mistakes=bool(opened.spec.errors), stops=False)


def _write_card(scaled: "Scaled", to: Path) -> None:
    """The card for all that is made, as text: its comments are left behind."""
    from slabwright.files.begin import write_new
    from slabwright.files.card.form import form_of
    from slabwright.files.card.printer import card_text

    text = card_text(form_of(scaled.making.card))
    if str(to) == "-":
        typer.echo(text, nl=False)
        return
    write_new(to, text)
    typer.echo(f"wrote {to}")
