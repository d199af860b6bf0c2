"""The command scale: another tin, so many pieces, a mass, a depth."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.cli.options import CardArgument, JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.files.wanted import Asked
    from slabwright.spec.scaled_choices import Offers
    from slabwright.spec.scaling import Scaled
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
    from slabwright.files.wanted import Asked

    asked = Asked(
        tuple(tin or ()), trays, pieces, by, mass, height, tuple(layer or ()),
        to_rim, head_room, whole_batch,
    )  # fmt: skip
    opened = _with_layers(card, kitchen)
    scaled, found = made(
        opened, asked, packs or (), allow=allow, care=care, depth_counts=depth_counts
    )
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


def made(
    opened: desk.Opened,
    asked: "Asked",
    packs: Sequence[str] = (),
    *,
    allow: str = "6%",
    care: float = 5.0,
    depth_counts: float = 1.0,
) -> "tuple[Scaled, Offers]":
    """A card scaled as asked for, and the amounts to choose from.

    Raises:
        ScalingError: for what can't be read or had.
        FriendlyError: for weights out of their range.
    """
    from slabwright.files.wanted import read_packs, read_share, read_wanted
    from slabwright.slab.distortion import Weights
    from slabwright.spec.friendly_lines import Asked as Friendly
    from slabwright.spec.scaled_choices import offers
    from slabwright.spec.scaling import scale as scaled_to

    folder, order = opened.folder, desk.order_of(opened.folder)
    scaled = scaled_to(opened.spec, read_wanted(asked, folder.tins), order)
    weights = Weights(depth=depth_counts, limit=read_share(allow, "allow"))
    country, prices = folder.kitchen.country, folder.prices
    whole = read_packs(packs, folder.larder, country, prices)
    friendly = Friendly(weights, care=care, packs=whole)
    return scaled, offers(scaled.making, friendly, order)


def _with_layers(card: str, kitchen: Path | None) -> desk.Opened:
    opened = desk.open_card(card, kitchen)
    if not opened.spec.layers:
        desk.tell(opened.spec.errors)
        what = f"'{card}' has no layers to scale."
        raise FileError(Mistake(what, "Name a slab's card."))
    return opened


def chosen(making: "Specification", found: "Offers", choice: str) -> "Specification":
    """The slab with the amounts of this letter.

    Raises:
        FileError: for a letter that none of them has.
    """
    if choice.strip().casefold() == "exact" or not found.offers:
        return making
    offer = found.called(choice)
    if offer is None:
        letters = ", ".join(one.letter for one in found.offers)
        what = f"There is no choice '{choice}'."
        raise FileError(Mistake(what, f"Choose one of {letters}, or exact."))
    return offer.spec


def _write_card(slab: "Specification", to: Path) -> None:
    """The card for all that is made, as text: its comments are left behind."""
    from slabwright.files.begin import write_new
    from slabwright.files.card.form import form_of
    from slabwright.files.card.printer import card_text

    text = card_text(form_of(slab.card))
    if str(to) == "-":
        typer.echo(text, nl=False)
        return
    write_new(to, text)
    typer.echo(f"wrote {to}")
