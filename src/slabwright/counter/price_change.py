"""What a change of prices does to each slab of the counter."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from slabwright.cost.change import PriceChange, changed
from slabwright.cost.prices import PriceList, money
from slabwright.figure import Figure
from slabwright.spec.costing import cost_of, uses_of_slab
from slabwright.spec.specification import Specification


@dataclass(frozen=True, slots=True)
class Effect:
    """One slab before and after; by the piece where it is cut."""

    slab: str
    pieces: int | None
    before: Figure
    """Ingredients of the slab."""
    after: Figure
    before_per_piece: Figure | None
    after_per_piece: Figure | None
    rise: Figure
    """Of a piece, or of the slab if it is not cut."""
    rise_share: float | None
    """Share by which the ingredients grow dearer; None if they cost nothing before."""


def effects(
    specs: Sequence[Specification],
    prices: PriceList,
    changes: Sequence[PriceChange],
    on: date,
) -> tuple[Effect, ...]:
    """Each slab before and after these changes, the hardest hit first."""
    after = changed(prices, changes, on)
    found = [_effect(spec, prices, after, on) for spec in specs]
    return tuple(sorted(found, key=lambda one: (-one.rise.number, one.slab)))


def _effect(
    spec: Specification, before: PriceList, after: PriceList, on: date
) -> Effect:
    uses = uses_of_slab(spec)
    ids = [use.larder_id for use in uses]
    was, now = (cost_of(uses, prices.rates(ids, on)) for prices in (before, after))
    pieces = spec.cut.cutting.pieces if spec.cut else None
    currency = before.currency
    rise = (now - was) / (pieces or 1)
    return Effect(
        slab=spec.name,
        pieces=pieces,
        before=_figure(was, currency, f"{spec.name} at the prices of {on}"),
        after=_figure(now, currency, f"{spec.name} at the changed prices"),
        before_per_piece=_each(was, currency, pieces),
        after_per_piece=_each(now, currency, pieces),
        rise=_figure(rise, currency, _difference(was, now, pieces)),
        rise_share=float(now / was - 1) if was else None,
    )


def _each(whole: Fraction, currency: str, pieces: int | None) -> Figure | None:
    if pieces is None:
        return None
    said = f"{money(whole):.4f} ÷ {pieces} pieces"
    return _figure(whole / pieces, currency, said)


def _difference(was: Fraction, now: Fraction, pieces: int | None) -> str:
    said = f"{money(now):.4f} - {money(was):.4f}"
    return said if pieces is None else f"({said}) ÷ {pieces} pieces"


def _figure(value: Fraction, currency: str, said: str) -> Figure:
    amount = money(value)
    return Figure(amount, currency, f"{said} = {amount:.4f} {currency}")
