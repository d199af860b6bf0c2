"""One way of selling a slab: what is asked for it, what is left, where the line is."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from slabwright.cost.price import (
    keeps,
    margin,
    margin_of,
    mark_up,
    mark_up_of,
    net_for,
    next_price,
)
from slabwright.cost.prices import money
from slabwright.cost.tax import TaxAsked, Taxed, share_text, with_tax, without_tax
from slabwright.figure import Figure, Standing, withheld
from slabwright.kitchen import Kitchen, MakersLine
from slabwright.spec.bearing import Bearing, Likely
from slabwright.spec.card import Sold
from slabwright.spec.costed import Costed, costed, money_figure
from slabwright.spec.mending import Mend, Short, mends_of
from slabwright.spec.specification import Specification


@dataclass(frozen=True, slots=True)
class Charged:
    """What is asked for it, and the tax in that."""

    tax: Taxed | TaxAsked
    price: Figure
    net: Figure
    tax_in_it: Figure
    floor_price: Figure
    """The least wholesale price with tax."""
    per_100g: Figure


@dataclass(frozen=True, slots=True)
class Kept:
    """What is left; at most so much where the cost is at least."""

    margin: Figure
    mark_up: Figure
    left: Figure
    left_a_tray: Figure
    left_an_hour: Figure
    left_an_oven_hour: Figure


@dataclass(frozen=True, slots=True)
class Against:
    """How it stands against the maker's line."""

    net: Figure
    """The least net price that keeps it."""
    price: Figure
    """The same with tax."""
    point: Figure
    """The lowest of the shop's points that keeps it."""
    is_under: bool | None
    """Whether it falls under the line; None where that can't be told."""
    may_be_under: bool
    """Whether it would at the high end of what it costs, or with what isn't told."""
    may_keep: bool
    """Whether it falls under it, but not at the low end of what it costs."""
    mends: tuple[Mend, ...]


@dataclass(frozen=True, slots=True)
class Offer:
    """One way of selling, priced."""

    sold: Sold | None
    """None where the card doesn't say it."""
    costed: Costed
    charged: Charged
    kept: Kept
    against: Against | None
    """None without a line."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What every offer of a slab leans on."""

    spec: Specification
    kitchen: Kitchen
    bearing: Bearing
    line: MakersLine | None


def offer_of(ground: Ground, sold: Sold | None, tax: Taxed | TaxAsked) -> Offer:
    """One way of selling, priced; without a card's word by the piece."""
    cost = costed(ground.bearing, ground.spec.cut, ground.kitchen, sold)
    price = sold.price if sold else None
    gross = None if price is None else Fraction(price)
    charged = _charged(ground, cost, gross, tax)
    net = None
    if gross is not None and isinstance(tax, Taxed):
        net = without_tax(gross, tax.rate)
    kept = _kept(ground, cost, net, charged.net.sum)
    against = _against(ground, cost, gross, tax)
    return Offer(sold, cost, charged, kept, against)


def _charged(
    ground: Ground, cost: Costed, gross: Fraction | None, tax: Taxed | TaxAsked
) -> Charged:
    currency = ground.kitchen.currency
    if gross is None:
        price = withheld(currency, "the card says no price for it")
    else:
        price = Figure(money(gross), currency, f"{_m(gross)} {currency}, as said")
    if isinstance(tax, TaxAsked):
        none = withheld(currency, tax.why)
        return Charged(tax, price, none, none, none, _per_100g(ground, cost, price))
    rate = tax.rate
    floor = cost.floor
    if floor.value is not None:
        exact_floor = with_tax(Fraction(floor.value), rate)
        said = f"{floor.number:.4f} × (1 + {share_text(rate)}) = {_m(exact_floor)}"
        low, high = (
            None if end is None else end * float(1 + rate)
            for end in (floor.low, floor.high)
        )
        floor = Figure(
            money(exact_floor),
            currency,
            f"{said} {currency}",
            floor.standing,
            low,
            high,
        )
    if gross is None:
        net = in_it = withheld(currency, price.sum)
    else:
        left = without_tax(gross, rate)
        why = tax.rule.reason
        said = f"{_m(gross)} ÷ (1 + {share_text(rate)}) = {_m(left)} {currency}; {why}"
        net = Figure(money(left), currency, said)
        said = f"{_m(gross)} - {_m(left)} = {_m(gross - left)} {currency}; {why}"
        in_it = Figure(money(gross - left), currency, said)
    return Charged(tax, price, net, in_it, floor, _per_100g(ground, cost, price))


def _per_100g(ground: Ground, cost: Costed, price: Figure) -> Figure:
    """What 100 g of it cost who buys it, at what a piece weighs."""
    cut, currency = ground.spec.cut, ground.kitchen.currency
    if price.value is None:
        return withheld(currency, price.sum)
    if cut is None or not cut.piece_mass_g.known or not cut.piece_mass_g.number > 0:
        return withheld(currency, "what a piece weighs is not known")
    mass, n = cut.piece_mass_g, cost.bears.in_sale
    each = price.number * 100 / n

    def at(grams: float | None) -> float | None:
        return each / grams if grams else None

    said = (
        f"{price.number:.2f} ÷ ({n} × {mass.number:.4g} g) × 100 = "
        f"{each / mass.number:.4f} {currency} for 100 g"
    )
    value = money(Fraction(each / mass.number))
    low, high = at(mass.high), at(mass.low)
    if low is None or high is None:
        low = high = None
    return Figure(value, currency, said, mass.standing, low, high)


def _kept(ground: Ground, cost: Costed, net: Fraction | None, why: str) -> Kept:
    currency = ground.kitchen.currency
    if net is None or not cost.cost.known:
        why = why if net is None else cost.cost.sum
        none = withheld(currency, why)
        return Kept(
            withheld("share", why), withheld("share", why), none, none, none, none
        )
    likely, most = cost.likely, "; at most" if cost.lacking else ""
    left = Likely(net - likely.value, net - likely.high, net - likely.low)
    said = f"{_m(net)} - {_m(likely.value)} = {_m(left.value)} {currency}{most}"
    sales = cost.bears.sales
    tray = left.times(sales)
    said_tray = (
        f"{_m(left.value)} × {float(sales):.5g} sold of a tray = {_m(tray.value)} "
        f"{currency}{most}"
    )
    shares = (
        _share(f"({_m(left.value)}) ÷ {_m(whole)} {name}{most}", ends)
        for whole, name, ends in (
            (net, "net price", _ends(margin, net, likely)),
            (likely.value, "cost", _ends(mark_up, net, likely)),
        )
    )
    of_price, of_cost = shares
    hands, oven = ground.bearing.hands_min, ground.bearing.oven_min
    return Kept(
        of_price,
        of_cost,
        money_figure(left, currency, said),
        money_figure(tray, currency, said_tray),
        _an_hour(tray, hands, currency, f"of hands{most}"),
        _an_hour(tray, oven, currency, f"of the oven{most}"),
    )


_Share = Callable[[Fraction, Fraction], Fraction | None]


def _ends(of: _Share, net: Fraction, likely: Likely) -> tuple[Fraction | None, ...]:
    """A share at what it costs, at the high end, at the low end."""
    return tuple(of(net, at) for at in (likely.value, likely.high, likely.low))


def _share(said: str, ends: tuple[Fraction | None, ...]) -> Figure:
    value, low, high = ends
    if value is None or low is None or high is None:
        return withheld("share", "there is nothing to divide by")
    is_wide = low != high
    return Figure(
        float(value),
        "share",
        f"{said} = {float(value) * 100:.2f}%",
        Standing.ASSUMED if is_wide else Standing.WORKED_OUT,
        float(low) if is_wide else None,
        float(high) if is_wide else None,
    )


def _an_hour(tray: Likely, minutes: Figure, currency: str, of: str) -> Figure:
    if not minutes.known:
        return withheld(currency, minutes.sum)
    if not minutes.number > 0:
        return withheld(currency, "no minutes are taken")
    hours = Fraction(minutes.number) / 60
    value = tray.value / hours
    ends = [
        float(money_left) / (at / 60)
        for money_left in (tray.low, tray.high)
        for at in (minutes.low or minutes.number, minutes.high or minutes.number)
        if at > 0
    ]
    is_wide = max(ends) - min(ends) > 1e-9
    said = (
        f"{_m(tray.value)} a tray ÷ {minutes.number:.4g} min × 60 = {_m(value)} "
        f"{currency} an hour {of}"
    )
    return Figure(
        money(value),
        currency,
        said,
        Standing.ASSUMED if is_wide else Standing.WORKED_OUT,
        min(ends) if is_wide else None,
        max(ends) if is_wide else None,
    )


def _against(
    ground: Ground, cost: Costed, gross: Fraction | None, tax: Taxed | TaxAsked
) -> Against | None:
    line, kitchen = ground.line, ground.kitchen
    if line is None:
        return None
    currency = kitchen.currency
    if not cost.cost.known:
        none = withheld(currency, cost.cost.sum)
        return Against(none, none, none, None, False, False, ())
    ends = [net_for(line, at) for at in _three(cost.likely)]
    likely, least = Likely(*ends), "; at least" if cost.lacking else ""
    says = f"{line_text(line)} on {_m(cost.likely.value)}"
    said = f"{says} = {_m(likely.value)} {currency} before tax{least}"
    net_figure = money_figure(likely, currency, said)
    if isinstance(tax, TaxAsked):
        none = withheld(currency, tax.why)
        return Against(net_figure, none, none, None, False, False, ())
    rate = tax.rate
    taxed = likely.times(1 + rate)
    said = f"{_m(likely.value)} × (1 + {share_text(rate)}) = {_m(taxed.value)}"
    price = money_figure(taxed, currency, f"{said} {currency}{least}")
    points = kitchen.shop.ends
    point = next_price(taxed.value, points)
    how = ", ".join(f"{end:f}" for end in points) or "every penny"
    said = f"the first price from {_m(taxed.value)} on that ends in {how}{least}"
    point_figure = Figure(money(point), currency, said)
    if gross is None:
        return Against(net_figure, price, point_figure, None, False, False, ())
    net = without_tax(gross, rate)
    is_under = not keeps(line, net, cost.likely.value)
    may = bool(cost.lacking) or not keeps(line, net, cost.likely.high)
    may_keep = is_under and keeps(line, net, cost.likely.low) and not cost.lacking
    mends: tuple[Mend, ...] = ()
    if is_under:
        short = Short(cost.bears, line, rate, gross, net)
        mends = tuple(mends_of(short, ground.spec, ground.bearing, kitchen))
    return Against(net_figure, price, point_figure, is_under, may, may_keep, mends)


def _three(likely: Likely) -> tuple[Fraction, Fraction, Fraction]:
    return likely.value, likely.low, likely.high


def line_text(line: MakersLine) -> str:
    """The line in words, both ways: `a margin of 60% (a mark-up of 150%)`."""
    if line.kind == "left":
        return f"{money(line.value):.2f} left of each"
    share = share_text(line.value)
    if line.kind == "mark-up":
        return f"a mark-up of {share} (a margin of {share_text(margin_of(line.value))})"
    return f"a margin of {share} (a mark-up of {share_text(mark_up_of(line.value))})"


def _m(value: Fraction) -> str:
    """Money in a sum, to a hundredth of a penny."""
    return f"{money(value):.4f}"
