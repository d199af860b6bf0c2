"""The command scale: another tin, so many pieces, a mass, a depth."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.spec.specification import Specification

TinOption = Annotated[
    list[str] | None,
    typer.Option(
        "--tin",
        metavar="TIN",
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
    typer.Option(
        "--layer",
        metavar="NAME=DEPTH",
        help="Depth of one layer alone: 'Malt caramel = 10 mm'.",
    ),
]
RimOption = Annotated[bool, typer.Option("--to-rim", help="As much as the rim allows.")]
HeadRoomOption = Annotated[
    str,
    typer.Option("--head-room", help="As much as the rim allows but for this: 3mm."),
]
WholeBatchOption = Annotated[
    bool, typer.Option("--whole-batch", help="The card's batch, however deep it is.")
]


PacksOption = Annotated[
    list[str] | None,
    typer.Option(
        "--packs",
        metavar="NAME",
        help="Use up whole packs of this: butter, or 'butter = 250 g'.",
    ),
]
ChoiceOption = Annotated[
    str,
    typer.Option("--choice", help="Which amounts are meant: A, B, C … or exact."),
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
    packs: PacksOption = None,
    allow: Annotated[
        str, typer.Option("--allow", help="How far a layer's depth may change.")
    ] = "6%",
    care: Annotated[
        float,
        typer.Option("--care", help="How much salt, setting and raising agents count."),
    ] = 5.0,
    depth_counts: Annotated[
        float, typer.Option("--depth-counts", help="How much a change of depth counts.")
    ] = 1.0,
    choice: ChoiceOption = "A",
    to: Annotated[
        Path | None,
        typer.Option("--to", help="Write the chosen card here; - for standard output."),
    ] = None,
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """Scale a slab, in amounts to weigh: another tin, trays, pieces, a mass, a depth.

    Example: slabwright scale demo/slabs/two-tides.card --tin "23 cm square"
    """
    from slabwright.desk.scaling import AskedFor, chosen, scaled_as
    from slabwright.files.wanted import Asked

    asked = Asked(
        tuple(tin or ()), trays, pieces, by, mass, height, tuple(layer or ()),
        to_rim, head_room, whole_batch,
    )  # fmt: skip
    opened = _with_layers(card, kitchen)
    wanted = AskedFor(asked, packs or (), allow, care, depth_counts)
    order = desk.order_of(opened.folder)
    scaled, found = scaled_as(opened.spec, opened.folder, order, wanted)
    slab = chosen(scaled.making, found, choice)
    if to is not None:
        _write_card(slab, to)
    if json:
        from slabwright.publish.scaling_json import scaling_json

        desk.print_json(scaling_json(scaled, found))
    elif str(to) != "-":
        from slabwright.publish.offers import offers_text
        from slabwright.publish.scaling import scaling_text, scaling_watch
        from slabwright.publish.terminal import Manner

        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(scaling_text(scaled, manner), nl=False)
        typer.echo(offers_text(scaled.making, found, manner), nl=False)
        typer.echo(scaling_watch(scaled, manner), nl=False)
    desk.tell(opened.spec.errors)
    desk.end(mistakes=bool(opened.spec.errors), stops=False)


def _with_layers(card: str, kitchen: Path | None) -> desk.Opened:
    opened = desk.open_card(card, kitchen)
    if not opened.spec.layers:
        desk.tell(opened.spec.errors)
        what = f"'{card}' has no layers to scale."
        raise FileError(Mistake(what, "Name a slab's card."))
    return opened


def _write_card(slab: "Specification", to: Path) -> None:
    """The card for all that is made, as text: its comments are left behind."""
    from slabwright.desk.scaling import text_of_card
    from slabwright.files.begin import write_new

    text = text_of_card(slab)
    if str(to) == "-":
        typer.echo(text, nl=False)
        return
    write_new(to, text)
    typer.echo(f"wrote {to}")
