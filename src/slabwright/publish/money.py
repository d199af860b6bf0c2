"""What slabs cost, as text: one in full, several in a table, and what prices do."""

import textwrap
from collections.abc import Iterator
from decimal import Decimal

from slabwright.cost.prices import Price
from slabwright.counter.costs import Costs
from slabwright.counter.price_change import Effect
from slabwright.publish import words
from slabwright.publish.money_rows import fine, item, pennies, title
from slabwright.publish.money_slab import slab_cost_lines
from slabwright.publish.terminal import Manner


def costs_text(costs: Costs, manner: Manner) -> str:
    """One slab in full, several in a table; then what prices do."""
    lines: list[str] = []
    if costs.changes:
        lines += _effects(costs, manner)
    elif len(costs.slabs) == 1:
        lines += slab_cost_lines(costs, costs.slabs[0], manner)
    else:
        lines += _table(costs, manner)
    lines += _moves(costs, manner)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _table(costs: Costs, manner: Manner) -> Iterator[str]:
    yield from title("What they cost", f"prices of {costs.on}", manner)
    sign = words.sign_of(costs.currency)
    width = manner.columns - 44
    yield ""
    yield (
        f"{'':<{width}}{'pieces':>7}{f'{sign} a slab':>12}{f'{sign} a piece':>12}"
        f"{'with waste':>13}"
    )
    for one in costs.slabs:
        spec, cost = one.trays.spec, one.trays.spec.cost
        name = textwrap.shorten(spec.name, width - 1, placeholder="…")
        pieces = str(spec.cut.cutting.pieces) if spec.cut else "-"
        if cost is None:
            yield f"{name:<{width}}{pieces:>7}{'no price':>12}"
            continue
        each = [cost.ingredients_per_piece, cost.with_waste_per_piece]
        slab = words.bare_money(pennies(cost.ingredients.value))
        parts = [words.bare_money(pennies(f.value)) if f else "-" for f in each]
        mark = "*" if cost.missing or cost.unweighed else ""
        yield f"{name:<{width}}{pieces:>7}{slab + mark:>12}{parts[0]:>12}{parts[1]:>13}"
    yield from _without(costs, manner)


def _without(costs: Costs, manner: Manner) -> Iterator[str]:
    """What stands in no sum, slab by slab."""
    for one in costs.slabs:
        cost = one.trays.spec.cost
        names = (*cost.missing, *cost.unweighed) if cost else ()
        if names:
            text = f"* {one.trays.spec.name} without {', '.join(names)}"
            yield from textwrap.wrap(text, manner.columns, subsequent_indent="  ")


def _effects(costs: Costs, manner: Manner) -> Iterator[str]:
    yield from title("If a price changes", f"prices of {costs.on}", manner)
    for change in costs.changes:
        yield from textwrap.wrap(
            f"{change.said}: {', '.join(change.names)}", manner.columns
        )
    sign = words.sign_of(costs.currency)
    width = manner.columns - 46
    yield ""
    yield f"{'':<{width}}{f'{sign} a piece':>12}{'then':>9}{'more':>9}{'of a slab':>16}"
    has_no_price = {o.trays.spec.name for o in costs.slabs if not o.trays.spec.cost}
    for one in costs.effects:
        name = textwrap.shorten(one.slab, width - 1, placeholder="…")
        if one.slab in has_no_price:
            yield f"{name:<{width}}{'no price':>12}"
            continue
        before, after = one.before_per_piece, one.after_per_piece
        was, now = (fine(f) if f else "-" for f in (before, after))
        rise = "-" if one.pieces is None else _more(one.rise.value, 3)
        share = "" if one.rise_share is None else f"{one.rise_share:+.1%}"
        slab = f"{_more(_difference(one), 2)} {share}"
        yield f"{name:<{width}}{was:>12}{now:>9}{rise:>9}{slab:>16}"
    yield from ("", "Each figure is exact until it is shown, and rounded once.")
    yield from _without(costs, manner)


def _difference(one: Effect) -> Decimal:
    """By how much the ingredients of a slab grow dearer."""
    return Decimal(str(one.after.value or 0)) - Decimal(str(one.before.value or 0))


def _more(value: float | Decimal | None, places: int) -> str:
    """Money with its sign: `+0.42`."""
    bare = words.money(value, "-", places).removesuffix(" -").replace(",", "")
    return f"{Decimal(bare) + 0:+,}"


def _moves(costs: Costs, manner: Manner) -> Iterator[str]:
    if costs.since is None:
        return
    yield ""
    if not costs.moved:
        yield f"No price moved from {costs.since} to {costs.on}."
        return
    yield manner.bold("Prices") + f" from {costs.since} to {costs.on}, a kilogram"
    new = [costs.names.get(m.larder_id, "") for m in costs.moved if m.before is None]
    for one in costs.moved:
        if one.before is None:
            continue
        name = costs.names.get(one.larder_id, one.larder_id)
        was, now = (_per_kg(p, costs.currency) for p in (one.before, one.after))
        share = "" if one.share is None else f" ({one.share:+.1%})"
        yield from item(f"{name}: {was}, then {now}{share}", manner)
    if new:
        yield from item(f"No price on {costs.since}: {'; '.join(new)}", manner)


def _per_kg(price: Price | None, currency: str) -> str:
    if price is None:
        return "no price"
    each = price.per_gram * 1000
    return words.money(Decimal(each.numerator) / each.denominator, currency)
