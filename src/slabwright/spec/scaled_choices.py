"""Friendly amounts of a scaled slab, each choice worked out as a slab of its own."""

from dataclasses import dataclass

from slabwright.finding import Finding
from slabwright.spec.friendly import FriendlyChoice, friendly
from slabwright.spec.friendly_lines import Asked
from slabwright.spec.scaled_card import reweighed
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out


@dataclass(frozen=True, slots=True)
class Offer:
    """A choice and the slab that comes of it."""

    letter: str
    """A, B, C …: the best first."""
    choice: FriendlyChoice
    spec: Specification


@dataclass(frozen=True, slots=True)
class Offers:
    """Ways to weigh and count what is made, side by side."""

    offers: tuple[Offer, ...]
    findings: tuple[Finding, ...]

    def called(self, letter: str) -> Offer | None:
        """The offer of this letter."""
        plain = letter.strip().upper()
        return next((one for one in self.offers if one.letter == plain), None)


def offers(making: Specification, asked: Asked, order: Order) -> Offers:
    """The best few ways to weigh and count a slab that was scaled exactly.

    Args:
        making: everything that is made, scaled exactly and worked out.
        asked: what is to be whole, and what counts how much.
        order: kitchen, names and prices, as for the slab itself.

    Raises:
        FriendlyError: for weights out of their range, or too many packs.
    """
    found = friendly(making, asked)
    made = tuple(
        Offer(
            "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[number],
            choice,
            work_out(reweighed(making.card, choice.weighed()), order),
        )
        for number, choice in enumerate(found.choices)
    )
    return Offers(made, found.findings)
