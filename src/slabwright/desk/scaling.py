"""A slab scaled as somebody asks for it, with the amounts to choose from."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from slabwright.errors import FileError, Mistake
from slabwright.files.card.form import form_of
from slabwright.files.card.printer import card_text
from slabwright.files.folder import Folder
from slabwright.files.wanted import Asked, read_packs, read_share, read_wanted
from slabwright.slab.distortion import Weights
from slabwright.spec.friendly_lines import Asked as Friendly
from slabwright.spec.scaled_choices import Offers, offers
from slabwright.spec.scaling import Scaled, scale
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order


@dataclass(frozen=True, slots=True)
class AskedFor:
    """What to scale to, and what counts how much among the ways to weigh it."""

    scale: Asked = field(default_factory=Asked)
    packs: Sequence[str] = field(default=())
    """What is to come in whole packs."""
    allow: str = "6%"
    """How far a layer's depth may change."""
    care: float = 5.0
    """How much salt, setting and raising agents count."""
    depth_counts: float = 1.0


def scaled_as(
    spec: Specification, folder: Folder, order: Order, asked: AskedFor
) -> tuple[Scaled, Offers]:
    """A slab scaled as asked for, and the amounts to choose from.

    Args:
        spec: the slab as its card says, worked out.
        folder: its kitchen.
        order: what was handed to the sum beside the card.
        asked: what is asked for.

    Raises:
        FileError: if there is nothing to scale.
        ScalingError: for what can't be read or had.
        FriendlyError: for weights out of their range.
    """
    if not spec.layers:
        what = f"'{spec.name}' has no layers to scale."
        raise FileError(Mistake(what, "Name a slab's card."))
    scaled = scale(spec, read_wanted(asked.scale, folder.tins), order)
    weights = Weights(depth=asked.depth_counts, limit=read_share(asked.allow, "allow"))
    country, prices = folder.kitchen.country, folder.prices
    whole = read_packs(asked.packs, folder.larder, country, prices)
    friendly = Friendly(weights, care=asked.care, packs=whole)
    return scaled, offers(scaled.making, friendly, order)


def chosen(making: Specification, found: Offers, choice: str) -> Specification:
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


def text_of_card(slab: Specification) -> str:
    """The card for all that is made, as text: its comments are left behind."""
    return card_text(form_of(slab.card))
