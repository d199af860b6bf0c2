"""What one slab costs, as text: lines, layers, piece, trim, waste, opened packs."""

import textwrap
from collections.abc import Iterator, Sequence
from decimal import Decimal

from slabwright.cost.by_products import ByProduct
from slabwright.counter.costing import LeftOpen, SlabCost, worth_of
from slabwright.counter.costs import Costs
from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.money_rows import fine, item, pennies, row, title
from slabwright.publish.terminal import Manner
from slabwright.spec.specification import CostFigures, LayerFigures


def slab_cost_lines(costs: Costs, one: SlabCost, manner: Manner) -> Iterator[str]:
    """One slab in full."""
    spec, cost = one.trays.spec, one.trays.spec.cost
    yield from title(spec.name, f"prices of {costs.on}", manner)
    if cost is None:
        yield from textwrap.wrap(
            "No price is known for anything in it. Prices stand in prices.yaml.",
            manner.columns,
        )
        return
    sign = words.sign_of(cost.currency)
    yield ""
    yield row("", "g", sign, manner)
    for layer, figure in _layers(one, cost):
        yield row(layer.name, "", words.bare_money(pennies(figure.value)), manner)
        yield from _part_of_batch(layer, manner)
        for line in layer.lines:
            grams = words.grams(line.mass_g.number) if line.mass_g.known else "-"
            money = "no price" if line.cost is None else fine(line.cost)
            if line.larder_id == "water" or not line.mass_g.known:
                money = "-"
            yield row(f"  {line.name}", grams, money, manner)
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
        yield row(f"  {share:.1%} of this batch lies in the slab", "", "", manner)


def _sums(one: SlabCost, cost: CostFigures, manner: Manner) -> Iterator[str]:
    spec = one.trays.spec
    currency = cost.currency

    def line(name: str, figure: Figure | None, grams: str = "") -> Iterator[str]:
        if figure is not None and figure.known:
            yield row(name, grams, words.money(figure.value, currency), manner)

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
        yield from item(text, manner)
    for one, price in to_come:
        text = (
            f"{one.name}: {price.words} will be "
            f"{words.money(price.price, costs.currency)} from {price.from_day}"
        )
        yield from item(text, manner)


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
