"""What slabs cost, as text: lines, layers, piece, trim, waste, opened packs."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from slabwright.cost.by_products import ByProduct
from slabwright.cost.change import PriceChange
from slabwright.cost.prices import Moved, Price
from slabwright.counter.costing import LeftOpen, Priced, SlabCost, worth_of
from slabwright.counter.price_change import Effect
from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.terminal import Manner
from slabwright.spec.specification import CostFigures, LayerFigures


@dataclass(frozen=True, slots=True)
class Costs:
    """Everything that the command cost answers."""

    on: date
    currency: str
    slabs: tuple[SlabCost, ...]
    names: Mapping[str, str] = field(default_factory=dict)
    """Names of ingredients by larder id."""
    since: date | None = None
    moved: tuple[Moved, ...] = ()
    changes: tuple[PriceChange, ...] = ()
    effects: tuple[Effect, ...] = ()

    @property
    def priced(self) -> tuple[Priced, ...]:
        """What counts for each ingredient of these slabs, once."""
        every = {one.larder_id: one for slab in self.slabs for one in slab.priced}
        return tuple(every.values())


def costs_text(costs: Costs, manner: Manner) -> str:
    """One slab in full, several in a table; then what prices do."""
    lines: list[str] = []
    if costs.changes:
        lines += _effects(costs, manner)
    elif len(costs.slabs) == 1:
        lines += _one(costs, costs.slabs[0], manner)
    else:
        lines += _table(costs, manner)
    lines += _moves(costs, manner)
    return "\n".join(line.rstrip() for line in lines) + "\n"


# --- one slab --------------------


def _one(costs: Costs, one: SlabCost, manner: Manner) -> Iterator[str]:
    spec, cost = one.trays.spec, one.trays.spec.cost
    yield from _title(spec.name, f"prices of {costs.on}", manner)
    if cost is None:
        yield from textwrap.wrap(
            "No price is known for anything in it. Prices stand in prices.yaml.",
            manner.columns,
        )
        return
    sign = words.sign_of(cost.currency)
    yield ""
    yield _row("", "g", sign, manner)
    for layer, figure in _layers(one, cost):
        yield _row(layer.name, "", words.bare_money(pennies(figure.value)), manner)
        yield from _part_of_batch(layer, manner)
        for line in layer.lines:
            grams = words.grams(line.mass_g.number) if line.mass_g.known else "-"
            money = "no price" if line.cost is None else _fine(line.cost)
            if line.larder_id == "water" or not line.mass_g.known:
                money = "-"
            yield _row(f"  {line.name}", grams, money, manner)
    yield from _sums(one, cost, manner)
    yield from _rounded(cost, manner)
    yield from _opened(one, manner)
    yield from _left(one.by_products, manner)
    yield from _why(costs, manner)
    yield from _lacking(one, cost, manner)


def _layers(one: SlabCost, cost: CostFigures) -> Iterator[tuple[LayerFigures, Figure]]:
    spec = one.trays.spec
    yield from zip(spec.layers or spec.components, cost.by_layer, strict=True)


def _part_of_batch(layer: LayerFigures, manner: Manner) -> Iterator[str]:
    """Says so where not just the batch of the lines lies in the slab."""
    out, batch = layer.mass_out_g, layer.batch_out_g
    if layer.from_component or not out.known or not batch.known or not batch.number:
        return
    share = out.number / batch.number
    if abs(share - 1) > 5e-4:
        yield _row(f"  {share:.1%} of this batch lies in the slab", "", "", manner)


def _sums(one: SlabCost, cost: CostFigures, manner: Manner) -> Iterator[str]:
    spec = one.trays.spec
    currency = cost.currency

    def line(name: str, figure: Figure | None, grams: str = "") -> Iterator[str]:
        if figure is not None and figure.known:
            yield _row(name, grams, words.money(figure.value, currency), manner)

    pieces = f" of {spec.cut.cutting.pieces}" if spec.cut else ""
    yield ""
    yield from line("Ingredients", cost.ingredients)
    yield from line(f"  a piece{pieces}", cost.ingredients_per_piece)
    trim = spec.cut.trim_g if spec.cut else None
    grams = words.grams(trim.number) if trim and trim.known else ""
    if cost.trim is not None and cost.trim.number > 0:
        yield from line("  of it in the trim; the pieces pay for it", cost.trim, grams)
    if cost.waste_allowance.number > 0:
        share = cost.waste_allowance.number / cost.with_waste.number
        yield from line(
            f"Waste allowance, {words.percent(share)} of what is bought",
            cost.waste_allowance,
        )
        yield from line("Ingredients with waste", cost.with_waste)
        yield from line(f"  a piece{pieces}", cost.with_waste_per_piece)
    if one.trays.count > 1:
        yield from line(f"{one.trays.count} trays", one.whole)
        if cost.waste_allowance.number > 0:
            yield from line(f"{one.trays.count} trays with waste", one.with_waste)


def _rounded(cost: CostFigures, manner: Manner) -> Iterator[str]:
    """Says so where the parts as shown don't add up to the sum as shown."""
    shown = sum((pennies(figure.value) for figure in cost.by_layer), Decimal(0))
    total = pennies(cost.ingredients.value)
    if shown != total:
        text = (
            f"Each figure is rounded once, where it stands: the layers as shown add up "
            f"to {shown}, the sum itself is {total}."
        )
        yield from ("", *textwrap.wrap(text, manner.columns))


def pennies(value: float | Decimal | None) -> Decimal:
    """A sum of money as it is shown, to the penny.

    >>> pennies(Decimal("8.465"))
    Decimal('8.47')
    """
    bare = words.money(Decimal(0) if value is None else value, "-")
    return Decimal(bare.partition(" ")[0].replace(",", ""))


def _opened(one: SlabCost, manner: Manner) -> Iterator[str]:
    if not one.left_open:
        return
    currency = one.left_open[0].worth.unit
    yield ""
    trays = "this" if one.trays.count == 1 else f"{one.trays.count} trays"
    worth = words.money(worth_of(one.left_open), currency)
    head = manner.bold("Left in opened packs")
    yield f"{head}, if whole packs are bought for {trays} alone: {worth}"
    width = min(28, manner.columns - 48)
    for left in one.left_open:
        yield from _open_row(left, width, manner)


def _open_row(left: LeftOpen, width: int, manner: Manner) -> Iterator[str]:
    name = textwrap.shorten(left.name, width - 1, placeholder="…")
    grams = f"{words.grams(left.left_g.number)} g"
    money = words.bare_money(left.worth.value)
    keeps = left.keeps.words if left.keeps else "keeping once opened not known"
    head = f"  {name:<{width}}{grams:>10}{money:>8}  "
    yield from textwrap.wrap(
        keeps, manner.columns, initial_indent=head, subsequent_indent=" " * len(head)
    )


def _left(left: Sequence[ByProduct], manner: Manner) -> Iterator[str]:
    if not left:
        return
    yield ""
    yield manner.bold("Left over") + ", if it comes from whole eggs and fruit"
    for one in left:
        grams = words.short(one.left_g, f"{words.grams(one.left_g.number)} g")
        yield from textwrap.wrap(
            f"{one.name}: {grams} of {one.whole}",
            manner.columns,
            initial_indent="  ",
            subsequent_indent="    ",
        )


def _why(costs: Costs, manner: Manner) -> Iterator[str]:
    """Which price counts, where there is more than one; and what is to come."""
    chosen = [one for one in costs.priced if one.counted.why != "the only price"]
    to_come = [(one, price) for one in costs.priced for price in one.to_come]
    if chosen or to_come:
        yield ""
        yield manner.bold("Prices")
    for one in chosen:
        price = one.counted.price
        text = (
            f"{one.name}: {price.words} at "
            f"{words.money(price.price, costs.currency)} counts, {one.counted.why}"
        )
        yield from _item(text, manner)
    for one, price in to_come:
        text = (
            f"{one.name}: {price.words} will be "
            f"{words.money(price.price, costs.currency)} from {price.from_day}"
        )
        yield from _item(text, manner)


def _lacking(one: SlabCost, cost: CostFigures, manner: Manner) -> Iterator[str]:
    said = []
    if cost.missing:
        said.append(f"No price, and in no sum: {', '.join(cost.missing)}.")
    if cost.unweighed:
        said.append(f"No weight, and in no sum: {', '.join(cost.unweighed)}.")
    if one.needs.beside:
        said.append(f"Not weighed into the slab: {', '.join(one.needs.beside)}.")
    for text in said:
        yield from ("", *textwrap.wrap(text, manner.columns))


# --- several slabs, and what prices do --------------------


def _table(costs: Costs, manner: Manner) -> Iterator[str]:
    yield from _title("What they cost", f"prices of {costs.on}", manner)
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
    yield from _title("If a price changes", f"prices of {costs.on}", manner)
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
        was, now = (_fine(f) if f else "-" for f in (before, after))
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
        yield from _item(f"{name}: {was}, then {now}{share}", manner)
    if new:
        yield from _item(f"No price on {costs.since}: {'; '.join(new)}", manner)


def _per_kg(price: Price | None, currency: str) -> str:
    if price is None:
        return "no price"
    each = price.per_gram * 1000
    return words.money(Decimal(each.numerator) / each.denominator, currency)


# --- rows --------------------


def _title(name: str, right: str, manner: Manner) -> Iterator[str]:
    room = manner.columns - len(right) - 2
    name = textwrap.shorten(name, room, placeholder="…")
    yield manner.bold(name) + f"{right:>{manner.columns - len(name)}}"


def _row(name: str, grams: str, money: str, manner: Manner) -> str:
    width = manner.columns - 22
    name = name if len(name) < width else f"{name[: width - 2]}…"
    return f"{name:<{width}}{grams:>9}{money:>13}"


def _fine(figure: Figure) -> str:
    """A line's money, to a tenth of a penny."""
    return words.money(figure.value, "-", 3).removesuffix(" -")


def _item(text: str, manner: Manner) -> list[str]:
    return textwrap.wrap(
        text, manner.columns, initial_indent="  ", subsequent_indent="    "
    )
