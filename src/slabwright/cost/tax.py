"""Tax on what is sold: the shop's own dated decisions, looked up and never guessed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal

from slabwright.kitchen import TaxRule

Eaten = Literal["", "here", "away"]


@dataclass(frozen=True, slots=True)
class Sale:
    """What is sold, and how: all that a decision about tax can hang on."""

    slab: str
    way: str = ""
    """One of the five ways in words; empty if it isn't known."""
    eaten: Eaten = ""
    """Empty if it isn't known."""


@dataclass(frozen=True, slots=True)
class Taxed:
    """The rate that the shop has decided on."""

    rate: Fraction
    """Share of the price before tax; 0 too where the shop is not registered."""
    rule: TaxRule

    @property
    def is_registered(self) -> bool:
        """Whether the shop charges tax at all."""
        return self.rule.rate is not None


@dataclass(frozen=True, slots=True)
class TaxAsked:
    """No rate, because the shop has not decided, or has decided two things."""

    why: str
    do: str


def tax_on(rules: Sequence[TaxRule], sale: Sale, day: date) -> Taxed | TaxAsked:
    """The rate for this sale on this day.

    A rule that names the slab goes before one that names the way, that before one that
    says where it is eaten; of equals the latest counts. Of a shop that is not
    registered, older rates count no more.
    """
    begun = _since_registered([rule for rule in rules if rule.from_day <= day])
    if not begun:
        later = min((rule.from_day for rule in rules), default=None)
        why = f"no decision holds before {later}" if later else "none is written down"
        return TaxAsked(f"Tax is not decided: {why}.", _WRITE)
    hangs_on_way = any(rule.ways and _is_for(rule, sale.slab) for rule in begun)
    if not sale.way and hangs_on_way:
        return TaxAsked(
            "The rate hangs on how it is sold, and the card doesn't say it.",
            "Write on the card how it is sold.",
        )
    if sale.eaten:
        return _decided(begun, sale)
    here, away = (_decided(begun, replace(sale, eaten=at)) for at in _AT)
    if isinstance(here, Taxed) and isinstance(away, Taxed):
        if here.rate == away.rate:
            return away
        why = (
            f"The rate is {share_text(away.rate)} taken away and "
            f"{share_text(here.rate)} eaten in."
        )
        return TaxAsked(why, "Say which: --eaten here or --eaten away.")
    return here if isinstance(here, TaxAsked) else away


_AT: tuple[Eaten, Eaten] = ("here", "away")
_WRITE = (
    "Write it in kitchen.yaml under shop, tax: rate, from, reason; or rate: not "
    "registered."
)


def _since_registered(rules: Sequence[TaxRule]) -> list[TaxRule]:
    """Without the rates that ended when the shop was no longer registered."""
    ends = [rule.from_day for rule in rules if rule.rate is None]
    last = max(ends, default=date.min)
    return [rule for rule in rules if rule.from_day >= last]


def _decided(rules: Sequence[TaxRule], sale: Sale) -> Taxed | TaxAsked:
    fits = sorted(_fitting(rules, sale), key=_rank, reverse=True)
    if not fits:
        where = {"here": ", eaten in", "away": ", taken away", "": ""}[sale.eaten]
        how = sale.way or "as it is sold"
        return TaxAsked(f"No decision holds for {sale.slab}, {how}{where}.", _WRITE)
    best = fits[0]
    rivals = {rule.rate for rule in fits if _rank(rule) == _rank(best)}
    if len(rivals) > 1:
        rates = " and ".join(sorted(rate_text(rate) for rate in rivals))
        why = f"Two decisions of {best.from_day} hold for {sale.slab}: {rates}."
        return TaxAsked(why, "Keep one of them in kitchen.yaml.")
    return Taxed(best.rate or Fraction(0), best)


def _fitting(rules: Sequence[TaxRule], sale: Sale) -> Iterator[TaxRule]:
    for rule in rules:
        is_way = not rule.ways or sale.way in rule.ways
        is_place = not rule.eaten or rule.eaten == sale.eaten
        if is_way and is_place and _is_for(rule, sale.slab):
            yield rule


def _is_for(rule: TaxRule, slab: str) -> bool:
    plain = " ".join(slab.casefold().split())
    return not rule.slabs or plain in {" ".join(n.casefold().split())
                                       for n in rule.slabs}  # fmt: skip


def _rank(rule: TaxRule) -> tuple[int, date]:
    closeness = 4 * bool(rule.slabs) + 2 * bool(rule.ways) + bool(rule.eaten)
    return closeness, rule.from_day


def rate_text(rate: Fraction | None) -> str:
    """A rate in words.

    >>> rate_text(Fraction(1, 5)), rate_text(Fraction("0.055")), rate_text(None)
    ('20%', '5.5%', 'not registered')
    """
    return "not registered" if rate is None else share_text(rate)


def share_text(share: Fraction) -> str:
    """A share in per cent, as short as it is."""
    return f"{float(share) * 100:.5g}%"


def without_tax(price: Fraction, rate: Fraction) -> Fraction:
    """What stays of a price that holds tax."""
    return price / (1 + rate)


def with_tax(net: Fraction, rate: Fraction) -> Fraction:
    """The price that leaves this much."""
    return net * (1 + rate)


def tax_share(rate: Fraction) -> Fraction:
    """Which share of a price is tax: a sixth at 20 % (VAT fraction, from memory).

    >>> tax_share(Fraction(1, 5))
    Fraction(1, 6)
    """
    return rate / (1 + rate)
