"""Prices as text: one slab in full, the counter in a table, what there is to read."""

import textwrap
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from slabwright.cost.pennies import shared_out
from slabwright.cost.tax import Taxed, rate_text
from slabwright.cost.tax_reading import HEAD, Treated
from slabwright.counter.pricing import CounterPricing, Row
from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.money_rows import item, title
from slabwright.publish.terminal import Manner
from slabwright.spec.card import Sold
from slabwright.spec.offer import Offer, line_text
from slabwright.spec.pricing import Pricing


def pricing_text(found: CounterPricing, manner: Manner) -> str:
    """One slab in full; several, or a change of prices, in a table."""
    lines: list[str] = []
    pricings = found.pricings
    if len(pricings) == 1 and not found.changes:
        lines += _slab(pricings[0], manner)
    else:
        lines += _table(found, manner)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def reading_text(rows: Sequence[Treated], manner: Manner) -> str:
    """How bakes have been treated for tax, with how each row is known."""
    if not rows:
        return "There is nothing to read about tax in this country.\n"
    lines = [*textwrap.wrap(HEAD, manner.columns), ""]
    for row in rows:
        text = f"{row.product}: {row.treated}; {row.why} ({row.article}; {row.found})"
        lines += item(text, manner)
    return "\n".join(lines) + "\n"


def shown_parts(offer: Offer) -> tuple[tuple[str, Decimal], ...]:
    """Each part to the penny; together they come to the cost as it is shown."""
    exact = [Fraction(figure.value or 0) for _, figure in offer.costed.parts]
    pennies = shared_out(exact)
    names = (name for name, _ in offer.costed.parts)
    return tuple(zip(names, pennies, strict=True))


def way_of_offer(offer: Offer) -> str:
    """How it is sold, in the maker's words."""
    sold = offer.sold
    return sold.how if sold and sold.how else "as it is asked for"


def verdict(offer: Offer) -> str:
    """How it stands against the line, in one sentence; empty without a line."""
    against = offer.against
    if against is None:
        return ""
    if against.is_under is None:
        return "Whether it keeps the line can't be told."
    least = " at the least" if offer.costed.lacking else ""
    if against.may_keep:
        return "It falls under the line, but not at the low end of what it costs."
    if against.is_under:
        more = "; more may be needed than the changes below" if least else ""
        return f"It falls under the line{more}."
    if against.may_be_under:
        why = "what isn't told" if least else "the high end of what it costs"
        return f"It keeps the line, but may not with {why}."
    return "It keeps the line."


def _slab(pricing: Pricing, manner: Manner) -> Iterator[str]:
    yield from title(pricing.name, f"prices of {pricing.order.on}", manner)
    trays = pricing.order.trays
    many = f"{trays} trays made at once" if trays > 1 else "One tray made at once"
    cut = f", {pricing.pieces} pieces each" if pricing.pieces else ", no cut"
    yield f"{many}{cut}"
    for offer in pricing.offers:
        yield from _offer(pricing, offer, manner)
    yield from _trim(pricing, manner)
    yield from _lacking(pricing, manner)
    yield from _other_prices(pricing.other_prices, pricing.currency, manner)


def _offer(pricing: Pricing, offer: Offer, manner: Manner) -> Iterator[str]:
    currency, costed = pricing.currency, offer.costed
    sign = words.sign_of(currency)
    yield ""
    yield _row(manner.bold(f"{way_of_offer(offer)}: {costed.unit}"), sign, manner)
    if not costed.cost.known:
        yield from item(costed.cost.sum, manner)
        return
    for name, money in shown_parts(offer):
        yield _row(f"  {name}", words.bare_money(money), manner)
    least = "It costs, at least" if costed.lacking else "It costs"
    yield _money_row(least, costed.cost, manner)
    yield _money_row("Wholesale floor, before tax", costed.floor, manner)
    yield from _charged(offer, manner)
    yield from _kept(offer, currency, manner)
    yield from _against(pricing, offer, manner)


def _charged(offer: Offer, manner: Manner) -> Iterator[str]:
    charged = offer.charged
    yield ""
    if charged.price.known:
        yield _money_row("Price", charged.price, manner)
    else:
        yield from item(f"Price: {charged.price.sum}", manner)
    if not isinstance(charged.tax, Taxed):
        yield from item(f"Asked: {charged.tax.why} {charged.tax.do}", manner)
        return
    rule = charged.tax.rule
    head, why = f"tax, {rate_text(rule.rate)}", f"{rule.reason}, from {rule.from_day}"
    if charged.tax_in_it.known:
        yield _row(f"  {head}", words.bare_money(charged.tax_in_it.value), manner)
        yield from _indented(why, manner)
        yield _money_row("  without tax", charged.net, manner)
    else:
        yield from item(f"{head}: {why}", manner)
    if charged.tax.rate:
        yield _money_row("  wholesale floor, with tax", charged.floor_price, manner)
    if charged.per_100g.known:
        yield _money_row("  100 g of it", charged.per_100g, manner)


def _kept(offer: Offer, currency: str, manner: Manner) -> Iterator[str]:
    kept = offer.kept
    if not kept.left.known:
        return
    most = ", at most" if offer.costed.lacking else ""
    yield ""
    yield _money_row(f"Left of each{most}", kept.left, manner)
    shares = [
        f"{name} {_percent(figure)}"
        for name, figure in (("margin", kept.margin), ("mark-up", kept.mark_up))
        if figure.known
    ]
    if shares:
        yield f"  {', '.join(shares)}{most}"
    yield _money_row(f"  a tray{most}", kept.left_a_tray, manner)
    for name, figure in (
        ("an hour of hands", kept.left_an_hour),
        ("an hour of the oven", kept.left_an_oven_hour),
    ):
        if figure.known:
            yield _money_row(f"  {name}{most}", figure, manner)
        else:
            yield from item(f"{name}: {figure.sum}", manner)


def _against(pricing: Pricing, offer: Offer, manner: Manner) -> Iterator[str]:
    against, line = offer.against, pricing.line
    yield ""
    if against is None or line is None:
        text = "No line is set. Write shop, line: margin 60 % in kitchen.yaml."
        yield from textwrap.wrap(text, manner.columns)
        return
    least = ", at least" if offer.costed.lacking else ""
    head = f"The line is {line_text(line)}. It asks{least}"
    if not against.price.known:
        if against.net.known:
            yield _money_row(f"{head}, before tax", against.net, manner)
        return
    yield _money_row(f"{head}", against.price, manner)
    points = pricing.spec.kitchen.shop.ends
    name = "on the shop's points" if points else "to the penny"
    yield _money_row(f"  {name}", against.point, manner)
    if offer.charged.price.known:
        yield from textwrap.wrap(verdict(offer), manner.columns)
    for mend in against.mends:
        yield from item(f"{mend.says}", manner)


def _trim(pricing: Pricing, manner: Manner) -> Iterator[str]:
    """What of a tray's ingredients goes into the trim."""
    cost = pricing.spec.cost
    trim = cost.trim if cost else None
    if trim is not None and trim.known and trim.number > 0:
        yield ""
        name = "Of a tray's ingredients, in the trim; the pieces pay for it"
        yield _money_row(name, trim, manner)


def _lacking(pricing: Pricing, manner: Manner) -> Iterator[str]:
    every = dict.fromkeys(
        lack for offer in pricing.offers for lack in offer.costed.lacking
    )
    if not every:
        return
    yield ""
    yield manner.bold("Not told, and in no sum")
    for lack in every:
        yield from item(f"{lack.key}: {lack.what}. {lack.do}", manner)


def _other_prices(
    others: Sequence[Sold], currency: str, manner: Manner
) -> Iterator[str]:
    if not others:
        return
    yield ""
    yield manner.bold("Prices of other days")
    for one in others:
        price = "no price" if one.price is None else words.money(one.price, currency)
        since = f"from {one.from_day}" if one.from_day else "before the dated ones"
        yield from item(f"{one.how}: {price}, {since}", manner)


def _table(found: CounterPricing, manner: Manner) -> Iterator[str]:
    if not found.rows:
        yield "No slab is sold here."
        return
    sign = words.sign_of(found.currency)
    changes = "; ".join(change.said for change in found.changes)
    yield from title(
        f"If {changes}" if changes else "Prices", f"prices of {found.on}", manner
    )
    width = manner.columns - 38
    yield ""
    yield (
        f"{'':<{width}}{f'price {sign}':>10}{f'costs {sign}':>10}{f'left {sign}':>9}"
        f"{'margin':>9}"
    )
    for row in found.rows:
        yield from _counter_row(row, width, manner)
    under = found.under
    yield ""
    yield from textwrap.wrap(_summary(found), manner.columns)
    for row in under:
        yield ""
        fell = ", and did not before" if row.falls else ""
        yield manner.bold(_named(row)) + f" falls under the line{fell}:"
        for mend in row.last.against.mends if row.last.against else ():
            yield from item(mend.says, manner)


def _counter_row(row: Row, width: int, manner: Manner) -> Iterator[str]:
    del manner
    name = textwrap.shorten(_named(row), width - 2, placeholder="…")
    offers = [row.offer] if row.then is None else [row.offer, row.then]
    for offer, label in zip(offers, (name, "  then"), strict=False):
        kept, least = offer.kept, "≥" if offer.costed.lacking else ""
        most = "≤" if offer.costed.lacking else ""
        price = _bare(offer.charged.price)
        cost, left = _bare(offer.costed.cost), _bare(kept.left)
        share = _percent(kept.margin) if kept.margin.known else "-"
        mark = "*" if offer.against and offer.against.is_under else " "
        yield (
            f"{label:<{width}}{price:>10}{least + cost:>10}{most + left:>9}"
            f"{most + share + mark:>9}"
        )


def _summary(found: CounterPricing) -> str:
    unknown = sum(row.is_under is None for row in found.rows)
    lines = [row.before.line for row in found.rows if row.before.line]
    if not lines:
        return "No line is set: shop, line: margin 60 % in kitchen.yaml."
    under = len(found.under)
    said = f"* under the line, {line_text(lines[0])}: {under} of {len(found.rows)}."
    if unknown:
        said += f" Of {unknown} it can't be told: no price, or tax not decided."
    if any(row.offer.costed.lacking for row in found.rows):
        said += " ≥ at least, ≤ at most: not all is told; ask for one slab alone."
    return said


def _named(row: Row) -> str:
    how = way_of_offer(row.offer)
    is_only = len(row.before.offers) == 1
    return row.before.name if is_only else f"{row.before.name}, {how}"


def _indented(text: str, manner: Manner) -> list[str]:
    room = manner.columns - 13
    return [f"    {line}" for line in textwrap.wrap(text, room)]


def _bare(figure: Figure) -> str:
    return words.bare_money(figure.value) if figure.known else "-"


def _percent(figure: Figure) -> str:
    if figure.low is None or figure.high is None:
        return words.percent(figure.number, 1)
    low, high = words.percent(figure.low, 1), words.percent(figure.high, 1)
    said = words.percent(figure.number, 1)
    return said if low == high else f"{said} ({low} to {high})"


def _money_row(name: str, figure: Figure, manner: Manner) -> str:
    """A name and money; its likely range stands with the name."""
    value = words.bare_money(figure.value)
    if figure.low is not None and figure.high is not None:
        low, high = words.bare_money(figure.low), words.bare_money(figure.high)
        if low != high:
            name = f"{name} (likely {low} to {high})"
    return _row(name, value, manner)


def _row(name: str, money: str, manner: Manner) -> str:
    width = manner.columns - 11
    name = name if len(name) < width else f"{name[: width - 2]}…"
    return f"{name:<{width}}{money:>11}"
